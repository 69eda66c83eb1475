"""Links from the database: about one part or many, from every family and from price lists."""

from dataclasses import replace
from datetime import UTC, date, datetime
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from sqlalchemy import event, insert

from kitting.catalog.family import Family
from kitting.catalog.model import Link, LinkKind, PartNumber
from kitting.catalog.outside import widened
from kitting.catalog.resolver import resolve, subgraph_about
from kitting.catalog.ways import Need, Subgraph
from kitting.store.database import Database
from kitting.store.parts import keep_parts
from kitting.store.tables import metadata
from kitting.store.tables.prices import ProposalState
from tests.builders import A_DAY, a_link, a_part, number
from tests.catalog.test_resolver_laws import links_of
from tests.store.samples import TRADE
from tests.wren import tiny_family

WREN = tiny_family()
NUT, STUD, PUMP = number("hob:W320"), number("hob:W321"), number("hob:W200")


def owl(*links: Link) -> Family:
    """Another family, with links of its own."""
    return replace(
        WREN,
        key="owl-twin",
        name="Owl twin",
        parts=(*WREN.parts, a_part("hob:OT7", "nut")),
        links=tuple(links),
    )


def load(database: Database, *families: Family) -> None:
    with database.work() as work:
        work.trade.load_trade(TRADE)
        for family in families:
            work.catalogue.load_family(family)
        work.commit()


def accept(database: Database, old: str, new: str, state: ProposalState) -> None:
    """Put what a price list proposed, and what a person made of it."""
    before, after = number(old), number(new)
    moment = datetime(2024, 3, 1, tzinfo=UTC)
    with database.engine.begin() as connection:
        keep_parts(connection, (before, after))
        connection.execute(
            insert(metadata.tables["link_proposals"]),
            {
                "supplier": "ashby", "origin": "may.csv", "place": "row 7",
                "old_maker": before.maker, "old_number": before.number,
                "new_said": after.number, "new_normal": after.normal,
                "new_maker": after.maker, "new_number": after.number,
                "state": state, "who": None if state is ProposalState.OPEN else "K. Ferris",
                "why": "", "proposed_at": moment,
                "decided_at": None if state is ProposalState.OPEN else moment,
            },
        )  # fmt: skip


def test_a_familys_own_links_come_back_whole_with_their_companions(database: Database) -> None:
    load(database, WREN)
    with database.read() as work:
        for part in WREN.parts:
            found = work.links.subgraph(part.number, WREN.key)
            assert set(found.links) == set(subgraph_about(WREN, part.number).links)


def test_many_parts_are_answered_at_once_each_with_its_own_links(database: Database) -> None:
    load(database, WREN)
    with database.read() as work:
        many = work.links.subgraphs([NUT, PUMP, STUD], WREN.key)
        assert many == {part: work.links.subgraph(part, WREN.key) for part in (NUT, PUMP, STUD)}
    assert many[STUD].links == ()
    assert [link.record for link in many[PUMP].links] == ["long-pump"]


def test_only_the_latest_edition_of_a_family_has_a_say(database: Database) -> None:
    load(database, WREN)
    load(database, replace(WREN, edition="2025-1", links=WREN.links[:1]))
    with database.read() as work:
        assert work.links.subgraph(NUT, WREN.key).links == ()
        assert work.links.subgraph(number("hob:W100"), WREN.key).links == WREN.links[:1]


def test_of_another_family_only_links_that_ask_for_no_engine_and_no_grade_hold(
    database: Database,
) -> None:
    general = a_link("r", LinkKind.EITHER_WAY, "hob:W320", "hob:OT7")
    on_mark_2 = a_link("s", LinkKind.ONE_WAY, "hob:W320", "hob:W321", variants=("mark-2",))
    load(database, WREN, owl(general, on_mark_2))
    with database.read() as work:
        seen_from_wren = work.links.subgraph(NUT, WREN.key).links
        seen_from_owl = work.links.subgraph(NUT, "owl-twin").links
        anywhere = work.links.subgraph(NUT).links
    assert {link.record for link in seen_from_wren} == {"thin-nuts", "owl-twin: r"}
    assert {link.record for link in seen_from_owl} == {"r", "s", "wren-single: thin-nuts"}
    assert {link.record for link in anywhere} == {
        "owl-twin: r", "owl-twin: s", "wren-single: thin-nuts"
    }  # fmt: skip


