"""The Wren single: a tiny but complete engine family and trade, as values. All invented.

A crank with one pin, a pump, a barrel. Everything that the catalogue can say is said at least once;
`tests/catalog` proves that it passes the catalogue's check. A test that needs another family takes
`tiny_family()` and changes it with `dataclasses.replace`.
"""

from datetime import date
from decimal import Decimal

from kitting.catalog.family import Family
from kitting.catalog.model import (
    Assembly,
    Feature,
    Fit,
    Link,
    LinkKind,
    Part,
    Position,
    SetItem,
    Variant,
    Verdict,
)
from kitting.catalog.rules import Consequence, Judgement, Labour, Observation, Then, When
from kitting.catalog.size_tables import SizeKind, SizeTable
from kitting.catalog.trade import (
    Maker,
    Offer,
    Operation,
    Rate,
    Shop,
    Supplier,
    Trade,
    WorkPrice,
)
from tests.builders import (
    INCH,
    a_consequence,
    a_feature,
    a_fit,
    a_grade,
    a_judgement,
    a_link,
    a_part,
    a_position,
    a_table,
    aim,
    an_offer,
    number,
    q,
)

_STATIONS, _ROUND = ("front", "rear"), ("0", "90")


def tiny_family() -> Family:
    """The Wren single, whole; it passes the check without a fault."""
    return Family(
        key="wren-single",
        name="Wren single",
        maker="Hobday and Wren",
        years="1958-1966",
        edition="2024-1",
        unit=INCH,
        summary="A tiny engine to try things on",
        variants=(
            Variant("mark-1", "Wren Mark 1", "WS", 100, 499, "1958-1961"),
            Variant("mark-2", "Wren Mark 2", "WS", 500, 999, "1962-1966", "stronger relief spring"),
        ),
        assemblies=(
            Assembly("top-end", "Top end", 1, "3 top end"),
            Assembly("lubrication", "Lubrication", 2, "2 oil", "Used oil is hazardous: gloves"),
            Assembly("bottom-end", "Bottom end", 3, "1 bottom end"),
        ),
        positions=_positions(),
        features=_features(),
        size_tables=(_crankpin(), _bore()),
        observations=(
            Observation(
                "scoring", "Scoring", ("none", "light", "fingernail catches", "deep"), ("shell",)
            ),
            Observation("flecks", "Silver flecks", ("none", "few", "many"), ("filter",)),
            Observation("chipped", "Chipped", ("no", "yes"), (), "Is anything chipped?"),
        ),
        judgements=_judgements(),
        consequences=_consequences(),
        parts=_parts(),
        fits=_fits(),
        links=_links(),
        set_items=(
            SetItem(number("hob:W900"), number("hob:W310"), 1),
            SetItem(number("hob:W900"), number("hob:W210"), 1),
        ),
        labour=(
            Labour("strip", aim("assembly:bottom-end"), Decimal("1.5")),
            Labour("renew", aim("kind:shell"), Decimal("0.25"), "each pair"),
        ),
    )


def _positions() -> tuple[Position, ...]:
    return (
        a_position("barrel", "top-end", "barrel", must_look=True),
        a_position("piston", "top-end", "piston", sized_by="bore"),
        a_position("head-gasket", "top-end", "gasket"),
        a_position("barrel-nuts", "top-end", "nut", 4),
        a_position("oil-pump", "lubrication", "pump"),
        a_position("relief-spring", "lubrication", "spring", must_look=True),
        a_position("sump-filter", "lubrication", "filter"),
        a_position("crank", "bottom-end", "crank", must_look=True),
        a_position("shells", "bottom-end", "shell", 2, sized_by="crankpin", matched="big-end"),
        a_position(
            "rod", "bottom-end", "rod", caution="The rod bolts stretch: a new set each time"
        ),
        a_position("rod-bolts", "bottom-end", "bolt", 2, matched="big-end"),
        a_position("case-gasket", "bottom-end", "gasket"),
        a_position("tab-washer", "bottom-end", "tab-washer", variants=("mark-2",)),
    )


def _features() -> tuple[Feature, ...]:
    return (
        a_feature(
            "crankpin-diameter",
            "crank",
            "diameter",
            form=("0.0005", "0.0005"),
            size_table="crankpin",
            stations=_STATIONS,
            directions=_ROUND,
            if_out=Verdict.REWORK,
            operation="regrind",
            critical=True,
            at_build=True,
        ),
        a_feature(
            "barrel-bore",
            "barrel",
            "bore",
            form=("0.0020", "0.0020"),
            size_table="bore",
            stations=_STATIONS,
            directions=_ROUND,
            if_out=Verdict.REWORK,
            operation="rebore",
            critical=True,
        ),
        a_feature("pump-float", "oil-pump", "end float", ("0.001", "0.003"), ("", "0.005")),
        a_feature(
            "spring-rate", "relief-spring", "rate", ("20", "24"), unit="lbf/in", part_tells=True
        ),
        a_feature("nut-height", "barrel-nuts", "height", ("0.245", "0.255"), part_tells=True),
    )


