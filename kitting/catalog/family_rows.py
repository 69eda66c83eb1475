"""What a row of each of a family's files means."""

from collections.abc import Callable, Mapping

from kitting.catalog import cells
from kitting.catalog.columns import FEATURE_KINDS, LABOUR_ACTIONS, VAT_CATEGORIES
from kitting.catalog.model import (
    Assembly,
    Feature,
    Fit,
    Link,
    LinkKind,
    Part,
    PartNumber,
    Position,
    SetItem,
    Variant,
    Verdict,
)
from kitting.catalog.rows import Row
from kitting.catalog.rules import (
    Consequence,
    Judgement,
    Labour,
    Observation,
    Target,
    Then,
    Weight,
    When,
)
from kitting.catalog.size_tables import Grade, SizeKind, SizeTable
from kitting.measure import Quantity, Unit, unit_named

_NOWHERE = Target("position", "")
_NOTHING = PartNumber("", "")
_NO_ATTRIBUTES: Mapping[str, str] = {}
_FROM_0, _FROM_1 = cells.whole(0), cells.whole(1)
_IF_OUT = (Verdict.RENEW, Verdict.REWORK, Verdict.RECHECK)


def variant(row: Row) -> Variant:
    """A row of variants.csv."""
    return Variant(
        key=row.need("key", cells.key, ""),
        name=row.name("name"),
        prefix=row.text("prefix"),
        first=row.need("first", _FROM_0, 0),
        last=row.need("last", _FROM_0, 0),
        years=row.text("years"),
        note=row.text("note"),
    )


def assembly(row: Row) -> Assembly:
    """A row of assemblies.csv."""
    return Assembly(
        key=row.need("key", cells.key, ""),
        name=row.name("name"),
        sequence=row.need("sequence", _FROM_0, 0),
        stage=row.name("stage"),
        caution=row.text("caution"),
    )


def position(row: Row) -> Position:
    """A row of positions.csv."""
    return Position(
        key=row.need("key", cells.key, ""),
        assembly=row.need("assembly", cells.key, ""),
        sequence=row.need("sequence", _FROM_0, 0),
        name=row.name("name"),
        kind=row.need("kind", cells.kind, ""),
        quantity=row.need("quantity", _FROM_1, 1),
        variants=row.maybe("variants", cells.keys, ()),
        must_look=row.maybe("must_look", cells.mark, False),
        sized_by=row.maybe("sized_by", cells.key, ""),
        matched=row.text("matched"),
        caution=row.text("caution"),
        note=row.text("note"),
    )


def feature(family_unit: Unit) -> Callable[[Row], Feature]:
    """A row of features.csv; without a unit of its own it takes the family's."""

    def make(row: Row) -> Feature:
        unit = row.maybe("unit", unit_named, family_unit)
        figure = cells.figure(unit)
        tells = row.maybe("part_tells", cells.mark, False)
        among = (*_IF_OUT, Verdict.WRONG_PART) if tells else _IF_OUT
        return Feature(
            key=row.need("key", cells.key, ""),
            position=row.need("position", cells.key, ""),
            name=row.name("name"),
            kind=row.need("kind", cells.choice(*FEATURE_KINDS), ""),
            unit=unit,
            low=row.maybe("low", figure, None),
            high=row.maybe("high", figure, None),
            wear_low=row.maybe("wear_low", figure, None),
            wear_high=row.maybe("wear_high", figure, None),
            ovality=row.maybe("ovality", figure, None),
            taper=row.maybe("taper", figure, None),
            size_table=row.maybe("size_table", cells.key, ""),
            stations=row.maybe("stations", cells.words, ()),
            directions=row.maybe("directions", cells.words, ()),
            instrument=row.name("instrument"),
            if_out=row.need("if_out", cells.member(Verdict, among), Verdict.RECHECK),
            operation=row.maybe("operation", cells.key, ""),
            source=row.name("source"),
            part_tells=tells,
            critical=row.maybe("critical", cells.mark, False),
            at_build=row.maybe("at_build", cells.mark, False),
            scores=row.maybe("scores", cells.key, ""),
            goes_with=row.maybe("goes_with", cells.key, ""),
            note=row.text("note"),
        )

    return make


def size_table(family_unit: Unit) -> Callable[[Row], SizeTable]:
    """A row of size_tables.csv, its grades not yet in it."""

    def make(row: Row) -> SizeTable:
        unit = row.maybe("unit", unit_named, family_unit)
        figure = cells.figure(unit)
        return SizeTable(
            key=row.need("key", cells.key, ""),
            name=row.name("name"),
            kind=row.need("kind", cells.member(SizeKind), SizeKind.SHAFT),
            unit=unit,
            together=row.maybe("together", cells.mark, False),
            stock=row.need("stock", figure, Quantity.of(0, unit)),
            operation=row.maybe("operation", cells.key, ""),
            housing_low=row.maybe("housing_low", figure, None),
            housing_high=row.maybe("housing_high", figure, None),
            clearance_low=row.maybe("clearance_low", figure, None),
            clearance_high=row.maybe("clearance_high", figure, None),
            clearance_limit=row.maybe("clearance_limit", figure, None),
            finish_note=row.text("finish_note"),
            source=row.name("source"),
        )

    return make


