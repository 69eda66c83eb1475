"""What the commands of a job share: opening the database and walking a job's path."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Callable, Collection
    from typing import Any

    from kitting.catalog.family import Family
    from kitting.catalog.model import PartNumber
    from kitting.job.path import JobPath
    from kitting.store import UnitOfWork


def today() -> date:
    """The day by the machine's own clock."""
    return datetime.now().astimezone().date()


class Day(click.ParamType[date]):
    """A day written 2026-11-24."""

    name = "day"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """Read a day, or say how one is written."""
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(str(value))
        except ValueError:
            self.fail(f"'{value}' is no day; write one such as 2026-11-24", param, ctx)


def on_day(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the option of another day than today's, for prices and supersession."""
    return click.option(
        "--on", "day", type=Day(), default=None, help="Prices as of this day [today]."
    )(function)


def path_of(number: str, day: date | None) -> JobPath:
    """Walk the path of a job, as of a day.

    Raises:
        NotFound: there is no such job.
    """
    from kitting.store import Database

    with Database().read() as work:
        return path_within(work, number, day)


def path_within(work: UnitOfWork, number: str, day: date | None = None) -> JobPath:
    """Walk the path of a job within a unit of work, so that what follows it is in one piece.

    Raises:
        NotFound: there is no such job.
    """
    from kitting.job.path import walk

    bench = work.jobs.bench(number)
    family = family_within(work, bench.job.family, bench.job.edition)
    trade = work.trade.trade(part.number for part in family.parts)
    return walk(family, trade, bench, day or today(), work.in_hand.hand(number))


def family_within(
    work: UnitOfWork,
    key: str,
    edition: str | None = None,
    about: Collection[PartNumber] | None = None,
) -> Family:
    """Return a family with what other families, and lists that were accepted, say of its parts.

    With `about`, of all its parts only those and what links join to them are read.

    Raises:
        NotFound: there is no such family or edition.
    """
    from kitting.catalog.outside import widened

    joined = None if about is None else work.links.joined(about)
    family = work.catalogue.family(key, edition, joined)
    return widened(family, work.links.outside(family))
