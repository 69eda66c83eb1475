"""What lies free on the shop's shelf for a job: what a kit line may take, and what it would.

A line takes its own number, as many as lie there. Another that serves it is taken only where it
makes the line whole, beside what is in hand of other numbers; matched parts are of one maker. Every
piece is given once, in the order of the kit.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.buying.drafting import StillOpen, is_declined
from kitting.buying.planning.of_jobs import matched_group
from kitting.job.counting import Lot, Made

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from kitting.buying.drafting import Before
    from kitting.catalog.model import PartNumber
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath


@dataclass(frozen=True, slots=True)
class Take:
    """So many pieces of a part for a kit line; `rest` says that they are all that it misses."""

    line: KitLine
    part: PartNumber
    pieces: int
    rest: bool


@dataclass(frozen=True, slots=True)
class Opening:
    """So many sets to open, and the kit lines that what is in them would serve."""

    number: PartNumber
    sets: int
    lines: tuple[KitLine, ...]


def matched_with(path: JobPath, line: KitLine) -> tuple[KitLine, ...]:
    """The lines that are of one maker with a line, itself with them; none where it is unmatched."""
    group = matched_group(path, line)
    return tuple(each for each in path.kit.lines if group and matched_group(path, each) == group)


def makes_whole(
    path: JobPath,
    line: KitLine,
    lot: Lot,
    approved: Before,
    taken: Iterable[Lot] = (),
) -> bool:
    """Whether pieces of one number make a line whole with what is in hand of others.

    Args:
        path: the job.
        line: the line, of its kit.
        lot: the pieces.
        approved: what approved orders bring; what comes of the same number counts.
        taken: what is taken beside what is in hand.
    """
    here = [each for each in (*path.hand.lots(line), *taken) if each.part != lot.part]
    comes = [each for each in StillOpen(path, approved).lots(line) if each.part == lot.part]
    return not Made(line, [*here, *comes, lot]).missing


class Taking:
    """What a job would take of what lies free, line by line, and what of its sets after that."""

    def __init__(
        self,
        path: JobPath,
        before: Before,
        approved: Before,
        lying: Mapping[PartNumber, int],
    ) -> None:
        """Ask what is still open.

        Args:
            path: the job.
            before: what earlier orders bring, which is not missing.
            approved: what of it is approved.
            lying: how many pieces of each part lie free.
        """
        self._path = path
        self._approved = approved
        self._lying = Counter(lying)
        self._taken: dict[str, list[Lot]] = defaultdict(list)
        left = StillOpen(path, before)
        # Of all that comes: asked before the lines use it up.
        self._makers = {
            line.key: {lot.part.maker for lot in left.lots(line)}
            | {each.part.maker for each in path.hand.of(line) if each.part}
            for line in path.kit.lines
        }
        self._lots: dict[str, tuple[Lot, ...]] = {}
        for line in path.kit.lines:
            lots = left.lots(line)
            if line.part and left.made(line).missing and not is_declined(path, line):
                self._lots[line.key] = lots

    def takes(self) -> tuple[Take, ...]:
        """What would be taken for each line, its own number before another."""
        return tuple(self._serve(self._lying))

    def openings(self) -> Iterator[Opening]:
        """The sets that hold what is missing still, each with as few opened as serve the most."""
        contents: dict[PartNumber, dict[PartNumber, int]] = defaultdict(dict)
        for item in self._path.family.set_items:
            contents[item.set][item.part] = item.quantity
        for number in sorted(contents.keys() & self._lying.keys()):
            inside, most = contents[number], self._lying[number]
            served = self._out_of(number, inside, most) if most else ()
            if served:
                fewest = next(
                    sets
                    for sets in range(1, most + 1)
                    if self._out_of(number, inside, sets) == served
                )
                lines = dict.fromkeys(take.line.key for take in served)
                yield Opening(number, fewest, tuple(self._path.kit.by_key[key] for key in lines))

    def _out_of(
        self, number: PartNumber, inside: Mapping[PartNumber, int], sets: int
    ) -> tuple[Take, ...]:
        """What so many sets would give; nothing is taken by it."""
        lying = self._lying + Counter({part: count * sets for part, count in inside.items()})
        before = {key: list(lots) for key, lots in self._taken.items()}
        found = tuple(take for take in self._serve(lying, number) if take.part in inside)
        self._taken = defaultdict(list, before)
        return found

    def _serve(
        self, lying: Counter[PartNumber], out_of: PartNumber | None = None
    ) -> Iterator[Take]:
        for key in self._lots:
            line = self._path.kit.by_key[key]
            for part, pieces in self._of_line(line, lying, out_of):
                had = [*self._path.hand.lots(line), *self._taken[key]]
                rest = Made(line, had).wanted(Lot(part, 0)) == pieces
                lying[part] -= pieces
                self._taken[key].append(Lot(part, pieces))
                yield Take(line, part, pieces, rest)

    def _of_line(
        self, line: KitLine, lying: Mapping[PartNumber, int], out_of: PartNumber | None
    ) -> tuple[tuple[PartNumber, int], ...]:
        """What a line takes: its own number, and with it or alone another that makes it whole."""
        if line.part is None:
            return ()
        lots = (*self._lots[line.key], *self._taken[line.key])
        wanted = Made(line, lots).wanted(Lot(line.part, 0))
        own = min(lying.get(line.part, 0), wanted) if self._alike(line, line.part, out_of) else 0
        others = line.serves - {line.part} if own < wanted else ()
        for part in sorted(others):
            pieces = Made(line, (*lots, Lot(line.part, own))).wanted(Lot(part, 0))
            if 0 < pieces <= lying.get(part, 0) and self._alike(line, part, out_of):
                # Not more of its own than spares a piece of the other.
                fewest = next(
                    n
                    for n in range(own + 1)
                    if Made(line, (*lots, Lot(line.part, n))).wanted(Lot(part, 0)) == pieces
                )
                taken = [*self._taken[line.key], Lot(line.part, fewest)]
                lot = Lot(part, pieces)
                if makes_whole(self._path, line, lot, self._approved, taken):
                    return ((line.part, fewest), (part, pieces)) if fewest else ((part, pieces),)
        return ((line.part, own),) if own else ()

    def _alike(self, line: KitLine, part: PartNumber, out_of: PartNumber | None) -> bool:
        """Whether a part is of the make of what is in hand, comes or is asked for beside it.

        A matched part is not taken out of another maker's set: nobody can say what make it is.
        """
        fellows = matched_with(self._path, line)
        if not fellows:
            return True
        makers = {maker for each in fellows for maker in self._makers[each.key]}
        makers |= {lot.part.maker for each in fellows for lot in self._taken[each.key]}
        wanted = makers or {line.part.maker if line.part else part.maker}
        return wanted == {part.maker} and (out_of is None or out_of.maker == part.maker)
