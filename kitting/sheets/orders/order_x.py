"""An order as Order-X (UN/CEFACT Cross Industry Order, D20B), profile Comfort.

It holds what the supplier's sheet holds: his numbers, ours, quantities in pieces, prices for a
pack, VAT by category, sums after EN 16931.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from lxml import etree

from kitting.sheets.orders.codes import (
    CARRIAGE_CODE,
    ORDER_TYPE,
    amount_text,
    check_documentable,
    number_text,
    unit_code,
)
from kitting.sheets.style import safe_text

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal

    from kitting.buying.orders import Order, OrderLine
    from kitting.catalog.trade import Shop

_RSM = "urn:un:unece:uncefact:data:SCRDMCCBDACIOMessageStructure:100"
_RAM = "urn:un:unece:uncefact:data:standard:ReusableAggregateBusinessInformationEntity:128"
_UDT = "urn:un:unece:uncefact:data:standard:UnqualifiedDataType:128"
_NAMES = {"rsm": _RSM, "ram": _RAM, "udt": _UDT}
_PROFILE = "urn:order-x.eu:1p0:comfort"
_ORIGINAL = "9"  # UNCL 1225
_WHOLE_DAY = "102"  # UNCL 2379: CCYYMMDD


def order_x(order: Order, shop: Shop) -> bytes:
    """Return the order as an Order-X document.

    Raises:
        BadInput: it is a draft, or holds what such a document cannot say.
    """
    check_documentable(order)
    root = etree.Element(f"{{{_RSM}}}SCRDMCCBDACIOMessageStructure", nsmap=_NAMES)
    context = _under(root, "ExchangedDocumentContext", space=_RSM)
    _text(_under(context, "GuidelineSpecifiedDocumentContextParameter"), "ID", _PROFILE)
    head = _under(root, "ExchangedDocument", space=_RSM)
    _text(head, "ID", order.number)
    _text(head, "TypeCode", ORDER_TYPE)
    _day(_under(head, "IssueDateTime"), order.sent_on)
    _text(head, "PurposeCode", _ORIGINAL)
    _text(_under(head, "IncludedNote"), "Content", f"Revision {order.revision}")
    deal = _under(root, "SupplyChainTradeTransaction", space=_RSM)
    for line in order.lines:
        _line(deal, order, line)
    agreement = _under(deal, "ApplicableHeaderTradeAgreement")
    _party(agreement, "SellerTradeParty", order.supplier.name, order.supplier.address)
    _party(agreement, "BuyerTradeParty", shop.name, shop.address)
    delivery = _under(deal, "ApplicableHeaderTradeDelivery")
    _party(delivery, "ShipToTradeParty", shop.name, shop.address)
    _settlement(deal, order)
    return bytes(etree.tostring(root, xml_declaration=True, encoding="UTF-8", pretty_print=True))


def _line(deal: etree._Element, order: Order, line: OrderLine) -> None:
    item = _under(deal, "IncludedSupplyChainTradeLineItem")
    document = _under(item, "AssociatedDocumentLineDocument")
    _text(document, "LineID", line.id)
    if line.remark:
        _text(_under(document, "IncludedNote"), "Content", line.remark)
    product = _under(item, "SpecifiedTradeProduct")
    _text(product, "SellerAssignedID", line.their_number)
    _text(product, "BuyerAssignedID", str(line.part))
    _text(product, "Name", line.name)
    unit = {"unitCode": unit_code(line)}
    price = _under(_under(item, "SpecifiedLineTradeAgreement"), "NetPriceProductTradePrice")
    _text(price, "ChargeAmount", number_text(line.pack_price))
    _text(price, "BasisQuantity", str(line.pack), unit)
    delivery = _under(item, "SpecifiedLineTradeDelivery")
    _text(delivery, "RequestedQuantity", str(line.pieces), unit)
    event = _under(delivery, "RequestedDeliverySupplyChainEvent")
    _day(_under(event, "OccurrenceDateTime"), order.due(line))
    settlement = _under(item, "SpecifiedLineTradeSettlement")
    _tax(settlement, "ApplicableTradeTax", line.vat, line.vat_percent)
    summed = _under(settlement, "SpecifiedTradeSettlementLineMonetarySummation")
    _text(summed, "LineTotalAmount", amount_text(line.net, order.currency))


def _settlement(deal: etree._Element, order: Order) -> None:
    currency = order.currency
    settlement = _under(deal, "ApplicableHeaderTradeSettlement")
    _text(settlement, "OrderCurrencyCode", currency)
    if order.carriage:
        charge = _under(settlement, "SpecifiedTradeAllowanceCharge")
        _text(_under(charge, "ChargeIndicator"), "Indicator", "true", space=_UDT)
        _text(charge, "ActualAmount", amount_text(order.carriage, currency))
        _text(charge, "ReasonCode", CARRIAGE_CODE)
        _text(charge, "Reason", "Carriage")
        _tax(charge, "CategoryTradeTax", order.carriage_vat, order.carriage_vat_percent)
    totals = order.with_vat
    summed = _under(settlement, "SpecifiedTradeSettlementHeaderMonetarySummation")
    _text(summed, "LineTotalAmount", amount_text(order.goods, currency))
    _text(summed, "ChargeTotalAmount", amount_text(order.carriage, currency))
    _text(summed, "TaxBasisTotalAmount", amount_text(totals.net, currency))
    tax = amount_text(totals.gross - totals.net, currency)
    _text(summed, "TaxTotalAmount", tax, {"currencyID": currency})
    _text(summed, "GrandTotalAmount", amount_text(totals.gross, currency))


def _tax(parent: etree._Element, name: str, category: str, percent: Decimal) -> None:
    tax = _under(parent, name)
    _text(tax, "TypeCode", "VAT")
    _text(tax, "CategoryCode", category)
    if category != "O":
        _text(tax, "RateApplicablePercent", number_text(percent))


def _party(parent: etree._Element, role: str, name: str, address: str) -> None:
    """A party by its name; its address is one text, so it stands as a description."""
    party = _under(parent, role)
    _text(party, "Name", name)
    if address:
        _text(party, "Description", address)


def _day(parent: etree._Element, day: date) -> None:
    _text(parent, "DateTimeString", f"{day:%Y%m%d}", {"format": _WHOLE_DAY}, space=_UDT)


def _under(parent: etree._Element, name: str, *, space: str = _RAM) -> etree._Element:
    return etree.SubElement(parent, f"{{{space}}}{name}")


def _text(
    parent: etree._Element,
    name: str,
    text: str,
    more: dict[str, str] | None = None,
    *,
    space: str = _RAM,
) -> None:
    element = etree.SubElement(parent, f"{{{space}}}{name}", more or {})
    element.text = safe_text(text)
