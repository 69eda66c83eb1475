"""The shop's terms and the suppliers' offers in the database."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from decimal import Decimal
from types import MappingProxyType
from typing import Any

from sqlalchemy import Connection, insert, select

from kitting.catalog import trade as values
from kitting.catalog.model import PartNumber
from kitting.catalog.trade import Offer, Shop, Trade
from kitting.errors import BadInput, Problem
from kitting.measure import Quantity
from kitting.store.faults import whole_or_not
from kitting.store.fingerprint import fingerprint
from kitting.store.offers import ListOf, Offers
from kitting.store.parts import insert_missing, table_of
from kitting.store.rows import RowMap
from kitting.store.tables import trade as tables


@dataclass(frozen=True, slots=True)
class _Vat:
    category: str
    percent: Decimal


@dataclass(frozen=True, slots=True)
class _Instrument:
    instrument: str
    uncertainty: Quantity


@dataclass(frozen=True, slots=True)
class LoadedTrade:
    """What a loading changed: the shop's terms, and the suppliers whose price list is new.

    `ended` are the lists of suppliers whom the shop no longer names, `taken_up` those that were
    ended so and hold again, since it names their suppliers again. `replaced` are lists that came
    from elsewhere, in whose place one of the catalogue's own holds now.
    """

    terms: bool
    price_lists: tuple[str, ...]
    ended: tuple[ListOf, ...] = ()
    taken_up: tuple[ListOf, ...] = ()
    replaced: tuple[ListOf, ...] = ()

    @property
    def changed(self) -> bool:
        """Whether anything changed."""
        return self.terms or bool(self.price_lists or self.ended or self.taken_up)


_SHOP = RowMap(Shop, tables.ShopRow, apart=("vat", "uncertainty"))
_VAT = RowMap(_Vat, tables.VatRow)
_INSTRUMENTS = RowMap(_Instrument, tables.InstrumentRow)
_SUPPLIERS = table_of(tables.SupplierRow)
_TERMS = table_of(tables.TermsRow)
# In the order in which rows may refer to earlier ones; the name is the trade's field.
_WHOLE: tuple[tuple[str, RowMap[Any]], ...] = (
    ("makers", RowMap(values.Maker, tables.MakerRow)),
    ("suppliers", RowMap(values.Supplier, tables.SupplierTermsRow)),
    ("operations", RowMap(values.Operation, tables.OperationRow)),
    ("work_prices", RowMap(values.WorkPrice, tables.WorkPriceRow)),
    ("rates", RowMap(values.Rate, tables.RateRow, named={"on": "on_day"})),
)


class TradeStore:
    """Reads and writes the trade within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self.offers = Offers(connection)

    def load_trade(self, trade: Trade) -> LoadedTrade:
        """Store a checked trade; what is the same as before changes nothing.

        Terms are kept whole each time they change. A supplier's list that differs from the one
        that these files gave last ends the one that holds; the ended list is kept. So is that of a
        supplier whom the shop no longer names; it holds again as soon as he is named again.

        Raises:
            BadInput: an amount cannot be kept exactly, or a row refers to nothing.
        """
        with whole_or_not(self._connection, "the trade's files"):
            return self._load(trade)

    def trade(self, parts: Iterable[PartNumber] | None = None) -> Trade:
        """Return the terms that hold with the offers that hold, of the given parts or of all.

        Raises:
            BadInput: no trade has been loaded yet.
        """
        newest = self._newest()
        if newest is None:
            raise BadInput(
                Problem(
                    "",
                    "no suppliers, prices or shop settings have been loaded yet",
                    "load the catalogue's `trade` folder with `kitting catalog load`",
                )
            )
        whole: dict[str, Any] = {
            name: table.all(self._connection, table.table.c.terms_id == newest.id)
            for name, table in _WHOLE
        }
        offers = self.offers.holding(parts)
        known = {supplier.key for supplier in whole["suppliers"]}
        return Trade(
            shop=self._shop(newest.id),
            offers=tuple(offer for offer in offers if offer.supplier in known),
            **whole,
        )

    def is_loaded(self) -> bool:
        """Whether any terms have been loaded."""
        return self._newest() is not None

    def _load(self, trade: Trade) -> LoadedTrade:
        insert_missing(
            self._connection, _SUPPLIERS, [{"key": key} for key in sorted(_supplier_keys(trade))]
        )
        terms = self._load_terms(replace(trade, offers=()))
        fresh = []
        replaced = []
        by_supplier: dict[str, list[Offer]] = {}
        for offer in trade.offers:
            by_supplier.setdefault(offer.supplier, []).append(offer)
        for supplier, offers in by_supplier.items():
            content = fingerprint(offers)
            if content != self.offers.last_content(supplier, origin=""):
                before = self.offers.holding_of(supplier)
                self.offers.load_list(supplier, offers, content)
                replaced += [before] if before and before.origin else []
                fresh.append(supplier)
        ended = self.offers.end_lists_but_of(trade.supplier_by_key)
        taken_up = self.offers.take_up(trade.supplier_by_key)
        return LoadedTrade(terms, tuple(fresh), ended, taken_up, tuple(replaced))

    def _newest(self) -> Any:
        query = select(_TERMS.c.id, _TERMS.c.content_hash).order_by(_TERMS.c.id.desc()).limit(1)
        return self._connection.execute(query).first()

    def _load_terms(self, terms: Trade) -> bool:
        content = fingerprint(terms)
        newest = self._newest()
        if newest is not None and newest.content_hash == content:
            return False
        owner: dict[str, Any] = {
            "terms_id": self._connection.execute(
                insert(_TERMS)
                .values(content_hash=content, loaded_at=datetime.now(UTC))
                .returning(_TERMS.c.id)
            ).scalar_one()
        }
        for name, table in _WHOLE:
            table.insert(self._connection, getattr(terms, name), **owner)
        shop = terms.shop
        _SHOP.insert(self._connection, [shop], **owner)
        _VAT.insert(self._connection, [_Vat(*pair) for pair in shop.vat.items()], **owner)
        _INSTRUMENTS.insert(
            self._connection, [_Instrument(*pair) for pair in shop.uncertainty.items()], **owner
        )
        return True

    def _shop(self, terms_id: int) -> Shop:
        vat = _VAT.all(self._connection, _VAT.table.c.terms_id == terms_id)
        instruments = _INSTRUMENTS.all(self._connection, _INSTRUMENTS.table.c.terms_id == terms_id)
        (shop,) = _SHOP.all(
            self._connection,
            _SHOP.table.c.terms_id == terms_id,
            vat=MappingProxyType({each.category: each.percent for each in vat}),
            uncertainty=MappingProxyType(
                {each.instrument: each.uncertainty for each in instruments}
            ),
        )
        return shop


def _supplier_keys(trade: Trade) -> set[str]:
    return {supplier.key for supplier in trade.suppliers} | {
        offer.supplier for offer in trade.offers
    }
