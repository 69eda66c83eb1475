"""ISO 286 limits and fits: the deviations of a size and code, and what a pair leaves between.

Rules of ISO 286-1:2010: a shaft's fundamental deviation stands in a table and the other one lies
a standard tolerance away; a hole's is the mirror of the shaft's (D to H, and the loose grades of
P to U), or the mirror plus delta = IT(n) − IT(n−1) (K, M, N to grade 8; P to U to grade 7).
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from kitting.engineering.fits_tables import (
    BANDS,
    FINE_BANDS,
    FINE_LOWER_DEVIATIONS,
    GRADES,
    HOLE_EXCEPTIONS,
    J_HOLE_UPPER,
    J_SHAFT_LOWER,
    LARGEST,
    LOWER_DEVIATIONS,
    T_BEGINS_ABOVE,
    TOLERANCES,
    UPPER_DEVIATIONS,
)
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Limits, Quantity

SHAFT_LETTERS = ("d", "e", "f", "g", "h", "j", "js", "k", "m", "n", "p", "r", "s", "t", "u")
HOLE_LETTERS = tuple(letter.upper() for letter in SHAFT_LETTERS)
_CODE = re.compile(r"^\s*(?P<letter>[A-Za-z]{1,2})\s*(?P<grade>\d{1,2})\s*$")
# Delta applies to K, M, N up to this grade, and to P and beyond up to the next.
_DELTA_KMN, _DELTA_P_ON = 8, 7
_K_GRADES = range(4, 8)
_JS_ROUNDED = range(7, 12)


@dataclass(frozen=True, slots=True)
class Code:
    """A tolerance class: letter (capital for a hole) and grade."""

    letter: str
    grade: int

    @property
    def is_hole(self) -> bool:
        """Whether the class is a hole's."""
        return self.letter.isupper()

    def __str__(self) -> str:
        return f"{self.letter}{self.grade}"


@dataclass(frozen=True, slots=True)
class Deviations:
    """Upper and lower deviation from the nominal size, micrometres.

    Whole, but for js and JS of an odd tolerance and the delta of grade 4, where the standard
    itself prints halves. `note` says where the standard has no printed value, or where tables
    differ.
    """

    code: Code
    upper: Decimal
    lower: Decimal
    note: str = ""

    def limits(self, size: Quantity) -> Limits:
        """The limits of size, about the nominal `size`."""
        return Limits(size + Quantity.of(self.lower, "µm"), size + Quantity.of(self.upper, "µm"))


class FitKind(StrEnum):
    """What a fit always, or sometimes, leaves."""

    CLEARANCE = "clearance"
    TRANSITION = "transition"
    INTERFERENCE = "interference"


@dataclass(frozen=True, slots=True)
class IsoFit:
    """A hole and a shaft of one nominal size; clearances in micrometres, negative interference."""

    size: Quantity
    hole: Deviations
    shaft: Deviations

    @property
    def clearance_min(self) -> Decimal:
        """Smallest hole less greatest shaft."""
        return self.hole.lower - self.shaft.upper

    @property
    def clearance_max(self) -> Decimal:
        """Greatest hole less smallest shaft."""
        return self.hole.upper - self.shaft.lower

    @property
    def kind(self) -> FitKind:
        """Clearance, transition or interference (ISO 286-1, 3.3)."""
        if self.clearance_min >= 0:
            return FitKind.CLEARANCE
        return FitKind.TRANSITION if self.clearance_max > 0 else FitKind.INTERFERENCE


def parse_code(text: str) -> Code:
    """Return the tolerance class that `text` names: H7, p6, JS8.

    Raises:
        BadInput: no such letter or grade here.
    """
    match = _CODE.match(text)
    if match is None:
        raise BadInput(
            Problem("code", f"'{text}' is no tolerance class", "a letter and a grade, H7 or p6")
        )
    letter, grade = match["letter"], int(match["grade"])
    problems = Problems()
    if letter not in SHAFT_LETTERS and letter not in HOLE_LETTERS:
        problems.add("code", f"'{letter}' is not a letter known here", "D to U for holes, d to u")
    if grade not in GRADES:
        problems.add("code", f"grade {grade} is not in the tables here", "IT4 to IT12")
    problems.raise_if_any()
    return Code(letter, grade)


def standard_tolerance(size: Quantity, grade: int) -> Decimal:
    """Return the standard tolerance IT of a size, micrometres (ISO 286-1 Table 1).

    Raises:
        BadInput: a size outside the tables, or a grade outside IT4 to IT12.
    """
    parse_code(f"h{grade}")
    return TOLERANCES[grade][_band(size, BANDS)]


def deviations(size: Quantity, code: str | Code) -> Deviations:
    """Return the upper and lower deviation of a size and class, micrometres.

    Raises:
        BadInput: a size outside the tables (to 500 mm), or a class the standard does not give.
    """
    named = parse_code(code) if isinstance(code, str) else code
    return _hole(size, named) if named.is_hole else _shaft(size, named)


def fit(size: Quantity, hole: str, shaft: str) -> IsoFit:
    """Return the fit of a hole and a shaft class at a nominal size.

    Raises:
        BadInput: all that is wrong with size and both classes; hole and shaft exchanged.
    """
    problems = Problems()
    with problems.at("size"):
        _band(size, BANDS)
    with problems.at("hole"):
        _side(parse_code(hole), hole=True)
    with problems.at("shaft"):
        _side(parse_code(shaft), hole=False)
    problems.raise_if_any()
    return IsoFit(size, deviations(size, hole), deviations(size, shaft))


