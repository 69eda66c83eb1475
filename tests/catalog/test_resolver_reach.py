"""The resolver against networkx on thousands of random catalogues of forty numbers: reach under
conditions, what is told of every link that bars, and splits as all their parts."""

import random
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from itertools import pairwise
from math import ceil, prod

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.catalog.model import Link, LinkKind, PartNumber
from kitting.catalog.resolver import resolve
from kitting.catalog.ways import Need, Subgraph, WayKind
from tests.builders import A_DAY
from tests.catalog.test_resolver_laws import in_force, links_of, needs, oracle

_NUMBERS = [PartNumber("hob", f"N{at}") for at in range(40)]
_KINDS = tuple(LinkKind)
GRAPHS = 2000


def a_catalogue(chance: random.Random) -> list[Link]:
    """Links among forty numbers, most of them under some condition."""
    links = []
    for at in range(chance.randint(10, 70)):
        old, new = chance.sample(_NUMBERS, 2)
        kind = chance.choices(_KINDS, weights=(6, 3, 2, 1, 1))[0]
        since = chance.choice((None, None, None, -2, 1))
        first = chance.choice((None, None, None, 3, 7))
        links.append(
            Link(
                record=f"r{at}",
                kind=kind,
                old=old,
                old_quantity=1,
                new=new,
                new_quantity=1,
                variants=chance.choice(((), (), ("mark-1",), ("mark-2",))),
                first=first,
                last=chance.choice((None, None, 8)),
                with_grade=chance.choice(("", "", "", "-010")),
                since=None if since is None else A_DAY + timedelta(days=since),
                until=chance.choice((None, None, A_DAY, A_DAY - timedelta(days=1))),
            )
        )
    return links


def needs_of(chance: random.Random) -> Iterator[Need]:
    for _ in range(2):
        yield Need(
            part=chance.choice(_NUMBERS),
            quantity=chance.randint(1, 9),
            variant=chance.choice(("", "mark-1", "mark-2")),
            running=chance.choice((None, 2, 5, 9)),
            grade=chance.choice(("", "-010")),
            whole=chance.random() < 0.5,
        )


