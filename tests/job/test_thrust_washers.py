"""Thrust washers chosen by the float: by the family's own rows, gaps never guessed at."""

from dataclasses import replace
from datetime import date
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.catalog.family import Family
from kitting.catalog.files import read_family
from kitting.catalog.rules import Then, When
from kitting.catalog.shipped import shipped_folder
from kitting.engineering.thrust import choose_washer, in_order, row_said, standard_row
from kitting.job.findings import Finding
from kitting.job.path import JobPath, walk
from kitting.job.thrust_washers import ThrustWasher
from tests.builders import a_consequence, a_feature, a_fit, a_part, a_position, an_offer, q
from tests.job.benches import a_bench, a_finding
from tests.job.fitting_bench import one, sizes
from tests.wren import tiny_family, tiny_trade

# As TM 5-4210-233-14&P-2, p. 6-152, has it: the rows leave .016 to .017 open.
ROWS = {
    "hob:T0": ("0.1205 in", "up to 0.016 in"),
    "hob:T5": ("0.1255 in", "0.017 to 0.026 in"),
    "hob:T10": ("0.1305 in", "0.027 to 0.036 in"),
}


@cache
def tarnwick() -> Family:
    return read_family(shipped_folder() / "tarnwick-s45")


def family_with(rows: dict[str, tuple[str, str]] = ROWS) -> Family:
    family = tiny_family()
    parts = tuple(
        a_part(number, "thrust washer", {"thickness": thick, "for float": serves})
        for number, (thick, serves) in rows.items()
    )
    return replace(
        family,
        positions=(*family.positions, a_position("washer", "bottom-end", "thrust washer")),
        features=(
            *family.features,
            a_feature("play", "washer", "end float", ("0.002", "0.009")),
            a_feature("washer-in", "washer", "thickness", goes_with="play"),
        ),
        consequences=(
            *family.consequences,
            a_consequence("apart", When.STRIPPED, "assembly:bottom-end", Then.RENEW, "washer"),
        ),
        parts=(*family.parts, *parts),
        fits=(*family.fits, *(a_fit("washer", number) for number in rows)),
    )


def washer(play: str = "", in_place: str = "", family: Family | None = None) -> ThrustWasher:
    return sizes(*found(play, in_place), family=family or family_with()).washers[0]


def found(play: str, in_place: str = "") -> tuple[Finding, ...]:
    readings = (
        *((one("play", play),) if play else ()),
        *((one("washer-in", in_place),) if in_place else ()),
    )
    return (a_finding("washer", *readings),) if readings else ()


@pytest.mark.parametrize(
    ("play", "part"), [("0.008", "T0"), ("0.016", "T0"), ("0.020", "T5"), ("0.036", "T10")]
)
def test_the_row_of_the_float_names_the_washer(play: str, part: str) -> None:
    chosen = washer(play).part
    assert chosen is not None
    assert chosen.number == part


@pytest.mark.parametrize("play", ["0.0165", "0.040"])
def test_a_float_that_no_row_answers_for_gets_no_washer(play: str) -> None:
    open_one = washer(play)
    assert open_one.part is None
    assert "table" in open_one.because.says


def test_a_worn_washer_is_taken_out_of_the_float() -> None:
    """.024 on a washer of .1155 is .019 on a standard one of .1205."""
    chosen = washer("0.024", "0.1155")
    assert chosen.value == one("play", "0.019").value
    assert chosen.part is not None
    assert chosen.part.number == "T5"


def test_near_the_edge_of_a_row_what_else_it_could_be_is_named() -> None:
    """Read to ± .0001, .01605 may be a .016."""
    assert "within U it could be hob:T0" in washer("0.01605").because.says


OPEN_BELOW = {
    "hob:T0": ("0.1205 in", "over 0.006 to 0.016 in"),
    "hob:T5": ("0.1255 in", "over 0.016 to 0.026 in"),
}


@pytest.mark.parametrize(("play", "part"), [("0.016", "T0"), ("0.0161", "T5"), ("0.026", "T5")])
def test_rows_that_begin_over_a_figure_leave_no_gap_and_do_not_overlap(
    play: str, part: str
) -> None:
    chosen = washer(play, family=family_with(OPEN_BELOW)).part
    assert chosen is not None
    assert chosen.number == part


def test_the_figure_that_the_lowest_row_begins_over_is_in_no_row() -> None:
    assert washer("0.006", family=family_with(OPEN_BELOW)).part is None


