"""Sets opened on the shelf: whatever lies there at whatever cost, it is worth as much after."""

from collections import Counter
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import URL

from kitting.cli.shelf_open import put_what_was_in
from kitting.job.shelf import ShelfItem, Signature
from kitting.store.database import Database, UnitOfWork
from tests.builders import number
from tests.store.samples import TRADE, one_file, with_job

BY = Signature("Joan", date(2024, 5, 1))
SET, SEAL, RING = number("hob:W900"), number("hob:W310"), number("hob:W210")
CONTENTS = {SEAL: 4, RING: 3}


@dataclass(frozen=True)
class Lot:
    """Sets that were put in together."""

    count: int
    place: str
    cost: Decimal


LOTS = st.lists(
    st.builds(
        Lot, st.integers(1, 3), st.sampled_from(["bin 1", "bin 2"]), st.decimals(0, 60, places=2)
    ),
    min_size=1,
    max_size=6,
)


def open_sets(work: UnitOfWork, count: int, place: str = "") -> tuple[ShelfItem, ...]:
    opened = work.shelf.take_out(SET, count, BY)
    put_what_was_in(work, opened, CONTENTS, place, BY)
    return opened


def worth(work: UnitOfWork) -> Decimal:
    return sum((each.quantity * each.cost for each in work.shelf.items()), Decimal(0))


def lying(work: UnitOfWork) -> Counter[str]:
    pieces: Counter[str] = Counter()
    for each in work.shelf.items():
        pieces[str(each.part)] += each.quantity
    return pieces


def with_shop(database: Database) -> None:
    with_job(database)
    with database.work() as work:
        work.trade.load_trade(TRADE)
        work.commit()


def test_the_oldest_set_is_opened_and_its_pieces_carry_its_own_cost(database: Database) -> None:
    with_shop(database)
    with database.work() as work:
        for cost, place in (("24.50", "bin 2"), ("10.50", "bin 2"), ("7.00", "bin 1")):
            work.shelf.put_in(SET, 1, place, Decimal(cost), BY)
        opened = open_sets(work, 2)
        assert [(each.where, each.cost) for each in opened] == [
            ("bin 2", Decimal("24.50")),
            ("bin 2", Decimal("10.50")),
        ]
        left = {(each.part, each.where, each.cost): each.quantity for each in work.shelf.items()}
    assert left == {
        (SET, "bin 1", Decimal("7.00")): 1,
        (SEAL, "bin 2", Decimal("3.50")): 4,
        (RING, "bin 2", Decimal("3.50")): 3,
        (SEAL, "bin 2", Decimal("1.50")): 4,
        (RING, "bin 2", Decimal("1.50")): 3,
    }


@pytest.fixture(scope="module")
def sets_url(sqlite_template: Path, tmp_path_factory: pytest.TempPathFactory) -> URL:
    return one_file(sqlite_template, tmp_path_factory.mktemp("sets"), with_shop)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(lots=LOTS, data=st.data(), place=st.sampled_from(["", "bin 3"]))
def test_whatever_is_opened_the_shelf_is_worth_the_same(
    sets_url: URL, lots: list[Lot], data: st.DataObject, place: str
) -> None:
    database = Database(sets_url)
    total = sum(lot.count for lot in lots)
    with database.work() as work:
        for lot in lots:
            work.shelf.put_in(SET, lot.count, lot.place, lot.cost, BY)
        before = worth(work)
        assert before == sum(lot.count * lot.cost for lot in lots)
        left = total
        while left:
            left -= (count := data.draw(st.integers(1, left)))
            open_sets(work, count, place)
            assert worth(work) == before
            opened = total - left
            assert lying(work) == Counter(
                {str(SET): left, str(SEAL): 4 * opened, str(RING): 3 * opened}
            )
    database.close()
