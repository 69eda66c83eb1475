"""For how many a price is: by every usual heading, else a question, never a pack's as a piece's."""

from dataclasses import replace
from pathlib import Path

import pytest

from kitting.errors import BadInput
from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import TERMS, csv_file, fields, list_of, refused

PACKS = (
    "Box qty|Qty per box|Pk|Packing|Case|Case qty|Packung|Verpackung|UDS/CAJA|Conf. da|Colisage"
    "|Pcs per box|Units per pack|Verpackungsmenge|Carton qty|Aantal per doos|Qté par boîte|Pack of"
    "|Pack|VPE|Stk/VPE"
)
PER = "je|pro|Price is per|Preis je|Prix par|Price for|Per"
NUMBERS = "Stock No|Stock Number|Stock No.|Réf.|Cod.|Bestelnr|Artikelnr."
TEXTS = "Descr.|Details|Libellé|Omschr.|Benämning"
LATER = "Ersatz|Sost. da|Rempl. par|Nieuw nummer|Superseded by"


def a_list(path: Path, heading: str, *cells: str) -> Path:
    rows = [[f"K-{at}", cell, f"{at}.50"] for at, cell in enumerate(cells, 101)]
    return csv_file(path / "list.csv", [["Part No", heading, "Price"], *rows])


@pytest.mark.parametrize("heading", PACKS.split("|"))
def test_a_pack_is_known_by_every_usual_heading(tmp_path: Path, heading: str) -> None:
    reader, rows = list_of(a_list(tmp_path, heading, "10", "1", "100"))
    assert fields(reader)[Field.PACK] == heading
    assert (rows[0].pack, rows[0].price) == (10, 1015000)


@pytest.mark.parametrize("heading", PER.split("|"))
def test_for_how_many_a_price_is_is_known_by_every_usual_heading(
    tmp_path: Path, heading: str
) -> None:
    reader, _ = list_of(a_list(tmp_path, heading, "10", "1", "100"))
    assert fields(reader)[Field.PER] == heading


def test_a_price_for_a_thousand_is_that_of_a_pack_of_a_hundred(tmp_path: Path) -> None:
    rows = [["Teile-Nr.", "VPE", "Preis EUR", "je"], ["K-1", "100", "1.325,00", "1000"],
            ["K-2", "1", "1,25", "1"]]  # fmt: skip
    found = list_of(csv_file(tmp_path / "list.csv", rows, ";"))[1]
    assert [(row.pack, row.price) for row in found] == [(100, 1325000), (1, 12500)]


@pytest.mark.parametrize("number", NUMBERS.split("|"))
@pytest.mark.parametrize("text", TEXTS.split("|"))
def test_numbers_words_and_successors_are_known_by_their_short_headings(
    tmp_path: Path, number: str, text: str
) -> None:
    for later in LATER.split("|"):
        rows = [[number, text, later, "Price"],
                ["K-1", "stud", "K-2", "1.25"], ["K-2", "nut", "", "2.5"]]  # fmt: skip
        found = fields(list_of(csv_file(tmp_path / "list.csv", rows))[0])
        assert (found[Field.NUMBER], found[Field.TEXT]) == (number, text)
        assert found[Field.SUPERSEDED_BY] == later


def test_words_below_item_are_not_taken_for_the_numbers(tmp_path: Path) -> None:
    rows = [["Stock No", "Item", "1-9", "10+"], ["K-1", "Stud", "1.25", "1.10"],
            ["K-2", "Nut", "2.25", "2.10"]]  # fmt: skip
    reader, found = list_of(csv_file(tmp_path / "list.csv", rows))
    assert fields(reader)[Field.NUMBER] == "Stock No"
    assert [row.number for row in found] == ["K-1", "K-2"]


@pytest.mark.parametrize("heading", ["Qty", "Unit Qty", "Sales qty", "Anzahl", "Pieces", "Qté"])
def test_counts_that_may_be_what_a_price_is_for_are_asked_about(
    tmp_path: Path, heading: str
) -> None:
    path = a_list(tmp_path, heading, "10", "1", "1,000")
    assert refused(path) == (
        f"list.csv, column B: are the prices for so many as '{heading}' says?; say so: --map "
        f'"pack={heading}" if they are, --map "quantity={heading}" if they hold from so many on, '
        "--map pack=none if each is for one"
    )
    assert [row.pack for row in list_of(path, f"pack={heading}")[1]] == [10, 1, 1000]
    assert [row.pack for row in list_of(path, "pack=none")[1]] == [1, 1, 1]
    assert list_of(path, f"stock={heading}")[1][0].stock == 10
    assert "are the prices for so many" in refused(path, "price=Price")
    with pytest.raises(BadInput, match="are the prices for so many"):
        list_of(path, remembered={Field.PRICE: "Price", Field.NUMBER: "Part No"})


