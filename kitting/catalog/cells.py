"""What one cell says: figures, parts, targets, lists, days, money, marks.

Every parser takes the trimmed text of a cell and raises BadInput, with no place, when it is wrong.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from decimal import Decimal
from enum import Enum
from types import MappingProxyType
from typing import TypeVar

from kitting.catalog.model import PartNumber, normal_number
from kitting.catalog.nearest import did_you_mean
from kitting.catalog.rules import Target
from kitting.catalog.trade import PriceBreak
from kitting.errors import BadInput, Problem
from kitting.measure import Quantity, Unit, parse_quantity

_E = TypeVar("_E", bound=Enum)

SEPARATOR = "|"
_KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_KIND = re.compile(r"[a-z0-9]+([ /-][a-z0-9]+)*")
_GRADE = re.compile(r"[+-]?[a-z0-9][a-z0-9.+-]*")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_PLAIN = re.compile(r"\d{1,12}(\.\d{1,6})?")
_TWO_UNITS = re.compile(r"(?P<first>[^()]+)\((?P<second>[^()]+)\)")
_TARGET_SORTS = ("kind", "assembly", "operation", "table")
_LONGEST_NUMBER = 60
_LARGEST_WHOLE = 999_999_999


def wrong(what: str, right: str = "") -> BadInput:
    """One problem of a cell; the place is put before it by whoever reads the row."""
    return BadInput(Problem("", what, right))


def key(text: str) -> str:
    """A key: lower case letters and digits, joined by dashes."""
    if not _KEY.fullmatch(text):
        tidy = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")
        raise wrong(
            f"'{text}' is no key",
            f"lower case with dashes: {tidy}" if tidy else "lower case letters with dashes",
        )
    return text


def grade_key(text: str) -> str:
    """The key of a size grade: std, -010, +020, 0.25."""
    if not _GRADE.fullmatch(text):
        raise wrong(f"'{text}' is no key of a grade", "such as std, -010, +020 or 0.25")
    return text


def kind(text: str) -> str:
    """A kind of position or part: shell, gasket, tab washer."""
    if not _KIND.fullmatch(text):
        raise wrong(f"'{text}' is no kind", "lower case, such as gasket or tab-washer")
    return text


def kinds(text: str) -> tuple[str, ...]:
    """Several kinds in one cell."""
    return tuple(kind(part) for part in words(text))


def words(text: str) -> tuple[str, ...]:
    """Several texts in one cell, joined by a bar."""
    parts = tuple(part.strip() for part in text.split(SEPARATOR))
    if not all(parts):
        raise wrong(f"'{text}' has an empty place in its list", f"join them by ' {SEPARATOR} '")
    for at, part in enumerate(parts):
        if part in parts[:at]:
            raise wrong(f"'{part}' is in the list twice", "name it once")
    return parts


def keys(text: str) -> tuple[str, ...]:
    """Several keys in one cell."""
    return tuple(key(part) for part in words(text))


def whole(least: int) -> Callable[[str], int]:
    """A whole number from `least`."""

    def parse(text: str) -> int:
        if not text.isascii() or not text.isdigit() or int(text[:10]) > _LARGEST_WHOLE:
            raise wrong(f"'{text}' is no whole number", "digits only, such as 2")
        if int(text) < least:
            raise wrong(f"{text} is too small", f"{least} or more")
        return int(text)

    return parse


def mark(text: str) -> bool:
    """A mark: yes, or an empty cell."""
    if text != "yes":
        raise wrong(f"'{text}' is no mark", "yes, or leave the cell empty")
    return True


def day(text: str) -> date:
    """A day written as 1966-03-31."""
    example = "write the day as 1966-03-31: year, month, day"
    if not _DAY.fullmatch(text):
        raise wrong(f"'{text}' is no day", example)
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise wrong(f"there is no day {text}", example) from error


def decimal(text: str) -> Decimal:
    """A plain decimal, zero or more."""
    if not _PLAIN.fullmatch(text):
        raise wrong(f"'{text}' is no plain figure", _figure_advice(text))
    return Decimal(text)


def money(text: str) -> Decimal:
    """An amount of money, zero or more; the currency stands elsewhere."""
    if not _PLAIN.fullmatch(text):
        raise wrong(f"'{text}' is no price", _figure_advice(text))
    return Decimal(text)


def price(text: str) -> Decimal:
    """A price, above zero."""
    amount = money(text)
    if not amount:
        raise wrong("the price is nothing", "write what is asked, or leave the row out")
    return amount


def hours(text: str) -> Decimal:
    """Hours of work, above zero."""
    if not _PLAIN.fullmatch(text):
        raise wrong(f"'{text}' is no number of hours", "decimal, with a point: 0.75")
    if not Decimal(text):
        raise wrong("no hours at all", "say how long it takes, or leave the row out")
    return Decimal(text)


def exchange_rate(text: str) -> Decimal:
    """What one of another currency is worth, above zero."""
    worth = money(text)
    if not worth:
        raise wrong("the exchange rate is nothing", "say what one is worth in the shop's money")
    return worth


def _figure_advice(text: str) -> str:
    bare = re.sub(r"^[^\d,.−-]+|[^\d,.]+$", "", text)
    if re.fullmatch(r"\d+,\d{1,2}", bare):
        return f"use a point for the decimals: {bare.replace(',', '.')}"
    if re.fullmatch(r"\d{1,3}(,\d{3})+(\.\d+)?", bare):
        return f"leave out the comma of the thousands: {bare.replace(',', '')}"
    if bare != text and _PLAIN.fullmatch(bare):
        return f"the figure alone: {bare}"
    if not re.search(r"\d", text):
        return "write the figure, such as 12.50, or leave the row out until there is one"
    return "write a plain figure, such as 12.50"


def percent(text: str) -> Decimal:
    """A rate in percent, with or without its sign."""
    return decimal(text.removesuffix("%").strip())


def currency(text: str) -> str:
    """A currency by the three letters of ISO 4217."""
    if not re.fullmatch(r"[A-Z]{3}", text):
        raise wrong(f"'{text}' is no currency", "three capital letters, such as GBP or EUR")
    return text


def choice(*allowed: str) -> Callable[[str], str]:
    """One of several words."""

    def parse(text: str) -> str:
        if text not in allowed:
            raise wrong(f"'{text}' is none of {', '.join(allowed)}", did_you_mean(text, allowed))
        return text

    return parse


def member(enumeration: type[_E], among: Iterable[_E] = ()) -> Callable[[str], _E]:
    """One of an enumeration's words, or of those named by `among`."""
    by_word = {str(item.value): item for item in (tuple(among) or enumeration)}
    pick = choice(*by_word)

    def parse(text: str) -> _E:
        return by_word[pick(text)]

    return parse


