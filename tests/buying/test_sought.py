"""What comes goes to who misses it, whatever another order or the shelf has brought elsewhere."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import TypeVar

from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.delivered import coming_to, delivered_to
from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.orders import LineFor, OrderLine
from kitting.buying.sharing import OfLine
from kitting.buying.sought import sought_of
from kitting.buying.standing import OrderRecord
from kitting.job.hand import InHand, Source
from tests.builders import number
from tests.buying.orders import DAY, a_line, an_order

T = TypeVar("T")
A, B, C = "24-001", "24-002", "24-003"
PAIR, SEAL = number("hob:W900"), number("hob:W210")


def halves(*jobs: str, whole: int = 4, pieces: int = 8) -> OrderLine:
    """Collets by the half for kit lines that count them by the pair."""
    need = LineFor(
        "", "2.11", ("collets",), pieces, stands_for=PAIR, per=2, makes=1, whole=whole
    )  # fmt: skip
    made = a_line("hob:W320", pieces * len(jobs), "2.64")
    return replace(made, needed_by=tuple(replace(need, job=job) for job in jobs))


def an_order_of(line: OrderLine, came: int | None, running: int = 1) -> OrderRecord:
    """An order of one line of which so much came and no more will; without `came` all is due."""
    record = OrderRecord(replace(an_order(line), number=f"P100{running}"))
    if came is None:
        return record
    brought = DeliveryLine(record.order.lines[0].id, came)
    return replace(record, deliveries=(Delivery(record.order.number, DAY, "Joan", (brought,)),))


def told(
    *records: OrderRecord,
    given_up: Iterable[tuple[str, str]] = (),
    aside: Mapping[str, Sequence[InHand]] | None = None,
    asks: Mapping[str, int] | None = None,
) -> tuple[OrderRecord, ...]:
    """The orders told; `asks` is what kits ask for today of what stands in their orders, by job."""
    mine = frozenset(given_up)
    return sought_of(
        [
            replace(each, given_up=mine, asks=by_line(each, asks or {}, Fraction))
            for each in records
        ],
        aside or {},
    )


def by_line(
    record: OrderRecord, counts: Mapping[str, int], kind: Callable[[int], T]
) -> dict[str, dict[OfLine, T]]:
    """Counts by job as an order has them, by line and need."""
    return {
        line.id: {
            (need.job, need.positions): kind(counts[need.job])
            for need in line.needed_by
            if need.job in counts
        }
        for line in record.order.lines
    }


def built(record: OrderRecord, **pieces: int) -> OrderRecord:
    """An order of which engines that are built and closed have so many pieces, by job."""
    return replace(record, built_in=by_line(record, pieces, int))


def has(records: Iterable[OrderRecord], job: str) -> int:
    return sum(piece.quantity for piece in delivered_to(records, job))


def off_the_shelf(pieces: int, position: str = "collets") -> InHand:
    return InHand(position, PAIR, pieces, Source.SHELF, "Joan", DAY)


def test_a_job_that_bought_its_own_again_leaves_what_comes_free_to_one_that_misses_it() -> None:
    first, again = an_order_of(halves(A, B, C), 8), an_order_of(halves(B), 8, 2)
    assert [has(told(first, again), job) for job in (A, B, C)] == [8, 8, 0]
    found = told(first, again, given_up=[(A, "collets")])
    assert [has(found, job) for job in (A, B, C)] == [0, 8, 8]
    (mine,) = delivered_to(found, C)
    assert (mine.place, mine.cost) == ("order P1001", Decimal("21.12"))
    # What is only drafted has brought nothing.
    draft = replace(again, order=replace(again.order, approved_by="", approved_on=None))
    drafted = told(first, replace(draft, deliveries=()), given_up=[(A, "collets")])
    assert [has(drafted, job) for job in (A, B, C)] == [0, 8, 0]


def test_what_a_job_took_off_the_shelf_leaves_a_short_delivery_to_the_other() -> None:
    short = an_order_of(halves(A, B), 8)
    for taken, shares in ((4, [0, 8]), (1, [6, 2]), (0, [8, 0])):
        found = told(short, aside={A: [off_the_shelf(taken)]})
        assert [has(found, job) for job in (A, B)] == shares
    back = [off_the_shelf(4), off_the_shelf(-4)]
    assert has(told(short, aside={A: back}), A) == 8
    # While all of it is to come each waits for its own.
    due = told(an_order_of(halves(A, B), None), aside={A: [off_the_shelf(4)]})
    assert [sum(each.quantity for each in coming_to(due, job)) for job in (A, B)] == [8, 8]


def test_the_shelfs_part_of_a_kit_line_takes_nothing_from_what_was_ordered_beside_it() -> None:
    short = an_order_of(halves(A, B, whole=8), 8)
    assert [has(told(short, aside={A: [off_the_shelf(4)]}), job) for job in (A, B)] == [8, 0]


def test_of_two_places_of_one_job_the_one_that_has_its_own_comes_last() -> None:
    places = ((A, "tank"), (A, "sump"), (B, "sump"), (C, "sump"))
    needs = tuple(LineFor(job, "1.02", (at,), 1, stands_for=PAIR, whole=1) for job, at in places)
    short = an_order_of(replace(a_line("hob:W320", 4, "1.10"), needed_by=needs), 3)
    found = told(short, aside={A: [off_the_shelf(1, "sump")]})
    assert [piece.position for piece in delivered_to(found, A)] == ["tank"]
    assert [has(found, job) for job in (B, C)] == [1, 1]


def test_a_piece_changes_hands_where_its_owner_can_have_anothers() -> None:
    first, second = an_order_of(halves(A, B), 8), an_order_of(halves(B, C), 8, 2)
    assert [has(told(first, second), job) for job in (A, B, C)] == [8, 8, 0]
    found = told(first, second, given_up=[(A, "")])
    assert [has(found, job) for job in (A, B, C)] == [0, 8, 8]
    assert [each.place for job in (B, C) for each in delivered_to(found, job)] == [
        "order P1001",
        "order P1002",
    ]


def test_a_line_that_has_no_more_for_one_job_may_have_some_for_the_next_that_is_asked() -> None:
    def of(running: int, came: int, *jobs: str) -> OrderRecord:
        need = LineFor("", "1.01", ("collets",), 1, stands_for=PAIR)
        needs = tuple(replace(need, job=job, whole=1 + (job == A)) for job in jobs)
        line = replace(a_line("hob:W320", len(jobs), "1.00"), needed_by=needs)
        return an_order_of(line, came, running)

    found = told(of(1, 1, A, B), of(2, 2, C, A, B), of(3, 1, C))
    assert [has(found, job) for job in (A, B, C)] == [2, 1, 1]


def test_of_sets_too_the_job_that_bought_another_comes_last() -> None:
    def sets(*jobs: str) -> OrderLine:
        need = LineFor("", "1.02", ("seal",), 2, in_set=True, stands_for=SEAL, whole=2)
        made = a_line("hob:W901", len(jobs), "24.00")
        return replace(made, needed_by=tuple(replace(need, job=job) for job in jobs))

    seals = replace(a_line("hob:W210", 2, "3.00", job=B), id="")
    singly = LineFor(B, "1.02", ("seal",), 2, stands_for=SEAL, whole=2)
    for bought in (sets(B), replace(seals, needed_by=(singly,))):
        first = an_order_of(sets(A, B, C), 1)
        found = told(first, an_order_of(bought, bought.quantity, 2), given_up=[(A, "")])
        assert [has(found, job) for job in (A, B, C)] == [0, 2, 2]
    alone = told(an_order_of(sets(A, B, C), 1), given_up=[(A, "")])
    assert [has(alone, job) for job in (A, B, C)] == [0, 2, 0]


def test_a_bush_is_not_had_because_its_peg_was_bought_again() -> None:
    def of(part: str, goes_in: tuple[str, ...], *jobs: str) -> OrderLine:
        need = LineFor("", "3.01", ("bush",), 1, stands_for=PAIR, goes_in=goes_in, whole=1)
        made = a_line(part, len(jobs), "9.00")
        return replace(made, needed_by=tuple(replace(need, job=job) for job in jobs))

    bush, peg = "hob:W401", "hob:W402"
    bushes = an_order_of(of(bush, (bush, peg), A, B), 1)
    pegs = an_order_of(of(peg, (peg, bush), A), 1, 2)
    assert [each.place for each in delivered_to(told(bushes, pegs), A)] == [
        "order P1001",
        "order P1002",
    ]


def test_what_falls_short_goes_to_a_job_whose_kit_still_asks_for_it() -> None:
    short = an_order_of(halves(A, B), 8)
    for asks, shares in (
        ({A: 0, B: 4}, [0, 8]),
        ({A: 1, B: 4}, [2, 6]),
        ({A: 4, B: 0}, [8, 0]),
        ({A: 0, B: 0}, [8, 0]),
        ({B: 4}, [8, 0]),
    ):
        found = told(short, asks=asks)
        assert [has(found, job) for job in (A, B)] == shares, asks
    # All that came lies with the job that it was asked for, wanted or not.
    whole = told(an_order_of(halves(A, B), 16), asks={A: 0, B: 4})
    assert [has(whole, job) for job in (A, B)] == [8, 8]


def test_what_an_engine_was_built_with_is_its_own_and_what_comes_later_goes_to_open_jobs() -> None:
    short = an_order_of(halves(A, B, C), 12)
    assert [has(told(short), job) for job in (A, B, C)] == [8, 4, 0]
    for pieces, shares in ((0, [0, 8, 4]), (2, [2, 8, 2]), (8, [8, 4, 0])):
        found = told(built(short, **{A: pieces}))
        assert [has(found, job) for job in (A, B, C)] == shares
    # Built with what came first, it keeps that before a job that the order names before it.
    found = told(built(an_order_of(halves(A, B), 8), **{B: 8}))
    assert [has(found, job) for job in (A, B)] == [0, 8]


def test_the_set_that_an_engine_was_built_with_is_no_others() -> None:
    def sets(*jobs: str) -> OrderLine:
        need = LineFor("", "1.02", ("seal",), 2, in_set=True, stands_for=SEAL, whole=2)
        made = a_line("hob:W901", len(jobs), "24.00")
        return replace(made, needed_by=tuple(replace(need, job=job) for job in jobs))

    first = an_order_of(sets(A, B), 1)
    for pieces, shares in ((2, [0, 2]), (0, [2, 0])):
        found = told(built(first, **{B: pieces}))
        assert [has(found, job) for job in (A, B)] == shares
    asks = told(first, asks={A: 0, B: 2})
    assert [has(asks, job) for job in (A, B)] == [0, 2]


PIECES = st.integers(min_value=0, max_value=4)
LINES = st.lists(
    st.tuples(st.dictionaries(st.sampled_from((A, B, C)), st.integers(1, 4), min_size=1), PIECES),
    min_size=1,
    max_size=4,
)


@given(
    LINES,
    st.fixed_dictionaries(dict.fromkeys((A, B, C), st.integers(1, 4))),
    st.fixed_dictionaries(dict.fromkeys((A, B, C), st.integers(0, 2))),
    st.sets(st.sampled_from((A, B, C)), max_size=1),
    st.dictionaries(st.sampled_from((A, B, C)), st.integers(0, 4)),
    st.sets(st.sampled_from((A, B, C)), max_size=1),
)
def test_nobody_goes_without_while_another_has_more_than_its_kit_wants(
    lines: list[tuple[dict[str, int], int]],
    whole: dict[str, int],
    taken: dict[str, int],
    gave_up: set[str],
    asks: dict[str, int],
    closed: set[str],
) -> None:
    records = []
    for at, (asked, short) in enumerate(lines):
        needs = tuple(
            LineFor(job, "1.01", ("collets",), count, stands_for=PAIR, whole=whole[job])
            for job, count in asked.items()
        )
        total = sum(asked.values())
        line = replace(a_line("hob:W320", total, "1.00"), needed_by=needs)
        record = an_order_of(line, max(0, total - short), at)
        # Of what is here now an engine was built with half of what it asked for.
        in_it = {job: min(asked[job] // 2, max(0, total - short)) for job in closed & set(asked)}
        records.append(built(record, **in_it))
    aside = {job: [off_the_shelf(count)] for job, count in taken.items()}
    found = told(*records, given_up=[(job, "") for job in gave_up], aside=aside, asks=asks)
    shares = []
    for record in found:
        (standing,) = record.lines
        each = {share.need.job: share for share in standing.shared(standing.good)}
        assert sum(share.pieces for share in each.values()) == standing.good
        assert all(share.given <= share.need.pieces for share in each.values())
        own = {job: standing.built_in.get((job, ("collets",)), 0) for job in each}
        assert all(share.given >= own[job] for job, share in each.items())
        # What is in an engine is nobody's to have.
        shares.append(
            {job: (s.given - own[job], s.need.pieces - own[job]) for job, s in each.items()}
        )
    wants = {
        job: Fraction(min(whole[job], asks.get(job, whole[job])) - taken[job]) for job in (A, B, C)
    }
    done = gave_up | closed | {job for job, count in asks.items() if not count}
    wants |= dict.fromkeys(done, Fraction(0))
    had = {job: sum(line.get(job, (Fraction(0), 0))[0] for line in shares) for job in (A, B, C)}
    for job in (A, B, C):
        if had[job] < wants[job]:
            for other in _may_give(job, shares):
                assert had[other] <= wants[other], (job, other)


def _may_give(job: str, shares: list[dict[str, tuple[Fraction, int]]]) -> set[str]:
    """Who has something that could come to a job, straight or by an exchange."""
    found, fresh = {job}, {job}
    while fresh:
        fresh = {
            other
            for line in shares
            for mine in fresh
            if mine in line and line[mine][0] < line[mine][1]
            for other, (given, _) in line.items()
            if given
        } - found
        found |= fresh
    return found - {job}
