"""Printed bores, oversizes and ring gaps; each names its source."""

import pytest

from kitting.engineering.band import Band
from kitting.engineering.form_limits import FormLimits
from kitting.engineering.grades import Grade
from kitting.engineering.rebore import ReboreRequest, choose_rebore, rebore_size
from kitting.measure import Quantity
from kitting.measure.bore import SixReadings, ring_gap_after
from kitting.measure.journal import StationReading


def request(
    unit: str, grades: tuple[tuple[str, str, str], ...], *values: str, hone: str = "0"
) -> ReboreRequest:
    nothing = Quantity.of(0, unit)
    return ReboreRequest(
        grades=tuple(
            Grade(name, Quantity.of(low, unit), Quantity.of(high, unit))
            for name, low, high in grades
        ),
        readings=tuple(
            StationReading("top", str(place), Quantity.of(value, unit))
            for place, value in enumerate(values)
        ),
        stock=nothing,
        hone=Quantity.of(hone, unit),
        uncertainty=nothing,
        score_depth=nothing,
    )


SINGLE = (
    ("standard", "2.913", "2.913"),
    ("+.020", "2.933", "2.933"),
    ("+.040", "2.953", "2.953"),
)


@pytest.mark.parametrize(
    ("greatest", "needed", "size"),
    [("2.921", False, "+.020"), ("2.922", True, "+.020"), ("2.934", True, "+.040")],
)
def test_single_is_rebored_over_eight_thousandths_and_has_two_oversizes(
    greatest: str, needed: bool, size: str
) -> None:
    """Velocette Mk II instruction book: bore 2.913, rebore over .008, +.020 and +.040 only."""
    asked = request("in", SINGLE, "2.913", greatest)
    limits = FormLimits(wear_max=Quantity.of("2.921", "in"))
    choice = choose_rebore(
        ReboreRequest(
            grades=asked.grades,
            readings=asked.readings,
            stock=asked.stock,
            hone=asked.hone,
            uncertainty=asked.uncertainty,
            score_depth=asked.score_depth,
            present="standard",
            limits=limits,
        )
    )
    assert choice.needed is needed
    assert choice.likely is not None
    assert choice.likely.name == size


def test_mower_engine_is_bored_short_of_the_finished_size_for_the_hone() -> None:
    """Toro engine service manual (22974), p. 5-22: +0.50 is 78.48 to 78.50, bored 78.46 to
    78.48."""
    table = (("standard", "77.98", "78.00"), ("+0.50", "78.48", "78.50"))
    choice = choose_rebore(request("mm", table, "78.00", "78.10", hone="0.02"))
    assert choice.bore_to == Band(Quantity.of("78.46", "mm"), Quantity.of("78.48", "mm"))


@pytest.mark.parametrize(
    ("six", "bore", "taper", "out_of_round"),
    [
        ("66.01 66.00 66.00 66.00 65.99 65.99", "66.01", "0.02", "0.02"),
        ("66.05 66.02 66.03 66.01 66.00 66.00", "66.05", "0.05", "0.05"),
        ("65.00 65.08 65.00 65.02 65.00 65.00", "65.08", "0.08", "0.00"),
    ],
)
def test_six_reading_formulas(six: str, bore: str, taper: str, out_of_round: str) -> None:
    """Maker's motorcycle manual, FZ1: C = max(D1..D6), T = max(D1, D2) − max(D5, D6),
    R = max(D1, D3, D5) − min(D2, D4, D6); the figures are ours."""
    d1, d2, d3, d4, d5, d6 = (Quantity.of(text, "mm") for text in six.split())
    found = SixReadings((d1, d2, d3, d4, d5, d6))
    assert found.bore == Quantity.of(bore, "mm")
    assert found.taper == Quantity.of(taper, "mm")
    assert found.out_of_round == Quantity.of(out_of_round, "mm")


@pytest.mark.parametrize(
    ("piston", "clearance", "hone", "size"),
    [("95.441", "0.013", "0.02", "95.434"), ("95.471", "0.036", "0.02", "95.487")],
)
def test_size_to_rebore_to(piston: str, clearance: str, hone: str, size: str) -> None:
    """Maker's procedure: P + C − H with H 0.02 mm or less; piston (O/S 0.50) 95.441 to 95.471,
    clearance 0.013 to 0.036 mm."""
    found = rebore_size(*(Quantity.of(text, "mm") for text in (piston, clearance, hone)))
    assert found == Quantity.of(size, "mm")


@pytest.mark.parametrize("thousandths", [1, 2, 8, 20])
def test_ring_gap_grows_about_three_thousandths_a_thousandth(thousandths: int) -> None:
    """TM 5-3805-261-34: about .003 of gap per .001 of bore."""
    growth = Quantity.of("0.001", "in") * thousandths
    grown = ring_gap_after(Quantity.of("0.010", "in"), growth) - Quantity.of("0.010", "in")
    assert growth * 3 < grown < growth * 4
    assert grown.rounded(3) == Quantity.of("0.001", "in") * round(3.1416 * thousandths)


@pytest.mark.parametrize(
    ("values", "reasons"),
    [
        (("3.125", "3.127"), []),
        (("3.125", "3.130"), []),
        (("3.125", "3.131"), ["ovality"]),
    ],
)
def test_light_truck_bore_ovality(values: tuple[str, str], reasons: list[str]) -> None:
    """Light truck, D-113: bore 3.125 to 3.127, ovality and taper .005, largest rebore +.040."""
    table = (("standard", "3.125", "3.127"), ("+.040", "3.165", "3.167"))
    asked = request("in", table, *values)
    limit = Quantity.of("0.005", "in")
    choice = choose_rebore(
        ReboreRequest(
            grades=asked.grades,
            readings=asked.readings,
            stock=asked.stock,
            hone=asked.hone,
            uncertainty=asked.uncertainty,
            score_depth=asked.score_depth,
            limits=FormLimits(limit, limit),
        )
    )
    assert [reason.split(":")[0] for reason in choice.reasons] == reasons


@pytest.mark.parametrize(("greatest", "needed"), [("67.10", False), ("67.11", True)])
def test_four_cylinder_motorcycle_bore_limit(greatest: str, needed: bool) -> None:
    """Honda CBF600 manual, p. 12-17: service limit 67.10 mm; one oversize, 0.25 mm."""
    table = (("standard", "67.00", "67.02"), ("+0.25", "67.25", "67.27"))
    asked = request("mm", table, "67.01", greatest)
    choice = choose_rebore(
        ReboreRequest(
            grades=asked.grades,
            readings=asked.readings,
            stock=asked.stock,
            hone=asked.hone,
            uncertainty=asked.uncertainty,
            score_depth=asked.score_depth,
            limits=FormLimits(wear_max=Quantity.of("67.10", "mm")),
        )
    )
    assert choice.needed is needed
    assert choice.likely is not None
    assert choice.likely.name == "+0.25"
