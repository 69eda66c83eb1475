"""A price headed as for one, by whatever word for the price, is that of one beside packs too."""

from dataclasses import replace
from pathlib import Path

import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.for_one import for_one, perhaps_for_one
from tests.sheets.price_lists import TERMS, csv_file, list_of, problems, refused

ONES = {
    "VPE": (
        "E-Preis|St.-Preis|Stk.-Preis|Einheitspreis|Preis (Stück)|Netto St.|EK Stk|Einzelnetto"
        "|Preis je Einheit|Netto (Stück) 2027|Verkaufspreis Stück"
    ),
    "Conditionnement": "Tarif unitaire|Net unitaire|Prix U. HT|Px unit. HT|Tarif PU|Net p.u.",
    "Confezione": (
        "P. unitario|P.unit.|Pr. unitario|Netto cad.|Netto cad|Netto cad. (IVA 22%)|Listino cad."
        "|Netto cad. dal 1.1.2027|Netto a pezzo"
    ),
    "Uds/caja": "Neto ud.|Tarifa ud.|Precio x ud|P.V.P. ud.|PVP unitario|Precio c/u|Precio unid.",
    "Pack qty": "Unit trade|Price single|Net each|Price/pcs|Trade unit|Net (piece)|Price for one"
    "|Unit £|Unit|£ unit",
    "Verpakking": "Eenheidsprijs|Netto p.st.|Prijs p.st.|Inkoop stuk",
    "Förpackning": "Á-pris|Enhetspris|Enhetspris utan moms|Netto styck",
}
DOUBTFUL = (
    "Price pp|Price p.p.|Net St.|Net PU|A-pris|Net stk|Pack unit trade|Net (pc), box price"
    "|Price per unit of sale"
)
PACKS = (
    "Net|Price|Trade price 2026|Best price|Pris u. moms|Pris u/moms|Prijs voor u|Pack price"
    "|Netto und Brutto|VPE Preis|Einzelhandelspreis|Ex-stk price|Item net|A-Preis|Price CAD"
    "|Tarif public HT|UK net"
)


def with_packs(path: Path, heading: str, packs: str = "Pack qty", *units: str) -> Path:
    head = ["Code", packs, heading, *units[:1]]
    rows = [["K-1", "1", "8.13", *units[1:2]], ["K-2", "10", "1.25", *units[2:]]]
    return csv_file(path / "list.csv", [head, *rows], ";")


@pytest.mark.parametrize(
    ("packs", "heading"),
    [(packs, heading) for packs, said in ONES.items() for heading in said.split("|")],
)
def test_a_price_for_one_is_not_that_of_the_pack(tmp_path: Path, packs: str, heading: str) -> None:
    _, rows = list_of(with_packs(tmp_path, heading, packs))
    assert [(row.pack, row.price) for row in rows] == [(1, 81300), (10, 125000)]


@pytest.mark.parametrize("heading", PACKS.split("|"))
def test_words_for_something_else_say_nothing_of_one(heading: str) -> None:
    assert (for_one(heading), perhaps_for_one(heading)) == (False, False)


@pytest.mark.parametrize("heading", ["Net", "Pack price", "Pris utan moms", "Prijs voor u"])
def test_a_price_not_headed_as_for_one_is_that_of_the_pack(tmp_path: Path, heading: str) -> None:
    _, rows = list_of(with_packs(tmp_path, heading))
    assert [(row.pack, row.price) for row in rows] == [(1, 81300), (10, 12500)]


@pytest.mark.parametrize("heading", DOUBTFUL.split("|"))
def test_a_word_that_may_be_for_one_is_asked_about_beside_packs_once(
    tmp_path: Path, heading: str
) -> None:
    path = with_packs(tmp_path, heading)
    price = f"price={heading}"
    assert refused(path, price) == (
        f"list.csv, column C: is a price below '{heading}' for one, or for so many as column B "
        '(Pack qty) says?; say --per 1 if it is for one, or --map "per=Pack qty" if it is for the '
        "pack"
    )
    for terms, maps, ten in (
        (replace(TERMS, per=1), (), 125000),
        (TERMS, ("per=Pack qty",), 12500),
    ):
        reader, rows = list_of(path, price, *maps, terms=terms)
        assert [(row.pack, row.price) for row in rows] == [(1, 81300), (10, ten)]
        for _ in range(2):
            remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
            reader, rows = list_of(path, remembered=remembered)
            assert [(row.pack, row.price) for row in rows] == [(1, 81300), (10, ten)]


