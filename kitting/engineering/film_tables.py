"""Full journal bearings of finite length: the numerical solutions of Raimondi and Boyd.

A. A. Raimondi and J. Boyd, 'A solution for the finite journal bearing and its application to
analysis and design, part III', ASLE Transactions 1, 1958; the table of dimensionless performance
parameters as reprinted in machine-design textbooks (from memory). Rows at eccentricity ratios 0.1,
0.2, 0.4, 0.6, 0.8, 0.9, 0.97 (the infinite bearing ends at 0.9).
"""

from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Row:
    """One eccentricity: Sommerfeld number, friction (r/c) f, flow Q/(r c N l), side share Qs/Q."""

    eccentricity: Decimal
    sommerfeld: Decimal
    friction: Decimal
    flow: Decimal
    side: Decimal


def _rows(text: str) -> tuple[Row, ...]:
    return tuple(Row(*(Decimal(number) for number in line.split())) for line in text.split(";"))


INFINITE = "infinite"
# Length over diameter → rows, from the lightest load to the heaviest.
TABLES = MappingProxyType(
    {
        INFINITE: _rows(
            "0.1 0.240 4.80 3.03 0; 0.2 0.123 2.57 2.83 0; 0.4 0.0626 1.52 2.26 0;"
            "0.6 0.0389 1.20 1.56 0; 0.8 0.0210 0.961 0.760 0; 0.9 0.0115 0.756 0.411 0"
        ),
        "1": _rows(
            "0.1 1.33 26.4 3.37 0.150; 0.2 0.631 12.8 3.59 0.280; 0.4 0.264 5.79 3.99 0.497;"
            "0.6 0.121 3.22 4.33 0.680; 0.8 0.0446 1.70 4.62 0.842; 0.9 0.0188 1.05 4.74 0.919;"
            "0.97 0.00474 0.514 4.82 0.973"
        ),
        "1/2": _rows(
            "0.1 4.31 85.6 3.43 0.173; 0.2 2.03 40.9 3.72 0.318; 0.4 0.779 17.0 4.29 0.552;"
            "0.6 0.319 8.10 4.85 0.730; 0.8 0.0923 3.26 5.41 0.874; 0.9 0.0313 1.60 5.69 0.939;"
            "0.97 0.00609 0.610 5.88 0.980"
        ),
        "1/4": _rows(
            "0.1 16.2 322 3.45 0.180; 0.2 7.57 153 3.76 0.330; 0.4 2.83 61.1 4.37 0.567;"
            "0.6 1.07 26.7 4.99 0.746; 0.8 0.261 8.80 5.60 0.884; 0.9 0.0736 3.50 5.91 0.945;"
            "0.97 0.0101 0.922 6.12 0.984"
        ),
    }
)


def weights(slenderness: Decimal) -> dict[str, Decimal]:
    """How much of each table makes up a bearing of length over diameter `slenderness`.

    Raimondi and Boyd's interpolation, for l/d of a quarter or more:
    y = (l/d)⁻³ [ −⅛ (1 − x)(1 − 2x)(1 − 4x) y∞ + ⅓ (1 − 2x)(1 − 4x) y₁
    − ¼ (1 − x)(1 − 4x) y½ + 1/24 (1 − x)(1 − 2x) y¼ ], x = l/d. The weights add up to one.
    """
    x = slenderness
    one, two, four = 1 - x, 1 - 2 * x, 1 - 4 * x
    return {
        INFINITE: -one * two * four / 8 / x**3,
        "1": two * four / 3 / x**3,
        "1/2": -one * four / 4 / x**3,
        "1/4": one * two / 24 / x**3,
    }
