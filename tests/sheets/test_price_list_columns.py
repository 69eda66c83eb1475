"""Which column holds what: headings in any words, given, remembered, and never guessed in doubt."""

from pathlib import Path

import pytest

from kitting.errors import BadInput
from kitting.sheets.price_lists.fields import HEADINGS, Field, index_of, letter_of
from kitting.sheets.price_lists.headings import parse_map
from kitting.sheets.price_lists.likeness import likeness_of
from tests.sheets.price_lists import csv_file, fields, list_of, prices, refused


@pytest.mark.parametrize(
    ("number", "price"),
    [
        ("Part No.", "Price (£)"),
        ("PART NUMBER", "NETT PRICE EX. VAT"),
        ("Artikel-Nr.", "Netto-Preis EUR"),
        ("Stock Code", "Your Price"),
        ("Our ref", "Each"),
        ("Référence", "Prix HT"),
        ("Prat number", "Net pirce"),
        ("SKU", "Trade £"),
        ("Item", "Cost"),
    ],
)
def test_headings_in_many_words_are_recognised(tmp_path: Path, number: str, price: str) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Bin", "Notes", number, price, "Weight"], ["A1", "good", "K-101", "12.50", "1.25"],
         ["A2", "", "K-102", "3.95", "0.50"]],
    )  # fmt: skip
    reader, rows = list_of(path)
    assert prices(rows) == [("K-101", 125000), ("K-102", 39500)]
    assert reader.columns is not None
    assert reader.columns.left == ("Bin", "Notes", "Weight")


@pytest.mark.parametrize(
    ("begins", "ends"),
    [
        ("From", "To"),
        ("With effect from", "Ends"),
        ("gültig von", "gültig bis"),
        ("Eff. Date", "Expiry"),
        ("Decorrenza", "Valido fino al"),
        ("Eff Dt", "Expires"),
    ],
)
def test_the_days_of_a_price_are_known_by_their_headings(
    tmp_path: Path, begins: str, ends: str
) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Code", "Net", begins, ends], ["K-101", "12.50", "01/02/2027", "31/12/2027"],
         ["K-102", "3.95", "01/02/2027", "31/12/2027"]],
    )  # fmt: skip
    reader, rows = list_of(path)
    assert (fields(reader)[Field.VALID_FROM], fields(reader)[Field.VALID_UNTIL]) == (begins, ends)
    assert {row.valid_from for row in rows} == {"2027-02-01"}


def test_the_net_price_is_taken_before_the_retail_price(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Code", "RRP", "Retail", "Net"], ["K-101", "20.00", "19.00", "12.50"]],
    )
    reader, rows = list_of(path)
    assert prices(rows) == [("K-101", 125000)]
    assert fields(reader)[Field.PRICE] == "Net"


def test_a_retail_price_alone_is_taken_with_a_word_of_warning(tmp_path: Path) -> None:
    reader, _ = list_of(
        csv_file(tmp_path / "list.csv", [["Code", "RRP inc VAT"], ["K-1", "20.00"]])
    )
    assert reader.notes == ["'RRP inc VAT' sounds like more than what the shop pays"]


def test_a_column_of_known_numbers_is_told_from_one_of_others(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Reference", "Item", "Net"], ["9001", "K-101", "12.50"], ["9002", "K-102", "3.95"]],
    )
    assert fields(list_of(path, known={"K101", "K102"})[0])[Field.NUMBER] == "Item"
    assert fields(list_of(path, known={"9001", "9002"})[0])[Field.NUMBER] == "Reference"


def test_columns_may_be_given_by_heading_or_by_letter(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", [["Foo", "Bar", "Net"], ["7", "K-101", "1.00"]])
    _, rows = list_of(path, "number=bar, price=column A", "text=Net")
    assert prices(rows) == [("K-101", 70000)]
    assert rows[0].text == "1.00"


def test_a_field_may_be_left_out(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", "Pack", "Net"], ["K-101", "10", "1.00"]])
    assert list_of(path)[1][0].pack == 10
    assert list_of(path, "pack=none")[1][0].pack == 1


def test_headings_of_the_last_time_go_before_a_guess(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", "Net", "Blue"], ["K-101", "1.00", "2.00"]])
    reader, rows = list_of(path, remembered={Field.PRICE: "Blue"})
    assert prices(rows) == [("K-101", 20000)]
    reader, rows = list_of(path, remembered={Field.PRICE: "Red"})
    assert prices(rows) == [("K-101", 10000)]
    assert reader.notes == [
        "last time 'Red' was the price of one pack, without VAT; it is not here"
    ]


def test_two_columns_of_one_name_are_not_chosen_between(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", "Price", "Price"], ["K-101", "1.00", "2.00"]])
    said = (
        "list.csv, columns B and C: 2 columns are named 'Price'; "
        'say which, such as --map "price=column B"'
    )
    assert refused(path) == said
    assert refused(path, "price=price") == said
    assert prices(list_of(path, "price=column C")[1]) == [("K-101", 20000)]


def test_a_heading_that_is_not_there_is_told_with_the_nearest(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", "Net"], ["K-101", "1.00"]])
    assert refused(path, "text=Coed") == (
        "list.csv, --map: no column is headed 'Coed'; did you mean 'Code'?"
    )


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("prize=Net", "no field 'prize'; did you mean price"),
        ("price=", "'price=' names no column"),
        ("price", "'price' names no column"),
    ],
)
def test_a_map_that_cannot_be_read_is_told(text: str, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        parse_map([text])


def test_a_heading_with_a_comma_stays_whole() -> None:
    assert parse_map(["price=Net, per pack, number=Code"]) == {
        Field.PRICE: "Net, per pack",
        Field.NUMBER: "Code",
    }


def test_every_heading_of_ours_is_best_recognised_as_its_own_field() -> None:
    for field, words in HEADINGS.items():
        for text in words:
            likeness = {other: likeness_of(text.title(), other) for other in Field}
            assert max(Field, key=likeness.__getitem__) is field, text


def test_columns_have_letters_as_in_a_spreadsheet() -> None:
    assert [letter_of(at) for at in (0, 25, 26, 701, 702)] == ["A", "Z", "AA", "ZZ", "AAA"]
    assert all(index_of(letter_of(at)) == at for at in range(20_000))
