"""Rolling bearings: what a number means, and how one differs from another."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.engineering.rolling import (
    RollingBearing,
    compare_bearings,
    internal_clearance,
    nearest_bearings,
    parse_bearing,
    standard_bearings,
)
from kitting.engineering.sizes import all_same
from kitting.errors import BadInput
from kitting.measure import Limits
from kitting.measure import parse_quantity as q


@pytest.mark.parametrize(
    ("typed", "kind", "clearance", "closure"),
    [
        ("6205", "deep groove ball", "CN", "open"),
        ("6205-2RS C3", "deep groove ball", "C3", "sealed"),
        ("6205 ZZ/C3", "deep groove ball", "C3", "shielded"),
        ("6205/C4", "deep groove ball", "C4", "open"),
        ("nu205 ecp c3", "cylindrical roller", "C3", "open"),
        ("7205 B", "angular contact ball", "CN", "open"),
        ("1205", "self-aligning ball", "CN", "open"),
    ],
)
def test_a_designation_says_kind_class_and_closure(
    typed: str, kind: str, clearance: str, closure: str
) -> None:
    found = parse_bearing(typed)
    assert (found.kind, found.clearance_class, found.closure) == (kind, clearance, closure)
    assert (found.bore, found.outside, found.width) == (q("25 mm"), q("52 mm"), q("15 mm"))


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("hello", "is no designation here"),
        ("", "is no designation here"),
        ("30205", "taper roller"),
        ("9905", "in no series known"),
        ("6299", "the tables have no"),
        ("628/4-2Z", "in no series known"),
        ("62/25", "the tables have no"),
    ],
)
def test_a_designation_that_is_none_is_refused(typed: str, sentence: str) -> None:
    with pytest.raises(BadInput, match=sentence):
        parse_bearing(typed)


def test_what_differs_between_two_bearings_is_named() -> None:
    sizes, others = compare_bearings(parse_bearing("6305 C3"), parse_bearing("NU 205"))
    assert [str(one) for one in sizes] == [
        "bore the same",
        "outside larger by 10.000 mm",
        "width larger by 2.000 mm",
    ]
    assert [one.what for one in others] == ["kind", "ribs", "internal clearance"]
    same, none = compare_bearings(parse_bearing("6205-2RS"), parse_bearing("6205 2RS1"))
    assert all_same(same)
    assert none == ()


@given(st.sampled_from(standard_bearings()))
def test_a_measured_bearing_leads_back_to_its_number(bearing: RollingBearing) -> None:
    near = nearest_bearings(bearing.bore, bearing.outside, bearing.width, at_most=8)
    same = [one.bearing.designation for one in near if one.same_size]
    assert bearing.designation in same
    assert parse_bearing(bearing.designation) == bearing


@given(st.sampled_from([one for one in standard_bearings() if one.kind.startswith("deep")]))
def test_clearance_classes_step_up(bearing: RollingBearing) -> None:
    bands = [internal_clearance(bearing, name) for name in ("C2", "CN", "C3", "C4", "C5")]
    for tighter, looser in pairwise(bands):
        assert tighter.low is not None
        assert looser.low is not None
        assert tighter.high is not None
        assert looser.high is not None
        assert tighter.low <= looser.low
        assert tighter.high < looser.high


def test_the_class_in_the_number_is_the_one_looked_up() -> None:
    assert internal_clearance(parse_bearing("6206 C3")) == Limits(q("13 µm"), q("28 µm"))


def test_clearances_that_are_not_kept_are_refused() -> None:
    with pytest.raises(BadInput, match="no clearance class"):
        internal_clearance(parse_bearing("6205"), "C9")
    with pytest.raises(BadInput, match="ask its maker"):
        internal_clearance(parse_bearing("7205"))


def test_sizes_that_are_no_bearing_are_refused() -> None:
    with pytest.raises(BadInput, match="is no size"):
        nearest_bearings(q("-25 mm"), q("52 mm"), q("15 mm"))
    with pytest.raises(BadInput, match="not larger than the bore"):
        nearest_bearings(q("52 mm"), q("25 mm"), q("15 mm"))