def test_that_no_column_is_for_packs_is_remembered_of_the_columns_that_it_was_said_of(
    tmp_path: Path,
) -> None:
    path = a_list(tmp_path, "Qty", "10", "1", "100")
    reader, _ = list_of(path, "pack=none")
    remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
    assert remembered[Field.PACK] == "none: Qty"
    again, found = list_of(path, remembered=remembered)
    assert [row.pack for row in found] == [1, 1, 1]
    assert remembered_by_sheet(again.sheets) == remembered_by_sheet(reader.sheets)
    assert again.notes == reader.notes
    other = a_list(tmp_path, "Unit qty", "10", "1", "100")
    with pytest.raises(BadInput, match="'Unit qty'"):
        list_of(other, remembered=remembered)
    packs = a_list(tmp_path, "Pack", "10", "1", "100")
    assert [row.pack for row in list_of(packs, remembered=remembered)[1]] == [10, 1, 100]
    remembered, _ = by_sheet(remembered_by_sheet(list_of(packs, "pack=none")[0].sheets))
    assert [row.pack for row in list_of(packs, remembered=remembered)[1]] == [1, 1, 1]
    assert list_of(packs, "pack=Pack", remembered=remembered)[1][0].pack == 10


def test_that_no_column_is_a_makers_number_is_remembered_of_that_column(tmp_path: Path) -> None:
    rows = [["Code", "Blue", "Price"], ["N1", "K-1", "1.25"], ["N2", "K-2", "2.25"],
            ["N3", "K-3", "3.25"]]  # fmt: skip
    path = csv_file(tmp_path / "list.csv", rows)
    known = ("K1", "K2", "K3")
    assert "numbers of the catalogue" in refused(path, known=known)
    reader, _ = list_of(path, "part=none", known=known)
    remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
    assert remembered[Field.PART] == "none: Blue"
    habit = {Field.PART: remembered[Field.PART]}
    assert list_of(path, known=known, remembered=habit)[1][0].number == "N1"


@pytest.mark.parametrize("heading", ["Qty", "Qté", "Anzahl", "Cant."])
def test_a_number_with_several_counts_has_a_price_from_each_on(
    tmp_path: Path, heading: str
) -> None:
    rows = [["Part", heading, "Price"], ["K-1", "1", "1.50"], ["K-1", "10", "1.30"],
            ["K-2", "1", "2.00"]]  # fmt: skip
    _, found = list_of(csv_file(tmp_path / "list.csv", rows))
    assert [(row.number, row.least, row.pack) for row in found] == [
        ("K-1", 1, 1), ("K-1", 10, 1), ("K-2", 1, 1)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("heading", "price", "cells"),
    [
        ("Qty", "Price", ("1", "1", "1")),
        ("Qty", "Price each", ("10", "1", "5")),
        ("Qty", "Unit price", ("10", "1", "5")),
        ("Min order qty", "Price", ("10", "1", "5")),
        ("Stock pieces", "Price", ("10", "1", "5")),
        ("Qty", "Price", ("some", "few", "1")),
        ("Bin", "Price", ("10", "1", "5")),
    ],
)
def test_counts_that_say_nothing_of_the_price_are_left_alone(
    tmp_path: Path, heading: str, price: str, cells: tuple[str, ...]
) -> None:
    path = a_list(tmp_path, heading, *cells)
    path.write_text(path.read_text(encoding="utf-8").replace("Price", price), encoding="utf-8")
    assert {row.pack for row in list_of(path)[1]} == {1}


@pytest.mark.parametrize("heading", ["Box", "Case", "Pack", "VPE", "Pack of 10", "VPE 10"])
@pytest.mark.parametrize("box", [("11.00", "20.00"), ("11.50", "20.00"), ("£11.00", "£20.00")])
def test_the_price_of_a_box_is_no_count_of_pieces(
    tmp_path: Path, heading: str, box: tuple[str, str]
) -> None:
    rows = [["Part", "Each", heading], ["K-1", "1.25", box[0]], ["K-2", "2.25", box[1]]]
    path = csv_file(tmp_path / "list.csv", rows)
    before = {Field.NUMBER: "Part", Field.PRICE: "Each", Field.PACK: heading}
    for reader, found in (list_of(path), list_of(path, remembered=before)):
        assert Field.PACK not in fields(reader)
        assert [(row.pack, row.price) for row in found] == [(1, 12500), (1, 22500)]


