"""A second solver, given the same markets in another form, agrees to the penny."""

from kitting.buying.planning.plan import make_plan
from tests.buying.markets import Size, a_market
from tests.buying.second_solver import second_opinion

SIZE = Size(lines=14, jobs=2, parts=12, suppliers=4, sets=4, breaks=2, matched=30, least_orders=25)


def test_a_second_solver_finds_the_same_least_cost_in_every_market() -> None:
    for seed in range(12):
        problem = a_market(seed, SIZE)
        plan = make_plan(problem)
        cost, proved = second_opinion(problem)
        assert proved, seed
        assert plan.proof.proved, seed
        assert plan.total == cost, seed
