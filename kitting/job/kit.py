"""The kit stage: what the job needs, each line with why it is needed and why that number.

A position is supplied once, however many rules ask for it; `kit_merging` says how lines are joined.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from functools import cached_property, partial
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.catalog.model import Verdict
from kitting.catalog.rules import Then
from kitting.job.assess import State
from kitting.job.because import Because
from kitting.job.consequences import Demand
from kitting.job.kit_merging import counts_of, merged
from kitting.job.known_sizes import is_metal
from kitting.job.pricing import unsound_for
from kitting.job.readiness import Open, OpenPoint, Readiness, open_points
from kitting.job.sets import SetChoice, choose_sets
from kitting.job.size_choice import Basis

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kitting.catalog.family import Family
    from kitting.catalog.model import Assembly, PartNumber, Position
    from kitting.catalog.size_tables import Grade
    from kitting.job.consequences import Demands
    from kitting.job.size_choice import SizeChoice, Sizes
    from kitting.job.sourcing import Sourcing, Supply
    from kitting.job.verdicts import Verdicts

    # A part where a measurement names it, how many (0: as the position takes), and why.
    _Wanted = tuple[PartNumber | None, int, tuple[Because, ...]]


@dataclass(frozen=True, slots=True)
class KitLine:
    """One part of the kit, for one bag.

    `key` names the line within the job. `named` is the number in the family's parts list, `part`
    the one to buy today. `worst_part` and `worst_grade` are what it becomes if the metal cleans
    up only at the worst case; `hold` says not to buy before the metal is ground or bored
    (`hold_until`). `operation` is the work that fitting it takes, `covered_by` the set that brings
    it, `answers` the old numbers that the part answers in one, `serves` the numbers any of which
    would do, `counts` how many of one of them the whole line takes where that is not `quantity`.
    `needed` is why, `chosen` why that number; `problem` says why there is none, `wrong_in_data` in
    what links about its numbers contradict each other.
    """

    key: str
    stage: str
    positions: tuple[str, ...]
    named: PartNumber | None
    part: PartNumber | None
    name: str
    quantity: int
    grade: str
    needed: tuple[Because, ...]
    chosen: tuple[Because, ...]
    worst_part: PartNumber | None = None
    worst_grade: str = ""
    hold: bool = False
    hold_until: str = ""
    operation: str = ""
    covered_by: PartNumber | None = None
    answers: tuple[PartNumber, ...] = ()
    serves: frozenset[PartNumber] = frozenset()
    counts: tuple[tuple[PartNumber, int], ...] = ()
    problem: str = ""
    wrong_in_data: tuple[str, ...] = ()

    def takes(self, part: PartNumber | None) -> bool:
        """Whether a part would do here: the one to buy, or another that serves."""
        return part is not None and (part == self.part or part in self.serves)

    def whole_of(self, part: PartNumber) -> int:
        """How many pieces of a part that would do the whole line takes."""
        return dict(self.counts).get(part, self.quantity)

    @property
    def text(self) -> str:
        """The name with its size grade, said once."""
        said = not self.grade or self.grade.split()[0] in self.name
        return self.name if said else f"{self.name}, {self.grade}"


@dataclass(frozen=True, slots=True)
class KitWork:
    """Work for the machinist: an operation, on what, how many times, and why.

    `times` counts the journals or bores where the work finishes those of a size table, else the
    positions.
    """

    operation: str
    positions: tuple[str, ...]
    times: int
    because: tuple[Because, ...]


@dataclass(frozen=True, slots=True)
class Advice:
    """Something the rebuilder is told, of one position."""

    position: str
    because: tuple[Because, ...]


@dataclass(frozen=True)
class Kit:
    """The kit of a job: parts by stage, sets, machining, advice, and whether it is ready.

    `possible` are lines that are needed only if a part now undecided turns out to be worn.
    """

    lines: tuple[KitLine, ...]
    possible: tuple[KitLine, ...]
    sets: tuple[SetChoice, ...]
    work: tuple[KitWork, ...]
    advice: tuple[Advice, ...]
    readiness: Readiness

    @cached_property
    def by_key(self) -> Mapping[str, KitLine]:
        """Lines by key, the merely possible ones too."""
        return MappingProxyType({line.key: line for line in (*self.lines, *self.possible)})

    @property
    def bought(self) -> tuple[KitLine, ...]:
        """The lines that are bought by themselves: with a number, and in no set."""
        return tuple(line for line in self.lines if line.part and line.covered_by is None)


def make_kit(
    family: Family, verdicts: Verdicts, demands: Demands, sizes: Sizes, sourcing: Sourcing
) -> Kit:
    """Return the kit that the demands come to, at the sizes chosen."""
    drafts: list[KitLine] = []
    for position in family.positions_on(verdicts.bench.job.variant):
        demand = demands.renewed.get(position.key)
        if demand is not None:
            drafts.extend(_lines(family, position, demand, sizes, sourcing))
    lines = _numbered(family, merged(drafts))
    unsound = partial(unsound_for, family)
    sets = choose_sets(lines, family.set_items, sourcing.market, unsound)
    covered = {key: chosen.set for chosen in sets for key, _ in chosen.covers}
    lines = tuple(replace(line, covered_by=covered.get(line.key)) for line in lines)
    points = (*open_points(family, verdicts, demands, sizes), *_without_part(lines))
    return Kit(
        lines=lines,
        possible=_possible(family, verdicts, demands, sizes, sourcing),
        sets=sets,
        work=_work(family, demands, sizes, lines),
        advice=tuple(Advice(d.position, d.reasons) for d in demands.of(Then.ADVISE)),
        readiness=Readiness(points),
    )


def _lines(
    family: Family, position: Position, demand: Demand, sizes: Sizes, sourcing: Sourcing
) -> Iterable[KitLine]:
    choice = sizes.by_table.get(position.sized_by) if position.sized_by else None
    stage = family.assembly_by_key[position.assembly].stage
    likely = choice.parts_likely if choice else None
    if position.sized_by and likely is None:
        says = f"the size of {position.name} is not settled"
        yield _without(position, demand, stage, says)
        return
    wanted, problem = _chosen_by_measuring(position, sizes)
    if problem:
        yield _without(position, demand, stage, problem)
    for only, quantity, why in wanted:
        supply = sourcing.supply(position, likely, only, quantity)
        wrong = _wrong(position, choice, sourcing, only, quantity)
        if supply is None:
            which = f", {only}," if only else ""
            at = f" at {likely.name}" if likely else ""
            says = f"no part for {position.name}{which}{at} is to be had"
            yield replace(_without(position, demand, stage, says), wrong_in_data=wrong)
            continue
        yield from _supplied(
            family, supply, choice, _worst(position, choice, likely, sourcing),
            replace(_without(position, demand, stage, ""), chosen=why, wrong_in_data=wrong),
        )  # fmt: skip


def _wrong(
    position: Position,
    choice: SizeChoice | None,
    sourcing: Sourcing,
    only: PartNumber | None,
    quantity: int,
) -> tuple[str, ...]:
    """In what the links of a position contradict each other, at the likely size and the worst."""
    sizes = (choice.parts_likely, choice.parts_worst) if choice else (None,)
    grades = dict.fromkeys(size for size in sizes if size or not choice)
    told = (sourcing.wrong_in_data(position, grade, only, quantity) for grade in grades)
    return tuple(dict.fromkeys(wrong for each in told for wrong in each))


def _chosen_by_measuring(position: Position, sizes: Sizes) -> tuple[tuple[_Wanted, ...], str]:
    """Which of a position's parts a float chose and how many, or why none; else any that fits."""
    washer = sizes.washer_of(position.key)
    if washer is not None:
        if washer.part is None:
            return (), washer.because.says
        return ((washer.part, 0, (washer.because,)),), ""
    stack = sizes.stack_of(position.key)
    if stack is not None:
        chosen = tuple((part, count, (stack.because,)) for part, count in stack.parts)
        return chosen, "" if chosen else stack.because.says
    if position.key in sizes.unmeasured:
        says = f"which {position.name} are wanted follows from the end float: measure it"
        return (), says
    return ((None, 0, ()),), ""


