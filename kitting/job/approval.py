"""The customer's word on an estimate, line by line: what may be declined, and what that undoes.

Each line of the kit and each operation is needed, advised or optional (`Weight`): as much as the
gravest reason for it. Needed is whatever a verdict on the part asks (renew, rework, wrong part) and
whatever follows by a rule that soundness rests on. The rest may be declined; then it is demanded no
more, and neither is what would only have followed from it. A decline is tried before it is taken:
the job is walked with it, and what is demanded all the same is refused with the reasons.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.catalog.nearest import nearest
from kitting.catalog.rules import Weight
from kitting.errors import BadInput, NotFound, Problem, Problems
from kitting.job.consequences import weight_of
from kitting.job.findings import Approval
from kitting.job.path import walk

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from datetime import date

    from kitting.catalog.model import PartNumber
    from kitting.job.because import Because
    from kitting.job.consequences import Demand
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath


@dataclass(frozen=True, slots=True)
class Item:
    """Something that a customer may be asked about: a kit line, or an operation by its key.

    `of` are the demands behind it, each a position and an operation (empty for a renewal).
    """

    key: str
    text: str
    weight: Weight
    of: tuple[tuple[str, str], ...]
    because: tuple[Because, ...]


@dataclass(frozen=True, slots=True)
class Said:
    """What a customer said of one item."""

    key: str
    agreed: bool


@dataclass(frozen=True, slots=True)
class Declined:
    """Something declined, and whether it stays out: `back` is why it is needed all the same now."""

    approval: Approval
    back: tuple[Because, ...] = ()


def items_of(path: JobPath) -> tuple[Item, ...]:
    """Everything of a job that a customer may be asked about, parts first, in bag order."""
    parts = [
        Item(
            line.key,
            f"{line.quantity} × {line.text}",
            weight_of(path.family, line.needed),
            tuple((position, "") for position in line.positions),
            line.needed,
        )
        for line in path.kit.lines
    ]
    works = []
    for work in path.kit.work:
        asked = [path.demands.operations.get((work.operation, key)) for key in work.positions]
        demands = [demand for demand in asked if demand is not None]
        fitted = len(demands) < len(work.positions)
        works.append(
            Item(
                work.operation,
                path.trade.operation_by_key[work.operation].name,
                Weight.NEEDED if fitted else weight_of(path.family, work.because),
                tuple((demand.position, work.operation) for demand in demands),
                work.because,
            )
        )
    return (*parts, *works)


def before_revision(path: JobPath, revision: int, day: date) -> JobPath:
    """The job as it stood when a revision was given: without what was said of it since."""
    earlier = tuple(each for each in path.bench.approvals if each.revision < revision)
    bench = replace(path.bench, approvals=earlier)
    return walk(path.family, path.trade, bench, day, path.hand)


def answered(
    path: JobPath,
    revision: int,
    said: Iterable[Said],
    who: str,
    when: date,
    given: tuple[Approval, ...] = (),
) -> tuple[Approval, ...]:
    """Return the approvals that a customer's words come to, every decline tried.

    Args:
        path: the job as it stood when the revision was given (`before_revision`).
        revision: the revision that the customer was shown.
        said: his words, by the keys of that revision.
        who: who took them down.
        when: on which day.
        given: every word that he gave before, under whichever revision.

    Raises:
        BadInput: a key that is none, or named twice; a decline that breaks soundness, with the
            reasons; a decline that takes another line with it.
    """
    items = {item.key: item for item in items_of(path)}
    out = declined_before(path)
    problems = Problems()
    taken: dict[str, bool] = {}
    for each in said:
        with problems.at(f"--line {each.key}"):
            key = _named(each, items, out, revision)
            said_now = replace(each, key=key)
            if key in out:
                _check_again(said_now, out, taken)
            else:
                _check_key(said_now, items, taken, path)
            taken[key] = each.agreed
    problems.raise_if_any()
    approvals = tuple(
        Approval(revision, key, position, operation, what.text, agreed, who, when)
        for key, agreed in taken.items()
        for what in (out.get(key) or items[key],)
        for position, operation in what.of
    )
    _try(path, items, taken, (*given, *approvals))
    return approvals


def declined_now(path: JobPath) -> tuple[Declined, ...]:
    """What the customer has declined, and what of it is needed all the same by now."""
    last = {approval.of: approval for approval in path.bench.approvals}
    return tuple(
        Declined(approval, _reasons(path, approval.of))
        for approval in last.values()
        if not approval.agreed
    )


def declined_before(path: JobPath) -> Mapping[str, Item]:
    """What is declined by the words that a job stands with, by the keys that it is agreed to by.

    An operation keeps its key. The number of a kit line may be another's by now, so that a line is
    named with the revision under which it was declined: 2.11@1.
    """
    last = {each.of: each for each in path.bench.approvals}
    found: dict[str, Item] = {}
    asked = {of for item in items_of(path) for of in item.of}
    for each in last.values():
        if each.agreed or each.of in asked:
            continue
        key = again_key(each)
        before = found.get(key)
        of = (*(before.of if before else ()), each.of)
        found[key] = Item(key, each.what, Weight.OPTIONAL, of, ())
    return MappingProxyType(found)


def again_key(approval: Approval) -> str:
    """The key by which something declined is agreed to later."""
    return approval.operation or f"{approval.kit_line}@{approval.revision}"


def _named(each: Said, items: Mapping[str, Item], out: Mapping[str, Item], revision: int) -> str:
    """The key that is meant; a line number that was another's when that was declined is asked."""
    plain, at, named = each.key.rpartition("@")
    if at and named == str(revision) and plain in items:
        return plain
    earlier = [key for key in out if key.rpartition("@")[0] == each.key]
    if not earlier:
        return each.key
    choices = [f"{key} for {out[key].text}" for key in earlier]
    if each.key in items:
        choices.append(f"{each.key}@{revision} for {items[each.key].text}")
    raise BadInput(
        Problem("", "the number was another line's when that was declined", "; ".join(choices))
    )


