"""Whether what a supplier offers instead serves where it must go."""

from datetime import date

import pytest

from kitting.buying.substitutes import Serves, effect_on_fit, part_named
from kitting.catalog.model import PartNumber
from tests.builders import an_offer, number
from tests.buying.orders import a_line
from tests.job.benches import JOB
from tests.wren import tiny_family

WREN = tiny_family()
DAY = date(2024, 5, 2)


def effect(position: str, part: str, grade: str = "") -> tuple[Serves, str]:
    (need,) = a_line("hob:W1", 1, "1", positions=(position,), grade=grade).needed_by
    found = effect_on_fit(WREN, JOB, need, number(part), DAY)
    return found.serves, "; ".join(found.because)


@pytest.mark.parametrize(
    ("position", "part", "grade", "serves", "because"),
    [
        ("relief-spring", "hob:W205", "", Serves.YES, "it is a part for relief spring"),
        ("relief-spring", "dal:R205", "", Serves.YES, "dal:R205 may stand for hob:W205, either"),
        ("relief-spring", "hob:W206", "", Serves.YES, "not the reverse"),
        ("shells", "hob:W101", "std", Serves.YES, "hob:W100 is superseded by hob:W101"),
        ("shells", "hob:W120", "-010", Serves.NO, "it is of grade -020, and -010 is wanted"),
        ("oil-pump", "hob:W202", "", Serves.WITH_WORK, "it takes work: line-ream"),
        ("barrel-nuts", "dal:R320", "", Serves.YES, "hob:W321 must come with it"),
        ("relief-spring", "hob:W310", "", Serves.NO, "the catalogue knows no way"),
        ("relief-spring", "hob:NONE", "", Serves.UNKNOWN, "compare it with the drawing"),
    ],
)
def test_the_resolver_says_what_a_substitute_is_to_a_position(
    position: str, part: str, grade: str, serves: Serves, because: str
) -> None:
    found, says = effect(position, part, grade)
    assert found is serves
    assert because in says


def test_the_worst_of_several_positions_holds() -> None:
    (need,) = a_line("hob:W1", 1, "1", positions=("relief-spring", "head-gasket")).needed_by
    assert effect_on_fit(WREN, JOB, need, number("hob:W205"), DAY).serves is Serves.NO


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("AW205", "hob:W205"),
        ("a w-205", "hob:W205"),
        ("W206", "hob:W206"),
        ("dal:R205", "dal:R205"),
        ("r 205", "dal:R205"),
        ("W20", None),
        ("spring", None),
    ],
)
def test_a_suppliers_text_is_his_own_number_first_then_a_makers(
    typed: str, found: str | None
) -> None:
    offers = [an_offer("ashby", "hob:W205", "9.75"), an_offer("brook", "hob:W206", "9.75")]
    named: PartNumber | None = part_named(typed, "ashby", WREN, offers)
    assert named == (number(found) if found else None)
