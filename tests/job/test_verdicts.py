from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.catalog.model import Verdict
from kitting.job.findings import Finding, Fitted, Override
from kitting.job.settings import Lean, Settings
from kitting.job.verdicts import GRAVITY, PositionVerdict, judge
from tests.builders import number, q
from tests.job.benches import DAY, a_bench, a_finding, read
from tests.wren import tiny_family

FAMILY = tiny_family()
SETTINGS = Settings({"micrometer": q("0.0001 in"), "bore gauge": q("0.0002 in")})


def verdict_on(
    position: str,
    finding: Finding,
    settings: Settings = SETTINGS,
    overrides: tuple[Override, ...] = (),
) -> PositionVerdict:
    verdicts = judge(FAMILY, a_bench(finding, overrides=overrides), settings)
    return verdicts.by_position[position]


def said(verdict: PositionVerdict) -> str:
    return " ".join(str(step) for reason in verdict.because for _, step in reason.steps())


def test_a_crank_inside_its_limits_is_reused_and_says_which_limit() -> None:
    finding = a_finding("crank", *read("crankpin-diameter", "1.4991", "1.4992", "1.4991", "1.4990"))
    verdict = verdict_on("crank", finding)
    assert verdict.verdict is Verdict.REUSE
    assert "at least 1.4980 in" in said(verdict)


def test_an_oval_crankpin_is_reground_and_the_reason_names_ovality_limit_and_source() -> None:
    finding = a_finding("crank", *read("crankpin-diameter", "1.4992", "1.4982", "1.4991", "1.4990"))
    verdict = verdict_on("crank", finding)
    assert verdict.verdict is Verdict.REWORK
    assert verdict.operations == ("regrind",)
    assert "ovality 0.0010 in, outside at most 0.0005 in" in said(verdict)
    assert "Wren workshop book, page 9" in said(verdict)


def test_wear_is_compared_with_the_grade_the_crank_was_already_ground_to() -> None:
    """1.4885 would be far gone at standard; at 0.010 under it is within its limit of 1.4880."""
    finding = a_finding("crank", *read("crankpin-diameter", "1.4892", "1.4889", "1.4891", "1.4890"))
    verdict = verdict_on("crank", finding)
    assert verdict.verdict is Verdict.REUSE
    assert "-010 grade" in said(verdict)


def test_a_reading_within_its_uncertainty_of_the_limit_is_a_recheck() -> None:
    finding = a_finding(
        "crank", *read("crankpin-diameter", "1.4984", "1.4981", "1.4984", "1.49805")
    )
    verdict = verdict_on("crank", finding)
    assert verdict.verdict is Verdict.RECHECK
    assert verdict.undecided


@pytest.mark.parametrize(
    ("lean", "expected"), [(Lean.REUSE, Verdict.REUSE), (Lean.RENEW, Verdict.REWORK)]
)
def test_the_shops_policy_may_lean_where_nothing_is_proven(lean: Lean, expected: Verdict) -> None:
    finding = a_finding(
        "crank", *read("crankpin-diameter", "1.4984", "1.4981", "1.4984", "1.49805")
    )
    verdict = verdict_on("crank", finding, replace(SETTINGS, lean=lean))
    assert verdict.verdict is expected
    assert f"leans to {lean}" in said(verdict)


def test_a_spring_of_another_rate_is_a_wrong_part_not_a_worn_one() -> None:
    finding = a_finding("relief-spring", *read("spring-rate", "31 lbf/in", unit="lbf/in"))
    verdict = verdict_on("relief-spring", finding)
    assert verdict.verdict is Verdict.WRONG_PART


def test_a_thick_nut_where_a_thin_one_belongs_is_a_wrong_part_and_says_what_differs() -> None:
    fitted = Fitted(attributes={"thread": "3/8 x 26 cycle", "height": "0.310 in"})
    verdict = verdict_on("barrel-nuts", a_finding("barrel-nuts", fitted=fitted))
    assert verdict.verdict is Verdict.WRONG_PART
    assert "height 0.310 in where 0.250 in belongs" in said(verdict)


def test_the_same_height_in_other_clothes_is_the_same_part() -> None:
    fitted = Fitted(attributes={"height": "6.35 mm"})
    verdict = verdict_on("barrel-nuts", a_finding("barrel-nuts", fitted=fitted))
    assert verdict.verdict is Verdict.REUSE


