"""The two files that are a list of settings: family.csv and shop.csv."""

from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from types import MappingProxyType
from typing import TypeVar

from kitting.catalog import cells
from kitting.catalog.columns import SHOP_KEYS, VAT_CATEGORIES
from kitting.catalog.nearest import did_you_mean
from kitting.catalog.rows import Row
from kitting.catalog.trade import Shop
from kitting.errors import Problems
from kitting.measure import Quantity

_T = TypeVar("_T")

_VAT, _UNCERTAINTY = "vat ", "uncertainty "


class Settings:
    """Rows of key and value: each key known and once, none missing."""

    def __init__(
        self,
        file: str,
        rows: Sequence[Row],
        known: Sequence[str],
        problems: Problems,
        openings: Sequence[str] = (),
    ) -> None:
        self._problems = problems
        self._rows: dict[str, Row] = {}
        for row in rows:
            name = row.text("key")
            if name not in known and not name.startswith(tuple(openings)):
                problems.add(
                    row.place("key"), f"'{name}' is no setting here", did_you_mean(name, known)
                )
            elif name in self._rows:
                problems.add(
                    row.place("key"),
                    f"'{name}' is there already: {self._rows[name].raw.place}",
                    "keep one of them",
                )
            else:
                self._rows[name] = row
        for name in known:
            if rows and name not in self._rows:
                problems.add(f"{file}.csv", f"the setting {name} is missing", f"add a row {name},…")

    def need(self, name: str, parse: Callable[[str], _T], stand_in: _T) -> _T:
        """The value of a setting."""
        row = self._rows.get(name)
        return stand_in if row is None else row.need("value", parse, stand_in)

    def opening(self, start: str, parse: Callable[[str], _T]) -> Mapping[str, _T]:
        """The settings whose names open alike, by the rest of their names."""
        found: dict[str, _T] = {}
        for name, row in self._rows.items():
            if name.startswith(start):
                with self._problems.at(row.place("value")):
                    found[name.removeprefix(start)] = parse(row.text("value"))
        return MappingProxyType(found)


def shop_from(rows: Sequence[Row], problems: Problems) -> Shop:
    """The shop's own terms from the rows of shop.csv."""
    settings = Settings("shop", rows, SHOP_KEYS, problems, openings=(_VAT, _UNCERTAINTY))
    zero = Decimal(0)
    return Shop(
        name=settings.need("name", str, ""),
        address=settings.need("address", str, ""),
        currency=settings.need("currency", cells.currency, ""),
        labour_rate=settings.need("labour rate", cells.money, zero),
        labour_vat=settings.need("labour vat", cells.choice(*VAT_CATEGORIES), "S"),
        work_markup=settings.need("work markup", cells.percent, zero),
        parts_markup=settings.need("parts markup", cells.percent, zero),
        vat=settings.opening(_VAT, cells.percent),
        uncertainty=settings.opening(_UNCERTAINTY, _uncertainty),
        lean=settings.need("lean", cells.choice("recheck", "reuse", "renew"), "recheck"),
    )


def _uncertainty(text: str) -> Quantity:
    return cells.figure(None)(text)
