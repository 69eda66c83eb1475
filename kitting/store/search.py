"""Finding parts in the database: candidates from indexes, for `kitting.catalog.find` to judge.

No family is loaded, whatever the catalogue's size. Both databases answer alike, and as the parts
of the catalogue do, gone through one by one, but for one thing: of words that more than `LOOKED_AT`
parts answer, only so many of the parts are put in order.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Container, Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from sqlalchemy import Connection, CursorResult, Select, bindparam, select

from kitting.catalog.candidates import Theirs, order_of
from kitting.catalog.find import MOST, Finder, Found, maker_apart, near_words
from kitting.catalog.model import Part, PartNumber, normal_number
from kitting.catalog.search_words import Asked, Described, forms_of, score
from kitting.errors import BadInput, NotFound, Problem
from kitting.store import catalogue_maps as maps
from kitting.store import number_index, word_index
from kitting.store.catalogue import edition_of
from kitting.store.parts import table_of
from kitting.store.search_attributes import FEW, MANY, Agreeing, agreeing
from kitting.store.search_rows import by_maker, in_batches
from kitting.store.search_statements import (
    ATTRIBUTE,
    BY_NORMAL,
    BY_NUMBER,
    FAMILIES,
    IN_EDITION,
    IN_FAMILY,
    PLACES,
    THEIRS,
    of_beginnings,
    of_edition,
    of_keys,
)
from kitting.store.search_terms import (
    Terms,
    all_of,
    any_of_word,
    coded,
    of_pair,
    of_size,
    whole_word,
)
from kitting.store.tables.parts import PartRow
from kitting.store.tables.search import SearchPartRow, SearchWordRow

LOOKED_AT = 1000
# A family of no more parts than this is gone through part by part.
OF_A_FAMILY = 10_000
_LONGER_WORDS = 300
_EVERY = 2**31
# Sorts after every text, byte by byte and by code point.
_LAST = "\U0010ffff"

_FOUND = table_of(SearchPartRow)
_PARTS = table_of(PartRow)
_WORDS = table_of(SearchWordRow)
_SCORED = ("id", "words", "weights", "normal", "name_length", "part_maker", "part_number")
_BEGUN = (
    select(_WORDS.c.word)
    .where(_WORDS.c.word >= bindparam("word"), _WORDS.c.word <= bindparam("last"))
    .limit(_LONGER_WORDS + 1)
)
_Rated = tuple[tuple[object, ...], PartNumber]


class Search:
    """Answers, within one unit of work, what `kitting.catalog.candidates.Candidates` asks.

    `edition` is that of the family whose parts alone are asked for.
    """

    def __init__(self, connection: Connection, edition: int | None = None) -> None:
        self._connection = connection
        self._only: dict[str, int] = {} if edition is None else {"edition": edition}
        # Whether the family's parts are sooner gone through than the word index of all is asked.
        self._is_small = edition is not None and self._has_at_most(OF_A_FAMILY, edition)
        self._where = () if edition is None else (IN_FAMILY,)
        self.attributes: Container[str] = _AttributeNames(connection)
        self._begins: dict[str, Sequence[str]] = {}
        # Of the numbers that `near` found, those that no supplier gives a part.
        self._not_theirs: set[str] = set()

    def find(self, query: str, most: int = MOST, family: str = "") -> Found:
        """Find in the latest editions of all families; see `kitting.catalog.find.Finder.find`.

        Args:
            query: what was typed.
            most: how many parts are wanted.
            family: whose parts alone are wanted; without it those of all.

        Raises:
            NotFound: no such family.
        """
        # Such as have yet to ask, so that what they keep is as the tables are now.
        every = Search(self._connection)
        if not family:
            return Finder(every).find(query, most)
        edition = edition_of(self._connection, family).id
        return Finder(Search(self._connection, edition), every).find(query, most)

    def number(self, typed: str, family: str = "") -> PartNumber:
        """Return the part that a number names; spacing, dashes and case do not count.

        A maker's key may stand before a colon or a blank. Where no part has the number, a
        supplier's number for one counts. What is only near is offered, never taken. Of several
        parts the one that the family has, where one is named.

        Raises:
            NotFound: neither the catalogue nor a price list has such a number.
            BadInput: several parts have it.
        """
        found = self._named(typed) or self._named(maker_apart(typed))
        number = typed.rpartition(":")[2].strip()
        exact = [part for part in found if part.number == number] or found
        if family and len(exact) > 1:
            exact = [part for part in exact if family in self.families([part])] or exact
        if len(exact) == 1:
            return exact[0]
        if found:
            names = ", ".join(str(part) for part in sorted(found))
            raise BadInput(Problem("", f"'{typed}' is the number of several parts", f"say {names}"))
        raise NotFound("part", typed, near_words(self.find(typed)))

    def _named(self, typed: str) -> list[PartNumber]:
        """The parts that have a number; where there is none, those of which it is a supplier's."""
        maker, _, number = typed.strip().rpartition(":")
        normal = normal_number(number)
        if not normal:
            return []
        query = select(_PARTS).where(_PARTS.c.normal == normal)
        if maker:
            query = query.where(_PARTS.c.part_maker == maker.strip().lower())
        rows = self._connection.execute(query)
        found = [PartNumber(row.part_maker, row.part_number) for row in rows]
        if not (found or maker):
            theirs = self.theirs([normal]).get(normal, ())
            found = list(dict.fromkeys(each.part.number for each in theirs))
        return found

    def places(self, numbers: Iterable[PartNumber]) -> Mapping[PartNumber, list[tuple[str, str]]]:
        """Where parts fit in the latest editions: the family and the position of each."""
        found: dict[PartNumber, list[tuple[str, str]]] = {each: [] for each in numbers}
        for maker, some in by_maker(found):
            rows = self._connection.execute(PLACES, {"maker": maker, "numbers": some})
            for family, _, number, position in sorted(map(tuple, rows)):
                found[PartNumber(maker, number)].append((family, position))
        return found

    def families(self, numbers: Iterable[PartNumber]) -> Sequence[str]:
        """The families whose latest edition has any of the parts, by its parts list or its fits."""
        found: set[str] = set()
        for maker, some in by_maker(numbers):
            given = {"maker": maker, "numbers": some}
            found |= set(self._connection.execute(FAMILIES, given).scalars())
        return sorted(found)

    def numbered(self, normals: Collection[str]) -> Mapping[str, Sequence[Part]]:
        """See `Candidates`."""
        if not normals:
            return {}
        found: dict[str, list[Part]] = {}
        rows = self._rows(BY_NORMAL, {"normals": list(normals)})
        for part in sorted(_parts(rows), key=lambda each: each.number):
            found.setdefault(part.number.normal, []).append(part)
        return found

    def theirs(self, normals: Collection[str]) -> Mapping[str, Sequence[Theirs]]:
        """See `Candidates`."""
        asked = [normal for normal in normals if normal not in self._not_theirs]
        if not asked:
            return {}
        rows = self._connection.execute(THEIRS, {"normals": asked}).all()
        offers = sorted(rows, key=lambda row: (row.list_id, row.line))
        sold = {PartNumber(row.part_maker, row.part_number) for row in offers}
        parts = {part.number: part for part in self.parts(sold)}
        found: dict[str, dict[tuple[PartNumber, str], Theirs]] = {}
        for row in offers:
            part = parts.get(PartNumber(row.part_maker, row.part_number))
            if part is not None:
                mine = found.setdefault(row.their_normal, {})
                mine[part.number, row.supplier] = Theirs(part, row.their_number, row.name)
        return {normal: tuple(mine[key] for key in sorted(mine)) for normal, mine in found.items()}

    def parts(self, numbers: Iterable[PartNumber]) -> Iterator[Part]:
        """The parts of those numbers that the latest editions have."""
        for maker, some in by_maker(numbers):
            yield from _parts(self._rows(BY_NUMBER, {"maker": maker, "numbers": some}))

    def near(self, normal: str, edits: int) -> Iterable[str]:
        """See `Candidates`."""
        dialect = self._connection.dialect.name
        if edits > 1:
            query, given = of_beginnings(dialect, *number_index.two_edits(normal), *self._where)
            return self._connection.execute(query, given | self._only).scalars()
        query, given = of_keys(dialect, number_index.one_edit(normal), *self._where)
        found = self._connection.execute(query, given | self._only).all()
        sold = {number for number, is_theirs in found if is_theirs}
        self._not_theirs |= {number for number, _ in found} - sold
        return [number for number, _ in found]

    def answering(self, asked: Asked, most: int) -> tuple[Sequence[Part], int]:
        """See `Candidates`."""
        rows, looked_at = self._candidates(asked)
        rated = sorted(_rated(asked, rows))
        found: list[Part] = []
        for some in in_batches(rated, 2 * most):
            parts = {part.number: part for part in self.parts(number for _, number in some)}
            best = (parts[number] for _, number in some)
            found += [part for part in best if Described(part).agrees(asked)]
            if len(found) >= most:
                break
        return found[:most], looked_at

    def has_word(self, word: str) -> bool:
        """See `Candidates`."""
        whole = [coded(form) for form in forms_of(word)]
        return self._any(f"({' OR '.join(whole)})")

    def answers(self, asked: Asked) -> bool:
        """See `Candidates`."""
        if asked.pairs or asked.bands or asked.sizes:
            return bool(self.answering(asked, 1)[0])
        begun = [any_of_word(word, self._begun) for word in asked.words]
        return not begun or self._any(all_of(begun))

    def vocabulary(self) -> Collection[str]:
        """See `Candidates`."""
        return self._connection.execute(select(_WORDS.c.word)).scalars().all()

    def _candidates(self, asked: Asked) -> tuple[Iterable[Any], int]:
        """The rows of the parts that may answer, and above zero how many of too many they are."""
        conditions = agreeing(asked)
        counts = [each.count(self._connection) for each in conditions]
        least = min(counts, default=MANY)
        if least < FEW:
            return self._of_attributes(conditions, counts.index(least), _EVERY), 0
        sizes = [of_size(size) for size in asked.sizes]
        sizes += filter(None, (of_pair(said) for _, said in asked.pairs))
        begun = [any_of_word(word, self._begun) for word in asked.words]
        if least < MANY and not (begun or asked.sizes):
            every = self._of_attributes(conditions, counts.index(least), LOOKED_AT + 1)
        else:
            where = [each.of_part for each in conditions]
            every = self._of_words([*begun, *sizes], where)
        if len(every) <= LOOKED_AT:
            return every, 0
        if not begun:
            return every[:LOOKED_AT], LOOKED_AT
        whole = self._of_words([*map(whole_word, asked.words), *sizes], where)
        return {row.id: row for row in (*whole, *every)}.values(), LOOKED_AT

    def _of_attributes(
        self, conditions: Sequence[Agreeing], first: int, most: int
    ) -> Sequence[Any]:
        """The parts that agree with all, those that agree with one of them looked up first."""
        rest = [each.of_part for each in conditions if each is not conditions[first]]
        query, given = word_index.answering(self._connection, _SCORED, "", most)
        return self._rows(query.where(conditions[first].of_index, *rest), given).all()

    def _of_words(self, expressions: list[str], where: Sequence[Any]) -> Sequence[Any]:
        expression = all_of(expressions) if expressions else ""
        return self._answering(_SCORED, expression, LOOKED_AT + 1, where).all()

    def _any(self, expression: str) -> bool:
        """Whether any part answers an expression of the word index."""
        return self._answering(("id",), expression, 1).first() is not None

    def _answering(
        self, columns: tuple[str, ...], expression: str, most: int, where: Sequence[Any] = ()
    ) -> CursorResult[Any]:
        """The parts that answer an expression of the word index, those first that were kept first.

        Those of a small family are gone through: the index would give those of all families.
        """
        if self._is_small:
            query = of_edition(columns, expression).where(*where)
            return self._connection.execute(query, {"most": most} | self._only)
        query, given = word_index.answering(self._connection, columns, expression, most)
        return self._rows(query.where(*where) if where else query, given)

    def _has_at_most(self, parts: int, edition: int) -> bool:
        """Whether an edition has no more parts than that."""
        given = {"edition": edition, "most": parts + 1}
        return len(self._connection.execute(IN_EDITION, given).all()) <= parts

    def _rows(self, query: Select[Any], given: dict[str, Any]) -> CursorResult[Any]:
        """The rows of `search_parts` that a statement selects, of the family's parts alone."""
        only = query.where(*self._where) if self._where else query
        return self._connection.execute(only, given | self._only)

    def _begun(self, word: str) -> Sequence[str]:
        """The words that a word begins; none where they are too many, or need not be named."""
        if self._is_small:
            return ()
        if word not in self._begins:
            rows = self._connection.execute(_BEGUN, {"word": word, "last": word + _LAST})
            found = rows.scalars().all()
            self._begins[word] = found if len(found) <= _LONGER_WORDS else ()
        return self._begins[word]


class _AttributeNames:
    """The names of attributes, each looked for when it is asked for."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def __contains__(self, name: object) -> bool:
        return self._connection.execute(ATTRIBUTE, {"attribute": name}).first() is not None


def _rated(asked: Asked, rows: Iterable[Any]) -> Iterator[_Rated]:
    for _, words, weights, normal, name_length, maker, number in rows:
        points = score(asked.words, Terms(words, weights), normal)
        if points:
            part = PartNumber(maker, number)
            yield order_of(points, name_length, part), part


def _parts(rows: Iterable[Any]) -> Iterator[Part]:
    """Parts from rows that hold an attribute each: edition, line, part, rank, name, value."""
    plain: dict[tuple[int, int], tuple[Any, ...]] = {}
    attributes: dict[tuple[int, int], list[tuple[int, str, str]]] = defaultdict(list)
    for edition_id, line, *part, rank, name, value in rows:
        plain[edition_id, line] = tuple(part)
        if rank is not None:
            attributes[edition_id, line].append((rank, name, value))
    for key, row in plain.items():
        said = {name: value for _, name, value in sorted(attributes[key])}
        yield maps.PARTS.read(row, attributes=MappingProxyType(said))
