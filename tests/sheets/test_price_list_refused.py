"""Lists that cannot be taken: each fault its sentence, with row and column, in little memory."""

import os
import subprocess
import sys
import zipfile
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.libreoffice import convert
from tests.sheets.price_lists import csv_file, list_of, prices, problems, refused

HEAD = ["Part no", "Description", "Net price"]
OLE = bytes.fromhex("d0cf11e0a1b11ae1")
AS_TEXT = "ask for the list with its numbers as text"


def book(path: Path, *rows: list[Any]) -> Path:
    made = openpyxl.Workbook()
    first: list[Any] = ["K-101", "seal", 12.5]
    for row in (HEAD, first, *rows):
        made.worksheets[0].append(row)
    made.save(path)
    return path


@pytest.mark.parametrize(
    ("price", "said"),
    [
        ("0", "a price of nothing; write POA where there is no price"),
        ("0.00", "a price of nothing; write POA where there is no price"),
        ("-3.50", "a price below nothing: -3.50; give what one pack costs"),
        ("(3.50)", "a price below nothing: (3.50); give what one pack costs"),
        ("3.50-", "a price below nothing: 3.50-; give what one pack costs"),
        ("about six", "'about six' is no price; write a figure, or POA"),
        ("12.50 or so", "'12.50 or so' is no price; write a figure, or POA"),
        ("🔧", "'🔧' is no price; write a figure, or POA"),
        ("=B2*1.2", "the cell holds the formula =B2*1.2; "
                    "save the list with the figure itself there"),
        ("99999999999", "99999999999 is too much for a price; look at the figure"),
        ("0.00001", "0.00001 is too fine for a price; give it for a pack"),
        ("CHF 12.50", "there is no exchange rate for 'CHF'; "
                      "add it to the shop's rates.csv and load that"),
    ],
)  # fmt: skip
def test_a_price_that_is_none_is_told_at_its_cell(tmp_path: Path, price: str, said: str) -> None:
    path = csv_file(tmp_path / "list.csv", [HEAD, ["K-101", "", "12.50"], ["K-102", "", price]])
    assert problems(path) == [f"list.csv, row 3, column C (Net price): {said}"]


@pytest.mark.parametrize(
    ("number", "said"),
    [
        ("1.2E+05", f"the number '1.2E+05' was shortened by a spreadsheet, and its digits are "
                    f"lost; {AS_TEXT}"),
        ("1,20E+11", "the number '1,20E+11' was shortened"),
        ("01-Feb", f"the number '01-Feb' is a date: a spreadsheet has made it of what was typed; "
                   f"{AS_TEXT}"),
        ("Feb-20", "the number 'Feb-20' is a date"),
        ("1/2/2020", "the number '1/2/2020' is a date"),
        ("2020-02-01 00:00:00", "the number '2020-02-01 00:00:00' is a date"),
        ("X" * 5000, "a number of 5,000 characters: 'XXXXXXXXXXXXXXXXXXXX…'; "
                     "a part number has at most 60"),
        ("🔧" * 20, f"the number '{'🔧' * 20}' has no letter or figure"),
        ("=A2", "the number '=A2' is a formula: the number itself is not there"),
        ("---", "the number '---' has no letter or figure"),
    ],
)  # fmt: skip
def test_a_number_that_is_none_is_told_at_its_cell(tmp_path: Path, number: str, said: str) -> None:
    path = csv_file(
        tmp_path / "list.csv", [HEAD, ["K-101", "", "12.50"], ["K-102", "", "3"], [number, "", "3"]]
    )
    (found,) = problems(path)
    assert found.startswith(f"list.csv, row 4, column A (Part no): {said}")


@pytest.mark.parametrize(
    "number", ["12E05", "1-2-20", "10-12", "3/8", "E+05", "MAY-12-A", "1/2-20"]
)
def test_a_number_that_only_looks_odd_is_taken(tmp_path: Path, number: str) -> None:
    path = csv_file(tmp_path / "list.csv", [HEAD, ["K-101", "", "12.50"], [number, "", "3.00"]])
    assert prices(list_of(path)[1])[1] == (number, 30000)


