"""Column types: exact figures, money, lists of words, moments. One type each, none of them binary.

A figure is kept as a whole number of ten-thousand-millionths (10 decimal places) of the unit that
stands beside it in the row, so that what was printed is what is kept: 1/1024 in needs just ten.
Money is kept as a whole number of ten-thousandths of its currency.
"""

from collections.abc import Iterable
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import JSON, BigInteger, DateTime, Dialect
from sqlalchemy.types import TypeDecorator
from typing_extensions import override

from kitting.errors import BadInput, Problem
from kitting.measure import Quantity, Unit

_LARGEST = 2**63 - 1


class ScaledDecimal(TypeDecorator[Decimal]):
    """A Decimal kept as a whole number of its last place; never rounded, never a float."""

    impl = BigInteger
    cache_ok = True
    what = "a figure"
    places = 10
    shown = 0

    @override
    def process_bind_param(self, value: Any, dialect: Dialect) -> int | None:
        """Scale up, or refuse what the column cannot hold exactly."""
        return None if value is None else scaled(value, self.places, self.what)

    @override
    def process_result_value(self, value: Any, dialect: Dialect) -> Decimal | None:
        """Scale down, without the zeros that nobody wrote."""
        return None if value is None else unscaled(int(value), self.places, self.shown)


class FigureType(ScaledDecimal):
    """An exact figure: 10 decimal places of the unit beside it, or of a bare ratio."""

    cache_ok = True


class MoneyType(ScaledDecimal):
    """An amount of money: 4 decimal places, the currency beside it in the row or its owner."""

    cache_ok = True
    what = "an amount of money"
    places = 4
    shown = 2


def scaled(value: Decimal | int, places: int, what: str) -> int:
    """Return `value` as a whole number of units of its last place.

    Raises:
        BadInput: it is finer than `places` decimals, too large for 64 bits, or no number.
        TypeError: it is a binary float.
    """
    if isinstance(value, float) or not isinstance(value, Decimal | int):
        raise TypeError(f"{value!r} is no Decimal: {what} is never kept from a binary float")
    exact = Decimal(value)
    if not exact.is_finite():
        raise BadInput(Problem("", f"{value} is not {what}", "give a number"))
    # Decimal.scaleb would round at the context's precision; tuples do not.
    sign, digits, exponent = exact.as_tuple()
    shift = int(exponent) + places
    whole = int("".join(map(str, digits)) or "0")
    if shift < 0:
        whole, rest = divmod(whole, 10**-shift)
        if rest:
            raise BadInput(
                Problem("", f"{value} is too fine for {what}", f"give at most {places} decimals")
            )
    elif whole and shift + len(digits) > 40:
        whole = _LARGEST + 1
    else:
        whole *= 10**shift
    if whole > _LARGEST:
        most = _LARGEST // 10**places
        raise BadInput(Problem("", f"{value} is too large for {what}", f"the most is {most:,}"))
    return -whole if sign else whole


def unscaled(whole: int, places: int, shown: int = 0) -> Decimal:
    """Return the number that was scaled, with at least `shown` decimals and no idle zeros."""
    while places > shown and whole % 10 == 0:
        whole //= 10
        places -= 1
    return Decimal(whole).scaleb(-places) if places else Decimal(whole)


def figure_of(quantity: Quantity) -> tuple[Decimal, str]:
    """Return a quantity as the two columns that hold it: the figure and its unit's symbol.

    Raises:
        BadInput: the amount does not end in its own unit (42.85 mm shown in inches), so that no
            number of decimals would keep it.
    """
    value = quantity.value
    if Quantity.of(value, quantity.unit).base != quantity.base:
        raise BadInput(
            Problem(
                "",
                f"{quantity} does not end in {quantity.unit}",
                "keep it in the unit that it was written in",
            )
        )
    return value, quantity.unit.symbol


def quantity_of(figure: Decimal, unit: Unit) -> Quantity:
    """Return the quantity that the two columns hold."""
    return Quantity.of(figure, unit)


class WordsType(TypeDecorator[tuple[str, ...]]):
    """A short list of words of one row (variants, stations), kept as a JSON array."""

    impl = JSON
    cache_ok = True

    @override
    def process_bind_param(self, value: Iterable[str] | None, dialect: Dialect) -> Any:
        """Give the list that JSON keeps."""
        return None if value is None else list(value)

    @override
    def process_result_value(self, value: Any, dialect: Dialect) -> tuple[str, ...] | None:
        """Give the tuple that values hold."""
        return None if value is None else tuple(value)


class MomentType(TypeDecorator[datetime]):
    """A moment, kept as UTC without a zone (SQLite knows none), UTC again when read."""

    impl = DateTime
    cache_ok = True

    @override
    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Turn to UTC; a moment without a zone is refused, since nobody can say when it was."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise TypeError(f"{value} has no time zone")
        return value.astimezone(UTC).replace(tzinfo=None)

    @override
    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Say that it is UTC."""
        return None if value is None else value.replace(tzinfo=UTC)