def _side(code: Code, *, hole: bool) -> None:
    if code.is_hole is not hole:
        written = "a capital letter, such as H7" if hole else "a small letter, such as p6"
        place = "hole" if hole else "shaft"
        raise BadInput(Problem("", f"'{code}' is no {place}'s class", f"a {place} has {written}"))


def _band(size: Quantity, ends: tuple[int, ...]) -> int:
    if not size.is_length:
        raise BadInput(Problem("", f"{size} is no size", "give the nominal diameter, 40 mm"))
    if size.base <= 0:
        raise BadInput(Problem("", f"{size} is not above zero", "give the nominal diameter, 40 mm"))
    for index, end in enumerate(ends):
        if size.base <= end:
            return index
    raise BadInput(Problem("", f"{size} is beyond the tables here", f"they end at {LARGEST} mm"))


def _shaft(size: Quantity, code: Code) -> Deviations:
    tolerance = standard_tolerance(size, code.grade)
    if code.letter == "js":
        return _halved(code, tolerance)
    if code.letter in UPPER_DEVIATIONS:
        upper = UPPER_DEVIATIONS[code.letter][_band(size, BANDS)]
        return Deviations(code, upper, upper - tolerance)
    lower = _lower_deviation(size, code)
    return Deviations(code, lower + tolerance, lower)


def _halved(code: Code, tolerance: Decimal) -> Deviations:
    """js and JS: half the tolerance either way, exactly, as tables after ISO 286-2 print it.

    ISO 286-1:1988 lets an odd tolerance of grades 7 to 11 be rounded down to the even one first (a
    note to its table of deviations, here at second hand), and some printed tables do so.
    """
    note = ""
    if code.grade in _JS_ROUNDED and tolerance % 2:
        note = (
            f"{code}: the exact half of {tolerance} µm, as tables after ISO 286-2 have it; some "
            f"round it to ±{(tolerance - 1) / 2} µm"
        )
    return Deviations(code, tolerance / 2, -tolerance / 2, note)


def _lower_deviation(size: Quantity, code: Code) -> Decimal:
    letter, band = code.letter, _band(size, BANDS)
    if letter == "j":
        return _listed(J_SHAFT_LOWER, code)[band]
    if letter == "k" and code.grade not in _K_GRADES:
        return Decimal(0)
    if letter in LOWER_DEVIATIONS:
        return LOWER_DEVIATIONS[letter][band]
    if letter == "t" and size.base <= T_BEGINS_ABOVE:
        raise BadInput(
            Problem(
                "code",
                f"the standard gives no {code} at {size}",
                f"t begins above {T_BEGINS_ABOVE} mm: use u",
            )
        )
    return FINE_LOWER_DEVIATIONS[letter][_band(size, FINE_BANDS)]


def _hole(size: Quantity, code: Code) -> Deviations:
    tolerance, letter = standard_tolerance(size, code.grade), code.letter
    shaft_letter = letter.lower()
    if letter == "JS":
        return _halved(code, tolerance)
    band = _band(size, BANDS)
    if shaft_letter in UPPER_DEVIATIONS:
        lower = -UPPER_DEVIATIONS[shaft_letter][band]
        return Deviations(code, lower + tolerance, lower)
    if letter == "J":
        upper = _listed(J_HOLE_UPPER, code)[band]
        return Deviations(code, upper, upper - tolerance)
    upper, note = _upper_deviation(size, code, band)
    return Deviations(code, upper, upper - tolerance, note)


def _upper_deviation(size: Quantity, code: Code, band: int) -> tuple[Decimal, str]:
    """The upper deviation of a hole K to U, by the special rules of ISO 286-1."""
    exception = HOLE_EXCEPTIONS.get((code.letter, code.grade, BANDS[band]))
    if exception is not None:
        return exception, "the standard prints this value against its own rule"
    smallest = band == 0
    if code.letter == "K" and code.grade > _DELTA_KMN:
        note = "" if smallest else "ISO 286-2 prints no such hole above 3 mm: general rule"
        return Decimal(0), note
    if code.letter == "N" and code.grade > _DELTA_KMN and not smallest:
        return Decimal(0), ""
    # The mirror of the shaft: K mirrors the k of grades 4 to 7.
    grade = min(code.grade, _K_GRADES[-1]) if code.letter == "K" else code.grade
    mirrored = -_lower_deviation(size, Code(code.letter.lower(), grade))
    with_delta = _DELTA_KMN if code.letter in {"K", "M", "N"} else _DELTA_P_ON
    if smallest or code.grade > with_delta:
        return mirrored, ""
    delta = TOLERANCES[code.grade][band] - TOLERANCES[code.grade - 1][band]
    return mirrored + delta, ""


def _listed(grades: Mapping[int, tuple[Decimal, ...]], code: Code) -> tuple[Decimal, ...]:
    if code.grade not in grades:
        known = ", ".join(f"{code.letter}{grade}" for grade in grades)
        raise BadInput(Problem("code", f"the standard gives no {code}", f"it gives {known}"))
    return grades[code.grade]
