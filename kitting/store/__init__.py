"""The database: tables, migrations, units of work, backup. The one room that speaks SQL.

    with Database().work() as work:
        work.catalogue.load_family(family)
        work.commit()

Values in, values out; leaving without `commit` keeps nothing. Importing this room loads
SQLAlchemy, so the doors import it where they use it.
"""

from kitting.store.backup import back_up
from kitting.store.catalogue import KeptEdition, Loaded
from kitting.store.database import SCHEMA, Database, UnitOfWork
from kitting.store.estimates import KeptEstimate, KeptLine, KeptTotal
from kitting.store.health import Health, examine
from kitting.store.jobs import Added
from kitting.store.offers import PastOffer
from kitting.store.trade import LoadedTrade

__all__ = [
    "SCHEMA",
    "Added",
    "Database",
    "Health",
    "KeptEdition",
    "KeptEstimate",
    "KeptLine",
    "KeptTotal",
    "Loaded",
    "LoadedTrade",
    "PastOffer",
    "UnitOfWork",
    "back_up",
    "examine",
]
