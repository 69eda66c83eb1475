"""Finding in the database: the same answers as from the families in memory, on both databases."""

from dataclasses import replace
from itertools import cycle
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import event

from kitting.catalog.family import Family
from kitting.catalog.find import Found
from kitting.catalog.trade import Trade
from kitting.errors import NotFound
from kitting.store.database import Database
from kitting.store.search import LOOKED_AT
from tests.builders import a_fit, a_part, an_offer, number
from tests.catalog.in_memory import find_parts
from tests.catalog.test_find import shelf
from tests.wren import tiny_trade

SHELF = shelf()
OWL = replace(
    SHELF,
    key="owl-twin",
    name="Owl twin",
    parts=(
        a_part("hob:W320", "nut", {"thread": "3/8 x 26 cycle", "height": "0.250 in"}),
        a_part("hob:OT-7", "q ring", {"shaft": "1.25 in", "note": "50 µm q"}),
    ),
    fits=(a_fit("piston", "hob:OT-7"), a_fit("rod-bolts", "dal:S-1")),
    links=(),
    set_items=(),
)
TRADE = replace(
    tiny_trade(),
    offers=(
        *tiny_trade().offers,
        replace(an_offer("brook", "hob:W201", "4.00"), their_number="BD/7731-9"),
        replace(an_offer("ashby", "dal:S-1", "4.00"), their_number="BD 77319"),
    ),
)
QUERIES = (
    "C65-1042", "c65 1042", "hob:c65 1042", "aw-320", "bd77319", "OT7", "no such thing", "  ",
    "seal 30x47x7", "seal 30 x 47 x 7", "30x7", "seal 30x30x7", "bush 1.24..1.25", "3/8x26",
    "bush id 1.2485 .. 1.2495", "bush outside 1.24..1.25", "bush bore 31..32mm", "1..2furlong",
    "bush bore=31.7 mm", "bush bore=1.3", "nut height=6.35 mm", "height=0.25",
    "thread=3/8x26 Cycle", "nut 3/8 x 26", "timing bush", "barrel-nuts", "barrel nuts", "pi",
    "seal gasket", "pis", "q ring", "rod bolts", "C65-1O42", "C65-1O43", "bd77319x", "hob w32",
    "W32", "w321", "timng bsh", "qqqqq",
    "seal spring 30", "bush 77 purple", "fits oil pump", "nut for mark 2", "bush 0.0500 in",
    "seal id 30", "gasket bore=31.7 mm", "timng bsh 77", "zzz 77",
    "spring 22", "spring 2", "50", "µm", "thread 0..9", "0..99", "hob", "nut hob dal", "geskat 22",
)  # fmt: skip


def load(database: Database, *families: Family, trade: Trade = TRADE) -> None:
    with database.work() as work:
        for family in families:
            work.catalogue.load_family(family)
        work.trade.load_trade(trade)
        work.commit()


def from_database(database: Database, query: str, most: int = 20) -> Found:
    with database.read() as work:
        return work.search.find(query, most)


def check_alike(
    database: Database, *families: Family, queries: tuple[str, ...] = QUERIES, only: str = ""
) -> None:
    in_order = sorted(families, key=lambda family: family.key)
    with database.read() as work:
        for query in queries:
            found = work.search.find(query, family=only)
            assert found == find_parts(query, in_order, TRADE, only=only), query


def test_the_database_finds_what_the_families_find(database: Database) -> None:
    load(database, SHELF, OWL)
    check_alike(database, SHELF, OWL)


