from kitting.catalog.rules import Then
from kitting.job.consequences import Demands, follow
from kitting.job.findings import Finding
from kitting.job.settings import Settings
from kitting.job.verdicts import judge
from tests.builders import q
from tests.job.benches import a_bench, a_finding, read
from tests.wren import tiny_family

FAMILY = tiny_family()
SETTINGS = Settings({"micrometer": q("0.0001 in")})


def demands_of(*findings: Finding, stripped: tuple[str, ...] = ("bottom-end",)) -> Demands:
    return follow(FAMILY, judge(FAMILY, a_bench(*findings, stripped=stripped), SETTINGS))


SCORED = a_finding("shells", seen=(("scoring", "deep"),))
OVAL = a_finding("crank", *read("crankpin-diameter", "1.4992", "1.4982", "1.4991", "1.4990"))


def test_stripping_an_assembly_renews_its_gaskets_and_tab_washers_and_no_others() -> None:
    assert set(demands_of().renewed) == {"case-gasket", "tab-washer"}


def test_an_assembly_left_alone_demands_nothing() -> None:
    assert demands_of(stripped=()).demands == ()


def test_scored_shells_take_their_bolts_and_ask_for_the_pump() -> None:
    demands = demands_of(SCORED)
    assert {"shells", "rod-bolts"} <= set(demands.renewed)
    assert [d.position for d in demands.of(Then.CHECK)] == ["oil-pump"]


def test_a_regrind_renews_the_shells_and_asks_for_a_crack_test_and_each_says_why() -> None:
    demands = demands_of(OVAL)
    assert ("regrind", "crank") in demands.operations
    assert ("crack-test", "crank") in demands.operations
    chain = [step.says for _, step in demands.renewed["shells"].reasons[0].steps()]
    assert any("ovality 0.0010 in" in says for says in chain)


def test_the_chain_is_followed_to_the_end() -> None:
    """An oval pin: regrind, so shells, so bolts with them, so a look at the pump."""
    demands = demands_of(OVAL)
    assert "rod-bolts" in demands.renewed
    check = demands.of(Then.CHECK)[0]
    assert "ovality" in check.reasons[0].root.says


def test_what_two_rules_ask_for_is_demanded_once_with_both_reasons() -> None:
    demands = demands_of(OVAL, SCORED)
    assert len([d for d in demands.of(Then.RENEW) if d.position == "shells"]) == 1
    assert len(demands.renewed["shells"].reasons) == 2


def test_flecks_count_from_the_grade_that_the_rule_names() -> None:
    none = a_finding("sump-filter", seen=(("flecks", "none"),))
    many = a_finding("sump-filter", seen=(("flecks", "many"),))
    assert not demands_of(none).of(Then.CHECK)
    assert [d.position for d in demands_of(many).of(Then.CHECK)] == ["relief-spring"]


def test_the_order_of_the_findings_does_not_change_what_is_demanded() -> None:
    there = {(d.then, d.position, d.operation) for d in demands_of(OVAL, SCORED).demands}
    back = {(d.then, d.position, d.operation) for d in demands_of(SCORED, OVAL).demands}
    assert there == back
