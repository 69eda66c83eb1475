"""From a part to the positions it serves, and from a position to what fits it today."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

from kitting.catalog.family import Family
from kitting.catalog.model import Link, LinkKind
from kitting.catalog.where_used import needed_with, served, sets_with, uses, way_between
from tests.builders import A_DAY, a_fit, a_link, a_part, number
from tests.wren import tiny_family

WREN = tiny_family()


def used(part: str, family: Family = WREN, day: date = A_DAY) -> dict[str, str]:
    """By position: the number that the parts list names there, '' for the part itself."""
    found = uses(family, number(part), day)
    return {
        use.position.key: str(use.fit.part) if use.way else "" for use in found if not use.is_old
    }


def old(part: str, family: Family = WREN, day: date = A_DAY) -> dict[str, str]:
    """By position: what answers today where the part itself is an old number."""
    return {
        use.position.key: str(use.today.parts[0][0]) if use.today else "nothing"
        for use in uses(family, number(part), day)
        if use.is_old
    }


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


def with_links(*links: Link) -> Family:
    """The Wren with links of their own about its shells, and their numbers in the parts list."""
    ends = {end for link in links for end in (link.old, link.new, *link.needs)}
    new = sorted(ends - WREN.part_by_number.keys())
    return replace(WREN, links=links, parts=(*WREN.parts, *(a_part(str(n), "nut") for n in new)))


CHAIN = with_links(
    *(
        a_link(f"c{at}", LinkKind.SUPERSEDED, f"hob:{old}", f"hob:{new}")
        for at, (old, new) in enumerate(pairwise(("W000", "W150", "W151", "W152", "W153")))
    )
)


def test_an_old_number_is_told_with_what_answers_in_its_place_today() -> None:
    for each in ("hob:W000", "hob:W150", "hob:W151", "hob:W152"):
        assert old(each, CHAIN) == {"tab-washer": "hob:W153"}, each
        assert used(each, CHAIN) == {}
    assert used("hob:W153", CHAIN) == {"tab-washer": "hob:W150"}
    assert old("hob:W153", CHAIN) == {}


def test_a_number_whose_supersession_ends_in_a_circle_is_answered_by_nothing() -> None:
    ring = with_links(
        a_link("c1", LinkKind.SUPERSEDED, "hob:W150", "hob:W151"),
        a_link("c2", LinkKind.SUPERSEDED, "hob:W151", "hob:W150"),
    )
    assert old("hob:W150", ring) == {"tab-washer": "nothing"}


def test_a_companion_is_told_with_what_it_is_bought_with_and_where() -> None:
    link = a_link("w", LinkKind.WITH_WORK, "hob:W150", "hob:W151", operation="ream")
    family = with_links(replace(link, needs=(number("hob:W888"),)))
    (needed,) = needed_with(family, number("hob:W888"), A_DAY)
    assert (str(needed.link.new), needed.positions) == ("hob:W151", ("tab-washer",))
    assert needed_with(family, number("hob:W151"), A_DAY) == ()


def test_without_an_engine_what_answers_on_some_engines_stands_beside_with_its_condition() -> None:
    family = with_links(
        a_link("e2", LinkKind.SUPERSEDED, "hob:W150", "hob:W151", variants=("mark-2",), last=699),
        a_link("e3", LinkKind.SUPERSEDED, "hob:W150", "hob:W152", variants=("mark-2",), first=700),
    )
    place = family.position_by_key["tab-washer"]
    (answer,) = served(family, place, A_DAY)
    assert answer.resolution.best is not None
    assert [str(part) for part, _ in answer.resolution.best.parts] == ["hob:W150"]
    beside = {str(way.parts[0][0]): way.conditions for way in answer.on_some}
    assert beside == {
        "hob:W151": ("only on mark-2", "only engines the first to 699"),
        "hob:W152": ("only on mark-2", "only engines 700 to the last"),
    }
    (late,) = served(family, place, A_DAY, "mark-2", 800)
    assert late.on_some == ()


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