def grade(units: Mapping[str, Unit], family_unit: Unit) -> Callable[[Row], Grade]:
    """A row of grades.csv, in the unit of its table."""

    def make(row: Row) -> Grade:
        table = row.need("table", cells.key, "")
        figure = cells.figure(units.get(table, family_unit))
        return Grade(
            table=table,
            key=row.need("key", cells.grade_key, ""),
            name=row.name("name"),
            sequence=row.need("sequence", _FROM_0, 0),
            step=row.need("step", figure, Quantity.of(0, family_unit)),
            finish_low=row.maybe("finish_low", figure, None),
            finish_high=row.maybe("finish_high", figure, None),
            worn=row.maybe("worn", figure, None),
            wall_low=row.maybe("wall_low", figure, None),
            wall_high=row.maybe("wall_high", figure, None),
            lined_low=row.maybe("lined_low", figure, None),
            lined_high=row.maybe("lined_high", figure, None),
            clearance_low=row.maybe("clearance_low", figure, None),
            clearance_high=row.maybe("clearance_high", figure, None),
            half_step_of=row.maybe("half_step_of", cells.grade_key, ""),
            takes_up=row.maybe("takes_up", figure, None),
        )

    return make


def observation(row: Row) -> Observation:
    """A row of observations.csv."""
    return Observation(
        key=row.need("key", cells.key, ""),
        name=row.name("name"),
        grades=row.need("grades", cells.words, ()),
        kinds=row.maybe("kinds", cells.kinds, ()),
        question=row.text("question"),
    )


def judgement(row: Row) -> Judgement:
    """A row of judgements.csv."""
    return Judgement(
        key=row.need("key", cells.key, ""),
        observation=row.need("observation", cells.key, ""),
        at_least=row.name("at_least"),
        of=row.need("of", cells.target, _NOWHERE),
        verdict=row.need("verdict", cells.member(Verdict), Verdict.RECHECK),
        operation=row.maybe("operation", cells.key, ""),
        because=row.name("because"),
        source=row.name("source"),
        line=row.line,
    )


def consequence(row: Row) -> Consequence:
    """A row of consequences.csv."""
    return Consequence(
        key=row.need("key", cells.key, ""),
        when=row.need("when", cells.member(When), When.STRIPPED),
        of=row.need("of", cells.target, _NOWHERE),
        observation=row.maybe("observation", cells.key, ""),
        at_least=row.text("at_least"),
        then=row.need("then", cells.member(Then), Then.ADVISE),
        to=row.need("to", cells.target, _NOWHERE),
        operation=row.maybe("operation", cells.key, ""),
        because=row.name("because"),
        source=row.name("source"),
        line=row.line,
        weight=row.maybe("weight", cells.member(Weight), Weight.NEEDED),
    )


def part(row: Row) -> Part:
    """A row of parts.csv."""
    return Part(
        number=row.need("part", cells.part_number, _NOTHING),
        name=row.name("name"),
        kind=row.need("kind", cells.kind, ""),
        attributes=row.maybe("attributes", cells.attributes, _NO_ATTRIBUTES),
        vat=row.maybe("vat", cells.choice(*VAT_CATEGORIES), "S"),
        note=row.text("note"),
    )


def fit(row: Row) -> Fit:
    """A row of fits.csv."""
    return Fit(
        position=row.need("position", cells.key, ""),
        part=row.need("part", cells.part_number, _NOTHING),
        variants=row.maybe("variants", cells.keys, ()),
        first=row.maybe("first", _FROM_0, None),
        last=row.maybe("last", _FROM_0, None),
        grade=row.maybe("grade", cells.grade_key, ""),
        quantity=row.maybe("quantity", _FROM_1, None),
        note=row.text("note"),
    )


def link(row: Row) -> Link:
    """A row of links.csv."""
    return Link(
        record=row.need("record", cells.key, ""),
        kind=row.need("kind", cells.member(LinkKind), LinkKind.SUPERSEDED),
        old=row.need("old", cells.part_number, _NOTHING),
        old_quantity=row.maybe("old_quantity", _FROM_1, 1),
        new=row.need("new", cells.part_number, _NOTHING),
        new_quantity=row.maybe("new_quantity", _FROM_1, 1),
        variants=row.maybe("variants", cells.keys, ()),
        first=row.maybe("first", _FROM_0, None),
        last=row.maybe("last", _FROM_0, None),
        with_grade=row.maybe("with_grade", cells.grade_key, ""),
        since=row.maybe("since", cells.day, None),
        until=row.maybe("until", cells.day, None),
        operation=row.maybe("operation", cells.key, ""),
        needs=row.maybe("needs", cells.part_numbers, ()),
        use_up=row.maybe("use_up", cells.mark, False),
        note=row.text("note"),
        source=row.text("source"),
    )


def set_item(row: Row) -> SetItem:
    """A row of sets.csv."""
    return SetItem(
        set=row.need("set", cells.part_number, _NOTHING),
        part=row.need("part", cells.part_number, _NOTHING),
        quantity=row.need("quantity", _FROM_1, 1),
    )


def labour(row: Row) -> Labour:
    """A row of labour.csv."""
    return Labour(
        action=row.need("action", cells.choice(*LABOUR_ACTIONS), ""),
        of=row.need("of", cells.target, _NOWHERE),
        hours=row.need("hours", cells.hours, cells.decimal("1")),
        note=row.text("note"),
    )