def test_what_a_spreadsheet_made_of_a_cell_is_told(tmp_path: Path) -> None:
    path = book(tmp_path / "list.xlsx", ["K-2", "", "=C2*1.1"], ["=A2", "", 3], ["K-4", "", "#N/A"])
    sheet = (made := openpyxl.load_workbook(path)).worksheets[0]
    sheet.append([date(2026, 2, 1), "", 3])
    sheet.append([120000, "", 3])
    sheet["A7"].number_format = "0.00E+00"
    sheet.append([True, "", 3])
    sheet.append([12345678901234567890, "", 3])
    sheet.append(["K-9", "", date(2026, 2, 1)])
    made.save(path)
    places = [said.removeprefix("list.xlsx, sheet Sheet, ") for said in problems(path)]
    assert [said.partition("; ")[0] for said in places] == [
        "row 3, column C (Net price): the cell holds the formula =C2*1.1",
        "row 4, column A (Part no): the cell holds the formula =A2",
        "row 5, column C (Net price): the cell holds the error #N/A",
        "row 6, column A (Part no): the date 2026-02-01 stands where a number belongs: "
        "a spreadsheet has made it of what was typed",
        "row 7, column A (Part no): the number 120000 was shortened by a spreadsheet, its digits "
        "are lost",
        "row 8, column A (Part no): TRUE (yes/no) stands where a number belongs",
        "row 9, column A (Part no): the number 12345678901234600000 was shortened by a "
        "spreadsheet, its digits are lost",
        "row 10, column C (Net price): 2026-02-01 (date) stands where a price belongs",
    ]


def test_another_programs_sheet_tells_formulas_and_dates_too(tmp_path: Path) -> None:
    path = book(tmp_path / "list.xlsx", ["K-2", "", "=C2*2"], [date(2026, 2, 1), "", 3])
    other = convert(path, "ods", tmp_path / "other")
    said = problems(other)
    assert "row 3, column C (Net price): the cell holds the formula" in said[0]
    assert "row 4, column A (Part no): the date 2026-02-01 stands" in said[1]


def test_lesser_cells_that_make_no_sense_are_told(tmp_path: Path) -> None:
    head = ["Code", "Net", "Pack", "Valid from", "Valid until", "Currency", "Price breaks"]
    path = csv_file(
        tmp_path / "list.csv",
        [
            head,
            ["K-101", "12.50", "10", "1/9/2026", "31/12/2026", "GBP", ""],
            ["K-102", "12.50", "5", "1/9/2026", "31/12/2026", "EUR", "5: 11"],
            ["K-103", "12.50", "lots", "1/9/2026", "31/12/2026", "GBP", ""],
            ["K-104", "12.50", "0", "1/9/2026", "31/12/2026", "GBP", ""],
            ["K-105", "12.50", "1", "9/31/2026", "31/12/2026", "GBP", ""],
            ["K-106", "12.50", "1", "1/9/2026", "31/12/2025", "GBP", ""],
            ["K-107", "12.50", "1", "1/9/2026", "31/12/2026", "XBT", ""],
            ["K-108", "12.50", "1", "1/9/2026", "31/12/2026", "GBP", "five: 11"],
        ],
    )
    assert [said.removeprefix("list.csv, ") for said in problems(path)] == [
        "row 4, column C (Pack): 'lots' is no size of a pack; write a number",
        "row 5, column C (Pack): '0' is no size of a pack; write a number",
        "row 6, column D (Valid from): '9/31/2026' is no day; write it as 2026-09-01 or 1 Sep 2026",
        "row 7, column E (Valid until): the price ends on 2025-12-31, before it begins on "
        "2026-09-01; look at the days",
        "row 8, column F (Currency): there is no exchange rate for 'XBT'; "
        "add it to the shop's rates.csv and load that",
        "row 9, column G (Price breaks): 'five: 11' is no price for more packs; "
        "write 10: 4.20 | 50: 3.9",
    ]


