"""What earlier orders bring beside what is needed: the rest of packs and of sets, and what the kits
of their jobs ask for no more.

It is counted for no job. Where one comes to need it, it is named before it is bought again, whether
it lies here or is still to come. What was put on the shelf out of an order is the order's no more;
of what came in a set that is not known.
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

    from kitting.buying.going_back import Wanted
    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.catalog.model import PartNumber, SetItem


@dataclass(frozen=True, slots=True)
class Spare:
    """Pieces that nobody needs, of one order; `out_of` the set where they came in one.

    Without `due` they lie here; else they are still to come, by that day. `on_shelf` are the pieces
    of that number that lie free on the shop's shelf.
    """

    part: PartNumber
    pieces: int
    order: str
    out_of: PartNumber | None = None
    due: date | None = None
    on_shelf: int = 0
    is_set: bool = False

    @property
    def sentence(self) -> str:
        """What lies there, and what to do before it is bought again."""
        whence = f", out of the set {self.out_of}" if self.out_of else ""
        if self.due:
            return (
                f"order {self.order} is to bring {counted(self.pieces, 'piece')} of {self.part} "
                f"more than is needed{whence}, by {self.due:%d %b %Y}: if that is soon enough, "
                f"wait, put it on the shelf ({self._typed}) and {self._use}"
            )
        there = "put what lies here on the shelf"
        if self.out_of:
            free = f" ({self.on_shelf} of it lie free there)" if self.on_shelf else ""
            there += f", if it is not there already{free}"
        return (
            f"order {self.order} brought {counted(self.pieces, 'piece')} of {self.part} more than "
            f"is needed{whence}: {there} ({self._typed}), {self._use}, and order after that"
        )

    @property
    def _use(self) -> str:
        if self.is_set:
            return f"open it there (kitting shelf open '{self.part}') and take what is in it"
        return "take it for the job"

    @property
    def _typed(self) -> str:
        """What puts it on the shelf."""
        if self.out_of:
            return "kitting shelf in"
        part = f"'{self.part}'" if " " in str(self.part) else str(self.part)
        return f"kitting shelf in {part} {self.pieces} --where PLACE --from-order {self.order}"


def spares_of(
    records: Iterable[OrderRecord],
    sets: Iterable[SetItem],
    wanted: Collection[PartNumber],
    kits: Wanted,
) -> tuple[Spare, ...]:
    """Return what earlier orders bring of wanted parts and nobody needs.

    Args:
        records: the orders; drafts bring nothing yet.
        sets: what the sets of the jobs' families contain.
        wanted: the parts that are about to be ordered.
        kits: what the orders' jobs still ask for.
    """
    contents: dict[PartNumber, dict[PartNumber, int]] = defaultdict(dict)
    for item in sets:
        if item.part in wanted:
            contents[item.set][item.part] = item.quantity
    return tuple(
        spare
        for record in records
        if not record.order.draft
        for each in record.lines
        if each.part in wanted or each.part in contents
        for spare in _of(record.order.number, each, contents.get(each.part, {}), kits)
        if spare.part in wanted
    )


def _of(
    order: str, each: LineStanding, contents: Mapping[PartNumber, int], kits: Wanted
) -> Iterator[Spare]:
    here, whole = each.good + each.unproven, each.good + each.unproven + each.coming
    idle, idle_in_all = (kits.idle(order, each, pieces) for pieces in (here, whole))
    lying = each.may_go[Why.SURPLUS] + idle
    in_all = max(0, whole - each.needed) + idle_in_all
    yield from _told(Spare(each.part, lying, order), in_all, each)
    for part, count in contents.items():
        lying, in_all = (
            count * sets - _used(order, each, part, sets, kits) for sets in (here, whole)
        )
        yield from _told(Spare(part, max(0, lying), order, each.part), in_all, each)


def _used(order: str, each: LineStanding, part: PartNumber, sets: int, kits: Wanted) -> int:
    """How many of a part the needs take out of so many sets."""
    shares = (share for share in each.shared(sets) if share.need.in_set)
    return sum(kits.by(order, each, share) for share in shares if share.need.stands_for == part)


def _told(here: Spare, in_all: int, each: LineStanding) -> Iterator[Spare]:
    """What lies here, and beside it what is still to come of so much in all."""
    if here.pieces:
        yield here
    if in_all > here.pieces:
        yield replace(here, pieces=in_all - here.pieces, due=each.due)
