"""Keys for numbers nearly the same: none that is within the edits is missed."""

import string

from hypothesis import example, given, settings
from hypothesis import strategies as st
from rapidfuzz.distance import OSA

from kitting.store.number_index import AFTER, one_edit, two_edits

_MARKS = string.digits + string.ascii_uppercase
_NUMBERS = st.text(_MARKS, min_size=3, max_size=14)


@st.composite
def a_slip(draw: st.DrawFn, number: str) -> str:
    """A number after one slip of the finger."""
    at = draw(st.integers(0, len(number) - 1))
    mark = draw(st.sampled_from(_MARKS))
    start, end = number[:at], number[at:]
    choices = [start + mark + end[1:], start + end[1:], start + mark + end, number + mark]
    if len(end) > 1:
        choices.append(start + end[1] + end[0] + end[2:])
    return draw(st.sampled_from(choices))


@st.composite
def slips(draw: st.DrawFn, count: int) -> tuple[str, str]:
    right = draw(_NUMBERS)
    typed = right
    for _ in range(count):
        typed = draw(a_slip(typed)) or right
    return typed, right


@settings(max_examples=400, deadline=None)
@given(slips(1))
def test_every_number_one_slip_away_is_a_key(pair: tuple[str, str]) -> None:
    typed, right = pair
    keys = one_edit(typed)
    assert typed == right or right in keys
    assert typed not in keys
    assert len(keys) == len(set(keys))


@given(_NUMBERS)
def test_every_key_is_one_edit_away(typed: str) -> None:
    assert {OSA.distance(typed, key) for key in one_edit(typed)} == {1}


@settings(max_examples=600, deadline=None)
@given(slips(2))
@example(("ABCDEFGH", "ABDCFEGH"))
@example(("ABCDEFGH", "BACDEFHG"))
@example(("ABCDEFGHI", "ABCEDFHGI"))
def test_a_number_two_slips_away_begins_or_ends_as_one_of_the_ranges(
    pair: tuple[str, str],
) -> None:
    typed, right = pair
    if OSA.distance(typed, right) > 2 or len(typed) < 7:
        return
    starts, end = two_edits(typed)
    turned = right[::-1]
    assert any(start <= right < start + AFTER for start in starts) or (end <= turned < end + AFTER)


@given(_NUMBERS)
def test_no_range_lies_within_another(typed: str) -> None:
    starts, _ = two_edits(typed)
    assert not any(one != other and one.startswith(other) for one in starts for other in starts)
