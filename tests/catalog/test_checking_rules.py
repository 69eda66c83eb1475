"""Rules must name what is there, be able to fire, and not run in a circle."""

from dataclasses import replace

import pytest

from kitting.catalog.check import check_family
from kitting.catalog.model import Verdict
from kitting.catalog.rules import Consequence, Judgement, Observation, Then, When
from tests.builders import a_consequence, a_fit, a_judgement, a_position, aim
from tests.wren import tiny_family

RENEW, WORK = Then.RENEW, Then.OPERATION


def faults_with(*rules: Consequence | Judgement) -> list[str]:
    """The faults of the Wren with these rules beside its own."""
    family = tiny_family()
    consequences = tuple(rule for rule in rules if isinstance(rule, Consequence))
    judgements = tuple(rule for rule in rules if isinstance(rule, Judgement))
    more = replace(
        family,
        consequences=family.consequences + consequences,
        judgements=family.judgements + judgements,
    )
    return [str(problem) for problem in check_family(more, {}).faults]


@pytest.mark.parametrize(
    ("of", "said"),
    [
        ("shels", "there is no position 'shels'; did you mean 'shells'?"),
        ("kind:gaskit", "there is no position of kind 'gaskit'; did you mean 'gasket'?"),
        ("assembly:botom-end", "there is no assembly 'botom-end'; did you mean 'bottom-end'?"),
        ("table:crankpins", "there is no size table 'crankpins'; did you mean 'crankpin'?"),
        ("kind:gasket@lubrication", "reaches no position, so this can never fire"),
        ("kind:gasket@oil", "there is no assembly 'oil'"),
    ],
)
def test_a_rule_that_aims_at_nothing_is_caught(of: str, said: str) -> None:
    rule = a_consequence("new", When.RENEW, of, RENEW, "head-gasket")
    assert any(f"consequences new, column of: {said}" in f or said in f for f in faults_with(rule))
    back = a_consequence("new", When.RENEW, "barrel", RENEW, of)
    assert any(said in f and "column to" in f for f in faults_with(back))


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        (a_consequence("new", When.OPERATION, "operation:plate", RENEW, "rod"),
         "nothing demands the operation 'plate', so this can never fire"),
        (a_consequence("new", When.STRIPPED, "barrel", RENEW, "rod"),
         "when stripped speaks of an assembly, and 'barrel' is none"),
        (a_consequence("new", When.OPERATION, "barrel", RENEW, "rod"),
         "when operation speaks of an operation"),
        (a_consequence("new", When.RENEW, "operation:regrind", RENEW, "rod"),
         "an operation is not renew"),
        (a_consequence("new", When.RENEW, "barrel", WORK, "rod"),
         "an operation is demanded and not named"),
        (a_consequence("new", When.RENEW, "barrel", RENEW, "rod", operation="regrind"),
         "renew needs no operation"),
        (a_consequence("new", When.RENEW, "barrel", RENEW, "operation:regrind"),
         "renew falls on a position, and 'operation:regrind' is work"),
        (a_consequence("new", When.RENEW, "barrel", RENEW, "rod", seen=("flecks", "few")),
         "nothing is seen when renew"),
        (a_consequence("new", When.SEEN, "sump-filter", RENEW, "rod", seen=("fleks", "few")),
         "there is no observation 'fleks'; did you mean 'flecks'?"),
        (a_consequence("new", When.SEEN, "sump-filter", RENEW, "rod", seen=("flecks", "lots")),
         "'lots' is no grade of flecks; use one of none, few, many"),
        (a_consequence("new", When.SEEN, "barrel", RENEW, "rod", seen=("flecks", "few")),
         "flecks is looked for on filter, and barrel is none of these, so this can never fire"),
        (a_judgement("new", "scoring", "deep", "crank", Verdict.RENEW),
         "scoring is looked for on shell, and crank is none of these"),
        (a_judgement("new", "scoring", "deep", "shells", Verdict.REWORK),
         "rework without an operation; name the work"),
        (a_judgement("new", "scoring", "deep", "operation:regrind", Verdict.RENEW),
         "nothing is seen of an operation"),
    ],
)  # fmt: skip
def test_a_rule_that_says_nonsense_or_can_never_fire_is_caught(
    rule: Consequence | Judgement, said: str
) -> None:
    assert any(said in fault for fault in faults_with(rule)), faults_with(rule)


