"""Printed regrind tables and the rules that stand beside them; each names its source."""

from dataclasses import dataclass, replace
from itertools import pairwise

import pytest

from kitting.engineering.form_limits import FormLimits
from kitting.engineering.grades import Grade, HalfStep, check_grades
from kitting.engineering.regrind import RegrindRequest, choose_regrind
from kitting.engineering.regrind_group import choose_for_group
from kitting.measure import Quantity
from kitting.measure.journal import StationReading


@dataclass(frozen=True)
class Printed:
    """A printed table: unit, then name and finished band of each grade, standard first."""

    source: str
    unit: str
    rows: tuple[tuple[str, str, str], ...]

    @property
    def grades(self) -> tuple[Grade, ...]:
        return tuple(
            Grade(name, Quantity.of(low, self.unit), Quantity.of(high, self.unit))
            for name, low, high in self.rows
        )


PUMP_MM = Printed(
    "US Army TM 5-4320-302-14, p. 6-149, centre journal",
    "mm",
    (
        ("standard", "59.971", "59.990"),
        ("1st", "59.471", "59.490"),
        ("2nd", "58.971", "58.990"),
        ("3rd", "58.471", "58.490"),
    ),
)
PUMP_ROD = Printed(
    "TM 5-4320-300-14, p. 6-83, rod journal",
    "in",
    (
        ("standard", "2.499", "2.500"),
        (".002", "2.497", "2.498"),
        (".010", "2.489", "2.490"),
        (".020", "2.479", "2.480"),
        (".030", "2.469", "2.470"),
    ),
)
MARINE_MAIN = Printed(
    "TM 55-1930-209-14&P-9-4, sec. B.4, main",
    "in",
    (
        ("standard", "2.9984", "2.9992"),
        (".010", "2.9884", "2.9892"),
        (".020", "2.9784", "2.9792"),
        (".030", "2.9684", "2.9692"),
    ),
)
MARINE_PIN = Printed(
    "TM 55-1930-209-14&P-9-4, sec. B.4, pin",
    "in",
    (
        ("standard", "2.4988", "2.4996"),
        (".010", "2.4888", "2.4896"),
        (".020", "2.4788", "2.4796"),
        (".030", "2.4688", "2.4696"),
    ),
)
LOADER = Printed(
    "TM 5-3805-262-34, p. 4-23, rod journal; standard lower limit from its wear rule",
    "in",
    (
        ("standard", "2.748", "2.749"),
        (".010", "2.738", "2.739"),
        (".020", "2.728", "2.729"),
        (".030", "2.718", "2.719"),
    ),
)
COMPRESSOR = Printed(
    "TM 5-3805-262-34, p. 3-485, compressor",
    "in",
    (
        ("standard", "1.1230", "1.1235"),
        (".010", "1.1130", "1.1135"),
        (".020", "1.1030", "1.1035"),
        (".030", "1.0930", "1.0935"),
    ),
)
VAN_MAIN = Printed(
    "Ford Econoline 7.3 l diesel, 1998, maker's specifications, main journal",
    "in",
    (
        ("standard", "3.1228", "3.1236"),
        (".010", "3.1128", "3.1136"),
        (".020", "3.1028", "3.1036"),
        (".030", "3.0928", "3.0936"),
    ),
)
VAN_PIN = Printed(
    "Ford Econoline 7.3 l diesel, 1998, maker's specifications, rod journal",
    "in",
    (
        ("standard", "2.4980", "2.4990"),
        (".010", "2.488", "2.489"),
        (".020", "2.478", "2.479"),
        (".030", "2.468", "2.469"),
    ),
)
FLAT_FOUR_PIN = Printed(
    "Subaru Impreza 2.5, 2000, maker's specifications, crankpin",
    "mm",
    (
        ("standard", "51.984", "52.000"),
        ("0.03", "51.954", "51.970"),
        ("0.05", "51.934", "51.950"),
        ("0.25", "51.734", "51.750"),
    ),
)
FLAT_FOUR_MAIN = Printed(
    "Subaru Impreza 2.5, 2000, maker's specifications, journal",
    "mm",
    (
        ("standard", "59.992", "60.008"),
        ("0.03", "59.962", "59.978"),
        ("0.05", "59.942", "59.958"),
        ("0.25", "59.742", "59.758"),
    ),
)
TABLES = (
    PUMP_MM,
    PUMP_ROD,
    MARINE_MAIN,
    MARINE_PIN,
    LOADER,
    COMPRESSOR,
    VAN_MAIN,
    VAN_PIN,
    FLAT_FOUR_PIN,
    FLAT_FOUR_MAIN,
)


