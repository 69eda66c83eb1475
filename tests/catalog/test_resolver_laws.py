"""The resolver against networkx on random catalogues: reach, loops, symmetry, quantities."""

from dataclasses import replace
from datetime import date, timedelta
from math import prod

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.catalog.model import Link, LinkKind, PartNumber
from kitting.catalog.resolver import resolve
from kitting.catalog.ways import Need, Subgraph, WayKind
from tests.builders import A_DAY

_NUMBERS = [PartNumber("hob", f"N{at}") for at in range(9)]
_VARIANTS = ("mark-1", "mark-2")
_GRADES = ("", "-010", "-020")


@st.composite
def a_random_link(draw: st.DrawFn, kinds: tuple[LinkKind, ...] = tuple(LinkKind)) -> Link:
    old, new = draw(st.lists(st.sampled_from(_NUMBERS), min_size=2, max_size=2, unique=True))
    first = draw(st.none() | st.integers(1, 9))
    opens = draw(st.none() | st.integers(-3, 3))
    return Link(
        record="",
        kind=draw(st.sampled_from(kinds)),
        old=old,
        old_quantity=1,
        new=new,
        new_quantity=1,
        variants=draw(st.sampled_from(((), ("mark-1",), _VARIANTS))),
        first=first,
        last=draw(st.none() | st.integers(first or 1, 9)),
        with_grade=draw(st.sampled_from(_GRADES)),
        since=None if opens is None else A_DAY + timedelta(days=opens),
        until=draw(st.none() | st.just(A_DAY + timedelta(days=4))),
    )


def links_of(*kinds: LinkKind) -> st.SearchStrategy[list[Link]]:
    drawn = st.lists(a_random_link(kinds or tuple(LinkKind)), max_size=14)
    return drawn.map(
        lambda links: [replace(each, record=f"r{at}") for at, each in enumerate(links)]
    )


needs = st.builds(
    Need,
    part=st.sampled_from(_NUMBERS),
    quantity=st.integers(1, 12),
    variant=st.sampled_from(("", *_VARIANTS)),
    running=st.none() | st.integers(1, 9),
    grade=st.sampled_from(_GRADES),
    whole=st.booleans(),
)


def in_force(link: Link, need: Need, day: date) -> bool:
    """The conditions, said again from the catalogue's README."""
    asks_engine = link.first is not None or link.last is not None
    low, high = link.first or 0, link.last or 99
    return (
        (not link.variants or need.variant in link.variants)
        and (not asks_engine or (need.running is not None and low <= need.running <= high))
        and link.with_grade in {"", need.grade}
        and (link.since or date.min) <= day <= (link.until or date.max)
        and (link.kind is not LinkKind.FULL_SET or need.whole)
    )


def oracle(links: list[Link], need: Need) -> tuple[set[PartNumber], set[frozenset[PartNumber]]]:
    """The numbers that can be bought, and the loops that are met, by networkx."""
    holding = [link for link in links if in_force(link, need, A_DAY)]
    answered = nx.MultiDiGraph()
    answered.add_nodes_from(_NUMBERS)
    chains = [link for link in holding if link.kind is LinkKind.SUPERSEDED]
    answered.add_edges_from((link.old, link.new) for link in chains)
    knots = [set(knot) for knot in nx.strongly_connected_components(answered) if len(knot) > 1]
    in_knot = {number for knot in knots for number in knot}
    torn = {number for number in _NUMBERS if answered.out_degree(number) > 1}
    ways = nx.DiGraph()
    ways.add_nodes_from(_NUMBERS)
    ways.add_edges_from((link.old, link.new) for link in chains if link.old not in torn | in_knot)
    for link in holding:
        if link.kind is not LinkKind.SUPERSEDED:
            ways.add_edge(link.old, link.new)
        if link.kind is LinkKind.EITHER_WAY:
            ways.add_edge(link.new, link.old)
    reached = {need.part} | nx.descendants(ways, need.part)
    ends = {number for number in reached if not answered.out_degree(number)}
    loops = {
        frozenset(loop)
        for loop in nx.simple_cycles(nx.DiGraph(answered))
        if reached & set(loop) - torn
    }
    return ends, loops


