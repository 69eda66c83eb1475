"""The statements of finding, built once."""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Connection,
    Select,
    bindparam,
    cast,
    exists,
    func,
    select,
    union,
)
from sqlalchemy.dialects.postgresql import JSONB

from kitting.store import catalogue_maps as maps
from kitting.store.number_index import AFTER
from kitting.store.parts import table_of
from kitting.store.search_rows import IS_LATEST
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


def of_keys(connection: Connection, keys: list[str]) -> tuple[Any, dict[str, str]]:
    """The plain numbers of parts, theirs and those of suppliers, that are among some keys."""
    return _OF_KEYS[connection.dialect.name], {"keys": json.dumps(keys)}


def of_beginnings(
    connection: Connection, starts: list[str], end: str
) -> tuple[Any, dict[str, str]]:
    """The plain numbers of parts with one of the beginnings, or with that end (turned round)."""
    given = {"keys": json.dumps(starts), "end": end, "after": end + AFTER}
    return _OF_BEGINNINGS[connection.dialect.name], given


def _each_key(dialect: str) -> tuple[Any, ColumnElement[str]]:
    """The texts of a JSON array as rows, compared byte by byte as the index is."""
    if dialect == "sqlite":
        rows = func.json_each(bindparam("keys")).table_valued("value", name="keys")
        return rows, rows.c.value
    array = cast(bindparam("keys"), JSONB)
    rows = func.jsonb_array_elements_text(array).table_valued("value", name="keys")
    return rows, rows.c.value.collate("C")


def _of_keys(dialect: str) -> Any:
    rows, key = _each_key(dialect)
    return union(
        select(_FOUND.c.normal).select_from(rows).join(_FOUND, _FOUND.c.normal == key),
        select(_OFFERS.c.their_normal)
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
            ),
        ),
    )


def _of_beginnings(dialect: str) -> Any:
    rows, key = _each_key(dialect)
    ends = _FOUND.c.reversed >= bindparam("end"), _FOUND.c.reversed < bindparam("after")
    starts: Select[Any] = (
        select(_FOUND.c.normal)
        .select_from(rows)
        .join(_FOUND, (_FOUND.c.normal >= key) & (_FOUND.c.normal < key.concat(AFTER)))
    )
    return union(starts, select(_FOUND.c.normal).where(*ends))


_OF_KEYS = {name: _of_keys(name) for name in ("sqlite", "postgresql")}
_OF_BEGINNINGS = {name: _of_beginnings(name) for name in ("sqlite", "postgresql")}
