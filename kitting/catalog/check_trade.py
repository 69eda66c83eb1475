"""That the trade's rows name what is there, and that every price can be used."""

from collections.abc import Iterable, Sequence
from itertools import combinations, pairwise

from kitting.catalog.check_notes import CheckReport, Notes
from kitting.catalog.family import Family
from kitting.catalog.model import PartNumber
from kitting.catalog.nearest import did_you_mean, nearest
from kitting.catalog.reach import operations_of
from kitting.catalog.rows import Sources
from kitting.catalog.trade import Offer, Trade, WorkPrice


def check_trade(trade: Trade, families: Sequence[Family], sources: Sources) -> CheckReport:
    """Return the faults and warnings of the trade beside the families that it serves.

    Args:
        trade: as read, or made otherwise.
        families: every family whose parts it may sell; an offer of another's part is a fault.
        sources: where the trade's rows stand; may be empty.
    """
    notes = Notes(sources)
    _check_shop(trade, families, notes)
    _check_rates(trade, notes)
    _check_suppliers(trade, notes)
    _check_offers(trade, families, notes)
    _check_work(trade, notes)
    for family in families:
        _check_family(trade, family, notes)
    return notes.report()


def _check_shop(trade: Trade, families: Sequence[Family], notes: Notes) -> None:
    shop = trade.shop
    wanted = {shop.labour_vat} | {part.vat for family in families for part in family.parts}
    for category in sorted(wanted - set(shop.vat)):
        notes.faults.add(
            "shop.csv", f"no rate for the VAT category {category}", f"add a row vat {category},…"
        )
    instruments = {feature.instrument for family in families for feature in family.features}
    for instrument in sorted(instruments - set(shop.uncertainty)):
        notes.warnings.add(
            "shop.csv",
            f"the uncertainty of the {instrument} is not said",
            did_you_mean(instrument, shop.uncertainty) or f"add a row uncertainty {instrument},…",
        )


def _check_rates(trade: Trade, notes: Notes) -> None:
    seen: dict[tuple[str, object], str] = {}
    for at, rate in enumerate(trade.rates):
        row = ("rates", str(at))
        place = notes.place(*row)
        before = seen.setdefault((rate.currency, rate.on), place)
        if before != place:
            notes.fault(row, "on", f"{rate.currency} has a rate of that day: {before}", "keep one")
        if rate.currency == trade.shop.currency and rate.worth != 1:
            notes.fault(row, "worth", f"{rate.currency} is the shop's own money", "take it out")


def _currency(trade: Trade, notes: Notes, row: tuple[str, str], currency: str) -> None:
    rated = {rate.currency for rate in trade.rates} | {trade.shop.currency}
    if currency not in rated:
        notes.fault(
            row, "currency", f"there is no exchange rate for {currency}", "add it to rates.csv"
        )


def _check_suppliers(trade: Trade, notes: Notes) -> None:
    for supplier in trade.suppliers:
        _currency(trade, notes, ("suppliers", supplier.key), supplier.currency)


def _check_offers(trade: Trade, families: Sequence[Family], notes: Notes) -> None:
    parts = {number for family in families for number in family.part_by_number}
    makers = {maker.key for maker in trade.makers}
    near_parts: dict[PartNumber, str] = {}
    grouped: dict[tuple[object, ...], list[tuple[int, Offer]]] = {}
    for at, offer in enumerate(trade.offers):
        row = ("offers", str(at))
        _currency(trade, notes, row, offer.currency)
        _check_days(notes, row, offer)
        if makers and offer.part.maker not in makers:
            notes.known(row, "part", "maker", offer.part.maker, makers)
        elif offer.part not in parts:
            advice = near_parts.setdefault(offer.part, _nearest_part(offer.part, parts))
            notes.fault(row, "part", f"no family has the part '{offer.part}'", advice)
        prices = [offer.price, *(step.price for step in offer.breaks)]
        if any(later >= before for before, later in pairwise(prices)):
            notes.warn(row, "breaks", "more packs are no cheaper by the pack", "look at the breaks")
        alike = (offer.supplier, offer.part, offer.pack, offer.quality)
        grouped.setdefault(alike, []).append((at, offer))
    for offers in grouped.values():
        _check_overlaps(offers, notes)


def _nearest_part(part: PartNumber, parts: Iterable[PartNumber]) -> str:
    every = list(parts)
    same = [known for known in every if (known.maker, known.normal) == (part.maker, part.normal)]
    if same:
        return f"it is written {same[0]}"
    near = nearest(str(part), map(str, every))
    return f"did you mean '{near[0]}'?" if near else "add it to a family's parts.csv"


def _check_overlaps(offers: list[tuple[int, Offer]], notes: Notes) -> None:
    for (at, one), (other_at, other) in combinations(offers, 2):
        if one.valid_from <= other.valid_until and other.valid_from <= one.valid_until:
            notes.warn(
                ("offers", str(other_at)),
                "part",
                f"the same pack is offered for the same days in {notes.place('offers', str(at))}",
                "the cheaper one is taken",
            )


def _check_days(notes: Notes, row: tuple[str, str], priced: Offer | WorkPrice) -> None:
    if priced.valid_from > priced.valid_until:
        notes.fault(
            row,
            "valid_until",
            f"it ends on {priced.valid_until}, before it begins on {priced.valid_from}",
            "the first day first",
        )


def _check_work(trade: Trade, notes: Notes) -> None:
    for at, work in enumerate(trade.work_prices):
        row = ("work_prices", str(at))
        notes.known(row, "machinist", "supplier", work.machinist, trade.supplier_by_key)
        notes.known(row, "operation", "operation", work.operation, trade.operation_by_key)
        _currency(trade, notes, row, work.currency)
        _check_days(notes, row, work)
    priced = {work.operation for work in trade.work_prices}
    for operation in trade.operations:
        if operation.key not in priced:
            notes.warn(
                ("operations", operation.key),
                "",
                f"no machinist has a price for {operation.key}",
                "add a row to work_prices.csv",
            )


def _check_family(trade: Trade, family: Family, notes: Notes) -> None:
    for operation in sorted(operations_of(family) - set(trade.operation_by_key)):
        notes.faults.add(
            "operations.csv",
            f"{family.name} asks for the operation '{operation}', which is not here",
            did_you_mean(operation, trade.operation_by_key) or "add it",
        )
    makers = {maker.key for maker in trade.makers}
    for maker in sorted({part.number.maker for part in family.parts} - makers):
        notes.faults.add(
            "makers.csv",
            f"{family.name} has parts of '{maker}', who is not here",
            did_you_mean(maker, makers) or "add him",
        )
    unsold = [str(part.number) for part in family.parts if part.number not in trade.offers_of]
    if unsold:
        shown = ", ".join(unsold[:5]) + (" and more" if len(unsold) > 5 else "")
        parts = "1 part" if len(unsold) == 1 else f"{len(unsold)} parts"
        notes.warnings.add("offers", f"nobody offers {parts} of {family.name}: {shown}", "")
