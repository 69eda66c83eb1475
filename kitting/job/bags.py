"""The bags of a job, one an assembly stage in build order, and what each still waits for.

A stage can start when everything of it is there: each line in hand, what has a drawing measured,
nothing held, its machining back, and no question of the bench open on any part of it. What is not
here comes by an order, or must be ordered. Whether the stages before it are built is for the bench
to see.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from hashlib import sha256
from typing import TYPE_CHECKING

from kitting.job.because import Because

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.catalog.family import Family
    from kitting.job.kit import KitLine, KitWork
    from kitting.job.path import JobPath
    from kitting.job.readiness import OpenPoint

# No sign that is taken for another when read aloud.
_SIGNS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
_CHECK_SIGNS = 4


class WaitsFor(StrEnum):
    """Why a stage cannot start."""

    PARTS = "parts to come"
    ORDER = "parts to order"
    MEASURING = "parts to be measured"
    HELD = "held"
    NO_PART = "no part"
    MACHINING = "machining"
    QUESTION = "open question"


@dataclass(frozen=True, slots=True)
class Wait:
    """One thing that a stage waits for: which line or operation, and what is to come."""

    why: WaitsFor
    key: str
    because: Because


@dataclass(frozen=True, slots=True)
class Bag:
    """The parts of one stage: the `number`th of `total` in build order.

    `works` is the machining of anything in the stage. `check` changes with the contents, so that a
    label printed before the kit changed is known for an old one.
    """

    number: int
    total: int
    stage: str
    lines: tuple[KitLine, ...]
    works: tuple[KitWork, ...]
    waits: tuple[Wait, ...]
    check: str

    @property
    def can_start(self) -> bool:
        """Whether the stage can start today."""
        return not self.waits

    @property
    def pieces(self) -> int:
        """How many pieces go in."""
        return sum(line.quantity for line in self.lines)

    @property
    def count_text(self) -> str:
        """How many lines and pieces, in words."""
        return f"{_many(len(self.lines), 'line')}, {_many(self.pieces, 'piece')}"

    @property
    def sentence(self) -> str:
        """Whether it can start, in one line."""
        if self.can_start:
            return "can start today"
        kinds = dict.fromkeys(wait.why for wait in self.waits)
        counts = {kind: sum(1 for wait in self.waits if wait.why is kind) for kind in kinds}
        return "waits: " + ", ".join(f"{kind} ({count})" for kind, count in counts.items())

    def label_text(self, job: str) -> str:
        """What the bag's code holds, in plain text; never whose engine it is."""
        return (
            f"JOB {job}; BAG {self.number} of {self.total}, {self.stage}; "
            f"{self.count_text}; CHECK {self.check}"
        )


def bags_of(path: JobPath) -> tuple[Bag, ...]:
    """Return the bags in build order: what came apart last goes together first."""
    family = path.family
    built = sorted(family.assemblies, key=lambda assembly: -assembly.sequence)
    found = []
    for stage in dict.fromkeys(assembly.stage for assembly in built):
        lines = tuple(line for line in path.kit.lines if line.stage == stage)
        works = tuple(work for work in path.kit.work if stage in _stages(family, work.positions))
        if lines or works:
            found.append((stage, lines, works))
    return tuple(
        Bag(
            number=number,
            total=len(found),
            stage=stage,
            lines=lines,
            works=works,
            waits=tuple(_waits(path, stage, lines, works)),
            check=_check(path.bench.job.number, stage, lines),
        )
        for number, (stage, lines, works) in enumerate(found, start=1)
    )


def _waits(
    path: JobPath, stage: str, lines: tuple[KitLine, ...], works: tuple[KitWork, ...]
) -> Iterator[Wait]:
    for line in lines:
        yield from _line_waits(path, line)
    for work in works:
        if not path.hand.is_back(work.operation):
            name = path.trade.operation_by_key[work.operation].name
            yield Wait(WaitsFor.MACHINING, work.operation, Because(f"{name}: not back"))
    for point in path.kit.readiness.points:
        if stage in _stages_of_point(path.family, point):
            says = f"{point.where}: {point.why}"
            yield Wait(WaitsFor.QUESTION, point.where, Because(says, after=(point.because,)))


def _loose(path: JobPath, line: KitLine) -> str:
    """What lies here of a line and makes no whole piece yet, such as one half of a pair."""
    loose = path.hand.made(line).loose
    said = " and ".join(f"{count} × {part}" for part, count in loose)
    return f"; beside that {said} here, which is no whole one yet" if said else ""


def _line_waits(path: JobPath, line: KitLine) -> Iterator[Wait]:
    """What one line is waited for: a part, the machinist's word, its measuring, its coming."""
    if line.part is None:
        yield Wait(WaitsFor.NO_PART, line.key, Because(f"{line.name}: {line.problem}"))
        return
    to_prove = path.hand.to_prove(line)
    if line.hold:
        says = f"{line.text}: held until {line.hold_until}, may be {line.worst_grade}"
        yield Wait(WaitsFor.HELD, line.key, Because(says, after=line.chosen[:1]))
    if to_prove:
        count = sum(each.quantity for each in to_prove)
        places = " and ".join(dict.fromkeys(each.place for each in to_prove))
        says = f"{line.text}: {count} here, to be measured ({places})"
        yield Wait(WaitsFor.MEASURING, line.key, Because(says))
    if not line.hold:
        yield from _not_here(path, line)


def _not_here(path: JobPath, line: KitLine) -> Iterator[Wait]:
    """What of a line comes by an order, and what nobody has ordered or must be ordered again."""
    hand = path.hand
    to_come, to_order = hand.to_come(line), hand.to_order(line)
    of_all, loose = f"of {line.quantity}", _loose(path, line)
    if to_come > to_order:
        comes = " and ".join(
            dict.fromkeys(f"{each.place}, {each.when:%d %b %Y}" for each in hand.on_order(line))
        )
        says = f"{line.text}: {to_come - to_order} {of_all} to come ({comes}){loose}"
        yield Wait(WaitsFor.PARTS, line.key, Because(says))
        loose = ""
    if to_order:
        says = f"{line.text}: {to_order} {of_all} to be ordered{loose}"
        yield Wait(WaitsFor.ORDER, line.key, Because(says))


def _stages(family: Family, positions: tuple[str, ...]) -> set[str]:
    """The stages that positions are built in."""
    assemblies = {family.position_by_key[key].assembly for key in positions}
    return {family.assembly_by_key[key].stage for key in assemblies}


def _stages_of_point(family: Family, point: OpenPoint) -> set[str]:
    """The stages that an open point belongs to: it names a position or a size table."""
    tables = {table.key for table in family.size_tables if table.name == point.where}
    named = [position.key for position in family.positions if position.name == point.where]
    sized = [feature.position for feature in family.features if feature.size_table in tables]
    return _stages(family, (*named, *sized))


def _check(job: str, stage: str, lines: tuple[KitLine, ...]) -> str:
    """Four signs that the contents give."""
    contents = "|".join(f"{line.part}×{line.quantity}@{line.grade}" for line in lines)
    number = int.from_bytes(sha256(f"{job}|{stage}|{contents}".encode()).digest()[:8], "big")
    signs = []
    for _ in range(_CHECK_SIGNS):
        number, sign = divmod(number, len(_SIGNS))
        signs.append(_SIGNS[sign])
    return "".join(signs)


def _many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
