"""Tired, or another spring: what the figures off a bench and a rig prove."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.engineering.spring_rig import (
    RigLoad,
    free_length_from_rig,
    rate_from_free_length,
    rate_from_readings,
    rate_from_rig,
)
from kitting.engineering.spring_verdict import (
    KnownSpring,
    SpringBand,
    SpringFigures,
    SpringState,
    SpringUncertainty,
    identify_spring,
    judge_spring,
)
from kitting.errors import BadInput
from kitting.measure import Limits
from kitting.measure import parse_quantity as q

FAMILY = SpringBand(
    free_length=Limits(q("1.52 in"), q("1.55 in")),
    rate=Limits(q("38 lbf/in"), q("42 lbf/in")),
    wire=Limits(q("0.063 in"), q("0.065 in")),
    total_coils=Decimal(11),
)


def rig(*pairs: tuple[str, str]) -> tuple[RigLoad, ...]:
    return tuple(RigLoad(q(length), q(load)) for length, load in pairs)


def test_a_spring_within_every_band_agrees() -> None:
    figures = SpringFigures(
        free_length=q("1.53 in"), rate=q("40 lbf/in"), wire=q("0.064 in"), total_coils=Decimal(11)
    )
    verdict = judge_spring(figures, FAMILY)
    assert verdict.state is SpringState.AGREES
    assert len(verdict.reasons) == 3


def test_short_with_the_right_rate_is_tired() -> None:
    verdict = judge_spring(SpringFigures(q("1.47 in"), q("40 lbf/in")), FAMILY)
    assert verdict.state is SpringState.TIRED
    assert "taken a set" in verdict.reasons[-1]


@pytest.mark.parametrize("rate", ["30 lbf/in", "52 lbf/in"])
@pytest.mark.parametrize("length", ["1.47 in", "1.53 in"])
def test_a_wrong_rate_is_another_spring_whatever_its_length(rate: str, length: str) -> None:
    verdict = judge_spring(SpringFigures(q(length), q(rate)), FAMILY)
    assert verdict.state is SpringState.ANOTHER


@pytest.mark.parametrize(
    "figures",
    [
        SpringFigures(wire=q("0.072 in")),
        SpringFigures(total_coils=Decimal("12.5")),
        SpringFigures(free_length=q("1.62 in"), rate=q("40 lbf/in")),
    ],
)
def test_other_wire_coils_or_a_longer_spring_is_another(figures: SpringFigures) -> None:
    assert judge_spring(figures, FAMILY).state is SpringState.ANOTHER


def test_short_without_a_rate_cannot_be_called() -> None:
    verdict = judge_spring(SpringFigures(q("1.47 in")), FAMILY)
    assert verdict.state is SpringState.UNDECIDED
    assert "only the rate can tell" in verdict.reasons[-1]


def test_nothing_measured_is_undecided_and_says_so() -> None:
    verdict = judge_spring(SpringFigures(), FAMILY)
    assert verdict.state is SpringState.UNDECIDED
    assert "nothing was measured" in verdict.reasons[0]


def test_a_rate_too_near_its_limit_is_undecided() -> None:
    unsure = SpringUncertainty(rate=q("1 lbf/in"))
    near = SpringFigures(q("1.53 in"), q("38.5 lbf/in"))
    assert judge_spring(near, FAMILY, unsure).state is SpringState.UNDECIDED
    short = SpringFigures(q("1.47 in"), q("38.5 lbf/in"))
    assert judge_spring(short, FAMILY, unsure).state is SpringState.UNDECIDED


def test_two_rig_loads_give_the_rate_that_is_judged() -> None:
    figures = SpringFigures(
        free_length=q("1.47 in"), rig=rig(("1.2 in", "10.8 lbf"), ("1.0 in", "18.8 lbf"))
    )
    verdict = judge_spring(figures, FAMILY)
    assert verdict.rate == q("40 lbf/in")
    assert verdict.state is SpringState.TIRED


def test_a_low_load_at_the_installed_length_with_the_right_rate_is_tired() -> None:
    band = SpringBand(
        free_length=Limits(q("1.52 in"), q("1.55 in")),
        load=Limits(q("12.5 lbf"), q("14.5 lbf")),
        load_length=q("1.2 in"),
        rate=Limits(q("38 lbf/in"), q("42 lbf/in")),
    )
    figures = SpringFigures(rig=rig(("1.2 in", "10.8 lbf"), ("1.0 in", "18.8 lbf")))
    assert judge_spring(figures, band).state is SpringState.TIRED
    between = SpringFigures(rig=rig(("1.3 in", "6.8 lbf"), ("1.0 in", "18.8 lbf")))
    assert judge_spring(between, band).state is SpringState.TIRED
    strong = SpringFigures(rig=rig(("1.2 in", "16 lbf"), ("1.0 in", "24 lbf")))
    assert judge_spring(strong, band).state is SpringState.ANOTHER


def test_a_band_of_load_and_free_length_implies_its_rate() -> None:
    band = SpringBand(
        free_length=Limits(q("2 in"), q("2.1 in")),
        load=Limits(q("11 lbf"), q("12 lbf")),
        load_length=q("1 in"),
    )
    assert band.rate_limits() == Limits(q("10 lbf/in"), q("12 lbf/in"))
    tired = SpringFigures(free_length=q("1.9 in"), rig=rig(("1 in", "9.9 lbf")))
    assert judge_spring(tired, band).state is SpringState.TIRED
    other = SpringFigures(free_length=q("1.9 in"), rig=rig(("1 in", "13 lbf")))
    assert judge_spring(other, band).state is SpringState.ANOTHER


numbers = st.integers(1, 500).map(lambda n: Decimal(n) / 10)


@given(numbers, numbers, numbers)
def test_a_rig_finds_the_rate_and_free_length_that_made_its_loads(
    stiffness: Decimal, free: Decimal, travel: Decimal
) -> None:
    length, k = q(f"{free + travel * 2} mm"), q(f"{stiffness} N/mm")
    first = RigLoad(length - q(f"{travel / 2} mm"), q(f"{stiffness * travel / 2} N"))
    second = RigLoad(length - q(f"{travel} mm"), q(f"{stiffness * travel} N"))
    assert rate_from_rig(first, second) == rate_from_rig(second, first) == k
    assert free_length_from_rig(second, k) == length
    assert rate_from_free_length(length, second) == k
    assert rate_from_readings((second,), length) == rate_from_readings((first, second)) == k


@pytest.mark.parametrize(
    ("low", "high"), [("40", "42"), ("38", "40"), ("40.1", "42"), ("38", "39")]
)
def test_units_never_change_a_verdict(low: str, high: str) -> None:
    band = SpringBand(rate=Limits(q(f"{low} lbf/in"), q(f"{high} lbf/in")))
    rig_imperial = rig(("1.2 in", "10.8 lbf"), ("1.0 in", "18.8 lbf"))
    rig_metric = tuple(RigLoad(one.length.to("mm"), one.load.to("N")) for one in rig_imperial)
    one = judge_spring(SpringFigures(rig=rig_imperial), band)
    other = judge_spring(SpringFigures(rig=rig_metric), band)
    assert one.state is other.state
    assert one.rate == other.rate == q("40 lbf/in")


def test_rig_readings_that_cannot_be_are_refused() -> None:
    with pytest.raises(BadInput, match="both loads are at"):
        rate_from_rig(*rig(("1 in", "5 lbf"), ("1 in", "6 lbf")))
    with pytest.raises(BadInput, match="pushes harder the shorter"):
        rate_from_rig(*rig(("1 in", "5 lbf"), ("2 in", "6 lbf")))
    with pytest.raises(BadInput, match="the spring is loose"):
        rate_from_free_length(q("1 in"), *rig(("1.1 in", "5 lbf")))
    with pytest.raises(BadInput, match="not above zero"):
        rig(("1 in", "-5 lbf"))
    with pytest.raises(BadInput, match="go together"):
        SpringBand(load=Limits(q("1 N")))
    assert rate_from_readings(()) is None


LIST = (
    KnownSpring("relief, early", q("0.064 in"), q("1.53 in"), Decimal(11), q("0.48 in")),
    KnownSpring("relief, late", q("0.064 in"), q("1.69 in"), Decimal(11), q("0.48 in")),
    KnownSpring("clutch", q("0.104 in"), q("1.85 in"), Decimal(10), q("0.74 in")),
)


def test_a_spring_is_known_by_wire_coils_and_free_length() -> None:
    figures = SpringFigures(free_length=q("1.525 in"), wire=q("0.0645 in"), total_coils=Decimal(11))
    first, second, last = identify_spring(figures, LIST, q("0.001 in"), q("0.02 in"))
    assert first.spring.name == "relief, early"
    assert first.set_taken is None
    assert first.is_candidate
    assert second.spring.name == "relief, late"
    assert second.set_taken == q("0.165 in")
    assert not last.is_candidate
    assert set(last.differs) == {"wire", "coils", "free length"}


def test_a_tenth_of_its_length_is_the_most_that_a_spring_is_thought_to_have_set() -> None:
    listed = (KnownSpring("relief", q("0.064 in"), q("1.5 in")),)

    def found(free_length: str) -> bool:
        figures = SpringFigures(free_length=q(free_length), wire=q("0.064 in"))
        return identify_spring(figures, listed, q("0.001 in"), q("0.02 in"))[0].is_candidate

    assert found("1.35 in")
    assert not found("1.349 in")
    assert not found("1.521 in")


def test_no_spring_is_identified_without_its_wire() -> None:
    with pytest.raises(BadInput, match="micrometer"):
        identify_spring(SpringFigures(q("1 in")), LIST, q("0.001 in"), q("0.02 in"))
