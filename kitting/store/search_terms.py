"""The terms of the word index: what a part is found by, and what a query asks of it.

A term is made of a to z and 0 to 9 alone, so that both databases take it as it stands: any other
mark, and q, is written `q`, its code, `q`. A beginning stays a beginning. Three kinds: a word; `qn`
and a part's number; `qv` and a figure of an attribute, in its own unit and in its dimension's base.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from kitting.catalog.attributes import figure_in
from kitting.catalog.search_words import (
    SHORTEST_BEGINNING,
    Described,
    begins_number,
    figures_of,
    forms_of,
    may_be_begun,
    pieces_of,
    words_in,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from decimal import Decimal

_OTHER = re.compile("[^a-pr-z0-9]")
# A term in an expression; what joins them has capitals.
_TERM = re.compile(r"([a-z0-9]+)(\*?)")
_CODED = re.compile("q([0-9a-f]+)q")
# Longer terms are cut, and what they find is looked at anyhow; PostgreSQL takes no term of 2 KB
# and no part with a megabyte of them.
_LONGEST, _MOST = 200, 2000


@dataclass(frozen=True, slots=True)
class Terms:
    """A part's terms, the words first, heaviest first; `weights` is a figure for each word.

    They are weighed as they stand, without being taken apart (`kitting.catalog.search_words`).
    """

    words: str
    weights: str

    def whole(self, word: str) -> int:
        """The weight of a word; zero where it is none of them."""
        return self._at(f" {self.words} ".find(f" {coded(word)} "))

    def begun(self, beginning: str) -> int:
        """The greatest weight of the words that begin so, which is that of the first."""
        return self._at(f" {self.words}".find(f" {coded(beginning)}"))

    def _at(self, place: int) -> int:
        """The weight of the word before which so many marks stand."""
        before = self.words.count(" ", 0, place) if place > 0 else 0
        return int(self.weights[before]) if place >= 0 and before < len(self.weights) else 0


@lru_cache(maxsize=8192)
def coded(word: str) -> str:
    """A word as a term.

    >>> coded("3/8x26")
    '3q2fq8x26'
    """
    return _OTHER.sub(lambda mark: f"q{ord(mark[0]):x}q", word)[:_LONGEST]


@lru_cache(maxsize=8192)
def uncoded(term: str) -> str:
    """The word that a term stands for."""
    return _CODED.sub(lambda code: chr(int(code[1], 16)), term) if "q" in term else term


def terms_of(described: Described) -> Terms:
    """The terms of a part."""
    words = sorted(described.words.items(), key=lambda each: (-each[1], each[0]))[:_MOST]
    figures = described.figures.values()
    values = {_value(value) for figure in figures for value in (figure.value, figure.base)}
    more = [_number(described.part.number.normal), *sorted(values)]
    return Terms(
        " ".join([*(coded(word) for word, _ in words), *more]),
        "".join(str(weight) for _, weight in words),
    )


def words_of_terms(terms: Terms) -> dict[str, int]:
    """The words of a part with their weights."""
    return dict(zip(map(uncoded, terms.words.split()), map(int, terms.weights), strict=False))


def whole_word(word: str) -> str:
    """What parts with just that word answer; a word of two pieces also by its pieces."""
    choices = [coded(form) for form in forms_of(word)]
    if pieces_of(word):
        choices.append(all_of([whole_word(piece) for piece in pieces_of(word)]))
    return choices[0] if len(choices) == 1 else f"({' OR '.join(choices)})"


def any_of_word(word: str, begun: Callable[[str], Sequence[str]]) -> str:
    """What parts answer with that word, with one that it begins, or with a number that it begins.

    `begun` gives the words that begin so; none at all where they are too many to name.
    """
    choices = dict.fromkeys(coded(form) for form in forms_of(word))
    if may_be_begun(word) and len(word) >= SHORTEST_BEGINNING:
        longer = begun(word)
        choices.update(dict.fromkeys(map(coded, longer)) if longer else {f"{coded(word)}*": None})
    number = begins_number(word)
    if number:
        choices[f"{_number(number)}*"] = None
    pieces = pieces_of(word)
    if pieces:
        choices[all_of([any_of_word(piece, begun) for piece in pieces])] = None
    return f"({' OR '.join(choices)})"


def of_size(size: str) -> str:
    """What parts may be of those sizes answer: it is a word's beginning, or all are figures."""
    figures = figures_of(size)
    as_word = f"{coded(size)}*"
    if not figures:
        return as_word
    return f"({as_word} OR ({' AND '.join(map(_value, figures))}))"


def of_pair(said: str) -> str:
    """What parts may have an attribute that says so answer; empty where any may."""
    stated, bare = figure_in(said), figure_in(f"{said} mm")
    choices = [_value(stated.base)] if stated else []
    choices += [_value(bare.value)] if bare else []
    words = words_in(said)
    choices += [all_of([coded(word) for word in words])] if words else []
    return f"({' OR '.join(choices)})" if words else ""


def all_of(expressions: Sequence[str]) -> str:
    """All of some expressions at once."""
    return f"({' AND '.join(expressions)})"


def as_tsquery(expression: str) -> str:
    """An expression of FTS5 as PostgreSQL writes it; the terms have no capitals."""
    return expression.replace(" AND ", " & ").replace(" OR ", " | ").replace("*", ":*")


def as_likes(expression: str, terms: str) -> str:
    """An expression of FTS5 as a condition on `terms`, a column of terms with a space between.

    >>> as_likes("(nut OR 38*)", "words")
    "(' ' || words || ' ' LIKE '% nut %' OR ' ' || words || ' ' LIKE '% 38%')"
    """

    def like(term: re.Match[str]) -> str:
        return f"' ' || {terms} || ' ' LIKE '% {term[1]}{'' if term[2] else ' '}%'"

    return _TERM.sub(like, expression)


def _number(normal: str) -> str:
    return f"qn{normal.lower().replace('q', 'q71q')}"[:_LONGEST]


def _value(value: Decimal) -> str:
    return f"qv{coded(format(value.normalize() if value else abs(value), 'f'))}"[:_LONGEST]
