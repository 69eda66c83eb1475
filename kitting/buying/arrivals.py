"""Parts whose size matters, judged as they arrive by what was measured of them.

The rule is that of the strip: ISO 14253-1, with the instrument's own uncertainty. A new part that
is proven outside its drawing is the wrong part. What is too near to call, or cannot be measured,
a named person settles (`SETTLE`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.catalog.model import Verdict
from kitting.errors import BadInput, Problem, Problems
from kitting.job.assess import Assessment, State, assess
from kitting.job.findings import Reading
from kitting.measure import parse_quantity

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kitting.buying.drawings import Check
    from kitting.catalog.family import Family
    from kitting.job.settings import Settings

_MOST_OF_A_PART = 1_000_000
SETTLE = "kitting order settle"


@dataclass(frozen=True, slots=True)
class Arrival:
    """What the figures prove of one line: the worst of its checks; `missing` are not measured."""

    verdict: Verdict | None
    assessments: tuple[Assessment, ...]
    missing: tuple[str, ...]

    @property
    def is_open(self) -> bool:
        """Whether nothing is proven yet."""
        return self.verdict in {None, Verdict.RECHECK}

    @property
    def word(self) -> str:
        """The verdict in a word."""
        if self.verdict is Verdict.REUSE:
            return "good"
        return str(self.verdict) if self.verdict else "not measured"


def judge_arrival(
    family: Family, checks: Iterable[Check], readings: Iterable[Reading], settings: Settings
) -> Arrival:
    """Hold what was measured against the drawing, and say what follows for the line's pieces."""
    taken = tuple(readings)
    settings = replace(settings, decide_with=SETTLE)
    assessments = []
    missing = []
    for check in checks:
        mine = tuple(reading for reading in taken if reading.feature == check.key)
        found = assess(family, check.feature, mine, settings)
        assessments.append(found)
        if found.missing:
            missing.append(check.feature.name)
    return Arrival(_worst(assessments, missing), tuple(assessments), tuple(missing))


def _worst(assessments: Iterable[Assessment], missing: Iterable[str]) -> Verdict | None:
    states = {each.state for each in assessments}
    if State.BAD in states:
        return Verdict.WRONG_PART
    if State.UNDECIDED in states:
        return Verdict.RECHECK
    if states == {State.GOOD} and not tuple(missing):
        return Verdict.REUSE
    return None


def reading_of(checks: Iterable[Check], text: str, instrument: str = "") -> Reading:
    """Understand 'wall 1 = .0609' (a check, a place where there are several, a figure).

    Raises:
        BadInput: no such check or place, or no figure.
    """
    named, equals, figure = (piece.strip() for piece in text.partition("="))
    by_key = {check.key: check for check in checks}
    check, place = None, ""
    for key in sorted(by_key, key=len, reverse=True):
        if f"{named} ".casefold().startswith(f"{key} ".casefold()):
            check, place = by_key[key], named[len(key) :].strip()
            break
    if check is None or not equals:
        known = ", ".join(f"'{_example(each)}'" for each in by_key.values())
        raise BadInput(
            Problem("", f"'{text}' is no figure of this line", known or "nothing is measured of it")
        )
    return placed_reading(check, place, figure, instrument)


def placed_reading(check: Check, place: str, figure: str, instrument: str = "") -> Reading:
    """A figure at a place ('1', or '1 90' with a direction) of a check.

    Raises:
        BadInput: no such place, no figure, or a figure of another dimension.
    """
    places = {" ".join(filter(None, each)): each for each in check.places}
    if place not in places:
        raise BadInput(
            Problem("", f"'{place}' is no place of {check.key}", f"one of {', '.join(places)}")
        )
    value = parse_quantity(figure, check.feature.unit)
    if abs(value.value) >= _MOST_OF_A_PART:
        raise BadInput(
            Problem(
                "",
                f"'{figure}' is larger than anything measured on a part",
                f"its drawing says {check.limits_text}",
            )
        )
    station, direction = places[place]
    return Reading(check.key, station, direction, figure, value, instrument)


def join_readings(before: Iterable[Reading], after: Iterable[Reading]) -> tuple[Reading, ...]:
    """The readings of a line, a later one in the place of an earlier one at the same place."""
    kept = {(r.feature, r.station, r.direction): r for r in before}
    kept.update({(r.feature, r.station, r.direction): r for r in after})
    return tuple(kept.values())


def readings_of(checks: Iterable[Check], texts: Iterable[str]) -> tuple[Reading, ...]:
    """Understand several figures.

    Raises:
        BadInput: with each that cannot be understood.
    """
    known = tuple(checks)
    problems = Problems()
    readings = []
    for text in texts:
        with problems.at(f"'{text}'"):
            readings.append(reading_of(known, text))
    problems.raise_if_any()
    return join_readings((), readings)


def _example(check: Check) -> str:
    place = " ".join(filter(None, check.places[0]))
    name = f"{check.key} {place}" if place else check.key
    return f"{name} = {check.feature.low or check.feature.high}"