def test_figures_like_money_under_a_word_for_packs_are_asked_about_beside_a_price(
    tmp_path: Path,
) -> None:
    path = a_list(tmp_path, "Case", "11.00", "20.00")
    assert "are the prices for so many as 'Case' says?" in refused(path)
    assert [row.pack for row in list_of(path, "pack=Case")[1]] == [11, 20]
    sized = a_list(tmp_path, "Pack of 10", "11", "20")
    assert [row.pack for row in list_of(sized)[1]] == [1, 1]
    tens = a_list(tmp_path, "Pack", "10.00", "1.00", "100.00")
    assert [row.pack for row in list_of(tens)[1]] == [10, 1, 100]


EACH = (
    "All prices each|Alle Preise je Stück|Prix à la pièce|Prezzi al pezzo|Prices each, ex VAT"
    "|Prices are per piece|Unit prices|Preise pro Stk.|Prijzen per stuk|Prix unitaires"
    "|Precios por unidad|Prix à l'unité|Prezzi unitari|Einzelpreise in GBP"
)


@pytest.mark.parametrize("line", EACH.split("|"))
@pytest.mark.parametrize("above", [True, False])
def test_a_line_that_says_prices_are_each_is_asked_about_beside_packs(
    tmp_path: Path, line: str, *, above: bool
) -> None:
    rows = [["Part", "Price", "Pack"], ["K-1", "1.25", "100"], ["K-2", "84.50", "1"]]
    said = [[line, "", ""]]
    path = csv_file(tmp_path / "list.csv", said + rows if above else rows + said)
    place = "row 1" if above else "row 4"
    assert refused(path).endswith(
        f"{place}: '{line}' stands there, and column C (Pack) says how many are in a pack; say "
        '--per 1; where a price is for the pack, --map "per=Pack"'
    )
    one = list_of(path, terms=replace(TERMS, per=1))[1]
    assert [(row.pack, row.price) for row in one] == [(100, 1250000), (1, 845000)]
    whole = list_of(path, "per=Pack")[1]
    assert [(row.pack, row.price) for row in whole] == [(100, 12500), (1, 845000)]


@pytest.mark.parametrize(
    "line",
    ["Prices change each month", "Prices per unit of sale", "Prices are per pack",
     "Each pump tested", "Prices 2027", "Price list of all parts, a set of each"],
)  # fmt: skip
def test_a_line_that_says_no_price_is_each_is_not_asked_about(tmp_path: Path, line: str) -> None:
    rows = [[line, "", ""], ["Part", "Price", "Pack"], ["K-1", "1.25", "10"], ["K-2", "8.50", "1"]]
    assert list_of(csv_file(tmp_path / "list.csv", rows))[1][0].pack == 10


def test_a_line_that_says_prices_are_each_agrees_with_a_list_without_packs(tmp_path: Path) -> None:
    for price, pack in (("Price", "Bin"), ("Price each", "Pack")):
        rows = [["All prices each", "", ""], ["Part", price, pack], ["K-1", "1.25", "10"]]
        assert list_of(csv_file(tmp_path / "list.csv", rows))[0].notes == []


@pytest.mark.parametrize(
    "heading", ["Verpackungseinheit", "Colisage", "Packung", "Conf.", "Pack size", "Preiseinheit"]
)
def test_counts_written_like_money_are_never_lost_without_a_question(
    tmp_path: Path, heading: str
) -> None:
    path = a_list(tmp_path, heading, "25.00", "12.00")
    if heading == "Preiseinheit":  # a unit: cells that name how many are taken as they are
        assert [row.pack for row in list_of(path)[1]] == [25, 12]
    else:
        assert f"are the prices for so many as '{heading}' says?" in refused(path)
    mine = a_list(tmp_path, "Foo", "25.00", "12.00")
    assert [row.pack for row in list_of(mine, "pack=Foo")[1]] == [25, 12]
    with pytest.raises(BadInput, match="are the prices for so many as 'Foo' says"):
        list_of(mine, remembered={Field.NUMBER: "Part No", Field.PACK: "Foo"})


def test_prices_from_so_many_on_whose_counts_look_like_money_are_taken_when_told(
    tmp_path: Path,
) -> None:
    rows = [["Part", "Qty", "Price"], ["K-1", "1.00", "1.25"], ["K-1", "25.00", "1.10"]]
    path = csv_file(tmp_path / "list.csv", rows)
    assert '--map "quantity=Qty" if they hold from so many on' in refused(path)
    _, found = list_of(path, "quantity=Qty")
    assert [(row.least, row.pack, row.price) for row in found] == [(1, 1, 12500), (25, 1, 11000)]
