"""A line that names another money than the prices were taken in is asked about."""

from dataclasses import replace
from pathlib import Path

import pytest

from kitting.errors import BadInput
from tests.sheets.price_lists import TERMS, csv_file, list_of, refused, workbook

ROWS: list[list[object]] = [["Code", "Item", "Price"], ["K-1", "Stud", 1.25], ["K-2", "Nut", 2.5]]
SAY = {
    "EUR": "All prices in EUR|Prix en euros|Prices in Euro excl. VAT|Preise in € zzgl. MwSt."
    "|Euro price list|Price list 2027 (EUR)|Preise in EUR, ab EUR 200 frei Haus|Currency: EUR"
    "|Prezzi in euro|Alle Preise verstehen sich in Euro pro Stück|in EUR|Tarif HT en € 2027"
    "|Price list December 2026 EUR|Listino 2026 EURO|Price list 2026 €|Alle Angaben in EUR"
    "|Preise verstehen sich netto, EUR|Prices ex works, EUR|Export list UK - Euro"
    "|Price list from 1 January 2027 EUR|Price list 2027-01-01 EUR|Trade prices Europe (EUR)",
    "USD": "Prices in US$|All amounts in USD|Prices quoted in US dollars|Prices in U.S. dollars"
    "|US Dollar list|U.S. Dollars|Invoiced in USD|Goods are invoiced in USD",
    "CHF": "Alle Preise in CHF|Preise in Schweizer Franken|Währung: CHF",
    "PLN": "Ceny w PLN",
}
SILENT = (
    "Carriage £8.50|Carriage free over EUR 200|Free over €200, prices ex works|Minimum order EUR 50"
    "|Prices for orders over EUR 200|Prices exclude carriage of €8.50|EUR prices on request"
    "|Price breaks at €500|Euro pallets charged at cost|Price list 2027|Prices in GBP|Prices in £"
    "|Prices in sterling|Prices in GBP and EUR|Prices from EUR 5 to EUR 10"
    "|Export list UK - Sterling|Minimum order 2026 EUR|Prices ex works, EUR 5 carriage"
    "|Carriage invoiced in EUR|Price list 5 December 2026, 20 EUR carriage|Preise ab EUR 20"
    "|Prices ex works, € zone only|Prices change with the rate of the pound, euro"
)


@pytest.mark.parametrize(
    ("line", "code"), [(line, code) for code, lines in SAY.items() for line in lines.split("|")]
)
def test_a_line_that_names_another_money_is_asked_about(
    tmp_path: Path, line: str, code: str
) -> None:
    question = (
        f"'{line}' stands there, and prices are taken in GBP; say --currency {code}, or "
        "--currency GBP if they are in that"
    )
    above = csv_file(tmp_path / "l.csv", [[line], [], *ROWS])
    assert refused(above) == f"l.csv, row 1: {question}"
    below = workbook(tmp_path / "l.xlsx", Prices=[*ROWS, [], [line]])
    assert refused(below) == f"l.xlsx, sheet Prices, row 5: {question}"


@pytest.mark.parametrize("line", SILENT.split("|"))
def test_the_same_money_and_a_mere_sum_are_no_question(tmp_path: Path, line: str) -> None:
    title: list[list[object]] = [[line], []]
    for rows in (title + ROWS, ROWS + title[::-1]):
        reader, found = list_of(csv_file(tmp_path / "l.csv", rows))
        assert [row.currency for row in found] == ["GBP", "GBP"]
        assert not any(line in note for note in reader.notes)


def test_what_a_person_says_is_taken_and_told_where_the_line_says_otherwise(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "l.csv", [["All prices in EUR"], [], *ROWS])
    euro = replace(TERMS, currency="EUR", currency_told=True)
    reader, found = list_of(path, terms=euro)
    assert [row.currency for row in found] == ["EUR", "EUR"]
    assert not any("EUR" in note for note in reader.notes)
    reader, found = list_of(path, terms=replace(TERMS, currency_told=True))
    assert [row.currency for row in found] == ["GBP", "GBP"]
    assert "l.csv, row 1: 'All prices in EUR'; prices are taken in GBP, as was said" in reader.notes


