"""The shapes of what answers for what: ways, traces, where a part goes, two parts compared."""

from dataclasses import dataclass

from kitting.catalog.comparing import Compared
from kitting.catalog.family import Family
from kitting.catalog.links_in_force import condition_words
from kitting.catalog.model import Fit, Link, PartNumber, Position
from kitting.catalog.trace import Trace, TraceRow
from kitting.catalog.ways import Step, Way
from kitting.catalog.where_used import NeededWith, Served, Use
from kitting.cli.shapes.catalog import ProblemShape, problem_shapes


@dataclass(frozen=True, slots=True)
class CountShape:
    """So many of a part."""

    part: str
    quantity: int


@dataclass(frozen=True, slots=True)
class LinkShape:
    """One supersession or interchange: `new` × `new_quantity` for `old` × `old_quantity`."""

    record: str
    kind: str
    old: str
    old_quantity: int
    new: str
    new_quantity: int
    conditions: list[str]
    operation: str
    needs: list[str]
    use_up: bool
    note: str
    source: str


@dataclass(frozen=True, slots=True)
class StepShape:
    """One link followed, and the sentence that says so."""

    says: str
    link: LinkShape


@dataclass(frozen=True, slots=True)
class WayShape:
    """One way to satisfy a need: what to buy, and the chain of links to it."""

    kind: str
    current: bool
    buy: list[CountShape]
    companions: list[CountShape]
    operations: list[str]
    conditions: list[str]
    also_answers: list[str]
    because: list[StepShape]


@dataclass(frozen=True, slots=True)
class NotTakenShape:
    """A number that is no way, and why; with the link where it was met."""

    part: str
    why: str
    link: LinkShape | None


@dataclass(frozen=True, slots=True)
class TraceRowShape:
    """One number of the tree.

    `parent` is the row (`at`) it hangs from, null at the part asked for. `backwards`: the link is
    seen from its new number. `link_holds` is false, with `why_not`, where a condition is not met.
    `again` names the row where the number stands already. `place` is 1 for today's answer, 2 and on
    for the other ways, null for none.
    """

    at: int
    part: str
    name: str
    parent: int | None
    joined: str
    link: LinkShape | None
    backwards: bool
    link_holds: bool
    why_not: str
    circle: bool
    again: int | None
    place: int | None
    not_taken: list[str]


@dataclass(frozen=True, slots=True)
class TraceShape:
    """The whole tree about a part, today's answer, the other ways, and what is no way and why.

    `problems` are loops and contradictions, which are not followed; `odd` is followed and yet to be
    looked at, such as one-way interchange in a ring. `fits` are the positions that the part's own
    number fits.
    """

    part: str
    name: str
    family: str
    edition: str
    position: str | None
    variant: str | None
    engine_number: int | None
    grade: str | None
    quantity: int
    day: str
    answer: WayShape | None
    ways: list[WayShape]
    not_taken: list[NotTakenShape]
    tree: list[TraceRowShape]
    problems: list[ProblemShape]
    odd: list[ProblemShape]
    fits: list[str]


@dataclass(frozen=True, slots=True)
class FitShape:
    """That a part fits a position: on which variants and engine numbers, at which grade."""

    family: str
    position: str
    position_name: str
    assembly: str
    part: str
    variants: list[str]
    first: int | None
    last: int | None
    grade: str
    quantity: int
    note: str


@dataclass(frozen=True, slots=True)
class UseShape:
    """A position that a part serves; `way` is how it comes there in place of the part that fits.

    `superseded`: it served it once; `today` is what answers there in its place, null for nothing.
    """

    fit: FitShape
    way: WayShape | None
    superseded: bool
    today: WayShape | None


@dataclass(frozen=True, slots=True)
class SetShape:
    """A set that holds so many of the part."""

    family: str
    set: str
    quantity: int


@dataclass(frozen=True, slots=True)
class NeededWithShape:
    """That the part is bought with the new number of a link, at some positions."""

    family: str
    link: LinkShape
    positions: list[str]


@dataclass(frozen=True, slots=True)
class WhereUsedShape:
    """Every position that a part serves as of a day, the sets that hold it, and its companions."""

    part: str
    name: str
    day: str
    uses: list[UseShape]
    sets: list[SetShape]
    needed_with: list[NeededWithShape]


@dataclass(frozen=True, slots=True)
class ServedShape:
    """A number that fits, and the ways to it on the day, the first of them the answer.

    `on_some_engines` are other answers, each with its conditions, where no engine is named.
    `problems` are loops and contradictions among the links.
    """

    fit: FitShape
    name: str
    ways: list[WayShape]
    on_some_engines: list[WayShape]
    problems: list[ProblemShape]


@dataclass(frozen=True, slots=True)
class FitsShape:
    """What fits a position as of a day."""

    family: str
    edition: str
    position: str
    name: str
    quantity: int
    day: str
    engine_named: bool
    parts: list[ServedShape]


