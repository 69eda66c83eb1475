"""What a resolution says: the need, the ways to satisfy it, and why other ways were not taken."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.catalog.model import LinkKind

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.model import Fit, Link, Part, PartNumber
    from kitting.errors import Problem


class WayKind(StrEnum):
    """How a way satisfies a need, by its least simple step."""

    AS_NAMED = "as named"
    SUPERSEDED = "superseded"
    EITHER_WAY = "interchange either way"
    ONE_WAY = "interchange one way"
    FULL_SET = "interchange as a full set"
    WITH_WORK = "interchange with work"
    OLD_STOCK = "old stock"


@dataclass(frozen=True, slots=True)
class Need:
    """So many of a part, for a position of one engine.

    `running` is the engine's running number. `grade` is the size grade in play. `whole` says that
    every one of the position, and of the positions matched with it, is renewed. What is not known
    stays empty: rows that ask for it then do not hold.
    """

    part: PartNumber
    quantity: int = 1
    position: str = ""
    variant: str = ""
    running: int | None = None
    grade: str = ""
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Subgraph:
    """The links, fits and parts about a need.

    It must hold every link that can be reached from the part, by either end; rows beyond do no
    harm. With no `parts` given, every number counts as known.
    """

    links: tuple[Link, ...]
    fits: tuple[Fit, ...] = ()
    parts: Mapping[PartNumber, Part] | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One link followed, from the number at one end to that at the other."""

    link: Link
    start: PartNumber
    end: PartNumber

    @property
    def backwards(self) -> bool:
        """Whether an either-way link was followed from its new number to its old one."""
        return self.start == self.link.new and self.end == self.link.old

    def __str__(self) -> str:
        link = self.link
        counts = (link.old_quantity, link.new_quantity)
        before, after = reversed(counts) if self.backwards else counts
        start = f"{before} × {self.start}" if counts != (1, 1) else str(self.start)
        end = f"{after} × {self.end}" if counts != (1, 1) else str(self.end)
        says = {
            LinkKind.SUPERSEDED: f"{start} is superseded by {end}",
            LinkKind.EITHER_WAY: f"{end} may stand for {start}, either way",
            LinkKind.ONE_WAY: f"{end} may stand for {start}, not the reverse",
            LinkKind.FULL_SET: f"{end} may stand for {start} as a full set",
            LinkKind.WITH_WORK: f"{end} may stand for {start} with work",
        }[link.kind]
        with_it = f" ({link.operation})" if link.operation else ""
        return f"{says}{with_it}"


@dataclass(frozen=True, slots=True)
class Way:
    """One way to satisfy a need.

    `parts` are the numbers to buy with quantities; several are a split. `because` is the chain from
    the number named to them. `companions` must be bought too, as many as of the part that needs
    them. `also_answers` are other old numbers that the same new part stands for (a merge): where
    those are needed too, it is bought once. `current` is no where a number in it is superseded.
    """

    kind: WayKind
    parts: tuple[tuple[PartNumber, int], ...]
    current: bool
    because: tuple[Step, ...] = ()
    conditions: tuple[str, ...] = ()
    operations: tuple[str, ...] = ()
    companions: tuple[tuple[PartNumber, int], ...] = ()
    also_answers: tuple[PartNumber, ...] = ()


@dataclass(frozen=True, slots=True)
class NotTaken:
    """A number that was met and is no way, and why.

    `barred` says that it is the link that does not lead there; the number may be come to otherwise.
    """

    part: PartNumber
    why: str
    link: Link | None = None
    barred: bool = False


@dataclass(frozen=True, slots=True)
class Resolution:
    """Every way to satisfy a need on a day, best first; nothing is chosen here.

    `problems` are loops and contradictions in the data, each with its chain; none is followed.
    """

    need: Need
    ways: tuple[Way, ...]
    not_taken: tuple[NotTaken, ...]
    problems: tuple[Problem, ...]

    @property
    def best(self) -> Way | None:
        """The first way; whoever takes it shows its chain."""
        return self.ways[0] if self.ways else None
