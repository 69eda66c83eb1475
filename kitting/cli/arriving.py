"""Marking by hand what has come for a job: lines, sets, and work back from the machinist."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.catalog.model import normal_number
from kitting.catalog.nearest import nearest
from kitting.cli.amounts import paid, worded
from kitting.cli.kit_lines import line_of, named
from kitting.cli.opened import path_within, today
from kitting.errors import BadInput, NotFound, Problem, Problems

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from kitting.catalog.model import PartNumber
    from kitting.job.hand import InHand, WorkBack
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath


@dataclass(frozen=True, slots=True)
class Marks:
    """What is said to have come, or not after all; `cost` and `quantity` go with one thing only."""

    came: tuple[str, ...]
    went: tuple[str, ...]
    back: tuple[str, ...]
    not_back: tuple[str, ...]
    quantity: int | None
    cost: Decimal | None
    who: str

    @property
    def any(self) -> bool:
        """Whether anything is said."""
        said = (self.came, self.went, self.back, self.not_back)
        return any(said) or self.cost is not None or self.quantity is not None

    def check(self) -> None:
        """Refuse a cost or a quantity that is of several things, or of none."""
        problems = Problems()
        if self.cost is not None and len(self.came) + len(self.back) != 1:
            problems.add("--cost", "it goes with one line or operation", "mark them one by one")
        if self.quantity is not None and (len(self.came) != 1 or self.back):
            problems.add("--quantity", "it goes with one line", "mark lines one by one")
        problems.raise_if_any()


def mark(number: str, marks: Marks, day: date | None) -> JobPath:
    """Store what is said, all or nothing, and return the job's path with it.

    Raises:
        BadInput: with everything that cannot be taken.
    """
    from kitting.store import Database

    marks.check()
    who = worded("--who", marks.who)
    with Database().work() as work:
        work.jobs.hold(number)
        path = path_within(work, number, day)
        if marks.cost is not None:
            paid("--cost", marks.cost, path.trade.shop.currency)
        problems = Problems()
        pieces: list[InHand] = []
        works: list[WorkBack] = []
        for key in marks.came:
            with problems.at(f"--in-hand {key}"):
                pieces.extend(_came(path, key, marks, who))
        for key in marks.went:
            with problems.at(f"--not-in-hand {key}"):
                pieces.extend(_went(path, key, who))
        for key, back in _operations(marks):
            with problems.at(f"--{'' if back else 'not-'}back {key}"):
                works.append(_work(path, key, marks, who, back=back))
        problems.raise_if_any()
        work.in_hand.add_pieces(number, pieces)
        for each in works:
            work.in_hand.add_work(number, each)
        path = path_within(work, number, day)
        work.commit()
    return path


def _operations(marks: Marks) -> Iterator[tuple[str, bool]]:
    yield from ((key, True) for key in marks.back)
    yield from ((key, False) for key in marks.not_back)


def _came(path: JobPath, key: str, marks: Marks, who: str) -> Iterator[InHand]:
    """The pieces of a line that came, or of every line that a set brings."""
    from kitting.job.hand import InHand, Source

    lines = _of_set(path, key) or (line_of(path, key),)
    if len(lines) > 1 and (marks.cost is not None or marks.quantity is not None):
        raise BadInput(
            Problem("", f"the set brings {len(lines)} lines", "mark them without cost and quantity")
        )
    missing = {line.key: path.hand.to_come(line) for line in lines}
    for line in lines:
        if path.hand.to_prove(line) and not missing[line.key]:
            places = " and ".join(dict.fromkeys(each.place for each in path.hand.to_prove(line)))
            raise BadInput(
                Problem(
                    named(line),
                    f"it is here, to be measured ({places})",
                    "kitting order measure, or kitting order settle",
                )
            )
    if not any(missing.values()):
        said = " and ".join(line.name for line in lines)
        raise BadInput(Problem("", f"all of it is in hand already: {said}", "mark no more of it"))
    if marks.quantity is not None and marks.quantity > missing[lines[0].key]:
        raise BadInput(
            Problem("", f"only {missing[lines[0].key]} of it miss, not {marks.quantity}")
        )
    for line in lines:
        if line.part is None:
            raise BadInput(
                Problem(
                    named(line), f"no part is named for it: {line.problem}", "settle that first"
                )
            )
        if missing[line.key]:
            count = marks.quantity or missing[line.key]
            yield InHand(
                line.positions[0], line.part, count, Source.BY_HAND, who, today(), marks.cost
            )


def _went(path: JobPath, key: str, who: str) -> Iterator[InHand]:
    """Take back what was marked by hand of a line, each part for itself."""
    from kitting.job.hand import InHand, Source

    line = line_of(path, key)
    marked: dict[tuple[str, PartNumber | None], list[InHand]] = {}
    for each in path.hand.of(line, Source.BY_HAND):
        marked.setdefault((each.position, each.part), []).append(each)
    counts = {of: sum(each.quantity for each in mine) for of, mine in marked.items()}
    if not any(counts.values()):
        raise BadInput(
            Problem(
                named(line),
                "nothing of it was marked by hand",
                "what came off the shelf is given back with `kitting shelf give-back`",
            )
        )
    for (position, part), mine in marked.items():
        costs = [each.cost for each in mine if each.cost is not None]
        cost = -sum(costs, Decimal(0)) if costs else None
        count = counts[(position, part)]
        if count:
            yield InHand(position, part, -count, Source.BY_HAND, who, today(), cost)


def _of_set(path: JobPath, key: str) -> tuple[KitLine, ...]:
    """The lines that the set of that number brings, none where it is no set of the kit."""
    if key in path.kit.by_key:
        return ()
    typed = normal_number(key.rpartition(":")[2])
    return tuple(
        line for line in path.kit.lines if line.covered_by and line.covered_by.normal == typed
    )


def _work(path: JobPath, key: str, marks: Marks, who: str, *, back: bool) -> WorkBack:
    from kitting.job.hand import WorkBack

    asked = [work.operation for work in path.kit.work]
    if key not in asked:
        raise NotFound("operation of this job", key, nearest(key, asked, 3) or asked)
    if path.hand.is_back(key) == back:
        raise BadInput(Problem("", "that is what stands there already"))
    return WorkBack(key, back, who, today(), marks.cost if back else None)
