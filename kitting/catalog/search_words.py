"""Words and figures that describe a part, and whether a part answers them."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from functools import cached_property
from itertools import permutations
from typing import TYPE_CHECKING

from kitting.catalog.attributes import figure_in, same_value, tidy
from kitting.catalog.model import normal_number
from kitting.catalog.nearest import nearest
from kitting.measure import UNITS, UnitMismatch

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.model import Part
    from kitting.measure import Quantity

_RANGE = re.compile(r"(?P<low>\d*\.?\d+)\.\.(?P<high>\d*\.?\d+)(?P<unit>[a-zµ]*)")
_SIZES = re.compile(r"\d[\d./]*(x[\d./]+)+")
_PAIR = re.compile(r"([\w-]+)\s*=\s*([^;]+)")
_ALSO_CALLED: Mapping[str, tuple[str, ...]] = {
    "id": ("bore", "inside", "shaft"),
    "od": ("outside", "housing"),
}
_MOST_SIZES = 4


@dataclass(frozen=True, slots=True)
class Band:
    """Figures between two bounds, of the attributes named or of any; in a unit or in their own."""

    names: tuple[str, ...]
    low: Decimal
    high: Decimal
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Asked:
    """A query taken apart; a part must answer all of it."""

    words: tuple[str, ...]
    pairs: tuple[tuple[str, str], ...] = ()
    bands: tuple[Band, ...] = ()
    sizes: tuple[str, ...] = ()


def take_apart(query: str, names: Collection[str]) -> Asked:
    """Take a query apart; `names` are the names that attributes have.

    `bore=0.25 in` is a pair, `1.248..1.250` a band (of the attribute named just before it), and
    `30x47x7` sizes; all else are words.
    """
    text = tidy(query)
    pairs = tuple((name, said.strip()) for name, said in _PAIR.findall(text))
    words: list[str] = []
    bands: list[Band] = []
    sizes: list[str] = []
    rest = re.sub(r"\s*\.\.\s*", "..", _PAIR.sub(" ", text).replace(";", " "))
    for token in rest.split():
        match = _RANGE.fullmatch(token)
        if match:
            named = bool(words) and (words[-1] in names or words[-1] in _ALSO_CALLED)
            name = words.pop() if named else ""
            bands.append(
                Band(_called(name), Decimal(match["low"]), Decimal(match["high"]), match["unit"])
            )
        elif _SIZES.fullmatch(token):
            sizes.append(token)
        else:
            words.append(token)
    return Asked(tuple(words), pairs, tuple(bands), tuple(sizes))


def _called(name: str) -> tuple[str, ...]:
    return _ALSO_CALLED.get(name, (name,) if name else ())


def mended(words: Iterable[str], known: Collection[str]) -> str:
    """The words with each unknown one as the nearest known; empty when that cannot be done."""
    told = []
    for word in words:
        near = (word,) if word in known else nearest(word, known)
        if not near:
            return ""
        told.append(near[0])
    return " ".join(told)


@dataclass(frozen=True)
class Described:
    """A part with all the words that it may be found by; `places` are where it fits."""

    part: Part
    places: tuple[str, ...] = ()

    @cached_property
    def words(self) -> Mapping[str, int]:
        """Each word with its weight: the name, the kind, where it fits, the rest."""
        found: dict[str, int] = {}
        attributes = (word for pair in self.part.attributes.items() for word in pair)
        for weight, texts in (
            (5, (self.part.name,)),
            (4, (self.part.kind,)),
            (2, self.places),
            (1, (*attributes, self.part.note, self.part.number.maker)),
        ):
            for text in texts:
                for word in re.findall(r"[\w./-]+", tidy(text)):
                    for piece in {word, *word.split("-")}:
                        found[piece] = max(found.get(piece, 0), weight)
        return found

    @cached_property
    def figures(self) -> Mapping[str, Quantity]:
        """The attributes that are figures."""
        read = ((name, figure_in(said)) for name, said in self.part.attributes.items())
        return {name: figure for name, figure in read if figure is not None}

    def answers(self, asked: Asked) -> int:
        """How well it answers, above zero; zero where anything asked does not agree."""
        score = 1
        for word in asked.words:
            weight = self._weight(word)
            if not weight:
                return 0
            score += weight
        agreed = (
            all(self._has(name, said) for name, said in asked.pairs)
            and all(self._within(band) for band in asked.bands)
            and all(self._sized(size) for size in asked.sizes)
        )
        return score if agreed else 0

    def _weight(self, word: str) -> int:
        if word in self.words:
            return 2 * self.words[word]
        begins = [weight for known, weight in self.words.items() if known.startswith(word)]
        number = normal_number(word)
        if number and any(mark.isdigit() for mark in word):
            begins += [1] if self.part.number.normal.startswith(number) else []
        pieces = word.split("-")
        if not begins and len(pieces) > 1 and all(pieces):
            return min(self._weight(piece) for piece in pieces)
        return max(begins, default=0)

    def _has(self, name: str, said: str) -> bool:
        for called in _called(name):
            value = self.part.attributes.get(called)
            if value is None:
                continue
            figure = self.figures.get(called)
            bare = f"{said} {figure.unit}" if figure is not None else said
            if same_value(value, said) or same_value(value, bare):
                return True
        return False

    def _within(self, band: Band) -> bool:
        figures = [f for name, f in self.figures.items() if not band.names or name in band.names]
        return any(
            number is not None and band.low <= number <= band.high
            for number in (_in_unit(figure, band.unit) for figure in figures)
        )

    def _sized(self, size: str) -> bool:
        """Whether the sizes are one attribute's own text, or figures of as many attributes."""
        if any(tidy(said).startswith(size) for said in self.part.attributes.values()):
            return True
        try:
            wanted = [Decimal(number) for number in size.split("x")]
        except InvalidOperation:
            return False
        if len(wanted) > _MOST_SIZES:
            return False
        have = [figure.value for figure in self.figures.values()]
        return any(list(some) == wanted for some in permutations(have, len(wanted)))


def _in_unit(figure: Quantity, unit: str) -> Decimal | None:
    if not unit:
        return figure.value
    try:
        return figure.value_in(UNITS[unit])
    except (KeyError, UnitMismatch):
        return None
