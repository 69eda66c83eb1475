"""Suppliers' price lists: a newer list ends the older one, which is kept."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, and_, insert, select, update

from kitting.catalog.model import PartNumber, normal_number
from kitting.catalog.trade import Offer, PriceBreak
from kitting.errors import NotFound
from kitting.store.parts import keep_parts, table_of
from kitting.store.rows import RowMap, insert_rows
from kitting.store.search_rows import by_maker, in_batches
from kitting.store.tables import trade as tables

_OFFERS = RowMap(Offer, tables.OfferRow, apart=("breaks",))
_BREAKS = RowMap(PriceBreak, tables.PriceBreakRow)
_LISTS = table_of(tables.PriceListRow)
_SUPPLIERS = table_of(tables.SupplierRow)
_ROWS_AT_ONCE = 5000


@dataclass(frozen=True, slots=True)
class PastOffer:
    """An offer with when its list was loaded, and ended (None while it holds)."""

    offer: Offer
    loaded_at: datetime
    ended_at: datetime | None


@dataclass(frozen=True, slots=True)
class ListOf:
    """Whose price list, and from which file; `origin` is empty for the catalogue's own folder."""

    supplier: str
    origin: str

    def __str__(self) -> str:
        return f"{self.supplier} ({self.origin or 'from the catalogue'})"


class Offers:
    """Reads and writes price lists within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def load_list(
        self, supplier: str, offers: Iterable[Offer], content: str, origin: str = ""
    ) -> None:
        """End the supplier's list that holds and store a new one, some thousands of rows at once.

        Args:
            supplier: his key, as in the terms.
            offers: his offers, in the list's order; may be a stream.
            content: the fingerprint of the list.
            origin: the file it came from; empty for the catalogue's own folder.

        Raises:
            NotFound: no such supplier.
            BadInput: an amount cannot be kept exactly.
        """
        list_id = begin_list(self._connection, supplier, content, origin)
        first = 1
        for some in in_batches(offers, _ROWS_AT_ONCE):
            self._insert(list_id, some, first)
            first += len(some)

    def last_content(self, supplier: str, origin: str) -> str | None:
        """Return the fingerprint of the last list of that origin, whether it still holds or not."""
        return self._connection.execute(
            select(_LISTS.c.content_hash)
            .where(_LISTS.c.supplier == supplier, _LISTS.c.origin == origin)
            .order_by(_LISTS.c.id.desc())
            .limit(1)
        ).scalar()

    def holding_of(self, supplier: str) -> ListOf | None:
        """Return the supplier's list that holds."""
        held = self._connection.execute(
            select(_LISTS.c.supplier, _LISTS.c.origin)
            .where(_LISTS.c.supplier == supplier, _LISTS.c.ended_at.is_(None))
            .order_by(_LISTS.c.id.desc())
            .limit(1)
        ).first()
        return None if held is None else ListOf(*held)

    def end_lists_but_of(self, suppliers: Collection[str]) -> tuple[ListOf, ...]:
        """End the lists of suppliers whom the shop no longer names; returns which."""
        gone = _LISTS.c.supplier.not_in(list(suppliers))
        held = self._connection.execute(
            select(_LISTS.c.supplier, _LISTS.c.origin)
            .where(_LISTS.c.ended_at.is_(None), gone)
            .order_by(_LISTS.c.supplier, _LISTS.c.id)
        ).all()
        _end(self._connection, datetime.now(UTC), gone)
        return tuple(ListOf(*row) for row in held)

    def take_up(self, suppliers: Iterable[str]) -> tuple[ListOf, ...]:
        """Let the last list of each supplier who has none that holds hold again; returns which.

        Such a list was ended because the shop did not name him; another one never took its place.
        """
        taken = (self._take_up(supplier) for supplier in sorted(suppliers))
        return tuple(each for each in taken if each is not None)

    def _take_up(self, supplier: str) -> ListOf | None:
        _hold(self._connection, supplier)
        last = self._connection.execute(
            select(_LISTS.c.id, _LISTS.c.origin, _LISTS.c.ended_at)
            .where(_LISTS.c.supplier == supplier)
            .order_by(_LISTS.c.id.desc())
            .limit(1)
        ).first()
        if last is None or last.ended_at is None:
            return None
        again = update(_LISTS).where(_LISTS.c.id == last.id).values(ended_at=None)
        self._connection.execute(again)
        return ListOf(supplier, last.origin)

    def holding(self, parts: Iterable[PartNumber] | None = None) -> tuple[Offer, ...]:
        """Return the offers of the lists that hold, of the given parts or of all."""
        lists = set(
            self._connection.execute(
                select(_LISTS.c.id).where(_LISTS.c.ended_at.is_(None))
            ).scalars()
        )
        if parts is None:
            found = self._read(_OFFERS.table.c.list_id.in_(lists))
        else:
            found = [each for where in _of_parts(parts) for each in self._read(where)]
        return tuple(offer for key, offer in sorted(found, key=_by_line) if key[0] in lists)

    def history(self, part: PartNumber) -> tuple[PastOffer, ...]:
        """Return every offer of a part there ever was, the newest list first."""
        found = dict(self._read(*_of_parts([part])))
        lists = self._connection.execute(
            select(_LISTS).where(_LISTS.c.id.in_({key[0] for key in found}))
        )
        times = {row.id: (row.loaded_at, row.ended_at) for row in lists}
        return tuple(
            PastOffer(found[key], *times[key[0]]) for key in sorted(found, key=lambda k: (-k[0], k))
        )

    def _insert(self, list_id: int, offers: Sequence[Offer], first: int) -> None:
        keep_parts(self._connection, (offer.part for offer in offers))
        rows = _OFFERS.rows(offers, first=first, list_id=list_id)
        for row in rows:
            row["their_normal"] = normal_number(row["their_number"])
        insert_rows(self._connection, _OFFERS.table, rows)
        _BREAKS.insert_under(
            self._connection, (offer.breaks for offer in offers), first=first, list_id=list_id
        )

    def _read(self, where: ColumnElement[bool]) -> list[tuple[tuple[int, int], Offer]]:
        offers = _OFFERS.table
        # Sorted by the caller: asked to sort, SQLite would rather read the whole table in order.
        rows = self._connection.execute(
            select(offers.c.list_id, offers.c.line, *_OFFERS.columns).where(where)
        ).all()
        if not rows:
            return []
        breaks: dict[tuple[int, int], list[PriceBreak]] = {}
        steps = (
            select(*(_BREAKS.table.c[key] for key in ("list_id", "line", "rank")), *_BREAKS.columns)
            .join(
                offers,
                (offers.c.list_id == _BREAKS.table.c.list_id)
                & (offers.c.line == _BREAKS.table.c.line),
            )
            .where(where)
        )
        for row in sorted(self._connection.execute(steps), key=lambda row: row[2]):
            breaks.setdefault((row[0], row[1]), []).append(_BREAKS.read(tuple(row[3:])))
        return [
            (
                (row[0], row[1]),
                _OFFERS.read(tuple(row[2:]), breaks=tuple(breaks.get((row[0], row[1]), ()))),
            )
            for row in rows
        ]


