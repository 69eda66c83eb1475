"""An estimate against what the job came to: what each line was reckoned to cost, and what it did.

Costs are what the shop pays, without VAT. A part is followed by its number, for lines are numbered
afresh as the kit changes: parts that came (off the shelf at what they cost when put there, by
deliveries at the agreed price, by hand where a cost was said) are held against the lines that
priced that number. What nothing is known of is said to be unknown, and is never counted as nothing.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.job.estimate import NOTHING, LineKind, labour_text
from kitting.job.pricing import rounded

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from kitting.catalog.model import PartNumber
    from kitting.job.hand import InHand
    from kitting.job.path import JobPath


@dataclass(frozen=True, slots=True)
class Given:
    """A line of a kept estimate: `cost` is what the shop reckoned to pay, `net` what was asked."""

    kind: LineKind
    key: str
    text: str
    part: PartNumber | None
    cost: Decimal
    net: Decimal


@dataclass(frozen=True, slots=True)
class Compared:
    """One row: what was reckoned, and what it came to; None where that is not known (yet).

    `note` says what is missing, or that the estimate had no such line.
    """

    kind: LineKind
    text: str
    part: PartNumber | None
    estimated: Decimal
    actual: Decimal | None
    note: str = ""

    @property
    def over(self) -> Decimal | None:
        """How much dearer it came; below nothing, cheaper."""
        return None if self.actual is None else self.actual - self.estimated


@dataclass(frozen=True, slots=True)
class Comparison:
    """The rows, and the sums over those of which the actual cost is known."""

    rows: tuple[Compared, ...]
    asked: Decimal

    @property
    def estimated(self) -> Decimal:
        """What the whole was reckoned to cost."""
        return sum((row.estimated for row in self.rows), NOTHING)

    @property
    def known(self) -> tuple[Compared, ...]:
        """The rows of which the actual cost is known."""
        return tuple(row for row in self.rows if row.actual is not None)

    @property
    def estimated_of_known(self) -> Decimal:
        """What those rows were reckoned to cost."""
        return sum((row.estimated for row in self.known), NOTHING)

    @property
    def actual(self) -> Decimal:
        """What those rows came to."""
        return sum((row.actual or NOTHING for row in self.known), NOTHING)


def against_actual(
    given: Iterable[Given],
    path: JobPath,
    carriage: Decimal | None = None,
    made_up: Decimal = NOTHING,
) -> Comparison:
    """Hold a kept estimate against what came.

    Args:
        given: its lines.
        path: the job today, with what is in hand.
        carriage: the job's share of the carriage of its orders; None while nothing is ordered.
        made_up: its share of what was bought only to reach a supplier's terms.
    """
    lines = tuple(given)
    came = _by_number(path)
    rows = [
        *_parts(lines, came, path),
        *_works(lines, path),
        *_labour(lines, path),
        *_carriage(lines, carriage),
        *_unforeseen(lines, came, path),
        *_made_up(made_up),
    ]
    return Comparison(tuple(rows), sum((line.net for line in lines), NOTHING))


def _by_number(path: JobPath) -> dict[PartNumber, list[InHand]]:
    """What came, by the number that the estimate would price it under: a set's parts by the set."""
    sets = {
        (position, line.part): line.covered_by
        for line in path.kit.lines
        if line.covered_by is not None
        for position in line.positions
    }
    stands_for = {
        (position, other): line.part
        for line in path.kit.lines
        if line.part is not None
        for position in line.positions
        for other in line.serves
    }
    came: dict[PartNumber, list[InHand]] = defaultdict(list)
    for each in path.hand.pieces:
        number = each.stands_for
        if number is None:
            continue
        part = stands_for.get((each.position, number), number)
        came[sets.get((each.position, part), part)].append(each)
    return came


def _parts(
    lines: tuple[Given, ...], came: dict[PartNumber, list[InHand]], path: JobPath
) -> Iterator[Compared]:
    """Each number that was priced, once; what only a recheck would bring, where it did."""
    numbers: dict[PartNumber, list[Given]] = defaultdict(list)
    for line in lines:
        if line.kind in {LineKind.PART, LineKind.SET} and line.part is not None:
            numbers[line.part].append(line)
    wanted = _wanted(path)
    for part, priced in numbers.items():
        pieces = came.get(part, [])
        if not pieces and all(line.key.startswith("if.") for line in priced):
            continue
        estimated = sum((line.cost for line in priced), NOTHING)
        actual, note = _cost(pieces, *wanted.get(part, (0, 0)))
        if actual is None and any(each.part == part for each in path.hand.unproven):
            note = f"{note}; here, to be measured" if pieces else "here, to be measured"
        yield Compared(priced[0].kind, priced[0].text, part, estimated, actual, note)