def request(table: Printed, *values: str, uncertainty: str = "0") -> RegrindRequest:
    nothing = Quantity.of(0, table.unit)
    return RegrindRequest(
        grades=table.grades,
        readings=tuple(
            StationReading("A", str(place), Quantity.of(value, table.unit))
            for place, value in enumerate(values)
        ),
        stock=nothing,
        uncertainty=Quantity.of(uncertainty, table.unit),
        score_depth=nothing,
    )


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.source)
def test_every_printed_table_steps(table: Printed) -> None:
    check_grades(table.grades)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.source)
def test_a_shaft_in_any_printed_band_is_known_for_that_grade(table: Printed) -> None:
    for name, low, high in table.rows:
        assert choose_regrind(request(table, low, high)).present.name == name


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.source)
def test_a_shaft_worn_to_the_top_of_the_next_grade_just_cleans_up_there(table: Printed) -> None:
    for at, after in pairwise(table.rows):
        worn = replace(request(table, at[1], after[2]), present=at[0])
        choice = choose_regrind(worn)
        assert choice.likely is not None
        assert choice.likely.name == after[0]


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.source)
def test_a_shaft_worn_past_the_last_printed_grade_has_none(table: Printed) -> None:
    last = table.grades[-1]
    below = Quantity.of("0.0001", table.unit)
    worn = request(table, *(str((last.finish_max - below).value),) * 2)
    assert choose_regrind(replace(worn, present=table.rows[0][0])).likely is None


@pytest.mark.parametrize(
    ("least", "grade", "case"),
    [
        # worked by hand from the row, stock .001 and no score; even then one-sided
        ("2.7461", ".010", ".010"),
        ("2.7415", ".010", ".020"),
        ("2.7405", ".010", ".020"),
        ("2.7399", ".020", ".020"),
        ("2.7309", ".020", None),
        ("2.7200", ".030", None),
        ("2.7199", None, None),
    ],
)
def test_loader_crank_even_and_one_sided(least: str, grade: str | None, case: str | None) -> None:
    """TM 5-3805-262-34, p. 4-23: bands; the wear is ours."""
    worn = replace(
        request(LOADER, "2.7480", least), present="standard", stock=Quantity.of("0.001", "in")
    )
    choice = choose_regrind(worn)
    assert (choice.likely.name if choice.likely else None) == grade
    assert (choice.worst.name if choice.worst else None) == case


LOADER_STEPS = (HalfStep(".002 shells", "standard", Quantity.of("0.002", "in")),)


@pytest.mark.parametrize(
    ("least", "needed", "shell"),
    [
        ("2.7479", False, ".002 shells"),
        ("2.7460", False, ".002 shells"),
        ("2.7459", True, None),
        ("2.7480", False, None),
    ],
)
def test_loader_crank_takes_002_shells_till_it_is_worn_more(
    least: str, needed: bool, shell: str | None
) -> None:
    """TM 5-3805-262-34, p. 4-23: below 2.748 use .002 shells; worn more than .002, grind."""
    worn = replace(
        request(LOADER, least, least),
        present="standard",
        limits=FormLimits(wear_min=Quantity.of("2.7460", "in")),
        half_steps=LOADER_STEPS,
    )
    choice = choose_regrind(worn)
    assert choice.needed is needed
    assert (choice.not_ground.name if choice.not_ground else None) == shell


@pytest.mark.parametrize(("ovality", "needed"), [("2.7485", False), ("2.7486", True)])
def test_loader_crank_is_ground_for_ovality_over_half_a_thousandth(
    ovality: str, needed: bool
) -> None:
    """TM 5-3805-262-34, p. 4-23: taper, ovality above .0005, grind."""
    worn = replace(
        request(LOADER, "2.7480", ovality),
        limits=FormLimits(Quantity.of("0.0005", "in"), Quantity.of("0.0005", "in")),
    )
    assert choose_regrind(worn).needed is needed


