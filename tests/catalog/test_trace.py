"""The tree about a part: every number and every link in it once, and why each is taken or not."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import networkx as nx
from hypothesis import example, given, settings
from hypothesis import strategies as st

from kitting.catalog.model import Link, LinkKind
from kitting.catalog.trace import Trace, trace
from kitting.catalog.ways import Need, Subgraph
from tests.builders import A_DAY, a_link, number
from tests.catalog.test_resolver_laws import links_of, needs

A, B, C, D = (f"hob:N{letter}" for letter in "ABCD")
SUPERSEDED = LinkKind.SUPERSEDED


def traced(part: str, *links: Link, day: date = A_DAY, variant: str = "") -> Trace:
    need = Need(number(part), whole=True)
    return trace(replace(need, variant=variant), Subgraph(links), day)


def rows(found: Trace) -> dict[str, str]:
    """By number: its place among the ways, or why it is not taken."""
    return {
        row.part.number: str(row.place) if row.place else "; ".join(row.not_taken)
        for row in found.rows
        if not row.is_again
    }


def test_a_chain_says_of_each_number_what_answers_it() -> None:
    found = traced(A, a_link("r1", SUPERSEDED, A, B), a_link("r2", SUPERSEDED, B, C))
    assert rows(found) == {"NA": f"superseded by {B}", "NB": f"superseded by {C}", "NC": "1"}
    assert [row.joined for row in found.rows] == ["", "is superseded by", "is superseded by"]


def test_an_older_number_is_shown_and_never_taken() -> None:
    found = traced(B, a_link("r1", SUPERSEDED, A, B))
    assert rows(found) == {"NB": "1", "NA": f"an older number: {B} answers for it, not the reverse"}
    assert found.rows[1].joined == "supersedes"


def test_a_one_way_interchange_says_which_way() -> None:
    found = traced(B, a_link("r1", LinkKind.ONE_WAY, A, B))
    assert rows(found)["NA"] == f"one way only: {B} may stand for {A}, not the reverse"
    assert rows(traced(A, a_link("r1", LinkKind.ONE_WAY, A, B))) == {"NA": "1", "NB": "2"}


def test_a_link_that_does_not_hold_is_shown_with_its_condition() -> None:
    found = traced(A, a_link("r1", SUPERSEDED, A, B, since=date(2030, 1, 1)))
    assert found.rows[1].why_not == "only from 2030-01-01"
    assert rows(found) == {"NA": "1", "NB": "only from 2030-01-01"}


def test_what_lies_beyond_a_link_that_does_not_hold_says_by_way_of_what() -> None:
    links = (
        a_link("r1", SUPERSEDED, A, B, since=date(2030, 1, 1)),
        a_link("r2", LinkKind.EITHER_WAY, B, C),
    )
    assert rows(traced(A, *links))["NC"] == f"only by way of {B}, and the way does not lead there"


def test_a_loop_of_nine_is_shown_with_its_whole_chain_and_no_number_of_it_taken() -> None:
    names = [f"hob:L{at}" for at in range(9)]
    links = [a_link(f"r{at}", SUPERSEDED, *pair) for at, pair in enumerate(pairwise(names))]
    links.append(a_link("back", SUPERSEDED, names[-1], names[0]))
    for start in names:
        found = traced(start, *links)
        assert found.answer is None
        (problem,) = found.problems
        assert problem.wrong.endswith(" → ".join((*names, names[0])))
        assert [row.circle for row in found.rows[1:]] == [True] * 9
        assert not any(row.place for row in found.rows)


def test_a_loop_among_older_numbers_is_told_too() -> None:
    links = (
        a_link("r1", SUPERSEDED, A, B),
        a_link("r2", SUPERSEDED, B, A, variants=("mark-1",)),
        a_link("r3", LinkKind.ONE_WAY, B, C),
    )
    found = traced(C, *links, variant="mark-1")
    assert found.answer is not None
    assert [problem.place for problem in found.problems] == [A]


def test_two_changes_of_one_number_are_told_with_both() -> None:
    found = traced(A, a_link("r1", SUPERSEDED, A, B), a_link("r2", SUPERSEDED, A, C))
    assert "(r1)" in found.problems[0].wrong
    assert "(r2)" in found.problems[0].wrong
    said = f"two changes supersede {A} at once, and neither is followed"
    assert (rows(found)["NB"], rows(found)["NC"]) == (said, said)


def test_a_number_reached_twice_stands_once_and_is_pointed_at() -> None:
    links = (
        a_link("r1", LinkKind.EITHER_WAY, A, B),
        a_link("r2", LinkKind.EITHER_WAY, A, C),
        a_link("r3", LinkKind.EITHER_WAY, B, C),
    )
    found = traced(A, *links)
    (again,) = [row for row in found.rows if row.is_again]
    assert found.rows[again.again].part == again.part
    assert not found.rows[again.again].is_again


@settings(max_examples=300, deadline=None)
@given(links_of(), needs)
def test_every_number_and_link_about_a_part_stands_in_its_tree_once(
    links: list[Link], need: Need
) -> None:
    found = trace(need, Subgraph(tuple(links)), A_DAY)
    joined = nx.MultiGraph()
    joined.add_node(need.part)
    joined.add_edges_from((link.old, link.new) for link in links)
    about = nx.node_connected_component(joined, need.part)
    standing = [row.part for row in found.rows if not row.is_again]
    assert sorted(standing) == sorted(about)
    shown = [row.link.record for row in found.rows if row.link]
    assert sorted(shown) == sorted(link.record for link in links if link.old in about)
    for row in found.rows[1:]:
        assert row.link is not None
        ends = (found.rows[row.parent].part, row.part)
        assert ends in {(row.link.old, row.link.new), (row.link.new, row.link.old)}
        assert row.parent < row.at
        assert not found.rows[row.parent].is_again


@settings(max_examples=300, deadline=None)
@given(links_of(), needs)
def test_a_number_is_a_way_or_says_why_not(links: list[Link], need: Need) -> None:
    found = trace(need, Subgraph(tuple(links)), A_DAY)
    bought = {part for way in found.resolution.ways for part, _ in way.parts}
    for row in found.rows:
        if not row.is_again:
            assert (row.place > 0) == (row.part in bought)
            assert (row.place > 0) != bool(row.not_taken)


@settings(max_examples=8, deadline=None)
@example(400)
@given(st.integers(2, 150))
def test_a_chain_of_any_length_is_traced_from_either_end(length: int) -> None:
    links = [a_link(f"r{at}", SUPERSEDED, f"hob:{at}", f"hob:{at + 1}") for at in range(length)]
    for start in (0, length):
        found = traced(f"hob:{start}", *links)
        assert found.answer is not None
        assert found.answer.parts[0][0].number == str(length)
        assert len(found.rows) == length + 1


def test_a_number_come_to_by_one_link_does_not_bear_the_reason_of_another() -> None:
    found = traced(
        A,
        a_link("o1", SUPERSEDED, B, A, variants=("mark-1",)),
        a_link("o2", SUPERSEDED, A, B, variants=("mark-2",)),
        variant="mark-2",
    )
    assert rows(found) == {"NA": f"superseded by {B}", "NB": "1"}


def test_a_ring_of_one_way_links_is_told_once_with_its_chain_and_is_followed() -> None:
    ring = [f"hob:N{at}" for at in range(1, 10)]
    links = [
        a_link(f"n{at}", LinkKind.ONE_WAY, old, new)
        for at, (old, new) in enumerate(zip(ring, (*ring[1:], ring[0]), strict=True))
    ]
    found = traced("hob:N5", *links)
    (odd,) = found.odd
    assert odd.wrong == "one-way interchange in a ring: " + " → ".join((*ring, ring[0]))
    assert (found.problems, len(found.resolution.ways)) == ((), 9)
    assert traced("hob:N5", *links[:-1]).odd == ()
