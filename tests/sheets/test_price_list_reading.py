"""Lists as suppliers write them: encodings, separators, headings, the rows between."""

from pathlib import Path

import openpyxl
import pytest

from kitting.sheets.price_lists.fields import Field
from tests.libreoffice import convert
from tests.sheets.price_lists import csv_file, fields, list_of, prices

PLAIN = [["Part no", "Description", "Net price"], ["K-101", "seal £", "12.50"],
         ["K-102", "Dichtung für Öl", "3.95"]]  # fmt: skip
READ = [("K-101", 125000), ("K-102", 39500)]


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16", "utf-16-le", "utf-16-be"]
)
@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize("ending", ["\r\n", "\n", "\r"])
def test_a_text_in_any_encoding_separator_and_line_ending_reads_the_same(
    tmp_path: Path, encoding: str, separator: str, ending: str
) -> None:
    text = ending.join(separator.join(row) for row in PLAIN) + ending
    path = tmp_path / "list.csv"
    path.write_bytes(text.encode(encoding))
    _, rows = list_of(path)
    assert prices(rows) == READ
    assert [row.text for row in rows] == ["seal £", "Dichtung für Öl"]


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_a_workbook_reads_as_the_text_does(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "list.xlsx"
    book = openpyxl.Workbook()
    book.worksheets[0].append(["Part no", "Description", "Net price"])
    for row in (["K-101", "seal £", 12.5], [1042, "Dichtung für Öl", 3.95]):
        book.worksheets[0].append(row)
    book.save(path)
    if kind == "ods":
        path = convert(path, "ods", tmp_path / "other")
    reader, rows = list_of(path)
    assert prices(rows) == [("K-101", 125000), ("1042", 39500)]
    assert rows[0].place.endswith("row 2")
    assert reader.tally.problems == []


def test_a_number_typed_with_17_digits_is_the_price_that_was_typed(tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    book = openpyxl.Workbook()
    for row in (["Part no", "Net"], ["K-1", 12.949999999999999], ["K-2", 12.95 * 1.1], ["K-3", 19]):
        book.worksheets[0].append(row)
    book.save(path)
    _, rows = list_of(path)
    assert prices(rows) == [("K-1", 129500), ("K-2", 142450), ("K-3", 190000)]


def test_a_workbooks_own_decimals_are_never_taken_for_thousands(tmp_path: Path) -> None:
    path = tmp_path / "liste.xlsx"
    book = openpyxl.Workbook()
    for row in (["Artikelnummer", "Preis"], ["K-1", "3,95"], ["K-2", 1.234], ["K-3", "1.234"]):
        book.worksheets[0].append(row)
    book.save(path)
    _, rows = list_of(path)
    assert prices(rows) == [("K-1", 39500), ("K-2", 12340), ("K-3", 12340000)]


def test_titles_blanks_totals_and_headings_again_are_passed_over_and_counted(
    tmp_path: Path,
) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [
            ["Marlbeck Motor Factors", "", ""],
            ["Trade list", "", ""],
            [],
            *PLAIN[:2],
            ["Bearings and shells", "", ""],
            ["", "", ""],
            PLAIN[0],
            PLAIN[2],
            ["Page total", "", "16.45"],
            ["", "Total", "16.45"],
        ],
    )
    reader, rows = list_of(path)
    assert prices(rows) == READ
    assert len(rows) == 2
    passed = {"titles and notes": 1, "headings again": 1, "totals": 2, "blank": 2}
    assert reader.tally.passed == passed


def test_a_number_alone_on_its_row_is_a_part_without_a_price_and_no_title(tmp_path: Path) -> None:
    alone = [["K-103", "", ""], ["4711", "", ""], ["Bearings", "", ""], ["Page 2", "", ""]]
    notes = [["Engines of 1936", "", ""], ["", "see K-104", ""]]
    reader, rows = list_of(csv_file(tmp_path / "list.csv", [*PLAIN, *alone, *notes]))
    assert prices(rows) == READ
    assert [(row.number, row.why) for row in rows if row.why] == [
        ("K-103", "no price"),
        ("4711", "no price"),
    ]
    assert reader.tally.passed == {"titles and notes": 4}


@pytest.mark.parametrize(
    "says",
    ["Total", "Sub-total", "SUB TOTAL:", "subtotal", "Sub-total GBP", "Zwischensumme",
     "Zwischen-Summe", "Gesamt", "Übertrag", "Sous-total", "Carried forward", "b/f"],
)  # fmt: skip
def test_a_total_is_told_as_one_wherever_it_stands_and_whatever_it_comes_to(
    tmp_path: Path, says: str
) -> None:
    rows = [*PLAIN, [says, "", "16.45"], ["", says, "16.45"]]
    reader, read = list_of(csv_file(tmp_path / "list.csv", rows))
    assert prices(read) == READ
    assert len(read) == 2
    assert reader.tally.passed == {"totals": 2}


@pytest.mark.parametrize("number", ["TOTAL-X", "Sum-A", "SUMP", "Total-loss/K", "CF"])
def test_a_number_of_letters_that_begins_as_a_total_is_a_number(
    tmp_path: Path, number: str
) -> None:
    rows = [*PLAIN, [number, "plug", "16.45"]]
    _, read = list_of(csv_file(tmp_path / "list.csv", rows))
    assert prices(read) == [*READ, (number, 164500)]


@pytest.mark.parametrize(
    ("head", "first"),
    [
        (["Part", "Each", "Per 10", "Per 100"], ["K-100", "0.15", "1.40", "12.00"]),
        (["Part", "Each", "x10", "x100"], ["K-100", "0.15", "1.40", "12.00"]),
        (["Part", "Each", "x10", "x100"], ["SUMP", "0.15", "1.40", "12.00"]),
        (["Part", "Each", "Per 10", "Per 100"], ["K-100", "POA", "", ""]),
    ],
)
@pytest.mark.parametrize("more", [1, 6])
def test_the_first_row_of_a_list_is_never_read_as_a_second_row_of_headings(
    tmp_path: Path, head: list[str], first: list[str], more: int
) -> None:
    below = [[f"K-{at}", f"0.{at}", f"1.{at}", f"12.{at}"] for at in range(11, 11 + more)]
    reader, rows = list_of(csv_file(tmp_path / "list.csv", [head, first, *below]))
    assert [row.number for row in rows] == [first[0], *(each[0] for each in below)]
    assert fields(reader)[Field.PRICE] == "Each"


@pytest.mark.parametrize(
    "lower", [["number", "1+", "10+"], ["", "1+", "10+"], ["code", "1+", "from 10"]]
)
def test_quantities_below_a_price_are_a_second_row_of_headings(
    tmp_path: Path, lower: list[str]
) -> None:
    rows = [["Part", "Price", ""], lower, ["K-101", "12.50", "9.00"], ["K-102", "3.95", "3.00"]]
    _, read = list_of(csv_file(tmp_path / "list.csv", rows))
    assert prices(read) == READ
    assert [row.breaks for row in read] == [((10, 90000),), ((10, 30000),)]


def test_headings_merged_over_two_rows_are_read_together(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [
            ["Part", "Description", "Price", "", "Delivery"],
            ["number", "", "retail", "net £", "days"],
            ["K-101", "seal", "15.00", "12.50", "3"],
            ["K-102", "ring", "5.00", "3.95", "3"],
        ],
    )
    reader, rows = list_of(path)
    assert prices(rows) == READ
    assert fields(reader)[Field.NUMBER] == "Part number"
    assert fields(reader)[Field.PRICE] == "Price net £"
    assert rows[0].days == 3


def test_a_list_without_headings_is_told_by_its_content(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", [["seal", "K-101", "12.50"], ["ring", "K-102", "3.95"]])
    reader, rows = list_of(path, known={"K101", "K102"})
    assert prices(rows) == READ
    assert "no headings" in reader.notes[0]


def test_every_sheet_that_has_numbers_and_prices_is_read(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    book.worksheets[0].title = "Terms"
    book.worksheets[0]["A1"] = "thirty days"
    for name, row in (("Seals", ["K-101", "seal", 12.5]), ("Rings", ["K-102", "ring", 3.95])):
        sheet = book.create_sheet(name)
        sheet.append(PLAIN[0])
        sheet.append(row)
    hidden = book.create_sheet("Costs")
    hidden.append(PLAIN[0])
    hidden.append(["K-101", "seal", 1.0])
    hidden.sheet_state = "hidden"
    path = tmp_path / "list.xlsx"
    book.save(path)
    reader, rows = list_of(path)
    assert prices(rows) == READ
    assert [row.place for row in rows] == ["Seals, row 2", "Rings, row 2"]
    assert reader.notes == [
        "sheet Costs is hidden, passed over; show it to have it",
        "sheet Terms: no numbers and prices in it, passed over",
    ]


def test_every_lesser_column_is_read(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [
            ["Stock code", "Makers number", "Make", "Trade", "Ccy", "Pack size", "Price breaks",
             "Valid from", "Valid to", "Lead time", "In stock", "Replaced by", "Details",
             "Condition"],
            ["K-101", "W 320", "Hob & Son", "12.50", "EUR", "pack of 10", "5: 11.90 | 10: 11",
             "1/9/2026", "31 Dec 2026", "2-3 weeks", "20+", "K-101/2", "seal", "N.O.S."],
        ],
        ";",
    )  # fmt: skip
    _, (row,) = list_of(path)
    assert row[2:] == (
        "K-101", "K101", "W 320", "hob", 125000, "EUR", 10, ((5, 119000), (10, 110000)),
        "2026-09-01", "2026-12-31", 21, 20, "K-101/2", "seal", "", 1, "new old stock", "", False,
    )  # fmt: skip


def test_price_on_application_is_no_offer_and_says_so(tmp_path: Path) -> None:
    asked = ["POA", "p.o.a.", "Price on request", "call", "auf Anfrage", "TBA"]
    rows = [[f"K-{at}", "", text] for at, text in enumerate(asked)]
    reader, found = list_of(csv_file(tmp_path / "list.csv", [*PLAIN, *rows]))
    assert [row.why for row in found[2:]] == ["price on application"] * len(asked)
    assert reader.tally.problems == []


def test_a_row_that_breaks_inside_a_cell_counts_as_one_row(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv", [PLAIN[0], ["K-1", "seal\nlarge", "2.00"], ["K-2", "", "x"]]
    )
    reader, rows = list_of(path)
    assert rows[0].text == "seal large"
    assert "row 3, column C" in reader.tally.problems[0].place


def test_an_emoji_in_a_text_does_no_harm(tmp_path: Path) -> None:
    _, rows = list_of(csv_file(tmp_path / "list.csv", [PLAIN[0], ["K-101", "🔧🛢️ 👩‍🏭", "12.50"]]))
    assert (rows[0].text, rows[0].price) == ("🔧🛢️ 👩‍🏭", 125000)


def test_the_marks_that_keep_a_number_as_text_are_taken_off(tmp_path: Path) -> None:
    rows = [['="0012"', "", "1.00"], ["'0013", "", "1.00"]]
    _, found = list_of(csv_file(tmp_path / "list.csv", [*PLAIN, *rows]))
    assert [row.number for row in found[2:]] == ["0012", "0013"]


def shown_as(number_format: str, path: Path) -> Path:
    """A list whose prices are numbers, shown so."""
    made = openpyxl.Workbook()
    sheet = made.worksheets[0]
    for row in (["Part no", "Net price"], ["K-101", 1.5], ["K-102", 12]):
        sheet.append(row)
    for cell in ("B2", "B3"):
        sheet[cell].number_format = number_format
    made.save(path)
    return path


@pytest.mark.parametrize(
    ("shown", "currency"),
    [
        ("[$$-409]#,##0.00", "USD"),
        ("[$€-2] #,##0.00", "EUR"),
        ('"£"#,##0.00', "GBP"),
        ("0.00", "GBP"),
    ],
)
@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_the_currency_that_a_cell_is_shown_in_is_the_prices(
    tmp_path: Path, shown: str, currency: str, kind: str
) -> None:
    path = shown_as(shown, tmp_path / "list.xlsx")
    _, rows = list_of(path if kind == "xlsx" else convert(path, kind, tmp_path))
    assert [(row.price, row.currency) for row in rows] == [(15000, currency), (120000, currency)]


def test_a_bare_dollar_is_also_the_money_of_whoever_looks_and_is_not_believed(
    tmp_path: Path,
) -> None:
    _, rows = list_of(shown_as('"$"#,##0.00', tmp_path / "list.xlsx"))
    assert [row.currency for row in rows] == ["GBP", "GBP"]
