"""Choosing a thrust washer from a printed table, and saying where the table does not answer.

Source of the shape of such a table: TM 5-4210-233-14&P-2, p. 6-152, whose rows leave .016 to .017
open. A figure that falls in a gap is never given the nearest row.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from kitting.engineering.band import Band
from kitting.errors import BadInput, Problem, Problems
from kitting.measure.parse import parse_quantity
from kitting.measure.quantity import Quantity

_RANGE = re.compile(
    r"^(?:(?P<up>up to)|(?P<over>over))?\s*(?P<low>[\d./]+)(?:\s*to\s*(?P<high>[\d./]+))?\s*"
    r"(?P<unit>[a-zµ]+)$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class WasherRow:
    """A row: the range it serves, and the washer, or what else to do.

    An end left None is open to zero or beyond all; `*_itself` False leaves the end out, as
    'under .016' does.
    """

    name: str
    low: Quantity | None = None
    high: Quantity | None = None
    low_itself: bool = True
    high_itself: bool = True
    thickness: Band | None = None

    def __post_init__(self) -> None:
        if self.low is not None and self.high is not None and self.low > self.high:
            raise BadInput(
                Problem(
                    f"row '{self.name}'",
                    f"its range {self.low} to {self.high} is the wrong way round",
                    "the smaller one first",
                )
            )

    def __contains__(self, value: Quantity) -> bool:
        above = self.low is None or value > self.low or (self.low_itself and value == self.low)
        below = self.high is None or value < self.high or (self.high_itself and value == self.high)
        return above and below


def row_said(name: str, said: str) -> WasherRow:
    """Return the row of `name` that serves a range said in words, as a table heads it.

    `0.010 to 0.016 in`, both ends among it; `up to 0.010 in`, itself among it; `over 0.010 to
    0.016 in` and `over 0.016 in`, the figure after 'over' not among it.

    Raises:
        BadInput: no such range, or its ends the wrong way round.
    """
    match = _RANGE.match(said.strip())
    # 'up to' takes one end, a plain range two, 'over' either.
    if match is None or (not match["over"] and bool(match["up"]) == bool(match["high"])):
        right = "0.010 to 0.016 in, up to 0.010 in, over 0.010 to 0.016 in, over 0.016 in"
        raise BadInput(Problem(name, f"'{said}' is no range of float", right))
    unit = parse_quantity(f"1 {match['unit']}").unit
    first = parse_quantity(match["low"], unit)
    if not first.is_length:
        raise BadInput(Problem(name, f"'{said}' is no range of float", "a float is a length"))
    if match["up"]:
        return WasherRow(name, high=first)
    last = parse_quantity(match["high"], unit) if match["high"] else None
    return WasherRow(name, first, last, low_itself=not match["over"])


def in_order(rows: Iterable[WasherRow]) -> tuple[WasherRow, ...]:
    """The rows from the smallest range up."""
    return tuple(sorted(rows, key=lambda row: row.low.base if row.low is not None else Decimal(0)))


@dataclass(frozen=True, slots=True)
class Gap:
    """A range between two rows that neither answers; `on_step` when a printed step lies in it."""

    after: str
    before: str
    low: Quantity
    high: Quantity
    low_itself: bool
    high_itself: bool
    on_step: bool

    def __contains__(self, value: Quantity) -> bool:
        above = value > self.low or (self.low_itself and value == self.low)
        below = value < self.high or (self.high_itself and value == self.high)
        return above and below

    def __str__(self) -> str:
        said = f"the table is open from {self.low} to {self.high.to(self.low.unit)}"
        said += f", between '{self.after}' and '{self.before}'"
        return said if self.on_step else f"{said}, which lies between its printed steps"


@dataclass(frozen=True, slots=True)
class ThrustChoice:
    """The row, or None where the table does not answer; why; and every flaw of the table."""

    row: WasherRow | None
    because: str
    could_be: tuple[str, ...]
    gaps: tuple[Gap, ...]
    overlaps: tuple[str, ...]


def standard_row(
    rows: Iterable[WasherRow], low: Quantity | None, high: Quantity | None
) -> WasherRow | None:
    """The row of the standard washer: it answers for most of the float that a new engine has.

    None where the limits of that float are not known, or no row answers for more of it than others.
    """
    if high is None:
        return None
    low = high - high if low is None else low
    answers = [(_common(row, low, high), row) for row in rows]
    most = max((common for common, _ in answers), default=low - low)
    best = [row for common, row in answers if common == most and common > low - low]
    return best[0] if len(best) == 1 else None


def _common(row: WasherRow, low: Quantity, high: Quantity) -> Quantity:
    """How much of a float from low to high a row answers for."""
    first = low if row.low is None else max(low, row.low)
    last = high if row.high is None else min(high, row.high)
    return last - first


def thrust_gap(end_play: Quantity, nominal: Quantity, washers: Sequence[Quantity]) -> Quantity:
    """x = end play − (nominal − the washers as measured) (TM 5-4210-233-14&P-2, p. 6-152)."""
    in_place = washers[0] - washers[0] if washers else nominal - nominal
    for washer in washers:
        in_place = in_place + washer
    return end_play - (nominal - in_place)


def choose_washer(
    value: Quantity,
    rows: Sequence[WasherRow],
    *,
    step: Quantity | None = None,
    uncertainty: Quantity | None = None,
) -> ThrustChoice:
    """Return the row that answers for `value`, or none with the reason.

    Args:
        value: what the table is entered with.
        rows: in rising order.
        step: the step in which the table is printed, such as .001 in.
        uncertainty: expanded uncertainty of `value`; rows within it are named in `could_be`.

    Raises:
        BadInput: no rows, or rows that do not rise.
    """
    check_rows(rows)
    gaps = find_gaps(rows, step)
    overlaps = find_overlaps(rows)
    fitting = [row for row in rows if value in row]
    could_be = _could_be(value, rows, uncertainty, fitting)
    if len(fitting) == 1:
        row = fitting[0]
        return ThrustChoice(row, f"{value} is in the row '{row.name}'", could_be, gaps, overlaps)
    return ThrustChoice(None, _no_row(value, fitting, gaps), could_be, gaps, overlaps)


def _no_row(value: Quantity, fitting: Sequence[WasherRow], gaps: Sequence[Gap]) -> str:
    if fitting:
        names = " and ".join(f"'{row.name}'" for row in fitting)
        return f"{value} is in the rows {names} at once: the table contradicts itself"
    for gap in gaps:
        if value in gap:
            return f"{value} is in no row: {gap}; measure again, and ask the maker or the grinder"
    return f"{value} is outside the table: measure again, or look for a fuller table"


def _could_be(
    value: Quantity,
    rows: Sequence[WasherRow],
    uncertainty: Quantity | None,
    fitting: Sequence[WasherRow],
) -> tuple[str, ...]:
    if not uncertainty:
        return ()
    low, high = value - uncertainty, value + uncertainty
    touched = [
        row
        for row in rows
        if (row.high is None or row.high > low or low in row)
        and (row.low is None or row.low < high or high in row)
    ]
    return tuple(row.name for row in touched) if touched != list(fitting) else ()


def check_rows(rows: Sequence[WasherRow]) -> None:
    """Refuse a table without rows, or whose rows do not rise.

    Raises:
        BadInput: with every problem found.
    """
    if not rows:
        raise BadInput(Problem("rows", "the table is empty", "give its rows in rising order"))
    problems = Problems()
    for before, after in pairwise(rows):
        if before.high is None or after.low is None:
            problems.add(
                f"rows '{before.name}' and '{after.name}'",
                "an end inside the table is open",
                "only the first row may lack its low end, and the last its high end",
            )
        elif after.low < before.high and after.high is not None and after.high <= before.high:
            problems.add(
                f"rows '{before.name}' and '{after.name}'",
                "they do not rise",
                "list the rows from the smallest range up",
            )
    problems.raise_if_any()


def find_gaps(rows: Sequence[WasherRow], step: Quantity | None = None) -> tuple[Gap, ...]:
    """Every range between neighbouring rows that neither of them answers."""
    gaps = []
    for before, after in pairwise(rows):
        if before.high is None or after.low is None:
            continue
        ends_meet = before.high == after.low and (before.high_itself or after.low_itself)
        if before.high > after.low or ends_meet:
            continue
        low_itself, high_itself = not before.high_itself, not after.low_itself
        gap = Gap(
            before.name, after.name, before.high, after.low, low_itself, high_itself, on_step=True
        )
        gaps.append(gap if step is None else _on_step(gap, step))
    return tuple(gaps)


def _on_step(gap: Gap, step: Quantity) -> Gap:
    if step.base <= 0:
        raise BadInput(Problem("step", f"{step} is not above zero", "give it such as 0.001 in"))
    first = gap.low.ratio(step)
    number = -(-first.numerator // first.denominator)
    if step * number == gap.low and not gap.low_itself:
        number += 1
    return Gap(
        gap.after,
        gap.before,
        gap.low,
        gap.high,
        gap.low_itself,
        gap.high_itself,
        on_step=step * number in gap,
    )


def find_overlaps(rows: Sequence[WasherRow]) -> tuple[str, ...]:
    """Every pair of neighbouring rows that answer for the same figure."""
    found = []
    for before, after in pairwise(rows):
        if before.high is None or after.low is None:
            continue
        meet = before.high == after.low and before.high_itself and after.low_itself
        if before.high > after.low or meet:
            found.append(f"'{before.name}' and '{after.name}' both answer at {after.low}")
    return tuple(found)
