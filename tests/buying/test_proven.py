"""What came, held against its drawing: figures, then a named person's word."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.delivered import delivered_to, unproven_for
from kitting.buying.deliveries import Delivery, DeliveryLine, Return, Why
from kitting.buying.proven import Proof, Settled, proofs_of
from kitting.buying.replies import Word
from kitting.buying.standing import LineStanding, OrderRecord
from kitting.buying.steps import Measured, check_measured, check_settles, parcel_to_prove
from kitting.errors import BadInput
from tests.buying.orders import JOB, a_line, an_order

BOLTS = an_order(a_line("hob:W140", 4, "8.20", positions=("rod-bolts",)))
LINE = BOLTS.lines[0].id
DAY = date(2024, 5, 9)
SOME = DeliveryLine(LINE, 2, to_measure=True)
REST = DeliveryLine(LINE, 2, to_measure=True)


def word(choice: Word, delivery: int = 1) -> Settled:
    return Settled(LINE, delivery, choice, "K. Ferris", DAY, "the eye is at its smallest")


def record(*came: DeliveryLine, settled: tuple[Settled, ...] = ()) -> OrderRecord:
    deliveries = tuple(Delivery("P1001", DAY, "J. Marlowe", (line,)) for line in came)
    return OrderRecord(BOLTS, deliveries=deliveries, settled=settled)


def stands(*came: DeliveryLine, settled: tuple[Settled, ...] = ()) -> LineStanding:
    return record(*came, settled=settled).lines[0]


@pytest.mark.parametrize(
    ("figures", "said", "proofs"),
    [
        ({}, None, {Proof.UNMEASURED: 8}),
        ({}, Word.ACCEPT, {Proof.SOUND: 8}),
        ({}, Word.REFUSE, {Proof.WRONG: 8}),
        ({"near": 8}, None, {Proof.DOUBTFUL: 8}),
        ({"near": 8}, Word.ACCEPT, {Proof.SOUND: 8}),
        ({"near": 8}, Word.REFUSE, {Proof.WRONG: 8}),
        ({"inside": 8}, Word.REFUSE, {Proof.SOUND: 8}),
        ({"outside": 8}, Word.ACCEPT, {Proof.WRONG: 8}),
        ({"inside": 7, "outside": 1}, None, {Proof.SOUND: 7, Proof.WRONG: 1}),
        ({"inside": 7, "outside": 1}, Word.REFUSE, {Proof.SOUND: 7, Proof.WRONG: 1}),
        ({"inside": 3, "outside": 1, "near": 2}, Word.ACCEPT, {Proof.SOUND: 7, Proof.WRONG: 1}),
        ({"inside": 3, "outside": 1, "near": 2}, Word.REFUSE, {Proof.SOUND: 3, Proof.WRONG: 5}),
        (
            {"inside": 3, "outside": 1, "near": 2},
            None,
            {Proof.SOUND: 3, Proof.WRONG: 1, Proof.DOUBTFUL: 2, Proof.UNMEASURED: 2},
        ),
    ],
)
def test_figures_outrank_a_word_and_a_word_settles_what_they_leave_open(
    figures: dict[str, int], said: Word | None, proofs: dict[Proof, int]
) -> None:
    inside, outside, near = (figures.get(name, 0) for name in ("inside", "outside", "near"))
    came = replace(SOME, good=8, inside=inside, outside=outside, near=near)
    found = proofs_of(came, word(said) if said else None)
    assert {proof: count for proof, count in found.items() if count} == proofs


def test_what_has_no_drawing_is_sound_as_counted() -> None:
    assert proofs_of(DeliveryLine(LINE, 2), None)[Proof.SOUND] == 2


def test_what_is_here_to_be_measured_is_neither_in_hand_nor_to_be_bought_again() -> None:
    found = record(replace(SOME, good=4))
    (line,) = found.lines
    assert (line.good, line.unmeasured, line.coming, line.reopened) == (0, 4, 0, 0)
    assert delivered_to([found], JOB) == ()
    (piece,) = unproven_for([found], JOB)
    assert (piece.position, piece.quantity, piece.cost) == ("rod-bolts", 4, None)
    assert piece.place == f"order P1001, line {LINE}"
    assert unproven_for([found], "24-999") == ()


def test_the_proven_half_is_in_hand_and_the_other_half_waits() -> None:
    found = record(replace(SOME, inside=2), REST)
    (line,) = found.lines
    assert (line.good, line.unmeasured) == (2, 2)
    assert [piece.quantity for piece in delivered_to([found], JOB)] == [2]
    assert [piece.quantity for piece in unproven_for([found], JOB)] == [2]


def test_what_a_person_refuses_is_open_again_and_may_go_back() -> None:
    line = stands(replace(SOME, good=4), settled=(word(Word.REFUSE),))
    assert (line.wrong, line.reopened, line.may_go[Why.WRONG]) == (4, 4, 4)


def test_the_last_word_holds() -> None:
    changed = (word(Word.REFUSE), word(Word.ACCEPT))
    assert stands(replace(SOME, good=4), settled=changed).good == 4


def test_the_first_parcel_that_is_not_proven_is_measured_first() -> None:
    found = record(replace(SOME, inside=2), REST)
    assert parcel_to_prove(found, LINE)[0] == 2
    assert parcel_to_prove(found, LINE, 1)[0] == 1
    assert parcel_to_prove(record(SOME, REST), LINE)[0] == 1
    done = record(SOME, REST, settled=(word(Word.ACCEPT), word(Word.ACCEPT, 2)))
    assert parcel_to_prove(done, LINE)[0] == 2
    with pytest.raises(BadInput, match="delivery 3 brought none of it; one of 1, 2"):
        parcel_to_prove(found, LINE, 3)


@pytest.mark.parametrize(
    ("came", "earlier", "sentence"),
    [
        (replace(SOME, inside=2), (), "it is sound: nothing is open"),
        (replace(SOME, outside=2), (), "it is wrong part: nothing is open"),
        (
            replace(SOME, inside=1, outside=1),
            (),
            "it is 1 sound, 1 wrong part: nothing is open",
        ),
        (DeliveryLine(LINE, 2), (), "it is sound: nothing is open"),
        (SOME, (word(Word.ACCEPT),), "K. Ferris said so already, on 09 May 2024"),
    ],
)
def test_a_word_on_what_is_not_open_is_refused(
    came: DeliveryLine, earlier: tuple[Settled, ...], sentence: str
) -> None:
    with pytest.raises(BadInput) as refused:
        check_settles(record(came, settled=earlier), word(Word.ACCEPT))
    assert sentence in str(refused.value)


def test_a_person_may_change_his_mind_while_nothing_is_proven() -> None:
    check_settles(record(SOME, settled=(word(Word.ACCEPT),)), word(Word.REFUSE))


def test_what_went_back_as_the_wrong_part_cannot_be_found_sound_afterwards() -> None:
    gone = (Return(LINE, 1, Why.WRONG, "J. Marlowe", DAY),)
    measured = replace(SOME, inside=1, outside=1)
    found = replace(record(measured), returns=gone)
    anew = Measured(1, (), (), (2, 0, 0), "J. Marlowe")
    with pytest.raises(BadInput, match=r"1 piece went back as the wrong part.* only 0 would"):
        check_measured(found, LINE, anew)
    check_measured(record(measured), LINE, anew)
    check_measured(found, LINE, replace(anew, by_figures=(0, 2, 0)))
    refused = replace(record(SOME, settled=(word(Word.REFUSE),)), returns=gone)
    with pytest.raises(BadInput, match="what is gone keeps its figure and its word"):
        check_settles(refused, word(Word.ACCEPT))


def test_unused_sale_or_return_goes_back_unmeasured() -> None:
    order = an_order(a_line("hob:W120", 1, "12.00", on_return=True))
    line = order.lines[0].id
    came = Delivery("P1001", DAY, "J. Marlowe", (DeliveryLine(line, 1, to_measure=True),))
    found = OrderRecord(order, deliveries=(came,))
    assert found.lines[0].may_go[Why.SALE_OR_RETURN] == 1
    back = (Return(line, 1, Why.SALE_OR_RETURN, "J. Marlowe", DAY),)
    after = replace(found, returns=back).lines[0]
    assert (after.unproven, after.may_go[Why.SALE_OR_RETURN]) == (0, 0)


judged = st.tuples(st.integers(0, 2), st.integers(0, 2), st.integers(0, 2)).filter(
    lambda figures: sum(figures) <= 2
)
words = st.lists(st.tuples(st.integers(1, 3), st.sampled_from(list(Word))), max_size=3)


@given(st.lists(st.tuples(judged, st.integers(0, 2), st.booleans()), max_size=3), words)
def test_every_piece_that_came_whole_is_just_one_thing(
    parcels: list[tuple[tuple[int, int, int], int, bool]], said: list[tuple[int, Word]]
) -> None:
    """Sound, to be measured, to be measured again or wrong: no piece is lost or counted twice."""
    came = [
        DeliveryLine(LINE, sum(f) + rest, 0, 0, 0, "", (), *f, to_measure=drawn or bool(sum(f)))
        for f, rest, drawn in parcels
    ]
    found = record(*came, settled=tuple(word(choice, at) for at, choice in said))
    (line,) = found.lines
    whole = sum(sum(figures) + rest for figures, rest, _ in parcels)
    assert line.good + line.unmeasured + line.doubtful + line.wrong == whole
    in_hand = sum(piece.quantity for piece in delivered_to([found], JOB))
    waiting = sum(piece.quantity for piece in unproven_for([found], JOB))
    assert (in_hand, in_hand + waiting) == (min(4, line.good), min(4, line.good + line.unproven))
