"""Which column is the price where several could be, and for how many it is; else a question."""

from pathlib import Path

import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.kinds import Kind, said_by
from kitting.sheets.price_lists.priced_for import per_of
from tests.sheets.price_lists import csv_file, fields, list_of, prices, problems, refused

ROWS = [["K-101", "1.50", "1.80"], ["K-102", "2.50", "3.00"]]


@pytest.mark.parametrize(
    ("headings", "price"),
    [
        (("Old price", "New price"), "New price"),
        (("New price", "Old price"), "New price"),
        (("Price", "Previous price"), "Price"),
        (("Altpreis", "Neuer Preis"), "Neuer Preis"),
        (("Old net", "Price"), "Price"),
        (("VAT", "Price"), "Price"),
        (("Price VAT", "Price"), "Price"),
        (("VAT price", "Net"), "Net"),
        (("Price inc VAT", "Price ex VAT"), "Price ex VAT"),
        (("Prix TTC", "Prix HT"), "Prix HT"),
        (("Brutto", "Netto"), "Netto"),
        (("List price", "Net price"), "Net price"),
        (("RRP", "Trade"), "Trade"),
        (("Margin", "Price"), "Price"),
        (("Marge", "Preis"), "Preis"),
        (("Weight", "List"), "List"),
        (("Price inc VAT", "Retail"), "Retail"),
    ],
)
def test_what_the_shop_pays_goes_before_every_other_price(
    tmp_path: Path, headings: tuple[str, str], price: str
) -> None:
    reader, _ = list_of(csv_file(tmp_path / "list.csv", [["Code", *headings], *ROWS]))
    assert fields(reader)[Field.PRICE] == price
    assert reader.columns is not None
    assert reader.columns.left == tuple(text for text in headings if text != price)


@pytest.mark.parametrize(
    ("headings", "named"),
    [
        (("Price 2026", "Price 2027"), "Price 2026"),
        (("Price", "New price"), "Price"),
        (("Net", "New price"), "Net"),
        (("Trade", "Cost"), "Trade"),
        (("List", "RRP"), "List"),
        (("RRP", "Foo"), "RRP"),
        (("Old price", "Foo"), "Foo"),
        (("Price inc VAT", "Foo"), "Foo"),
        (("Foo", "Bar"), "Foo"),
    ],
)
def test_between_two_prices_that_nothing_decides_a_person_is_asked(
    tmp_path: Path, headings: tuple[str, str], named: str
) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", *headings], *ROWS])
    assert refused(path) == (
        f"list.csv, columns B and C: any of them ('{headings[0]}', '{headings[1]}') may be the "
        f'price; say which, such as --map "price={named}"'
    )
    for at, heading in enumerate(headings):
        amounts = [(row[0], int(row[at + 1].replace(".", "")) * 100) for row in ROWS]
        reader, found = list_of(path, f"price={heading}")
        assert prices(found) == amounts
        remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
        assert prices(list_of(path, remembered=remembered)[1]) == amounts