def _supplied(
    family: Family, supply: Supply, choice: SizeChoice | None, worst: Supply | None, line: KitLine
) -> Iterable[KitLine]:
    """The line made out for each part of a supply."""
    likely = choice.parts_likely if choice else None
    hold = choice is not None and choice.hold
    for index, (part, quantity) in enumerate(supply.parts):
        also = worst.parts[index][0] if worst and index < len(worst.parts) else None
        yield replace(
            line,
            named=supply.named,
            part=part,
            name=family.part_by_number[part].name,
            quantity=quantity,
            grade=likely.name if likely else "",
            chosen=(*line.chosen, *_size_reason(choice), *supply.chain),
            worst_part=also if also != part else None,
            worst_grade=_worst_name(choice) if hold else "",
            hold=hold,
            hold_until=choice.hold_until if choice and hold else "",
            operation=supply.operation if index == 0 else "",
            answers=tuple(sorted(supply.answers)),
            serves=frozenset(supply.serves) if index == 0 else frozenset({part}),
            counts=counts_of(part, quantity, supply.serves) if index == 0 else (),
        )


def _possible(
    family: Family, verdicts: Verdicts, demands: Demands, sizes: Sizes, sourcing: Sourcing
) -> tuple[KitLine, ...]:
    """What would be bought if every part that is too near its limit to call were worn."""
    drafts: list[KitLine] = []
    for verdict in verdicts.positions:
        position = verdict.position
        doubtful = any(
            assessed.state is State.UNDECIDED and assessed.feature.if_out is Verdict.RENEW
            for assessed in verdict.assessments
        )
        if doubtful and verdict.undecided and position.key not in demands.renewed:
            demand = Demand(Then.RENEW, position.key, "", verdict.undecided)
            drafts.extend(_lines(family, position, demand, sizes, sourcing))
    return tuple(
        replace(line, key=f"if.{index}") for index, line in enumerate(drafts, 1) if line.part
    )