@settings(max_examples=600, deadline=None)
@given(links_of(), needs)
def test_what_can_be_bought_is_what_a_graph_library_reaches(links: list[Link], need: Need) -> None:
    found = resolve(need, Subgraph(tuple(links)), A_DAY)
    ends, _ = oracle(links, need)
    assert {part for way in found.ways for part, _ in way.parts} == ends
    assert len(found.ways) == len(ends)
    assert all(way.current for way in found.ways)


@settings(max_examples=400, deadline=None)
@given(links_of(LinkKind.SUPERSEDED), needs)
def test_every_loop_that_is_met_is_told_and_no_other(links: list[Link], need: Need) -> None:
    one_change_each = {link.old: link for link in links}
    kept = list(one_change_each.values())
    found = resolve(need, Subgraph(tuple(kept)), A_DAY)
    _, loops = oracle(kept, need)
    told = {
        frozenset(PartNumber("hob", name.split(":")[1]) for name in chain.split(" → "))
        for chain in (
            problem.wrong.removeprefix("supersessions in a circle: ") for problem in found.problems
        )
    }
    assert told == loops


@settings(max_examples=300, deadline=None)
@given(links_of(LinkKind.EITHER_WAY), needs, st.sampled_from(_NUMBERS))
def test_either_way_is_symmetric(links: list[Link], need: Need, other: PartNumber) -> None:
    graph = Subgraph(tuple(links))

    def serves(wanted: PartNumber, offered: PartNumber) -> bool:
        ways = resolve(replace(need, part=wanted), graph, A_DAY).ways
        return any(way.parts[0][0] == offered for way in ways)

    assert serves(need.part, other) == serves(other, need.part)


@settings(max_examples=300, deadline=None)
@given(links_of(), needs)
def test_a_chain_runs_unbroken_from_the_number_named_to_the_number_bought(
    links: list[Link], need: Need
) -> None:
    for way in resolve(need, Subgraph(tuple(links)), A_DAY).ways:
        numbers = [need.part, *(step.end for step in way.because)]
        assert [step.start for step in way.because] == numbers[:-1]
        assert way.parts == ((numbers[-1], need.quantity),)
        assert len(set(numbers)) == len(numbers)
        for step in way.because:
            assert in_force(step.link, need, A_DAY)
            assert not step.backwards or step.link.kind is LinkKind.EITHER_WAY


@settings(max_examples=300, deadline=None)
@given(links_of(), needs)
def test_the_best_way_is_the_simplest_and_the_order_of_rows_does_not_matter(
    links: list[Link], need: Need
) -> None:
    found = resolve(need, Subgraph(tuple(links)), A_DAY)
    ranks = [list(WayKind).index(way.kind) for way in found.ways]
    assert ranks == sorted(ranks)
    again = resolve(need, Subgraph(tuple(reversed(links))), A_DAY)
    assert [(way.parts, way.kind) for way in again.ways] == [
        (way.parts, way.kind) for way in found.ways
    ]


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 4), st.integers(1, 4)), min_size=1, max_size=8),
    st.integers(1, 50),
)
def test_a_chain_buys_as_many_as_its_factors_ask_and_not_one_more(
    factors: list[tuple[int, int]], quantity: int
) -> None:
    links = tuple(
        Link(f"r{at}", LinkKind.SUPERSEDED, _NUMBERS[at], before, _NUMBERS[at + 1], after)
        for at, (before, after) in enumerate(factors)
    )
    (way,) = resolve(Need(_NUMBERS[0], quantity), Subgraph(links), A_DAY).ways
    count = way.parts[0][1]
    asked = quantity * prod(after for _, after in factors)
    each = prod(before for before, _ in factors)
    assert (count - 1) * each < asked <= count * each


@settings(max_examples=200, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 8), st.integers(0, 8)), max_size=12), needs)
def test_splits_of_any_shape_end_and_buy_only_current_numbers(
    pairs: list[tuple[int, int]], need: Need
) -> None:
    links = tuple(
        Link(f"r{old}", LinkKind.SUPERSEDED, _NUMBERS[old], 1, _NUMBERS[new], 1)
        for old, new in dict.fromkeys(pairs)
        if old != new
    )
    gone = {link.old for link in links}
    for way in resolve(need, Subgraph(links), A_DAY).ways:
        assert not gone & {part for part, _ in way.parts}
