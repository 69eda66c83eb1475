"""Keeping the search rows: whatever changes the latest edition of a family calls `refresh`."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from types import MappingProxyType
from typing import Any, TypeVar

from sqlalchemy import (
    ColumnElement,
    Connection,
    FromClause,
    bindparam,
    delete,
    exists,
    insert,
    select,
)

from kitting.catalog.model import Part, PartNumber
from kitting.catalog.search_words import Described, may_be_begun
from kitting.store import catalogue_maps as maps
from kitting.store import word_index
from kitting.store.parts import insert_missing, table_of
from kitting.store.search_attributes import as_said, millionths
from kitting.store.search_terms import Terms, coded, terms_of, words_of_terms
from kitting.store.tables.catalogue import EditionRow
from kitting.store.tables.parts import PartRow
from kitting.store.tables.search import SearchAttributeRow, SearchPartRow, SearchWordRow

T = TypeVar("T")

_EDITIONS = table_of(EditionRow)
_PARTS = table_of(PartRow)
_FOUND = table_of(SearchPartRow)
_SAID = table_of(SearchAttributeRow)
_WORDS = table_of(SearchWordRow)
_NAMED, _ATTRIBUTES = maps.PARTS.table, maps.PART_ATTRIBUTES.table
_FITS, _POSITIONS = maps.FITS.table, maps.POSITIONS.table
_ASSEMBLIES, _VARIANTS = maps.ASSEMBLIES.table, maps.VARIANTS.table
_AT_ONCE = 400

_newer = _EDITIONS.alias("newer")


def is_latest(editions: FromClause) -> ColumnElement[bool]:
    """That a row of `editions`, by whatever name it goes, is the one in force of its family."""
    return ~exists().where(
        _newer.c.family == editions.c.family,
        (_newer.c.loaded_at > editions.c.loaded_at)
        | ((_newer.c.loaded_at == editions.c.loaded_at) & (_newer.c.id > editions.c.id)),
    )


IS_LATEST = is_latest(_EDITIONS)
"""The same of `editions` itself."""


def refresh(
    connection: Connection, numbers: Iterable[PartNumber], before: Iterable[str] = ()
) -> None:
    """Make the search rows of some parts anew from the latest editions.

    Args:
        connection: within a transaction.
        numbers: the parts that may be described otherwise than they were, or no longer.
        before: words that rows had which are gone already with their edition.
    """
    had, have = set(before), set[str]()
    for maker, some in by_maker(numbers):
        had |= _words_of(connection, maker, some)
        have |= _refresh(connection, maker, some)
    lost = [word for word in sorted(had - have) if may_be_begun(word)]
    gone = [word for word in lost if not word_index.has_any(connection, coded(word))]
    for few in in_batches(gone, _AT_ONCE):
        connection.execute(delete(_WORDS).where(_WORDS.c.word.in_(few)))


def words_of(connection: Connection, numbers: Iterable[PartNumber]) -> set[str]:
    """The words by which parts are found now."""
    return {
        word for maker, some in by_maker(numbers) for word in _words_of(connection, maker, some)
    }


def numbers_of(connection: Connection, family: str) -> set[PartNumber]:
    """The parts that the latest edition of a family describes or says the place of."""
    found: set[PartNumber] = set()
    for table in (_NAMED, _FITS):
        rows = connection.execute(
            select(table.c.part_maker, table.c.part_number)
            .join(_EDITIONS, _EDITIONS.c.id == table.c.edition_id)
            .where(_EDITIONS.c.family == family, IS_LATEST)
        )
        found.update(PartNumber(*row) for row in rows)
    return found


def rebuild(connection: Connection) -> None:
    """Make all search rows anew, some thousands of parts at a time."""
    last = PartNumber("", "")
    maker, number = _PARTS.c.part_maker, _PARTS.c.part_number
    while True:
        after = (maker > last.maker) | ((maker == last.maker) & (number > last.number))
        query = select(maker, number).where(after).order_by(maker, number).limit(10 * _AT_ONCE)
        numbers = [PartNumber(*row) for row in connection.execute(query)]
        if not numbers:
            return
        refresh(connection, numbers)
        last = numbers[-1]


def rebuild_where_missing(connection: Connection) -> None:
    """Make the search rows of a database that had a catalogue before it had search rows."""
    if connection.execute(select(_FOUND.c.id).limit(1)).first() is None:
        rebuild(connection)


def by_maker(numbers: Iterable[PartNumber]) -> Iterator[tuple[str, list[str]]]:
    """Numbers a maker at a time, some hundreds at once: SQLite finds pairs by no index."""
    groups: dict[str, set[str]] = defaultdict(set)
    for number in numbers:
        groups[number.maker].add(number.number)
    for maker in sorted(groups):
        for some in in_batches(sorted(groups[maker]), _AT_ONCE):
            yield maker, some


def in_batches(items: Iterable[T], size: int) -> Iterator[list[T]]:
    """The items, so many at a time."""
    rest = iter(items)
    while some := list(islice(rest, size)):
        yield some


@dataclass(frozen=True, slots=True)
class _Described:
    """A part as it is found, with the key of the catalogue's row that says what it is."""

    edition_id: int
    line: int
    described: Described
    terms: Terms

    @property
    def row(self) -> dict[str, Any]:
        part = self.described.part
        return {
            "edition_id": self.edition_id,
            "line": self.line,
            "part_maker": part.number.maker,
            "part_number": part.number.number,
            "normal": part.number.normal,
            "reversed": part.number.normal[::-1],
            "name_length": len(part.name),
            "words": self.terms.words,
            "weights": self.terms.weights,
        }

    @property
    def attributes(self) -> Iterator[dict[str, Any]]:
        figures = self.described.figures
        for name, said in self.described.part.attributes.items():
            figure = figures.get(name)
            yield {
                "edition_id": self.edition_id,
                "line": self.line,
                "attribute": name,
                "said": as_said(said),
                "own": None if figure is None else millionths(figure.value),
                "base": None if figure is None else millionths(figure.base),
            }


