"""The quality of an offer in the database: loaded, listed, compared, frozen with an order."""

from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from kitting.buying.price_lists.report import QualityChange
from kitting.catalog.trade import Quality
from kitting.cli.price_loading import LoadOptions, Look, keep, look_at
from kitting.store.database import Database
from kitting.store.price_spool import PriceSpool
from tests.buying.orders import a_line, an_order
from tests.sheets.price_lists import csv_file
from tests.store.price_lists import OPTIONS
from tests.store.samples import TRADE, with_catalogue, with_job

HEAD = ("Part no", "Makers number", "Net", "Condition")
GASKET = ("B-3", "hob:W310", "4.50")


def load(
    database: Database, path: Path, *rows: tuple[str, ...], said: LoadOptions = OPTIONS
) -> Look:
    csv_file(path, [HEAD, *rows])
    with PriceSpool() as spool:
        look = look_at(database, path, said, spool, lambda _: None)
        if not look.same:
            keep(database, look, spool, lambda _: None)
    return look


def qualities(database: Database) -> list[Quality]:
    with database.read() as work:
        held = work.trade.offers.holding()
        return [each.quality for each in held if each.supplier == "brook"]


def test_a_list_keeps_what_it_says_of_each_part(database: Database, tmp_path: Path) -> None:
    with_catalogue(database)
    load(database, tmp_path / "may.csv", (*GASKET, "Pattern"), ("B-1", "hob:W320", "2.00", ""))
    assert qualities(database) == [Quality.PATTERN, Quality.UNSAID]


def test_a_part_that_is_of_another_quality_than_before_is_told(
    database: Database, tmp_path: Path
) -> None:
    with_catalogue(database)
    load(database, tmp_path / "may.csv", (*GASKET, "Genuine"), ("B-1", "hob:W320", "2.00", "nos"))
    look = load(
        database, tmp_path / "june.csv", (*GASKET, "Copy"), ("B-1", "hob:W320", "2.00", "NOS")
    )
    assert look.report.counts["other quality"] == 1
    assert look.report.other_quality == [
        QualityChange("hob:W310", "B-3", "maker's own", "pattern", "row 2")
    ]
    assert (look.report.changes, look.report.counts["same"]) == (True, 2)


def test_the_same_trade_with_its_qualities_is_loaded_once(database: Database) -> None:
    with_catalogue(database)
    first, *rest = TRADE.offers
    marked = replace(TRADE, offers=(replace(first, quality=Quality.OLD_STOCK), *rest))
    for changed in ((first.supplier,), ()):
        with database.work() as work:
            assert work.trade.load_trade(marked).price_lists == changed
            work.commit()
    with database.read() as work:
        assert set(work.trade.trade().offers) == set(marked.offers)


def test_an_order_keeps_the_quality_that_was_offered_with_its_line(database: Database) -> None:
    with_job(database)
    lines = (replace(a_line("hob:W101", 1, "18.00"), quality=Quality.PATTERN),)
    with database.work() as work:
        made = work.orders.make_order(an_order(*lines, approved=False))
        work.commit()
    with database.work() as work:
        assert [line.quality for line in work.orders.record(made.number).order.lines] == ["pattern"]
        other = replace(lines[0], quality=Quality.MAKERS_OWN)
        again = work.orders.remake_order(made.number, an_order(other, approved=False))
        assert again.revision == made.revision + 1


@pytest.mark.parametrize(
    "change", ["UPDATE offers SET quality = 'good'", "UPDATE order_lines SET quality = 'good'"]
)
def test_no_other_word_can_be_kept(database: Database, change: str) -> None:
    with_job(database)
    with database.work() as work:
        work.orders.make_order(an_order(approved=False))
        work.commit()
    with database.engine.begin() as connection, pytest.raises(IntegrityError):
        connection.execute(text(change))
