"""Published figures of measurement; each names its source."""

from decimal import Decimal
from math import cos, pi

import pytest

from kitting.measure import Decision, Limits, Quantity, decide
from kitting.measure.expansion import Body, at_temperature
from kitting.measure.roundness import fit_circle, turn_under_indicator
from kitting.measure.uncertainty import Contribution, Distribution, combine


def nm(text: str) -> Quantity:
    return Quantity.of(text, "µm") * Decimal("0.001")


@pytest.mark.parametrize(
    ("reading", "decision"),
    [
        ("1.7501", Decision.GOOD),
        ("1.7504", Decision.GOOD),
        ("1.7502", Decision.GOOD),
        ("1.75009", Decision.UNDECIDED),
        ("1.75041", Decision.UNDECIDED),
        ("1.7500", Decision.UNDECIDED),
        ("1.7505", Decision.UNDECIDED),
        ("1.7499", Decision.BAD),
        ("1.7506", Decision.BAD),
        ("1.74991", Decision.UNDECIDED),
        ("1.75059", Decision.UNDECIDED),
    ],
)
def test_what_a_reading_proves(reading: str, decision: Decision) -> None:
    """ISO 14253-1: 1.7500 to 1.7505 with U .0001."""
    limits = Limits(Quantity.of("1.7500", "in"), Quantity.of("1.7505", "in"))
    found = decide(Quantity.of(reading, "in"), Quantity.of("0.0001", "in"), limits)
    assert found is decision


def test_geometric_circle() -> None:
    """Gander, Golub, Strebel, BIT 34, 1994: centre (4.7398, 2.9835), r 4.7142."""
    points = ((1, 7), (2, 6), (5, 8), (7, 7), (9, 5), (3, 7))
    found = fit_circle([(Quantity.of(x, "mm"), Quantity.of(y, "mm")) for x, y in points])
    assert [str(length.rounded(4).value) for length in (found.x, found.y, found.radius)] == [
        "4.7398",
        "2.9835",
        "4.7142",
    ]


def test_three_lobes_are_out_of_round_by_twice_their_amplitude() -> None:
    """Geometry of curves of constant width: r = R + a cos 3θ, out of round by 2 a."""
    heights = [
        Quantity.of(f"{0.005 * cos(3 * 2 * pi * place / 24):.6f}", "mm") for place in range(24)
    ]
    assert turn_under_indicator(heights).roundness == Quantity.of("0.010", "mm")


def test_end_gauge_combined_uncertainty() -> None:
    """GUM, JCGM 100:2008, H.1.4: 25, 9.7, 2.9 and 16.6 nm combine to 32 nm."""
    lines = [
        Contribution(source, nm(amount), Distribution.STANDARD)
        for source, amount in (
            ("standard", "25"),
            ("difference", "9.7"),
            ("expansion", "2.9"),
            ("temperature", "16.6"),
        )
    ]
    assert combine(lines).combined.to("mm").rounded(6) == Quantity.of("0.000032", "mm")


@pytest.mark.parametrize(
    ("half_width", "standard"),
    [("0.05", "28.9"), ("0.5", "288.7")],
)
def test_a_rectangular_half_width_is_divided_by_root_three(half_width: str, standard: str) -> None:
    """GUM, JCGM 100:2008, 4.3.7: u² = a²/3."""
    line = Contribution("bound", Quantity.of(half_width, "µm"), Distribution.RECTANGULAR)
    assert line.standard.to("mm").rounded(7) == nm(standard).to("mm")


def test_a_triangular_half_width_is_divided_by_root_six() -> None:
    """GUM, JCGM 100:2008, 4.3.9: u² = a²/6."""
    line = Contribution("bound", Quantity.of("6", "µm"), Distribution.TRIANGULAR)
    assert line.standard.to("mm").rounded(6) == Quantity.of("0.002449", "mm")


def test_digital_micrometer_budget() -> None:
    """Calibration guide for micrometers (ISO 17025, 7.6), 21.5 mm point: repeatability 0.00058
    over root 3, step 0.001, gauge block U 0.0005: u 0.00051, U 0.0010 mm."""
    lines = [
        Contribution("repeatability", Quantity.of("0.00033", "mm"), Distribution.STANDARD),
        Contribution("resolution", Quantity.of("0.0005", "mm"), Distribution.RECTANGULAR),
        Contribution("gauge block", Quantity.of("0.0005", "mm"), Distribution.TWICE_STANDARD),
    ]
    budget = combine(lines)
    assert [line.standard.rounded(5) for line in lines[1:]] == [
        Quantity.of("0.00029", "mm"),
        Quantity.of("0.00025", "mm"),
    ]
    assert budget.combined.rounded(4) == Quantity.of("0.0005", "mm")
    assert budget.expanded.rounded(3) == Quantity.of("0.001", "mm")


@pytest.mark.parametrize(
    ("material", "microns"),
    [
        ("grey iron", "11.4"),
        ("aluminium 356", "21.5"),
        ("aluminium 6061", "23.6"),
        ("phosphor bronze", "17.8"),
        ("bearing bronze", "18.0"),
        ("aluminium bronze", "16.2"),
        ("carbon steel", "11.7"),  # from memory
    ],
)
def test_ten_degrees_grow_a_hundred_millimetres(material: str, microns: str) -> None:
    """Callister, appendix B, expansion per °C × 10⁻⁶; reference 20 °C, ISO 1."""
    length = Quantity.of(100, "mm")
    grown = at_temperature(length, Body(material, Quantity.of(30, "°C"))) - length
    assert grown == Quantity.of(microns, "µm")
