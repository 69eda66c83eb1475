"""What a row of each of the trade's files means."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal

from kitting.catalog import cells
from kitting.catalog.model import PartNumber
from kitting.catalog.rows import Row
from kitting.catalog.trade import Maker, Offer, Operation, Quality, Rate, Supplier, WorkPrice

_ZERO = Decimal(0)
_ONE = Decimal(1)
_NO_DAY = date.min
_FROM_0, _FROM_1 = cells.whole(0), cells.whole(1)
_QUALITY = cells.member(Quality, [each for each in Quality if each])


def maker(row: Row) -> Maker:
    """A row of makers.csv."""
    return Maker(key=row.need("key", cells.key, ""), name=row.name("name"))


def supplier(row: Row) -> Supplier:
    """A row of suppliers.csv."""
    return Supplier(
        key=row.need("key", cells.key, ""),
        name=row.name("name"),
        address=row.text("address"),
        currency=row.need("currency", cells.currency, ""),
        carriage=row.maybe("carriage", cells.money, _ZERO),
        free_over=row.maybe("free_over", cells.money, None),
        least_order=row.maybe("least_order", cells.money, _ZERO),
        days=row.need("days", _FROM_0, 0),
        note=row.text("note"),
    )


def offer(supplier_key: str, known: Supplier | None) -> Callable[[Row], Offer]:
    """A row of a supplier's offers; currency and days are the supplier's unless it says."""

    def make(row: Row) -> Offer:
        return Offer(
            supplier=supplier_key,
            their_number=row.name("their_number"),
            part=row.need("part", cells.part_number, PartNumber("", "")),
            pack=row.maybe("pack", _FROM_1, 1),
            price=row.need("price", cells.price, _ONE),
            breaks=row.maybe("breaks", cells.price_breaks, ()),
            currency=row.maybe("currency", cells.currency, known.currency if known else ""),
            valid_from=row.need("valid_from", cells.day, _NO_DAY),
            valid_until=row.need("valid_until", cells.day, _NO_DAY),
            days=row.maybe("days", _FROM_0, known.days if known else 0),
            stock=row.maybe("stock", _FROM_0, None),
            quality=row.maybe("quality", _QUALITY, Quality.UNSAID),
        )

    return make


def operation(row: Row) -> Operation:
    """A row of operations.csv."""
    return Operation(
        key=row.need("key", cells.key, ""),
        name=row.name("name"),
        instruction=row.name("instruction"),
        caution=row.text("caution"),
    )


def work_price(row: Row) -> WorkPrice:
    """A row of work_prices.csv."""
    return WorkPrice(
        machinist=row.need("machinist", cells.key, ""),
        operation=row.need("operation", cells.key, ""),
        per=row.need("per", cells.choice("each", "job"), "each"),
        price=row.need("price", cells.price, _ONE),
        currency=row.need("currency", cells.currency, ""),
        valid_from=row.need("valid_from", cells.day, _NO_DAY),
        valid_until=row.need("valid_until", cells.day, _NO_DAY),
        days=row.need("days", _FROM_0, 0),
    )


def rate(row: Row) -> Rate:
    """A row of rates.csv."""
    return Rate(
        currency=row.need("currency", cells.currency, ""),
        worth=row.need("worth", cells.exchange_rate, _ONE),
        on=row.need("on", cells.day, _NO_DAY),
    )
