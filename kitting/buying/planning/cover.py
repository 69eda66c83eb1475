"""That what a pool's lines take is there: the rows of one pool, and rows that sharpen the bound.

A solver begins by letting every decision be taken in part. A tenth of the option 'ten packs' would
then bring one piece at the price of ten, so what an option brings is cut off at the need, for the
pool and again for each line. None of these rows rules a plan out: they rule out parts of plans.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.buying.planning.solver import Program


@dataclass(frozen=True, slots=True)
class Opened:
    """A set's columns, 'one is opened', 'a second is opened' …, and how many pieces each brings."""

    count: int
    levels: tuple[int, ...]

    def up_to(self, need: int) -> Iterator[tuple[int, int]]:
        """Each level's column, and the pieces it adds while they are of use."""
        before = 0
        for level, column in enumerate(self.levels, start=1):
            brought = min(self.count * level, need)
            yield column, brought - before
            before = brought


@dataclass(slots=True)
class Cover:
    """Who brings pieces to a pool and who takes them, by column.

    `surely` are the takers that must take in any case.
    """

    most: int
    brought: dict[int, int] = field(default_factory=dict)
    opened: list[Opened] = field(default_factory=list)
    taken: dict[int, int] = field(default_factory=dict)
    surely: set[int] = field(default_factory=set)

    def write(self, program: Program) -> None:
        """Write the rows: for all takers, for those that surely take, and for these and one more.

        What holds of the sure takers together implies the same of each of them.
        """
        takes = {column: -count for column, count in self.taken.items()}
        program.at_least(0, self._up_to(self.most) | takes)
        sure = {column: takes[column] for column in takes if column in self.surely}
        needs = [sure] if sure else []
        needs += [sure | {column: takes[column]} for column in takes if column not in sure]
        for each in needs:
            need = -sum(each.values())
            if need < self.most:
                program.at_least(0, self._up_to(need) | each)

    def _up_to(self, need: int) -> dict[int, int]:
        row = {column: min(count, need) for column, count in self.brought.items()}
        for opened in self.opened:
            row.update((column, pieces) for column, pieces in opened.up_to(need) if pieces)
        return row


def write_levels(program: Program, opened: Opened, cover: Cover) -> None:
    """That a set is opened in order, and that so many of it are there: `cover` is its own pool."""
    for level, column in enumerate(opened.levels, start=1):
        cover.taken[column] = 1
        if level > 1:
            program.at_least(0, {opened.levels[level - 2]: 1, column: -1})
            enough = {each: min(count, level) for each, count in cover.brought.items()}
            program.at_least(0, enough | {column: -level})
