"""The bags: what a stage waits for, and when it can start."""

from dataclasses import replace
from datetime import date

from kitting.job.bags import Bag, WaitsFor, bags_of
from kitting.job.counting import Lot
from kitting.job.hand import Hand, InHand, Source, WorkBack
from kitting.job.kit import KitLine
from kitting.job.path import JobPath
from tests.builders import number
from tests.job.benches import DAY
from tests.sheets.values import CUSTOMER, a_job, a_ready_job


def bag(path: JobPath, stage: str) -> Bag:
    return next(bag for bag in bags_of(path) if bag.stage == stage)


def pieces(line: KitLine, count: int | None = None, source: Source = Source.DELIVERY) -> InHand:
    return InHand(line.positions[0], line.part, count or line.quantity, source, "Joan", DAY)


def with_everything(path: JobPath) -> JobPath:
    """The job with every line and all machining in the shop."""
    came = tuple(pieces(line) for line in path.kit.lines)
    works = tuple(WorkBack(work.operation, True, "Joan", DAY) for work in path.kit.work)
    return replace(path, hand=Hand(came, works))


def settled() -> JobPath:
    """A job with no open question and nothing held."""
    path = a_ready_job()
    lines = tuple(replace(line, hold=False) for line in path.kit.lines)
    return with_everything(replace(path, kit=replace(path.kit, lines=lines)))


def waits(found: Bag) -> set[WaitsFor]:
    return {wait.why for wait in found.waits}


def test_a_stage_starts_when_its_lines_its_machining_and_its_answers_are_there() -> None:
    assert all(found.can_start for found in bags_of(settled()))


def test_one_piece_short_and_the_stage_waits_for_it() -> None:
    path = settled()
    nuts = next(line for line in path.kit.lines if line.quantity > 1)
    came = tuple(
        replace(each, quantity=each.quantity - 1) if each.answers(nuts) else each
        for each in path.hand.pieces
    )
    found = bag(replace(path, hand=replace(path.hand, pieces=came)), nuts.stage)
    assert [wait.because.says for wait in found.waits] == [
        f"{nuts.text}: 1 of {nuts.quantity} to be ordered"
    ]
    others = bags_of(replace(path, hand=replace(path.hand, pieces=came)))
    assert [each.can_start for each in others] == [each.stage != nuts.stage for each in others]


def test_what_is_held_waits_though_it_lies_in_the_bag() -> None:
    path = with_everything(a_ready_job())
    held = {line.stage for line in path.kit.lines if line.hold}
    assert held
    assert {found.stage for found in bags_of(path) if not found.can_start} == held


def test_a_stage_waits_for_its_own_machining_only() -> None:
    path = settled()
    works = tuple(work for work in path.hand.works if work.operation != "regrind")
    there = replace(path, hand=replace(path.hand, works=works))
    assert waits(bag(there, "1 bottom end")) == {WaitsFor.MACHINING}
    assert bag(there, "3 top end").can_start


def test_an_open_question_on_a_part_of_it_keeps_a_stage() -> None:
    open_points = {point.where for point in a_job().kit.readiness.points}
    asked = {
        wait.key
        for found in bags_of(with_everything(a_job()))
        for wait in found.waits
        if wait.why is WaitsFor.QUESTION
    }
    stages = {found.stage for found in bags_of(a_job())}
    assert open_points
    assert asked <= open_points
    assert stages == {"1 bottom end", "3 top end"}


def test_what_lies_here_and_is_not_measured_is_waited_for_as_that() -> None:
    path = settled()
    nuts = next(line for line in path.kit.lines if line.quantity > 2)
    lie = replace(pieces(nuts, nuts.quantity - 1), place="order P1001, line KQRTB")
    came = tuple(each for each in path.hand.pieces if not each.answers(nuts))
    waiting = replace(path, hand=replace(path.hand, pieces=came, unproven=(lie,)))
    assert [(wait.why, wait.because.says) for wait in bag(waiting, nuts.stage).waits] == [
        (
            WaitsFor.MEASURING,
            f"{nuts.text}: {lie.quantity} here, to be measured (order P1001, line KQRTB)",
        ),
        (WaitsFor.ORDER, f"{nuts.text}: 1 of {nuts.quantity} to be ordered"),
    ]
    proven = replace(path.hand, unproven=(lie,))
    assert bag(replace(path, hand=proven), nuts.stage).can_start


