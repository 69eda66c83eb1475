"""Seals, O-rings and rolling bearings against printed lists; each names its source."""

import csv
from decimal import Decimal
from importlib.resources import files

import pytest

from kitting.engineering.o_rings import parse_o_ring, standard_o_rings
from kitting.engineering.rolling import internal_clearance, parse_bearing
from kitting.engineering.seal import parse_seal, seats
from kitting.measure import Limits
from kitting.measure import parse_quantity as q


def rows_of(name: str) -> list[dict[str, str]]:
    text = (files("bd_warehouse") / "data" / name).read_text("utf-8")
    return list(csv.DictReader(text.splitlines()))


def test_every_o_ring_by_a_data_package() -> None:
    """bd-warehouse, o-ring_parameters.csv (ISO 3601-1): all 349 sizes, to 0.01 mm."""
    printed = {
        row["Size"]: (Decimal(row["iso3601:id"]), Decimal(row["iso3601:w"]))
        for row in rows_of("o-ring_parameters.csv")
    }
    assert {ring.dash: ring.millimetres for ring in standard_o_rings()} == printed


@pytest.mark.parametrize(
    ("dash", "inside", "section"),
    [("214", "24.99", "3.53"), ("120", "25.07", "2.62"), ("218", "31.34", "3.53")],
)
def test_o_rings(dash: str, inside: str, section: str) -> None:
    """AS568."""
    assert parse_o_ring(dash).millimetres == (Decimal(inside), Decimal(section))


@pytest.mark.parametrize(
    ("designation", "sizes"),
    [
        # ISO 15
        ("6203", "17 40 12"),
        ("6205", "25 52 15"),
        ("6206", "30 62 16"),
        ("NU 205", "25 52 15"),
        # makers' general lists (from memory)
        ("6004", "20 42 12"),
        ("6007", "35 62 14"),
        ("6200", "10 30 9"),
        ("6210", "50 90 20"),
        ("6302", "15 42 13"),
        ("6306", "30 72 19"),
        ("6404", "20 72 19"),
        ("16004", "20 42 8"),
        ("61804", "20 32 7"),
        ("61906", "30 47 9"),
        ("NJ 306", "30 72 19"),
        ("NU 2206", "30 62 20"),
        ("7206", "30 62 16"),
        ("1206", "30 62 16"),
        ("2205", "25 52 18"),
        ("62/28", "28 58 16"),
        ("63/22", "22 56 16"),
        ("608", "8 22 7"),
    ],
)
def test_boundary_dimensions(designation: str, sizes: str) -> None:
    found = parse_bearing(designation)
    assert [int(size.value) for size in found.dimensions.values()] == [
        int(size) for size in sizes.split()
    ]


LISTS = (
    "single_row_deep_groove_ball_bearing_parameters.csv",
    "single_row_capped_deep_groove_ball_bearing_parameters.csv",
    "single_row_cylindrical_roller_bearing_parameters.csv",
    "single_row_angular_contact_ball_bearing_parameters.csv",
)
# Left out of the comparison: sizes under 10 mm of series that engines do not hold (618/4), a
# 16100 of its own series, rows without a number, and 638-2RZ, which the package prints 6 wide.
NOT_KEPT = ("/4", "/5", "/6", "/7", "/8", "/9", "16100", "–", "638")


def test_boundary_dimensions_by_a_data_package() -> None:
    """bd-warehouse's lists of one maker's bearings."""
    compared = 0
    for row in (row for name in LISTS for row in rows_of(name)):
        designation = row["SKT:Designation"].replace("*", "").replace("E2.", "").strip()
        if not designation or any(part in designation for part in NOT_KEPT):
            continue
        compared += 1
        found = parse_bearing(designation)
        printed = tuple(Decimal(row[f"SKT:{side}"]) for side in "dDB")
        assert tuple(size.value for size in found.dimensions.values()) == printed, designation
    assert compared >= 40


BORES = {10: "6200", 15: "6202", 20: "6204", 30: "6206", 40: "6208", 50: "6210", 65: "6213",
         80: "6216", 100: "6220"}  # fmt: skip
# ISO 5753-1 in a bearing maker's and a stockist's charts (the two agree), bore up to; C2 to C5, µm.
BALLS = {
    10: "0-7 2-13 8-23 14-29 20-37",
    15: "0-9 3-18 11-25 18-33 25-45",
    20: "0-10 5-20 13-28 20-36 28-48",
    30: "1-11 5-20 13-28 23-41 30-53",
    40: "1-11 6-20 15-33 28-46 40-64",
    50: "1-11 6-23 18-36 30-51 45-73",
    65: "1-15 8-28 23-43 38-61 55-90",
    80: "1-15 10-30 25-51 46-71 65-105",
    100: "1-18 12-36 30-58 53-84 75-120",
}
# ISO 5753-1, cylindrical rollers, in a bearing maker's table.
ROLLERS = {
    20: "0-25 20-45 35-60 50-75 65-90",
    30: "0-25 20-45 35-60 50-75 70-95",
    40: "5-30 25-50 45-70 60-85 80-105",
    50: "5-35 30-60 50-80 70-100 95-125",
    65: "10-40 40-70 60-90 80-110 110-140",
    80: "10-45 40-75 65-100 90-125 130-165",
    100: "15-50 50-85 75-110 105-140 155-190",
}


@pytest.mark.parametrize(
    ("prefix", "bore", "printed"),
    [("", bore, text) for bore, text in BALLS.items()]
    + [("NU ", bore, text) for bore, text in ROLLERS.items()],
)
def test_internal_clearances(prefix: str, bore: int, printed: str) -> None:
    bearing = parse_bearing(f"{prefix}{BORES[bore].replace('62', '2') if prefix else BORES[bore]}")
    assert bearing.bore == q(f"{bore} mm")
    for name, text in zip(("C2", "CN", "C3", "C4", "C5"), printed.split(), strict=True):
        low, high = text.split("-")
        assert internal_clearance(bearing, name) == Limits(q(f"{low} µm"), q(f"{high} µm"))


# A seal maker's table of metric seats: shaft h11, bore H8 (ISO 6194-1), µm.
@pytest.mark.parametrize(
    ("seal", "shaft_below", "bore_above"),
    [
        ("8x22x7", 90, 33),
        ("15x26x7", 110, 33),
        ("25x40x7", 130, 39),
        ("45x62x8", 160, 46),
        ("70x90x10", 190, 54),
        ("100x125x12", 220, 63),
    ],
)
def test_seats_of_seals(seal: str, shaft_below: int, bore_above: int) -> None:
    size = parse_seal(seal)
    shaft, housing = seats(size)
    assert shaft == Limits(size.shaft - q(f"{shaft_below} µm"), size.shaft)
    assert housing == Limits(size.housing, size.housing + q(f"{bore_above} µm"))
