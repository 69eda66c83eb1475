"""The numbers that may be bought in the place of what was ordered, and how many of each."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from kitting.buying.orders import OrderLine
from kitting.buying.other_numbers import OtherNumber, barred_for, numbers_for
from kitting.catalog.family import Family
from kitting.catalog.model import LinkKind
from kitting.catalog.trade import Quality
from tests.builders import a_link
from tests.buying.orders import a_line
from tests.job.benches import JOB
from tests.wren import tiny_family

DAY = date(2024, 5, 2)
WREN = tiny_family()


def others(line: OrderLine, family: Family = WREN) -> dict[str, Fraction]:
    own, *found = numbers_for(line, {JOB.number: family}, [JOB], DAY)
    assert own == OtherNumber(line.part)
    return {str(each.part): each.measure for each in found}


def a_need(part: str, *positions: str, grade: str = "", in_set: bool = False) -> OrderLine:
    return a_line(part, 1, "1", positions=positions, grade=grade, job=JOB.number, in_set=in_set)


def test_an_interchange_does_and_three_of_it_for_one_where_the_link_says_so() -> None:
    assert others(a_need("hob:W205", "relief-spring")) == {"dal:R205": 1, "hob:W206": 1}
    three = a_link("springs", LinkKind.EITHER_WAY, "hob:W205", "dal:R205", new_quantity=3)
    links = tuple(three if link.record == "springs" else link for link in WREN.links)
    found = others(a_need("hob:W205", "relief-spring"), replace(WREN, links=links))
    assert found["dal:R205"] == 3
    assert OtherNumber(a_need("dal:R205", "x").part, Fraction(3, 2)).pieces(3) == 5


@pytest.mark.parametrize(
    "line",
    [
        a_need("hob:W320", "barrel-nuts"),  # the stud must be bought with the other nut
        a_need("hob:W201", "oil-pump"),  # the other pump takes work
        a_need("hob:W205", "relief-spring", "head-gasket"),  # it serves in one of the two alone
        a_need("hob:W205", "relief-spring", in_set=True),
    ],
)
def test_what_needs_more_than_itself_or_serves_in_part_of_the_places_is_none(
    line: OrderLine,
) -> None:
    assert others(line) == {}


def test_shells_of_another_maker_are_none_as_they_must_match() -> None:
    alike = a_link("shells-alike", LinkKind.EITHER_WAY, "hob:W101", "dal:R101")
    parts = (
        *WREN.parts,
        replace(
            WREN.part_by_number[a_need("hob:W101", "x").part], number=a_need("dal:R101", "x").part
        ),
    )
    family = replace(WREN, links=(*WREN.links, alike), parts=parts)
    assert others(a_need("hob:W101", "shells", grade="std"), family) == {}
    positions = tuple(replace(each, matched="") for each in WREN.positions)
    loose = replace(family, positions=positions)
    assert others(a_need("hob:W101", "shells", grade="std"), loose) == {"dal:R101": 1}


def test_nothing_used_is_bought_for_a_critical_place() -> None:
    critical = tuple(replace(each, critical=True) for each in WREN.features)
    family = replace(WREN, features=critical)
    line = a_need("hob:W320", "barrel-nuts")
    assert barred_for(line, {JOB.number: family}) == {Quality.USED}
    assert barred_for(line, {}) == frozenset()
