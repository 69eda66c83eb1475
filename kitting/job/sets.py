"""Sets: one number that sells several parts of the kit, taken where it costs less than they do.

Nothing is bought twice because a set has it: the lines that a chosen set covers are bought no
more. The choice is exact: every combination of the sets that help is priced.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from itertools import combinations
from typing import TYPE_CHECKING

from kitting.job.because import Because
from kitting.job.pricing import UNSOUND_WHERE_CRITICAL

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from kitting.catalog.model import PartNumber, SetItem
    from kitting.catalog.trade import Quality
    from kitting.job.kit import KitLine
    from kitting.job.pricing import Market

    Unsound = Callable[[Iterable[str]], frozenset[Quality]]

_MOST_SETS = 10


@dataclass(frozen=True, slots=True)
class SetChoice:
    """A set in the kit: the lines it covers, what it brings beyond them, and why it is taken."""

    set: PartNumber
    covers: tuple[tuple[str, int], ...]
    surplus: tuple[tuple[PartNumber, int], ...]
    saves: Decimal
    because: Because


@dataclass(frozen=True, slots=True)
class _Candidate:
    set: PartNumber
    cost: Decimal
    covers: frozenset[str]
    alone: Decimal


def choose_sets(
    lines: Sequence[KitLine], items: Iterable[SetItem], market: Market, unsound: Unsound
) -> tuple[SetChoice, ...]:
    """Return the sets that make the kit cheapest, each covering lines that no other one does.

    A line is covered when the set brings all of its quantity. Held lines are never covered: a set
    bought now may be of the wrong size. A line without a price of its own counts as nothing saved,
    so a set is taken only on prices that are known; of a quality that any line may take.

    Args:
        lines: the kit's lines.
        items: what the family's sets bring.
        market: what is to be had today.
        unsound: the qualities that are not bought for some positions.
    """
    content = _content(items)
    alone = _alone(lines, market, unsound)
    candidates = _candidates(lines, content, alone, market)
    best: tuple[_Candidate, ...] = ()
    least = _cost((), alone)
    for size in range(1, len(candidates) + 1):
        for chosen in combinations(candidates, size):
            cost = _cost(chosen, alone)
            if cost < least:
                best, least = chosen, cost
    return _choices(best, lines, content, alone)


def _content(items: Iterable[SetItem]) -> Mapping[PartNumber, dict[PartNumber, int]]:
    content: dict[PartNumber, dict[PartNumber, int]] = {}
    for item in items:
        content.setdefault(item.set, {})[item.part] = item.quantity
    return content


def _alone(lines: Iterable[KitLine], market: Market, unsound: Unsound) -> dict[str, Decimal]:
    """What each line costs singly, at the quality that it is bought at."""
    alone = {}
    for line in lines:
        if line.part is not None and not line.hold:
            quote = market.quote(line.part, line.quantity, unsound(line.positions))
            if quote is not None and not quote.lapsed:
                alone[line.key] = quote.home
    return alone


def _candidates(
    lines: Iterable[KitLine],
    content: Mapping[PartNumber, dict[PartNumber, int]],
    alone: Mapping[str, Decimal],
    market: Market,
) -> list[_Candidate]:
    candidates = []
    known = [line for line in lines if line.key in alone]
    for number, parts in content.items():
        quote = market.quote(number, 1, UNSOUND_WHERE_CRITICAL)
        if quote is None or quote.lapsed:
            continue
        covers = frozenset(line.key for line in _covered(known, parts))
        saved = sum((alone[key] for key in covers), Decimal(0))
        if covers:
            candidates.append(_Candidate(number, quote.home, covers, saved))
    candidates.sort(key=lambda candidate: (candidate.cost - candidate.alone, candidate.set))
    return candidates[:_MOST_SETS]


def _covered(lines: Iterable[KitLine], parts: Mapping[PartNumber, int]) -> list[KitLine]:
    left = dict(parts)
    covered = []
    for line in lines:
        number = _content_number(line, left)
        if number is not None and left[number] >= line.whole_of(number):
            left[number] -= line.whole_of(number)
            covered.append(line)
    return covered


def _content_number(line: KitLine, content: Mapping[PartNumber, int]) -> PartNumber | None:
    """The number under which a set lists what the line needs: its own, or one that does as well."""
    wanted = [number for number in (line.part, line.named) if number is not None]
    return next((n for n in (*wanted, *sorted(line.serves)) if n in content), None)


def _cost(chosen: Sequence[_Candidate], alone: Mapping[str, Decimal]) -> Decimal:
    covered = frozenset().union(*(candidate.covers for candidate in chosen))
    bought = sum((cost for key, cost in alone.items() if key not in covered), Decimal(0))
    return bought + sum((candidate.cost for candidate in chosen), Decimal(0))


def _choices(
    best: Sequence[_Candidate],
    lines: Sequence[KitLine],
    content: Mapping[PartNumber, dict[PartNumber, int]],
    alone: Mapping[str, Decimal],
) -> tuple[SetChoice, ...]:
    by_key = {line.key: line for line in lines}
    taken: set[str] = set()
    choices = []
    for candidate in best:
        mine = sorted(candidate.covers - taken)
        taken |= candidate.covers
        left = dict(content[candidate.set])
        for key in mine:
            number = _content_number(by_key[key], left)
            if number is not None:
                left[number] -= by_key[key].whole_of(number)
        surplus = tuple((part, count) for part, count in left.items() if count > 0)
        saves = sum((alone[key] for key in mine), Decimal(0)) - candidate.cost
        says = (
            f"{candidate.set} covers {len(mine)} lines and costs {candidate.cost}; "
            f"bought singly they cost {saves + candidate.cost}"
        )
        choices.append(
            SetChoice(
                candidate.set,
                tuple((key, by_key[key].quantity) for key in mine),
                surplus,
                saves,
                Because(says, rule="sets.csv"),
            )
        )
    return tuple(choices)