def _check_again(each: Said, out: Mapping[str, Item], taken: Mapping[str, bool]) -> None:
    if each.key in taken:
        raise BadInput(Problem("", "it is named twice", "say yes or no once"))
    if not each.agreed:
        raise BadInput(Problem("", f"{out[each.key].text} is declined already", "leave it away"))


def _check_key(
    each: Said, items: Mapping[str, Item], taken: Mapping[str, bool], path: JobPath
) -> None:
    sets = {str(chosen.set): chosen.covers for chosen in path.kit.sets}
    if each.key in sets:
        lines = ", ".join(key for key, _ in sets[each.key])
        raise BadInput(Problem("", "it is a set", f"speak of the lines that it covers: {lines}"))
    if each.key not in items:
        raise NotFound("line of this revision", each.key, nearest(each.key, items, 3))
    if each.key in taken:
        raise BadInput(Problem("", "it is named twice", "say yes or no once"))
    if not each.agreed and not items[each.key].of:
        raise BadInput(
            Problem(
                "",
                f"{items[each.key].text} follows from the part that can be had",
                "decline the line of that part",
            )
        )


def _try(
    path: JobPath,
    items: Mapping[str, Item],
    taken: Mapping[str, bool],
    approvals: tuple[Approval, ...],
) -> None:
    """Walk the job with the declines, and refuse each that does not hold, or takes more along."""
    declined = [items[key] for key, agreed in taken.items() if not agreed]
    if not declined:
        return
    bench = replace(path.bench, approvals=approvals)
    after = walk(path.family, path.trade, bench, path.day, path.hand)
    problems = Problems()
    for item in declined:
        reasons = [reason for of in item.of for reason in _reasons(after, of)]
        if reasons:
            problems.add(
                f"--line {item.key}",
                f"{item.text} cannot be declined: soundness rests on it",
                _why(reasons),
            )
        for other in _along(path.kit.lines, item, declined):
            problems.add(
                f"--line {item.key}",
                f"{other.text} (line {other.key}) is bought with it for the same place",
                "decline both, or neither",
            )
    problems.raise_if_any()


def _reasons(path: JobPath, of: tuple[str, str]) -> tuple[Because, ...]:
    """Why something is demanded; nothing where it is not."""
    position, operation = of
    demand: Demand | None = (
        path.demands.operations.get((operation, position))
        if operation
        else path.demands.renewed.get(position)
    )
    return demand.reasons if demand is not None else ()


def _along(lines: Iterable[KitLine], item: Item, declined: Iterable[Item]) -> Iterator[KitLine]:
    """Other lines that would leave the kit with a declined one, and were not declined."""
    keys = {each.key for each in declined}
    positions = {position for position, operation in item.of if not operation}
    for line in lines:
        if line.key not in keys and positions & set(line.positions):
            yield line


def _why(reasons: Iterable[Because]) -> str:
    """The chains of reasons in one sentence each."""
    chains = (" because ".join(str(step) for _, step in reason.steps()) for reason in reasons)
    return "it is needed: " + "; and ".join(dict.fromkeys(chains))


def parts_of(path: JobPath) -> frozenset[tuple[str, PartNumber | None]]:
    """What a kit comes to, to tell whether it is still the one that a revision was given for."""
    bought = {(line.key, line.part) for line in path.kit.bought}
    sets = {("", chosen.set) for chosen in path.kit.sets}
    works = {(work.operation, None) for work in path.kit.work}
    return frozenset(bought | sets | works)
