"""What the solver may leave out of sight: only what costs more than a plan that is known."""

from itertools import product

from hypothesis import example, given, settings
from hypothesis import strategies as st

from kitting.buying.planning.solver import Effort, Outcome, Program, relaxed, solve

EFFORT = Effort(20, 1)


@st.composite
def programs(draw: st.DrawFn) -> Program:
    """A few columns, and rows that ask for so much of them."""
    program = Program()
    for _ in range(draw(st.integers(1, 6))):
        program.column(draw(st.integers(-30, 90)), draw(st.integers(1, 2)))
    for _ in range(draw(st.integers(0, 4))):
        terms = {column: draw(st.integers(-2, 5)) for column in range(len(program.costs))}
        program.at_least(draw(st.integers(-3, 8)), terms)
    return program


def solutions(program: Program) -> list[tuple[int, ...]]:
    every = product(*(range(high + 1) for high in program.highs))
    return [
        values
        for values in every
        if all(
            low <= sum(factor * values[column] for column, factor in terms.items()) <= high
            for low, high, terms in program.rows
        )
    ]


@settings(max_examples=150, deadline=None)
@given(programs(), st.integers(0, 40))
def test_no_solution_as_cheap_as_the_known_one_is_out_of_reach(program: Program, more: int) -> None:
    every = solutions(program)
    in_part = relaxed(program, EFFORT)
    if not every or in_part is None:
        assert not every
        return
    worth = min(program.value(each) for each in every) + more
    fixed = in_part.out_of_reach(program, worth)
    for each in every:
        if program.value(each) <= worth:
            assert all(each[column] == value for column, value in fixed.items())


@settings(max_examples=60, deadline=None)
@given(programs())
@example(Program([40, 41, -2], [2, 2, 2], [(5, float("inf"), {0: 3, 1: 4, 2: -2})]))
def test_where_the_known_solution_is_the_cheapest_nothing_cheaper_is_found(
    program: Program,
) -> None:
    every = solutions(program)
    if not every:
        assert solve(program, EFFORT).outcome is Outcome.IMPOSSIBLE
        return
    least = min(program.value(each) for each in every)
    found = solve(program, EFFORT, worth=least)
    assert found.outcome is Outcome.PROVED
    assert program.value(found.values) == least
    assert solve(program, EFFORT, worth=least - 1).outcome is Outcome.IMPOSSIBLE