def _crankpin() -> SizeTable:
    """Lined = housing less two walls: 1.6250 - 2 x .0625 = 1.5000; 1.6255 - 2 x .0620 = 1.5015."""
    clearance = ("0.0005", "0.0025")
    return a_table(
        "crankpin",
        SizeKind.SHAFT,
        (
            a_grade(
                "crankpin", "std", 0, "0", ("1.4990", "1.4995"), ("0.0620", "0.0625"),
                worn="1.4980", lined=("1.5000", "1.5015"), clearance=clearance,
            ),
            a_grade(
                "crankpin", "-002", 1, "0.002", wall=("0.0630", "0.0635"),
                half_step_of="std", takes_up="0.002",
            ),
            a_grade(
                "crankpin", "-010", 2, "0.010", ("1.4890", "1.4895"), ("0.0670", "0.0675"),
                worn="1.4880", lined=("1.4900", "1.4915"), clearance=clearance,
            ),
            a_grade(
                "crankpin", "-020", 3, "0.020", ("1.4790", "1.4795"), ("0.0720", "0.0725"),
                worn="1.4780", lined=("1.4800", "1.4815"), clearance=clearance,
            ),
        ),
        housing=("1.6250", "1.6255"),
        clearance=("0.0005", "0.0025", "0.0050"),
        stock="0.001",
        operation="regrind",
    )  # fmt: skip


def _bore() -> SizeTable:
    return a_table(
        "bore",
        SizeKind.BORE,
        (
            a_grade("bore", "std", 0, "0", ("2.5000", "2.5010"), worn="2.5060"),
            a_grade("bore", "+020", 1, "0.020", ("2.5200", "2.5210"), worn="2.5260"),
            a_grade("bore", "+040", 2, "0.040", ("2.5400", "2.5410"), worn="2.5460"),
        ),
        stock="0.004",
        operation="rebore",
    )


def _judgements() -> tuple[Judgement, ...]:
    return (
        a_judgement("scored-shells", "scoring", "fingernail catches", "kind:shell", Verdict.RENEW),
        a_judgement("chipped-nut", "chipped", "yes", "barrel-nuts", Verdict.RENEW),
    )


def _consequences() -> tuple[Consequence, ...]:
    bottom, renew = "assembly:bottom-end", Then.RENEW
    return (
        a_consequence("gaskets", When.STRIPPED, bottom, renew, "kind:gasket@bottom-end"),
        a_consequence("tabs", When.STRIPPED, bottom, renew, "kind:tab-washer"),
        a_consequence("bolts-go-too", When.RENEW, "shells", renew, "rod-bolts"),
        a_consequence("shells-gone", When.RENEW, "shells", Then.CHECK, "oil-pump"),
        a_consequence("ground-pins", When.OPERATION, "operation:regrind", renew, "shells"),
        a_consequence(
            "crack", When.OPERATION, "operation:regrind", Then.OPERATION, "crank",
            operation="crack-test",
        ),
        a_consequence(
            "metal-about", When.SEEN, "sump-filter", Then.CHECK, "relief-spring",
            seen=("flecks", "few"),
        ),
        a_consequence("new-pump", When.RENEW, "oil-pump", Then.ADVISE, "sump-filter"),
    )  # fmt: skip


def _parts() -> tuple[Part, ...]:
    return (
        a_part("hob:W100", "shell"),
        a_part("hob:W101", "shell"),
        a_part("hob:W102", "shell", {"undersize": "0.002 in"}),
        a_part("hob:W110", "shell", {"undersize": "0.010 in"}),
        a_part("hob:W120", "shell", {"undersize": "0.020 in"}),
        a_part("hob:W130", "crank"),
        a_part("hob:W131", "rod"),
        a_part("hob:W140", "bolt", {"thread": "5/16 x 26 cycle"}),
        a_part("hob:W150", "tab-washer"),
        a_part("hob:W200", "pump"),
        a_part("hob:W201", "filter"),
        a_part("hob:W202", "pump"),
        a_part("hob:W205", "spring", {"rate": "22 lbf/in"}),
        a_part("dal:R205", "spring", {"rate": "22 lbf/in"}),
        a_part("hob:W206", "spring", {"rate": "22 lbf/in"}),
        a_part("hob:W210", "gasket"),
        a_part("hob:W300", "barrel"),
        a_part("hob:W301", "piston"),
        a_part("hob:W302", "piston", {"oversize": "0.020 in"}),
        a_part("hob:W304", "piston", {"oversize": "0.040 in"}),
        a_part("hob:W310", "gasket"),
        a_part("hob:W320", "nut", {"thread": "3/8 x 26 cycle", "height": "0.250 in"}),
        a_part("dal:R320", "nut", {"thread": "3/8 x 26 cycle", "height": "0.250 in"}),
        a_part("hob:W321", "stud"),
        a_part("hob:W900", "set"),
    )


