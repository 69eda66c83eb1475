"""From a part to the positions it serves, and from a position to what fits it today."""

from dataclasses import replace
from datetime import date

from kitting.catalog.family import Family
from kitting.catalog.model import LinkKind
from kitting.catalog.where_used import served, sets_with, uses, way_between
from tests.builders import A_DAY, a_fit, a_link, a_part, number
from tests.wren import tiny_family

WREN = tiny_family()


def used(part: str, family: Family = WREN, day: date = A_DAY) -> dict[str, str]:
    """By position: the number that the parts list names there, '' for the part itself."""
    found = uses(family, number(part), day)
    return {use.position.key: str(use.fit.part) if use.way else "" for use in found}


def test_a_part_is_used_where_it_fits() -> None:
    assert used("hob:W150") == {"tab-washer": ""}


def test_a_successor_is_used_where_the_number_it_answers_is_named() -> None:
    assert used("hob:W101") == {"shells": "hob:W100"}
    assert used("hob:W101", day=date(1960, 1, 1)) == {}


def test_an_interchange_is_used_where_the_other_number_is_named() -> None:
    assert used("dal:R205") == {"relief-spring": "hob:W205"}


def test_a_link_for_one_variant_is_followed_on_that_variant() -> None:
    assert used("hob:W206") == {"relief-spring": "hob:W205"}
    (use,) = uses(WREN, number("hob:W206"), A_DAY)
    assert use.way is not None
    assert use.way.conditions == ("only on mark-2",)


def test_a_link_from_one_engine_number_on_is_followed_from_there() -> None:
    late = a_link("late", LinkKind.SUPERSEDED, "hob:W150", "hob:W151", first=700)
    family = replace(
        WREN, links=(*WREN.links, late), parts=(*WREN.parts, a_part("hob:W151", "tab-washer"))
    )
    assert used("hob:W151", family) == {"tab-washer": "hob:W150"}


def test_a_number_never_serves_where_only_a_newer_one_is_named() -> None:
    newer = replace(WREN, fits=(*WREN.fits[1:], a_fit("shells", "hob:W101", "std", 1)))
    assert used("hob:W100", newer) == {}


def test_the_sets_that_hold_a_part() -> None:
    assert [str(item.set) for item in sets_with(WREN, number("hob:W310"))] == ["hob:W900"]
    assert sets_with(WREN, number("hob:W100")) == ()


def test_what_fits_a_position_is_answered_as_of_a_day_at_each_rows_own_grade() -> None:
    shells = WREN.position_by_key["shells"]
    answers = {
        str(each.fit.part): str(each.resolution.ways[0].parts[0][0])
        for each in served(WREN, shells, A_DAY)
    }
    assert answers == {
        "hob:W100": "hob:W101",
        "hob:W102": "hob:W102",
        "hob:W110": "hob:W110",
        "hob:W120": "hob:W120",
    }


def test_what_fits_one_engine_leaves_out_what_fits_others() -> None:
    early = replace(a_fit("tab-washer", "hob:W140"), variants=("mark-2",), last=600)
    other = replace(a_fit("tab-washer", "hob:W131"), variants=("mark-1",))
    family = replace(WREN, fits=(*WREN.fits, early, other))
    place = family.position_by_key["tab-washer"]

    def fitting(variant: str = "", running: int | None = None) -> list[str]:
        found = served(family, place, A_DAY, variant, running)
        assert all(each.resolution.ways for each in found)
        return [each.fit.part.number for each in found]

    assert fitting() == ["W150", "W140", "W131"]
    assert fitting("mark-2", 550) == ["W150", "W140"]
    assert fitting("mark-2", 700) == ["W150"]


def test_one_number_stands_for_another_as_the_links_say_and_not_the_reverse() -> None:
    def kind(wanted: str, offered: str) -> str:
        way = way_between(WREN, number(wanted), number(offered), A_DAY)
        return str(way.kind) if way else ""

    assert kind("hob:W205", "dal:R205") == kind("dal:R205", "hob:W205") != ""
    assert (kind("hob:W205", "hob:W206"), kind("hob:W206", "hob:W205")) == (
        "interchange one way",
        "",
    )
    assert kind("hob:W320", "dal:R320") == "interchange as a full set"
    assert kind("hob:W200", "hob:W202") == "interchange with work"
    assert kind("hob:W200", "hob:W205") == ""
