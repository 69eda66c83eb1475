"""Price lists in the database: whole or not at all, compared, kept in the history, known again."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from kitting.catalog.trade import Offer, PriceBreak
from kitting.cli.price_loading import keep
from kitting.errors import BadInput, NotFound
from kitting.sheets.price_lists.fields import Field
from kitting.store.database import Database
from tests.builders import number
from tests.store.price_lists import TODAY, load, looked_at
from tests.store.samples import TRADE, count, with_catalogue

NUT, STUD, GASKET = number("hob:W320"), number("hob:W321"), number("hob:W310")
TABLES = (
    "price_lists",
    "offers",
    "price_breaks",
    "price_strays",
    "price_columns",
    "link_proposals",
)

Row = tuple[object, ...]


def row(their: str, part: str = "", net: object = "1.00", **more: object) -> Row:
    return (their, part, more.get("pack", ""), net, more.get("by", ""), more.get("breaks", ""))


FIRST = (row("B-1", "W320", "2.00", pack=4, breaks="5: 1.80 | 10: 1.60"), row("B-2", "W 321", "3"),
         row("B-3", "hob:W310", "4.50"), row("B-9", "", "9.00"))  # fmt: skip


@pytest.fixture
def shop(database: Database) -> Database:
    """A database with the tiny engine and its trade."""
    with_catalogue(database)
    return database


def brooks(database: Database) -> tuple[Offer, ...]:
    with database.read() as work:
        return tuple(each for each in work.trade.offers.holding() if each.supplier == "brook")


def counts(database: Database) -> dict[str, int]:
    return {table: count(database, table) for table in TABLES}


def test_a_list_is_stored_as_offers_with_all_that_it_says(shop: Database, tmp_path: Path) -> None:
    load(shop, tmp_path / "may.csv", *FIRST)
    nut, stud, gasket = brooks(shop)
    assert nut == Offer(
        supplier="brook",
        their_number="B-1",
        part=NUT,
        pack=4,
        price=Decimal("2.00"),
        breaks=(PriceBreak(5, Decimal("1.80")), PriceBreak(10, Decimal("1.60"))),
        currency="GBP",
        valid_from=TODAY,
        valid_until=date(2025, 5, 31),
        days=TRADE.supplier_by_key["brook"].days,
        stock=None,
    )
    assert [(each.part, each.price) for each in (stud, gasket)] == [
        (STUD, Decimal("3.00")),
        (GASKET, Decimal("4.50")),
    ]


def test_the_list_before_stays_in_the_history(shop: Database, tmp_path: Path) -> None:
    load(shop, tmp_path / "may.csv", *FIRST)
    load(shop, tmp_path / "june.csv", row("B-1", "W320", "2.50", pack=4))
    with shop.read() as work:
        past = [each for each in work.trade.offers.history(NUT) if each.offer.supplier == "brook"]
        lists = work.prices.lists("brook")
    assert [each.offer.price for each in past][:2] == [Decimal("2.50"), Decimal("2.00")]
    assert past[0].ended_at is None
    assert past[1].ended_at == past[0].loaded_at
    assert [(each.origin, each.offers, each.strays) for each in lists][:2] == [
        ("june.csv", 1, 0),
        ("may.csv", 3, 1),
    ]


def test_the_same_file_twice_changes_nothing(shop: Database, tmp_path: Path) -> None:
    load(shop, tmp_path / "may.csv", *FIRST)
    before = counts(shop)
    again = load(shop, tmp_path / "may.csv", *FIRST, today=date(2024, 7, 1))
    assert again.same
    assert counts(shop) == before


def test_the_same_prices_with_other_days_are_a_new_list(shop: Database, tmp_path: Path) -> None:
    load(shop, tmp_path / "may.csv", *FIRST)
    look = load(shop, tmp_path / "may.csv", *FIRST, valid_until=date(2026, 1, 1))
    assert not look.same
    assert {each.valid_until for each in brooks(shop)} == {date(2026, 1, 1)}


def test_looking_stores_nothing(shop: Database, tmp_path: Path) -> None:
    before = counts(shop)
    with looked_at(shop, tmp_path / "may.csv", FIRST):
        pass
    assert counts(shop) == before


def test_leaving_a_load_before_its_end_stores_nothing(shop: Database, tmp_path: Path) -> None:
    load(shop, tmp_path / "may.csv", *FIRST)
    before, offers = counts(shop), brooks(shop)
    june = [row("B-1", "W320", "7.00", by="W321"), row("X", "", "1")]
    with looked_at(shop, tmp_path / "june.csv", june) as (look, spool), shop.bulk() as work:
        work.prices.store(look.new, spool)
    assert counts(shop) == before
    assert brooks(shop) == offers


def test_references_are_watched_again_after_a_load(
    sqlite_database: Database, tmp_path: Path
) -> None:
    with_catalogue(sqlite_database)
    load(sqlite_database, tmp_path / "may.csv", *FIRST)
    with sqlite_database.engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
        assert connection.exec_driver_sql("PRAGMA foreign_key_check").all() == []


def test_a_new_list_is_compared_with_the_one_that_holds(shop: Database, tmp_path: Path) -> None:
    load(shop, tmp_path / "may.csv", *FIRST)
    june = [row("B-1", "W320", "2.20", pack=4), row("B-2", "W321", "2.90"), row("B-4", "W210", "8")]
    with looked_at(shop, tmp_path / "june.csv", june) as (look, _):
        report = look.report
    assert {kind: count for kind, count in report.counts.items() if count} == {
        "offers": 3, "dearer": 1, "cheaper": 1, "new": 1, "gone": 1, "for more: gone": 2,
    }  # fmt: skip
    assert [(each.packs, each.before, each.after) for each in report.for_more] == [
        (10, Decimal("1.60"), Decimal("2.20")),
        (5, Decimal("1.80"), Decimal("2.20")),
    ]
    assert (report.dearer[0].before, report.dearer[0].after) == (Decimal("2.00"), Decimal("2.20"))
    assert report.gone[0].part == "hob:W310"


def test_prices_for_more_packs_are_compared_by_number_and_by_part(
    shop: Database, tmp_path: Path
) -> None:
    load(shop, tmp_path / "may.csv", *FIRST)
    with looked_at(shop, tmp_path / "may.csv", FIRST) as (look, _):
        assert (look.same, look.report.counts["same"], look.report.for_more) == (True, 3, [])
    for number_of_his in ("B-1", "B-1-NEW"):
        june = [row(number_of_his, "W320", "2.00", pack=4, breaks="5: 1.80 | 10: 9.00"), *FIRST[1:]]
        with looked_at(shop, tmp_path / "june.csv", june) as (look, _):
            (change,) = look.report.for_more
            assert (change.packs, change.before, change.after) == (
                10, Decimal("1.60"), Decimal("9.00"),
            )  # fmt: skip
            assert not look.same


def test_a_list_that_begins_later_is_compared_for_the_day_on_which_it_does(
    shop: Database, tmp_path: Path
) -> None:
    load(shop, tmp_path / "may.csv", *FIRST)
    with looked_at(shop, tmp_path / "may.csv", FIRST, valid_from=date(2025, 1, 1)) as (look, _):
        assert (look.day, look.report.counts["same"]) == (date(2025, 1, 1), 3)
        assert look.report.counts["later"] == 0


def test_lapsed_offers_of_the_list_before_are_not_gone_anew(shop: Database, tmp_path: Path) -> None:
    load(shop, tmp_path / "may.csv", *FIRST)
    june = [row("B-1", "W320", "2.00", pack=4)]
    with looked_at(shop, tmp_path / "june.csv", june, today=date(2026, 1, 1)) as (look, _):
        assert look.report.counts["gone"] == 0


def test_a_part_is_known_again_by_the_suppliers_number_alone(
    shop: Database, tmp_path: Path
) -> None:
    load(shop, tmp_path / "may.csv", *FIRST)
    load(shop, tmp_path / "june.csv", row("b 2", "", "3.10"))
    load(shop, tmp_path / "july.csv", row("B/1", "", "2.60", pack=4), row("B-2", "", "3.20"))
    assert [(each.part, each.price) for each in brooks(shop)] == [
        (NUT, Decimal("2.60")),
        (STUD, Decimal("3.20")),
    ]


def test_what_nobody_knows_is_kept_with_its_row_and_text(shop: Database, tmp_path: Path) -> None:
    load(shop, tmp_path / "may.csv", *FIRST, row("W320", "W320", "POA"))
    with shop.read() as work:
        strays, many = work.price_review.strays("brook")
    assert many == 2
    assert [(s.place, s.number, s.says, s.why) for s in strays] == [
        ("row 5", "B-9", "GBP 9.00", "nobody knows this number"),
        ("row 6", "W320", "W320 · our hob:W320", "price on application"),
    ]


def test_a_bad_row_stops_the_whole_list_or_is_put_aside(shop: Database, tmp_path: Path) -> None:
    before = counts(shop)
    with pytest.raises(BadInput) as refused:
        load(shop, tmp_path / "may.csv", *FIRST, row("B-7", "W321", "0"), row("B-8", "W321", "-1"))
    assert [str(problem) for problem in refused.value.problems] == [
        "may.csv, row 6, column D (Net): a price of nothing; write POA where there is no price",
        "may.csv, row 7, column D (Net): a price below nothing: -1; give what one pack costs",
    ]
    assert refused.value.sum_up == (
        "may.csv: 2 of 6 rows cannot be taken; nothing was stored. "
        "Mend them, or load the rest and keep these for review with --put-aside."
    )
    assert counts(shop) == before
    load(shop, tmp_path / "may.csv", *FIRST, row("B-7", "W321", "0"), put_aside=True)
    assert len(brooks(shop)) == 3
    with shop.read() as work:
        assert [s.why for s in work.price_review.strays()[0]][1] == "a price of nothing"


def test_a_list_that_names_no_part_at_all_is_refused(shop: Database, tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="none of its 0 rows names a part"):
        load(shop, tmp_path / "may.csv")


def test_a_list_of_which_no_row_can_be_taken_ends_none_that_holds(
    shop: Database, tmp_path: Path
) -> None:
    bad = (row("B-1", "W320", "Â£2.00"), row("B-2", "W 321", "Â£3"))
    load(shop, tmp_path / "may.csv", *FIRST)
    before = counts(shop)
    with shop.work() as work:
        assert work.prices.held("grindwell") is None
    with pytest.raises(BadInput, match=r"june.csv: none of its 2 rows can be taken; look at"):
        load(shop, tmp_path / "june.csv", *bad, put_aside=True, supplier="grindwell")
    with pytest.raises(BadInput) as refused:
        load(shop, tmp_path / "june.csv", *bad, put_aside=True)
    assert str(refused.value) == (
        "june.csv: none of its 2 rows can be taken, and the list that holds has 3 offers; look at "
        "its prices and numbers, and which column is which"
    )
    assert counts(shop) == before


def test_columns_are_remembered_for_the_supplier(shop: Database, tmp_path: Path) -> None:
    load(shop, tmp_path / "may.csv", *FIRST, told={Field.PRICE: "Net", Field.TEXT: "Part no"})
    with shop.read() as work:
        remembered = work.prices.columns("brook")
        assert work.prices.columns("ashby") == {}
    assert remembered["text"] == "Part no"
    assert list(remembered) == sorted(remembered)  # on every database alike
    with looked_at(shop, tmp_path / "june.csv", FIRST) as (look, _):
        assert {column.how for column in look.columns.columns} == {"as last time"}


def test_another_list_that_came_in_meanwhile_is_not_overrun(shop: Database, tmp_path: Path) -> None:
    load(shop, tmp_path / "may.csv", *FIRST)
    with looked_at(shop, tmp_path / "june.csv", FIRST[:1]) as (look, spool):
        load(shop, tmp_path / "july.csv", *FIRST[1:])
        with pytest.raises(BadInput, match="brook: another list came in meanwhile"):
            keep(shop, look, spool, lambda _: None)
    assert [each.part for each in brooks(shop)] == [STUD, GASKET]


def test_thousands_of_blank_rows_are_told_and_a_few_are_not(shop: Database, tmp_path: Path) -> None:
    few, many = ([[""] * 6] * count for count in (999, 1000))
    assert not [
        note for note in load(shop, tmp_path / "a.csv", *FIRST, *few).notes if "blank" in note
    ]
    for rows in ([*FIRST, *many], [*many, *FIRST]):
        look = load(shop, tmp_path / "b.csv", *rows)
        assert "rows passed over as blank: 1,000" in look.notes


def test_an_unknown_supplier_is_told_with_the_nearest(shop: Database, tmp_path: Path) -> None:
    with pytest.raises(NotFound, match="no supplier 'brok'; did you mean brook"):
        load(shop, tmp_path / "may.csv", *FIRST, supplier="brok")


def test_a_currency_without_a_rate_is_told_before_anything_is_read(
    shop: Database, tmp_path: Path
) -> None:
    with pytest.raises(BadInput, match="--currency: there is no exchange rate for 'CHF'"):
        load(shop, tmp_path / "may.csv", *FIRST, currency="CHF")


def test_odd_marks_in_texts_come_through_unharmed(shop: Database, tmp_path: Path) -> None:
    odd = ("B\\1", "W320", "", "2.00", "", "")
    told = {Field.TEXT: "Superseded by"}
    stray = ("Q\\t9", "", "", "2.00", "tab\there \\N 🔧 'quoted' \"so\"", "")
    load(shop, tmp_path / "may.csv", odd, stray, told=told)
    assert brooks(shop)[0].their_number == "B\\1"
    with shop.read() as work:
        (kept,), _ = work.price_review.strays()
    assert (kept.number, kept.says) == ("Q\\t9", "tab here \\N 🔧 'quoted' \"so\" · GBP 2.00")


def test_thousands_of_rows_go_in_by_the_chunk(shop: Database, tmp_path: Path) -> None:
    rows = [row(f"B-{at}", ("W320", "W321")[at % 2], f"{1 + at / 100:.2f}") for at in range(21_000)]
    load(shop, tmp_path / "may.csv", *rows)
    offers = brooks(shop)
    assert len(offers) == 21_000
    assert (offers[20_999].their_number, offers[20_999].price) == ("B-20999", Decimal("210.99"))
    with looked_at(shop, tmp_path / "june.csv", rows[:-3]) as (look, _):
        assert (look.report.counts["same"], look.report.counts["gone"]) == (20_997, 3)
