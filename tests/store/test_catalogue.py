"""Families in the database: whole or not at all, an edition at a time."""

from dataclasses import replace

import pytest
from sqlalchemy import event, text

from kitting.catalog.family import Family
from kitting.catalog.model import LinkKind
from kitting.errors import BadInput, NotFound
from kitting.store.catalogue import Loaded
from kitting.store.database import Database
from tests.builders import a_fit, a_link, a_part, number, q
from tests.store.samples import JOB, WREN, count, with_job


def load(database: Database, family: Family) -> Loaded:
    with database.work() as work:
        loaded = work.catalogue.load_family(family)
        work.commit()
    return loaded


def test_a_family_comes_back_as_it_was_loaded(database: Database) -> None:
    assert load(database, WREN) == Loaded(True, WREN.edition, WREN.edition)
    with database.read() as work:
        assert work.catalogue.family(WREN.key) == WREN


def test_limits_come_back_in_the_unit_that_they_were_printed_in(database: Database) -> None:
    feature = replace(WREN.features[0], wear_low=q("1.5 thou"), wear_high=q("25.400 mm"))
    load(database, replace(WREN, features=(feature, *WREN.features[1:])))
    with database.read() as work:
        read = work.catalogue.family(WREN.key).features[0]
    assert (str(read.wear_low), str(read.wear_high)) == ("1.5 thou", "25.400 mm")


def test_links_keep_their_companions_in_order(database: Database) -> None:
    link = a_link(
        "pump", LinkKind.WITH_WORK, "hob:W200", "hob:W202", needs=("hob:W321", "dal:R320")
    )
    load(database, replace(WREN, links=(*WREN.links, link)))
    with database.read() as work:
        assert work.catalogue.family(WREN.key).links[-1].needs == link.needs


def test_loading_the_same_family_twice_changes_nothing(database: Database) -> None:
    load(database, WREN)
    before = {table: count(database, table) for table in ("editions", "parts", "fits", "features")}
    assert load(database, WREN) == Loaded(False, WREN.edition, WREN.edition)
    assert {table: count(database, table) for table in before} == before


def test_a_new_edition_leaves_the_job_of_the_old_one_readable(database: Database) -> None:
    with_job(database)
    newer = replace(WREN, edition="2025-1", summary="Reprinted", labour=WREN.labour[:-1])
    load(database, newer)
    with database.read() as work:
        job = work.jobs.job(JOB.number)
        assert work.catalogue.family(job.family, job.edition) == WREN
        assert work.catalogue.family(job.family) == newer
        editions = [(kept.edition, kept.latest) for kept in work.catalogue.families()]
    assert editions == [("2025-1", True), (WREN.edition, False)]


def in_force(database: Database) -> list[str]:
    with database.read() as work:
        return [kept.edition for kept in work.catalogue.families()]


def test_the_edition_named_last_is_in_force_until_an_earlier_one_is_put_back(
    database: Database,
) -> None:
    with_job(database)
    newer = replace(WREN, edition="2025-1", parts=(*WREN.parts, a_part("hob:N1", "clip")))
    load(database, newer)
    assert load(database, WREN) == Loaded(False, WREN.edition, "2025-1")
    with database.work() as work:
        assert work.search.find("clip").matches
        assert work.catalogue.put_back(WREN.key, WREN.edition) == Loaded(
            True, WREN.edition, WREN.edition
        )
        assert not work.search.find("clip").matches
        assert work.catalogue.family(WREN.key) == WREN
        assert not work.catalogue.put_back(WREN.key, WREN.edition).changed
        work.commit()
    assert in_force(database) == [WREN.edition, "2025-1"]
    assert load(database, newer) == Loaded(False, "2025-1", WREN.edition)
    third = replace(newer, edition="2026-1")
    assert load(database, third) == Loaded(True, "2026-1", "2026-1")
    assert in_force(database) == ["2026-1", WREN.edition, "2025-1"]


def test_an_earlier_edition_that_is_mended_stays_an_earlier_one(database: Database) -> None:
    load(database, WREN)
    newer = replace(WREN, edition="2025-1")
    load(database, newer)
    mended = replace(WREN, summary="With a slip mended")
    assert load(database, mended) == Loaded(True, WREN.edition, "2025-1")
    with database.read() as work:
        assert work.catalogue.family(WREN.key) == newer
        assert work.catalogue.family(WREN.key, WREN.edition) == mended
    assert load(database, replace(newer, summary="Mended")) == Loaded(True, "2025-1", "2025-1")


