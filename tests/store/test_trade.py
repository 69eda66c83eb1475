"""The shop's terms and the suppliers' price lists, with their history."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from sqlalchemy import event

from kitting.catalog.model import PartNumber
from kitting.catalog.trade import Offer, Trade
from kitting.errors import BadInput, NotFound
from kitting.store.database import Database
from kitting.store.offers import ListOf
from kitting.store.trade import LoadedTrade
from tests.builders import an_offer, number
from tests.store.samples import TRADE, count

NUT, SHELLS = number("hob:W320"), number("hob:W101")


def load(database: Database, trade: Trade) -> LoadedTrade:
    with database.work() as work:
        loaded = work.trade.load_trade(trade)
        work.commit()
    return loaded


def read(database: Database, *parts: PartNumber) -> Trade:
    with database.read() as work:
        return work.trade.trade(parts or None)


def repriced(supplier: str, price: str) -> Trade:
    """The trade with every price of a supplier changed."""
    offers = tuple(
        replace(offer, price=Decimal(price), breaks=()) if offer.supplier == supplier else offer
        for offer in TRADE.offers
    )
    return replace(TRADE, offers=offers)


def brooks(trade: Trade) -> list[Offer]:
    return [offer for offer in trade.offers if offer.supplier == "brook"]


def test_the_trade_comes_back_as_it_was_loaded(database: Database) -> None:
    assert load(database, TRADE) == LoadedTrade(terms=True, price_lists=("ashby", "brook"))
    assert read(database) == TRADE


def test_loading_the_same_trade_twice_changes_nothing(database: Database) -> None:
    load(database, TRADE)
    assert not load(database, TRADE).changed
    assert [count(database, table) for table in ("terms", "price_lists")] == [1, 2]


def test_only_the_offers_of_the_parts_asked_for_are_read(database: Database) -> None:
    load(database, TRADE)
    narrow = read(database, NUT, SHELLS)
    assert {offer.part for offer in narrow.offers} == {NUT, SHELLS}
    assert narrow.offers_of[NUT] == TRADE.offers_of[NUT]
    assert (narrow.shop, narrow.suppliers) == (TRADE.shop, TRADE.suppliers)


def test_no_parts_asked_for_means_no_offers(database: Database) -> None:
    load(database, TRADE)
    with database.read() as work:
        assert work.trade.trade(()).offers == ()


def test_more_parts_than_a_query_takes_are_asked_for_in_turns(database: Database) -> None:
    many = [an_offer("brook", f"hob:X{at}", "1.00", breaks="5: 0.90") for at in range(1000)]
    load(database, replace(TRADE, offers=tuple(many)))
    assert read(database, *(offer.part for offer in many)).offers == tuple(many)


def test_a_newer_list_ends_the_older_and_the_older_is_kept(database: Database) -> None:
    load(database, TRADE)
    assert load(database, repriced("brook", "3.75")).price_lists == ("brook",)
    assert {offer.price for offer in brooks(read(database))} == {Decimal("3.75")}
    with database.read() as work:
        newer, older = [
            past for past in work.trade.offers.history(NUT) if past.offer.supplier == "brook"
        ]
    assert (newer.offer.price, newer.ended_at) == (Decimal("3.75"), None)
    assert (older.offer, older.ended_at) == (brooks(TRADE)[0], newer.loaded_at)


def test_a_list_that_goes_back_to_the_old_prices_is_a_new_list(database: Database) -> None:
    for trade in (TRADE, repriced("brook", "3.75"), TRADE):
        assert load(database, trade).changed
    assert read(database).offers_of[NUT] == TRADE.offers_of[NUT]


def test_reloading_the_folder_leaves_a_price_list_from_elsewhere_alone(database: Database) -> None:
    load(database, TRADE)
    newest = an_offer("brook", "hob:W320", "2.10", pack=4)
    with database.work() as work:
        work.trade.offers.load_list("brook", iter([newest]), "as sent in May", origin="may.csv")
        work.commit()
    assert not load(database, TRADE).changed
    assert brooks(read(database)) == [newest]


def test_a_suppliers_own_number_is_kept_as_compared(database: Database) -> None:
    odd = replace(an_offer("brook", "hob:W320", "3.20"), their_number="bk 320-a/2")
    load(database, replace(TRADE, offers=(odd,)))
    with database.engine.connect() as connection:
        found = connection.exec_driver_sql("SELECT their_normal FROM offers").scalars().all()
    assert found == ["BK320A2"]


def without_brook() -> Trade:
    return replace(
        TRADE,
        suppliers=tuple(each for each in TRADE.suppliers if each.key != "brook"),
        offers=tuple(offer for offer in TRADE.offers if offer.supplier != "brook"),
    )


def test_a_supplier_whom_the_shop_no_longer_names_offers_nothing(database: Database) -> None:
    load(database, TRADE)
    assert load(database, without_brook()).ended == (ListOf("brook", ""),)
    assert read(database) == without_brook()
    with database.read() as work:
        ended = {past.offer.supplier: past.ended_at for past in work.trade.offers.history(NUT)}
    assert ended["ashby"] is None
    assert ended["brook"] is not None


def test_a_supplier_who_is_named_again_offers_what_he_did(database: Database) -> None:
    for trade in (TRADE, without_brook()):
        load(database, trade)
    again = load(database, TRADE)
    assert (again.price_lists, again.taken_up) == ((), (ListOf("brook", ""),))
    assert read(database) == TRADE
    assert not load(database, TRADE).changed


def test_named_again_he_offers_by_his_own_newer_list_not_by_the_catalogues(
    database: Database,
) -> None:
    load(database, TRADE)
    newest = an_offer("brook", "hob:W320", "2.10", pack=4)
    with database.work() as work:
        work.trade.offers.load_list("brook", [newest], "as sent in May", origin="may.csv")
        work.commit()
    assert load(database, without_brook()).ended == (ListOf("brook", "may.csv"),)
    assert load(database, TRADE).taken_up == (ListOf("brook", "may.csv"),)
    assert brooks(read(database)) == [newest]


def test_named_again_with_other_prices_he_offers_those(database: Database) -> None:
    for trade in (TRADE, without_brook()):
        load(database, trade)
    again = load(database, repriced("brook", "3.75"))
    assert (again.price_lists, again.taken_up) == (("brook",), ())
    assert {offer.price for offer in brooks(read(database))} == {Decimal("3.75")}


def test_changed_terms_hold_from_now_on_and_the_lists_stay(database: Database) -> None:
    load(database, TRADE)
    dearer = replace(TRADE, shop=replace(TRADE.shop, labour_rate=Decimal("45.50")))
    assert load(database, dearer) == LoadedTrade(terms=True, price_lists=())
    assert read(database) == dearer
    assert count(database, "terms") == 2


def test_a_price_finer_than_can_be_kept_stops_the_whole_loading(database: Database) -> None:
    fine = replace(an_offer("brook", "hob:W320", "3.20"), price=Decimal("0.00001"))
    with pytest.raises(BadInput, match=r"offers 4: 0\.00001 is too fine for an amount"):
        load(database, replace(TRADE, offers=(*TRADE.offers, fine)))
    assert [count(database, table) for table in ("terms", "price_lists", "offers")] == [0, 0, 0]


def test_a_price_for_work_that_nobody_described_is_refused(database: Database) -> None:
    astray = replace(TRADE, operations=TRADE.operations[1:])
    with pytest.raises(BadInput, match="the trade's files: a row refers to something"):
        load(database, astray)


def test_before_any_loading_the_sentence_says_what_to_load(database: Database) -> None:
    with pytest.raises(BadInput) as refused:
        read(database)
    assert str(refused.value) == (
        "no suppliers, prices or shop settings have been loaded yet; "
        "load the catalogue's `trade` folder with `kitting catalog load`"
    )


def test_a_list_may_be_a_stream_that_never_stands_whole_in_memory(database: Database) -> None:
    def stream() -> Iterator[Offer]:
        for at in range(12_000):
            yield an_offer("brook", f"hob:S{at}", "1.25")

    load(database, TRADE)
    with database.work() as work:
        work.trade.offers.load_list("brook", stream(), "a long one", origin="long.csv")
        work.commit()
    assert len(brooks(read(database))) == 12_000
    assert len(read(database, number("hob:S11999")).offers) == 1


def test_a_list_of_a_supplier_whom_nobody_named_is_refused(database: Database) -> None:
    load(database, TRADE)
    with pytest.raises(NotFound) as refused, database.work() as work:
        work.trade.offers.load_list("brooke", (), "may", origin="may.csv")
    assert str(refused.value) == ("no supplier 'brooke'; did you mean ashby, brook, grindwell?")


def test_offers_of_some_parts_and_their_breaks_are_found_without_reading_the_table(
    sqlite_database: Database,
) -> None:
    load(sqlite_database, TRADE)
    asked: list[tuple[str, Any]] = []
    listen = event.listens_for(sqlite_database.engine, "before_cursor_execute")
    listen(lambda _c, _cursor, statement, parameters, *_: asked.append((statement, parameters)))
    read(sqlite_database, NUT, SHELLS)
    queries = [each for each in asked if "FROM offers" in each[0] or "FROM price_breaks" in each[0]]
    assert len(queries) == 2
    with sqlite_database.engine.connect() as connection:
        for statement, parameters in queries:
            plan = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", parameters)
            steps = " ".join(str(row[3]) for row in plan)
            assert "ix_offers_part_maker_part_number (part_maker=? AND part_number=?)" in steps
            assert "SCAN" not in steps
