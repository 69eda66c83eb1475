"""The form of a journal or bore from its readings."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.errors import BadInput
from kitting.measure import Quantity, parse_quantity
from kitting.measure.journal import LOBES_UNSEEN, Shape, StationReading, measure_form

tenths = st.integers(17000, 17100).map(lambda n: Quantity.of(Decimal(n).scaleb(-4), "in"))
readings_round = st.lists(
    st.tuples(st.sampled_from("ABCD"), st.sampled_from(["0", "60", "120"]), tenths),
    min_size=2,
    max_size=20,
)


def readings(text: str) -> list[StationReading]:
    """`A 0 1.7500, A 90 1.7495` as readings, in inches where no unit is written."""
    found = []
    for part in text.split(","):
        station, direction, value = part.split(maxsplit=2)
        unit = None if value.strip()[-1].isalpha() else "in"
        typed = value if unit is None else f"{value} in"
        found.append(StationReading(station, direction, parse_quantity(typed)))
    return found


def inch(text: str) -> Quantity:
    return Quantity.of(text, "in")


def test_ovality_is_round_one_station_and_taper_along_one_direction() -> None:
    form = measure_form(readings("A 0 1.7500, A 90 1.7493, B 0 1.7498, B 90 1.7496"))
    assert form.ovality == inch("0.0007")
    assert form.oval_station == "A"
    assert form.taper == inch("0.0003")
    assert form.taper_direction == "90"
    assert (form.least_at.station, form.least_at.direction) == ("A", "90")
    assert (form.greatest_at.station, form.greatest_at.direction) == ("A", "0")


def test_a_difference_across_stations_and_directions_is_neither_ovality_nor_taper() -> None:
    form = measure_form(readings("A 0 1.7500, B 90 1.7400"))
    assert not form.ovality
    assert not form.taper
    assert any("ovality is not known" in note for note in form.notes)
    assert any("taper is not known" in note for note in form.notes)


@pytest.mark.parametrize(
    ("along", "shape"),
    [
        ("A 0 1.7495, B 0 1.7500, C 0 1.7496", Shape.BARREL),
        ("A 0 1.7500, B 0 1.7494, C 0 1.7499", Shape.HOURGLASS),
        ("A 0 1.7500, B 0 1.7498, C 0 1.7496", Shape.TAPERED),
        ("A 0 1.7500, B 0 1.7500, C 0 1.7500", Shape.EVEN),
        ("A 0 1.7500, A 90 1.7498", Shape.UNKNOWN),
    ],
)
def test_the_shape_along_the_journal_is_named(along: str, shape: Shape) -> None:
    assert measure_form(readings(along)).shape is shape


def test_a_bulge_within_the_uncertainty_is_no_barrel() -> None:
    taken = readings("A 0 1.7499, B 0 1.7500, C 0 1.7499")
    assert measure_form(taken).shape is Shape.BARREL
    assert measure_form(taken, inch("0.0001")).shape is Shape.EVEN


def test_two_point_readings_always_warn_of_lobes_they_cannot_see() -> None:
    assert LOBES_UNSEEN in measure_form(readings("A 0 1.75, A 90 1.75")).notes


@given(readings_round)
def test_form_agrees_with_counting_every_pair(taken: list[tuple[str, str, Quantity]]) -> None:
    form = measure_form(StationReading(*one) for one in taken)
    pairs = [(one, other) for one in taken for other in taken]
    ovality = max((a[2] - b[2]).base for a, b in pairs if a[0] == b[0])
    taper = max((a[2] - b[2]).base for a, b in pairs if a[1] == b[1])
    assert (form.ovality.base, form.taper.base) == (ovality, taper)
    assert form.greatest - form.least >= max(form.ovality, form.taper)
    assert form.least <= form.mean <= form.greatest


@given(readings_round)
def test_form_is_the_same_in_millimetres(taken: list[tuple[str, str, Quantity]]) -> None:
    in_inches = measure_form(StationReading(*one) for one in taken)
    in_mm = measure_form(StationReading(s, d, value.to("mm")) for s, d, value in taken)
    for name in ("least", "greatest", "mean", "ovality", "taper", "shape"):
        assert getattr(in_inches, name) == getattr(in_mm, name)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("A 0 1.75", "one reading only"),
        ("A 0 -1.75, A 90 1.75", "without a minus sign"),
        ("A 0 42.85 mm, A 90 42.84 mm, B 0 1.6 mm", "stands far from the other readings"),
        ("A 0 42.85 mm, A 90 42.84 mm, B 0 42.8 in", "in one unit"),
    ],
)
def test_readings_that_tell_nothing_are_refused_in_words(text: str, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        measure_form(readings(text))


def test_no_reading_is_refused() -> None:
    with pytest.raises(BadInput, match="there is no reading"):
        measure_form([])
