"""Short ways to make the catalogue's values in tests; `tests.wren` makes a whole family of them."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from kitting.catalog.model import Feature, Fit, Link, LinkKind, Part, PartNumber, Position, Verdict
from kitting.catalog.rules import Consequence, Judgement, Target, Then, Weight, When
from kitting.catalog.size_tables import Grade, SizeKind, SizeTable
from kitting.catalog.trade import Offer, PriceBreak
from kitting.measure import UNITS, Quantity, parse_quantity

INCH, MM = UNITS["in"], UNITS["mm"]
A_DAY = date(2024, 5, 1)


def q(text: str, unit: str = "in") -> Quantity:
    """A figure as written; a bare number takes `unit`."""
    return parse_quantity(text, None if any(c.isalpha() for c in text) else UNITS[unit])


def maybe(text: str, unit: str = "in") -> Quantity | None:
    """A figure, or None for an empty text."""
    return q(text, unit) if text else None


def number(text: str) -> PartNumber:
    """A part number written maker:number."""
    maker, _, digits = text.partition(":")
    return PartNumber(maker, digits)


def aim(text: str) -> Target:
    """A target as the catalogue writes it."""
    head, _, within = text.partition("@")
    sort, colon, key = head.partition(":")
    return Target(sort, key, within) if colon else Target("position", head)


def a_position(
    key: str,
    assembly: str,
    kind: str,
    quantity: int = 1,
    *,
    variants: tuple[str, ...] = (),
    must_look: bool = False,
    sized_by: str = "",
    matched: str = "",
    caution: str = "",
) -> Position:
    """A position; its name is its key in words."""
    return Position(
        key=key,
        assembly=assembly,
        sequence=1,
        name=key.replace("-", " "),
        kind=kind,
        quantity=quantity,
        variants=variants,
        must_look=must_look,
        sized_by=sized_by,
        matched=matched,
        caution=caution,
    )


def a_feature(
    key: str,
    position: str,
    kind: str,
    limits: tuple[str, str] = ("", ""),
    wear: tuple[str, str] = ("", ""),
    *,
    form: tuple[str, str] = ("", ""),
    unit: str = "in",
    size_table: str = "",
    stations: tuple[str, ...] = (),
    directions: tuple[str, ...] = (),
    if_out: Verdict = Verdict.RENEW,
    operation: str = "",
    part_tells: bool = False,
    critical: bool = False,
    at_build: bool = False,
    goes_with: str = "",
) -> Feature:
    """A feature; limits are (low, high), form is (ovality, taper), each '' where there is none."""
    return Feature(
        key=key,
        position=position,
        name=key.replace("-", " "),
        kind=kind,
        unit=UNITS[unit],
        low=maybe(limits[0], unit),
        high=maybe(limits[1], unit),
        wear_low=maybe(wear[0], unit),
        wear_high=maybe(wear[1], unit),
        ovality=maybe(form[0], unit),
        taper=maybe(form[1], unit),
        size_table=size_table,
        stations=stations,
        directions=directions,
        instrument="bore gauge" if kind == "bore" else "micrometer",
        if_out=if_out,
        operation=operation,
        source="Wren workshop book, page 9",
        part_tells=part_tells,
        critical=critical,
        at_build=at_build,
        goes_with=goes_with,
    )


def a_grade(
    table: str,
    key: str,
    sequence: int,
    step: str,
    finish: tuple[str, str] = ("", ""),
    wall: tuple[str, str] = ("", ""),
    *,
    worn: str = "",
    lined: tuple[str, str] = ("", ""),
    clearance: tuple[str, str] = ("", ""),
    half_step_of: str = "",
    takes_up: str = "",
    unit: str = "in",
) -> Grade:
    """A row of a size table; pairs are (low, high)."""
    return Grade(
        table=table,
        key=key,
        name=f"{key} grade",
        sequence=sequence,
        step=q(step, unit),
        finish_low=maybe(finish[0], unit),
        finish_high=maybe(finish[1], unit),
        worn=maybe(worn, unit),
        wall_low=maybe(wall[0], unit),
        wall_high=maybe(wall[1], unit),
        lined_low=maybe(lined[0], unit),
        lined_high=maybe(lined[1], unit),
        clearance_low=maybe(clearance[0], unit),
        clearance_high=maybe(clearance[1], unit),
        half_step_of=half_step_of,
        takes_up=maybe(takes_up, unit),
    )


def a_table(
    key: str,
    kind: SizeKind,
    grades: tuple[Grade, ...],
    *,
    housing: tuple[str, str] = ("", ""),
    clearance: tuple[str, str, str] = ("", "", ""),
    unit: str = "in",
    stock: str = "0.002",
    operation: str = "",
    together: bool = True,
) -> SizeTable:
    """A size table; clearance is (low, high, limit of use)."""
    return SizeTable(
        key=key,
        name=key,
        kind=kind,
        unit=UNITS[unit],
        together=together,
        stock=q(stock, unit),
        operation=operation,
        housing_low=maybe(housing[0], unit),
        housing_high=maybe(housing[1], unit),
        clearance_low=maybe(clearance[0], unit),
        clearance_high=maybe(clearance[1], unit),
        clearance_limit=maybe(clearance[2], unit),
        finish_note="keep the fillets",
        source="Wren workshop book, page 10",
        grades=grades,
    )


def a_judgement(
    key: str, observation: str, at_least: str, of: str, verdict: Verdict, operation: str = ""
) -> Judgement:
    """A verdict rule."""
    return Judgement(
        key, observation, at_least, aim(of), verdict, operation, f"because of {key}", "shop rule"
    )


def a_consequence(
    key: str,
    when: When,
    of: str,
    then: Then,
    to: str,
    *,
    seen: tuple[str, str] = ("", ""),
    operation: str = "",
    weight: Weight = Weight.NEEDED,
) -> Consequence:
    """A consequence; `seen` is (observation, at least)."""
    return Consequence(
        key,
        when,
        aim(of),
        seen[0],
        seen[1],
        then,
        aim(to),
        operation,
        f"because of {key}",
        "shop rule",
        weight=weight,
    )


def a_part(text: str, kind: str, attributes: Mapping[str, str] | None = None) -> Part:
    """A part of a kind."""
    return Part(number(text), f"{kind} {number(text).number}", kind, attributes or {})


def a_fit(position: str, part: str, grade: str = "", quantity: int | None = None) -> Fit:
    """That a part serves a position."""
    return Fit(position, number(part), grade=grade, quantity=quantity)


def a_link(
    record: str,
    kind: LinkKind,
    old: str,
    new: str,
    *,
    old_quantity: int = 1,
    new_quantity: int = 1,
    variants: tuple[str, ...] = (),
    first: int | None = None,
    last: int | None = None,
    with_grade: str = "",
    since: date | None = None,
    until: date | None = None,
    operation: str = "",
    needs: tuple[str, ...] = (),
    use_up: bool = False,
) -> Link:
    """A supersession or an interchange."""
    return Link(
        record=record,
        kind=kind,
        old=number(old),
        old_quantity=old_quantity,
        new=number(new),
        new_quantity=new_quantity,
        variants=variants,
        first=first,
        last=last,
        with_grade=with_grade,
        since=since,
        until=until,
        operation=operation,
        needs=tuple(number(each) for each in needs),
        use_up=use_up,
        source="Wren service sheet 4",
    )


def an_offer(supplier: str, part: str, price: str, pack: int = 1, breaks: str = "") -> Offer:
    """A supplier's offer for the year 2024; breaks as '10: 4.20 | 50: 3.90'."""
    steps = (piece.split(":") for piece in breaks.split("|") if piece)
    return Offer(
        supplier=supplier,
        their_number=f"{supplier[0].upper()}{number(part).normal}",
        part=number(part),
        pack=pack,
        price=Decimal(price),
        breaks=tuple(PriceBreak(int(packs), Decimal(asked.strip())) for packs, asked in steps),
        currency="GBP",
        valid_from=date(2024, 1, 1),
        valid_until=date(2024, 12, 31),
        days=3,
        stock=None,
    )
