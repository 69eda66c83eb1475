"""ISO 286 against printed tables. Each table names its source."""

import pytest

from kitting.engineering.fits import deviations, fit, standard_tolerance
from kitting.measure import Quantity
from kitting.measure import parse_quantity as q

# A size within each main band, 1 to 250 mm.
SIZES = (2, 5, 8, 15, 25, 40, 60, 100, 150, 220)

# The rows of a tool maker's technical reference, 'Tolerances for inside dimensions', p. 281;
# upper and lower, µm, in the order of SIZES where the row is readable there.
HOLES = {
    "J6": "2/-4 5/-3 5/-4 6/-5 8/-5 10/-6 13/-6 16/-6 18/-7 22/-7",
    "J7": "4/-6 6/-6 8/-7 10/-8 12/-9 14/-11 18/-12 22/-13 26/-14 30/-16",
    "J8": "6/-8 10/-8 12/-10 15/-12 20/-13 24/-15 28/-18 34/-20 41/-22 47/-25",
    "K6": "0/-6 2/-6 2/-7 2/-9 2/-11 3/-13 4/-15 4/-18 4/-21 5/-24",
    "K7": "0/-10 3/-9 5/-10 6/-12 6/-15 7/-18 9/-21 10/-25 12/-28 13/-33",
    "K8": "0/-14 5/-13 6/-16 8/-19 10/-23 12/-27 14/-32 16/-38 20/-43 22/-50",
    "M6": "-2/-8 -1/-9 -3/-12 -4/-15 -4/-17 -4/-20 -5/-24 -6/-28 -8/-33 -8/-37",
    "M7": "-2/-12 0/-12 0/-15 0/-18 0/-21 0/-25 0/-30 0/-35 0/-40 0/-46",
    "M8": "-2/-16 2/-16 1/-21 2/-25 4/-29 5/-34 5/-41 6/-48 8/-55 9/-63",
    "N6": "-4/-10 -5/-13 -7/-16 -9/-20 -11/-24 -12/-28 -14/-33 -16/-38 -20/-45 -22/-51",
    "N7": "-4/-14 -4/-16 -4/-19 -5/-23 -7/-28 -8/-33 -9/-39 -10/-45 -12/-52 -14/-60",
    "N8": "-4/-18 -2/-20 -3/-25 -3/-30 -3/-36 -3/-42 -4/-50 -4/-58 -4/-67 -5/-77",
    "H11": "60/0 75/0 90/0 110/0 130/0 160/0 190/0 220/0 250/0 290/0",
    "H12": "100/0 120/0 150/0 180/0 210/0 250/0 300/0 350/0 400/0 460/0",
}
# The same page: half of the tolerance either way, halves of a micrometre printed as they are.
HALVED = {
    "JS6": "3 4 4.5 5.5 6.5 8 9.5 11 12.5 14.5",
    "JS7": "5 6 7.5 9 10.5 12.5 15 17.5 20 23",
    "JS8": "7 9 11 13.5 16.5 19.5 23 27 31.5 36",
    "JS9": "12.5 15 18 21.5 26 31 37 43.5 50 57.5",
}
# The same page: R7 on its fine bands.
R7 = {
    2: "-10/-20", 5: "-11/-23", 15: "-16/-34", 25: "-20/-41", 40: "-25/-50", 60: "-30/-60",
    70: "-32/-62", 90: "-38/-73", 110: "-41/-76", 130: "-48/-88", 150: "-50/-90", 170: "-53/-93",
    190: "-60/-106", 210: "-63/-109", 240: "-67/-113", 260: "-74/-126",
}  # fmt: skip


def limits_of(size: int, code: str) -> str:
    found = deviations(Quantity.of(size, "mm"), code)
    return f"{found.upper}/{found.lower}"


@pytest.mark.parametrize("code", HOLES)
def test_holes_by_a_printed_table(code: str) -> None:
    """Technical reference of a tool maker, tolerances for inside dimensions, p. 281."""
    assert [limits_of(size, code) for size in SIZES] == HOLES[code].split()


@pytest.mark.parametrize("code", HALVED)
def test_symmetrical_deviations_by_a_printed_table(code: str) -> None:
    """The same page, and a shaft of the same class; nothing is rounded to whole micrometres."""
    printed = [f"{half}/-{half}" for half in HALVED[code].split()]
    assert [limits_of(size, code) for size in SIZES] == printed
    assert [limits_of(size, code.lower()) for size in SIZES] == printed


def test_hole_r7_by_a_printed_table() -> None:
    """The same page."""
    assert {size: limits_of(size, "R7") for size in R7} == R7


# K. L. Narayana et al., Machine Drawing, Table 15.2: lower deviations, µm, up to 180 mm.
FUNDAMENTAL = {
    "m": {2: 2, 5: 4, 8: 6, 15: 7, 25: 8, 40: 9, 60: 11, 100: 13, 150: 15},
    "n": {2: 4, 5: 8, 8: 10, 15: 12, 25: 15, 40: 17, 60: 20, 100: 23, 150: 27},
    "p": {2: 6, 5: 12, 8: 15, 15: 18, 25: 22, 40: 26, 60: 32, 100: 37, 150: 43},
    "r": {2: 10, 5: 15, 8: 19, 15: 23, 25: 28, 40: 34, 60: 41, 70: 43, 90: 51, 110: 54,
          130: 63, 150: 65, 170: 68},
    "s": {2: 14, 5: 19, 8: 23, 15: 28, 25: 35, 40: 43, 60: 53, 70: 59, 90: 71, 110: 79,
          130: 92, 150: 100, 170: 108},
    "t": {27: 41, 35: 48, 45: 54, 60: 66, 70: 75, 90: 91, 110: 104, 130: 122, 150: 134, 170: 146},
    "u": {2: 18, 5: 23, 8: 28, 15: 33, 22: 41, 27: 48, 35: 60, 45: 70, 60: 87, 70: 102, 90: 124,
          110: 144, 130: 170, 150: 190, 170: 210},
}  # fmt: skip


