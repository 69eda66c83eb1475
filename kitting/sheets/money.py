"""Number formats by currency, and formulas whose halves round alike in every program."""

from __future__ import annotations

from decimal import Decimal

from kitting.job.pricing import rounded

_SIGNS = {"GBP": "£", "EUR": "€", "USD": "$"}


def places_of(currency: str) -> int:
    """How many decimals the currency's minor unit has."""
    exponent = rounded(Decimal(0), currency).as_tuple().exponent
    return -exponent if isinstance(exponent, int) else 0


def money_format(currency: str) -> str:
    """The number format of an amount: its sign or its letters, and its decimals.

    >>> money_format("GBP")
    '"£"#,##0.00'
    """
    digits = "#,##0" + ("." + "0" * places_of(currency) if places_of(currency) else "")
    sign = _SIGNS.get(currency)
    return f'"{sign}"{digits}' if sign else f'"{currency} "{digits}'


def price_format(currency: str, price: Decimal) -> str:
    """The format of a single price, with as many decimals as it has."""
    exponent = price.normalize().as_tuple().exponent
    more = -exponent if isinstance(exponent, int) else 0
    plain = money_format(currency)
    extra = more - places_of(currency)
    if extra <= 0:
        return plain
    return plain + ("" if places_of(currency) else ".") + "0" * extra


def percent_format(rate: Decimal) -> str:
    """The format of a rate that stands in percent, with as many decimals as it has."""
    exponent = rate.normalize().as_tuple().exponent
    more = max(0, -exponent) if isinstance(exponent, int) else 0
    return "0" + ("." + "0" * more if more else "") + '" %"'


def times(count: str, price: str, values: tuple[Decimal | int, Decimal], currency: str) -> str:
    """The formula for so many at a price, from the cells of both and what stands in them.

    Whole pieces at a price of whole minor units leave nothing to round; else a half may fall.
    """
    quantity, each = values
    whole = quantity == int(quantity) and each == rounded(each, currency)
    if whole:
        return f"=ROUND({count}*{price},{places_of(currency)})"
    return half_up(f"{count}*{price}", currency)


def half_up(sum_: str, currency: str) -> str:
    """The formula that rounds a sum half up to the minor unit.

    A spreadsheet reckons in binary, where 0.35 × 42.10 falls a hair short of the half penny. The
    inner rounding, to a ten-thousandth of a minor unit, puts the half back; so every program
    rounds as our decimals do.
    """
    scale = 10 ** places_of(currency)
    times = f"*{scale}" if scale > 1 else ""
    over = f"/{scale}" if scale > 1 else ""
    return f"=ROUND(ROUND(({sum_}){times},4),0){over}"


def added(cells: str, currency: str) -> str:
    """The formula for the sum of amounts, free of the noise that binary sums leave."""
    return f"=ROUND(SUM({cells}),{places_of(currency)})"


def added_where(keys: str, key: str, cells: str, currency: str) -> str:
    """The formula for the sum of the amounts whose key is that one."""
    return f"=ROUND(SUMIF({keys},{key},{cells}),{places_of(currency)})"
