"""Rolling bearings: what a designation means, its sizes and clearance, and how two compare.

Sizes ISO 15, internal clearance classes ISO 5753-1 (see `rolling_tables`).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from kitting.engineering.rolling_tables import (
    BALL,
    BALL_CLEARANCE,
    CLASSES,
    DESIGNATIONS,
    OUTSIDES,
    ROLLER,
    ROLLER_CLEARANCE,
)
from kitting.engineering.sizes import Difference, Size, SizeComparison, compare_sizes
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Limits, Quantity

_EXAMPLES = "write it such as 6205, 6205-2RS C3, NU 205 or NJ 2304"
_TEXT = re.compile(
    r"^(?P<roller>NUP|NU|NJ|NF|N)?\s*(?P<number>\d{2,3}/\d{1,2}|\d{2,5})\s*(?P<rest>.*)$", re.I
)
_SMALL_BORES = {"00": 10, "01": 12, "02": 15, "03": 17}
_CLASS = re.compile(r"(?:^|[\s/-])(C2|CN|C3|C4|C5)(?=$|[\s/-])", re.IGNORECASE)
_SEALED = re.compile(r"(?<![A-Z])(2RS\w*|2RZ|DDU?|LLU?|RS\w*)(?![A-Z])", re.IGNORECASE)
_SHIELDED = re.compile(r"(?<![A-Z])(2Z|ZZ|Z)(?![A-Z])", re.IGNORECASE)
# Boundary dimensions are made to some hundredths (ISO 492): less is no other size.
SAME_SIZE = Quantity.of("0.02", "mm")


@dataclass(frozen=True, slots=True)
class RollingBearing:
    """A rolling bearing: kind, sizes, clearance class, how it is closed; and its designation.

    `flanges` is the letters of a cylindrical roller bearing (N, NU, NJ …), which say which ring
    has ribs: they do not interchange.
    """

    designation: str
    kind: str
    bore: Quantity
    outside: Quantity
    width: Quantity
    clearance_class: str = "CN"
    closure: str = "open"
    flanges: str = ""

    @property
    def dimensions(self) -> dict[str, Quantity]:
        """Bore, outside and width by name."""
        return {"bore": self.bore, "outside": self.outside, "width": self.width}


def parse_bearing(text: str) -> RollingBearing:
    """Return the bearing that a designation names.

    Raises:
        BadInput: no designation of this kind; a series or bore code that the tables have not.
    """
    typed = " ".join(text.split()).upper()
    match = _TEXT.match(typed)
    if match is None or len(typed) > 40:
        raise BadInput(Problem("bearing", f"'{text[:40]}' is no designation here", _EXAMPLES))
    letters, number, rest = match["roller"] or "", match["number"], match["rest"]
    if not letters and number.startswith(("30", "32", "33", "31")) and len(number) >= 5:
        raise BadInput(
            Problem("bearing", f"'{text}' is a taper roller bearing", "its sizes are not kept here")
        )
    series, code = _series_and_code(number, roller=bool(letters))
    if series is None or code is None:
        raise BadInput(Problem("bearing", f"'{text}' is in no series known here", _EXAMPLES))
    kind, dimension_series = DESIGNATIONS[series]
    sizes = OUTSIDES[dimension_series].get(code)
    if sizes is None:
        raise BadInput(
            Problem("bearing", f"the tables have no '{text}'", "measure it: bore, outside, width")
        )
    told = _CLASS.search(f" {rest}")
    return RollingBearing(
        designation=f"{letters}{' ' if letters else ''}{number}",
        kind=kind,
        bore=Quantity.of(bore_of(code), "mm"),
        outside=Quantity.of(sizes[0], "mm"),
        width=Quantity.of(sizes[1], "mm"),
        clearance_class=told.group(1).upper() if told else "CN",
        closure=_closure(rest),
        flanges=letters,
    )


def bore_of(code: str) -> int:
    """Return the bore in mm of a bore code (ISO 15: 00 10, 01 12, 02 15, 03 17, then × 5)."""
    if code.startswith("/"):
        return int(code[1:])
    if len(code) == 1:
        return int(code)
    return _SMALL_BORES.get(code, int(code) * 5)


def _series_and_code(number: str, *, roller: bool) -> tuple[str | None, str | None]:
    """Split a number into its series and bore code: 6205 → 62, 05; 625 → 62, 5; 62/22 → 62, /22."""
    lead = "R" if roller else ""
    if "/" in number:
        series, bore = number.split("/")
        return (lead + series, f"/{bore}") if lead + series in DESIGNATIONS else (None, None)
    # Three figures of a ball bearing end in a bore of one figure (625, 608).
    at = -1 if len(number) == 3 and not roller else -2
    series, code = lead + number[:at], number[at:]
    return (series, code) if series in DESIGNATIONS else (None, None)


def _closure(rest: str) -> str:
    bare = _CLASS.sub(" ", f" {rest}")
    if _SEALED.search(bare):
        return "sealed"
    return "shielded" if _SHIELDED.search(bare) else "open"


def internal_clearance(bearing: RollingBearing, clearance_class: str | None = None) -> Limits:
    """Return the radial internal clearance of a bearing before fitting, µm (ISO 5753-1).

    Raises:
        BadInput: a class or kind that has no row; a bore beyond the tables.
    """
    wanted = (clearance_class or bearing.clearance_class).upper()
    problems = Problems()
    if wanted not in CLASSES:
        problems.add("class", f"'{wanted}' is no clearance class", f"one of {', '.join(CLASSES)}")
    if bearing.kind not in {BALL, ROLLER}:
        problems.add("kind", f"no clearances are kept for {bearing.kind} bearings", "ask its maker")
    problems.raise_if_any()
    table = BALL_CLEARANCE if bearing.kind == BALL else ROLLER_CLEARANCE
    for row in table.split():
        end, *bands = row.split(":")
        if bearing.bore <= Quantity.of(end, "mm"):
            low, high = bands[CLASSES.index(wanted)].split("-")
            return Limits(Quantity.of(low, "µm"), Quantity.of(high, "µm"))
    raise BadInput(Problem("bore", f"{bearing.bore} is beyond the tables", "they end at 100 mm"))


def compare_bearings(
    fitted: RollingBearing, wanted: RollingBearing
) -> tuple[tuple[SizeComparison, ...], tuple[Difference, ...]]:
    """Return the sizes compared, and what else differs: kind, ribs, clearance class, closure."""
    sizes = compare_sizes(fitted.dimensions, wanted.dimensions, SAME_SIZE)
    others = (
        ("kind", fitted.kind, wanted.kind),
        ("ribs", fitted.flanges, wanted.flanges),
        ("internal clearance", fitted.clearance_class, wanted.clearance_class),
        ("closure", fitted.closure, wanted.closure),
    )
    return sizes, tuple(Difference(*one) for one in others if one[1] != one[2])


@cache
def standard_bearings() -> tuple[RollingBearing, ...]:
    """Every bearing of the tables, open and of normal clearance; rollers as NU."""
    return tuple(_all_bearings())


def _all_bearings() -> Iterator[RollingBearing]:
    for series, (kind, dimension_series) in DESIGNATIONS.items():
        letters = "NU " if kind == ROLLER else ""
        for code in OUTSIDES[dimension_series]:
            # Bores of one figure and the odd ones exist as deep groove bearings alone.
            if kind == BALL or (len(code) == 2 and code.isdigit()):
                yield parse_bearing(f"{letters}{series.removeprefix('R')}{code}")


@dataclass(frozen=True, slots=True)
class NearBearing:
    """A standard bearing near a measured one, and how it compares with it."""

    bearing: RollingBearing
    sizes: tuple[SizeComparison, ...]

    @property
    def same_size(self) -> bool:
        """Whether bore, outside and width are the same: 'same size, confirm'."""
        return all(one.size is Size.SAME for one in self.sizes)


def nearest_bearings(
    bore: Quantity, outside: Quantity, width: Quantity, at_most: int = 4
) -> tuple[NearBearing, ...]:
    """Return the standard bearings nearest to measured sizes, the bore counting most.

    Raises:
        BadInput: sizes that are no bearing's.
    """
    problems = Problems()
    for place, size in (("bore", bore), ("outside", outside), ("width", width)):
        if not size.is_length or size.base <= 0:
            problems.add(place, f"{size} is no size", "give a length above zero")
    problems.raise_if_any()
    if outside <= bore:
        problems.add("outside", f"{outside} is not larger than the bore {bore}", "check the order")
    problems.raise_if_any()
    wanted = {"bore": bore, "outside": outside, "width": width}

    def distance(bearing: RollingBearing) -> Quantity:
        return (
            abs(bearing.bore - bore) * 9
            + abs(bearing.outside - outside) * 3
            + abs(bearing.width - width)
        )

    ranked = sorted(standard_bearings(), key=distance)
    return tuple(
        NearBearing(bearing, compare_sizes(bearing.dimensions, wanted, SAME_SIZE))
        for bearing in ranked[:at_most]
    )
