"""Thrust washers that a float chooses: one readable table, and a float to enter it with."""

from dataclasses import replace
from itertools import zip_longest

import pytest

from kitting.catalog.check import check_family
from kitting.catalog.check_notes import CheckReport
from tests.builders import a_feature, a_fit, a_part, a_position
from tests.wren import tiny_family


def report(
    *said: str, measured: bool = True, engines: tuple[tuple[int | None, int | None], ...] = ()
) -> CheckReport:
    """Check washers that say these floats, each for the engines from one number to another."""
    family = tiny_family()
    numbers = [f"hob:T{at}" for at in range(len(said))]
    parts = [
        a_part(number, "washer", {"for float": text} if text else {})
        for number, text in zip(numbers, said, strict=True)
    ]
    fits = [
        replace(a_fit("washer", number), first=first, last=last)
        for number, (first, last) in zip_longest(numbers, engines, fillvalue=(None, None))
        if isinstance(number, str)
    ]
    kind = "end float" if measured else "thickness"
    more = replace(
        family,
        positions=(*family.positions, a_position("washer", "bottom-end", "washer")),
        features=(*family.features, a_feature("play", "washer", kind, ("0.002", "0.009"))),
        parts=(*family.parts, *parts),
        fits=(*family.fits, *fits),
    )
    return check_family(more, {})


def test_a_table_whose_rows_meet_passes() -> None:
    assert not report("up to 0.010 in", "over 0.010 to 0.016 in", "over 0.016 in").faults


def test_a_gap_is_the_makers_own_and_passes() -> None:
    assert not report("0.010 to 0.016 in", "0.017 to 0.026 in").faults


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        (("about so much",), "'about so much' is no range of float"),
        (("0.016 to 0.010 in",), "the wrong way round"),
        (("up to 3 lbf", "over 0.010 in"), "a float is a length"),
        (("0.010 to 0.016 in", "0.016 to 0.026 in"), "both answer at 0.0160 in"),
        (("over 0.010 in", "over 0.016 in"), "an end inside the table is open"),
    ],
)
def test_a_table_that_cannot_be_entered_is_a_fault(said: tuple[str, ...], sentence: str) -> None:
    assert sentence in " ".join(str(fault) for fault in report(*said).faults)


def test_washers_with_no_float_to_choose_them_are_a_fault() -> None:
    (fault,) = report("up to 0.010 in", measured=False).faults
    assert "none is measured there" in str(fault)


def test_a_washer_that_no_float_chooses_is_warned_of() -> None:
    found = report("up to 0.010 in", "")
    assert not found.faults
    assert any("hob:T1 fits washer too" in str(warning) for warning in found.warnings)


OVERLAPPING = ("0.010 to 0.016 in", "0.014 to 0.026 in")


@pytest.mark.parametrize(
    "engines",
    [
        ((100, 150), (140, None)),
        ((None, 550), (550, 560)),
        ((None, None), (620, 630)),
    ],
)
def test_washers_of_the_same_engines_are_held_to_one_table(
    engines: tuple[tuple[int | None, int | None], ...],
) -> None:
    (fault,) = report(*OVERLAPPING, engines=engines).faults
    assert "both answer at 0.014" in str(fault)


@pytest.mark.parametrize("engines", [((100, 139), (140, None)), ((None, 639), (640, 650))])
def test_washers_of_other_engines_are_other_tables(
    engines: tuple[tuple[int | None, int | None], ...],
) -> None:
    assert not report(*OVERLAPPING, engines=engines).faults
