"""What of a line is here, what is to come and what may turn up: deliveries and words in turn.

A delivery that names a line closes it but for what is to follow. A word given afterwards, that
packs come after all or that fewer do, changes by so many what is to come, and no more: what came
damaged, or fell short, stays open.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.buying.proven import Proof

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from kitting.buying.proven import Parcel


@dataclass(frozen=True, slots=True)
class Promise:
    """So many pieces of one number to come in all, by a word; `delivered` of the order's deliveries
    were booked when it was given. `anew` says that it is of another number than before."""

    pieces: int
    delivered: int = 0
    anew: bool = False


@dataclass(slots=True)
class Here:
    """Pieces of a line, by what they are; `closed` when a delivery named it and none is to come."""

    good: int = 0
    unmeasured: int = 0
    doubtful: int = 0
    damaged: int = 0
    wrong: int = 0
    coming: int = 0
    late: int = 0
    closed: bool = False

    @property
    def whole(self) -> int:
        """Pieces of the right part, proven or not."""
        return self.good + self.unmeasured + self.doubtful

    def take(self, pieces: int) -> None:
        """Take away what went back whole, first what nobody measured."""
        for name in ("unmeasured", "doubtful", "good"):
            taken = min(pieces, getattr(self, name))
            setattr(self, name, getattr(self, name) - taken)
            pieces -= taken

    def add(self, parcel: Parcel) -> None:
        """Count what one delivery brought."""
        came, proofs = parcel.came, parcel.proofs
        self.good += proofs[Proof.SOUND]
        self.unmeasured += proofs[Proof.UNMEASURED]
        self.doubtful += proofs[Proof.DOUBTFUL]
        self.damaged += came.damaged
        self.wrong += proofs[Proof.WRONG] + came.wrong


def arrived(promises: Sequence[Promise], parcels: Iterable[Parcel], *, cancelled: bool) -> Here:
    """Return how a line stands after everything that came of it.

    Pieces that are missing of a closed line may turn up late; of a cancelled order nothing comes.

    Args:
        promises: what was to come of it by each word, the first as it was asked for; one or more.
        parcels: the deliveries that name it, in their order.
        cancelled: whether its order was.
    """
    here, waiting = Here(), list(promises)
    agreed = waiting.pop(0).pieces
    for parcel in parcels:
        while waiting and waiting[0].delivered < parcel.delivery:
            agreed = _told(here, agreed, waiting.pop(0))
        here.add(parcel)
        here.closed = True
        here.coming = max(0, min(parcel.came.to_follow, agreed - here.whole))
    for promise in waiting:
        agreed = _told(here, agreed, promise)
    if not here.closed:
        here.coming = agreed
    here.closed = here.closed and not here.coming
    if cancelled:
        here.coming = 0
    else:
        here.late = max(0, agreed - here.whole - here.coming)
    return here


def _told(here: Here, agreed: int, promise: Promise) -> int:
    """Reckon a word with what is to come of a line that a delivery has named; what holds then."""
    more = promise.pieces if promise.anew else promise.pieces - agreed
    coming = more if promise.anew else here.coming + more
    here.coming = max(0, min(promise.pieces - here.whole, coming))
    return promise.pieces