def part_number(text: str) -> PartNumber:
    """A part written `maker:number`."""
    maker, colon, number = (piece.strip() for piece in text.partition(":"))
    if not colon:
        raise wrong(f"'{text}' names no maker", f"maker, colon, number, such as hob:{text}")
    if not normal_number(number):
        raise wrong(f"'{text}' has no number", "maker, colon, number, such as hob:C65-1042")
    if len(number) > _LONGEST_NUMBER:
        raise wrong(f"'{text[:20]}…' is too long for a part number", f"at most {_LONGEST_NUMBER}")
    return PartNumber(key(maker), number)


def part_numbers(text: str) -> tuple[PartNumber, ...]:
    """Several parts in one cell."""
    return tuple(part_number(part) for part in words(text))


def target(text: str) -> Target:
    """What a rule speaks of: see `Target`."""
    head, at, within = (piece.strip() for piece in text.partition("@"))
    sort, colon, named = (piece.strip() for piece in head.partition(":"))
    if not colon:
        sort, named = "position", head
    elif sort not in _TARGET_SORTS:
        raise wrong(f"'{sort}:' is no sort of target", did_you_mean(sort, _TARGET_SORTS))
    if at and sort != "kind":
        raise wrong(f"'{text}': only a kind stands within an assembly", "kind:gasket@bottom-end")
    return Target(sort, kind(named) if sort == "kind" else key(named), key(within) if at else "")


def attributes(text: str) -> Mapping[str, str]:
    """What tells a part from another: `thread=1/2 x 20 cycle; height=0.250 in`."""
    found: dict[str, str] = {}
    for piece in text.split(";"):
        name, equals, value = (side.strip() for side in piece.partition("="))
        if not (name and equals and value):
            raise wrong(f"'{piece.strip()}' is no attribute", "name=value, joined by '; '")
        if name in found:
            raise wrong(f"the attribute {name} is there twice", "keep one of them")
        found[name] = value
    return MappingProxyType(found)


def price_breaks(text: str) -> tuple[PriceBreak, ...]:
    """Lower prices from so many packs: `10: 4.20 | 50: 3.90`."""
    steps: list[PriceBreak] = []
    for piece in words(text):
        packs, colon, asked = (side.strip() for side in piece.partition(":"))
        if not colon:
            raise wrong(f"'{piece}' is no price break", "packs, colon, price: 10: 4.20")
        steps.append(PriceBreak(whole(2)(packs), price(asked)))
        if len(steps) > 1 and steps[-1].packs <= steps[-2].packs:
            raise wrong(f"'{text}' does not rise in packs", "the smaller quantity first")
    return tuple(steps)


def figure(unit: Unit | None) -> Callable[[str], Quantity]:
    """A figure; a bare number takes `unit`. Printed in two units, both are checked."""

    def parse(text: str) -> Quantity:
        both = _TWO_UNITS.fullmatch(text)
        if both is None:
            return parse_quantity(text, unit)
        first, second = both["first"].strip(), both["second"].strip()
        value, other = parse_quantity(first, unit), parse_quantity(second)
        _agree(first, value, second, other)
        return value

    return parse


def _agree(first: str, value: Quantity, second: str, other: Quantity) -> None:
    """Refuse two prints that differ by more than half the last place of the coarser one."""
    if value.unit.dimension is not other.unit.dimension:
        raise wrong(
            f"'{second}' is a {other.unit.dimension} and '{first}' a {value.unit.dimension}",
            "the second figure is the first in another unit",
        )
    coarser = max(_last_place(first, value), _last_place(second, other))
    if abs(value - other) > coarser.half():
        raise wrong(
            f"{first} and {second} disagree: {value} is {value.to(other.unit)}",
            "look which of the two is misprinted",
        )


def _last_place(printed: str, value: Quantity) -> Quantity:
    """What one step of the last printed digit is; nothing for a fraction, which is exact."""
    decimals = re.search(r"\d*\.?(\d*)", printed.lstrip("+-− "))
    places = 0 if decimals is None else len(decimals[1])
    exact = re.search(r"\d\s*/\s*\d", printed)
    step = Decimal(0) if exact else Decimal(1).scaleb(-places)
    return Quantity.of(step, value.unit)