@pytest.mark.parametrize("block", range(8))
def test_on_thousands_of_catalogues_what_can_be_bought_is_what_networkx_reaches(
    block: int,
) -> None:
    chance = random.Random(block)
    for _ in range(GRAPHS // 8):
        links = a_catalogue(chance)
        graph = Subgraph(tuple(links))
        for need in needs_of(chance):
            found = resolve(need, graph, A_DAY)
            ends, _ = _oracle(links, need)
            assert {part for way in found.ways for part, _ in way.parts} == ends


def _oracle(links: list[Link], need: Need) -> tuple[set[PartNumber], set[PartNumber]]:
    """What can be bought and what is come to, by networkx on the links that hold."""
    holding = [link for link in links if in_force(link, need, A_DAY)]
    answered = nx.MultiDiGraph()
    answered.add_nodes_from(_NUMBERS)
    chains = [link for link in holding if link.kind is LinkKind.SUPERSEDED]
    answered.add_edges_from((link.old, link.new) for link in chains)
    knots = [knot for knot in nx.strongly_connected_components(answered) if len(knot) > 1]
    torn = {number for number in _NUMBERS if answered.out_degree(number) > 1}
    stuck = torn | {number for knot in knots for number in knot}
    ways = nx.DiGraph()
    ways.add_nodes_from(_NUMBERS)
    ways.add_edges_from((link.old, link.new) for link in chains if link.old not in stuck)
    for link in holding:
        if link.kind is not LinkKind.SUPERSEDED:
            ways.add_edge(link.old, link.new)
        if link.kind is LinkKind.EITHER_WAY:
            ways.add_edge(link.new, link.old)
    reached = {need.part} | nx.descendants(ways, need.part)
    return {number for number in reached if not answered.out_degree(number)}, reached


@pytest.mark.parametrize("block", range(4))
def test_every_link_that_bars_the_way_is_told_with_why(block: int) -> None:
    chance = random.Random(100 + block)
    for _ in range(GRAPHS // 16):
        links = a_catalogue(chance)
        for need in needs_of(chance):
            found = resolve(need, Subgraph(tuple(links)), A_DAY)
            _, reached = _oracle(links, need)
            barred = {
                link
                for link in links
                if not in_force(link, need, A_DAY)
                and (
                    link.old in reached
                    or (link.kind is LinkKind.EITHER_WAY and link.new in reached)
                )
            }
            told = {each.link: each.why for each in found.not_taken if each.link}
            assert barred <= told.keys()
            assert all(told[link] for link in barred)


@pytest.mark.parametrize("block", range(4))
def test_a_number_come_to_and_not_bought_says_why(block: int) -> None:
    chance = random.Random(200 + block)
    for _ in range(GRAPHS // 16):
        links = a_catalogue(chance)
        for need in needs_of(chance):
            found = resolve(need, Subgraph(tuple(links)), A_DAY)
            ends, reached = _oracle(links, need)
            told = {each.part for each in found.not_taken}
            assert reached - ends <= told


@settings(max_examples=300, deadline=None)
@given(links_of(), needs)
def test_conditions_say_no_more_than_leaving_the_links_out_would(
    links: list[Link], need: Need
) -> None:
    free = [
        replace(link, variants=(), first=None, last=None, with_grade="", since=None, until=None)
        for link in links
        if in_force(link, need, A_DAY)
    ]
    found = resolve(need, Subgraph(tuple(links)), A_DAY)
    by_hand = resolve(need, Subgraph(tuple(free)), A_DAY)
    assert [(way.parts, way.kind) for way in found.ways] == [
        (way.parts, way.kind) for way in by_hand.ways
    ]
    assert found.problems == by_hand.problems


@settings(max_examples=200, deadline=None)
@given(links_of(), needs)
def test_a_link_more_either_way_never_takes_a_way_away(links: list[Link], need: Need) -> None:
    plain = [link for link in links if link.kind is not LinkKind.SUPERSEDED]
    before = {way.parts for way in resolve(need, Subgraph(tuple(plain)), A_DAY).ways}
    fresh = PartNumber("dal", "FRESH")
    more = (*plain, Link("more", LinkKind.EITHER_WAY, need.part, 1, fresh, 1))
    after = {way.parts for way in resolve(need, Subgraph(more), A_DAY).ways}
    assert before <= after
    assert ((fresh, need.quantity),) in after
    ends, _ = oracle(plain, need)
    assert len(before) == len(ends)


@st.composite
def splits(draw: st.DrawFn) -> list[Link]:
    """Layers of numbers, each superseded by one or several of the next, up to four deep."""
    links: list[Link] = []
    layers = [[_NUMBERS[0]], _NUMBERS[1:5], _NUMBERS[5:10], _NUMBERS[10:15]]
    for layer, (here, beyond) in enumerate(pairwise(layers)):
        for old in here:
            news = draw(st.lists(st.sampled_from(beyond), max_size=3, unique=True))
            links += [
                Link(
                    record=f"r{layer}-{old.number}",
                    kind=LinkKind.SUPERSEDED,
                    old=old,
                    old_quantity=draw(st.integers(1, 3)),
                    new=new,
                    new_quantity=draw(st.integers(1, 3)),
                )
                for new in news
            ]
    return links


@settings(max_examples=400, deadline=None)
@given(splits(), st.integers(1, 20))
def test_a_split_buys_of_each_part_what_all_paths_to_it_ask_for(
    links: list[Link], quantity: int
) -> None:
    graph = nx.DiGraph()
    graph.add_node(_NUMBERS[0])
    for link in links:
        graph.add_edge(link.old, link.new, times=Fraction(link.new_quantity, link.old_quantity))
    leaves = [node for node in graph if not graph.out_degree(node)]
    wanted: dict[PartNumber, int] = {}
    for leaf in leaves:
        paths = nx.all_simple_edge_paths(graph, _NUMBERS[0], leaf)
        total = sum(
            (
                prod((graph.edges[step]["times"] for step in path), start=Fraction(1))
                for path in paths
            ),
            start=Fraction(0),
        )
        if leaf == _NUMBERS[0]:
            total = Fraction(1)
        if total:
            wanted[leaf] = ceil(quantity * total)
    (way,) = resolve(Need(_NUMBERS[0], quantity), Subgraph(tuple(links)), A_DAY).ways
    assert dict(way.parts) == wanted
    assert way.kind is (WayKind.SUPERSEDED if graph.out_degree(_NUMBERS[0]) else WayKind.AS_NAMED)