def begin_list(connection: Connection, supplier: str, content: str, origin: str) -> int:
    """End the supplier's list that holds and begin a new one; returns the key of its rows.

    Raises:
        NotFound: no such supplier.
    """
    now = datetime.now(UTC)
    if not _hold(connection, supplier):
        known = connection.execute(select(_SUPPLIERS.c.key)).scalars()
        raise NotFound("supplier", supplier, sorted(known))
    _end(connection, now, _LISTS.c.supplier == supplier)
    list_id: int = connection.execute(
        insert(_LISTS)
        .values(supplier=supplier, origin=origin, content_hash=content, loaded_at=now)
        .returning(_LISTS.c.id)
    ).scalar_one()
    return list_id


def _hold(connection: Connection, supplier: str) -> bool:
    """Hold a supplier until the end of the unit of work, so that lists of his load one by one."""
    hold = select(_SUPPLIERS.c.key).where(_SUPPLIERS.c.key == supplier).with_for_update()
    return connection.execute(hold).first() is not None


def _end(connection: Connection, now: datetime, where: ColumnElement[bool]) -> None:
    connection.execute(
        update(_LISTS).where(_LISTS.c.ended_at.is_(None), where).values(ended_at=now)
    )


def _of_parts(parts: Iterable[PartNumber]) -> Iterator[ColumnElement[bool]]:
    """Conditions that name parts a maker at a time."""
    offers = _OFFERS.table.c
    for maker, some in by_maker(parts):
        yield and_(offers.part_maker == maker, offers.part_number.in_(some))


def _by_line(found: tuple[tuple[int, int], Any]) -> tuple[int, int]:
    return found[0]
