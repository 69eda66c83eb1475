"""What earlier orders brought beside what was needed: the rest of packs and of sets.

It is counted for no job. Where one comes to need it, it is named before it is bought again.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.buying.deliveries import Why
from kitting.buying.replies import counted

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping

    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.catalog.model import PartNumber, SetItem


@dataclass(frozen=True, slots=True)
class Spare:
    """Pieces that nobody needed, of one order; `out_of` the set where they came in one."""

    part: PartNumber
    pieces: int
    order: str
    out_of: PartNumber | None = None

    @property
    def sentence(self) -> str:
        """What lies there, and what to do before it is bought again."""
        whence = f", out of the set {self.out_of}" if self.out_of else ""
        return (
            f"order {self.order} brought {counted(self.pieces, 'piece')} of {self.part} more than "
            f"was needed{whence}: put what lies here on the shelf (kitting shelf in), take it for "
            "the job, and order after that"
        )


def spares_of(
    records: Iterable[OrderRecord], sets: Iterable[SetItem], wanted: Collection[PartNumber]
) -> tuple[Spare, ...]:
    """Return what earlier orders brought of wanted parts and nobody needed.

    Args:
        records: the orders; of drafts nothing came.
        sets: what the sets of the jobs' families contain.
        wanted: the parts that are about to be ordered.
    """
    contents: dict[PartNumber, dict[PartNumber, int]] = defaultdict(dict)
    for item in sets:
        contents[item.set][item.part] = item.quantity
    found = (
        spare
        for record in records
        for each in record.lines
        for spare in _of(record.order.number, each, contents.get(each.part, {}))
    )
    return tuple(spare for spare in found if spare.part in wanted)


def _of(order: str, each: LineStanding, contents: Mapping[PartNumber, int]) -> Iterator[Spare]:
    if each.may_go[Why.SURPLUS]:
        yield Spare(each.part, each.may_go[Why.SURPLUS], order)
    here = each.good + each.unproven
    for part, count in contents.items():
        needs = (share for share in each.shared(here) if share.need.in_set and share.given)
        used = sum(share.need.pieces for share in needs if share.need.stands_for == part)
        if count * here > used:
            yield Spare(part, count * here - used, order, each.part)
