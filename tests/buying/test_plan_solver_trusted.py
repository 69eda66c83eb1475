"""A solver's word that there is nothing is not taken for a proof, and a proof must be one."""

from decimal import Decimal

import pytest

from kitting.buying.planning.demand import LineWay, PlanLine, PlanSet, ShelfStock
from kitting.buying.planning.plan import _answer, make_plan
from kitting.buying.planning.solver import Effort, Outcome, Program, solve
from kitting.buying.planning.values import Aim
from kitting.catalog.model import PartNumber
from tests.buying.markets import a_supplier, an_offer, part_of
from tests.buying.test_plan_rules import a_problem

INF = float("inf")
# A market of four lines, two suppliers and a set, in one parcel; its cheapest plan costs 98.52.
ONE_PARCEL = Program(
    [0, 0, 0, 0, 347, 1, 74, -74, 1, 2184, 4368, 5307, 7076, 1237, 2029, 2507, 3661, 5491, 7321,
     0, 0, 0, 0, 0, 0],
    [1, 1, 1, 1, 1, 2000, 1, 1, 3500, *[1] * 16],
    [
        (1, 1, {0: 1}), (1, 1, {1: 1}), (1, 1, {2: 1}), (1, 1, {3: 1}),
        (-INF, 0, {9: 1, 10: 1, 11: 1, 12: 1, 4: -1}), (-INF, 0, {13: 1, 14: 1, 6: -1}),
        (-INF, 0, {15: 1, 16: 1, 17: 1, 18: 1, 4: -1}), (0, INF, {19: 1, 20: -1}),
        (0, INF, {15: 1, 16: 2, 17: 2, 18: 2, 20: -2}), (0, INF, {20: 1, 21: -1}),
        (0, INF, {15: 1, 16: 2, 17: 3, 18: 3, 21: -3}), (0, INF, {21: 1, 22: -1}),
        (0, INF, {15: 1, 16: 2, 17: 3, 18: 4, 22: -4}), (0, INF, {22: 1, 23: -1}),
        (0, INF, {15: 1, 16: 2, 17: 3, 18: 4, 23: -5}),
        (0, INF, {9: 1, 10: 2, 11: 3, 12: 4, 13: 1, 14: 2, 19: 2, 20: 2, 21: 2, 22: 2, 23: 1,
                  0: -3, 1: -2, 2: -1, 3: -3}),
        (0, INF, {15: 1, 16: 2, 17: 3, 18: 4, 19: -1, 20: -1, 21: -1, 22: -1, 23: -1}),
        *((0, INF, {15: 1, 16: 1, 17: 1, 18: 1, each: -1}) for each in range(19, 24)),
        (1, 1, {24: 1}), (0, 0, {0: 1, 24: -1}),
        (0, INF, {9: 2000, 10: 2000, 11: 2000, 12: 2000, 15: 2000, 16: 2000, 17: 2000, 18: 2000,
                  5: 1, 4: -2000}),
        (0, INF, {13: 2347, 14: 3850, 7: -4820}), (-INF, 0, {7: 1, 6: -1}),
        (0, INF, {13: 1237, 14: 2029, 8: 1, 6: -3500}), (-INF, 1, {4: 1, 6: 1}),
    ],
)  # fmt: skip


def test_no_plan_is_lost_by_what_the_solver_does_before_it_solves() -> None:
    for seed in range(1, 9):
        for reduced in (True, False):
            found = solve(ONE_PARCEL, Effort(20, seed), reduced=reduced)
            assert found.outcome is Outcome.PROVED
            assert ONE_PARCEL.value(found.values) == 9852


@pytest.mark.parametrize("aim", Aim)
def test_eight_sets_are_not_bought_as_sixteen(aim: Aim) -> None:
    """A line may take a set whole, the same set is opened for others, and a pair stands beside."""
    first, second, third = part_of(1, "ash"), part_of(2, "ash"), part_of(3, "cedar")
    whole = part_of("set", "birch")

    def way(*parts: tuple[PartNumber, int]) -> LineWay:
        return LineWay(parts)

    lines = (
        PlanLine("J2", "0", "a", 1, (way((first, 1)), way((second, 2)))),
        PlanLine("J2", "1", "b", 3, (way((second, 3)), way((third, 3))), match="pair"),
        PlanLine("J1", "3", "c", 6, (way((second, 12), (third, 1)), way((whole, 1)))),
        PlanLine("J2", "4", "d", 6, (way((second, 6)), way((third, 6))), match="pair"),
    )
    problem = a_problem(
        lines,
        (an_offer("s", third, "14.83", stock=8), an_offer("s", whole, "49.35", pack=2)),
        (a_supplier("s", "2.61", free_over="66.72"),),
        (PlanSet(whole, ((first, 1), (second, 1))),),
        (ShelfStock(second, 2),),
    )
    plan = make_plan(problem, aim)
    assert (plan.total, plan.proof.proved) == (Decimal("197.40"), True)


def test_a_known_plan_is_not_called_the_cheapest_because_the_solver_finds_none() -> None:
    """Here the plan that is 'known' breaks a row, so that the solver finds nothing twice."""
    program = Program([5, 7], [1, 1], [(3, INF, {0: 1, 1: 1})])
    answer = _answer(program, a_problem((), ()), known=(1, 1))
    assert answer.outcome is Outcome.STOPPED
    assert answer.values == (1, 1)
