"""Words and figures that describe a part, and whether a part answers them."""

from __future__ import annotations

import re
from collections import deque
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from functools import cached_property, lru_cache
from itertools import permutations
from typing import TYPE_CHECKING, Protocol

from kitting.catalog.attributes import figure_in, same_value, tidy
from kitting.catalog.figure_words import also_said, as_asked, is_figure, is_unit, plain_figure
from kitting.catalog.model import normal_number
from kitting.measure import UNITS, UnitMismatch

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Mapping

    from kitting.catalog.model import Part
    from kitting.measure import Quantity

# Written so that a row of a thousand figures is gone through once.
_NUMBER = r"(?:\d+(?:\.\d+)?|\.\d+)"
_RANGE = re.compile(rf"(?P<low>{_NUMBER})\.\.(?P<high>{_NUMBER})(?P<unit>[a-zµ]*)")
_SIZES = re.compile(r"\d[\d./]*(x[\d./]+)+")
_BOUND = re.compile(
    rf"\s*(?P<sign><=|>=|≤|≥)\s*(?P<figure>{_NUMBER})(?:\s*(?P<unit>[a-zµ]+)(?![\w-]))?"
)
# A range whose figures have their unit set apart, or each its own.
_UNITS_APART = re.compile(
    rf"(?<![\d.])(?P<low>{_NUMBER})(?:\s*(?P<first>[a-zµ]+))?\s*\.\.\s*(?P<high>{_NUMBER})"
    r"(?:\s*(?P<unit>[a-zµ]+)(?![\w-]))?"
)
# Beyond any figure that a part has, in any unit.
_NO_LIMIT = "1000000"
_WORD = re.compile(r"[\w./-]+")
_PAIR = re.compile(r"([\w-]+)\s*=\s*([^;]+)")
_ALSO_CALLED: Mapping[str, tuple[str, ...]] = {
    "id": ("id", "bore", "inside", "shaft"),
    "od": ("od", "outside", "housing"),
}
# What people put between the words that they mean.
_SMALL = frozenset({"an", "and", "fits", "for", "from", "of", "on", "the", "to", "with"})
_MOST_SIZES = 4
# A shorter word must be whole: `id` is not the beginning of `idler`, nor `20` of a part number.
SHORTEST_BEGINNING = 3


@dataclass(frozen=True, slots=True)
class Band:
    """Figures between two bounds, of the attributes named or of any; in a unit or in their own."""

    names: tuple[str, ...]
    low: Decimal
    high: Decimal
    unit: str = ""

    def __str__(self) -> str:
        return f"{self.names[0] if self.names else ''} {self.low}..{self.high}{self.unit}".strip()


@dataclass(frozen=True, slots=True)
class Asked:
    """A query taken apart; a part must answer all of it."""

    words: tuple[str, ...]
    pairs: tuple[tuple[str, str], ...] = ()
    bands: tuple[Band, ...] = ()
    sizes: tuple[str, ...] = ()

    def things(self) -> tuple[tuple[str, Asked], ...]:
        """Each thing asked, as it is said and as a query of its own."""
        return (
            *((word, Asked((word,))) for word in self.words),
            *((str(band), Asked((), (), (band,))) for band in self.bands),
            *((size, Asked((), (), (), (size,))) for size in self.sizes),
            *((f"{name}={said}", Asked((), ((name, said),))) for name, said in self.pairs),
        )

    @property
    def said(self) -> str:
        """A query that asks this."""
        pairs = "; ".join(f"{name}={said}" for name, said in self.pairs)
        return " ".join(filter(None, (*self.words, *map(str, self.bands), *self.sizes, pairs)))

    def said_as(self, others: Mapping[str, str]) -> Asked:
        """The same, with some things said otherwise, or left out where nothing else is said."""
        words = tuple(filter(None, (others.get(word, word) for word in self.words)))
        kept = (thing for said, thing in self.things() if not thing.words and said not in others)
        return sum(kept, Asked(words))

    def __add__(self, other: Asked) -> Asked:
        return Asked(
            self.words + other.words,
            self.pairs + other.pairs,
            self.bands + other.bands,
            self.sizes + other.sizes,
        )


