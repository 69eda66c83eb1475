"""`kitting calc thread`."""

import pytest

from tests.cli.calc_runs import answered, refused, shown


def test_a_thread_has_its_sizes() -> None:
    found = answered("thread", {"thread": "1/2 BSW"})
    assert found["unit"] == "mm"
    assert found["thread"]["threads_per_inch"] == "12"
    inches = answered("thread", {"unit": "in", "thread": "1/2 BSW"})["thread"]
    assert inches["effective"].startswith("0.4466")
    assert inches["minor"].startswith("0.3932")


def test_two_look_alikes_do_not_fit_and_the_reason_is_named() -> None:
    found = answered("thread", {"thread": "1/4 BSF", "against": "1/4 x 26 cycle"})
    assert found["comparison"]["fits"] == "do not fit"
    assert [one["what"] for one in found["comparison"]["differs"]] == ["form angle"]
    assert "1/4 × 26 BSC" in [one["name"] for one in found["look_alikes"]]


def test_a_measured_thread_is_ranked() -> None:
    found = answered(
        "thread", {"measured": {"major": "0.248 in", "threads_per_inch": 26, "angle": 60}}
    )
    assert [one["name"] for one in found["guesses"]] == ["1/4 × 26 BSC"]
    metric = answered("thread", {"measured": {"bore": "6.7 mm", "pitch": "1.25 mm"}})
    assert metric["guesses"][0]["name"] == "M8 × 1.25"


def test_a_nut_is_told_thin_from_regular() -> None:
    found = answered("thread", {"thread": "M8", "nut_height": "3.9 mm"})
    assert found["nut"]["height"] == "thin"


def test_a_left_hand_thread_and_a_special_carry_their_warnings() -> None:
    sheet = shown("thread", "--thread", "1/2 x 20 BSF left hand")
    assert "mark it before anyone reaches for a bar" in " ".join(sheet.split())
    assert "in no standard series" in sheet


def test_the_sheets_of_a_comparison_and_of_a_guess() -> None:
    both = shown("thread", "--thread", "3/8 BSW", "--against", "3/8 UNC", "--nut-height", "0.3 in")
    assert "form angle: 55° (Whitworth) against 60° (unified)" in both
    guess = shown("thread", "--major", "0.56 in", "--tpi", "20", "--left-hand")
    assert "9/16 × 20 BSC left hand" in guess
    assert "measure pitch and diameter again" in shown(
        "thread", "--major", "6 mm", "--pitch", "3 mm"
    )


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ({"thread": "hello"}, "'hello' is no thread"),
        ({"thread": "M8", "against": "M8 x 80"}, "against: a pitch of 80 mm"),
        ({"thread": "1/2 x 20"}, "it may be 1/2 × 20 BSC"),
        ({"against": "M8"}, "there is none to compare with"),
        ({}, "no thread is given"),
        ({"measured": {"major": "6 mm"}}, "one pitch is needed"),
        ({"measured": {"pitch": "1 mm"}}, "one diameter is needed"),
        ({"measured": {"major": "6 mm", "threads_per_inch": 0}}, "not above zero"),
        ({"measured": {"major": "-6 mm", "pitch": "1 mm"}}, "is no diameter"),
        ({"thread": "M8", "nut_height": "-4 mm"}, "is no height"),
    ],
)
def test_a_thread_that_is_none_is_refused(given: object, sentence: str) -> None:
    assert sentence in refused("thread", given)
