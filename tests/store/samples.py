"""A job on the tiny engine, with something of everything that a bench can say."""

import shutil
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path

from sqlalchemy import URL, func, select

from kitting.catalog.model import PartNumber, Verdict
from kitting.job.build_figures import BuildFigure, Closing
from kitting.job.findings import (
    Approval,
    Finding,
    Fitted,
    Job,
    Override,
    Reading,
    Seen,
    SizeDecision,
)
from kitting.job.hand import InHand, Source, WorkBack, Worked
from kitting.job.shelf import Signature
from kitting.store.database import Database
from kitting.store.estimates import KeptEstimate, KeptLine, KeptTotal
from kitting.store.tables import metadata
from tests.builders import q
from tests.wren import tiny_family, tiny_trade

WREN = tiny_family()
TRADE = tiny_trade()
A_DAY = date(2024, 5, 1)

JOB = Job(
    number="24-001",
    family=WREN.key,
    edition=WREN.edition,
    variant=WREN.variants[0].key,
    engine_number="W1042",
    customer="Mrs. O'Hara & Söhne",
    opened=A_DAY,
    note="=stood twenty winters",
)

CRANK = Finding(
    position="crank",
    readings=(
        Reading("crank-pin", "front", "0", '1 7/16"', q("1 7/16 in"), "micrometer"),
        Reading("crank-pin", "front", "90", "36.51", q("36.51 mm"), "calliper", q("0.5 thou")),
    ),
    seen=(Seen("scoring", "light"), Seen("pitting", "deep", q("1.5 thou"))),
    note="one side only",
    who="Joan",
    when=A_DAY,
    place="strip.xlsx, bottom end, rows 4 to 9",
)
SPRING = Finding(
    position="relief-spring",
    fitted=Fitted("W-205", {"coils": "7", "wire": "0.064 in"}),
    sound=True,
)
NUTS = Finding(position="barrel-nuts", fitted=Fitted("W320"))

SIZE_DECISION = SizeDecision(
    "crankpin", "-020", "M. Hale", "the grinder clocked it: all on one side", date(2024, 5, 4)
)

OVERRIDE = Override(
    position="crank",
    verdict=Verdict.REUSE,
    operation="",
    who="Joan Ashby",
    reason="the customer rides round the village only",
    when=A_DAY,
)

SHELLS = PartNumber("hob", "W101")
SIGNED = Signature("Joan", A_DAY)
CAME = InHand("shells", SHELLS, 2, Source.DELIVERY, "Joan", A_DAY, Decimal("21.08"), "order 7")
WORK_BACK = WorkBack("regrind", True, "Joan", A_DAY, Decimal("96.00"))
WORKED = Worked("bottom-end", Decimal("2.5"), "Joan", A_DAY, "rods fitted")
FIGURE = BuildFigure(
    "crank-pin", "front", "0", "1.4352 in", q("1.4352 in"), "micrometer", "Joan", A_DAY
)
CLOSING = Closing(JOB.number, "Joan", A_DAY, "ran for an hour")
APPROVAL = Approval(1, "1.01", "shells", "", "shells", False, "Joan", A_DAY)

ESTIMATE = KeptEstimate(
    job=JOB.number,
    given=A_DAY,
    currency="GBP",
    who="Office",
    note="thirty days",
    warnings=("one price has lapsed",),
    lines=(
        KeptLine(
            kind="part",
            stage="bottom end",
            text="shells, 0.010 undersize",
            quantity=Decimal(2),
            unit="pack of 1",
            cost=Decimal("21.08"),
            unit_net=Decimal("12.40"),
            net=Decimal("24.80"),
            worst_net=Decimal("26.80"),
            vat="S",
            kit_line="shells",
            part=PartNumber("hob", "W110"),
            supplier="ashby",
            their_number="AW110",
            pack=1,
            packs=2,
            pack_price=Decimal("10.54"),
            currency="GBP",
            price_until=date(2024, 12, 31),
            lapsed=True,
            flags=("hold until ground",),
            because=[{"says": "the pin is worn", "after": [{"says": "1.4360 in read"}]}],
        ),
        KeptLine(
            kind="labour",
            stage="bottom end",
            text="Labour: bottom end",
            quantity=Decimal("3.25"),
            unit="hour",
            cost=Decimal("136.50"),
            unit_net=Decimal("42.00"),
            net=Decimal("136.50"),
            worst_net=Decimal("136.50"),
            vat="S",
        ),
    ),
    totals=(
        KeptTotal("likely", "S", Decimal(20), Decimal("161.30"), Decimal("32.26")),
        KeptTotal("worst", "S", Decimal(20), Decimal("163.30"), Decimal("32.66")),
    ),
)


def count(database: Database, table: str) -> int:
    """How many rows a table has."""
    with database.engine.connect() as connection:
        query = select(func.count()).select_from(metadata.tables[table])
        return connection.execute(query).scalar_one()


def with_catalogue(database: Database) -> None:
    """Load the tiny engine and its trade."""
    with database.work() as work:
        work.catalogue.load_family(WREN)
        work.trade.load_trade(TRADE)
        work.commit()


def with_job(database: Database) -> None:
    """Load the tiny engine and its trade, and open the job."""
    with_catalogue(database)
    with database.work() as work:
        work.jobs.open_job(JOB)
        work.commit()


def one_file(template: Path, folder: Path, fill: Callable[[Database], None]) -> URL:
    """A database in one file for many runs, each of which leaves its unit of work uncommitted."""
    file = folder / "kitting.sqlite"
    shutil.copy(template, file)
    url = URL.create("sqlite", database=str(file))
    database = Database(url)
    fill(database)
    database.close()
    return url
