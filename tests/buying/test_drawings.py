"""What is measured of new parts as they arrive, by the shipped catalogue's own drawings."""

from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.arrivals import judge_arrival, readings_of
from kitting.buying.drawings import Check, checks_of
from kitting.catalog.family import Family
from kitting.catalog.files import read_family
from kitting.catalog.shipped import shipped_folder
from kitting.job.settings import Settings
from tests.builders import q
from tests.buying.orders import JOB, a_line
from tests.wren import tiny_trade

SETTINGS = Settings.of_shop(tiny_trade().shop)


@cache
def family(name: str = "corvane-650") -> Family:
    return read_family(shipped_folder() / name)


def checks(
    *positions: str,
    grade: str = "",
    pieces: int = 1,
    part: str = "cor:C61-1",
    of: str = "corvane-650",
) -> dict[str, Check]:
    line = a_line(part, pieces, "1.00", positions=positions, grade=grade)
    return {check.key: check for check in checks_of({JOB: family(of)}, line)}


def limits(check: Check) -> tuple[str, str]:
    return str(check.feature.low), str(check.feature.high)


@pytest.mark.parametrize(
    ("grade", "low", "high"),
    [("standard", "2.8715 in", "2.8720 in"), ("over-020", "2.8915 in", "2.8920 in")],
)
def test_a_pistons_skirt_is_its_bore_as_finished_less_the_clearance(
    grade: str, low: str, high: str
) -> None:
    found = checks("piston-left", grade=grade)["diameter"]
    assert limits(found) == (low, high)


def test_a_pistons_skirt_closes_with_the_bore_at_both_ends_of_the_clearance() -> None:
    for name, table_key, position in (
        ("corvane-650", "bore", "piston-left"),
        ("tarnwick-s45", "cylinder-bore", "piston"),
    ):
        table = family(name).table_by_key[table_key]
        for grade in table.machined:
            skirt = checks(position, grade=grade.key, of=name)["diameter"].feature
            assert grade.finish_low is not None
            assert grade.finish_high is not None
            assert skirt.high is not None
            assert skirt.low is not None
            assert grade.finish_low - skirt.high == table.clearance_low
            assert grade.finish_high - skirt.low == table.clearance_high


def test_a_ring_is_measured_by_its_gap_in_the_bore_or_a_ring_gauge_ring_by_ring() -> None:
    found = checks("ring-set-left", grade="over-020")
    assert list(found) == ["ring-left-gap-top", "ring-left-gap-second"]
    for check in found.values():
        assert limits(check) == ("0.0100 in", "0.0140 in")
        assert "in the bore as finished or a ring gauge" in check.feature.name
    (three,) = checks("piston-rings", grade="over-050", of="tarnwick-s45").values()
    assert [station for station, _ in three.places] == ["top", "second", "scraper"]


def test_left_and_right_of_one_size_have_one_drawing_between_them() -> None:
    found = checks("ring-set-left", "ring-set-right", grade="over-020", pieces=2)
    assert list(found) == ["ring-left-gap-top", "ring-left-gap-second"]
    assert [station for station, _ in found["ring-left-gap-top"].places] == ["1", "2"]


def test_a_gap_that_is_set_when_it_is_fitted_is_nothing_of_the_part() -> None:
    assert checks("sparking-plug", of="tarnwick-s45") == {}
    assert checks("contact-set", of="tarnwick-s45") == {}


def test_a_shim_is_what_its_number_says_within_what_its_maker_allows() -> None:
    (shim,) = checks("crank-shims", part="cor:C61-1030/003", pieces=3).values()
    assert limits(shim) == ("0.0027 in", "0.0033 in")
    assert [station for station, _ in shim.places] == ["1", "2", "3"]
    figures = [f"thickness {at} = .003" for at in (1, 2, 3)]
    arrival = judge_arrival(family(), (shim,), readings_of((shim,), figures), SETTINGS)
    assert arrival.by_figures == (3, 0, 0)
    figures[1] = "thickness 2 = .005"
    arrival = judge_arrival(family(), (shim,), readings_of((shim,), figures), SETTINGS)
    assert arrival.by_figures == (2, 1, 0)


def test_no_new_part_is_held_to_a_table_of_wear_which_may_be_another_familys() -> None:
    features = tuple(replace(each, size_table="crankpin") for each in family().features)
    tabled = replace(family(), features=features)
    checks = [
        check
        for position in tabled.positions
        for check in checks_of(
            {JOB: tabled}, a_line("cor:C61-1", 1, "1", positions=(position.key,))
        )
    ]
    assert checks
    assert not any(check.feature.size_table for check in checks)


