"""Seals and O-rings: the same, larger or smaller, and the nearest standard one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.engineering.o_rings import (
    ORing,
    compare_o_rings,
    nearest_o_rings,
    parse_o_ring,
    standard_o_rings,
)
from kitting.engineering.seal import (
    SealSize,
    compare_seals,
    nearest_seals,
    parse_seal,
    seats,
    standard_seals,
)
from kitting.engineering.sizes import Size, all_same
from kitting.errors import BadInput
from kitting.measure import parse_quantity as q
from kitting.measure import unit_named


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("30x47x7", "30 × 47 × 7 mm"),
        ("30 × 47 × 7 mm", "30 × 47 × 7 mm"),
        ("30-47-7", "30 × 47 × 7 mm"),
        ("1.250 x 2.000 x 0.375 in", "1.25 × 2 × 0.375 in"),
        ('1 1/4 x 2 x 3/8"', "1.25 × 2 × 0.375 in"),
    ],
)
def test_a_seal_is_read_as_shaft_housing_width(typed: str, said: str) -> None:
    assert str(parse_seal(typed)) == said


def test_the_bare_unit_of_a_seal_may_be_told() -> None:
    assert parse_seal("1.25x2x.375", unit_named("in")) == parse_seal("31.75x50.8x9.525")


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("30x47", "not three sizes"),
        ("seal", "not three sizes"),
        ("47x30x7", "does not go round a shaft"),
        ("0x47x7", "is no size"),
        ("axbxc", "is not a figure"),
    ],
)
def test_a_seal_that_cannot_be_is_refused(typed: str, sentence: str) -> None:
    with pytest.raises(BadInput, match=sentence):
        parse_seal(typed)


def test_which_dimension_differs_and_which_way_is_named() -> None:
    found = compare_seals(parse_seal("30x52x7"), parse_seal("30x47x8"))
    assert [one.size for one in found] == [Size.SAME, Size.LARGER, Size.SMALLER]
    assert str(found[1]) == "housing larger by 5.000 mm"
    assert not all_same(found)


def test_an_inch_seal_of_the_same_size_is_the_same() -> None:
    found = compare_seals(parse_seal("1.1811 x 1.8504 x 0.2756 in"), parse_seal("30x47x7"))
    assert all_same(found)


@given(st.sampled_from(standard_seals()))
def test_a_standard_seal_is_its_own_nearest(seal: SealSize) -> None:
    best = nearest_seals(seal)[0]
    assert best.seal == seal
    assert best.same_size


def test_the_nearest_to_an_odd_size_keeps_the_shaft_first() -> None:
    near = nearest_seals(parse_seal("30x48x7"))
    assert str(near[0].seal) == "30 × 47 × 7 mm"
    assert not near[0].same_size


def test_the_seats_of_a_seal_are_h11_and_h8() -> None:
    shaft, housing = seats(parse_seal("30x47x7"))
    assert (shaft.low, shaft.high) == (q("29.870 mm"), q("30 mm"))
    assert (housing.low, housing.high) == (q("47 mm"), q("47.039 mm"))


@pytest.mark.parametrize("typed", ["214", "-214", "AS568-214", "as 568 - 214", "0.984 x 0.139 in"])
def test_an_o_ring_is_read_by_number_or_size(typed: str) -> None:
    ring = parse_o_ring(typed)
    assert (ring.inside, ring.section) == (q("0.984 in"), q("0.139 in"))


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("300", "no O-ring '300'; did you mean 309"),
        ("round", "is no O-ring"),
        ("-1 x 2", "is no size"),
        ("0 x 2 mm", "is no size"),
    ],
)
def test_an_o_ring_that_is_none_is_refused(typed: str, sentence: str) -> None:
    with pytest.raises(BadInput, match=sentence):
        parse_o_ring(typed)


@given(st.sampled_from(standard_o_rings()))
def test_a_standard_o_ring_is_found_from_its_millimetres(ring: ORing) -> None:
    inside, section = ring.millimetres
    near = nearest_o_rings(ORing(q(f"{inside} mm"), q(f"{section} mm")))
    assert near[0] == ring


def test_o_rings_are_compared_by_inside_and_section() -> None:
    found = compare_o_rings(parse_o_ring("214"), parse_o_ring("120"))
    assert [one.size for one in found] == [Size.SAME, Size.LARGER]
