"""A formula, an error and a yes of an OpenDocument sheet are told as they read there."""

from pathlib import Path

import pytest

from tests.sheets.open_document import row_of, sheet_of, text_cell, write_ods
from tests.sheets.price_lists import problems


def formula(said: str, shown: str) -> str:
    return text_cell(shown, f' table:formula="{said}"')


@pytest.mark.parametrize(
    ("said", "shown", "told"),
    [
        ("of:=2*5", "10", "the cell holds the formula =2*5"),
        ("oooc:=[.A1]*2", "10", "the cell holds the formula =[.A1]*2"),
        ("of:=#N/A", "#N/A", "the cell holds the error #N/A"),
        ("of:=TRUE()", "TRUE", "TRUE (yes/no) stands where a price belongs"),
    ],
)
def test_what_a_cell_of_an_open_document_holds_is_told_in_plain(
    tmp_path: Path, said: str, shown: str, told: str
) -> None:
    head = row_of([text_cell("Part"), text_cell("Price")])
    rows = [row_of([text_cell(f"K-{at}"), text_cell(f"{at}.25")]) for at in (1, 2, 3)]
    odd = row_of([text_cell("K-4"), formula(said, shown)])
    (problem,) = problems(write_ods(tmp_path / "list.ods", sheet_of([head, *rows, odd])))
    assert problem.startswith(f"list.ods, sheet Sheet, row 5, column B (Price): {told}; ")
