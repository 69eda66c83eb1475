"""What suppliers abroad write beside a figure or in its place, and an old encoding of theirs."""

from pathlib import Path

import pytest

from kitting.sheets.price_lists.cells import made_by_spreadsheet
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.money import MoneyReader
from kitting.sheets.price_lists.steps import packs_named
from tests.sheets.price_lists import csv_file, fields, list_of, prices


@pytest.mark.parametrize("text", ["23.25 net", "23.25 NET", "£23.25 nett", "23.25 each"])
def test_a_word_behind_a_price_is_no_currency(text: str) -> None:
    amount = MoneyReader(".")(text)
    assert (amount.price, amount.currency) == (232500, "GBP" if "£" in text else "")


@pytest.mark.parametrize("text", ["01.Mai", "1.mrt", "3 okt", "3 JAN"])
def test_a_month_is_no_price_in_a_money_of_that_name(text: str) -> None:
    amount = MoneyReader(".")(text)
    assert (amount.price, amount.currency) == (0, "")
    assert amount.wrong


@pytest.mark.parametrize(
    "text", ["01.Mai", "1. Mai", "12-Dez", "3-okt", "1-mrt", "2-gen", "7-août", "4-ago", "05-fév"]
)
def test_a_day_made_of_a_price_is_told_in_any_language(text: str) -> None:
    made = made_by_spreadsheet(text)
    assert made is not None
    assert "is a date" in made[0]


@pytest.mark.parametrize(
    ("text", "none"),
    [
        ("op aanvraag", "price on application"),
        ("prijs op aanvraag", "price on application"),
        ("na zapytanie", "price on application"),
        ("a consultar", "price on application"),
        ("su richiesta", "price on application"),
        ("bajo pedido", "price on application"),
        ("prix sur demande", "price on application"),
        ("vervallen", "no price ('vervallen')"),
        ("épuisé", "no price ('épuisé')"),
        ("agotado", "no price ('agotado')"),
        ("esaurito", "no price ('esaurito')"),
    ],
)
def test_words_for_no_price_are_known_abroad_too(text: str, none: str) -> None:
    assert MoneyReader(",")(text).none == none


@pytest.mark.parametrize("heading", ["vanaf 10", "à partir de 10", "da 10", "desde 10", "fra 10"])
def test_from_so_many_on_is_known_abroad_too(heading: str) -> None:
    assert packs_named(heading) == 10


@pytest.mark.parametrize(
    ("encoding", "text"),
    [
        (
            "mac_roman",
            "Article;Libellé;Prix unitaire HT (€)\nK-1;Goujon d’été;1,25\nK-2;Axe;2,50\n",
        ),
        (
            "mac_roman",
            "Teil;Bezeichnung;Preis €\nK-1;Stück für Öl;1,25\nK-2;Bolzen für Rädchen;2,50\n",
        ),
        ("cp1252", "Article;Libellé;Prix HT (€)\nK-1;Goujon d’été – «long»;1,25\nK-2;Ÿ Žák;2,50\n"),
        ("cp1252", "Part;Libellé;Prix €\nK-1;Œuf, Šroub;1,25\nK-2;Plain;2,50\n"),
    ],
)
def test_an_old_encoding_of_another_maker_of_computers_is_read(
    tmp_path: Path, encoding: str, text: str
) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(text.encode(encoding))
    reader, rows = list_of(path)
    assert set(fields(reader).values()) <= set(text.splitlines()[0].split(";"))
    assert prices(rows) == [("K-1", 12500), ("K-2", 25000)]
    assert {row.currency for row in rows} == {"EUR"}
    assert rows[0].text == text.splitlines()[1].split(";")[1]


@pytest.mark.parametrize("heading", ["Stan", "Lagersaldo", "Voorraad", "Disponibilità", "På lager"])
def test_stock_is_known_abroad_too(tmp_path: Path, heading: str) -> None:
    rows = [[f"K-{at}", "nut", f"1.{at}5", "4"] for at in range(5)]
    path = csv_file(tmp_path / "list.csv", [["Part no", "What", "Net", heading], *rows])
    reader, read = list_of(path)
    assert fields(reader)[Field.STOCK] == heading
    assert {row.stock for row in read} == {4}
