"""Jobs for the sheets: one of the Wren single with all that a sheet must show."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from kitting.catalog.family import Family
from kitting.catalog.model import PartNumber
from kitting.catalog.rules import Then, When
from kitting.catalog.trade import Trade
from kitting.job.findings import Bench, Finding
from kitting.job.path import JobPath, walk
from tests.builders import a_consequence, an_offer
from tests.job.benches import DAY, JOB, a_finding, read
from tests.wren import tiny_family, tiny_trade

CUSTOMER = "Marguerite Thistlewood"
PIN_ON_ONE_SIDE = ("1.4937", "1.4990", "1.4935", "1.4992")


def a_job(
    *more: Finding,
    trade: Trade | None = None,
    day: date = DAY,
    customer: str = CUSTOMER,
    pin: tuple[str, ...] = PIN_ON_ONE_SIDE,
) -> JobPath:
    """The Wren with a pin worn on one side, scored shells, a wrong nut, and two open points."""
    findings = (
        a_finding("crank", *read("crankpin-diameter", *pin), seen=(("chipped", "no"),)),
        a_finding("shells", seen=(("scoring", "deep"),)),
        a_finding("barrel", *read("barrel-bore", "2.5010", "2.5080", "2.5012", "2.5062")),
        a_finding("barrel-nuts", *read("nut-height", "0.312")),
        *more,
    )
    job = replace(JOB, customer=customer)
    bench = Bench(job, ("top-end", "lubrication", "bottom-end"), findings)
    return walk(a_family(), trade or a_trade(), bench, day)


def a_ready_job(trade: Trade | None = None) -> JobPath:
    """The same with every question answered."""
    return a_job(
        a_finding("relief-spring", *read("spring-rate", "22", unit="lbf/in")),
        a_finding("oil-pump", *read("pump-float", "0.002")),
        trade=trade,
    )


def a_family() -> Family:
    """The Wren, whose bores when cut ask for a piston and a gasket."""
    family = tiny_family()
    rebored = "operation:rebore"
    more = (
        a_consequence("bored", When.OPERATION, rebored, Then.RENEW, "piston"),
        a_consequence("off", When.OPERATION, rebored, Then.RENEW, "head-gasket"),
    )
    return replace(family, consequences=(*family.consequences, *more))


def a_trade() -> Trade:
    """The Wren's trade with a foreign supplier, a lapsed price and a least order value."""
    trade = tiny_trade()
    least = {"brook": Decimal(200)}
    suppliers = tuple(
        replace(each, least_order=least.get(each.key, each.least_order)) for each in trade.suppliers
    )
    sued = replace(
        trade.suppliers[0],
        key="sued",
        name="Süd Teile",
        address="Hafenweg 2, Unterstadt",
        currency="EUR",
        carriage=Decimal("9.90"),
        free_over=None,
    )
    offers = tuple(
        replace(offer, valid_until=date(2024, 3, 31)) if offer.part.number == "W140" else offer
        for offer in trade.offers
    )
    abroad = replace(
        an_offer("sued", "hob:W302", "8.35", pack=2),
        their_number="=1/2-20",
        currency="EUR",
    )
    return replace(trade, suppliers=(*suppliers, sued), offers=(*offers, abroad))


def number(text: str) -> PartNumber:
    """A part number of the Wren."""
    return PartNumber("hob", text)
