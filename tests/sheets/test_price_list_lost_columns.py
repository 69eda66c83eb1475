"""No column that holds anything is lost without a word, headed or not."""

from pathlib import Path

import pytest

from tests.sheets.price_lists import csv_file, list_of, prices


@pytest.mark.parametrize(
    ("one", "ten"), [("1 off", "10 off"), ("1 pcs", "10 pcs"), ("each", "10 off"), ("1+", "10+")]
)
def test_quantities_below_a_merged_heading_have_a_price_each(
    tmp_path: Path, one: str, ten: str
) -> None:
    rows = [
        ["Stock code", "Description", "Pack", "Net price", ""], ["", "", "", one, ten],
        ["K-101", "Stud", "1", "1.25", "1.10"], ["K-102", "Stud", "1", "2.25", "2.10"],
    ]  # fmt: skip
    reader, found = list_of(csv_file(tmp_path / "list.csv", rows))
    assert prices(found) == [("K-101", 12500), ("K-102", 22500)]
    assert [row.breaks for row in found] == [((10, 11000),), ((10, 21000),)]
    assert reader.columns is not None
    assert reader.columns.left == ()


def test_a_column_without_heading_that_holds_anything_is_told(tmp_path: Path) -> None:
    filled = [[f"K-{at}", f"{at}.25", "", "", ""] for at in range(100, 400)]
    filled[250][4] = "x"
    rows = [["Stock code", "Net price", "", "Bin", ""], *filled]
    reader, _ = list_of(csv_file(tmp_path / "list.csv", rows))
    assert reader.columns is not None
    assert reader.columns.left == ("Bin", "column E (no heading)")


def test_a_list_without_headings_tells_the_columns_it_leaves(tmp_path: Path) -> None:
    rows = [["K-101", "1.25", "stud"], ["K-102", "2.25", "nut"], ["K-103", "3.25", "cap"]]
    reader, _ = list_of(csv_file(tmp_path / "list.csv", rows), "text=none")
    assert reader.columns is not None
    assert reader.columns.left == ("column C (no heading)",)