def test_columns_without_headings_are_asked_for_by_their_letters(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", ROWS)
    assert refused(path) == (
        "list.csv, columns B and C: any of them may be the price; "
        'say which, such as --map "price=column B"'
    )


def test_an_old_price_alone_is_not_taken_unless_somebody_says_so(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", "Old price"], ["K-101", "1.50"]])
    assert refused(path) == (
        "list.csv, column B: 'Old price' is the only price found, and it is an old one; "
        'if it is to be taken, say so: --map "price=Old price"'
    )
    assert prices(list_of(path, "price=Old price")[1]) == [("K-101", 15000)]


def test_a_vat_amount_alone_is_no_price(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", "VAT"], ["K-101", "0.30"], ["K-102", "0.50"]])
    assert "no column of prices was found; seen: 'Code', 'VAT'" in refused(path)


def test_a_price_before_vat_is_no_former_price() -> None:
    assert said_by("Price before VAT").kind is Kind.TRADE
    assert said_by("Old price ex VAT").kind is Kind.OLD


@pytest.mark.parametrize(
    ("headings", "row", "read"),
    [
        (("Price per 100",), ("150.00",), (100, 1500000)),
        (("Net £/100",), ("150.00",), (100, 1500000)),
        (("Preis je 100 Stück",), ("150,00",), (100, 1500000)),
        (("Price per dozen",), ("12.00",), (12, 120000)),
        (("Price each", "Pack size"), ("1.50", "10"), (10, 150000)),
        (("Price", "Pack size"), ("1.50", "10"), (10, 15000)),
        (("Price per 100", "Pack size"), ("150.00", "10"), (10, 150000)),
        (("Price per 100", "Pack size"), ("150.00", ""), (100, 1500000)),
        (("Price", "Per"), ("150.00", "100"), (100, 1500000)),
        (("Price", "Per", "Pack"), ("150.00", "100", "5"), (5, 75000)),
        (("Preis", "Preiseinheit"), ("150,00", "100 Stk"), (100, 1500000)),
        (("Price", "Per"), ("1.50", "each"), (1, 15000)),
        (("Each",), ("1.50",), (1, 15000)),
    ],
)
def test_a_price_for_so_many_becomes_the_price_of_a_pack(
    tmp_path: Path, headings: tuple[str, ...], row: tuple[str, ...], read: tuple[int, int]
) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", *headings], ["K-101", *row]], ";")
    _, (found,) = list_of(path)
    assert (found.pack, found.price) == read
    _, (found,) = list_of(path, f"price={headings[0]}")
    assert (found.pack, found.price) == read


def test_a_price_that_a_share_of_makes_uneven_is_rounded_and_told(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", "Price per 3", "Pack"], ["K-1", "1.00", "1"]])
    reader, (row,) = list_of(path)
    assert (row.price, reader.tally.rounded) == (3333, 1)


def test_of_each_and_per_ten_the_first_is_the_price_and_the_other_a_price_for_more(
    tmp_path: Path,
) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Code", "Price per 100", "Price each", "Price per 10"], ["K-1", "80", "1.00", "9.00"]],
    )
    _, (row,) = list_of(path)
    assert (row.pack, row.price, row.breaks) == (1, 10000, ((10, 9000), (100, 8000)))


@pytest.mark.parametrize("heading", ["Price 25/26", "Net", "Carper 10", "Price (2026)"])
def test_a_figure_in_a_heading_is_not_for_so_many_by_itself(heading: str) -> None:
    assert per_of(heading) == 0


@pytest.mark.parametrize(
    "headings",
    [
        ("Código", "Descripción", "Precio", "IVA"),
        ("Codice", "Descrizione", "Prezzo", "IVA"),
        ("Onderdeelnummer", "Omschrijving", "Prijs excl. btw", "btw"),
        ("Varenummer", "Beskrivelse", "Pris", "Moms"),
        ("Foo", "Bar", "Baz", "Qux"),
        ("кат", "имя", "цена", "доп"),
        ("品番", "品名", "価格", "備考"),
    ],
)
@pytest.mark.parametrize("rows", [2, 40])
def test_headings_of_any_language_or_none_known_are_headings(
    tmp_path: Path, headings: tuple[str, ...], rows: int
) -> None:
    body = [[f"K-{101 + at}", f"bolt {at % 7}", f"{at + 1},50", "21%"] for at in range(rows)]
    reader, found = list_of(csv_file(tmp_path / "list.csv", [headings, *body], ";"))
    assert len(prices(found)) == rows
    assert prices(found)[0] == ("K-101", 15000)
    assert fields(reader)[Field.PRICE] == headings[2]
    assert reader.tally.problems == []


def test_two_columns_of_numbers_that_nobody_knows_are_a_question(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Foo", "Bar", "Price"], ["K-1", "Z-1", "1.50"], ["K-2", "Z-2", "2.50"]],
    )
    assert refused(path) == (
        "list.csv, columns A and B: any of them ('Foo', 'Bar') may be the supplier's number; "
        'say which, such as --map "number=Foo"'
    )


def test_the_first_row_of_a_list_without_headings_is_not_lost_as_one(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["K-100", "seal", "POA"], ["K-101", "ring", "1.50"], ["K-102", "bolt", "2.50"]],
    )
    _, rows = list_of(path)
    assert [row.number for row in rows] == ["K-100", "K-101", "K-102"]


def test_what_explains_the_headings_below_them_is_no_row(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Part", "Part", "Price"], ["No", "Descr", "each"], ["K-1", "seal", "1.50"]],
    )
    reader, rows = list_of(path, "number=column A", "price=column C")
    assert prices(rows) == [("K-1", 15000)]
    assert reader.tally.problems == []


def test_a_first_row_with_a_bad_price_is_no_heading(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Code", "Text", "Price"], ["K-1", "seal", "cheap"], ["K-2", "ring", "1.50"]],
    )
    assert "row 2, column C (Price): 'cheap' is no price" in problems(path)[0]


def test_two_rows_of_headings_with_a_vat_column_leave_the_vat(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [
            ["Part", "", "Price", "", ""],
            ["Number", "Description", "1 off", "10 off", "VAT"],
            ["K-1", "Stud", "1.50", "1.40", "0.30"],
            ["K-2", "Stud", "2.50", "2.40", "0.50"],
        ],
    )
    reader, rows = list_of(path)
    assert prices(rows) == [("K-1", 15000), ("K-2", 25000)]
    assert rows[0].breaks == ((10, 14000),)
    assert reader.columns is not None
    assert reader.columns.left == ("Price VAT",)


def test_a_list_whose_columns_are_not_found_shows_its_headings_and_not_its_rows(
    tmp_path: Path,
) -> None:
    path = csv_file(
        tmp_path / "list.csv", [["Teile-Nr", "Bezeichnung"], ["H1", "Ring"], ["H2", "Bolzen"]]
    )
    assert "seen: 'Teile-Nr', 'Bezeichnung'; say which" in refused(path)


@pytest.mark.parametrize(
    "heading",
    [
        "Prijs per stuk", "Prijs/stuk", "Prix à la pièce", "Prix pièce", "Prix/pce", "PU HT",
        "Prix à l'unité", "Prezzo al pezzo", "Prezzo/pz", "Prezzo al pz.", "Prezzo cad.", "EP",
        "Price (each)", "Single price", "Piece price", "Price per item", "Preis/Stk netto",
        "Precio unidad", "Precio/ud", "Cena za szt.", "Net unit £", "Price per unit ex VAT",
    ],
)  # fmt: skip
def test_a_price_for_one_piece_is_known_by_what_a_piece_is_called_anywhere(heading: str) -> None:
    assert per_of(heading) == 1
