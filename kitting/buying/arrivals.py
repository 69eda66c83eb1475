"""Parts whose size matters, judged as they arrive by what was measured of them.

The rule is that of the strip: ISO 14253-1, with the instrument's own uncertainty. A new part that
is proven outside its drawing is the wrong part. What is too near to call, or cannot be measured,
a named person settles (`SETTLE`).

A figure is of one piece and judges no other. Of many alike a sample is measured: while every piece
of it is good the others count as good too; once one is not, each of the others is measured itself.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.buying.replies import counted
from kitting.errors import BadInput, Problem, Problems
from kitting.job.assess import Assessment, Comparison, State, assess
from kitting.job.findings import Reading
from kitting.job.plausible import check_near_drawing
from kitting.measure import Decision, parse_quantity

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from kitting.buying.drawings import Check
    from kitting.catalog.family import Family
    from kitting.job.settings import Settings

# After a figure: it is right as it stands.
CONFIRMED = "!"
_MOST_OF_A_PART = 1_000_000
_TOLD = 12
_WORDS = ("good", "wrong part", "recheck", "not measured")
SETTLE = "kitting order settle"


@dataclass(frozen=True, slots=True)
class Arrival:
    """What the figures prove of a line's `pieces`: so many `inside` their drawing, so many
    `outside`, so many too `near` to call, and of the others nothing yet.

    `telling` are the comparisons that made it so; `missing` says what is not measured.
    """

    pieces: int
    inside: int
    outside: int
    near: int
    telling: tuple[Comparison, ...]
    missing: tuple[str, ...]

    @property
    def by_figures(self) -> tuple[int, int, int]:
        """How many pieces are inside, outside, and too near to call."""
        return self.inside, self.outside, self.near

    @property
    def unmeasured(self) -> int:
        """Of how many pieces nothing is proven yet, and nothing too near to call."""
        return self.pieces - sum(self.by_figures)

    @property
    def is_open(self) -> bool:
        """Whether anything is not proven yet."""
        return bool(self.near or self.unmeasured)

    @property
    def word(self) -> str:
        """What the pieces are, each kind with its number where there are several."""
        counts = (*self.by_figures, self.unmeasured)
        found = {word: count for word, count in zip(_WORDS, counts, strict=True) if count}
        if len(found) == 1:
            return next(iter(found))
        return ", ".join(f"{count} {word}" for word, count in found.items())

    def kept(self, unproven: int) -> Arrival:
        """The same where of the line no more than so many pieces are here unproven: what of it was
        not measured has gone back, and nobody can say which pieces those were."""
        gone = min(self.unmeasured, max(0, self.near + self.unmeasured - unproven))
        if not gone:
            return self
        left = replace(self, pieces=self.pieces - gone, missing=())
        if not left.unmeasured:
            return left
        return replace(left, missing=(counted(left.unmeasured, "piece"),))


def judge_arrival(
    family: Family, checks: Iterable[Check], readings: Iterable[Reading], settings: Settings
) -> Arrival:
    """Hold what was measured against the drawing, and say what follows for the line's pieces."""
    wanted = tuple(checks)
    settings = replace(settings, decide_with=SETTLE)
    by_piece = _by_piece(wanted, readings)
    found = {
        piece: tuple(
            assess(family, check.of_one, mine.get(check.key, ()), settings) for check in wanted
        )
        for piece, mine in by_piece.items()
    }
    apart = any(check.apart for check in wanted)
    pieces = max((check.pieces for check in wanted), default=0)
    states = {piece: _state(each) for piece, each in found.items()}
    counts = {state: list(states.values()).count(state) for state in State}
    sample = max((check.sample for check in wanted), default=0)
    spotless = not (counts[State.BAD] or counts[State.UNDECIDED])
    if not apart:
        counts = {state: count * pieces for state, count in counts.items()}
    elif spotless and counts[State.GOOD] >= sample:
        counts[State.GOOD] = pieces
    # While the sample is spotless no more than the sample is wanted.
    numbers = range(1, (sample if spotless else pieces) + 1)
    assessed = [each for mine in found.values() for each in mine]
    return Arrival(
        pieces,
        counts[State.GOOD],
        counts[State.BAD],
        counts[State.UNDECIDED],
        tuple(_telling(assessed)),
        tuple(_missing(wanted, found, numbers)) if counts[State.GOOD] < pieces else (),
    )


def _by_piece(
    checks: tuple[Check, ...], readings: Iterable[Reading]
) -> Mapping[int, Mapping[str, tuple[Reading, ...]]]:
    """The readings of each piece that was measured, by what was measured of it."""
    by_key = {check.key: check for check in checks}
    found: dict[int, dict[str, tuple[Reading, ...]]] = {}
    for reading in readings:
        check = by_key.get(reading.feature)
        if check is not None:
            mine = found.setdefault(check.piece(reading.station), {})
            mine[check.key] = (*mine.get(check.key, ()), reading)
    return dict(sorted(found.items()))


def _state(assessments: Iterable[Assessment]) -> State:
    """What is proven of one piece: the worst of it, and good only where nothing is missing."""
    states = {State.NOT_MEASURED if each.missing else each.state for each in assessments}
    states |= {each.state for each in assessments}
    for state in (State.BAD, State.UNDECIDED, State.NOT_MEASURED):
        if state in states:
            return state
    return State.GOOD


def _telling(assessments: Sequence[Assessment]) -> Iterator[Comparison]:
    """What is outside or too near to call; where all is good, the nearest of each check."""
    if all(each.state in {State.GOOD, State.NOT_MEASURED} for each in assessments):
        nearest: dict[tuple[str, str], Comparison] = {}
        for each in assessments:
            for test in each.telling:
                other = nearest.setdefault((each.feature.key, test.against), test)
                if test.margin < other.margin:
                    nearest[(each.feature.key, test.against)] = test
        yield from nearest.values()
        return
    for each in assessments:
        for test in each.tests:
            if test.decision is not Decision.GOOD:
                yield test


def _missing(
    checks: tuple[Check, ...], found: Mapping[int, tuple[Assessment, ...]], numbers: range
) -> Iterator[str]:
    """What is still wanted, with the pieces that it is wanted of where not of all."""
    for at, check in enumerate(checks):
        name = check.feature.name
        if not check.apart:
            if not found or any(mine[at].missing for mine in found.values()):
                yield f"{name}{check.places_text}"
            continue
        lacking = [n for n in numbers if n not in found or found[n][at].missing]
        if len(lacking) == len(numbers):
            yield f"{name}{check.places_text}"
        elif lacking:
            told = ", ".join(str(number) for number in lacking[:_TOLD])
            more = f" and {len(lacking) - _TOLD} more" if len(lacking) > _TOLD else ""
            yield f"{name} of piece {told}{more}"


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
    at = check.place(place)
    if at is None:
        wanted = ", ".join(" ".join(filter(None, each)) for each in check.places)
        raise BadInput(Problem("", f"'{place}' is no place of {check.key}", f"one of {wanted}"))
    typed = figure.strip()
    plain = typed.removesuffix(CONFIRMED).rstrip()
    value = parse_quantity(plain, check.feature.unit)
    if plain == typed:
        unit_said = not plain[-1:].isdecimal()
        check_near_drawing(value, check.feature, unit_said=unit_said)
    if abs(value.value) >= _MOST_OF_A_PART:
        raise BadInput(
            Problem(
                "",
                f"'{figure}' is larger than anything measured on a part",
                f"its drawing says {check.limits_text}",
            )
        )
    station, direction = at
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
