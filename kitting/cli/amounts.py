"""Amounts, quantities and names as people type them on the command line."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

import click

from kitting.errors import BadInput, Problem
from kitting.job.pricing import rounded

if TYPE_CHECKING:
    from typing import Any

PIECES = click.IntRange(1, 100_000)
COUNTED = click.IntRange(0, 100_000)
_LONGEST = 200


class Figure(click.ParamType[Decimal]):
    """A figure of one form; `told` says what anything else is not, and how it is written."""

    def __init__(self, name: str, form: str, told: str) -> None:
        self.name = name
        self._form = re.compile(form)
        self._told = told

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> Decimal:
        """Read a figure, or say how one is written."""
        if isinstance(value, Decimal):
            return value
        typed = str(value).strip()
        if not self._form.fullmatch(typed):
            self.fail(f"'{value}' is no {self._told}", param, ctx)
        return Decimal(typed)


AMOUNT = Figure(
    "amount",
    r"\d{1,9}(\.\d{1,4})?",
    "amount of money; write it such as 4.20, with a point and without a currency",
)
# Below none takes some off; none at all says nothing.
HOURS = Figure(
    "hours", r"-?(?=.*[1-9])\d{1,4}(\.\d{1,2})?", "number of hours; write it such as 2.5"
)


def paid(option: str, amount: Decimal, currency: str) -> Decimal:
    """An amount that was paid as a whole: nothing of it is finer than money is.

    Raises:
        BadInput: it is.
    """
    if rounded(amount, currency) != amount:
        right = f"nearest is {rounded(amount, currency)}"
        raise BadInput(Problem(option, f"{amount} {currency} is finer than money is paid", right))
    return amount


def worded(option: str, text: str) -> str:
    """A name or a few words without blanks at the ends.

    Raises:
        BadInput: it is empty, too long, or holds a sign that no screen can show.
    """
    plain = " ".join(text.split())
    if not plain:
        raise BadInput(Problem(option, "it is empty", "give it in words"))
    return shortened(option, plain)


def shortened(option: str, text: str) -> str:
    """A text without blanks at the ends, perhaps empty.

    Raises:
        BadInput: it is too long, or holds a sign that no screen can show.
    """
    plain = " ".join(text.split())
    if len(plain) > _LONGEST:
        raise BadInput(
            Problem(option, f"it has {len(plain)} letters", f"give it in at most {_LONGEST}")
        )
    if not plain.isprintable():
        raise BadInput(Problem(option, "it holds a sign that cannot be shown", "write it plainly"))
    return plain
