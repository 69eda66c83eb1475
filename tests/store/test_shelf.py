"""The shelf: what comes, goes and is counted; never below none, and every movement on record."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import URL

from kitting.errors import BadInput, NotFound
from kitting.job.shelf import MoveKind, Signature
from kitting.store.database import Database
from tests.builders import number
from tests.store.samples import JOB, one_file, with_job
from tests.store.test_two_benches import at_once

BY = Signature("Joan", date(2024, 5, 1))
SHELLS = number("hob:W101")
BOLTS = number("hob:W140")
FREE = Decimal(0)


@pytest.fixture
def stocked(database: Database) -> Database:
    """Two lots of shells in one bin, the older dearer, and a job that may want them."""
    with_job(database)
    with database.work() as work:
        work.shelf.put_in(SHELLS, 2, "bin 4", Decimal("9.50"), BY)
        work.shelf.put_in(SHELLS, 3, "bin 4", Decimal("8.25"), BY)
        work.commit()
    return database


def free(database: Database) -> int:
    with database.read() as work:
        return work.shelf.free(SHELLS)


def test_what_is_put_in_lies_there_by_place_and_cost(stocked: Database) -> None:
    with stocked.read() as work:
        items = work.shelf.items()
    assert [(i.quantity, i.where, i.cost) for i in items] == [
        (3, "bin 4", Decimal("8.25")),
        (2, "bin 4", Decimal("9.50")),
    ]


def test_the_oldest_lot_goes_first_and_its_cost_goes_to_the_job(stocked: Database) -> None:
    with stocked.work() as work:
        work.shelf.take(JOB.number, "shells", SHELLS, 3, BY)
        work.commit()
    with stocked.read() as work:
        pieces = work.in_hand.hand(JOB.number).pieces
    assert [(each.quantity, each.cost) for each in pieces] == [
        (2, Decimal("19.00")),
        (1, Decimal("8.25")),
    ]
    assert free(stocked) == 2


def test_what_is_given_back_goes_to_the_lot_it_came_from(stocked: Database) -> None:
    with stocked.work() as work:
        work.shelf.take(JOB.number, "shells", SHELLS, 3, BY)
        work.shelf.give_back(JOB.number, "shells", SHELLS, 3, BY)
        work.commit()
    with stocked.read() as work:
        assert {(i.quantity, i.cost) for i in work.shelf.items()} == {
            (3, Decimal("8.25")),
            (2, Decimal("9.50")),
        }
        assert sum(each.quantity for each in work.in_hand.hand(JOB.number).pieces) == 0


def test_more_than_was_taken_cannot_be_given_back(stocked: Database) -> None:
    with stocked.work() as work:
        work.shelf.take(JOB.number, "shells", SHELLS, 1, BY)
        with pytest.raises(BadInput, match="has 1 of it from the shelf, not 2"):
            work.shelf.give_back(JOB.number, "shells", SHELLS, 2, BY)


def test_more_than_lies_there_is_refused_and_nothing_of_it_taken(stocked: Database) -> None:
    with stocked.work() as work:
        with pytest.raises(BadInput, match="6 wanted, and only 5 of it lie free"):
            work.shelf.take(JOB.number, "shells", SHELLS, 6, BY)
        work.commit()
    assert free(stocked) == 5
    with stocked.read() as work:
        assert len(work.shelf.moves()) == 2


def test_a_count_brings_the_ledger_to_what_lies_there(stocked: Database) -> None:
    with stocked.work() as work:
        assert work.shelf.count(SHELLS, 4, BY) == -1
        assert work.shelf.count(SHELLS, 4, BY) == 0
        assert work.shelf.count(SHELLS, 7, BY) == 3
        work.commit()
    assert free(stocked) == 7
    with stocked.read() as work:
        changes = [m.change for m in work.shelf.moves() if m.kind is MoveKind.COUNTED]
    assert changes == [-1, 0, 3]


def test_a_part_in_two_places_is_counted_in_one_of_them(stocked: Database) -> None:
    with stocked.work() as work:
        work.shelf.put_in(SHELLS, 1, "drawer", FREE, BY)
        with pytest.raises(BadInput, match="it lies in bin 4, drawer; say which"):
            work.shelf.count(SHELLS, 2, BY)
        assert work.shelf.count(SHELLS, 2, BY, where="drawer") == 1
        work.commit()
    assert free(stocked) == 7


def test_what_was_never_put_in_can_still_be_counted(stocked: Database) -> None:
    with stocked.work() as work:
        work.shelf.count(BOLTS, 4, BY, where="bin 5", cost=Decimal("1.10"))
        with pytest.raises(BadInput, match="no place is named"):
            work.shelf.count(number("hob:W150"), 4, BY)
        work.commit()
    with stocked.read() as work:
        assert work.shelf.free(BOLTS) == 4


def test_the_database_itself_refuses_less_than_none(stocked: Database) -> None:
    from sqlalchemy.exc import IntegrityError

    with stocked.engine.connect() as connection, pytest.raises(IntegrityError):
        connection.exec_driver_sql("UPDATE shelf_lots SET left_over = left_over - 3")


def test_a_number_is_found_in_any_spelling_and_a_near_one_only_offered(stocked: Database) -> None:
    with stocked.read() as work:
        assert work.shelf.part("w-101") == SHELLS
        assert work.shelf.part("hob:W101") == SHELLS
        with pytest.raises(NotFound, match="no part 'W1O1'; did you mean hob:W101"):
            work.shelf.part("W1O1")
        assert work.shelf.names([SHELLS])[SHELLS] == "shell W101"


def test_no_such_job_takes_anything(stocked: Database) -> None:
    with stocked.work() as work, pytest.raises(NotFound, match="no job '24-009'"):
        work.shelf.take("24-009", "shells", SHELLS, 1, BY)


def takes_one_at_a_time(url: str, bench: int) -> int:
    """Take single pieces for a job of one's own until there is none; returns how many came."""
    database = Database(url)
    taken = 0
    while True:
        try:
            with database.work() as work:
                work.shelf.take(f"24-10{bench}", "shells", SHELLS, 1, BY)
                work.commit()
        except BadInput:
            database.close()
            return taken
        taken += 1


