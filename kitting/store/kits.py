"""Jobs' kits as of today, for whose the pieces of an order are; what is in hand changes no kit."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from kitting.catalog.outside import widened
from kitting.store.catalogue import Catalogue
from kitting.store.jobs import Jobs
from kitting.store.links import Links
from kitting.store.trade import TradeStore

if TYPE_CHECKING:
    from sqlalchemy import Connection

    from kitting.catalog.family import Family
    from kitting.catalog.trade import Trade
    from kitting.job.findings import Bench
    from kitting.job.path import JobPath


class Kits:
    """Walks jobs that share an order's line; none again while its bench says the same.

    Within one unit of work a family and what it is traded at are read once.
    """

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._walked: dict[str, tuple[Bench, JobPath]] = {}
        self._families: dict[tuple[str, str], tuple[Family, Trade]] = {}

    def path(self, number: str) -> JobPath | None:
        """Return a job as of today without what is in hand; None where its kit says nothing.

        That is one that is closed, or of which nothing is stripped.
        """
        from kitting.job.path import walk

        bench = Jobs(self._connection).bench(number)
        if bench.job.closed or not bench.stripped:
            return None
        known = self._walked.get(number)
        if known is None or known[0] != bench:
            family, trade = self._read(bench.job.family, bench.job.edition)
            day = datetime.now().astimezone().date()
            known = (bench, walk(family, trade, bench, day))
            self._walked[number] = known
        return known[1]

    def _read(self, key: str, edition: str) -> tuple[Family, Trade]:
        if (key, edition) not in self._families:
            outside = Links(self._connection)
            family = Catalogue(self._connection).family(key, edition)
            family = widened(family, outside.outside(family))
            trade = TradeStore(self._connection).trade(part.number for part in family.parts)
            self._families[key, edition] = (family, trade)
        return self._families[key, edition]
