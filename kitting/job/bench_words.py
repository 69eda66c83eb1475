"""What a person at the bench wrote of a part, understood: figures, grades, numbers, attributes.

One hearing for every door: the strip sheet and the command line take the same words and refuse
them with the same sentences. Places are put in front by whoever knows them.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.catalog.model import normal_number
from kitting.catalog.nearest import nearest
from kitting.engineering.seal import parse_seal
from kitting.errors import BadInput, Problem
from kitting.job.findings import Fitted, Reading, Seen
from kitting.job.measuring_plan import attributes_at, parts_at
from kitting.job.plausible import check_plausible
from kitting.measure import parse_quantity

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kitting.catalog.family import Family
    from kitting.catalog.model import Feature, Position
    from kitting.catalog.rules import Observation

CONFIRMED = "!"
_LONGEST_NUMBER = 40
_SLIPS = 2
_SEAL = ("shaft", "housing", "width")
_TICKED = frozenset({"x", "✓", "✔", "☑", "yes", "y", "ok", "sound", "true", "1", "tick"})


@dataclass(frozen=True, slots=True)
class HeardNumber:
    """A number read off a part, and what is to be said of it."""

    number: str
    warning: str = ""


def hear_reading(
    text: str, feature: Feature, family: Family, place: tuple[str, str], instrument: str = ""
) -> Reading:
    """Return the reading that `text` states at `place` (station, direction) of `feature`.

    A bare number takes the feature's unit. An exclamation mark after the figure confirms one that
    would be refused as ten times off.

    Raises:
        BadInput: no figure, of another dimension, or one that can hardly be right.
    """
    typed = text.strip()
    figure = typed.removesuffix(CONFIRMED).rstrip()
    value = parse_quantity(figure, feature.unit)
    if not typed.endswith(CONFIRMED):
        check_plausible(value, feature, family, unit_said=not re.search(r"\d$", figure))
    return Reading(feature.key, *place, typed, value, instrument.strip() or feature.instrument)


def hear_grade(text: str, observation: Observation, amount: str = "") -> Seen:
    """Return the observation in the grade that `text` names, with its amount where one is given.

    Raises:
        BadInput: a grade that the list has not (the nearest is offered), or an amount that is none.
    """
    if not text.strip():
        raise BadInput(
            Problem(
                "",
                f"'{amount.strip()}' says how much, but not what was seen",
                f"choose a grade of {observation.name.lower()}: {', '.join(observation.grades)}",
            )
        )
    grade = same_words(text, observation.grades)
    if grade is None:
        near = nearest(text, observation.grades)
        choose = f"choose one of: {', '.join(observation.grades)}"
        raise BadInput(
            Problem(
                "",
                f"'{text.strip()}' is no grade of {observation.name.lower()}",
                f"did you mean '{near[0]}'? {choose}" if near else choose,
            )
        )
    return Seen(observation.key, grade, parse_quantity(amount) if amount.strip() else None)


def hear_tick(text: str) -> bool:
    """Return whether 'looked at, sound' is ticked.

    Raises:
        BadInput: anything but a tick; what was seen must be written where it belongs.
    """
    typed = text.strip().lower()
    if typed and typed not in _TICKED:
        raise BadInput(
            Problem(
                "",
                f"'{text.strip()}' is no tick",
                "tick only what is sound; else leave it empty and write below what was seen",
            )
        )
    return bool(typed)


def hear_number(text: str, position: Position, family: Family) -> HeardNumber:
    """Return the part number that `text` is, as the catalogue writes it where it has it.

    Spacing, dashes and case do not count, and a maker's key may stand before a colon. A number
    that the catalogue has not is kept as it was read, because the part is there whether or not
    we know it; the warning offers near ones and nothing is put in its place.

    Raises:
        BadInput: the text can be no part number at all.
    """
    typed = " ".join(text.split())
    maker, _, bare = typed.rpartition(":")
    normal = normal_number(bare)
    if not re.search(r"\d", normal) or len(typed) > _LONGEST_NUMBER or "?" in typed:
        raise BadInput(
            Problem(
                "",
                f"'{typed[:_LONGEST_NUMBER]}' is no part number",
                "write the number stamped on it, such as "
                f"{_example_number(position, family)}, or leave it empty",
            )
        )
    known = [
        part.number
        for part in family.parts
        if part.number.normal == normal and maker.lower() in {"", part.number.maker}
    ]
    if known:
        return HeardNumber(known[0].number)
    near = _near_numbers(normal, family)
    offered = f"near it: {', '.join(near)}; " if near else ""
    return HeardNumber(
        typed,
        f"the catalogue has no part number '{typed}'; {offered}kept as what was fitted: "
        "read it again, and measure the part",
    )


def hear_attributes(text: str, position: Position, family: Family) -> Mapping[str, str]:
    """Return the attributes measured off a fitted part: 'height=0.31 in; hand=left'.

    A bare number takes the unit that the catalogue uses for the attribute. A seal's three sizes
    may be written as one: 'size=30x47x7'.

    Raises:
        BadInput: an attribute that no part here has, named twice or without a value.
    """
    usual = attributes_at(position, family)
    measured: dict[str, str] = {}
    problems: list[Problem] = []
    for piece in filter(None, (piece.strip() for piece in text.split(";"))):
        try:
            for key, value in _attributes(piece, usual):
                if key in measured:
                    raise BadInput(Problem("", f"'{key}' stands twice", "write it once"))
                measured[key] = value
        except BadInput as error:
            problems.extend(error.problems)
    if problems:
        raise BadInput(problems)
    return MappingProxyType(measured)


def fitted(number: str, attributes: Mapping[str, str] | None) -> Fitted | None:
    """What was fitted, or None when nothing was said of it."""
    return Fitted(number, attributes or None) if number or attributes else None


def same_words(text: str, words: Iterable[str]) -> str | None:
    """The one of `words` that `text` is, whatever its case and spacing."""
    typed = " ".join(text.split()).casefold()
    return next((word for word in words if " ".join(word.split()).casefold() == typed), None)


def _near_numbers(normal: str, family: Family) -> tuple[str, ...]:
    """Up to three numbers of the catalogue that differ from `normal` by a slip or two."""
    from rapidfuzz import process
    from rapidfuzz.distance import Levenshtein

    numbers = {part.number.normal: part.number.number for part in family.parts}
    found = process.extract(
        normal, list(numbers), scorer=Levenshtein.distance, score_cutoff=_SLIPS, limit=3
    )
    return tuple(numbers[each] for each, _distance, _index in found)


def _attributes(piece: str, usual: Mapping[str, str]) -> list[tuple[str, str]]:
    """The attributes that a piece states: one, or the three sizes of a seal."""
    name, _, value = piece.partition("=")
    if name.strip().casefold() != "size" or "size" in usual or not usual.keys() >= set(_SEAL):
        return [_attribute(piece, usual)]
    seal = parse_seal(value.strip(), parse_quantity(usual["shaft"]).unit)
    return [(name, str(size)) for name, size in seal.dimensions.items()]


def _attribute(piece: str, usual: Mapping[str, str]) -> tuple[str, str]:
    name, equals, value = piece.partition("=")
    if not equals or not name.strip() or not value.strip():
        example = next((f"{key}={shown}" for key, shown in usual.items()), "height=0.31 in")
        raise BadInput(
            Problem("", f"'{piece}' is no measured attribute", f"write it such as {example}")
        )
    key = same_words(name, usual)
    if key is None:
        near = nearest(name, usual)
        known = f"use one of: {', '.join(usual)}" if usual else "write it in the notes"
        raise BadInput(
            Problem(
                "",
                f"no part here is known by its '{name.strip()}'",
                f"did you mean {near[0]}? {known}" if near else known,
            )
        )
    return key, _in_its_unit(value.strip(), usual[key])


def _in_its_unit(value: str, example: str) -> str:
    """Check a figure against the catalogue's unit; words are taken as they are."""
    try:
        unit = parse_quantity(example).unit
    except BadInput:
        return value
    parse_quantity(value, unit)
    return f"{value} {unit}" if re.search(r"\d$", value) else value


def _example_number(position: Position, family: Family) -> str:
    known = parts_at(position, family) or family.parts
    return known[0].number.number if known else "A12-345"
