"""Two parts beside each other: threads as threads, seals, rings and bearings by their own sums."""

from collections.abc import Mapping

import pytest

from kitting.catalog.comparing import Compared, compare_parts
from tests.builders import a_part


def compared(kind: str, left: Mapping[str, str], right: Mapping[str, str]) -> Compared:
    return compare_parts(a_part("hob:N1", kind, left), a_part("hob:N2", kind, right))


def meanings(found: Compared) -> dict[str, tuple[str, ...]]:
    return {line.name: line.means for line in found.differs}


def test_cycle_and_unified_threads_of_one_diameter_differ_in_pitch_and_depth_and_do_not_fit() -> (
    None
):
    found = compared("nut", {"thread": "1/4 x 26 cycle"}, {"thread": "1/4 x 28 UNF"})
    assert meanings(found)["thread"] == (
        "pitch: 26 threads per inch against 28 threads per inch",
        "depth of thread: cycle against unified",
        "they do not fit",
    )


def test_one_thread_by_two_names_is_the_same() -> None:
    found = compared("nut", {"thread": "1/2 x 20 cycle"}, {"thread": '1/2" x 20 CEI'})
    assert found.differs == ()


def test_figures_in_two_units_are_the_same_size_or_say_by_how_much() -> None:
    found = compared("nut", {"height": "0.250 in"}, {"height": "6.35 mm"})
    assert found.differs == ()
    found = compared("nut", {"height": "0.312 in"}, {"height": "0.250 in"})
    assert meanings(found) == {"height": ("the second: smaller by 0.0620 in",)}


def test_a_seal_is_compared_by_shaft_housing_and_width() -> None:
    one = {"shaft": "30 mm", "housing": "47 mm", "width": "7 mm"}
    found = compared("seal", one, {**one, "housing": "52 mm", "lips": "2"})
    assert meanings(found) == {
        "housing": ("the second: housing larger by 5.000 mm",),
        "lips": ("only hob:N2 states it",),
    }


def test_o_rings_within_what_their_sections_vary_by_are_the_same() -> None:
    found = compared(
        "o-ring",
        {"inside": "24.99 mm", "section": "3.53 mm"},
        {"inside": "25.0 mm", "section": "3.5 mm"},
    )
    assert found.differs == ()
    assert found.same_size
    found = compared(
        "o-ring",
        {"inside": "24.99 mm", "section": "3.53 mm"},
        {"inside": "25.07 mm", "section": "2.62 mm"},
    )
    assert list(meanings(found)) == ["section"]


@pytest.mark.parametrize(
    ("left", "right", "means"),
    [
        (("6304", "CN"), ("6304", "C3"), ("internal clearance: CN against C3",)),
        (("NU 306", "C3"), ("NUP 306", "C3"), ("ribs: NU against NUP",)),
        (("6208", "CN"), ("6208-2Z", "CN"), ("closure: open against shielded",)),
        (
            ("6205", "CN"),
            ("6206", "CN"),
            (
                "the second: bore larger by 5.000 mm",
                "the second: outside larger by 10.000 mm",
                "the second: width larger by 1.000 mm",
            ),
        ),
    ],
)
def test_rolling_bearings_are_compared_by_what_their_designations_mean(
    left: tuple[str, str], right: tuple[str, str], means: tuple[str, ...]
) -> None:
    names = ("designation", "clearance")
    found = compared(
        "ball bearing", dict(zip(names, left, strict=True)), dict(zip(names, right, strict=True))
    )
    told = {each for line in found.lines for each in line.means}
    assert set(means) <= told


def test_one_bearing_by_two_designations_is_the_same() -> None:
    found = compared("ball bearing", {"designation": "6208"}, {"designation": "6208 CN"})
    assert found.differs == ()


def test_words_that_are_no_figures_differ_without_an_amount() -> None:
    found = compared("gasket", {"material": "paper"}, {"material": "copper"})
    assert meanings(found) == {"material": ()}
    assert not found.same_size