def test_two_families_that_say_the_same_are_no_contradiction(database: Database) -> None:
    same = a_link("two", LinkKind.SUPERSEDED, "hob:W310", "hob:OT7")
    load(database, replace(WREN, links=(same,)), owl(replace(same, record="one")))
    with database.read() as work:
        graph = work.links.subgraph(same.old)
    found = resolve(Need(same.old), graph, A_DAY)
    assert found.problems == ()
    assert found.best is not None
    assert found.best.parts == ((same.new, 1),)


def test_two_families_that_disagree_under_one_record_name_are_a_contradiction(
    database: Database,
) -> None:
    load(
        database,
        replace(WREN, links=(a_link("one", LinkKind.SUPERSEDED, "hob:W310", "hob:W320"),)),
        owl(a_link("one", LinkKind.SUPERSEDED, "hob:W310", "hob:OT7")),
    )
    with database.read() as work:
        graph = work.links.subgraph(number("hob:W310"))
        own = work.links.subgraph(number("hob:W310"), WREN.key)
    (problem,) = resolve(Need(number("hob:W310")), graph, A_DAY).problems
    assert "at once" in problem.wrong
    assert resolve(Need(number("hob:W310")), own, A_DAY).problems == ()


@pytest.mark.parametrize("state", list(ProposalState))
def test_a_link_that_a_list_proposes_counts_once_a_person_accepted_it(
    database: Database, state: ProposalState
) -> None:
    load(database, WREN)
    accept(database, "hob:W310", "new:G77", state)
    with database.read() as work:
        for family in ("", WREN.key):
            links = work.links.subgraph(number("hob:W310"), family).links
            back = work.links.subgraph(number("new:G77"), family).links
            assert [str(link.new) for link in links] == (
                ["new:G77"] if state is ProposalState.ACCEPTED else []
            )
            assert back == links


def test_a_job_takes_the_number_that_an_accepted_list_leads_to(database: Database) -> None:
    load(database, WREN)
    accept(database, "hob:W310", "new:G77", ProposalState.ACCEPTED)
    accept(database, "new:G77", "new:G78", ProposalState.ACCEPTED)
    with database.read() as work:
        family = widened(WREN, work.links.outside(WREN))
    last = family.part_by_number[number("new:G78")]
    assert (last.name, last.kind, last.attributes) == ("gasket W310", "gasket", {})
    way = resolve(Need(number("hob:W310")), subgraph_about(family, number("hob:W310")), A_DAY).best
    assert way is not None
    assert way.parts == ((number("new:G78"), 1),)
    assert family.fits == WREN.fits


def test_a_part_of_another_family_comes_with_all_that_is_said_of_it(database: Database) -> None:
    load(database, WREN, owl(a_link("r", LinkKind.EITHER_WAY, "hob:W320", "hob:OT7")))
    with database.read() as work:
        family = widened(WREN, work.links.outside(WREN))
    assert family.part_by_number[number("hob:OT7")] == a_part("hob:OT7", "nut")


def test_a_family_of_which_nobody_else_speaks_stays_as_it_is(database: Database) -> None:
    load(database, WREN)
    with database.read() as work:
        assert widened(WREN, work.links.outside(WREN)) is WREN


def test_what_others_say_reaches_a_family_over_its_own_links_and_theirs(
    database: Database,
) -> None:
    mine = a_link("m", LinkKind.SUPERSEDED, "hob:W310", "hob:W320")
    first = a_link("f", LinkKind.EITHER_WAY, "hob:OT8", "hob:W320")
    second = a_link("s", LinkKind.EITHER_WAY, "hob:OT8", "hob:OT9")
    elsewhere = a_link("e", LinkKind.EITHER_WAY, "hob:OT1", "hob:OT2")
    wren = replace(WREN, links=(mine,))
    load(database, wren, owl(first, second, elsewhere))
    accept(database, "hob:OT9", "new:G77", ProposalState.ACCEPTED)
    with database.read() as work:
        outside = work.links.outside(wren)
    assert {str(link.new) for link in outside.links} == {"hob:W320", "hob:OT9", "new:G77"}


def test_a_familys_own_links_are_not_read_again_to_look_for_those_of_others(
    sqlite_database: Database,
) -> None:
    load(sqlite_database, WREN)
    asked: list[str] = []
    listen = event.listens_for(sqlite_database.engine, "before_cursor_execute")
    listen(lambda _c, _cursor, statement, *_: asked.append(statement))
    with sqlite_database.read() as work:
        family = work.catalogue.family(WREN.key)
        asked.clear()
        assert work.links.outside(family).links == ()
    assert [
        statement for statement in asked if "SELECT" in statement and "reached" in statement
    ] == []
    load(sqlite_database, owl(a_link("r", LinkKind.EITHER_WAY, "hob:W320", "hob:OT7")))
    with sqlite_database.read() as work:
        assert [link.record for link in work.links.outside(family).links] == ["owl-twin: r"]


