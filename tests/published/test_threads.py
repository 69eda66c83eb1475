"""Threads and nuts against printed tables; each names its source."""

import csv
from decimal import Decimal
from importlib.resources import files

import pytest

from kitting.engineering.nuts import NutHeight, nut_bands, nut_height
from kitting.engineering.thread import effective_diameter, minor_diameter, nut_bore
from kitting.engineering.thread_series import threads_of
from kitting.engineering.thread_text import parse_thread
from kitting.measure import Quantity
from kitting.measure import parse_quantity as q


def rows_of(name: str) -> list[dict[str, str]]:
    text = (files("bd_warehouse") / "data" / name).read_text("utf-8")
    return list(csv.DictReader(text.splitlines()))


def inches(length: Quantity, places: str) -> Decimal:
    return length.value_in("in").quantize(Decimal(places))


# 'Threading tables', chart 1, an oil-engine society's paper: size, threads, effective, core.
BSW = """3/16 24 .1608 .1341; 1/4 20 .2180 .1860; 5/16 18 .2769 .2414; 3/8 16 .3350 .2950;
7/16 14 .3918 .3460; 1/2 12 .4466 .3933; 9/16 12 .5091 .4558; 5/8 11 .5668 .5086;
3/4 10 .6860 .6219; 7/8 9 .8039 .7327; 1 8 .9200 .8399; 1 1/8 7 1.0335 .9420;
1 1/4 7 1.1585 1.0670; 1 1/2 6 1.3933 1.2866; 1 3/4 5 1.6219 1.4939; 2 4.5 1.8577 1.7154"""


@pytest.mark.parametrize("row", [one.strip() for one in BSW.split(";")])
def test_bsw_by_a_printed_chart(row: str) -> None:
    size, count, effective, core = row.rsplit(" ", 3)
    thread = parse_thread(f"{size} BSW")
    assert thread.threads_per_inch == Decimal(count)
    assert abs(effective_diameter(thread).value_in("in") - Decimal(effective)) <= Decimal("0.0001")
    assert abs(minor_diameter(thread).value_in("in") - Decimal(core)) <= Decimal("0.0001")


# A classic-motorcycle dealer's list of British threads: size, threads, core (its tapping size).
CYCLE = """1/8 40 .098; 5/32 32 .123; 3/16 32 .154; 7/32 26 .178; 1/4 26 .209; 9/32 26 .240;
5/16 26 .272; 3/8 26 .334; 7/16 26 .397; 1/2 26 .459; 9/16 26 .522; 5/8 26 .584; 11/16 26 .647;
3/4 26 .709; 7/16 20 .384; 1/2 20 .447; 9/16 20 .509; 5/8 20 .572; 11/16 20 .634; 3/4 20 .697"""


@pytest.mark.parametrize("row", [one.strip() for one in CYCLE.split(";")])
def test_cycle_threads_by_a_printed_list(row: str) -> None:
    """BS 811 as listed. 3/4 × 20 prints .697 here; the .709 of one table is that of 26 threads."""
    size, count, core = row.split()
    thread = parse_thread(f"{size} x {count} cycle")
    assert abs(minor_diameter(thread).value_in("in") - Decimal(core)) <= Decimal("0.001")


# The same list: BSF sizes and threads.
BSF = "3/16:32 7/32:28 1/4:26 5/16:22 3/8:20 7/16:18 1/2:16 9/16:16 5/8:14 3/4:12 7/8:11"
UNF = "1/4:28 5/16:24 3/8:24 7/16:20 1/2:20 9/16:18 5/8:18 3/4:16 7/8:14"


@pytest.mark.parametrize(("series", "text"), [("BSF", BSF), ("UNF", UNF)])
def test_fine_threads_by_a_printed_list(series: str, text: str) -> None:
    for entry in text.split():
        size, count = entry.split(":")
        assert parse_thread(f"{size} {series}").threads_per_inch == int(count)


