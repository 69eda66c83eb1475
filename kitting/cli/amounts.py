"""Amounts, quantities and names as people type them on the command line."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

import click

from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from typing import Any

PIECES = click.IntRange(1, 100_000)
COUNTED = click.IntRange(0, 100_000)
_AMOUNT = re.compile(r"\d{1,9}(\.\d{1,4})?")
_LONGEST = 200


class Amount(click.ParamType[Decimal]):
    """An amount of the shop's money, written 4.20."""

    name = "amount"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> Decimal:
        """Read an amount, or say how one is written."""
        if isinstance(value, Decimal):
            return value
        typed = str(value).strip()
        if not _AMOUNT.fullmatch(typed):
            self.fail(
                f"'{value}' is no amount of money; write it such as 4.20, with a point and "
                "without a currency",
                param,
                ctx,
            )
        return Decimal(typed)


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
