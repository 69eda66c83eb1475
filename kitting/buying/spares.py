"""What earlier orders bring beside what was needed: the rest of packs and of sets.

It is counted for no job. Where one comes to need it, it is named before it is bought again, whether
it lies here or is still to come.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.buying.deliveries import Why
from kitting.buying.replies import counted

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping
    from datetime import date

    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.catalog.model import PartNumber, SetItem


@dataclass(frozen=True, slots=True)
class Spare:
    """Pieces that nobody needed, of one order; `out_of` the set where they came in one.

    Without `due` they lie here; else they are still to come, by that day.
    """

    part: PartNumber
    pieces: int
    order: str
    out_of: PartNumber | None = None
    due: date | None = None

    @property
    def sentence(self) -> str:
        """What lies there, and what to do before it is bought again."""
        whence = f", out of the set {self.out_of}" if self.out_of else ""
        if self.due:
            return (
                f"order {self.order} is to bring {counted(self.pieces, 'piece')} of {self.part} "
                f"more than is needed{whence}, by {self.due:%d %b %Y}: if that is soon enough, "
                "wait, put it on the shelf (kitting shelf in) and take it for the job"
            )
        return (
            f"order {self.order} brought {counted(self.pieces, 'piece')} of {self.part} more than "
            f"was needed{whence}: put what lies here on the shelf (kitting shelf in), take it for "
            "the job, and order after that"
        )


def spares_of(
    records: Iterable[OrderRecord], sets: Iterable[SetItem], wanted: Collection[PartNumber]
) -> tuple[Spare, ...]:
    """Return what earlier orders bring of wanted parts and nobody needed.

    Args:
        records: the orders; drafts bring nothing yet.
        sets: what the sets of the jobs' families contain.
        wanted: the parts that are about to be ordered.
    """
    contents: dict[PartNumber, dict[PartNumber, int]] = defaultdict(dict)
    for item in sets:
        contents[item.set][item.part] = item.quantity
    found = (
        spare
        for record in records
        if not record.order.draft
        for each in record.lines
        for spare in _of(record.order.number, each, contents.get(each.part, {}))
    )
    return tuple(spare for spare in found if spare.part in wanted)


def _of(order: str, each: LineStanding, contents: Mapping[PartNumber, int]) -> Iterator[Spare]:
    here, whole = each.good + each.unproven, each.good + each.unproven + each.coming
    lying, in_all = each.may_go[Why.SURPLUS], max(0, whole - each.needed)
    yield from _told(Spare(each.part, lying, order), in_all, each)
    for part, count in contents.items():
        lying, in_all = (count * sets - _used(each, part, sets) for sets in (here, whole))
        yield from _told(Spare(part, max(0, lying), order, each.part), in_all, each)


def _used(each: LineStanding, part: PartNumber, sets: int) -> int:
    """How many of a part the needs take out of so many sets."""
    needs = (share.need for share in each.shared(sets) if share.need.in_set and share.given)
    return sum(need.pieces for need in needs if need.stands_for == part)


def _told(here: Spare, in_all: int, each: LineStanding) -> Iterator[Spare]:
    """What lies here, and beside it what is still to come of so much in all."""
    if here.pieces:
        yield here
    if in_all > here.pieces:
        yield replace(here, pieces=in_all - here.pieces, due=each.due)