def take_apart(query: str, names: Container[str]) -> Asked:
    """Take a query apart; `names` are the names that attributes have.

    `bore=0.25 in` is a pair, as is `id 0.25 in`; `1.248..1.250` is a band (of the attribute named
    just before it), as is `height<=4`; `30x47x7` are sizes; all else are words. Small words between
    others do not count.
    """
    text = _UNITS_APART.sub(_with_unit, _BOUND.sub(_as_range, tidy(query)))
    pairs = [(name, said.strip()) for name, said in _PAIR.findall(text)]
    words: list[str] = []
    bands: list[Band] = []
    sizes: list[str] = []
    rest = re.sub(r"\s*\.\.\s*", "..", _PAIR.sub(" ", text).replace(";", " "))
    tokens = deque(rest.split())
    while tokens:
        token = tokens.popleft()
        match = _RANGE.fullmatch(token)
        if match:
            named = bool(words) and (words[-1] in names or words[-1] in _ALSO_CALLED)
            name = words.pop() if named else ""
            bands.append(
                Band(called(name), Decimal(match["low"]), Decimal(match["high"]), match["unit"])
            )
        elif _SIZES.fullmatch(token):
            sizes.append(token)
        elif words and words[-1] in _ALSO_CALLED and is_figure(token):
            unit = f" {tokens.popleft()}" if tokens and is_unit(tokens[0]) else ""
            pairs.append((words.pop(), f"{token}{unit}"))
        else:
            words.append(token)
    telling = [word for word in words if word not in _SMALL]
    if telling or pairs or bands or sizes:
        words = telling
    return Asked(as_asked(words), tuple(pairs), tuple(bands), tuple(sizes))


def _as_range(bound: re.Match[str]) -> str:
    """A bound as a range, open at the other end: <=4 is 0..4."""
    figure, word = bound["figure"], bound["unit"] or ""
    unit, after = (word, "") if word in UNITS else ("", f" {word}")
    is_most = bound["sign"] in {"<=", "≤"}
    low, high = ("0", figure) if is_most else (figure, _NO_LIMIT)
    return f" {low}..{high}{unit}{after}"


def _with_unit(band: re.Match[str]) -> str:
    """A range with its unit at its end; as it stands where it has two, or a word that is none."""
    first, unit = band["first"] or "", band["unit"] or ""
    if not {first, unit} - {""} <= UNITS.keys() or (first and unit and first != unit):
        return band[0]
    return f"{band['low']}..{band['high']}{first or unit}"


def called(name: str) -> tuple[str, ...]:
    """The names that an attribute asked for by `name` may have."""
    return _ALSO_CALLED.get(name, (name,) if name else ())


def may_be_begun(word: str) -> bool:
    """Whether the beginning of a word will do for it; a figure must be whole: 20 is not 200."""
    return word[:1].isalpha()


def words_of(part: Part, places: Iterable[str], engines: Iterable[str] = ()) -> Mapping[str, int]:
    """The words that a part may be found by, each with its weight.

    The name counts most, then the kind, where it fits (`places`), the rest, and with it what it
    fits (`engines`).
    """
    found: dict[str, int] = {}
    attributes = (word for pair in part.attributes.items() for word in pair)
    for weight, texts in (
        (5, (part.name,)),
        (4, (part.kind,)),
        (2, places),
        (1, (*attributes, part.note, part.number.maker, *engines)),
    ):
        for text in texts:
            for word in words_in(text):
                found[word] = max(found.get(word, 0), weight)
    return found


@lru_cache(maxsize=8192)
def words_in(text: str) -> tuple[str, ...]:
    """The words of a text: whole, the pieces of `shaft-bush` and of `3/8x26`, figures as asked."""
    found: list[str] = []
    for word in _WORD.findall(tidy(text)):
        found.append(word)
        if "-" in word:
            found += filter(None, word.split("-"))
        if _SIZES.fullmatch(word):
            found += word.split("x")
    return tuple(dict.fromkeys((*found, *also_said(found))))


@lru_cache(maxsize=8192)
def forms_of(word: str) -> tuple[str, ...]:
    """The words by which a word that was asked for may stand whole: 0.020 as 0.02 too."""
    return tuple(filter(None, dict.fromkeys((word, plain_figure(word)))))


