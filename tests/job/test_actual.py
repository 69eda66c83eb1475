"""An estimate against what came: known costs added up, unknown ones said to be unknown."""

from dataclasses import replace
from decimal import Decimal

from kitting.job.actual import Compared, Comparison, Given, against_actual
from kitting.job.estimate import LineKind
from kitting.job.hand import Hand, InHand, Source, WorkBack, Worked
from kitting.job.path import JobPath
from tests.builders import number
from tests.job.benches import DAY
from tests.sheets.values import a_ready_job

BOLTS = number("hob:W140")


def given(path: JobPath) -> list[Given]:
    return [
        Given(line.kind, line.kit_line, line.text, line.part, line.cost, line.net)
        for line in path.estimate.lines
    ]


def came(path: JobPath, part: str, cost: str | None, count: int | None = None) -> InHand:
    line = next(line for line in path.kit.lines if line.part == number(part))
    paid = Decimal(cost) if cost is not None else None
    quantity = count or line.quantity
    return InHand(line.positions[0], line.part, quantity, Source.DELIVERY, "Joan", DAY, paid)


def compared(path: JobPath, *pieces: InHand, works: tuple[WorkBack, ...] = ()) -> Comparison:
    return against_actual(given(path), replace(path, hand=Hand(pieces, works)))


def row(comparison: Comparison, text: str) -> Compared:
    return next(each for each in comparison.rows if text in f"{each.text} {each.part}")


def test_what_came_dearer_is_over_by_the_difference() -> None:
    path = a_ready_job()
    reckoned = next(line.cost for line in path.estimate.lines if line.part == BOLTS)
    found = row(compared(path, came(path, "hob:W140", "99.00")), "W140")
    assert (found.estimated, found.actual) == (reckoned, Decimal("99.00"))
    assert found.over == Decimal("99.00") - reckoned


def test_nothing_that_is_not_known_is_counted_as_nothing() -> None:
    path = a_ready_job()
    nothing = compared(path)
    assert nothing.known == ()
    assert nothing.actual == 0
    assert row(nothing, "W140").note == "nothing has come"
    assert row(nothing, "Regrind").note == "not back"
    unpriced = compared(path, came(path, "hob:W140", None))
    assert row(unpriced, "W140").note == "the cost of 2 is not known"
    part = compared(path, came(path, "hob:W140", "5.00", count=1))
    assert (row(part, "W140").actual, row(part, "W140").note) == (None, "1 of 2 came")


def test_another_number_that_serves_there_is_held_against_the_one_priced() -> None:
    path = a_ready_job()
    line = next(line for line in path.kit.lines if line.part == number("hob:W320"))
    other = replace(came(path, "hob:W320", "7.00"), part=number("dal:R320"))
    assert number("dal:R320") in line.serves
    assert row(compared(path, other), "W320").actual == Decimal("7.00")


def test_parts_that_a_set_brings_are_held_against_the_set() -> None:
    path = a_ready_job()
    (chosen,) = path.kit.sets
    covered = [line for line in path.kit.lines if line.covered_by == chosen.set]
    pieces = [came(path, str(line.part), "6.00") for line in covered]
    found = row(compared(path, *pieces), str(chosen.set))
    assert (found.kind, found.actual) == (LineKind.SET, Decimal("6.00") * len(covered))


def test_work_that_is_back_is_held_against_its_price() -> None:
    path = a_ready_job()
    work = WorkBack("regrind", True, "Joan", DAY, Decimal("52.00"))
    assert row(compared(path, works=(work,)), "Regrind").actual == Decimal("52.00")
    unsaid = compared(path, works=(replace(work, cost=None),))
    assert row(unsaid, "Regrind").note == "cost not said"


def test_hours_worked_are_held_against_those_reckoned_at_the_shops_rate() -> None:
    path = a_ready_job()
    rate = path.trade.shop.labour_rate
    line = next(each for each in path.estimate.lines if each.kind is LineKind.LABOUR)
    assembly = next(a for a in path.family.assemblies if a.name in line.text)
    hours = (Worked(assembly.key, Decimal("1.5"), "Joan", DAY),
             Worked(assembly.key, Decimal("0.25"), "Joan", DAY))  # fmt: skip
    found = row(against_actual(given(path), replace(path, hand=Hand(worked=hours))), line.text)
    assert (found.estimated, found.actual) == (line.cost, rate * Decimal("1.75"))
    assert found.note == "1.75 h"
    unwritten = row(compared(path), line.text)
    assert (unwritten.actual, unwritten.note) == (None, "no hours written")
    bare = [each for each in given(path) if each.kind is not LineKind.LABOUR]
    (unforeseen,) = (
        each
        for each in against_actual(bare, replace(path, hand=Hand(worked=hours))).rows
        if each.kind is LineKind.LABOUR
    )
    assert unforeseen.note == "1.75 h; not in the estimate"


def test_work_that_the_customer_declined_is_not_waited_for() -> None:
    path = a_ready_job()
    without = replace(path, kit=replace(path.kit, work=()))
    assert row(compared(without), "Regrind").note == "asked for no more"


def test_what_the_estimate_did_not_foresee_has_a_row_of_its_own() -> None:
    path = a_ready_job()
    stray = replace(came(path, "hob:W140", "3.00", count=1), part=number("hob:W130"))
    found = row(compared(path, stray), "W130")
    assert (found.estimated, found.actual) == (Decimal(0), Decimal("3.00"))
    assert found.note == "not in the estimate"


def test_the_sums_are_those_of_the_rows_and_the_estimate() -> None:
    path = a_ready_job()
    whole = compared(path, came(path, "hob:W140", "99.00"))
    assert whole.estimated == sum(line.cost for line in path.estimate.lines)
    assert whole.asked == path.estimate.likely.net
    assert whole.actual == Decimal("99.00")
    assert whole.estimated_of_known == row(whole, "W140").estimated


def test_pieces_that_went_again_cost_nothing() -> None:
    path = a_ready_job()
    one = came(path, "hob:W140", "9.00")
    back = replace(one, quantity=-one.quantity, cost=Decimal("-9.00"))
    assert row(compared(path, one, back), "W140").note == "nothing has come"


def test_what_was_bought_only_to_reach_a_suppliers_terms_was_spent_all_the_same() -> None:
    path = a_ready_job()
    spent = against_actual(given(path), path, made_up=Decimal("16.33"))
    found = row(spent, "to reach a supplier's terms")
    assert (found.estimated, found.actual) == (Decimal(0), Decimal("16.33"))
    assert not any("terms" in each.text for each in against_actual(given(path), path).rows)
