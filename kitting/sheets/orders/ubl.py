"""An order as a UBL 2.1 Order (ISO/IEC 19845); sums after EN 16931."""

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
    why_no_vat,
)
from kitting.sheets.style import safe_text

if TYPE_CHECKING:
    from decimal import Decimal

    from kitting.buying.orders import Order, OrderLine
    from kitting.catalog.trade import Shop
    from kitting.job.estimate import VatLine

_ORDER = "urn:oasis:names:specification:ubl:schema:xsd:Order-2"
_CAC = "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2"
_CBC = "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2"
_NAMES = {None: _ORDER, "cac": _CAC, "cbc": _CBC}


def ubl_order(order: Order, shop: Shop) -> bytes:
    """Return the order as a UBL 2.1 document.

    Raises:
        BadInput: it is a draft, or holds what such a document cannot say.
    """
    check_documentable(order)
    root = etree.Element(f"{{{_ORDER}}}Order", nsmap=_NAMES)
    _text(root, "UBLVersionID", "2.1")
    _text(root, "ID", order.number)
    _text(root, "IssueDate", order.sent_on.isoformat())
    _text(root, "OrderTypeCode", ORDER_TYPE)
    _text(root, "Note", f"Revision {order.revision}")
    _text(root, "DocumentCurrencyCode", order.currency)
    _party(_under(root, "BuyerCustomerParty"), shop.name, shop.address)
    _party(_under(root, "SellerSupplierParty"), order.supplier.name, order.supplier.address)
    if order.carriage:
        _carriage(root, order)
    _vat(root, order)
    _totals(root, order)
    for line in order.lines:
        _line(root, order, line)
    return bytes(etree.tostring(root, xml_declaration=True, encoding="UTF-8", pretty_print=True))


def _party(role: etree._Element, name: str, address: str) -> None:
    party = _under(role, "Party")
    _text(_under(party, "PartyName"), "Name", name)
    if address:
        line = _under(_under(party, "PostalAddress"), "AddressLine")
        _text(line, "Line", address)


def _carriage(root: etree._Element, order: Order) -> None:
    charge = _under(root, "AllowanceCharge")
    _text(charge, "ChargeIndicator", "true")
    _text(charge, "AllowanceChargeReasonCode", CARRIAGE_CODE)
    _text(charge, "AllowanceChargeReason", "Carriage")
    _amount(charge, "Amount", order.carriage, order.currency)
    _category(charge, "TaxCategory", order.carriage_vat, order.carriage_vat_percent)


def _vat(root: etree._Element, order: Order) -> None:
    totals = order.with_vat
    tax = _under(root, "TaxTotal")
    _amount(tax, "TaxAmount", totals.gross - totals.net, order.currency)
    for line in totals.vat:
        _subtotal(tax, line, order.currency)


def _subtotal(tax: etree._Element, line: VatLine, currency: str) -> None:
    part = _under(tax, "TaxSubtotal")
    _amount(part, "TaxableAmount", line.base, currency)
    _amount(part, "TaxAmount", line.amount, currency)
    _category(part, "TaxCategory", line.category, line.rate, why_no_vat(line.category))


def _totals(root: etree._Element, order: Order) -> None:
    totals, currency = order.with_vat, order.currency
    summed = _under(root, "AnticipatedMonetaryTotal")
    _amount(summed, "LineExtensionAmount", order.goods, currency)
    _amount(summed, "TaxExclusiveAmount", totals.net, currency)
    _amount(summed, "TaxInclusiveAmount", totals.gross, currency)
    _amount(summed, "ChargeTotalAmount", order.carriage, currency)
    _amount(summed, "PayableAmount", totals.gross, currency)


def _line(root: etree._Element, order: Order, line: OrderLine) -> None:
    item = _under(_under(root, "OrderLine"), "LineItem")
    unit = {"unitCode": unit_code(line)}
    _text(item, "ID", line.id)
    if line.remark:
        _text(item, "Note", line.remark)
    _text(item, "Quantity", str(line.pieces), unit)
    _amount(item, "LineExtensionAmount", line.net, order.currency)
    period = _under(_under(item, "Delivery"), "RequestedDeliveryPeriod")
    _text(period, "EndDate", order.due(line).isoformat())
    price = _under(item, "Price")
    _text(price, "PriceAmount", number_text(line.pack_price), {"currencyID": order.currency})
    _text(price, "BaseQuantity", str(line.pack), unit)
    what = _under(item, "Item")
    _text(what, "Name", line.name)
    _text(_under(what, "BuyersItemIdentification"), "ID", str(line.part))
    _text(_under(what, "SellersItemIdentification"), "ID", line.their_number)
    _category(what, "ClassifiedTaxCategory", line.vat, line.vat_percent)


def _category(
    parent: etree._Element, name: str, category: str, percent: Decimal, why: str = ""
) -> None:
    tax = _under(parent, name)
    _text(tax, "ID", category)
    if category != "O":
        _text(tax, "Percent", number_text(percent))
    if why:
        _text(tax, "TaxExemptionReason", why)
    _text(_under(tax, "TaxScheme"), "ID", "VAT")


def _amount(parent: etree._Element, name: str, amount: Decimal, currency: str) -> None:
    _text(parent, name, amount_text(amount, currency), {"currencyID": currency})


def _under(parent: etree._Element, name: str) -> etree._Element:
    return etree.SubElement(parent, f"{{{_CAC}}}{name}")


def _text(parent: etree._Element, name: str, text: str, more: dict[str, str] | None = None) -> None:
    element = etree.SubElement(parent, f"{{{_CBC}}}{name}", more or {})
    element.text = safe_text(text)