@dataclass(frozen=True, slots=True)
class AttributeShape:
    """One attribute of two parts; `means` is what the difference is at the bench."""

    name: str
    left: str
    right: str
    same: bool
    means: list[str]


@dataclass(frozen=True, slots=True)
class StandsForShape:
    """Whether one part may stand for the other, by the links of a family, as of the day."""

    family: str
    wanted: str
    offered: str
    way: WayShape | None


@dataclass(frozen=True, slots=True)
class CompareShape:
    """Two parts beside each other: their attributes, and whether either may stand for the other.

    `same_size` is agreement in every attribute: to be confirmed at the bench, never taken alone.
    """

    left: str
    left_name: str
    left_kind: str
    right: str
    right_name: str
    right_kind: str
    attributes: list[AttributeShape]
    same_size: bool
    stands_for: list[StandsForShape]
    day: str


def link_shape(link: Link) -> LinkShape:
    """The shape of a link."""
    return LinkShape(
        record=link.record,
        kind=link.kind,
        old=str(link.old),
        old_quantity=link.old_quantity,
        new=str(link.new),
        new_quantity=link.new_quantity,
        conditions=list(condition_words(link)),
        operation=link.operation,
        needs=[str(each) for each in link.needs],
        use_up=link.use_up,
        note=link.note,
        source=link.source,
    )


def way_shape(way: Way) -> WayShape:
    """The shape of a way."""
    return WayShape(
        kind=way.kind,
        current=way.current,
        buy=_counts(way.parts),
        companions=_counts(way.companions),
        operations=list(way.operations),
        conditions=list(way.conditions),
        also_answers=[str(each) for each in way.also_answers],
        because=[_step_shape(step) for step in way.because],
    )


def trace_shape(family: Family, found: Trace) -> TraceShape:
    """The shape of a trace."""
    need = found.need
    return TraceShape(
        part=str(need.part),
        name=_name(family, need.part),
        family=family.key,
        edition=family.edition,
        position=need.position or None,
        variant=need.variant or None,
        engine_number=need.running,
        grade=need.grade or None,
        quantity=need.quantity,
        day=found.day.isoformat(),
        answer=way_shape(found.answer) if found.answer else None,
        ways=[way_shape(way) for way in found.resolution.ways],
        not_taken=[
            NotTakenShape(str(each.part), each.why, link_shape(each.link) if each.link else None)
            for each in found.resolution.not_taken
        ],
        tree=[_row_shape(family, row) for row in found.rows],
        problems=problem_shapes(found.problems),
        odd=problem_shapes(found.odd),
        fits=list(dict.fromkeys(fit.position for fit in family.fits if fit.part == need.part)),
    )


def use_shape(use: Use) -> UseShape:
    """The shape of a use."""
    return UseShape(
        fit=_fit_shape(use.family, use.position, use.fit),
        way=way_shape(use.way) if use.way else None,
        superseded=use.is_old,
        today=way_shape(use.today) if use.today else None,
    )


def needed_shape(each: NeededWith) -> NeededWithShape:
    """The shape of what a part is bought with."""
    return NeededWithShape(each.family.key, link_shape(each.link), list(each.positions))


def served_shape(family: Family, position: Position, each: Served) -> ServedShape:
    """The shape of a number that fits."""
    return ServedShape(
        fit=_fit_shape(family, position, each.fit),
        name=_name(family, each.fit.part),
        ways=[way_shape(way) for way in each.resolution.ways],
        on_some_engines=[way_shape(way) for way in each.on_some],
        problems=problem_shapes(each.problems),
    )


def attribute_shapes(compared: Compared) -> list[AttributeShape]:
    """The shapes of the attributes of two parts."""
    return [
        AttributeShape(line.name, line.left, line.right, line.same, list(line.means))
        for line in compared.lines
    ]


def _row_shape(family: Family, row: TraceRow) -> TraceRowShape:
    return TraceRowShape(
        at=row.at,
        part=str(row.part),
        name=_name(family, row.part),
        parent=row.parent if row.link else None,
        joined=row.joined,
        link=link_shape(row.link) if row.link else None,
        backwards=row.backwards,
        link_holds=not row.why_not,
        why_not=row.why_not,
        circle=row.circle,
        again=row.again if row.is_again else None,
        place=row.place or None,
        not_taken=list(row.not_taken),
    )


def _fit_shape(family: Family, position: Position, fit: Fit) -> FitShape:
    return FitShape(
        family=family.key,
        position=position.key,
        position_name=position.name,
        assembly=position.assembly,
        part=str(fit.part),
        variants=list(fit.variants),
        first=fit.first,
        last=fit.last,
        grade=fit.grade,
        quantity=fit.quantity or position.quantity,
        note=fit.note,
    )


def _step_shape(step: Step) -> StepShape:
    return StepShape(str(step), link_shape(step.link))


def _counts(parts: tuple[tuple[PartNumber, int], ...]) -> list[CountShape]:
    return [CountShape(str(number), count) for number, count in parts]


def _name(family: Family, number: PartNumber) -> str:
    part = family.part_by_number.get(number)
    return part.name if part else ""