def _fits() -> tuple[Fit, ...]:
    return (
        a_fit("shells", "hob:W100", "std", 1),
        a_fit("shells", "hob:W102", "-002", 1),
        a_fit("shells", "hob:W110", "-010", 1),
        a_fit("shells", "hob:W120", "-020", 1),
        a_fit("crank", "hob:W130"),
        a_fit("rod", "hob:W131"),
        a_fit("rod-bolts", "hob:W140"),
        a_fit("tab-washer", "hob:W150"),
        a_fit("oil-pump", "hob:W200"),
        a_fit("sump-filter", "hob:W201"),
        a_fit("relief-spring", "hob:W205"),
        a_fit("case-gasket", "hob:W210"),
        a_fit("barrel", "hob:W300"),
        a_fit("piston", "hob:W301", "std"),
        a_fit("piston", "hob:W302", "+020"),
        a_fit("piston", "hob:W304", "+040"),
        a_fit("head-gasket", "hob:W310"),
        a_fit("barrel-nuts", "hob:W320"),
    )


def _links() -> tuple[Link, ...]:
    return (
        a_link("new-shells", LinkKind.SUPERSEDED, "hob:W100", "hob:W101", since=date(1963, 1, 1)),
        a_link("springs", LinkKind.EITHER_WAY, "hob:W205", "dal:R205"),
        a_link("later-spring", LinkKind.ONE_WAY, "hob:W205", "hob:W206", variants=("mark-2",)),
        a_link("thin-nuts", LinkKind.FULL_SET, "hob:W320", "dal:R320", needs=("hob:W321",)),
        a_link("long-pump", LinkKind.WITH_WORK, "hob:W200", "hob:W202", operation="line-ream"),
    )


def tiny_trade() -> Trade:
    """Two suppliers, a grinder and the shop, priced for the year 2024."""
    return Trade(
        shop=Shop(
            name="Lane End Engines",
            address="1 Lane End, Overby",
            currency="GBP",
            labour_rate=Decimal("42.00"),
            labour_vat="S",
            work_markup=Decimal(10),
            parts_markup=Decimal(15),
            vat={"S": Decimal(20), "Z": Decimal(0)},
            uncertainty={"micrometer": q("0.0001 in"), "bore gauge": q("0.0002 in")},
            lean="recheck",
        ),
        suppliers=(
            _supplier("ashby", "Ashby Spares", "6.50", "100.00"),
            _supplier("brook", "Brook and Daughter", "4.00", ""),
            _supplier("grindwell", "Grindwell Works", "0", ""),
        ),
        offers=_offers(),
        operations=(
            Operation("regrind", "Regrind", "Grind to the size given", "Crack test first"),
            Operation("crack-test", "Crack test", "Magnetic particle, whole crank"),
            Operation("rebore", "Rebore", "Bore and hone to the piston"),
            Operation("line-ream", "Line ream", "Ream in line with the other side"),
        ),
        work_prices=(
            _work("regrind", "each", "48.00"),
            _work("crack-test", "job", "30.00"),
            _work("rebore", "each", "55.00"),
            _work("line-ream", "each", "25.00"),
        ),
        rates=(Rate("EUR", Decimal("0.86"), date(2024, 4, 30)),),
        makers=(Maker("hob", "Hobday"), Maker("dal", "Dale Pattern Parts")),
    )


def _supplier(key: str, name: str, carriage: str, free_over: str) -> Supplier:
    return Supplier(
        key=key,
        name=name,
        address=f"{name}, Overby",
        currency="GBP",
        carriage=Decimal(carriage),
        free_over=Decimal(free_over) if free_over else None,
        least_order=Decimal(0),
        days=3,
    )


def _work(operation: str, per: str, price: str) -> WorkPrice:
    opens, ends = date(2024, 1, 1), date(2024, 12, 31)
    return WorkPrice("grindwell", operation, per, Decimal(price), "GBP", opens, ends, 10)


def _offers() -> tuple[Offer, ...]:
    every = [part.number for part in _parts() if part.kind != "crank"]
    ashby = [
        an_offer("ashby", str(each), f"{10 + at}.40") for at, each in enumerate(every, start=1)
    ]
    return (
        *ashby,
        an_offer("brook", "hob:W320", "3.20", pack=4, breaks="10: 2.95 | 50: 2.60"),
        an_offer("brook", "hob:W101", "18.00"),
        an_offer("brook", "hob:W900", "24.00"),
    )