def test_a_heading_in_a_currency_without_a_rate_is_told_at_each_price(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", [["Part no", "Net CHF"], ["K-101", "1"], ["K-102", "2"]])
    assert problems(path) == [
        f"list.csv, row {row}, column B (Net CHF): there is no exchange rate for 'CHF'; "
        "add it to the shop's rates.csv and load that"
        for row in (2, 3)
    ]


def test_a_price_in_another_currency_than_its_row_says_is_told(tmp_path: Path) -> None:
    rows = [["Part no", "Net", "Currency"], ["K-101", "€12.50", "GBP"], ["K-102", "€2", "EUR"]]
    path = csv_file(tmp_path / "list.csv", rows)
    assert problems(path) == [
        "list.csv, row 2, column B (Net): the price is in EUR, yet column C (Currency) says GBP; "
        "make them agree"
    ]


def test_thousands_of_bad_rows_are_counted_and_two_hundred_told(tmp_path: Path) -> None:
    rows = [[f"K-{at}", "", "0"] for at in range(5000)]
    reader, found = list_of(csv_file(tmp_path / "list.csv", [HEAD, ["K", "", "1.00"], *rows]))
    assert (len(reader.tally.problems), reader.tally.faulty) == (200, 5000)
    assert len([row for row in found if row.why == "a price of nothing"]) == 5000


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("list.csv", b"", "the file is empty; give the list that was sent"),
        ("list.csv", b"\xef\xbb\xbf\r\n\r\n", "the file is empty; give the list that was sent"),
        ("list.csv", b"hello there", "no column of numbers and none of prices were found"),
        ("list.pdf", b"%PDF-1.7 ...", "this is a printed page (PDF), not a list"),
        ("list.csv", b"\x89PNG\r\n\x1a\n" + bytes(99), "this is a picture, not a list"),
        ("list.csv", bytes(range(256)) * 9, "this is neither text nor a workbook"),
        ("list.xls", b"<html><table><tr><td>K-101</td></tr></table>", "this is a web page"),
        ("list.xlsx", b"PK\x03\x04 and then the line went dead", "the workbook is damaged"),
        ("list.xls", OLE + bytes(600), "this is an old-style workbook"),
        ("list.csv", b"K-101," + b"x" * 3_000_000, "a line has over a million characters"),
    ],
)  # fmt: skip
def test_a_file_that_is_no_list_is_told_for_what_it_is(
    tmp_path: Path, name: str, content: bytes, said: str
) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    assert refused(path).startswith(f"{name}: {said}")


