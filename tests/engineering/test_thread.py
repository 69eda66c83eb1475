"""Threads: reading them, their diameters, whether two fit, and the nuts on them."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.engineering.nuts import NutHeight, nut_bands, nut_height
from kitting.engineering.thread import (
    Fits,
    ThreadSpec,
    compare_threads,
    effective_diameter,
    minor_diameter,
    nut_bore,
    threads_fit,
    threads_per_inch,
)
from kitting.engineering.thread_forms import Form, Hand
from kitting.engineering.thread_series import SERIES, standard_threads, threads_of
from kitting.engineering.thread_text import is_standard, parse_thread
from kitting.errors import BadInput
from kitting.measure import parse_quantity as q


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("1/2 x 20 BSF", "1/2 × 20 BSF"),
        ("5/8-20 cycle", "5/8 × 20 BSC"),
        ("M8x1.25", "M8 × 1.25"),
        ("M 8", "M8 × 1.25"),
        ("m10x1.0", "M10 × 1"),
        ("2 BA", "2 BA"),
        ("no. 4 B.A.", "4 BA"),
        ('3/8" BSF', "3/8 × 20 BSF"),
        ("½ whit.", "1/2 × 12 BSW"),
        ("7 / 16 bsf", "7/16 × 18 BSF"),
        ("1-1/8 BSW", "1 1/8 × 7 BSW"),
        ("1⅛ BSW", "1 1/8 × 7 BSW"),
        ("1-8 UNC", "1 × 8 UNC"),
        ("10-32 UNF", "#10 × 32 UNF"),
        ("G 1/4", "1/4 × 19 BSP"),
        ("1/4 brass", "1/4 × 26 brass"),
        ("0.5 in x 26 tpi cycle", "1/2 × 26 BSC"),
        ("LH 9/16 x 20 CEI", "9/16 × 20 BSC left hand"),
        ("3/8 BSF left-hand", "3/8 × 20 BSF left hand"),
        ("M8 right hand", "M8 × 1.25"),
    ],
)
def test_a_thread_is_read_as_the_trade_writes_it(typed: str, name: str) -> None:
    assert parse_thread(typed).name == name


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("", "is no thread"),
        ("hello", "'hello' is no thread"),
        ("left hand", "'left hand' is no thread"),
        ("x" * 80, "is no thread"),
        ("M8 left hand right hand", "of both hands"),
        ("M9", "M9 has no standard pitch"),
        ("27 BA", "there is no 27 BA"),
        ("1/2 BSC", "say 26 or 20 per inch"),
        ("1/2 x 20", "it may be 1/2 × 20 BSC, 1/2 × 20 UNF"),
        ("1/2 blah", "'blah' is no thread series"),
        ("5/32 BSF", "5/32 is no size of BSF"),
        ("1/0 BSF", "has no diameter"),
        ("1/4 x 0 BSF", "0 is not above zero"),
        ("1/4 x 30 BSP", "has not 30 threads"),
        ("M8 x 80", "leaves no core"),
    ],
)
def test_a_thread_that_is_no_thread_is_refused_with_a_sentence(typed: str, sentence: str) -> None:
    with pytest.raises(BadInput, match=sentence):
        parse_thread(typed)


@pytest.mark.parametrize("thread", standard_threads(), ids=lambda thread: thread.name)
def test_every_standard_thread_reads_back_by_its_own_name(thread: ThreadSpec) -> None:
    name = thread.name.replace(" metric", "")
    assert parse_thread(name) == thread
    assert is_standard(thread)
    left = parse_thread(f"{name} left hand")
    assert left == replace(thread, hand=Hand.LEFT)
    assert is_standard(left)


def test_every_series_has_threads_and_a_special_is_told_from_them() -> None:
    assert all(threads_of(series) for series in SERIES)
    assert not is_standard(parse_thread("1/2 x 20 BSF"))


@given(st.sampled_from(standard_threads()))
def test_diameters_step_down_from_crest_to_root(thread: ThreadSpec) -> None:
    assert minor_diameter(thread) <= nut_bore(thread) < effective_diameter(thread) < thread.major


@given(st.sampled_from(standard_threads()), st.sampled_from(standard_threads()))
def test_fitting_is_the_same_either_way_round(one: ThreadSpec, other: ThreadSpec) -> None:
    assert threads_fit(one, other) is threads_fit(other, one)
    there = {difference.what for difference in compare_threads(one, other)}
    assert there == {difference.what for difference in compare_threads(other, one)}
    assert threads_fit(one, one) is Fits.YES


@pytest.mark.parametrize(
    ("one", "other", "what"),
    [
        ("1/4 BSF", "1/4 x 26 cycle", {"form angle"}),
        ("3/8 BSW", "3/8 UNC", {"form angle"}),
        ("M6", "0 BA", {"form angle"}),
        ("1/2 BSF", "1/2 BSF left hand", {"hand"}),
        ("1/2 BSW", "1/2 UNC", {"pitch", "form angle"}),
        ("M8", "M8x1", {"pitch"}),
        ("5/16 BSF", "M8x1", {"diameter", "pitch", "form angle"}),
        ("7/16 x 20 cycle", "7/16 UNF", {"depth of thread"}),
        ("1/4 BSF", "1/4 brass", set()),
    ],
)
def test_what_differs_between_two_threads_is_named(one: str, other: str, what: set[str]) -> None:
    found = compare_threads(parse_thread(one), parse_thread(other))
    assert {difference.what for difference in found} == what


def test_a_difference_reads_as_a_sentence() -> None:
    (angle,) = compare_threads(parse_thread("1/4 BSF"), parse_thread("1/4 x 26 cycle"))
    assert str(angle) == "form angle: 55° (Whitworth) against 60° (cycle)"
    pitch, _ = compare_threads(parse_thread("1/2 BSW"), parse_thread("1/2 UNC"))
    assert str(pitch) == "pitch: 12 threads per inch against 13 threads per inch"


def test_cycle_and_unified_of_one_size_are_doubtful_and_never_called_a_fit() -> None:
    cycle, unified = parse_thread("1/2 x 20 cycle"), parse_thread("1/2 UNF")
    assert threads_fit(cycle, unified) is Fits.DOUBTFUL
    assert threads_fit(cycle, parse_thread("1/2 x 26 cycle")) is Fits.NO


def test_a_thread_by_figures_alone_is_refused_when_it_cannot_be() -> None:
    with pytest.raises(BadInput, match="not above zero"):
        ThreadSpec(Form.METRIC, q("-8 mm"), Fraction(1))
    with pytest.raises(BadInput, match="pitch is not above zero"):
        ThreadSpec(Form.METRIC, q("8 mm"), Fraction(0))
    with pytest.raises(BadInput, match="is no diameter"):
        ThreadSpec(Form.METRIC, q("8 N"), Fraction(1))
    measured = ThreadSpec(Form.WHITWORTH, q("0.6 in"), threads_per_inch(18))
    assert measured.name == "0.6000 in × 18 Whitworth form"


@pytest.mark.parametrize(
    ("thread", "height", "kind"),
    [
        ("3/8 BSF", "0.307 in", NutHeight.REGULAR),
        ("3/8 BSF", "0.255 in", NutHeight.THIN),
        ("3/8 BSF", "0.280 in", NutHeight.NEITHER),
        ("1/4 BSF", "0.190 in", NutHeight.REGULAR),
        ("1/4 BSF", "0.183 in", NutHeight.THIN),
        ("M8", "6.6 mm", NutHeight.REGULAR),
        ("M8x1", "3.8 mm", NutHeight.THIN),
        ("1/2 UNF", "0.310 in", NutHeight.THIN),
        ("5/8 x 20 cycle", "0.55 in", NutHeight.REGULAR),
        ("5/8 x 20 cycle", "0.31 in", NutHeight.THIN),
        ("5/8 x 20 cycle", "0.10 in", NutHeight.NEITHER),
    ],
)
def test_a_nut_is_regular_or_thin_by_its_height(thread: str, height: str, kind: NutHeight) -> None:
    assert nut_height(parse_thread(thread), q(height), q("0 mm")) is kind


def test_a_nut_near_the_edge_of_its_band_is_taken_with_the_uncertainty() -> None:
    m8 = parse_thread("M8")
    assert nut_height(m8, q("6.82 mm"), q("0 mm")) is NutHeight.NEITHER
    assert nut_height(m8, q("6.82 mm"), q("0.03 mm")) is NutHeight.REGULAR
    touching = parse_thread("1/4 BSF")
    assert nut_height(touching, q("0.1895 in"), q("0.01 in")) is NutHeight.REGULAR


def test_a_height_that_is_none_is_refused_and_a_proportion_says_what_it_is() -> None:
    with pytest.raises(BadInput, match="no height of a nut"):
        nut_height(parse_thread("M8"), q("-4 mm"), q("0 mm"))
    assert "no source" in nut_bands(parse_thread("5/8 x 20 cycle")).source