def test_rules_that_run_in_a_circle_are_told_with_their_chain() -> None:
    rules = (
        a_consequence("out", When.RENEW, "barrel", RENEW, "piston"),
        a_consequence("and-back", When.RENEW, "kind:piston", RENEW, "kind:barrel"),
    )
    (fault,) = faults_with(*rules)
    assert "run in a circle: renew " in fault
    assert "renew barrel → renew piston" in fault or "renew piston → renew barrel" in fault


def test_a_circle_through_an_operation_is_told() -> None:
    rules = (
        a_consequence("worn", When.RENEW, "shells", WORK, "crank", operation="polish"),
        a_consequence("polished", When.OPERATION, "operation:polish", RENEW, "shells"),
    )
    (fault,) = faults_with(*rules)
    assert "polish crank" in fault
    assert "renew shells" in fault


def test_a_circle_that_no_variant_has_whole_is_none() -> None:
    family = tiny_family()
    positions = tuple(
        replace(p, variants={"barrel": ("mark-1",), "piston": ("mark-2",)}.get(p.key, p.variants))
        for p in family.positions
    )
    rules = (
        a_consequence("out", When.RENEW, "barrel", RENEW, "piston"),
        a_consequence("back", When.RENEW, "piston", RENEW, "barrel"),
    )
    changed = replace(family, positions=positions, consequences=rules)
    assert not [f for f in check_family(changed, {}).faults if "circle" in f.wrong]


def test_two_circles_are_both_told() -> None:
    rules = tuple(
        a_consequence(f"{one}-{other}", When.RENEW, one, RENEW, other)
        for one, other in (
            ("barrel", "piston"), ("piston", "barrel"), ("rod", "crank"), ("crank", "rod")
        )
    )  # fmt: skip
    assert len([fault for fault in faults_with(*rules) if "circle" in fault]) == 2


def test_an_observation_of_one_grade_and_of_a_kind_that_is_none_is_caught() -> None:
    family = tiny_family()
    odd = Observation("odd", "Odd", ("yes",), ("sprocket",))
    report = check_family(replace(family, observations=(*family.observations, odd)), {})
    assert [str(fault) for fault in report.faults] == [
        "observations odd, column grades: one grade alone says nothing; from none to the worst",
        "observations odd, column kinds: there is no position of kind 'sprocket'",
    ]


def test_hours_for_nothing_and_hours_said_twice_are_caught() -> None:
    family = tiny_family()
    first = family.labour[0]
    more = (*family.labour, first, replace(first, of=aim("kind:gear")))
    report = check_family(replace(family, labour=more), {})
    assert [fault.wrong for fault in report.faults] == [
        "hours to strip assembly:bottom-end are there twice",
        "there is no position of kind 'gear'",
    ]


def test_a_rule_between_positions_that_no_variant_has_together_is_caught() -> None:
    family = tiny_family()
    early = a_position("lead-washer", "bottom-end", "washer", variants=("mark-1",))
    rule = a_consequence("new", When.RENEW, "tab-washer", RENEW, "lead-washer")
    more = replace(
        family,
        positions=(*family.positions, early),
        fits=(*family.fits, a_fit("lead-washer", "hob:W150")),
        consequences=(*family.consequences, rule),
    )
    assert [str(problem) for problem in check_family(more, {}).faults] == [
        "consequences new, column to: no variant has both tab-washer and lead-washer, so this can "
        "never fire; look at the variants of their positions"
    ]


def test_a_question_from_which_nothing_follows_is_warned_of() -> None:
    family = tiny_family()
    idle = Observation("smell", "Smell", ("none", "burnt"))
    report = check_family(replace(family, observations=(*family.observations, idle)), {})
    assert report.faults == ()
    assert "observations smell: nothing follows from smell, however bad it is" in str(
        report.warnings[-1]
    )
