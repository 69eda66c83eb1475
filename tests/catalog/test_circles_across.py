"""Circles of supersessions that families close between them, though none has them alone."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from kitting.catalog.check import check_catalogue
from kitting.catalog.circles_across import Said, circles_across
from kitting.catalog.model import Link, LinkKind
from kitting.catalog.writing import write_family
from tests.builders import a_link, number
from tests.wren import tiny_family

WREN = tiny_family()
NAMES = "ABCDEFGHJ"


def says(family: str, record: str, old: str, new: str) -> Said:
    """A supersession by a family."""
    link = a_link(record, LinkKind.SUPERSEDED, f"hob:{old}", f"hob:{new}")
    return Said(family, link)


def only_for(said: Said, variant: str) -> Said:
    """The same, of one variant of its family only."""
    return replace(said, link=replace(said.link, variants=(variant,)))


RING = (says("owl", "r1", "B", "C"), says("owl", "r2", "C", "A"), says("wren", "s1", "A", "B"))


def test_a_circle_is_told_once_from_its_least_number_with_whose_each_step_is() -> None:
    (circle,) = circles_across(RING)
    assert circle.chain == "hob:A → hob:B → hob:C → hob:A"
    assert (
        circle.whose == "hob:A to hob:B by wren (record s1); hob:B to hob:A by owl (records r1, r2)"
    )


def test_a_step_of_one_variant_is_followed_by_its_own_family_only() -> None:
    *owls, wren = RING
    assert [c.whose for c in circles_across((*owls, only_for(wren, "mark-1")))] == [
        c.whose for c in circles_across(RING)
    ]
    of_both = (only_for(owls[0], "red"), owls[1], only_for(wren, "mark-1"))
    assert circles_across(of_both) == ()


def test_a_circle_that_one_family_has_alone_is_not_told_here() -> None:
    alone = (says("owl", "r1", "A", "B"), says("owl", "r2", "B", "A"), says("wren", "s1", "A", "D"))
    assert circles_across(alone) == ()


@given(st.lists(st.tuples(st.sampled_from(NAMES), st.sampled_from("xyz")), min_size=9, max_size=9))
def test_every_circle_of_several_families_is_told_and_nothing_else(
    successors: list[tuple[str, str]],
) -> None:
    said = [
        says(family, f"r{old}", old, new)
        for old, (new, family) in zip(NAMES, successors, strict=True)
        if old != new
    ]
    graph = nx.DiGraph((each.link.old, each.link.new) for each in said)
    owner = {each.link.old: each.family for each in said}
    expected = {
        frozenset(circle)
        for circle in nx.simple_cycles(graph)
        if len({owner[each] for each in circle}) > 1
    }
    found = circles_across(said)
    assert {frozenset(circle.numbers) for circle in found} == expected
    assert len(found) == len(expected)


def test_a_catalogue_whose_families_close_a_circle_is_not_sound(
    wren_folder: Path, trade_folder: Path, changed: Callable[[Path, str, str], Path]
) -> None:
    assert trade_folder.is_dir()

    def supersedes(old: str, new: str) -> tuple[Link, ...]:
        return (a_link("ring", LinkKind.SUPERSEDED, old, new),)

    nut, stud = "hob:W310", "hob:W100"
    assert {number(nut), number(stud)} <= set(WREN.part_by_number)
    write_family(replace(WREN, links=supersedes(nut, stud)), wren_folder)
    owl = replace(WREN, key="owl-twin", name="Owl twin", links=supersedes(stud, nut))
    write_family(owl, wren_folder.parent / owl.key)
    (told,) = [
        each for each in check_catalogue(wren_folder.parent).faults if "circle" in each.wrong
    ]
    assert str(told) == (
        "owl-twin/links.csv line 2, column new: supersessions in a circle: "
        "hob:W100 → hob:W310 → hob:W100; hob:W100 to hob:W310 by owl-twin (record ring); "
        "hob:W310 to hob:W100 by wren-single (record ring); one of them must go"
    )
