"""The statements of finding, built once."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Select,
    bindparam,
    cast,
    exists,
    false,
    func,
    select,
    text,
    true,
    union,
)
from sqlalchemy.dialects.postgresql import JSONB

from kitting.store import catalogue_maps as maps
from kitting.store.number_index import AFTER
from kitting.store.parts import table_of
from kitting.store.search_rows import IS_LATEST
from kitting.store.search_terms import as_likes
from kitting.store.tables import trade
from kitting.store.tables.catalogue import EditionRow
from kitting.store.tables.search import SearchAttributeRow, SearchPartRow

_FOUND = table_of(SearchPartRow)
_SAID = table_of(SearchAttributeRow)
_OFFERS = table_of(trade.OfferRow)
_LISTS = table_of(trade.PriceListRow)
_SUPPLIERS = table_of(trade.SupplierTermsRow)
_TERMS = table_of(trade.TermsRow)
_EDITIONS = table_of(EditionRow)
_NAMED, _ATTRIBUTES, _FITS = maps.PARTS.table, maps.PART_ATTRIBUTES.table, maps.FITS.table
_Conditions = tuple[ColumnElement[bool], ...]
# A statement, and what it is to be given.
_Asking = tuple[Any, dict[str, Any]]


def _listed(name: str) -> Any:
    return bindparam(name, expanding=True)


_WITH_ATTRIBUTES = (
    select(
        _FOUND.c.edition_id,
        _FOUND.c.line,
        *maps.PARTS.columns,
        _ATTRIBUTES.c.rank,
        _ATTRIBUTES.c.attribute,
        _ATTRIBUTES.c.value,
    )
    .join(_NAMED, (_NAMED.c.edition_id == _FOUND.c.edition_id) & (_NAMED.c.line == _FOUND.c.line))
    .outerjoin(
        _ATTRIBUTES,
        (_ATTRIBUTES.c.edition_id == _FOUND.c.edition_id) & (_ATTRIBUTES.c.line == _FOUND.c.line),
    )
)
_had = _NAMED.alias("had")
IN_FAMILY = exists().where(
    _had.c.edition_id == bindparam("edition"),
    _had.c.part_maker == _FOUND.c.part_maker,
    _had.c.part_number == _FOUND.c.part_number,
)
"""That an edition of a family has the part of a row of `search_parts`."""
IN_EDITION = (
    select(_NAMED.c.line)
    .where(_NAMED.c.edition_id == bindparam("edition"))
    .limit(bindparam("most"))
)

BY_NORMAL = _WITH_ATTRIBUTES.where(_FOUND.c.normal.in_(_listed("normals")))
BY_NUMBER = _WITH_ATTRIBUTES.where(
    _FOUND.c.part_maker == bindparam("maker"), _FOUND.c.part_number.in_(_listed("numbers"))
)

_NEWEST_TERMS = select(func.max(_TERMS.c.id)).scalar_subquery()
THEIRS = (
    select(
        *(_OFFERS.c[name] for name in ("list_id", "line", "supplier", "their_number")),
        *(_OFFERS.c[name] for name in ("their_normal", "part_maker", "part_number")),
        _SUPPLIERS.c.name,
    )
    .join(_LISTS, (_LISTS.c.id == _OFFERS.c.list_id) & _LISTS.c.ended_at.is_(None))
    .join(
        _SUPPLIERS,
        (_SUPPLIERS.c.key == _OFFERS.c.supplier) & (_SUPPLIERS.c.terms_id == _NEWEST_TERMS),
    )
    .where(_OFFERS.c.their_normal.in_(_listed("normals")))
)
PLACES = (
    select(_EDITIONS.c.family, _FITS.c.line, _FITS.c.part_number, _FITS.c.position)
    .join(_EDITIONS, _EDITIONS.c.id == _FITS.c.edition_id)
    .where(
        _FITS.c.part_maker == bindparam("maker"),
        _FITS.c.part_number.in_(_listed("numbers")),
        IS_LATEST,
    )
)
FAMILIES = union(
    *(
        select(_EDITIONS.c.family)
        .join(table, table.c.edition_id == _EDITIONS.c.id)
        .where(
            table.c.part_maker == bindparam("maker"),
            table.c.part_number.in_(_listed("numbers")),
            IS_LATEST,
        )
        for table in (_NAMED, _FITS)
    )
)
ATTRIBUTE = (
    select(_ATTRIBUTES.c.line)
    .join(
        _FOUND,
        (_FOUND.c.edition_id == _ATTRIBUTES.c.edition_id) & (_FOUND.c.line == _ATTRIBUTES.c.line),
    )
    .where(_ATTRIBUTES.c.attribute == bindparam("attribute"))
    .limit(1)
)


def of_edition(columns: tuple[str, ...], expression: str) -> Select[Any]:
    """The rows of `search_parts` of an edition's parts that answer an expression, part by part.

    An empty expression is answered by every part.
    """
    query = _of_edition(columns)
    return query.where(text(as_likes(expression, "search_parts.words"))) if expression else query


@cache
def _of_edition(columns: tuple[str, ...]) -> Select[Any]:
    same = (_had.c.part_maker == _FOUND.c.part_maker) & (_had.c.part_number == _FOUND.c.part_number)
    return (
        select(*(_FOUND.c[name] for name in columns))
        .select_from(_had.join(_FOUND, same))
        .where(_had.c.edition_id == bindparam("edition"))
        .order_by(_FOUND.c.id)
        .limit(bindparam("most"))
    )


def of_keys(dialect: str, keys: list[str], *where: ColumnElement[bool]) -> _Asking:
    """The plain numbers of parts that are among some keys, and whether suppliers give them.

    `where` is asked of each part's row of `search_parts`.
    """
    return _of_keys(dialect, where), {"keys": json.dumps(keys)}


def of_beginnings(
    dialect: str, starts: list[str], end: str, *where: ColumnElement[bool]
) -> _Asking:
    """The plain numbers of parts with one of the beginnings, or with that end (turned round)."""
    given = {"keys": json.dumps(starts), "end": end, "after": end + AFTER}
    return _of_beginnings(dialect, where), given


def _each_key(dialect: str) -> tuple[Any, ColumnElement[str]]:
    """The texts of a JSON array as rows, compared byte by byte as the index is."""
    if dialect == "sqlite":
        rows = func.json_each(bindparam("keys")).table_valued("value", name="keys")
        return rows, rows.c.value
    array = cast(bindparam("keys"), JSONB)
    rows = func.jsonb_array_elements_text(array).table_valued("value", name="keys")
    return rows, rows.c.value.collate("C")


@cache
def _of_keys(dialect: str, where: _Conditions) -> Any:
    rows, key = _each_key(dialect)
    return union(
        select(_FOUND.c.normal, false())
        .select_from(rows)
        .join(_FOUND, _FOUND.c.normal == key)
        .where(*where),
        select(_OFFERS.c.their_normal, true())
        .select_from(rows)
        .join(_OFFERS, _OFFERS.c.their_normal == rows.c.value)
        .where(
            exists().where(_LISTS.c.id == _OFFERS.c.list_id, _LISTS.c.ended_at.is_(None)),
            exists().where(
                _SUPPLIERS.c.key == _OFFERS.c.supplier, _SUPPLIERS.c.terms_id == _NEWEST_TERMS
            ),
            exists().where(
                _FOUND.c.part_maker == _OFFERS.c.part_maker,
                _FOUND.c.part_number == _OFFERS.c.part_number,
                *where,
            ),
        ),
    )


@cache
def _of_beginnings(dialect: str, where: _Conditions) -> Any:
    rows, key = _each_key(dialect)
    ends = _FOUND.c.reversed >= bindparam("end"), _FOUND.c.reversed < bindparam("after")
    starts: Select[Any] = (
        select(_FOUND.c.normal)
        .select_from(rows)
        .join(_FOUND, (_FOUND.c.normal >= key) & (_FOUND.c.normal < key.concat(AFTER)))
    )
    return union(starts.where(*where), select(_FOUND.c.normal).where(*ends, *where))