def _without(position: Position, demand: Demand, stage: str, problem: str) -> KitLine:
    return KitLine(
        key="",
        stage=stage,
        positions=(position.key,),
        named=None,
        part=None,
        name=position.name,
        quantity=position.quantity,
        grade="",
        needed=demand.reasons,
        chosen=(),
        problem=problem,
    )


def _worst(
    position: Position, choice: SizeChoice | None, likely: Grade | None, sourcing: Sourcing
) -> Supply | None:
    if choice is None or choice.parts_worst is None or choice.parts_worst == likely:
        return None
    return sourcing.supply(position, choice.parts_worst)


def _worst_name(choice: SizeChoice | None) -> str:
    if choice is None:
        return ""
    return choice.parts_worst.name if choice.parts_worst else "none: another crank or barrel"


def _size_reason(choice: SizeChoice | None) -> tuple[Because, ...]:
    if choice is None or choice.parts_likely is None:
        return ()
    says = f"size: {choice.table.name} {choice.parts_likely.name}, {choice.basis}"
    return (Because(says, choice.table.source, after=choice.because),)


def _numbered(family: Family, lines: list[KitLine]) -> tuple[KitLine, ...]:
    """Number the lines by bag: the second line of the third stage is 3.02."""
    stages = list(dict.fromkeys(a.stage for a in sorted(family.assemblies, key=_order)))
    numbered: list[KitLine] = []
    for number, stage in enumerate(stages, start=1):
        of_stage = [line for line in lines if line.stage == stage]
        numbered.extend(
            replace(line, key=f"{number}.{index:02}")
            for index, line in enumerate(of_stage, start=1)
        )
    return tuple(numbered)


def _order(assembly: Assembly) -> int:
    return assembly.sequence


def _without_part(lines: Iterable[KitLine]) -> list[OpenPoint]:
    return [
        OpenPoint(Open.NO_PART, line.name, Because(line.problem, after=line.needed))
        for line in lines
        if line.part is None
    ]


def _work(
    family: Family, demands: Demands, sizes: Sizes, lines: Iterable[KitLine]
) -> tuple[KitWork, ...]:
    """Each operation once, over all that it is done to; metal that is renewed is not machined."""
    needless = _needless(family, sizes)
    asked: dict[str, dict[str, list[Because]]] = defaultdict(dict)
    for demand in demands.of(Then.OPERATION):
        if (demand.operation, demand.position) not in needless:
            asked[demand.operation].setdefault(demand.position, []).extend(demand.reasons)
    for line in lines:
        if line.operation:
            asked[line.operation].setdefault(line.positions[0], []).extend(line.chosen)
    return tuple(
        KitWork(
            operation,
            tuple(positions),
            _times(family, operation, tuple(positions)),
            tuple(dict.fromkeys(r for reasons in positions.values() for r in reasons)),
        )
        for operation, positions in asked.items()
    )


def _times(family: Family, operation: str, positions: tuple[str, ...]) -> int:
    tables = {table.key for table in family.size_tables if table.operation == operation}
    finished = [
        feature
        for feature in family.features
        if feature.size_table in tables and feature.position in positions and is_metal(feature)
    ]
    return len(finished) or len(positions)


def _needless(family: Family, sizes: Sizes) -> frozenset[tuple[str, str]]:
    new = [choice.table for choice in sizes.choices if choice.basis is Basis.NEW]
    return frozenset(
        (table.operation, feature.position)
        for table in new
        for feature in family.features
        if feature.size_table == table.key
    )
