"""Whether what a supplier offers instead serves where it must go, and how many of it do."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from kitting.buying.substitutes import Serves, effect_on_fit, measure_of, part_named
from kitting.catalog.files import read_family
from kitting.catalog.model import LinkKind, PartNumber
from kitting.catalog.shipped import shipped_folder
from tests.builders import a_link, an_offer, number
from tests.buying.orders import a_line
from tests.job.benches import JOB
from tests.wren import tiny_family

WREN = tiny_family()
DAY = date(2024, 5, 2)


def effect(position: str, part: str, grade: str = "") -> tuple[Serves, str]:
    (need,) = a_line("hob:W1", 1, "1", positions=(position,), grade=grade).needed_by
    found = effect_on_fit(WREN, JOB, need, number("hob:W1"), number(part), DAY)
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
    assert (
        effect_on_fit(WREN, JOB, need, number("hob:W1"), number("hob:W205"), DAY).serves
        is Serves.NO
    )


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


@pytest.mark.parametrize(
    ("ordered", "part", "positions", "measure"),
    [
        ("hob:W205", "dal:R205", ("relief-spring",), 3),
        ("dal:R205", "hob:W205", ("relief-spring",), Fraction(1, 3)),
        ("hob:W205", "hob:W310", ("relief-spring",), None),
        ("hob:W205", "dal:R205", ("relief-spring", "head-gasket"), 3),
        ("hob:W320", "dal:R320", ("barrel-nuts",), 1),
        ("hob:W320", "dal:R320", ("no such place",), None),
    ],
)
def test_the_resolver_says_how_many_of_another_number_do_for_one(
    ordered: str, part: str, positions: tuple[str, ...], measure: Fraction | None
) -> None:
    """Three of another maker's springs go in for one."""
    three = a_link("springs", LinkKind.EITHER_WAY, "hob:W205", "dal:R205", new_quantity=3)
    links = tuple(three if link.record == "springs" else link for link in WREN.links)
    (need,) = a_line(ordered, 1, "1", positions=positions).needed_by
    family = replace(WREN, links=links)
    assert measure_of(family, JOB, need, number(ordered), number(part), DAY) == measure


def test_what_was_ordered_by_another_measure_is_counted_by_what_the_kit_asked_for() -> None:
    """A box that nobody's catalogue row names alone was ordered, four springs in each."""
    (need,) = a_line("hob:W9", 1, "1", positions=("relief-spring",)).needed_by
    need = replace(need, stands_for=number("hob:W205"), per=1, makes=4)
    found = measure_of(WREN, JOB, need, number("hob:W9"), number("dal:R205"), DAY)
    assert found == 4


def asked_and_offered(position: str, asked: str, offered: str, of: str = "") -> Serves:
    """What a number is where another was asked for; in the Wren, or in a shipped family."""
    family = read_family(shipped_folder() / of) if of else WREN
    job = replace(JOB, variant=family.variants[0].key, engine_number="") if of else JOB
    (need,) = a_line(asked, 1, "1", positions=(position,)).needed_by
    need = replace(need, stands_for=number(asked))
    return effect_on_fit(family, job, need, number(asked), number(offered), DAY).serves


@pytest.mark.parametrize(
    ("of", "position", "asked", "other"),
    [
        ("corvane-650", "crank-shims", "cor:C61-1030/003", "cor:C61-1030/010"),
        ("tarnwick-s45", "thrust-ring", "tar:4570-014", "tar:4570-014/20"),
    ],
)
def test_a_shim_or_a_washer_that_no_float_asked_for_does_not_serve(
    of: str, position: str, asked: str, other: str
) -> None:
    assert asked_and_offered(position, asked, other, of) is Serves.NO
    assert asked_and_offered(position, asked, asked, of) is Serves.YES


def test_a_shim_of_another_thickness_is_refused_with_the_float_for_its_reason() -> None:
    family = read_family(shipped_folder() / "corvane-650")
    job = replace(JOB, variant=family.variants[0].key, engine_number="")
    line = a_line("cor:C61-1030/003", 1, "1", positions=("crank-shims",))
    asked, other = number("cor:C61-1030/003"), number("cor:C61-1030/010")
    found = effect_on_fit(family, job, line.needed_by[0], asked, other, DAY)
    assert "an end float chose cor:C61-1030/003 there" in found.sentence


def test_a_place_that_the_engine_has_not_is_told() -> None:
    (need,) = a_line("hob:W205", 1, "1", positions=("no such place",)).needed_by
    found = effect_on_fit(WREN, JOB, need, number("hob:W205"), number("dal:R205"), DAY)
    assert found.serves is Serves.UNKNOWN


def test_what_goes_in_beside_another_is_not_replaced_by_that_other() -> None:
    """The stud must come with the nut; a nut is no stud."""
    assert asked_and_offered("barrel-nuts", "hob:W321", "hob:W320") is Serves.NO
    assert asked_and_offered("barrel-nuts", "hob:W320", "dal:R320") is Serves.YES