@pytest.mark.parametrize("small", [True, False])
@pytest.mark.parametrize("family", [SHELF, OWL])
def test_in_one_family_only_its_own_parts_are_found(
    database: Database, family: Family, small: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("kitting.store.search.OF_A_FAMILY", 10_000 if small else 0)
    load(database, SHELF, OWL)
    check_alike(database, SHELF, OWL, only=family.key)
    with database.read() as work:
        for query in ("nut", "hob", "OT-8", "W32O", "bore=1.3", "q rng"):
            found = work.search.find(query, family=family.key)
            offered = {each.part.number for each in found.matches}
            offered |= {each.part.number for each in found.near}
            offered |= {each.part.number for each in found.partly}
            assert offered <= family.part_by_number.keys(), query


@pytest.mark.parametrize(
    ("typed", "part", "because"),
    [
        ("dal:s1", "dal:S-1", "s1 is S-1 in another spelling"),
        ("BD 77319", "dal:S-1", "BD 77319 is Ashby Spares's number for it"),
        ("hob:OT-7", None, ""),
        ("no such thing 9", None, ""),
    ],
)
def test_a_number_that_only_another_family_has_says_which(
    database: Database, typed: str, part: str | None, because: str
) -> None:
    load(database, SHELF, OWL)
    with database.read() as work:
        found = work.search.find(typed, family=OWL.key)
        assert work.search.find(typed).elsewhere == ()
    # The owl fits the seal, too, though the shelf alone describes it.
    told = {str(e.part.number): (e.families, e.because) for e in found.elsewhere}
    if part is None:
        assert told == {}
    else:
        assert found.matches == ()
        assert told[part] == (("owl-twin", "wren-single"), because)


def test_a_word_of_another_family_is_not_what_was_meant_in_this_one(database: Database) -> None:
    load(database, SHELF, replace(OWL, parts=(a_part("hob:OT-7", "struts"),)))
    assert from_database(database, "strus").meant == "struts"
    with database.read() as work:
        assert work.search.find("strus", family=SHELF.key).meant == "stud"
        assert work.search.find("strus", family=OWL.key).meant == "struts"


def test_a_part_of_two_families_is_found_in_each_as_the_last_describes_it(
    database: Database,
) -> None:
    shared = replace(OWL, key="a-one", parts=(a_part("hob:OT-7", "gasket"),), fits=())
    load(database, OWL, shared)
    check_alike(database, shared, OWL, queries=("ring", "gasket", "OT7"), only="a-one")
    with database.read() as work:
        (match,) = work.search.find("q ring", family="a-one").matches
    assert match.part.kind == "q ring"


def test_a_family_that_is_not_loaded_is_no_place_to_look_in(database: Database) -> None:
    load(database, SHELF)
    with database.read() as work, pytest.raises(NotFound, match="owl"):
        work.search.find("nut", family="owl")


def test_a_new_edition_takes_the_place_of_the_older_one(database: Database) -> None:
    newer = replace(
        SHELF,
        edition="2025-1",
        parts=tuple(part for part in SHELF.parts if part.kind != "seal"),
    )
    load(database, SHELF, OWL)
    load(database, newer)
    check_alike(database, newer, OWL)
    assert from_database(database, "seal 30x47x7").matches == ()


def test_an_edition_whose_content_changed_is_found_by_its_new_content_only(
    database: Database,
) -> None:
    changed = replace(
        SHELF,
        parts=tuple(
            replace(part, name="pillar", kind="pillar") if part.kind == "stud" else part
            for part in SHELF.parts
        ),
    )
    load(database, SHELF)
    assert from_database(database, "studd").meant == "stud"
    load(database, changed)
    check_alike(database, changed)
    check_alike(database, changed, queries=("studd", "pilar", "stud", "pillar"))
    assert from_database(database, "studd").meant != "stud"


def test_leaving_without_commit_leaves_the_search_rows_as_they_were(database: Database) -> None:
    load(database, SHELF)
    with database.work() as work:
        work.catalogue.load_family(OWL)
        assert work.search.find("ot-7").matches
    check_alike(database, SHELF)


def test_a_supplier_of_an_ended_list_or_one_no_longer_named_finds_nothing(
    database: Database,
) -> None:
    load(database, SHELF)
    without = replace(
        TRADE,
        offers=tuple(offer for offer in TRADE.offers if offer.supplier != "brook"),
        suppliers=tuple(each for each in TRADE.suppliers if each.key != "brook"),
    )
    load(database, trade=without)
    for query in ("BD/7731-9", "BD/77319X"):
        answer = from_database(database, query)
        assert answer == find_parts(query, [SHELF], without)
        assert "Brook" not in repr(answer)


def test_where_a_part_fits_is_told_for_every_family(database: Database) -> None:
    load(database, SHELF, OWL)
    numbers = [number("dal:S-1"), number("hob:OT-7"), number("hob:none")]
    with database.read() as work:
        assert work.search.places(numbers) == {
            number("dal:S-1"): [("owl-twin", "rod-bolts")],
            number("hob:OT-7"): [("owl-twin", "piston")],
            number("hob:none"): [],
        }


def test_of_very_many_parts_only_so_many_are_put_in_order_and_the_answer_says_so(
    database: Database,
) -> None:
    many = tuple(a_part(f"hob:M{at}", "washer") for at in range(LOOKED_AT + 40))
    load(database, replace(SHELF, parts=(*SHELF.parts, *many)))
    answer = from_database(database, "washer")
    assert (len(answer.matches), answer.looked_at) == (20, LOOKED_AT)
    assert from_database(database, "was").looked_at == LOOKED_AT
    alone = from_database(database, "washer M7")
    assert ([str(match.part.number) for match in alone.matches], alone.looked_at) == (
        ["hob:M7"],
        0,
    )


_WORDS = st.sampled_from(
    (
        "main",
        "mainshaft",
        "bush",
        "bushes",
        "ring",
        "q",
        "3/8",
        "20",
        ".020",
        "20.5",
        "30x47",
        "c65",
        "é-x",
    )
)
_VALUES = st.sampled_from(
    ("20 mm", "20.0 mm", "20 thou", ".020 in", "20mm",
     "0.7874015748031496 in", "1.25 in", "30x47", "30 x 47 x 7", "left", "+",
     "999999999999999999999 mm", "0.00000001 in", "3/8 x 26 cycle", "3/8 in", "20")
)  # fmt: skip
_NAMES = st.sampled_from(("bore", "shaft", "width", "hand"))
_NUMBERS = st.builds(
    "{}:{}".format, st.sampled_from(("hob", "dal")), st.text("CO0-65 1", min_size=3, max_size=9)
)


@st.composite
def a_family(draw: st.DrawFn) -> Family:
    numbers = draw(st.lists(_NUMBERS.filter(lambda text: number(text).normal), max_size=8))
    parts = [
        replace(
            a_part(each, draw(_WORDS), draw(st.dictionaries(_NAMES, _VALUES, max_size=3))),
            name=" ".join(draw(st.lists(_WORDS, min_size=1, max_size=3))),
        )
        for each in dict.fromkeys(numbers)
    ]
    places = draw(st.lists(st.sampled_from(("crank", "oil-pump", "rod-bolts")), max_size=3))
    fits = [a_fit(place, str(part.number)) for place in places for part in parts[:2]]
    key = draw(st.sampled_from(("a-one", "b-two", "wren-single")))
    return replace(
        SHELF, key=key, parts=tuple(parts), fits=tuple(fits), links=(), set_items=(), edition=key
    )


_QUERIES = st.one_of(
    st.lists(_WORDS, min_size=1, max_size=3).map(" ".join),
    _NUMBERS,
    _NUMBERS.map(lambda text: number(text).number),
    st.builds("{}={}".format, _NAMES, _VALUES),
    st.builds("{} {}..{}{}".format, _NAMES | _WORDS | st.just("id"), st.integers(0, 25),
              st.integers(20, 40), st.sampled_from(("", "mm", "in", "lbf"))),
    st.lists(_WORDS | _VALUES, min_size=1, max_size=3).map(" ".join),
)  # fmt: skip


@pytest.mark.parametrize("kind", ["sqlite", "postgresql"])
def test_whatever_is_loaded_the_database_answers_as_the_families_do(
    kind: str, request: pytest.FixtureRequest
) -> None:
    name = "sqlite_url" if kind == "sqlite" else "postgres_url"
    database = Database(request.getfixturevalue(name))
    load(database)

    @settings(max_examples=60, deadline=None)
    @given(st.lists(a_family(), max_size=3), st.lists(_QUERIES, min_size=5, max_size=12))
    def alike(families: list[Family], queries: list[str]) -> None:
        latest = {family.key: family for family in families}
        with database.work() as work:
            for family in families:
                work.catalogue.load_family(family)
            in_order = [latest[key] for key in sorted(latest)]
            for query, only in zip(queries, cycle(("", *latest)), strict=False):
                found = work.search.find(query, family=only)
                assert found == find_parts(query, in_order, TRADE, only=only), (query, only)

    alike()
    database.close()


def test_numbers_are_found_without_reading_a_table(sqlite_database: Database) -> None:
    load(sqlite_database, SHELF)
    asked: list[tuple[str, Any]] = []
    listen = event.listens_for(sqlite_database.engine, "before_cursor_execute")
    listen(lambda _c, _cursor, statement, parameters, *_: asked.append((statement, parameters)))
    for query in ("C65-1042", "C65-1O42", "C65-1O43", "aw-32o"):
        for family in ("", SHELF.key):
            with sqlite_database.read() as work:
                work.search.find(query, family=family)
    with sqlite_database.engine.connect() as connection:
        for statement, parameters in {each[0]: each for each in asked}.values():
            if not statement.startswith("SELECT"):
                continue
            plan = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", parameters)
            scans = {str(row[3]) for row in plan if str(row[3]).startswith("SCAN")}
            small = {"SCAN supplier_terms", "SCAN terms", "SCAN price_lists", "SCAN keys"}
            assert all("VIRTUAL TABLE" in scan or scan in small for scan in scans), scans