def test_a_supplier_who_is_paid_in_that_money_is_not_asked(tmp_path: Path) -> None:
    for line in ("All prices in EUR", "Prices in $"):
        path = csv_file(tmp_path / "l.csv", [[line], [], *ROWS])
        rated = TERMS.rated | {"CAD"}
        money = "EUR" if "EUR" in line else "CAD"  # a dollar is that of several countries
        _, found = list_of(path, terms=replace(TERMS, currency=money, rated=rated))
        assert [row.currency for row in found] == [money, money]


def test_a_title_that_sets_off_sterling_is_asked_about_where_euros_are_paid(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "l.csv", [["Export list UK - Sterling"], [], *ROWS])
    with pytest.raises(BadInput, match="say --currency GBP, or --currency EUR"):
        list_of(path, terms=replace(TERMS, currency="EUR"))


def test_a_heading_in_another_money_must_agree_with_the_line(tmp_path: Path) -> None:
    headings = ["Code", "Item", "Price £"]
    path = csv_file(tmp_path / "l.csv", [["All prices in EUR"], [], headings, *ROWS[1:]])
    assert refused(path) == (
        "l.csv, row 1: 'All prices in EUR' stands there, yet the price is headed 'Price £'; make "
        "them agree, or say --currency GBP if they are in that"
    )
    _, found = list_of(path, terms=replace(TERMS, currency_told=True))
    assert [row.currency for row in found] == ["GBP", "GBP"]


def test_rows_that_name_their_own_money_are_taken_at_their_word(tmp_path: Path) -> None:
    rows = [["Code", "Price"], ["K-1", "€1.25"], ["K-2", "€2.25"]]
    reader, _ = list_of(csv_file(tmp_path / "l.csv", [["Prices in EUR"], [], *rows]))
    assert not any("EUR" in note for note in reader.notes)
    reader, _ = list_of(csv_file(tmp_path / "m.csv", [["Prices in USD"], [], *rows]))
    assert "m.csv, row 1: 'Prices in USD'; each row's own currency is taken" in reader.notes
    some = [["Code", "Price", "Cur"], ["K-1", "1.25", "EUR"], ["K-2", "2.25", ""]]
    said = refused(csv_file(tmp_path / "n.csv", [["Prices in EUR"], [], *some]))
    assert "prices are taken in GBP" in said


def test_a_line_in_two_cells_and_one_on_a_sheet_of_terms_are_heard(tmp_path: Path) -> None:
    path = workbook(tmp_path / "l.xlsx", Prices=[["Currency", "EUR"], [], *ROWS])
    assert "'Currency EUR' stands there" in refused(path)
    terms: list[list[object]] = [["Terms of trade"], ["All prices in EUR"]]
    for sheets in ({"Terms": terms, "Prices": ROWS}, {"Prices": ROWS, "Terms": terms}):
        path = workbook(tmp_path / "m.xlsx", **sheets)
        assert "m.xlsx, sheet Terms, row 2: 'All prices in EUR' stands there" in refused(path)


def test_all_that_lines_say_is_asked_at_once(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "l.csv", [["All prices in EUR"], ["Prices per 100"], [], *ROWS])
    assert "say --per 100" in (said := refused(path))
    assert "say --currency EUR" in said


def test_a_line_that_stands_above_every_group_is_asked_about_once(tmp_path: Path) -> None:
    rows = [each for at in range(30) for each in (["Prices in EUR"], [f"K-{at}", "Nut", 2.5])]
    said = refused(csv_file(tmp_path / "l.csv", [ROWS[0], *rows]))
    assert said.startswith("l.csv, row 2: 'Prices in EUR' stands there")
    assert said.count("stands there") == 1
