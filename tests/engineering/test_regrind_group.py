"""Journals ground together."""

from dataclasses import replace

import pytest

from kitting.engineering.regrind_group import choose_for_group
from kitting.errors import BadInput
from tests.engineering.regrind_cases import TABLE, inch
from tests.engineering.test_regrind import JOURNAL, readings

GOOD = replace(JOURNAL, readings=readings("1.7002", "1.7001"))
SCORED = replace(JOURNAL, score_depth=inch("0.006"))


def test_one_ground_means_all_ground_to_the_deepest() -> None:
    choice = choose_for_group([("left", GOOD), ("right", SCORED)])
    assert choice.needed
    assert choice.likely is TABLE[2]
    assert choice.likely_set_by == ("right",)
    assert choice.because.startswith("right must be ground, and one ground means all ground")


def test_a_group_in_limits_is_left_alone() -> None:
    assert choose_for_group([("left", GOOD), ("right", GOOD)]).because == (
        "no journal of the group needs grinding"
    )


def test_one_journal_without_a_grade_leaves_the_group_without() -> None:
    spoilt = replace(JOURNAL, score_depth=inch("0.050"))
    choice = choose_for_group([("left", GOOD), ("right", spoilt)])
    assert choice.likely is choice.worst is None
    assert choice.worst_set_by == ("right",)
    assert "no grade is left for right" in choice.because


def test_journals_of_two_tables_are_not_ground_together() -> None:
    with pytest.raises(BadInput, match="right: its grade table is not that of left"):
        choose_for_group([("left", GOOD), ("right", replace(GOOD, grades=TABLE[:3]))])


def test_the_problems_of_every_journal_come_together() -> None:
    spoilt = replace(GOOD, readings=readings("1.7002"))
    with pytest.raises(BadInput) as refused:
        choose_for_group([("left", spoilt), ("right", replace(GOOD, stock=inch("-1")))])
    assert [problem.place for problem in refused.value.problems] == [
        "left, readings",
        "right, stock",
    ]


def test_an_empty_group_is_refused() -> None:
    with pytest.raises(BadInput, match="it has no journal"):
        choose_for_group([])
