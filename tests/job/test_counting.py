"""Pieces of another part counted in a kit line's own: halves for pairs, boxes for bolts, a bush
with its peg."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from kitting.catalog.model import PartNumber
from kitting.job.counting import Lot, Made, StandsFor, left_of, lots_of_way
from kitting.job.kit import KitLine
from tests.builders import number

PAIR, HALF, BOX = number("hob:W1"), number("hob:W1H"), number("hob:W1B")
BUSH, PEG = number("hob:W2"), number("hob:W3")


def a_line(quantity: int, **counts: int) -> KitLine:
    """A line of pairs; `counts` are how many of another number the whole line takes."""
    others = {"half": HALF, "box": BOX}
    return KitLine(
        key="1.01",
        stage="1 top end",
        positions=("collets",),
        named=PAIR,
        part=PAIR,
        name="collets, pair",
        quantity=quantity,
        grade="",
        needed=(),
        chosen=(),
        serves=frozenset({PAIR, *(others[name] for name in counts)}),
        counts=tuple((others[name], count) for name, count in counts.items()),
    )


def test_eight_halves_are_four_pairs_and_a_half_alone_is_none() -> None:
    line = a_line(4, half=8)
    assert [Made(line, [Lot(HALF, n)]).whole for n in (0, 1, 2, 7, 8)] == [0, 0, 1, 3, 4]
    one = Made(line, [Lot(HALF, 1)])
    assert one.loose == ((HALF, 1),)
    assert (one.missing, one.wanted(Lot(HALF, 0)), one.wanted(Lot(PAIR, 0))) == (4, 7, 4)


def test_halves_of_two_parcels_are_put_together_before_they_are_counted() -> None:
    line = a_line(4, half=8)
    assert Made(line, [Lot(HALF, 1), Lot(HALF, 1)]).whole == 1
    assert Made(line, [Lot(HALF, 1), Lot(PAIR, 3)]).whole == 3


def test_a_box_of_six_is_six_bolts() -> None:
    line = a_line(6, box=1)
    assert Made(line, [Lot(BOX, 1)]).missing == 0
    assert Made(line, [Lot(PAIR, 2)]).wanted(Lot(BOX, 0)) == 1


def test_a_bush_that_needs_its_peg_is_none_without_it() -> None:
    line = a_line(2)
    bush, peg = (replace(lot, pieces=2) for lot in lots_of_way(PAIR, ((BUSH, 2), (PEG, 4)), 2))
    assert Made(line, [bush]).whole == 0
    alone = Made(line, [bush])
    assert (alone.wanted(replace(peg, pieces=0)), alone.wanted(replace(bush, pieces=0))) == (4, 0)
    assert Made(line, [bush, peg]).whole == 1
    assert Made(line, [bush, replace(peg, pieces=4)]).missing == 0


def test_what_was_bought_for_a_number_counts_for_the_number_that_follows_it() -> None:
    """Four pairs were ordered; now the kit asks for eight halves."""
    line = replace(a_line(8), part=HALF, serves=frozenset({PAIR, HALF}), counts=((PAIR, 4),))
    assert Made(line, [Lot(PAIR, 3, StandsFor(PAIR))]).whole == 6
    with_work = Lot(BUSH, 1, StandsFor(PAIR, 1, 1, (str(BUSH),)))
    assert Made(line, [Lot(PAIR, 3), with_work]).missing == 0


def test_what_a_line_does_not_need_is_left_to_the_next() -> None:
    line = a_line(2, half=4)
    assert left_of(line, [Lot(HALF, 3), Lot(HALF, 3)]) == (0, 2)
    assert left_of(line, [Lot(HALF, 3)]) == (0,)
    assert left_of(line, [Lot(BUSH, 5), Lot(PAIR, 3)]) == (5, 1)


RECIPES = st.lists(
    st.tuples(st.sampled_from((PAIR, HALF, BOX, BUSH, PEG)), st.integers(1, 12)),
    min_size=1,
    max_size=3,
    unique_by=lambda recipe: recipe[0],
)


@given(
    quantity=st.integers(1, 9),
    recipes=st.lists(RECIPES, min_size=1, max_size=5),
    luck=st.data(),
)
def test_however_little_comes_and_however_it_is_planned_anew_the_need_is_met_to_the_piece(
    quantity: int, recipes: list[list[tuple[PartNumber, int]]], luck: st.DataObject
) -> None:
    """Each plan takes another way, after some of the last one's pieces never came."""
    line = a_line(quantity, half=2 * quantity, box=-(-quantity // 6))
    there: list[Lot] = []
    for recipe in recipes:
        before = Made(line, there)
        way = lots_of_way(PAIR, tuple(recipe), quantity)
        planned = [replace(lot, pieces=before.wanted(lot)) for lot in way]
        assert Made(line, [*there, *planned]).missing == 0
        for lot in planned:
            fewer = [replace(x, pieces=x.pieces - (x is lot)) for x in planned]
            assert not lot.pieces or Made(line, [*there, *fewer]).missing > 0
        there += [
            replace(lot, pieces=luck.draw(st.integers(0, lot.pieces), label=str(lot.part)))
            for lot in planned
        ]
        made = Made(line, there)
        assert made.missing == max(0, quantity - made.whole)


@given(
    quantity=st.integers(1, 9),
    lots=st.lists(
        st.builds(Lot, st.sampled_from((PAIR, HALF, BOX, BUSH)), st.integers(0, 30)), max_size=6
    ),
)
def test_a_line_keeps_what_makes_it_whole_and_not_a_piece_more(
    quantity: int, lots: list[Lot]
) -> None:
    line = a_line(quantity, half=2 * quantity, box=-(-quantity // 6))
    left = left_of(line, lots)
    kept = [replace(lot, pieces=lot.pieces - over) for lot, over in zip(lots, left, strict=True)]
    assert all(0 <= over <= lot.pieces for lot, over in zip(lots, left, strict=True))
    assert Made(line, kept).missing == Made(line, lots).missing
    if not Made(line, lots).missing:
        for at, lot in enumerate(kept):
            fewer = [*kept[:at], replace(lot, pieces=lot.pieces - 1), *kept[at + 1 :]]
            assert not lot.pieces or Made(line, fewer).missing > 0