def test_loader_crank_one_journal_ground_means_all_ground() -> None:
    """TM 5-3805-262-34, p. 4-24."""
    good = replace(request(LOADER, "2.7485", "2.7486"), present="standard")
    spoilt = replace(good, score_depth=Quantity.of("0.006", "in"))
    group = choose_for_group([("1", good), ("2", spoilt)])
    assert group.needed
    assert group.likely is not None
    assert group.likely.name == ".020"


TRUCK = Printed(
    "Light truck, maker's universal service manual 1953, D-41 to D-43",
    "in",
    (("standard", "1.9375", "1.9383"), (".010", "1.9275", "1.9283"), (".020", "1.9175", "1.9183")),
)
TRUCK_STEPS = tuple(
    HalfStep(name, grade, Quantity.of(amount, "in"))
    for name, grade, amount in (
        (".001", "standard", "0.001"),
        (".002", "standard", "0.002"),
        (".012", ".010", "0.002"),
    )
)


@pytest.mark.parametrize(
    ("least", "shell"),
    [("1.9370", ".001"), ("1.9365", ".001"), ("1.9360", ".002"), ("1.9265", ".012")],
)
def test_truck_crank_half_steps_for_slight_wear(least: str, shell: str) -> None:
    """Light truck, 1953: .001 and .002 for slightly worn standard cranks, .012 for worn .010."""
    present = "standard" if least > "1.93" else ".010"
    worn = replace(
        request(TRUCK, least, least), present=present, half_steps=TRUCK_STEPS, limits=FormLimits()
    )
    found = choose_regrind(worn).not_ground
    assert found is not None
    assert found.name == shell


def test_pump_crank_half_step_has_a_band_of_its_own_too() -> None:
    """TM 5-4320-300-14: .002 shells take up slight wear on a crank that is not reground."""
    worn = replace(
        request(PUMP_ROD, "2.4975", "2.4978"),
        present="standard",
        half_steps=(HalfStep(".002", "standard", Quantity.of("0.002", "in")),),
    )
    found = choose_regrind(worn).not_ground
    assert found is not None
    assert found.name == ".002"


GENERATOR = "TM 5-6115-465-34, Table 1-1"


@pytest.mark.parametrize(
    ("readings", "reasons"),
    [
        (("2.8734", "2.8740"), []),
        (("2.8704", "2.8724"), []),
        (("2.8703", "2.8723"), ["wear"]),
        (("2.8713", "2.8734"), ["ovality"]),
    ],
)
def test_generator_main_journal_by_its_limits(
    readings: tuple[str, str], reasons: list[str]
) -> None:
    """TM 5-6115-465-34, Table 1-1: 2.8734 to 2.8744, wear .0030, ovality limit .0020."""
    table = Printed(GENERATOR, "in", (("standard", "2.8734", "2.8744"),))
    limits = FormLimits(
        ovality=Quantity.of("0.0020", "in"),
        taper=Quantity.of("0.0015", "in"),
        wear_min=Quantity.of("2.8704", "in"),
    )
    choice = choose_regrind(replace(request(table, *readings), limits=limits))
    assert [reason.split(":")[0] for reason in choice.reasons] == reasons


@pytest.mark.parametrize(
    ("readings", "needed"),
    [(("56.99", "57.00"), False), (("56.989", "56.99"), True), (("56.99", "57.001"), True)],
)
def test_saloon_main_journal_by_its_limits(readings: tuple[str, str], needed: bool) -> None:
    """Saturn S series service manual, 1998: service limit 56.99 mm, taper and out-of-round 0.01."""
    table = Printed("", "mm", (("standard", "56.993", "57.007"), ("0.25", "56.743", "56.757")))
    limits = FormLimits(
        Quantity.of("0.01", "mm"), Quantity.of("0.01", "mm"), Quantity.of("56.99", "mm")
    )
    assert choose_regrind(replace(request(table, *readings), limits=limits)).needed is needed


def test_a_printed_slip_in_millimetres_is_a_unit_that_disagrees() -> None:
    """Ford Econoline 7.3 l, 1998, prints 79.139 mm beside 3.1228 in, which is 79.319."""
    assert Quantity.of("3.1228", "in").to("mm").rounded() == Quantity.of("79.319", "mm")