@pytest.mark.parametrize("said", ["about so much", "0.010 in", "up to 0.010 to 0.016 in"])
def test_a_range_that_is_none_is_said_and_nothing_is_chosen(said: str) -> None:
    bad = washer("0.008", family=family_with(ROWS | {"hob:T5": ("0.1255 in", said)}))
    assert bad.part is None
    assert "is no range of float" in bad.because.says


def a_path(*findings: Finding) -> JobPath:
    trade = tiny_trade()
    # The wrong washers are far cheaper.
    offers = tuple(
        an_offer("ashby", number, price)
        for number, price in zip(ROWS, ("1.00", "9.00", "1.10"), strict=True)
    )
    wider = replace(trade, offers=(*trade.offers, *offers))
    return walk(family_with(), wider, a_bench(*findings), date(2024, 5, 2))


def test_the_kit_buys_the_washer_that_the_float_chose_not_the_cheapest() -> None:
    path = a_path(*found("0.020"))
    line = next(line for line in path.kit.lines if "washer" in line.positions)
    assert str(line.part) == "hob:T5"
    assert line.serves == {line.part}


def test_with_no_float_measured_the_job_is_not_ready() -> None:
    path = a_path()
    assert any(
        "which washer follows from the end float" in point.because.says
        for point in path.kit.readiness.points
    )


def test_a_washer_that_nothing_is_said_of_and_that_nobody_renews_is_left_out() -> None:
    family = replace(family_with(), consequences=tiny_family().consequences)
    assert sizes(family=family).washers == ()


@settings(deadline=None)  # the first of them reads the family
@given(hundredths=st.integers(8, 57), off=st.sampled_from((-1, 0, 1)))
def test_every_ring_of_the_tarnwick_brings_its_float_inside_the_drawing(
    hundredths: int, off: int
) -> None:
    """Whichever ring the float chooses, at either end of what its maker allows."""
    family = tarnwick()
    parts = [family.part_by_number[fit.part] for fit in family.fits_of["thrust-ring"]]
    rows = in_order(row_said(str(part.number), part.attributes["for float"]) for part in parts)
    on_standard = q(f"{hundredths / 100:.2f} mm")
    row = choose_washer(on_standard, rows).row
    assert row is not None
    ring = next(part for part in parts if str(part.number) == row.name)
    nominal, standard = (q(each.attributes["thickness"]) for each in (ring, parts[0]))
    leaves = on_standard - (nominal - standard) + q(ring.attributes["within"]) * off
    drawing = family.feature_by_key["shaft-end-float"]
    assert drawing.low is not None
    assert drawing.high is not None
    assert drawing.low <= leaves <= drawing.high


@settings(deadline=None)
@given(order=st.permutations(sorted(ROWS)), play=st.integers(20, 34), worn=st.integers(1105, 1205))
def test_the_washer_is_the_same_in_whatever_order_the_family_lists_them(
    order: list[str], play: int, worn: int
) -> None:
    """The standard washer is the one whose row answers for the float of a new engine."""
    measured = (f"0.0{play}", f"0.{worn}")
    sorted_otherwise = washer(*measured, family=family_with({key: ROWS[key] for key in order}))
    as_listed = washer(*measured)
    assert (sorted_otherwise.value, sorted_otherwise.part) == (as_listed.value, as_listed.part)


def test_a_table_that_tells_no_standard_washer_is_left_open() -> None:
    family = family_with()
    features = tuple(
        replace(each, low=None, high=None) if each.key == "play" else each
        for each in family.features
    )
    open_one = washer("0.024", "0.1155", family=replace(family, features=features))
    assert (open_one.part, open_one.value) == (None, None)
    assert "none of its washers is known as the standard one" in open_one.because.says
    chosen = washer("0.024", family=replace(family, features=features)).part
    assert chosen is not None
    assert chosen.number == "T5"


def test_the_standard_ring_of_the_tarnwick_is_told_by_the_float_of_its_drawing() -> None:
    family = tarnwick()
    parts = [family.part_by_number[fit.part] for fit in family.fits_of["thrust-ring"]]
    rows = in_order(row_said(str(part.number), part.attributes["for float"]) for part in parts)
    drawing = family.feature_by_key["shaft-end-float"]
    standard = standard_row(rows, drawing.low, drawing.high)
    assert standard is not None
    assert standard.name == "tar:4570-014"