def test_changed_content_of_an_edition_without_jobs_replaces_it_whole(database: Database) -> None:
    load(database, WREN)
    changed = replace(WREN, parts=(*WREN.parts, a_part("hob:W999", "clip")))
    assert load(database, changed).changed
    with database.read() as work:
        assert work.catalogue.family(WREN.key, WREN.edition) == changed
    assert count(database, "editions") == 1
    assert count(database, "catalogue_parts") == len(changed.parts)


def test_changed_content_of_an_edition_with_jobs_is_refused_and_names_them(
    database: Database,
) -> None:
    with_job(database)
    with pytest.raises(BadInput) as refused:
        load(database, replace(WREN, summary="Another engine altogether"))
    assert str(refused.value) == (
        "family wren-single, edition 2024-1: its content has changed while jobs refer to it: "
        "24-001; give the changed files a new edition name in family.csv"
    )
    with database.read() as work:
        assert work.catalogue.family(WREN.key) == WREN


def test_a_family_with_a_row_that_refers_to_nothing_is_not_stored_at_all(
    database: Database,
) -> None:
    astray = replace(WREN, fits=(*WREN.fits, a_fit("no-such-position", "hob:W100")))
    with pytest.raises(BadInput, match="family wren-single: a row refers to something"):
        load(database, astray)
    assert [count(database, table) for table in ("editions", "parts", "positions")] == [0, 0, 0]


def test_every_figure_that_cannot_be_kept_is_named_with_its_row(database: Database) -> None:
    odd = q("42.85 mm").to("in")
    first, second, *rest = WREN.features
    features = (replace(first, low=odd, high=None), replace(second, low=odd, high=None), *rest)
    with pytest.raises(BadInput) as refused:
        load(database, replace(WREN, features=features))
    assert [problem.place for problem in refused.value.problems] == ["features 1", "features 2"]
    assert count(database, "editions") == 0


def test_a_part_that_two_families_name_is_one_part(database: Database) -> None:
    load(database, WREN)
    before = count(database, "parts")
    load(database, replace(WREN, key="wren-twin"))
    assert count(database, "parts") == before


def test_parts_are_found_by_their_number_in_other_clothes(database: Database) -> None:
    load(database, replace(WREN, parts=(*WREN.parts, a_part("hob:C65 - 104/a", "clip"))))
    with database.engine.connect() as connection:
        row = connection.execute(
            text("SELECT part_maker, part_number FROM parts WHERE normal = 'C65104A'")
        ).one()
    assert tuple(row) == ("hob", "C65 - 104/a") == (number("hob:x").maker, row.part_number)


def test_a_large_family_takes_as_few_queries_as_a_small_one(sqlite_database: Database) -> None:
    parts = tuple(a_part(f"hob:Q{at}", "clip", {"width": str(at)}) for at in range(400))
    fits = tuple(a_fit("crank", str(part.number)) for part in parts)
    large = replace(WREN, key="large", parts=(*WREN.parts, *parts), fits=(*WREN.fits, *fits))
    load(sqlite_database, WREN)
    load(sqlite_database, large)
    assert queries(sqlite_database, "large") == queries(sqlite_database, WREN.key) < 25


def queries(database: Database, family: str) -> int:
    """How many statements reading a family takes."""
    asked: list[str] = []

    def note(_connection: object, _cursor: object, statement: str, *_: object) -> None:
        asked.append(statement)

    event.listen(database.engine, "before_cursor_execute", note)
    with database.read() as work:
        work.catalogue.family(family)
    event.remove(database.engine, "before_cursor_execute", note)
    return len(asked)


@pytest.mark.parametrize(
    ("key", "edition", "sentence"),
    [
        ("wren-singel", None, "no engine family 'wren-singel'; did you mean wren-single?"),
        ("wren-single", "1999", "no edition of wren-single '1999'; did you mean 2024-1?"),
    ],
)
def test_a_family_that_is_not_there_is_a_question(
    database: Database, key: str, edition: str | None, sentence: str
) -> None:
    load(database, WREN)
    with pytest.raises(NotFound) as refused, database.read() as work:
        work.catalogue.family(key, edition)
    assert str(refused.value) == sentence


def test_a_part_is_called_as_the_edition_in_force_calls_it(database: Database) -> None:
    first, *others = WREN.parts
    load(database, WREN)
    load(database, replace(WREN, edition="2025-1", parts=(replace(first, name="Other"), *others)))
    with database.work() as work:
        assert work.shelf.names([first.number]) == {first.number: "Other"}
        work.catalogue.put_back(WREN.key, WREN.edition)
        assert work.shelf.names([first.number]) == {first.number: first.name}
