"""A finding in the words of the command line: 'front 0 = 1.6870', 'seen scoring=deep', 'sound'."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.catalog.nearest import nearest
from kitting.errors import BadInput, NotFound, Problem, Problems
from kitting.job.bench_words import (
    fitted,
    hear_attributes,
    hear_grade,
    hear_number,
    hear_reading,
    same_words,
)
from kitting.job.findings import Finding
from kitting.job.measuring_plan import observations_at, reading_places
from kitting.job.strip_differences import amiss

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import date

    from kitting.catalog.family import Family
    from kitting.catalog.model import Feature, Position
    from kitting.catalog.rules import Observation
    from kitting.job.findings import Reading, Seen

_FORMS = (
    "write one of: 'FEATURE STATION DIRECTION = 1.6870', 'seen OBSERVATION=GRADE', "
    "'fitted NUMBER', 'fitted ATTRIBUTE=VALUE', 'sound', 'note WORDS'"
)


class _Heard:
    """What the pieces said so far."""

    def __init__(self, family: Family, position: Position) -> None:
        self.family = family
        self.position = position
        self.readings: dict[tuple[str, str, str], Reading] = {}
        self.seen: dict[str, Seen] = {}
        self.number = ""
        self.attributes: dict[str, str] = {}
        self.sound = False
        self.notes: list[str] = []
        self.warnings: list[str] = []

    def take(self, piece: str) -> None:
        """Understand one piece, or raise BadInput."""
        verb, _, rest = piece.strip().partition(" ")
        rest = rest.strip()
        match verb.casefold():
            case "sound" if not rest:
                self.sound = True
            case "note" if rest:
                self.notes.append(rest)
            case "seen":
                self._take_seen(rest)
            case "fitted":
                self._take_fitted(rest)
            case _ if "=" in piece:
                self._take_reading(piece)
            case _:
                raise BadInput(Problem("", "nothing is said by it", _FORMS))

    def _take_seen(self, rest: str) -> None:
        name, equals, words = (part.strip() for part in rest.partition("="))
        observations = observations_at(self.position, self.family)
        key = same_words(name, observations) or same_words(
            name, [seen.name for seen in observations.values()]
        )
        found = next((o for o in observations.values() if key in {o.key, o.name}), None)
        if found is None:
            raise self._not_looked_for(name, observations)
        if not equals:
            raise BadInput(
                Problem("", "no grade is given", f"such as 'seen {found.key}={found.grades[-1]}'")
            )
        self.seen[found.key] = hear_grade(*_grade_and_amount(words, found))

    def _not_looked_for(self, name: str, here: Mapping[str, Observation]) -> BadInput:
        if name in self.family.observation_by_key:
            wrong = f"'{name}' is not looked for on {self.position.name}"
            return BadInput(Problem("", wrong, f"use one of: {', '.join(here)}"))
        return NotFound("observation", name, nearest(name, here, 3) or here)

    def _take_fitted(self, rest: str) -> None:
        if "=" in rest:
            self.attributes |= hear_attributes(rest, self.position, self.family)
            return
        heard = hear_number(rest, self.position, self.family)
        self.number = heard.number
        if heard.warning:
            self.warnings.append(heard.warning)

    def _take_reading(self, piece: str) -> None:
        spot, _, figure = piece.partition("=")
        feature, place = _spot(" ".join(spot.split()), self.position, self.family)
        reading = hear_reading(figure, feature, self.family, place)
        self.readings[(feature.key, *place)] = reading


def finding_from_words(
    family: Family,
    position: str,
    pieces: Sequence[str],
    *,
    who: str = "",
    when: date | None = None,
) -> tuple[Finding, tuple[str, ...]]:
    """Return the finding that `pieces` state of a position, and warnings on what was doubtful.

    Args:
        family: the job's edition of the family.
        position: the position's key.
        pieces: 'crankpin-left front 0 = 1.6870' (the feature may be left out where the position
            has only one), 'seen scoring=deep 2 thou', 'fitted C65-1042',
            'fitted height=0.31 in', 'sound', 'note …'.
        who: who looked.
        when: on which day.

    Raises:
        BadInput: with every piece that cannot be taken.
    """
    if position not in family.position_by_key:
        raise NotFound("position", position, nearest(position, family.position_by_key, 3))
    heard = _Heard(family, family.position_by_key[position])
    problems = Problems()
    if not pieces:
        problems.add(position, "nothing is said of it", _FORMS)
    for piece in pieces:
        with problems.at(f"'{piece.strip()}'"):
            heard.take(piece)
    problems.raise_if_any()
    finding = Finding(
        position=position,
        readings=tuple(heard.readings.values()),
        seen=tuple(heard.seen.values()),
        fitted=fitted(heard.number, heard.attributes),
        sound=heard.sound,
        note="; ".join(heard.notes),
        who=who,
        when=when,
        place="command line",
    )
    if finding.sound and amiss(finding, family):
        raise BadInput(
            Problem(position, "it is called sound and damaged at once", "say one of the two")
        )
    return finding, tuple(heard.warnings)


def _grade_and_amount(words: str, observation: Observation) -> tuple[str, Observation, str]:
    """Split 'deep 2 thou' by the longest grade that the words begin with."""
    folded = words.casefold()
    for grade in sorted(observation.grades, key=len, reverse=True):
        amount = words[len(grade) :]
        if folded.startswith(grade.casefold()) and not amount[:1].isalpha():
            return grade, observation, amount.strip(" ,")
    return words, observation, ""


def _spot(words: str, position: Position, family: Family) -> tuple[Feature, tuple[str, str]]:
    """The feature and the place along and round it that `words` name."""
    features = family.features_of.get(position.key, ())
    if not features:
        raise BadInput(
            Problem("", f"nothing is measured at {position.name}", "use 'seen', 'sound' or 'note'")
        )
    spots = {
        " ".join(filter(None, (name, *place))).casefold(): (feature, place)
        for feature in features
        for place in reading_places(feature)
        for name in _names(feature, features)
    }
    found = spots.get(words.casefold())
    if found is None:
        raise NotFound("place to measure", words, nearest(words, spots, 3) or tuple(spots)[:6])
    return found


def _names(feature: Feature, features: Sequence[Feature]) -> tuple[str, ...]:
    short = feature.key.removeprefix(f"{feature.position}-")
    alone = ("",) if len(features) == 1 else ()
    return tuple(dict.fromkeys((feature.key, feature.name, short, *alone)))
