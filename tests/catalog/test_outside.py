"""What others say of a family's numbers: general words hold, and the family's own come first."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from kitting.catalog.family import Family
from kitting.catalog.model import Link, LinkKind
from kitting.catalog.outside import Outside, is_general, merged, once, widened
from tests.builders import a_link, a_part, number
from tests.wren import tiny_family

WREN = tiny_family()
SUPERSEDED = LinkKind.SUPERSEDED
GASKET = a_link("x: 1", SUPERSEDED, "hob:W310", "new:G77")


def records(links: tuple[Link, ...]) -> list[str]:
    return [link.record for link in links if link not in WREN.links]


@pytest.mark.parametrize(
    "asks", [{"variants": ("mark-2",)}, {"first": 3}, {"last": 900}, {"with_grade": "-010"}]
)
def test_a_link_that_asks_for_an_engine_or_a_grade_holds_in_its_own_family_only(
    asks: dict[str, Any],
) -> None:
    narrow = replace(GASKET, **asks)
    assert not is_general(narrow)
    assert records(merged(WREN.links, [narrow])) == []
    assert records(merged(WREN.links, [GASKET])) == ["x: 1"]


def test_the_familys_own_word_on_a_supersession_comes_first() -> None:
    other = a_link("x: 2", SUPERSEDED, "hob:W100", "new:S1")
    either = a_link("x: 3", LinkKind.EITHER_WAY, "hob:W100", "new:S1")
    assert records(merged(WREN.links, [other, either])) == ["x: 3"]


def test_what_is_said_twice_counts_once_the_first() -> None:
    again = replace(GASKET, record="y: 9", since=date(2024, 1, 1), note="from a list")
    assert once([GASKET, again]) == (GASKET,)
    assert once([GASKET, replace(again, new_quantity=2)])[1:] != ()
    same = replace(WREN.links[1], record="z: 4")
    assert records(merged(WREN.links, [GASKET, again, same])) == ["x: 1"]


def chained(*pairs: tuple[str, str]) -> Family:
    links = tuple(a_link(f"x: {at}", SUPERSEDED, *pair) for at, pair in enumerate(pairs))
    return widened(WREN, Outside(links, (a_part("owl:N9", "nut", {"height": "0.3 in"}),)))


def test_a_number_that_nobody_describes_is_taken_to_be_what_it_stands_for() -> None:
    family = chained(("new:G77", "new:G78"), ("hob:W310", "new:G77"), ("hob:W320", "owl:N9"))
    assert [str(part.number) for part in family.parts[len(WREN.parts) :]] == [
        "new:G77", "new:G78", "owl:N9"
    ]  # fmt: skip
    last = family.part_by_number[number("new:G78")]
    gasket = WREN.part_by_number[number("hob:W310")]
    assert (last.name, last.kind, last.vat) == (gasket.name, gasket.kind, gasket.vat)
    assert family.part_by_number[number("owl:N9")].attributes == {"height": "0.3 in"}


def test_a_companion_that_nobody_describes_goes_by_its_number() -> None:
    link = replace(GASKET, needs=(number("new:K1"),))
    family = widened(WREN, Outside((link,)))
    assert family.part_by_number[number("new:K1")].name == "part K1"


def test_a_chain_that_never_touches_the_family_brings_no_parts() -> None:
    assert chained(("old:A", "old:B")).parts == WREN.parts


def test_without_a_word_from_others_the_family_is_the_same_value() -> None:
    assert widened(WREN, Outside()) is WREN
