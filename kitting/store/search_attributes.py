"""Attributes put so that an index finds them: by what they say, and by their figure."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, Connection, exists, false, func, or_, select, tuple_

from kitting.catalog.attributes import figure_in, tidy
from kitting.catalog.search_words import called
from kitting.measure import UNITS
from kitting.store.parts import table_of
from kitting.store.tables.search import SearchAttributeRow, SearchPartRow

if TYPE_CHECKING:
    from kitting.catalog.search_words import Asked, Band

_FOUND = table_of(SearchPartRow)
_SAID = table_of(SearchAttributeRow)
_MILLION = 1_000_000
_LARGEST = 2**63 - 1
_LONGEST = 200
# Fewer rows are sooner read than the word index is asked; more are not even counted.
FEW, MANY = 3000, 30_000


def millionths(value: Decimal) -> int:
    """A figure in whole millionths, the rest cut off, held within 64 bits.

    What is less stays less or becomes equal, so that a range of these holds all of the exact one.
    """
    return max(-_LARGEST, min(_LARGEST, int(value * _MILLION)))


def as_said(value: str) -> str:
    """What an attribute says, as it is compared; a very long one only by its beginning."""
    return tidy(value)[:_LONGEST]


@dataclass(frozen=True, slots=True)
class Agreeing:
    """One thing asked of the attributes: every part that agrees is among those it is true of."""

    where: ColumnElement[bool]

    @property
    def of_part(self) -> ColumnElement[bool]:
        """The same asked of each part in turn."""
        return exists().where(
            _SAID.c.edition_id == _FOUND.c.edition_id, _SAID.c.line == _FOUND.c.line, self.where
        )

    @property
    def of_index(self) -> ColumnElement[bool]:
        """The same, the attributes looked up first."""
        keys = select(_SAID.c.edition_id, _SAID.c.line).where(self.where)
        return tuple_(_FOUND.c.edition_id, _FOUND.c.line).in_(keys)

    def count(self, connection: Connection) -> int:
        """How many attributes it is true of; `MANY` for more."""
        rows = select(_SAID.c.line).where(self.where).limit(MANY).subquery()
        return int(connection.execute(select(func.count()).select_from(rows)).scalar_one())


def agreeing(asked: Asked) -> list[Agreeing]:
    """What pairs and bands ask of the attributes."""
    pairs = [Agreeing(_pair(name, said)) for name, said in asked.pairs]
    return [*pairs, *(Agreeing(_band(band)) for band in asked.bands)]


def _pair(name: str, said: str) -> ColumnElement[bool]:
    """As a figure in the unit stated, as one in the attribute's own unit, or as words."""
    choices = [_SAID.c.said == as_said(said)]
    stated, bare = figure_in(said), figure_in(f"{said} mm")
    if stated is not None:
        choices.append(_SAID.c.base == millionths(stated.base))
    if bare is not None:
        choices.append(_SAID.c.own == millionths(bare.value))
    return _SAID.c.attribute.in_(called(name)) & or_(*choices)


def _band(band: Band) -> ColumnElement[bool]:
    column, per = _SAID.c.own, Decimal(1)
    if band.unit:
        if band.unit not in UNITS:
            return false()
        column, per = _SAID.c.base, UNITS[band.unit].per_base
    within = column.between(millionths(band.low * per) - 1, millionths(band.high * per) + 1)
    return within & _SAID.c.attribute.in_(band.names) if band.names else within
