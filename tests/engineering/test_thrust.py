"""The thrust washer by table, and where a table does not answer."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.engineering.thrust import (
    WasherRow,
    choose_washer,
    find_gaps,
    find_overlaps,
    thrust_gap,
)
from kitting.errors import BadInput
from kitting.measure import Quantity


def inch(text: str) -> Quantity:
    return Quantity.of(text, "in")


ROWS = (
    WasherRow("standard", high=inch("0.016"), high_itself=False),
    WasherRow("+0.005", inch("0.017"), inch("0.026")),
    WasherRow("+0.010", inch("0.027"), inch("0.036")),
    WasherRow("another crank", low=inch("0.036"), low_itself=False),
)
STEP = inch("0.001")
figures = st.integers(0, 500).map(lambda n: Quantity.of(Decimal(n).scaleb(-4), "in"))


@pytest.mark.parametrize(
    ("value", "row"),
    [("0.0159", "standard"), ("0.017", "+0.005"), ("0.036", "+0.010"), ("0.0361", "another crank")],
)
def test_the_row_is_the_one_that_holds_the_figure(value: str, row: str) -> None:
    chosen = choose_washer(inch(value), ROWS).row
    assert chosen is not None
    assert chosen.name == row


def test_a_figure_in_a_gap_gets_no_row_and_the_gap_is_said() -> None:
    choice = choose_washer(inch("0.016"), ROWS, step=STEP)
    assert choice.row is None
    assert "open from 0.0160 in to 0.0170 in, between 'standard' and '+0.005'" in choice.because


def test_gaps_between_printed_steps_are_told_from_real_ones() -> None:
    assert [(str(gap.low), gap.on_step) for gap in find_gaps(ROWS, STEP)] == [
        ("0.0160 in", True),
        ("0.0260 in", False),
    ]


def test_a_gap_begins_at_the_first_step_past_the_row_before() -> None:
    rows = (WasherRow("thin", high=inch("0.026")), WasherRow("thick", low=inch("0.028")))
    assert [gap.on_step for gap in find_gaps(rows, STEP)] == [True]


def test_rows_of_which_one_leaves_the_edge_out_neither_gap_nor_overlap() -> None:
    rows = (
        WasherRow("thin", high=inch("0.020")),
        WasherRow("thick", low=inch("0.020"), low_itself=False),
    )
    assert not find_gaps(rows)
    assert not find_overlaps(rows)


@given(figures)
def test_every_figure_has_one_row_or_lies_in_a_gap(value: Quantity) -> None:
    choice = choose_washer(value, ROWS, step=STEP)
    in_gap = any(value in gap for gap in choice.gaps)
    assert (choice.row is None) == in_gap
    assert choice.row is None or value in choice.row


def test_rows_that_both_answer_are_a_contradiction() -> None:
    rows = (WasherRow("thin", high=inch("0.020")), WasherRow("thick", low=inch("0.020")))
    assert find_overlaps(rows) == ("'thin' and 'thick' both answer at 0.0200 in",)
    choice = choose_washer(inch("0.020"), rows)
    assert choice.row is None
    assert "contradicts itself" in choice.because
    assert not find_gaps(rows)


def test_a_figure_near_an_edge_names_both_rows_within_its_uncertainty() -> None:
    choice = choose_washer(inch("0.0358"), ROWS, uncertainty=inch("0.0005"))
    assert choice.could_be == ("+0.010", "another crank")
    assert not choose_washer(inch("0.030"), ROWS, uncertainty=inch("0.0005")).could_be


def test_a_figure_beyond_a_closed_table_is_outside_it() -> None:
    choice = choose_washer(inch("0.050"), ROWS[:3])
    assert choice.row is None
    assert "outside the table" in choice.because


def test_the_figure_is_end_play_less_what_the_washers_leave() -> None:
    washers = [inch("0.1205"), inch("0.1200")]
    assert thrust_gap(inch("0.020"), inch("0.244"), washers) == inch("0.0165")
    assert thrust_gap(inch("0.020"), inch("0.010"), []) == inch("0.010")


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ((), "the table is empty"),
        ((ROWS[1], ROWS[0]), "an end inside the table is open"),
        ((ROWS[2], ROWS[1]), "do not rise"),
    ],
)
def test_tables_that_are_none_are_refused(rows: tuple[WasherRow, ...], said: str) -> None:
    with pytest.raises(BadInput, match=said):
        choose_washer(inch("0.02"), rows)


def test_a_row_the_wrong_way_round_and_a_step_of_nothing_are_refused() -> None:
    with pytest.raises(BadInput, match="the wrong way round"):
        WasherRow("x", inch("0.03"), inch("0.02"))
    with pytest.raises(BadInput, match="not above zero"):
        find_gaps(ROWS, inch("0"))
