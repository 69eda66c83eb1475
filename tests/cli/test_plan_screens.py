"""Buying plans on the screen: shares of several jobs, what is not planned, and why more comes."""

from kitting.buying.planning.plan import compare
from kitting.cli.plan_screens import plans_text
from tests.buying.markets import a_line, a_supplier, an_offer
from tests.buying.test_plan_rules import BOLT, WASHER, a_problem


def test_several_jobs_have_their_shares_and_a_plan_of_a_part_of_the_kit_says_so() -> None:
    lines = (a_line("1", (WASHER, 4), job="A"), a_line("1", (WASHER, 3), job="B"))
    problem = a_problem(
        lines, (an_offer("north", WASHER, "7.77", pack=10),), (a_supplier("north", "5.00"),)
    )
    text = plans_text(problem, compare(problem).each, ["part 2: left out as asked"])
    rows = [line.split() for line in text.splitlines()]
    assert ["A", "7.30", "7.30", "7.30"] in rows
    assert ["B", "5.47", "5.47", "5.47"] in rows
    assert "Not for the whole kit: 1 line is in no plan, as told at the end." in text
    assert "comes and is not needed: 3 × ash:P3, North sells 10 in a pack" in text


def test_one_job_planned_whole_has_neither_shares_nor_a_warning() -> None:
    problem = a_problem((a_line("1", (BOLT, 1)),), (an_offer("north", BOLT, "2.00"),))
    text = plans_text(problem, compare(problem).each, [])
    assert "share" not in text
    assert "whole kit" not in text