def _words_of(connection: Connection, maker: str, numbers: Sequence[str]) -> set[str]:
    rows = connection.execute(
        select(_FOUND.c.words, _FOUND.c.weights).where(_these(maker, numbers))
    )
    return {word for row in rows for word in words_of_terms(Terms(*row))}


def _these(maker: str, numbers: Sequence[str]) -> ColumnElement[bool]:
    return (_FOUND.c.part_maker == maker) & _FOUND.c.part_number.in_(numbers)


def _refresh(connection: Connection, maker: str, numbers: Sequence[str]) -> set[str]:
    """Make some rows anew, and return the words that they have."""
    connection.execute(delete(_FOUND).where(_these(maker, numbers)))
    fresh = _described(connection, maker, numbers)
    if fresh:
        connection.execute(insert(_FOUND), [each.row for each in fresh])
    attributes = [attribute for each in fresh for attribute in each.attributes]
    if attributes:
        connection.execute(insert(_SAID), attributes)
    words = {word for each in fresh for word in each.described.words}
    begun = [{"word": word} for word in sorted(words) if may_be_begun(word)]
    insert_missing(connection, _WORDS, begun)
    return words


def _described(connection: Connection, maker: str, numbers: Sequence[str]) -> list[_Described]:
    """The parts as the latest editions have them; of several families the last says."""
    of_part = (_NAMED.c.part_maker == maker, _NAMED.c.part_number.in_(numbers))
    rows = connection.execute(
        select(_NAMED.c.edition_id, _NAMED.c.line, *maps.PARTS.columns)
        .join(_EDITIONS, _EDITIONS.c.id == _NAMED.c.edition_id)
        .where(*of_part, IS_LATEST)
        .order_by(_EDITIONS.c.family)
    )
    attributes = _attributes(connection, of_part)
    places = _places(connection, maker, numbers)
    found: dict[PartNumber, _Described] = {}
    for edition_id, line, *row in rows:
        part: Part = maps.PARTS.read(
            tuple(row), attributes=MappingProxyType(attributes.get((edition_id, line), {}))
        )
        here = places.get(part.number.number, ())
        engines = dict.fromkeys(name for place in here for name in place.engines)
        described = Described(part, tuple(place.position for place in here), tuple(engines))
        found[part.number] = _Described(edition_id, line, described, terms_of(described))
    return list(found.values())


def _attributes(
    connection: Connection, of_part: tuple[ColumnElement[bool], ...]
) -> Mapping[tuple[int, int], dict[str, str]]:
    rows = connection.execute(
        select(
            _ATTRIBUTES.c.edition_id,
            _ATTRIBUTES.c.line,
            _ATTRIBUTES.c.rank,
            _ATTRIBUTES.c.attribute,
            _ATTRIBUTES.c.value,
        )
        .join(
            _NAMED,
            (_NAMED.c.edition_id == _ATTRIBUTES.c.edition_id)
            & (_NAMED.c.line == _ATTRIBUTES.c.line),
        )
        .where(*of_part)
    )
    found: dict[tuple[int, int], dict[str, str]] = defaultdict(dict)
    for edition_id, line, _, name, value in sorted(map(tuple, rows)):
        found[edition_id, line][name] = value
    return found


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a part fits, and what it fits there, by name: one row of fits.csv."""

    position: str
    engines: tuple[str, ...]


def _places(
    connection: Connection, maker: str, numbers: Sequence[str]
) -> Mapping[str, list[_Place]]:
    """What each number fits, in any family."""
    rows = connection.execute(_PLACES.where(_FITS.c.part_maker == maker), {"numbers": numbers})
    found: dict[str, list[_Place]] = defaultdict(list)
    variants: dict[int, Mapping[str, str]] = {}
    for row in rows:
        edition = int(row.edition_id)
        if edition not in variants:
            variants[edition] = _variants(connection, edition)
        names = variants[edition]
        keys = [key for key in row.variants or row.only or names if key in names]
        engines = (row.family, row.assembly or "", *(names[key] for key in keys))
        found[row.part_number].append(_Place(row.position, engines))
    return found


_PLACES = (
    select(
        _FITS.c.part_number,
        _FITS.c.edition_id,
        _FITS.c.variants,
        _POSITIONS.c.variants.label("only"),
        _POSITIONS.c.name.label("position"),
        _ASSEMBLIES.c.name.label("assembly"),
        _EDITIONS.c.name.label("family"),
    )
    .join(
        _POSITIONS,
        (_POSITIONS.c.edition_id == _FITS.c.edition_id) & (_POSITIONS.c.key == _FITS.c.position),
    )
    .join(_EDITIONS, _EDITIONS.c.id == _FITS.c.edition_id)
    .outerjoin(
        _ASSEMBLIES,
        (_ASSEMBLIES.c.edition_id == _FITS.c.edition_id)
        & (_ASSEMBLIES.c.key == _POSITIONS.c.assembly),
    )
    .where(_FITS.c.part_number.in_(bindparam("numbers", expanding=True)), IS_LATEST)
)


def _variants(connection: Connection, edition_id: int) -> Mapping[str, str]:
    rows = connection.execute(
        select(_VARIANTS.c.key, _VARIANTS.c.name).where(_VARIANTS.c.edition_id == edition_id)
    )
    return {row.key: row.name for row in rows}