def test_every_shim_and_chosen_washer_of_the_shipped_families_has_a_drawing() -> None:
    for name in ("corvane-650", "tarnwick-s45"):
        shims = [
            part
            for part in family(name).parts
            if part.kind == "shim" or "for float" in part.attributes
        ]
        assert shims
        for part in shims:
            fit = next(fit for fit in family(name).fits if fit.part == part.number)
            assert "thickness" in checks(fit.position, part=str(part.number), of=name), part


@pytest.mark.parametrize(
    ("of", "position", "grade", "part", "low", "high"),
    [
        ("corvane-650", "guide-inlet-left", "over-005", "lat:LG 101/005", "0.5070", "0.5075"),
        ("corvane-650", "gudgeon-bush-left", "standard", "cor:C61-1081", "0.9400", "0.9405"),
        ("tarnwick-s45", "inlet-guide", "", "tar:4530-055/10", "13.130", "13.140"),
        ("tarnwick-s45", "small-end-bush", "", "kes:B 2225", "25.035", "25.045"),
        ("corvane-650", "main-bush", "", "hob:HB 2138", "2.1375", "2.1380"),
    ],
)
def test_a_guide_or_bush_that_states_its_outside_is_measured_by_its_number(
    of: str, position: str, grade: str, part: str, low: str, high: str
) -> None:
    outside = checks(position, grade=grade, part=part, of=of)["diameter"]
    unit = family(of).unit
    assert limits(outside) == (f"{low} {unit}", f"{high} {unit}")
    assert outside.feature.name == f"outside of {part.split(':')[1]}"


def test_every_guide_and_small_end_bush_is_tight_in_its_housing_at_every_size() -> None:
    """Corvane service sheets 6 and 16, as the family's README has them."""
    tight = {"guide": ("0.0015 in", "0.0025 in"), "gudgeon bush": ("0.0020 in", "0.0030 in")}
    twin = family()
    pressed = [fit for fit in twin.fits if twin.part_by_number[fit.part].kind in tight]
    for fit in pressed:
        part, position = twin.part_by_number[fit.part], twin.position_by_key[fit.position]
        hole = twin.table_by_key[position.sized_by].grade(fit.grade)
        outside = checks(fit.position, grade=fit.grade, part=str(fit.part))["diameter"].feature
        least, most = (q(text) for text in tight[part.kind])
        assert outside.low is not None
        assert outside.high is not None
        assert hole.finish_low is not None
        assert hole.finish_high is not None
        assert outside.low - hole.finish_high == least, fit
        assert outside.high - hole.finish_low == most, fit
    assert len(pressed) == 32


def test_a_height_that_tells_the_thin_nut_from_the_plain_one_is_measured() -> None:
    assert limits(checks("crank-pinion-nut")["height"]) == ("0.2450 in", "0.2550 in")


def test_a_figure_that_is_set_at_assembly_is_not_measured_of_the_part() -> None:
    assert checks("main-bush", grade="standard").keys() == {"diameter"}
    assert checks("rocker-adjusters") == {}


def test_of_springs_with_a_station_each_as_many_figures_are_wanted_as_came() -> None:
    load = checks("valve-springs-outer", pieces=4)["load"]
    assert [station for station, _ in load.places] == ["1", "2", "3", "4"]
    assert [station for station, _ in load.of_pieces(2).places] == ["1", "2"]
    assert [station for station, _ in load.of_pieces(1).places] == ["1"]


def test_places_on_one_piece_are_asked_of_each_piece() -> None:
    (gaps,) = checks("piston-rings", grade="over-050", pieces=2, of="tarnwick-s45").values()
    assert [station for station, _ in gaps.places][:4] == [
        "1 top",
        "1 second",
        "1 scraper",
        "2 top",
    ]
    (reading,) = readings_of((gaps,), ["gap 2 scraper = 0.35"])
    assert reading.station == "2 scraper"


@given(ordered=st.integers(1, 30), came=st.integers(0, 30))
def test_a_figure_is_wanted_of_each_piece_that_came_and_of_eight_at_most(
    ordered: int, came: int
) -> None:
    (bolt,) = checks("big-end-bolts-left", pieces=ordered).values()
    places = bolt.of_pieces(min(came, ordered)).places
    assert len(places) == len(set(places)) == min(8, max(1, min(came, ordered)))
    assert set(places) <= set(bolt.of_pieces(ordered).places)


def test_a_shim_without_a_stated_tolerance_is_not_measured() -> None:
    bare = tuple(
        replace(part, attributes={k: v for k, v in part.attributes.items() if k != "within"})
        for part in family().parts
    )
    line = a_line("cor:C61-1030", 1, "1.00", positions=("crank-shims",))
    assert checks_of({JOB: replace(family(), parts=bare)}, line) == ()
