"""A thread on the bench: what it most likely is, and what it may be mistaken for."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.engineering.thread import ThreadSpec, nut_bore, threads_per_inch
from kitting.engineering.thread_forms import Hand
from kitting.engineering.thread_identify import MeasuredThread, identify_thread, look_alikes
from kitting.engineering.thread_series import standard_threads
from kitting.engineering.thread_text import parse_thread
from kitting.errors import BadInput
from kitting.measure import parse_quantity as q


def names(measured: MeasuredThread) -> list[str]:
    return [guess.thread.name for guess in identify_thread(measured)]


def test_without_a_profile_gauge_the_quarter_inch_26s_cannot_be_told_apart() -> None:
    guesses = identify_thread(MeasuredThread(threads_per_inch(26), q("0.248 in")))
    assert {guess.thread.name for guess in guesses} == {
        "1/4 × 26 BSC",
        "1/4 × 26 BSF",
        "1/4 × 26 brass",
    }
    assert "only a profile gauge" in guesses[0].because
    assert not guesses[0].angle_told


@pytest.mark.parametrize(("angle", "first"), [("55", "1/4 × 26 BSF"), ("60", "1/4 × 26 BSC")])
def test_the_flank_angle_settles_it(angle: str, first: str) -> None:
    measured = MeasuredThread(threads_per_inch(26), q("0.248 in"), angle=Decimal(angle))
    best = identify_thread(measured)[0]
    assert best.thread.name == first
    assert best.angle_told
    assert "profile gauge" not in best.because


@given(st.sampled_from(standard_threads()), st.integers(0, 10))
def test_every_standard_bolt_worn_a_little_is_among_its_own_guesses(
    thread: ThreadSpec, worn: int
) -> None:
    crests = thread.major - thread.pitch * Decimal(worn) * Decimal("0.01")
    found = names(MeasuredThread(thread.pitch_mm, crests, angle=thread.form.angle))
    assert thread.name in found


@given(st.sampled_from(standard_threads()))
def test_every_standard_nut_is_known_by_its_bore(thread: ThreadSpec) -> None:
    found = names(MeasuredThread(thread.pitch_mm, bore=nut_bore(thread), angle=thread.form.angle))
    assert thread.name in found


def test_a_metric_pitch_near_an_inch_one_is_ranked_by_pitch_first() -> None:
    # 1.25 mm is 20.3 threads an inch
    assert names(MeasuredThread(Fraction("1.25"), q("7.9 mm")))[0] == "M8 × 1.25"


def test_the_hand_is_carried_to_the_guess() -> None:
    measured = MeasuredThread(threads_per_inch(20), q("0.56 in"), hand=Hand.LEFT)
    assert names(measured)[0] == "9/16 × 20 BSC left hand"


def test_nothing_near_gives_no_guess() -> None:
    assert names(MeasuredThread(Fraction(3), q("6 mm"))) == []


def test_look_alikes_are_named_with_what_differs() -> None:
    found = {other.name: differs for other, differs in look_alikes(parse_thread("M6"))}
    assert [str(item) for item in found["0 BA"]] == [
        "form angle: 60° (metric) against 47.5° (British Association)"
    ]
    left = look_alikes(parse_thread("1/4 BSF left hand"))
    assert all(other.hand is Hand.LEFT for other, _ in left)
    assert {other.series for other, _ in left} == {"BSC", "brass"}


def test_measurements_that_cannot_be_are_refused() -> None:
    for bad, sentence in (
        ({"pitch_mm": Fraction(1)}, "one diameter is needed"),
        ({"pitch_mm": Fraction(0), "major": q("6 mm")}, "pitch is not above zero"),
        ({"pitch_mm": Fraction(1), "major": q("-6 mm")}, "is no diameter"),
        ({"pitch_mm": Fraction(1), "major": q("6 mm"), "angle": Decimal(5)}, "no thread angle"),
    ):
        with pytest.raises(BadInput, match=sentence):
            MeasuredThread(**bad)
