"""Whether the figures of a list are pounds or pence, as its heading or its title says."""

from pathlib import Path

import pytest

from tests.sheets.price_lists import csv_file, list_of, prices, problems, refused


@pytest.mark.parametrize(
    ("heading", "price"),
    [
        *((each, 15000) for each in (
            "Price (p) each", "Price (p) ex VAT", "Price p. each", "Price GBp", "Price GBX",
            "Price (p)", "Price in pence per 1", "Preis (Cent)", "Price in cents",
        )),
        *((each, 1500000) for each in (
            "Price £ p", "Price (pounds and pence)", "Price GBP", "Preis p. Stück", "Price",
        )),
    ],
)  # fmt: skip
def test_a_heading_says_pence_or_it_does_not(tmp_path: Path, heading: str, price: int) -> None:
    path = csv_file(tmp_path / "list.csv", [["Part", heading], ["K-1", "150"]])
    assert prices(list_of(path)[1]) == [("K-1", price)]


def test_a_title_in_pence_is_believed_and_said_unless_the_heading_says_pounds(
    tmp_path: Path,
) -> None:
    path = tmp_path / "list.csv"
    csv_file(path, [["All prices in pence", ""], ["Part", "Price"], ["K-1", "150"]])
    reader, rows = list_of(path)
    assert prices(rows) == [("K-1", 15000)]
    assert "'All prices in pence' stands above the list: its prices are taken as pence" in (
        reader.notes
    )
    csv_file(path, [["All prices in pence", ""], ["Part", "Price £"], ["K-1", "150"]])
    assert "yet this is headed 'Price £'; make them agree" in refused(path)


def test_prices_for_more_in_one_cell_are_for_the_same_number_as_the_price(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Part", "Price", "Unit", "Pack", "Breaks"], ["K-1", "1.50", "EA", "10", "5: 1.40"]],
    )
    (row,) = list_of(path)[1]
    assert (row.pack, row.price, row.breaks) == (10, 150000, ((5, 140000),))


@pytest.mark.parametrize(
    ("others", "price"),
    [
        (("150", "99.5", "220"), "2.50"),
        (("150", "99.5", "220"), "150.25"),
        (("150", "99.5", "220"), "2.5"),
        (("150.00", "220.00", "99.50"), "2.50"),
        (("150", "220", "310"), "0.99"),
    ],
)
def test_what_looks_like_pounds_in_a_column_of_pence_is_asked_about(
    tmp_path: Path, others: tuple[str, ...], price: str
) -> None:
    rows = [[f"K-{at}", each] for at, each in enumerate((*others, price))]
    path = csv_file(tmp_path / "list.csv", [["Part", "Price (p)"], *rows])
    assert problems(path) == [
        f"list.csv, row 5, column B (Price (p)): {price} in a column of pence: pounds, or as "
        f"little as that?; write £{price} or {price}p"
    ]
    assert len(prices(list_of(path)[1])) == 3


@pytest.mark.parametrize(
    "figures",
    [
        ("150", "99.5", "220", "3"), ("150.00", "99.50", "220.00", "12.25"), ("2.5", "3.5"),
        ("150", "£2.50", "2.50p"), ("1,500", "2.5p", "150"), ("0.50", "0.75", "1.25"),
    ],
)  # fmt: skip
def test_pence_with_decimals_are_pence_where_nothing_speaks_against_it(
    tmp_path: Path, figures: tuple[str, ...]
) -> None:
    rows = [[f"K-{at}", each] for at, each in enumerate(figures)]
    assert problems(csv_file(tmp_path / "list.csv", [["Part", "Price (p)"], *rows])) == []
    headed = csv_file(tmp_path / "pounds.csv", [["Part", "Price"], *rows[:1], ["K-9", "2.50"]])
    assert problems(headed) == []
