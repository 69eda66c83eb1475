"""The terms on which a plan is made: options that commands share, and the policy they say."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from typing import Any

    from kitting.buying.planning.demand import Policy
    from kitting.catalog.trade import Quality
    from kitting.store import UnitOfWork

QUALITIES = ("makers-own", "new-old-stock", "pattern", "used", "unsaid")
# From the soundest way on; what comes later than the one named is not taken.
WAYS = ("as-named", "superseded", "either-way", "one-way", "full-set", "with-work")
_OPTIONS = (
    click.option("--not-from", "not_from", multiple=True, help="A supplier that is not used."),
    click.option("--not-made-by", "not_made_by", multiple=True, help="A maker not wanted."),
    click.option("--rather", default="", help="A maker whose parts are preferred."),
    click.option("--premium", default="0", help="By how many per cent his parts may cost more."),
    click.option(
        "--returns-to",
        "returns_to",
        multiple=True,
        help="A supplier that takes held parts on sale or return.",
    ),
    click.option(
        "--not-of",
        "not_of",
        multiple=True,
        type=click.Choice(QUALITIES),
        help="Buy nothing of this quality.",
    ),
    click.option(
        "--not-where-critical",
        "not_where_critical",
        multiple=True,
        type=click.Choice(QUALITIES),
        help="Nor this for a critical position; used is never bought there unless asked for.",
    ),
    click.option(
        "--used-where-critical", is_flag=True, help="A used part will do for a critical position."
    ),
    click.option(
        "--critical-up-to",
        type=click.Choice(WAYS),
        help="For a critical position no other number than the kit's but by these ways.",
    ),
    click.option(
        "--within",
        "within_days",
        type=click.IntRange(0, 3650),
        help="Everything must come within so many days.",
    ),
    click.option(
        "--no-back-orders", is_flag=True, help="Nothing that the supplier says he has none of."
    ),
    click.option(
        "--no-top-up",
        is_flag=True,
        help="Buy nothing only to reach free carriage or a least order.",
    ),
    click.option(
        "--make-up",
        is_flag=True,
        help="Make small orders up to the supplier's least with goods of the shop's choice.",
    ),
    click.option(
        "--leave-out",
        "leave_out",
        multiple=True,
        metavar="LINE",
        help="A line that is not planned, such as 2.11 or 26-041:2.11.",
    ),
    click.option(
        "--even-from",
        "again",
        multiple=True,
        help="Ask this supplier again for what failed with him for this job.",
    ),
    click.option(
        "--seconds",
        type=click.FloatRange(1, 600),
        default=20.0,
        help="Time for each plan; half of it for --why.",
    ),
)


def buying_terms(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the terms on which a plan is made."""
    for option in reversed(_OPTIONS):
        function = option(function)
    return function


def policy_of(work: UnitOfWork, terms: Mapping[str, Any]) -> Policy:
    """The policy that a command's terms say.

    Raises:
        BadInput: a supplier or maker that is not known, a premium that is no number, or terms that
            contradict each other.
    """
    from kitting.buying.planning.demand import Policy, SmallOrder

    _check(work, terms)
    way = terms["critical_up_to"]
    return Policy(
        banned_makers=frozenset(terms["not_made_by"]),
        banned_suppliers=frozenset(terms["not_from"]),
        preferred_maker=terms["rather"],
        premium=Decimal(str(terms["premium"])),
        sale_or_return=frozenset(terms["returns_to"]),
        small_order=SmallOrder.MADE_UP if terms["make_up"] else SmallOrder.BARRED,
        top_up=not terms["no_top_up"],
        back_orders=not terms["no_back_orders"],
        critical_rank=None if way is None else WAYS.index(way),
        within_days=terms["within_days"],
        not_of=frozenset(map(_quality, terms["not_of"])),
        not_where_critical=_unsound(terms),
        time_limit=float(terms["seconds"]),
    )


def _check(work: UnitOfWork, terms: Mapping[str, Any]) -> None:
    from kitting.catalog.nearest import nearest
    from kitting.errors import BadInput, NotFound, Problem

    trade = work.trade.trade(())
    makers = {maker.key for maker in trade.makers}
    for key in (*terms["not_from"], *terms["returns_to"]):
        if key not in trade.supplier_by_key:
            raise NotFound("supplier", key, nearest(key, trade.supplier_by_key, 3))
    for key in (*terms["not_made_by"], *filter(None, (terms["rather"],))):
        if key not in makers:
            raise NotFound("maker", key, nearest(key, makers, 3))
    typed = str(terms["premium"])
    if not typed.replace(".", "", 1).isdecimal():
        raise BadInput(Problem("--premium", f"'{typed}' is no number of per cent", "such as 10"))
    if terms["used_where_critical"] and "used" in (*terms["not_of"], *terms["not_where_critical"]):
        wrong = "used parts are both asked for and left out"
        raise BadInput(Problem("--used-where-critical", wrong, "say one of the two"))


def _unsound(terms: Mapping[str, Any]) -> frozenset[Quality]:
    """What no critical line takes."""
    from kitting.job.pricing import UNSOUND_WHERE_CRITICAL

    asked = frozenset(map(_quality, terms["not_where_critical"]))
    return asked if terms["used_where_critical"] else asked | UNSOUND_WHERE_CRITICAL


def _quality(word: str) -> Quality:
    """A quality by the word that is typed for it: no mark or blank to trip over."""
    from kitting.catalog.trade import Quality

    return tuple(Quality)[QUALITIES.index(word)]
