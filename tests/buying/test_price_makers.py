"""A row with the maker's number beside the supplier's own: never taken for another maker's part."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.price_lists.matching import (
    Key,
    Known,
    Match,
    match,
    numbers_in,
    plain_match,
    unmatched,
)
from tests.buying.test_price_changes import a_row, held, parts

NUT, STUD, CAM = ("hob", "N-1"), ("hob", "A1-100"), ("hob", "E2")
KNOWN = Known(parts={"N1": [NUT], "A1100": [STUD], "E2": [CAM]})


def test_a_makers_number_that_nobody_knows_leaves_the_suppliers_own_a_question() -> None:
    found = match(a_row("N-1", part="A1-10O"), KNOWN)
    assert found.part is None
    assert found.why == "nobody knows its maker's number 'A1-10O'; may be hob:N-1"


def test_a_number_settled_before_needs_no_makers_number() -> None:
    row = a_row("N-1", part="A1-10O")
    assert match(row, Known(decided={"N1": STUD}, parts=KNOWN.parts)).part == STUD
    assert match(row, Known(past={"N1": [STUD]}, parts=KNOWN.parts)).part == STUD


@pytest.mark.parametrize("spelling", ["n1", "N 1", "hob:N-1"])
def test_a_makers_number_that_is_the_suppliers_own_again_is_nobodys(spelling: str) -> None:
    assert match(a_row("N-1", part=spelling), KNOWN).part == NUT
    assert match(a_row("X-9", part="X9"), KNOWN).why == "nobody knows this number"


@pytest.mark.parametrize("written", ["HOB A1-100", "hob a1 100", "Hob: A1-100"])
def test_a_maker_before_his_number_is_read_with_it(written: str) -> None:
    row = a_row("N-1", part=written)
    assert {"A1100"} <= numbers_in([row]) & unmatched([row], Known())
    assert match(row, KNOWN).part == STUD


def test_a_successor_with_its_maker_is_looked_for_though_the_row_is_settled() -> None:
    row = a_row("N-9", part="A1-100", superseded_by="hob:E2")
    assert "E2" in unmatched([row], KNOWN)


def test_a_row_without_the_makers_number_that_others_have_is_a_question() -> None:
    found = match(a_row("N-1", unsaid=True), KNOWN)
    assert found.part is None
    assert found.why == "its maker gives it no number here; may be hob:N-1"
    assert match(a_row("N-1"), KNOWN).part == NUT
    assert match(a_row("N-1", unsaid=True), Known(decided={"N1": STUD})).part == STUD
    assert match(a_row("N-1", unsaid=True), Known(past={"N1": [STUD]}, parts={})).part == STUD
    assert match(a_row("X-9", unsaid=True), KNOWN).why == "nobody knows this number"


_TEXTS = st.sampled_from(["", "N-1", "n1", "A1-100", "hob:N-1", "HOB N1", "E2", "X9", "kes N 1"])
_PARTS = st.lists(st.sampled_from([NUT, STUD, CAM, ("kes", "N.1"), ("kes", "X9")]), max_size=3)


@given(
    _TEXTS, _TEXTS, st.sampled_from(["", "hob", "kes"]), st.booleans(), _PARTS, _PARTS, _PARTS,
    st.sampled_from([{}, {"N1": STUD}, {"N1": None}]),
)  # fmt: skip
def test_what_is_seen_at_once_is_what_is_found_by_looking(
    number: str, part: str, maker: str, unsaid: bool, makers: list[Key], offered: list[Key],
    past: list[Key], decided: dict[str, Key | None],
) -> None:  # fmt: skip
    row = a_row(number, part=part, maker=maker, unsaid=unsaid and not part)
    known = Known(
        decided,
        {row.normal: [held(line, key, 100) for line, key in enumerate(offered)]},
        {row.normal: past},
        parts(*dict.fromkeys(makers)),
    )
    at_once = plain_match(row, known)
    assert at_once is None or match(row, known) == Match(at_once)
