"""How the machining sums are worked: one decimal context, and results as exact quantities.

Sums run in Decimal at 34 digits, half-even (the decimal128 of IEEE 754-2008); a result is
rounded once, half-even, to 22 significant digits when it becomes a quantity, so that it can
be added and compared exactly afterwards.
"""

from collections.abc import Callable
from decimal import (
    ROUND_HALF_EVEN,
    Context,
    Decimal,
    DivisionByZero,
    InvalidOperation,
    Overflow,
    localcontext,
)
from functools import wraps
from typing import ParamSpec, TypeVar

from kitting.errors import Problems
from kitting.measure import UNITS, Quantity

WORK = Context(
    prec=34, rounding=ROUND_HALF_EVEN, traps=[InvalidOperation, DivisionByZero, Overflow]
)
_RESULT = Context(prec=22, rounding=ROUND_HALF_EVEN)
# The first 40 digits of pi (any table of mathematical constants).
PI = Decimal("3.141592653589793238462643383279502884197")
_IMPERIAL = frozenset({"in", "thou", "µin", "lbf", "psi", "lbf/in"})

_P = ParamSpec("_P")
_R = TypeVar("_R")


def worked(function: Callable[_P, _R]) -> Callable[_P, _R]:
    """Run `function` in the WORK context, whatever the caller's is."""

    @wraps(function)
    def in_context(*args: _P.args, **kwargs: _P.kwargs) -> _R:
        with localcontext(WORK):
            return function(*args, **kwargs)

    return in_context


def amount(value: Decimal, worked_in: str, shown_in: str | None = None) -> Quantity:
    """Return `value` (in unit `worked_in`) as a quantity shown in unit `shown_in`.

    Rounded in the base of its dimension, in which every unit is an exact decimal: a sum that comes
    to 40 lbf/in meets a limit of 40 lbf/in as its equal, whichever units it was worked in.
    """
    base = _RESULT.multiply(value, UNITS[worked_in].per_base)
    return Quantity(base, UNITS[shown_in or worked_in])


def settled(value: Decimal) -> Decimal:
    """Return a bare ratio rounded as a result is: 22 significant digits, half-even."""
    return _RESULT.plus(value)


def is_imperial(like: Quantity) -> bool:
    """Whether results beside `like` are shown in inches, pounds-force and psi."""
    return like.unit.symbol in _IMPERIAL


def beside(like: Quantity, metric: str, imperial: str) -> str:
    """Return the unit symbol that suits a result shown beside `like`."""
    return imperial if is_imperial(like) else metric


def need_positive(problems: Problems, place: str, value: Quantity | Decimal | None) -> None:
    """Note a problem when a size, load or count that must be above zero is not."""
    if value is None:
        return
    number = value.base if isinstance(value, Quantity) else value
    if number <= 0:
        problems.add(place, f"{value} is not above zero", "give the amount as measured, unsigned")


def need_kind(problems: Problems, place: str, value: Quantity | None, symbol: str) -> bool:
    """Note a problem when `value` is not of the dimension of unit `symbol`; True when it is."""
    if value is None:
        return False
    wanted = UNITS[symbol].dimension
    if value.unit.dimension is not wanted:
        problems.add(place, f"{value} is a {value.unit.dimension}", f"a {wanted} belongs here")
        return False
    return True