@pytest.mark.parametrize("typed", ["W205", "w 205", "hob:W-205", "R205", "W206"])
def test_a_number_that_serves_the_position_belongs_however_it_is_typed(typed: str) -> None:
    finding = a_finding("relief-spring", fitted=Fitted(number=typed))
    assert verdict_on("relief-spring", finding).verdict is Verdict.REUSE


@pytest.mark.parametrize("typed", ["W100", "W101"])
def test_an_old_number_and_its_successor_both_belong(typed: str) -> None:
    finding = a_finding("shells", fitted=Fitted(number=typed))
    assert verdict_on("shells", finding).verdict is Verdict.REUSE


def test_what_may_only_be_replaced_by_the_right_part_does_not_belong() -> None:
    """W206 may stand for W205, not the reverse: where W206 belongs W205 is wrong."""
    only_later = tuple(
        replace(fit, part=number("hob:W206")) if fit.position == "relief-spring" else fit
        for fit in FAMILY.fits
    )
    family = replace(FAMILY, fits=only_later)
    finding = a_finding("relief-spring", fitted=Fitted(number="W205"))
    verdicts = judge(family, a_bench(finding), SETTINGS)
    assert verdicts.by_position["relief-spring"].verdict is Verdict.WRONG_PART


def test_a_known_number_of_another_position_is_a_wrong_part() -> None:
    finding = a_finding("relief-spring", fitted=Fitted(number="W140"))
    assert verdict_on("relief-spring", finding).verdict is Verdict.WRONG_PART


def test_a_number_that_nobody_knows_settles_nothing() -> None:
    verdict = verdict_on("relief-spring", a_finding("relief-spring", fitted=Fitted(number="ZZ9")))
    assert verdict.verdict is Verdict.REUSE
    assert "not in the catalogue" in said(verdict)


def test_an_observation_counts_from_the_grade_its_rule_names() -> None:
    light = a_finding("shells", seen=(("scoring", "light"),))
    deep = a_finding("shells", seen=(("scoring", "deep"),))
    assert verdict_on("shells", light).verdict is Verdict.REUSE
    renewed = verdict_on("shells", deep)
    assert renewed.verdict is Verdict.RENEW
    assert renewed.because[0].rule == "scored-shells"


def test_the_gravest_opinion_decides_and_the_others_are_kept() -> None:
    finding = a_finding(
        "relief-spring", *read("spring-rate", "22 lbf/in", unit="lbf/in"), sound=True,
        fitted=Fitted(number="W140"),
    )  # fmt: skip
    verdict = verdict_on("relief-spring", finding)
    assert verdict.verdict is Verdict.WRONG_PART
    assert len(verdict.opinions) == 3


def test_a_named_persons_decision_stands_and_what_the_rules_said_is_kept() -> None:
    override = Override("shells", Verdict.REUSE, "", "M. Master", "run in only, seen worse", DAY)
    finding = a_finding("shells", seen=(("scoring", "deep"),))
    verdict = verdict_on("shells", finding, overrides=(override,))
    assert verdict.verdict is Verdict.REUSE
    assert verdict.ruled is Verdict.RENEW
    assert "M. Master" in said(verdict)
    assert "run in only" in said(verdict)


def test_a_position_without_a_finding_has_no_verdict() -> None:
    verdicts = judge(FAMILY, a_bench(), SETTINGS)
    assert verdicts.positions == ()


def test_a_drawing_tolerance_above_a_worn_limit_is_no_limit_of_use() -> None:
    """End float has a limit of use above only; below, the drawing's least still holds."""
    tight = a_finding("oil-pump", *read("pump-float", "0.0002"))
    assert verdict_on("oil-pump", tight).verdict is Verdict.RENEW


@given(st.lists(st.sampled_from(["light", "fingernail catches", "deep"]), min_size=1, max_size=4))
def test_more_seen_never_makes_a_verdict_milder(grades: list[str]) -> None:
    milder = GRAVITY.index(Verdict.REUSE)
    for count in range(1, len(grades) + 1):
        seen = tuple(("scoring", grade) for grade in grades[:count])
        gravity = GRAVITY.index(verdict_on("shells", a_finding("shells", seen=seen)).verdict)
        assert gravity >= milder
        milder = gravity