class Weighed(Protocol):
    """The words that a part may be found by, each with its weight above zero."""

    def whole(self, word: str) -> int:
        """The weight of a word; zero where it is none of them."""

    def begun(self, beginning: str) -> int:
        """The greatest weight of the words that begin so; zero where none does."""


@dataclass(frozen=True, slots=True)
class Weights:
    """The words of a part by name."""

    words: Mapping[str, int]

    def whole(self, word: str) -> int:
        """See `Weighed`."""
        return self.words.get(word, 0)

    def begun(self, beginning: str) -> int:
        """See `Weighed`."""
        begin = (weight for word, weight in self.words.items() if word.startswith(beginning))
        return max(begin, default=0)


def score(asked: Iterable[str], words: Weighed, normal: str) -> int:
    """How well a part with those words and that plain number answers; zero where one is not there.

    A word counts twice its weight, the beginning of one once, the beginning of the number 1.
    """
    total = 1
    for word in asked:
        weight = _weight(word, words, normal)
        if not weight:
            return 0
        total += weight
    return total


def pieces_of(word: str) -> tuple[str, ...]:
    """The pieces of `shaft-bush`, any of which may stand apart; none of a word without a dash.

    Nor of whole figures alone: 4560-045 is one number, and no 4560 that is 45 long; a thread may
    be written 3/8-24.
    """
    pieces = tuple(word.split("-"))
    return pieces if len(pieces) > 1 and all(pieces) and not all(map(str.isdigit, pieces)) else ()


@lru_cache(maxsize=8192)
def begins_number(word: str) -> str:
    """The plain number that a word may begin; empty where it is none."""
    number = normal_number(word) if any(mark.isdigit() for mark in word) else ""
    return number if len(number) >= SHORTEST_BEGINNING else ""


def _weight(word: str, words: Weighed, normal: str) -> int:
    whole = max(map(words.whole, forms_of(word)), default=0)
    if whole:
        return 2 * whole
    is_begun = may_be_begun(word) and len(word) >= SHORTEST_BEGINNING
    weight = words.begun(word) if is_begun else 0
    number = begins_number(word)
    if number and normal.startswith(number):
        weight = max(weight, 1)
    if not weight and pieces_of(word):
        return min(_weight(piece, words, normal) for piece in pieces_of(word))
    return weight


@dataclass(frozen=True)
class Described:
    """A part with all the words that it may be found by.

    `places` are where it fits, `engines` what it fits: families, variants, assemblies by name.
    """

    part: Part
    places: tuple[str, ...] = ()
    engines: tuple[str, ...] = ()

    @cached_property
    def words(self) -> Mapping[str, int]:
        """Each word with its weight."""
        return words_of(self.part, self.places, self.engines)

    @cached_property
    def figures(self) -> Mapping[str, Quantity]:
        """The attributes that are figures."""
        read = ((name, figure_in(said)) for name, said in self.part.attributes.items())
        return {name: figure for name, figure in read if figure is not None}

    def answers(self, asked: Asked) -> int:
        """How well it answers, above zero; zero where anything asked does not agree."""
        found = score(asked.words, Weights(self.words), self.part.number.normal)
        return found if found and self.agrees(asked) else 0

    def agrees(self, asked: Asked) -> bool:
        """Whether its attributes are as asked."""
        return (
            all(self._has(name, said) for name, said in asked.pairs)
            and all(self._within(band) for band in asked.bands)
            and all(self._sized(size) for size in asked.sizes)
        )

    def _has(self, name: str, said: str) -> bool:
        for each in called(name):
            value = self.part.attributes.get(each)
            if value is None:
                continue
            figure = self.figures.get(each)
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
        wanted = figures_of(size)
        have = [figure.value for figure in self.figures.values()]
        return bool(wanted) and wanted in permutations(have, len(wanted))


def figures_of(size: str) -> tuple[Decimal, ...]:
    """The figures of `30x47x7`, four at the most; none where it is no row of figures."""
    try:
        wanted = tuple(Decimal(number) for number in size.split("x"))
    except InvalidOperation:
        return ()
    return wanted if len(wanted) <= _MOST_SIZES else ()


def _in_unit(figure: Quantity, unit: str) -> Decimal | None:
    if not unit:
        return figure.value
    try:
        return figure.value_in(UNITS[unit])
    except (KeyError, UnitMismatch):
        return None
