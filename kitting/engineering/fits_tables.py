"""The tables of ISO 286: standard tolerances and fundamental deviations, whole micrometres.

ISO 286-1:2010 Tables 1 to 3 and ISO 286-2:2010 (sizes to 500 mm). The tables are kept, not the
formulas they came from: the standard rounded its own results, and a table value beats a formula.
Bands read 'over a, up to and including b'.
"""

from decimal import Decimal
from types import MappingProxyType

# Upper ends of the main bands, mm.
BANDS = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500)
# Upper ends of the bands that r to u need, mm.
FINE_BANDS = (
    3, 6, 10, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315, 355,
    400, 450, 500,
)  # fmt: skip
LARGEST = BANDS[-1]


def _row(text: str) -> tuple[Decimal, ...]:
    return tuple(Decimal(value) for value in text.split())


# Standard tolerances by grade, one value a main band. IT3 serves only the delta of grade 4.
TOLERANCES = MappingProxyType(
    {
        3: _row("2 2.5 2.5 3 4 4 5 6 8 10 12 13 15"),
        4: _row("3 4 4 5 6 7 8 10 12 14 16 18 20"),
        5: _row("4 5 6 8 9 11 13 15 18 20 23 25 27"),
        6: _row("6 8 9 11 13 16 19 22 25 29 32 36 40"),
        7: _row("10 12 15 18 21 25 30 35 40 46 52 57 63"),
        8: _row("14 18 22 27 33 39 46 54 63 72 81 89 97"),
        9: _row("25 30 36 43 52 62 74 87 100 115 130 140 155"),
        10: _row("40 48 58 70 84 100 120 140 160 185 210 230 250"),
        11: _row("60 75 90 110 130 160 190 220 250 290 320 360 400"),
        12: _row("100 120 150 180 210 250 300 350 400 460 520 570 630"),
    }
)
GRADES = tuple(grade for grade in TOLERANCES if grade >= 4)

# Shafts whose upper deviation is fundamental (es, below the zero line), one value a main band.
UPPER_DEVIATIONS = MappingProxyType(
    {
        "d": _row("-20 -30 -40 -50 -65 -80 -100 -120 -145 -170 -190 -210 -230"),
        "e": _row("-14 -20 -25 -32 -40 -50 -60 -72 -85 -100 -110 -125 -135"),
        "f": _row("-6 -10 -13 -16 -20 -25 -30 -36 -43 -50 -56 -62 -68"),
        "g": _row("-2 -4 -5 -6 -7 -9 -10 -12 -14 -15 -17 -18 -20"),
        "h": _row("0 0 0 0 0 0 0 0 0 0 0 0 0"),
    }
)
# Shafts whose lower deviation is fundamental (ei), one value a main band. k: grades 4 to 7 only.
LOWER_DEVIATIONS = MappingProxyType(
    {
        "k": _row("0 1 1 1 2 2 2 3 3 4 4 4 5"),
        "m": _row("2 4 6 7 8 9 11 13 15 17 20 21 23"),
        "n": _row("4 8 10 12 15 17 20 23 27 31 34 37 40"),
        "p": _row("6 12 15 18 22 26 32 37 43 50 56 62 68"),
    }
)
# The same on the fine bands. t begins above 24 mm: the standard leaves the smaller sizes to u.
FINE_LOWER_DEVIATIONS = MappingProxyType(
    {
        "r": _row("10 15 19 23 28 28 34 34 41 43 51 54 63 65 68 77 80 84 94 98 108 114 126 132"),
        "s": _row(
            "14 19 23 28 35 35 43 43 53 59 71 79 92 100 108 122 130 140 158 170 190 208 232 252"
        ),
        "t": _row(
            "0 0 0 0 0 41 48 54 66 75 91 104 122 134 146 166 180 196 218 240 268 294 330 360"
        ),
        "u": _row(
            "18 23 28 33 41 48 60 70 87 102 124 144 170 190 210 236 258 284 315 350 390 435 490 540"
        ),
    }
)
T_BEGINS_ABOVE = 24

# j and J stand about the zero line and have a value for each grade that exists.
J_SHAFT_LOWER = MappingProxyType(
    {
        5: _row("-2 -2 -2 -3 -4 -5 -7 -9 -11 -13 -16 -18 -20"),
        6: _row("-2 -2 -2 -3 -4 -5 -7 -9 -11 -13 -16 -18 -20"),
        7: _row("-4 -4 -5 -6 -8 -10 -12 -15 -18 -21 -26 -28 -32"),
    }
)
J_HOLE_UPPER = MappingProxyType(
    {
        6: _row("2 5 5 6 8 10 13 16 18 22 25 29 33"),
        7: _row("4 6 8 10 12 14 18 22 26 30 36 39 43"),
        8: _row("6 10 12 15 20 24 28 34 41 47 55 60 66"),
    }
)
# Single values that the standard prints against its own rule: hole M6, over 250 to 315.
HOLE_EXCEPTIONS = MappingProxyType({("M", 6, 315): Decimal(-9)})