def _wanted(path: JobPath) -> dict[PartNumber, tuple[int, int]]:
    """How many pieces the kit asks for and how many of them are here, by the number priced."""
    wanted: dict[PartNumber, tuple[int, int]] = {}
    for line in path.kit.lines:
        number = line.covered_by or line.part
        if number is not None:
            asked, here = wanted.get(number, (0, 0))
            missing = path.hand.missing(line)
            wanted[number] = asked + line.quantity, here + line.quantity - missing
    return wanted


def _cost(pieces: Iterable[InHand], wanted: int = 0, here: int = 0) -> tuple[Decimal | None, str]:
    """What pieces cost, and what of it is missing or not known."""
    every = tuple(pieces)
    if sum(each.quantity for each in every) <= 0:
        return None, "nothing has come" if wanted else "asked for no more"
    if here < wanted:
        return None, f"{here} of {wanted} came"
    unknown = sum(each.quantity for each in every if each.cost is None)
    if unknown > 0:
        return None, f"the cost of {unknown} is not known"
    return sum((each.cost or NOTHING for each in every), NOTHING), ""


def _works(lines: tuple[Given, ...], path: JobPath) -> Iterator[Compared]:
    back = {work.operation: work for work in path.hand.works if work.back}
    asked = {work.operation for work in path.kit.work}
    for line in lines:
        if line.kind is LineKind.WORK:
            work = back.get(line.key)
            if work is not None:
                note = "" if work.cost is not None else "cost not said"
            else:
                note = "not back" if line.key in asked else "asked for no more"
            cost = work.cost if work is not None else None
            yield Compared(line.kind, line.text, None, line.cost, cost, note)
    known = {line.key for line in lines if line.kind is LineKind.WORK}
    for operation, work in back.items():
        if operation not in known:
            name = path.trade.operation_by_key[operation].name
            yield Compared(LineKind.WORK, name, None, NOTHING, work.cost, "not in the estimate")


def _labour(lines: tuple[Given, ...], path: JobPath) -> Iterator[Compared]:
    """Each assembly's hours at the shop's rate; those of assemblies that were not reckoned too."""
    shop = path.trade.shop
    estimated = {line.text: line.cost for line in lines if line.kind is LineKind.LABOUR}
    for assembly in path.family.assemblies:
        text = labour_text(assembly.name)
        hours = path.hand.hours(assembly.key)
        if hours is None and text not in estimated:
            continue
        actual = None if hours is None else rounded(hours * shop.labour_rate, shop.currency)
        note = "no hours written" if hours is None else f"{hours.normalize():f} h"
        if text not in estimated:
            note += "; not in the estimate"
        yield Compared(LineKind.LABOUR, text, None, estimated.get(text, NOTHING), actual, note)


def _carriage(lines: tuple[Given, ...], actual: Decimal | None) -> Iterator[Compared]:
    mine = [line for line in lines if line.kind is LineKind.CARRIAGE]
    if mine or actual:
        estimated = sum((line.cost for line in mine), NOTHING)
        note = "nothing is ordered" if actual is None else ""
        text = str(LineKind.CARRIAGE).capitalize()
        yield Compared(LineKind.CARRIAGE, text, None, estimated, actual, note)


def _unforeseen(
    lines: tuple[Given, ...], came: dict[PartNumber, list[InHand]], path: JobPath
) -> Iterator[Compared]:
    """What came and was not priced."""
    priced = {line.part for line in lines}
    for part, pieces in came.items():
        count = sum(each.quantity for each in pieces)
        if part not in priced and count > 0:
            known = path.family.part_by_number.get(part)
            actual, note = _cost(pieces)
            said = "; ".join(filter(None, ("not in the estimate", note)))
            yield Compared(LineKind.PART, known.name if known else "", part, NOTHING, actual, said)


def _made_up(actual: Decimal) -> Iterator[Compared]:
    if actual:
        text = "Bought only to reach a supplier's terms"
        yield Compared(LineKind.PART, text, None, NOTHING, actual, "not in the estimate")