def test_a_workbook_protected_by_a_password_is_told(tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    locked = "EncryptedPackage".encode("utf-16-le")
    path.write_bytes(OLE + bytes(2_000_000) + locked)
    assert refused(path) == (
        "list.xlsx: the workbook is protected by a password; save a copy without it"
    )


@pytest.mark.parametrize("part", ["xl/vbaProject.bin", "xl/macrosheets/sheet1.xml"])
def test_a_workbook_with_macros_is_refused(tmp_path: Path, part: str) -> None:
    path = book(tmp_path / "list.xlsm")
    with zipfile.ZipFile(path, "a") as packed:
        packed.writestr(part, b"anything")
    assert refused(path) == (
        "list.xlsm: the workbook carries macros, which are never run here; "
        "save it as a workbook without macros (.xlsx)"
    )


def test_a_small_workbook_that_unpacks_without_end_is_refused(tmp_path: Path) -> None:
    path = book(tmp_path / "list.xlsx")
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet2.xml", bytes(300_000_000))
    assert path.stat().st_size < 1_000_000
    assert "far more than its size says; ask for the list as .csv" in refused(path)


def test_a_damaged_workbook_is_told(tmp_path: Path) -> None:
    sound = book(tmp_path / "sound.xlsx")
    path = tmp_path / "list.xlsx"
    with zipfile.ZipFile(sound) as whole, zipfile.ZipFile(path, "w") as packed:
        for part in whole.infolist():
            content = whole.read(part)
            packed.writestr(part, content[:400] if "sheet1" in part.filename else content)
    assert "the workbook is damaged" in refused(path)


def test_a_packed_file_that_is_no_workbook_is_told(tmp_path: Path) -> None:
    path = tmp_path / "list.zip"
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr("list.csv", "K-101,12.50")
    assert "a packed file but no workbook" in refused(path)


def test_a_file_named_as_what_it_is_not_is_read_for_what_it_is_and_told(tmp_path: Path) -> None:
    path = book(tmp_path / "list.xlsx").rename(tmp_path / "list.csv")
    reader, rows = list_of(path)
    assert prices(rows) == [("K-101", 125000)]
    assert reader.notes == ["list.csv is named .csv, yet it is a workbook; read as what it is"]
    other = csv_file(tmp_path / "other.xlsx", [HEAD, ["K-101", "", "12.50"]])
    assert list_of(other)[0].notes == [
        "other.xlsx is named .xlsx, yet it is a text file; read as what it is"
    ]


def test_a_quote_that_is_never_closed_does_not_swallow_the_list(tmp_path: Path) -> None:
    rows = "".join(f"K-{at},seal,1.00\n" for at in range(500))
    path = tmp_path / "list.csv"
    path.write_text(f'Part no,Description,Net price\nK-A,"seal, large,2.00\n{rows}')
    reader, found = list_of(path)
    assert [str(problem) for problem in reader.tally.problems] == [
        'list.csv, row 2: a cell begins with " and does not end: what follows would be lost in it; '
        'close the quote, or take the " away'
    ]
    assert len(prices(found)) == 500


def test_a_folder_and_a_file_that_is_not_there_are_told(tmp_path: Path) -> None:
    assert "this is a folder" in refused(tmp_path)
    assert "the file cannot be read (No such file or directory)" in refused(tmp_path / "gone.csv")


_READ = """
import resource, sys
from pathlib import Path
from typing import Any
from tests.sheets.price_lists import list_of
resource.setrlimit(resource.RLIMIT_AS, (700_000_000, 700_000_000))
reader, rows = list_of(Path(sys.argv[1]))
print(len(rows), rows[-1].row, reader.tally.passed["blank"])
"""


def read_in_little_memory(path: Path) -> str:
    """Read a list in a process that may not have more than 700 MB."""
    ran = subprocess.run(
        [sys.executable, "-c", _READ, str(path)],
        capture_output=True,
        text=True,
        env=os.environ | {"PYTHONPATH": os.getcwd()},
        timeout=300,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr[-600:]
    return ran.stdout.strip()


def test_a_million_empty_rows_and_a_stray_last_cell_cost_no_memory(tmp_path: Path) -> None:
    path = book(tmp_path / "list.xlsx")
    made = openpyxl.load_workbook(path)
    made.worksheets[0].cell(1_048_576, 16_384, "stray")
    made.worksheets[0].cell(1_048_575, 1, "K-102")
    made.worksheets[0].cell(1_048_575, 3, 4)
    made.save(path)
    assert read_in_little_memory(path) == "2 1048575 1048573"


def test_a_million_empty_lines_of_text_cost_no_memory(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    lines = ",,\n" * 1_000_000
    path.write_text(f"Part no,Description,Net price\nK-101,seal,12.50\n{lines}K-102,ring,3.95\n")
    assert read_in_little_memory(path) == "2 1000003 1000000"


def test_a_sheet_that_claims_a_thousand_million_cells_is_read_in_little_memory(
    tmp_path: Path,
) -> None:
    table, office, text = (f"urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"
                           for name in ("table", "office", "text"))  # fmt: skip
    cells = "".join(
        f'<table:table-cell office:value-type="string"><text:p>{words}</text:p></table:table-cell>'
        for words in HEAD
    )
    row = (
        '<table:table-cell office:value-type="string"><text:p>K-101</text:p></table:table-cell>'
        '<table:table-cell/><table:table-cell office:value-type="float" office:value="12.5"/>'
    )
    content = (
        f'<office:document-content xmlns:table="{table}" xmlns:office="{office}" '
        f'xmlns:text="{text}"><office:body><office:spreadsheet><table:table table:name="List">'
        f"<table:table-row>{cells}</table:table-row>"
        f'<table:table-row table:number-rows-repeated="900000">'
        f'<table:table-cell table:number-columns-repeated="16384"/></table:table-row>'
        f"<table:table-row>{row}"
        f'<table:table-cell office:value-type="float" office:value="1" '
        f'table:number-columns-repeated="16384"/></table:table-row>'
        "</table:table></office:spreadsheet></office:body></office:document-content>"
    )
    path = tmp_path / "list.ods"
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        packed.writestr("content.xml", content)
    assert read_in_little_memory(path) == "1 900002 0"