def test_links_about_a_part_are_found_without_reading_the_table(sqlite_database: Database) -> None:
    load(sqlite_database, WREN)
    asked: list[tuple[str, Any]] = []
    listen = event.listens_for(sqlite_database.engine, "before_cursor_execute")
    listen(lambda _c, _cursor, statement, parameters, *_: asked.append((statement, parameters)))
    with sqlite_database.read() as work:
        work.links.subgraph(NUT)
    queries = [each for each in asked if "reached" in each[0]]
    assert len(queries) == 1
    with sqlite_database.engine.connect() as connection:
        for statement, parameters in queries:
            plan = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", parameters)
            steps = [str(row[3]) for row in plan]
            scans = {step for step in steps if step.startswith("SCAN")}
            assert scans <= {"SCAN reached", "SCAN asked VIRTUAL TABLE INDEX 1:"}, steps


@pytest.mark.parametrize("kind", ["sqlite", "postgresql"])
def test_whatever_is_linked_the_database_resolves_as_the_family_does(
    kind: str, request: pytest.FixtureRequest
) -> None:
    name = "sqlite_url" if kind == "sqlite" else "postgres_url"
    database = Database(request.getfixturevalue(name))

    @settings(max_examples=60, deadline=None)
    @given(links_of())
    def alike(links: list[Link]) -> None:
        family = replace(WREN, parts=(), fits=(), set_items=(), links=tuple(links))
        numbers = [PartNumber("hob", f"N{at}") for at in range(9)]
        with database.work() as work:
            work.catalogue.load_family(family)
            graphs = work.links.subgraphs(numbers, WREN.key)
            for part in numbers:
                need = Need(part, 6, variant="mark-1", running=4, whole=True)
                whole = Subgraph(tuple(links))
                stored = resolve(need, graphs[part], date(2024, 5, 1))
                assert stored.ways == resolve(need, whole, date(2024, 5, 1)).ways
                assert set(work.links.subgraph(part, WREN.key).links) == set(graphs[part].links)

    alike()
    database.close()


def chain(*numbers: str) -> Family:
    """The owl with a chain of supersessions."""
    links = (
        a_link(f"c{at}", LinkKind.SUPERSEDED, old, new)
        for at, (old, new) in enumerate(pairwise(numbers))
    )
    return owl(*links)


def circles_of(database: Database, *families: str) -> list[tuple[str, list[tuple[str, str]]]]:
    """Each circle that families close: its numbers, and whose each step is, by its record."""
    with database.read() as work:
        return [
            (
                " ".join(each.number for each in circle.numbers),
                [(step.family, step.link.record) for step in circle.steps],
            )
            for circle in work.links.closed_circles(families)
        ]


def test_a_circle_that_an_edition_closes_with_an_accepted_link_is_named(database: Database) -> None:
    load(database, chain("hob:A", "hob:B", "hob:C"))
    assert circles_of(database, "owl-twin") == []
    accept(database, "hob:D", "hob:A", ProposalState.ACCEPTED)
    assert circles_of(database, "owl-twin") == []
    load(database, replace(chain("hob:A", "hob:B", "hob:C", "hob:D"), edition="next"))
    mine = [("owl-twin", f"c{at}") for at in range(3)]
    assert circles_of(database, "owl-twin") == [("A B C D A", [*mine, ("", "list-1")])]


def test_a_circle_of_two_families_is_named_once_whichever_of_them_asks(database: Database) -> None:
    other = replace(chain("hob:B", "hob:A"), key="wren-single")
    load(database, chain("hob:A", "hob:B"), other)
    circle = ("A B A", [("owl-twin", "c0"), ("wren-single", "c0")])
    assert circles_of(database, "owl-twin") == [circle]
    assert circles_of(database, "wren-single") == [circle]
    assert circles_of(database, "owl-twin", "wren-single") == [circle]


def test_a_family_is_told_of_no_circle_that_cannot_be_or_that_it_has_no_part_in(
    database: Database,
) -> None:
    early = a_link("c0", LinkKind.SUPERSEDED, "hob:A", "hob:B", until=date(1960, 1, 1))
    load(database, owl(early), replace(chain("hob:N", "hob:A"), key="wren-single"))
    accept(database, "hob:B", "hob:A", ProposalState.ACCEPTED)
    assert circles_of(database, "owl-twin") == []
    assert circles_of(database, "wren-single") == []