def test_what_was_said_last_time_gives_way_to_what_is_said_now(tmp_path: Path) -> None:
    path = with_packs(tmp_path, "Price pp")
    reader, _ = list_of(path, terms=replace(TERMS, per=1))
    remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
    _, rows = list_of(path, remembered=remembered, terms=replace(TERMS, per=100))
    assert [(row.pack, row.price) for row in rows] == [(1, 813), (10, 1250)]
    reader, rows = list_of(path, "per=Pack qty", remembered=remembered)
    assert [row.price for row in rows] == [81300, 12500]
    since, _ = by_sheet(remembered_by_sheet(reader.sheets))
    lost = refused(with_packs(tmp_path, "Price pp", "VPE"), remembered=since)
    assert "is a price below 'Price pp' for one" in lost
    other = with_packs(tmp_path, "Trade pp")
    assert "is a price below 'Trade pp' for one" in refused(other, remembered=remembered)


@pytest.mark.parametrize("heading", DOUBTFUL.split("|")[:6])
def test_without_packs_or_with_a_unit_in_each_row_nothing_is_asked(
    tmp_path: Path, heading: str
) -> None:
    plain = csv_file(tmp_path / "plain.csv", [["Code", heading], ["K-1", "8.13"], ["K-2", "1.25"]])
    assert [row.pack for row in list_of(plain, f"price={heading}")[1]] == [1, 1]
    for unit, ten in (("PK", 12500), ("EA", 125000)):
        path = with_packs(tmp_path, heading, "Pack qty", "UOM", "EA", unit)
        assert [row.price for row in list_of(path, f"price={heading}")[1]] == [81300, ten]


def test_the_price_of_a_unit_is_for_what_the_units_say(tmp_path: Path) -> None:
    path = with_packs(tmp_path, "Einheitspreis", "VPE", "Einheit", "Stk", "VPE")
    assert [(row.pack, row.price) for row in list_of(path)[1]] == [(1, 81300), (10, 12500)]
    path = with_packs(tmp_path, "Netto cad.", "Confezione", "UM", "PZ", "PK")
    assert "'PK', and its price is said to be for 1 and the pack is of 10" in problems(path)[0]


def test_prices_for_more_are_counted_in_pieces_as_beside_price_each(tmp_path: Path) -> None:
    found = []
    for heading in ("Price each", "Prezzo cad.", "Netto cad."):
        rows = [["Codice", "Confezione", heading, f"{heading} 50+"], ["K-1", "10", "1.25", "1.00"]]
        _, (row,) = list_of(csv_file(tmp_path / "list.csv", rows))
        found.append((row.pack, row.price, row.breaks))
    assert found == [(10, 125000, ((5, 100000),))] * 3


def test_a_count_in_the_heading_said_to_be_of_something_else_stays_for_one(tmp_path: Path) -> None:
    path = with_packs(tmp_path, "Preis 100er", "VPE")
    reader, rows = list_of(path, terms=replace(TERMS, per=1))
    assert [row.price for row in rows] == [81300, 125000]
    remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
    assert Field.PER in remembered
    assert [row.price for row in list_of(path, remembered=remembered)[1]] == [81300, 125000]


def test_a_lower_price_for_one_is_asked_about_beside_a_price(tmp_path: Path) -> None:
    rows = [["Codice", "Prezzo", "Riservato cad."], ["K-1", "8.00", "6.00"], ["K-2", "2.00", "1.5"]]
    assert "may be what the shop pays" in refused(csv_file(tmp_path / "list.csv", rows))