def test_what_is_on_order_is_waited_for_by_that_and_the_rest_is_to_be_ordered() -> None:
    path = settled()
    nuts = next(line for line in path.kit.lines if line.quantity > 2)
    came = tuple(each for each in path.hand.pieces if not each.answers(nuts))
    due = replace(pieces(nuts, 1), place="order P1001", when=date(2024, 5, 9))
    for ordered, to_order in ((1, nuts.quantity - 1), (nuts.quantity, 0)):
        coming = (replace(due, quantity=ordered),)
        waiting = replace(path, hand=replace(path.hand, pieces=came, coming=coming))
        of_all = f"of {nuts.quantity}"
        says = [f"{nuts.text}: {ordered} {of_all} to come (order P1001, 09 May 2024)"]
        says += [f"{nuts.text}: {to_order} {of_all} to be ordered"] if to_order else []
        assert [wait.because.says for wait in bag(waiting, nuts.stage).waits] == says


def test_what_lies_here_unmeasured_and_is_asked_for_no_more_is_left_over() -> None:
    path = settled()
    other = replace(pieces(path.kit.lines[0]), part=number("hob:W999"))
    hand = replace(path.hand, unproven=(other,))
    assert [each.part for each in hand.left_over(path.kit)] == [number("hob:W999")]


def test_more_in_hand_than_a_line_asks_for_is_left_over_and_what_comes_is_too_many() -> None:
    path = settled()
    line = next(line for line in path.kit.lines if line.quantity > 1)
    full, one = pieces(line), pieces(line, 1)
    assert [e.quantity for e in Hand((full, one)).left_over(path.kit)] == [1]
    assert [e.quantity for e in Hand((full,), unproven=(one,)).left_over(path.kit)] == [1]
    assert Hand((full,)).left_over(path.kit) == ()
    coming = replace(full, place="order P1001")
    assert Hand(coming=(coming,)).too_many(line) == ()
    (found,) = Hand((one,), coming=(coming,)).too_many(line)
    assert (found.quantity, found.place) == (1, "order P1001")
    assert line.part is not None
    (found,) = Hand((one,), coming=(coming,)).too_many(line, Lot(line.part, 1))
    assert found.quantity == 2


def test_a_part_that_serves_there_is_in_hand_and_another_is_left_over() -> None:
    path = settled()
    line = next(line for line in path.kit.lines if line.part == number("hob:W320"))
    assert Hand((replace(pieces(line), part=number("dal:R320")),)).missing(line) == 0
    stray = replace(pieces(line), part=number("hob:W110"))
    hand = Hand((stray,))
    assert hand.count(line) == 0
    assert hand.left_over(path.kit) == (stray,)


def test_pieces_that_went_again_are_in_hand_no_more() -> None:
    path = settled()
    line = path.kit.lines[0]
    hand = Hand((pieces(line), replace(pieces(line), quantity=-line.quantity)))
    assert hand.missing(line) == line.quantity
    assert hand.left_over(path.kit) == ()


def test_the_check_changes_with_the_contents_and_not_with_what_came() -> None:
    path = a_ready_job()
    first = bags_of(path)[0]
    assert bags_of(with_everything(path))[0].check == first.check
    lines = tuple(replace(line, quantity=line.quantity + 1) for line in path.kit.lines)
    more = replace(path, kit=replace(path.kit, lines=lines))
    assert bags_of(more)[0].check != first.check


def test_the_label_says_job_bag_and_count_and_never_whose_engine_it_is() -> None:
    path = a_ready_job()
    found = bags_of(path)[0]
    assert found.label_text(path.bench.job.number) == (
        f"JOB 24-001; BAG 1 of 2, 1 bottom end; {len(found.lines)} lines, "
        f"{found.pieces} pieces; CHECK {found.check}"
    )
    words = CUSTOMER.casefold().split()
    assert not any(word in found.label_text("24-001").casefold() for word in words)
