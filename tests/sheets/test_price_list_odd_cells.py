"""A column that says what a price is for is never passed over for the cells nobody understands."""

from pathlib import Path

import pytest

from kitting.sheets.price_lists.cells import pack_of
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import csv_file, fields, list_of, problems


def read(path: Path, heading: str, *cells: str, price: str = "15.00") -> list[tuple[int, int]]:
    """Pack and price in pence of the rows that became offers, each with a cell of the column."""
    rows = [[f"K-{at}", price, cell] for at, cell in enumerate(cells)]
    csv_file(path, [["Part", "Price", heading], *rows])
    return [(row.pack, row.price // 100) for row in list_of(path)[1] if not row.why]


@pytest.mark.parametrize(
    ("heading", "cells", "taken", "odd"),
    [
        ("Per", ("100", "C", "Q", "EA"), [(100, 1500), (1, 1500)], 2),
        ("Per", ("C", "C", "Q"), [], 3),
        ("Unit", ("100", "C", "C", "C", "EA"), [(100, 1500), (1, 1500)], 3),
        ("Unit", ("C", "C"), [], 2),
        ("Pack", ("10", "wombat", "some", "", "-"), [(10, 1500), (1, 1500), (1, 1500)], 2),
        ("Pack", ("10", "Paar", "box/25", "bag 50", "pack 10", "set of 4"),
         [(10, 1500), (2, 1500), (25, 1500), (50, 1500), (10, 1500), (4, 1500)], 0),
        ("Per", ("Paar", "dozen", "hundred"), [(2, 1500), (12, 1500), (100, 1500)], 0),
    ],
)  # fmt: skip
def test_cells_that_are_understood_hold_and_the_others_are_told(
    tmp_path: Path, heading: str, cells: tuple[str, ...], taken: list[tuple[int, int]], odd: int
) -> None:
    path = tmp_path / "list.csv"
    assert read(path, heading, *cells) == taken
    said = problems(path)
    assert len(said) == odd
    assert all(f"column C ({heading}): '" in problem for problem in said)


def test_a_pack_of_unknown_size_or_an_article_is_no_number() -> None:
    assert [pack_of(text) for text in ("PK", "set", "m", "0", "C")] == [None] * 5


def test_a_currency_column_in_pence_is_read_as_pence(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    rows = [["K-1", "150", "140", "p"], ["K-2", "150", "140", "GBX"],
            ["K-3", "150", "140", "Pence"],
            ["K-4", "1.50", "1.40", "GBP"], ["K-5", "£1.50", "£1.40", "p"],
            ["K-6", "1.50", "1.40", ""]]  # fmt: skip
    csv_file(path, [["Part", "Price", "10+", "Currency"], *rows])
    reader, found = list_of(path)
    assert fields(reader)[Field.CURRENCY] == "Currency"
    assert {(row.price, row.currency, row.breaks, row.why) for row in found} == {
        (15000, "GBP", ((10, 14000),), "")
    }


def test_prices_for_more_in_one_cell_are_in_pence_too(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    csv_file(path, [["Part", "Price", "Breaks", "Currency"], ["K-1", "150", "10: 140", "p"]])
    assert list_of(path)[1][0].breaks == ((10, 14000),)


def test_a_currency_that_nobody_knows_is_told_and_pence_against_pounds_is_asked(
    tmp_path: Path,
) -> None:
    path = tmp_path / "list.csv"
    rows = [["K-1", "2.00", "Euro"], ["K-2", "2.00", "cowries"], ["K-3", "2.00", "shells"]]
    csv_file(path, [["Part", "Price", "Currency"], *rows])
    assert [row.currency for row in list_of(path)[1] if not row.why] == ["EUR"]
    assert [problem.split(";")[0] for problem in problems(path)] == [
        "list.csv, row 3, column C (Currency): there is no exchange rate for 'COWRIES'",
        "list.csv, row 4, column C (Currency): there is no exchange rate for 'SHELLS'",
    ]
    csv_file(path, [["Part", "Price £", "Currency"], ["K-1", "2.00", "p"]])
    assert problems(path) == [
        "list.csv, row 2, column C (Currency): 'p' is pence, yet column B (Price £) is not; "
        "make them agree"
    ]