def test_the_last_piece_goes_to_one_of_two_benches_at_the_same_instant(database: Database) -> None:
    from dataclasses import replace

    with_job(database)
    with database.work() as work:
        for bench in range(2):
            work.jobs.open_job(replace(JOB, number=f"24-10{bench}"))
        for _ in range(5):
            work.shelf.put_in(SHELLS, 8, "bin 4", FREE, BY)
        work.commit()
    one, other = at_once(takes_one_at_a_time, database.url)
    assert int(str(one)) + int(str(other)) == 40
    assert free(database) == 0
    with database.read() as work:
        for bench, count in enumerate((one, other)):
            pieces = work.in_hand.hand(f"24-10{bench}").pieces
            assert sum(each.quantity for each in pieces) == count


def takes_all(url: str, bench: int) -> bool:
    """Want five of six for one's own job: only one bench of two can have them."""
    database = Database(url)
    try:
        with database.work() as work:
            work.shelf.take(f"24-10{bench}", "shells", SHELLS, 5, BY)
            work.commit()
    except BadInput:
        return False
    finally:
        database.close()
    return True


def test_a_lot_that_two_jobs_want_whole_goes_whole_to_one(database: Database) -> None:
    from dataclasses import replace

    with_job(database)
    with database.work() as work:
        for bench in range(2):
            work.jobs.open_job(replace(JOB, number=f"24-10{bench}"))
        for _ in range(3):
            work.shelf.put_in(SHELLS, 2, "bin 4", FREE, BY)
        work.commit()
    assert sorted(map(bool, at_once(takes_all, database.url))) == [False, True]
    assert free(database) == 1


@dataclass(frozen=True)
class Deed:
    """Something done to the shelf."""

    what: str
    count: int


DEEDS = st.lists(
    st.builds(
        Deed, st.sampled_from(["in", "out", "count", "take", "give back"]), st.integers(1, 5)
    ),
    max_size=14,
)


@pytest.fixture(scope="module")
def ledger_url(sqlite_template: Path, tmp_path_factory: pytest.TempPathFactory) -> URL:
    return one_file(sqlite_template, tmp_path_factory.mktemp("ledger"), with_job)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(deeds=DEEDS)
def test_whatever_is_done_nothing_is_lost_and_nothing_is_below_none(
    ledger_url: URL, deeds: list[Deed]
) -> None:
    """Against a model of three numbers: what lies free, what the job has, what came in all."""
    database = Database(ledger_url)
    lies, has, came = 0, 0, 0
    with database.work() as work:
        for deed in deeds:
            fits = {"out": lies, "take": lies, "give back": has}.get(deed.what, 99) >= deed.count
            try:
                _do(work, deed)
            except BadInput:
                assert not fits
                continue
            assert fits
            if deed.what in {"in", "out"}:
                change = deed.count if deed.what == "in" else -deed.count
                lies, came = lies + change, came + change
            elif deed.what == "count":
                lies, came = deed.count, came + deed.count - lies
            else:
                moved = deed.count if deed.what == "give back" else -deed.count
                lies, has = lies + moved, has - moved
            moves = work.shelf.moves(SHELLS)
            taken = sum(each.quantity for each in work.shelf.taken(JOB.number))
            assert work.shelf.free(SHELLS) == lies == sum(move.change for move in moves)
            assert taken == has
            assert lies + has == came
            assert min(lies, has) >= 0
    database.close()


def _do(work: object, deed: Deed) -> None:
    from kitting.store.database import UnitOfWork

    assert isinstance(work, UnitOfWork)
    shelf = work.shelf
    match deed.what:
        case "in":
            shelf.put_in(SHELLS, deed.count, "bin 4", FREE, BY)
        case "out":
            shelf.take_out(SHELLS, deed.count, BY)
        case "count":
            shelf.count(SHELLS, deed.count, BY, where="bin 4")
        case "take":
            shelf.take(JOB.number, "shells", SHELLS, deed.count, BY)
        case _:
            shelf.give_back(JOB.number, "shells", SHELLS, deed.count, BY)
