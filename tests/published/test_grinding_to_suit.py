"""The job's own sizes stage against printed tables: housing, shells and clearance give the journal.

Pump-set engine, TM 5-4320-302-14, pp. 6-149 (centre journal, bearing bore, clearance) and 6-181
(shell walls), in millimetres. The housing is what bearing bore and walls come to.
"""

from dataclasses import replace

import pytest

from kitting.catalog.model import Verdict
from kitting.catalog.size_tables import SizeKind
from kitting.engineering.band import Band
from kitting.job.findings import Reading
from kitting.job.targets import FinishTarget, RestsOn
from tests.builders import a_feature, a_grade, a_table, q
from tests.job.benches import a_finding
from tests.job.fitting_bench import FAMILY, sizes

# grade, step, journal as finished, wall
TABLE = (
    ("standard", "0", ("59.971", "59.990"), ("2.973", "2.985")),
    ("first", "0.5", ("59.471", "59.490"), ("3.223", "3.235")),
    ("second", "1.0", ("58.971", "58.990"), ("3.473", "3.485")),
    ("third", "1.5", ("58.471", "58.490"), ("3.723", "3.735")),
)
HOUSING, CLEARANCE = ("66.010", "66.029"), ("0.050", "0.112")


def ground_at(worn_to: str, eye: tuple[str, ...] = ()) -> FinishTarget:
    """The target for a journal that is worn to that in one place; rod eyes as bolted up."""
    grades = tuple(
        a_grade("centre", key, at, step, finish, wall, clearance=CLEARANCE, unit="mm")
        for at, (key, step, finish, wall) in enumerate(TABLE)
    )
    table = a_table(
        "centre",
        SizeKind.SHAFT,
        grades,
        housing=HOUSING,
        clearance=(*CLEARANCE, "0.300"),
        unit="mm",
        stock="0.02",
        operation="regrind",
    )
    journal = replace(
        a_feature("centre", "crank", "diameter", form=("0.07", "0.07"), unit="mm"),
        size_table="centre",
        if_out=Verdict.REWORK,
        operation="regrind",
    )
    hole = a_feature("hole-66", "case", "bore", HOUSING, unit="mm", goes_with="centre")
    family = replace(
        FAMILY,
        size_tables=(*FAMILY.size_tables, table),
        features=(*FAMILY.features, journal, hole),
    )
    places = (("59.975", "0"), (worn_to, "90"))
    readings = (read_at("centre", text, direction) for text, direction in places)
    bolted = (read_at("hole-66", text) for text in eye)
    found = sizes(a_finding("crank", *readings), a_finding("case", *bolted), family=family)
    return found.targets_of("centre")[0]


def read_at(feature: str, text: str, direction: str = "") -> Reading:
    return Reading(feature, "middle", direction, text, q(text, "mm"))


@pytest.mark.parametrize(
    ("worn_to", "grade", "low", "high"),
    [
        ("59.800", "first", "59.471", "59.490"),
        ("59.450", "second", "58.971", "58.990"),
        ("58.900", "third", "58.471", "58.490"),
    ],
)
def test_the_printed_journal_follows_from_housing_shells_and_clearance(
    worn_to: str, grade: str, low: str, high: str
) -> None:
    found = ground_at(worn_to)
    assert found.grade.key == grade
    assert found.rests_on is RestsOn.DRAWING
    assert (found.band.low, found.band.high) == (q(low, "mm"), q(high, "mm"))
    assert found.gives == Band(q("0.050", "mm"), q("0.112", "mm"))


def test_a_housing_measured_large_moves_the_printed_band_up() -> None:
    """Eye 66.029 ± .0051: lined 59.5539 to 59.5881, less .112 and .050: 59.477 to 59.503."""
    found = ground_at("59.800", ("66.029",))
    assert found.rests_on is RestsOn.PARTLY
    assert (found.band.low, found.band.high) == (q("59.477", "mm"), q("59.503", "mm"))
