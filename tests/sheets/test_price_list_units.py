"""A column of units: it says for how many the price is, or nobody can say and a person is asked."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.size import Size
from kitting.sheets.price_lists.units import Kind, Unit, sized, unit_of
from tests.sheets.price_lists import csv_file, fields, list_of, problems


def taken(path: Path, *cells: tuple[str, str], price: str = "Price") -> list[tuple[int, int]]:
    """The pack and its price in pence of rows at 1.50, each with a unit and a pack."""
    rows = [[f"K-{at}", "1.50", unit, pack] for at, (unit, pack) in enumerate(cells)]
    _, found = list_of(csv_file(path / "list.csv", [["Part", price, "UOM", "Pack"], *rows]))
    return [(row.pack, row.price // 100) for row in found if not row.why]


@pytest.mark.parametrize(
    "heading",
    ["Unit", "UOM", "U/M", "U.O.M.", "Unit of measure", "Sold by", "Unit of issue", "ME", "Einheit",
     "Selling unit"],
)  # fmt: skip
def test_a_column_of_units_is_taken(tmp_path: Path, heading: str) -> None:
    rows = [["Part", heading, "Price"], ["K-1", "EA", "1.5"], ["K-2", "pair", "2"]]
    reader, found = list_of(csv_file(tmp_path / "list.csv", rows))
    assert fields(reader)[Field.UNIT] == heading
    assert [(row.pack, row.price) for row in found] == [(1, 15000), (2, 20000)]


def test_a_unit_beside_a_pack_says_what_the_price_is_for(tmp_path: Path) -> None:
    found = taken(tmp_path, ("EA", "10"), ("PK", "10"), ("100", "10"), ("box of 10", "10"))
    assert found == [(10, 1500), (10, 150), (10, 15), (10, 150)]


@pytest.mark.parametrize(
    ("unit", "pack"),
    [("EA", 1), ("each", 1), ("Stk.", 1), ("1", 1), ("pair", 2), ("per pair", 2), ("set of 4", 4),
     ("Set/4", 4), ("100", 100), ("per 100", 100), ("/100", 100), ("100 off", 100), ("dozen", 12),
     ("pack of 25", 25), ("10/pk", 10), ("10er Pack", 10), ("set", 1), ("metre", 1), ("", 1),
     ("-", 1)],
)  # fmt: skip
def test_a_unit_alone_is_the_pack_that_the_price_is_for(
    tmp_path: Path, unit: str, pack: int
) -> None:
    assert taken(tmp_path, (unit, ""), ("EA", "")) == [(pack, 150), (1, 150)]


@pytest.mark.parametrize(
    ("unit", "pack", "said"),
    [
        ("PK", "", "'PK', and it is sold by the pack, and nothing says how many are in one"),
        ("pair", "10", "'pair', and the pack is of 10"),
        ("set", "4", "'set', and the pack is of 4"),
        ("wombat", "", "'wombat' is no unit; write each, pair, set of 4, a number, or nothing"),
    ],
)
def test_where_nothing_decides_the_cell_is_told_and_no_price_is_made(
    tmp_path: Path, unit: str, pack: str, said: str
) -> None:
    path = tmp_path / "list.csv"
    csv_file(path, [["Part", "Price", "UOM", "Pack"], ["K-1", "1.5", unit, pack],
                    ["K-2", "2", "EA", ""], ["K-3", "2", "EA", ""]])  # fmt: skip
    (problem,) = problems(path)
    assert problem.startswith(f"list.csv, row 2, column C (UOM): {said}")
    assert [row.number for row in list_of(path)[1] if not row.why] == ["K-2", "K-3"]
    assert len([row for row in list_of(path, "unit=none")[1] if not row.why]) == 3


@pytest.mark.parametrize(
    ("heading", "unit", "found"),
    [
        ("Unit price", "EA", [(10, 1500)]),
        ("Unit price", "PK", [(10, 150)]),
        ("Price per pack", "EA", [(10, 150)]),
        ("Price per 100", "EA", [(10, 15)]),
        ("Price each", "PK", []),
        ("Price each", "100", []),
    ],
)
def test_a_unit_and_the_heading_of_the_price_must_agree(
    tmp_path: Path, heading: str, unit: str, found: list[tuple[int, int]]
) -> None:
    assert taken(tmp_path, (unit, "10"), price=heading) == found


def test_a_column_of_other_words_is_no_column_of_units(tmp_path: Path) -> None:
    rows = [["Part", "Unit", "Price"], ["K-1", "gearbox", "1.5"], ["K-2", "rear axle", "2"]]
    reader, found = list_of(csv_file(tmp_path / "list.csv", rows))
    assert reader.columns is not None
    assert (reader.columns.left, [row.pack for row in found]) == (("Unit",), [1, 1])


def test_a_unit_of_sale_beside_a_pack_is_a_unit(tmp_path: Path) -> None:
    rows = [["Part", "Unit of sale", "Pack", "Price"], ["K-1", "EA", "10", "1.5"]]
    assert list_of(csv_file(tmp_path / "list.csv", rows))[1][0].price == 150000


def test_prices_for_more_are_for_the_same_unit(tmp_path: Path) -> None:
    rows = [["Part", "Unit", "Price", "10+"], ["K-1", "100", "150", "120"], ["K-2", "EA", "2", "1"]]
    found = list_of(csv_file(tmp_path / "list.csv", rows))[1]
    assert [(row.pack, row.price, row.breaks) for row in found] == [
        (100, 1500000, ((10, 1200000),)), (1, 20000, ((10, 10000),)),
    ]  # fmt: skip


UNITS = st.sampled_from(
    [*(Unit(Kind.COUNT, many) for many in (1, 10, 100)), Unit(Kind.LOT, 2), Unit(Kind.PACK),
     Unit(Kind.ARTICLE)]
)  # fmt: skip


@given(UNITS, st.sampled_from([0, 1, 10, 100]), st.sampled_from([0, 1, 2, 10, 100]))
def test_a_price_is_for_what_the_unit_says_or_it_is_a_question(
    unit: Unit, per: int, pack: int
) -> None:
    found = sized(unit, "Price", per, pack)
    if found.wrong:
        return
    assert not pack or found.pack == pack  # what is said of a pack stands
    if unit.many > 1:
        assert found.per == unit.many
    size = Size(found.per, found.pack)
    if unit.kind is Kind.PACK and not per:
        assert size.of_pack(100) == (100, False)


@given(st.integers(1, 999))
def test_a_number_is_read_the_same_in_every_way_of_writing_a_lot(many: int) -> None:
    for text in (
        f"pack of {many}",
        f"PK{many}",
        f"box/{many}",
        f"{many} per pack",
        f"Set of {many}",
    ):
        assert unit_of(text) == Unit(Kind.LOT, many)
    for text in (f"{many}", f"per {many}", f"{many} pcs", f"{many}'s", f"/{many}"):
        assert unit_of(text) == Unit(Kind.COUNT, many)


@pytest.mark.parametrize("heading", ["Unit", "Per"])
def test_m_beside_c_is_a_thousand_and_c_a_hundred(tmp_path: Path, heading: str) -> None:
    rows = [["K-1", "15.00", "C"], ["K-2", "400.00", "M"], ["K-3", "2.00", "EA"]]
    path = csv_file(tmp_path / "list.csv", [["Part", "Price", heading], *rows])
    assert [(row.pack, row.price, row.why) for row in list_of(path)[1]] == [
        (100, 150000, ""), (1000, 4000000, ""), (1, 20000, ""),
    ]  # fmt: skip


def test_m_without_c_is_a_metre_and_c_without_m_is_asked_about(tmp_path: Path) -> None:
    head = ["Part", "Price", "Unit"]
    path = csv_file(tmp_path / "m.csv", [head, ["K-1", "4.00", "M"], ["K-2", "2.00", "EA"]])
    assert [(row.pack, row.price) for row in list_of(path)[1]] == [(1, 40000), (1, 20000)]
    path = csv_file(tmp_path / "c.csv", [head, ["K-1", "4.00", "C"], ["K-2", "2.00", "EA"]])
    (told,) = problems(path)
    assert "'C' is no unit" in told