@pytest.mark.parametrize("letter", FUNDAMENTAL)
def test_lower_deviations_of_shafts_by_a_printed_table(letter: str) -> None:
    """Narayana, Machine Drawing, Table 15.2 (continued): all grades alike."""
    for size, printed in FUNDAMENTAL[letter].items():
        for grade in (5, 6, 7):
            assert deviations(Quantity.of(size, "mm"), f"{letter}{grade}").lower == printed


def test_upper_deviations_of_larger_shafts_by_a_printed_table() -> None:
    """Narayana, Machine Drawing, Table 15.2: 180 to 500 mm, columns d, e, f, g; j; k."""
    printed = {
        220: (-170, -100, -50, -15, 4),
        260: (-190, -110, -56, -17, 4),
        330: (-210, -125, -62, -18, 4),
        420: (-230, -135, -68, -20, 5),
    }
    for size, row in printed.items():
        nominal = Quantity.of(size, "mm")
        found = [int(deviations(nominal, f"{letter}7").upper) for letter in "defg"]
        assert (*found, int(deviations(nominal, "k6").lower)) == row
        assert deviations(nominal, "k8").lower == 0
    assert [deviations(q("220 mm"), code).lower for code in ("j5", "j6", "j7")] == [-13, -13, -21]


TOLERANCES = {  # a toolholder maker's catalogue, 'Shaft tolerances', p. 139 (h4 to h9)
    4: (3, 4, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20),
    5: (4, 5, 6, 8, 9, 11, 13, 15, 18, 20, 23, 25, 27),
    6: (6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40),
    7: (10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63),
    8: (14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97),
    9: (25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155),
    # a bar maker's tolerance table, ISO h10 to h12, to 315 mm
    10: (40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210),
    11: (60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320),
    12: (100, 120, 150, 180, 210, 250, 300, 350, 400, 460, 520),
}


@pytest.mark.parametrize("grade", TOLERANCES)
def test_standard_tolerances_by_printed_tables(grade: int) -> None:
    ends = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500)
    for end, printed in zip(ends, TOLERANCES[grade], strict=False):
        assert standard_tolerance(Quantity.of(end, "mm"), grade) == printed
        found = deviations(Quantity.of(end, "mm"), f"h{grade}")
        assert (int(found.upper), int(found.lower)) == (0, -printed)


@pytest.mark.parametrize(
    ("size", "code", "printed"),
    [
        # ISO 286-2 as used in textbooks' tables of preferred fits
        (30, "H7", "21/0"),
        (30, "f7", "-20/-41"),
        (30, "g6", "-7/-20"),
        (30, "p6", "35/22"),
        (40, "f7", "-25/-50"),
        (40, "p6", "42/26"),
        (50, "k6", "18/2"),
        (60, "s6", "72/53"),
        (70, "s6", "78/59"),
        (100, "s6", "93/71"),
        # FOSSEE textbook companion 764, example 3.3: 50 H7-s6
        (50, "H7", "25/0"),
        (50, "s6", "59/43"),
        # ISO 286-2:1988/Cor.1:2006, which mends the printed tables
        (100, "E8", "126/72"),
        (25, "R10", "-28/-112"),
        (300, "f9", "-56/-186"),
        # ISO 286-1: the one M6 against the rule
        (300, "M6", "-9/-41"),
        # preferred fits (from memory)
        (25, "D9", "117/65"),
        (25, "F8", "53/20"),
        (25, "G7", "28/7"),
        (25, "N9", "0/-52"),
        (25, "P9", "-22/-74"),
        (25, "P7", "-14/-35"),
        (40, "P8", "-26/-65"),
        (40, "R8", "-34/-73"),
        (40, "S8", "-43/-82"),
        (40, "U8", "-60/-99"),
        (40, "N10", "0/-100"),
        (40, "M9", "-9/-71"),
        (190, "r6", "106/77"),
        (210, "r6", "109/80"),
        (240, "r6", "113/84"),
        (190, "t6", "195/166"),
        (210, "t6", "209/180"),
        (240, "t6", "225/196"),
        (25, "S7", "-27/-48"),
        (25, "U7", "-40/-61"),
        (40, "T7", "-39/-64"),
        (25, "js6", "6.5/-6.5"),
        (40, "JS7", "12.5/-12.5"),
        (5, "K4", "0.5/-3.5"),
    ],
)
def test_single_classes(size: int, code: str, printed: str) -> None:
    assert limits_of(size, code) == printed


def test_a_25_mm_press_fit() -> None:
    """ISO 286-1, 25 H7/p6: interference 1 to 35."""
    found = fit(q("25 mm"), "H7", "p6")
    assert (int(found.clearance_max), int(found.clearance_min)) == (-1, -35)
