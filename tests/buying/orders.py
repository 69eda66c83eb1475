"""Orders for tests: one of five lines with packs, held parts, a lapsed price and sale or return."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from random import Random

from kitting.buying.orders import HeldItem, LineFor, Order, OrderLine, with_ids
from kitting.catalog.trade import Supplier
from kitting.job.pricing import rounded
from tests.builders import number

DAY = date(2024, 5, 2)
JOB = "24-001"
ASHBY = Supplier(
    key="ashby",
    name="Ashby Spares",
    address="4 Mill Row, Overby",
    currency="GBP",
    carriage=Decimal("6.50"),
    free_over=Decimal("100.00"),
    least_order=Decimal(0),
    days=3,
)
_NAMES = ("shell", "bolt", "nut", "piston", "gasket", "spring", "washer", "stud", "seal", "filter")


def a_line(
    part: str,
    packs: int,
    price: str,
    *,
    pack: int = 1,
    quantity: int = 0,
    positions: tuple[str, ...] = (),
    grade: str = "",
    their_number: str = "",
    on_return: bool = False,
    in_set: bool = False,
    job: str = JOB,
    currency: str = "GBP",
    kind: str = "part",
) -> OrderLine:
    """A line for one kit line; it needs all that the packs hold unless `quantity` says less."""
    needed = quantity or packs * pack
    need = LineFor(job, "1.01", positions or (part.partition(":")[2].lower(),), needed, grade)
    return OrderLine(
        id="",
        their_number=their_number or f"A{number(part).normal}",
        part=number(part),
        name=f"{kind} {number(part).number}",
        kind=kind,
        quantity=needed,
        pack=pack,
        packs=packs,
        pack_price=Decimal(price),
        net=rounded(Decimal(price) * packs, currency),
        vat="S",
        vat_percent=Decimal(20),
        days=3,
        price_until=date(2024, 12, 31),
        on_return=on_return,
        needed_by=(replace(need, in_set=in_set),),
    )


def an_order(
    *lines: OrderLine,
    approved: bool = True,
    supplier: Supplier = ASHBY,
    currency: str = "GBP",
    worth: Decimal = Decimal(1),
) -> Order:
    """An order of these lines, or of five; approved by K. Ferris unless said."""
    return Order(
        number="P1001",
        revision=1,
        supplier=supplier,
        day=DAY,
        currency=currency,
        home_currency="GBP",
        worth=worth,
        carriage_vat="S",
        carriage_vat_percent=Decimal(20),
        lines=with_ids(lines or five_lines(), "P1001"),
        held=() if lines else (HeldItem("AW110", number("hob:W110"), "shell W110"),),
        approved_by="K. Ferris" if approved else "",
        approved_on=DAY if approved else None,
    )


def five_lines() -> tuple[OrderLine, ...]:
    """Shells, bolts, nuts in packs of four, a spring on sale or return, and an awkward number."""
    lapsed = replace(a_line("hob:W140", 2, "17.40"), lapsed=True, price_until=date(2024, 3, 31))
    return (
        a_line("hob:W101", 1, "18.00", positions=("shells",), grade="std"),
        lapsed,
        a_line("hob:W320", 2, "3.20", pack=4, quantity=6, positions=("barrel-nuts",)),
        a_line("hob:W205", 1, "9.75", positions=("relief-spring",), on_return=True),
        a_line("hob:W310", 3, "4.45", their_number="=1/2-20", positions=("head-gasket",)),
    )


def random_order(seed: int, job: str = JOB) -> Order:
    """An order drawn from a seed: packs, prices to four places, currencies, free carriage."""
    draw = Random(seed)
    currency = draw.choice(("GBP", "GBP", "EUR", "JPY", "KWD"))
    lines = []
    for at in range(draw.randint(1, 24)):
        price = Decimal(draw.randint(0, 900_000)).scaleb(-draw.choice((2, 2, 3, 4)))
        pack = draw.choice((1, 1, 1, 2, 4, 10))
        packs = draw.randint(1, 40)
        made = a_line(
            f"hob:R{seed}-{at}",
            packs,
            str(price),
            pack=pack,
            quantity=draw.randint((packs - 1) * pack + 1, packs * pack),
            job=job,
            currency=currency,
            kind=draw.choice(_NAMES),
        )
        vat = draw.choice((("S", 20), ("Z", 0), ("S", 20)))
        lines.append(replace(made, vat=vat[0], vat_percent=Decimal(vat[1])))
    free = draw.choice((None, Decimal(draw.randint(1, 2000))))
    carriage = rounded(Decimal(draw.randint(0, 5000)).scaleb(-2), currency)
    supplier = replace(ASHBY, currency=currency, carriage=carriage, free_over=free)
    worth = Decimal(1) if currency == "GBP" else Decimal(draw.randint(1, 30000)).scaleb(-4)
    return an_order(*lines, supplier=supplier, currency=currency, worth=worth)