def test_bsf_by_the_handbook() -> None:
    """Machinery's Handbook, 31st edition, BS 1083 table: threads of each size, 1/4 to 1."""
    counts = [26, 22, 20, 18, 16, 16, 14, 12, 11, 10]
    sizes = ["1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "3/4", "7/8", "1"]
    assert [parse_thread(f"{size} BSF").threads_per_inch for size in sizes] == counts


@pytest.mark.parametrize(
    ("number", "inches_over", "pitch"),
    [
        # E. M. G. Stevens, 'BA thread system'
        (0, ".2362", "1.00"),
        (1, ".2087", "0.90"),
        (2, ".1850", "0.81"),
        (3, ".1614", "0.73"),
        (4, ".1417", "0.66"),
        (12, ".0511", "0.28"),  # printed .0511; 1.3 mm is .0512
    ],
)
def test_ba_sizes(number: int, inches_over: str, pitch: str) -> None:
    thread = parse_thread(f"{number} BA")
    assert abs(thread.major.value_in("in") - Decimal(inches_over)) <= Decimal("0.0001")
    assert thread.pitch == q(f"{pitch} mm")


def test_ba_pitches_and_diameters_follow_their_rule() -> None:
    """BS 93: pitch 0.9 to the power of the number, diameter 6 p^1.2, two figures."""
    for thread in threads_of("BA"):
        pitch = 0.9 ** int(thread.size)
        assert float(thread.pitch.value) == pytest.approx(pitch, abs=0.0051)
        assert float(thread.major.value) == pytest.approx(6 * pitch**1.2, abs=0.051)
        depth = thread.major - effective_diameter(thread)
        assert depth.ratio(thread.pitch) == Decimal("0.6")


@pytest.mark.parametrize(
    ("thread", "effective", "minor"),
    [
        ("1/4 BSW", ".2180", ".1860"),  # BS 84
        ("1/2 BSW", ".4466", ".3933"),  # BS 84
        ("3/8 BSF", ".3430", ".3110"),  # BS 84 (from memory)
        ("1/4 BSF", ".2254", ".2007"),  # BS 84 (from memory; tapping size .201 in the list above)
        ("1/4 UNC", ".2175", ".1887"),  # ASME B1.1, UNR minor (from memory)
        ("1/2 UNF", ".4675", ".4387"),  # ASME B1.1, UNR minor (from memory)
    ],
)
def test_basic_diameters_in_inches(thread: str, effective: str, minor: str) -> None:
    found = parse_thread(thread)
    assert inches(effective_diameter(found), "0.0001") == Decimal(effective)
    assert inches(minor_diameter(found), "0.0001") == Decimal(minor)


@pytest.mark.parametrize(
    ("thread", "effective", "bore"),
    [
        # ISO 724 (from memory)
        ("M6", "5.350", "4.917"),
        ("M8", "7.188", "6.647"),
        ("M8x1", "7.350", "6.917"),
        ("M10", "9.026", "8.376"),
        ("M12", "10.863", "10.106"),
        ("M16", "14.701", "13.835"),
        ("M20", "18.376", "17.294"),
    ],
)
def test_basic_diameters_of_metric_threads(thread: str, effective: str, bore: str) -> None:
    found = parse_thread(thread)
    assert effective_diameter(found).rounded(3) == q(f"{effective} mm")
    assert nut_bore(found).rounded(3) == q(f"{bore} mm")


def test_pipe_threads_by_a_data_package() -> None:
    """bd-warehouse, iso_228_1.csv (ISO 228-1)."""
    printed = {row["size"]: row for row in rows_of("iso_228_1.csv")}
    compared = 0
    for thread in threads_of("BSP"):
        row = printed.get(thread.size)
        if row is None:
            continue
        compared += 1
        assert thread.major.value == Decimal(row["major_diameter"])
        assert thread.threads_per_inch == int(row["tpi"])
        for found, key in (
            (effective_diameter(thread), "pitch_diameter"),
            (minor_diameter(thread), "minor_diameter"),
        ):
            assert abs(found.value_in("mm") - Decimal(row[key])) <= Decimal("0.0011")
    assert compared >= 8


def test_metric_nut_heights_by_a_data_package() -> None:
    """bd-warehouse, hex_nut_parameters.csv: greatest heights of ISO 4032 and ISO 4035."""
    compared = 0
    for row in rows_of("hex_nut_parameters.csv"):
        size = row["Size"].replace("-", " x ")
        if not row["iso4032:m"] or not row["iso4035:m"]:
            continue
        bands = nut_bands(parse_thread(size))
        if "ISO" not in bands.source:
            continue
        compared += 1
        assert bands.regular.high == q(f"{row['iso4032:m']} mm"), size
        assert bands.thin.high == q(f"{row['iso4035:m']} mm"), size
    assert compared >= 10


@pytest.mark.parametrize(
    ("size", "regular", "thin"),
    [("M8", "6.8", "4.0"), ("M12", "10.8", "6.0"), ("M20", "18.0", "10.0")],
)
def test_metric_nut_heights(size: str, regular: str, thin: str) -> None:
    """ISO 4032 and ISO 4035, greatest heights."""
    bands = nut_bands(parse_thread(size))
    assert (bands.regular.high, bands.thin.high) == (q(f"{regular} mm"), q(f"{thin} mm"))


# Machinery's Handbook, 31st edition, BS 1083:1965: ordinary nut and lock-nut, greatest heights.
BS_1083 = """1/4 .200 .185; 5/16 .250 .210; 3/8 .312 .260; 7/16 .375 .275; 1/2 .437 .300;
9/16 .500 .333; 5/8 .562 .375; 3/4 .687 .458; 7/8 .750 .500; 1 .875 .583"""


@pytest.mark.parametrize("row", [one.strip() for one in BS_1083.split(";")])
@pytest.mark.parametrize("series", ["BSW", "BSF"])
def test_bsw_and_bsf_nut_heights_by_the_handbook(series: str, row: str) -> None:
    size, ordinary, lock = row.split()
    thread, exact = parse_thread(f"{size} {series}"), q("0 in")
    assert nut_height(thread, q(f"{ordinary} in"), exact) is NutHeight.REGULAR
    assert nut_height(thread, q(f"{lock} in"), exact) is NutHeight.THIN


# A fastener maker's copy of BS 1083, table 2: the thinner lock-nuts of its other edition.
@pytest.mark.parametrize(
    ("size", "lock"),
    [("1/4", ".133"), ("5/16", ".166"), ("3/8", ".208"), ("7/16", ".250"), ("1/2", ".291")],
)
def test_the_other_editions_lock_nuts_are_thin_too(size: str, lock: str) -> None:
    assert nut_height(parse_thread(f"{size} BSF"), q(f"{lock} in"), q("0 in")) is NutHeight.THIN
