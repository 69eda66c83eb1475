"""The shape of the bags."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.cli.shapes.job import JobShape, Step, job_shape, steps_of
from kitting.job.hand import Source

if TYPE_CHECKING:
    from kitting.job.bags import Bag
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath


@dataclass(frozen=True, slots=True)
class BagLineShape:
    """One line of a bag: how many of it are in hand, and how many of those from the shelf.

    `to_measure` are here beside them, and not proven.
    """

    line: str
    part: str | None
    name: str
    grade: str
    quantity: int
    in_hand: int
    from_shelf: int
    to_measure: int
    hold: bool


@dataclass(frozen=True, slots=True)
class WaitShape:
    """One thing that the stage waits for."""

    why: str
    key: str
    because: list[Step]


@dataclass(frozen=True, slots=True)
class BagShape:
    """One bag; `label` is the text of its code."""

    number: int
    stage: str
    can_start: bool
    lines: list[BagLineShape]
    machining: list[str]
    waits: list[WaitShape]
    check: str
    label: str


@dataclass(frozen=True, slots=True)
class LeftOverShape:
    """Pieces in hand that no line asks for any more; or on order, `source` saying by which."""

    part: str | None
    position: str
    quantity: int
    source: str


@dataclass(frozen=True, slots=True)
class BagsShape:
    """The bags of a job in build order; what is in hand, or on order, and asked for no more."""

    job: JobShape
    bags: list[BagShape]
    left_over: list[LeftOverShape]
    coming_too_many: list[LeftOverShape]


def bags_shape(path: JobPath, bags: Sequence[Bag]) -> BagsShape:
    """The shape of a job's bags."""
    return BagsShape(
        job=job_shape(path.bench.job),
        bags=[
            BagShape(
                number=bag.number,
                stage=bag.stage,
                can_start=bag.can_start,
                lines=[_line(path, line) for line in bag.lines],
                machining=[work.operation for work in bag.works],
                waits=[WaitShape(w.why, w.key, steps_of((w.because,))) for w in bag.waits],
                check=bag.check,
                label=bag.label_text(path.bench.job.number),
            )
            for bag in bags
        ],
        left_over=[
            LeftOverShape(
                str(each.part) if each.part else None, each.position, each.quantity, each.source
            )
            for each in path.hand.left_over(path.kit)
        ],
        coming_too_many=[
            LeftOverShape(
                str(each.part) if each.part else None, each.position, each.quantity, each.place
            )
            for line in path.kit.lines
            for each in path.hand.too_many(line)
        ],
    )


def _line(path: JobPath, line: KitLine) -> BagLineShape:
    return BagLineShape(
        line=line.key,
        part=str(line.part) if line.part else None,
        name=line.name,
        grade=line.grade,
        quantity=line.quantity,
        in_hand=path.hand.count(line),
        from_shelf=path.hand.count(line, Source.SHELF),
        to_measure=sum(each.quantity for each in path.hand.to_prove(line)),
        hold=line.hold,
    )
