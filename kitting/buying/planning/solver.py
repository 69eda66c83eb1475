"""A linear program in whole numbers, and HiGHS to solve it: silent, on one thread, seeded."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

# Every objective is a whole number, so a bound nearer than one proves the optimum.
_NEAR_ENOUGH = 0.9
_INFINITE = float("inf")
# What the solver's prices may be wrong by, as a part of the cost: its own tolerance is 1e-7.
_SLACK = 1e-6


class Outcome(StrEnum):
    """How a run ended."""

    PROVED = "proved"
    STOPPED = "stopped"
    IMPOSSIBLE = "impossible"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Answer:
    """The values found, and the least that any solution could come to (the bound)."""

    outcome: Outcome
    values: tuple[int, ...] = ()
    bound: float = -_INFINITE


@dataclass(slots=True)
class Program:
    """Minimise whole-number columns under rows; built up, then solved any number of times."""

    costs: list[int] = field(default_factory=list)
    highs: list[int] = field(default_factory=list)
    rows: list[tuple[float, float, dict[int, int]]] = field(default_factory=list)

    def column(self, cost: int = 0, high: int = 1) -> int:
        """Add a column from 0 to `high`, and return its number."""
        self.costs.append(cost)
        self.highs.append(high)
        return len(self.costs) - 1

    def at_least(self, low: int, terms: Mapping[int, int]) -> None:
        """Add a row: the sum is at least `low`."""
        self.rows.append((low, _INFINITE, dict(terms)))

    def at_most(self, high: int, terms: Mapping[int, int]) -> None:
        """Add a row: the sum is at most `high`."""
        self.rows.append((-_INFINITE, high, dict(terms)))

    def exactly(self, value: int, terms: Mapping[int, int]) -> None:
        """Add a row: the sum is `value`."""
        self.rows.append((value, value, dict(terms)))

    def value(self, values: Sequence[int]) -> int:
        """What the objective comes to."""
        return sum(cost * value for cost, value in zip(self.costs, values, strict=True))


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to try: seconds, and the seed that makes runs alike."""

    seconds: float
    seed: int


def solve(
    program: Program,
    effort: Effort,
    fixed: Mapping[int, int] | None = None,
    start: Sequence[int] | None = None,
    near: float = 0.0,
    worth: int | None = None,
    *,
    reduced: bool = True,
) -> Answer:
    """Minimise, with some columns fixed, or come as near as a part `near` of the cost.

    Unless it is to be `reduced` first the program is solved as it stands: slower, and surer. Where
    every solution is dearer than `worth`, the outcome is the same as where there is none.
    `start` is a solution to begin from; it changes how long it takes, never what is found when the
    optimum is proved, save among plans that cost the same.
    """
    bounds = [(0, high) for high in program.highs]
    for column, value in (fixed or {}).items():
        bounds[column] = (value, value)
    if not bounds:
        broken = any(low > 0 or high < 0 for low, high, _ in program.rows)
        return Answer(Outcome.IMPOSSIBLE if broken else Outcome.PROVED, (), 0.0)
    answer = _run(program, bounds, effort, start, near, worth, reduced=reduced)
    if start is not None and not near and not _holds(program, answer):
        # HiGHS may prove a better solution than the start, and yet hand the start back.
        answer = _run(program, bounds, effort, None, near, worth, reduced=reduced)
    if not _holds(program, answer):
        return Answer(Outcome.STOPPED, answer.values, answer.bound)
    if worth is not None and _proves_dearer(program, answer, worth):
        # HiGHS may end with such a solution, and then its bound says nothing.
        return Answer(Outcome.IMPOSSIBLE)
    return answer


def _proves_dearer(program: Program, answer: Answer, worth: int) -> bool:
    """Whether the run was carried to its end, and came upon nothing that is worth it."""
    return answer.outcome is Outcome.PROVED and program.value(answer.values) > worth


def _holds(program: Program, answer: Answer) -> bool:
    """Whether a solution that is called proved is as good as its bound says."""
    proved = answer.outcome is Outcome.PROVED
    return not proved or program.value(answer.values) - answer.bound < 1


def _run(
    program: Program,
    bounds: list[tuple[int, int]],
    effort: Effort,
    start: Sequence[int] | None,
    near: float,
    worth: int | None,
    *,
    reduced: bool,
) -> Answer:
    import highspy

    solver = _silent_solver(highspy, effort)
    solver.setOptionValue("mip_rel_gap", near)
    solver.setOptionValue("mip_abs_gap", _NEAR_ENOUGH)
    # Starting again at the root was found to cost more than it brings.
    solver.setOptionValue("mip_allow_restart", False)
    if not reduced:
        solver.setOptionValue("presolve", "off")
    if worth is not None:
        solver.setOptionValue("objective_bound", worth + 0.5)
    solver.passModel(_as_lp(program, bounds, highspy))
    if start is not None:
        solution = highspy.HighsSolution()
        solution.col_value = [float(each) for each in start]
        solver.setSolution(solution)
    solver.run()
    return _answer(solver, highspy)


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The least cost where decisions may be taken in part, and what each column would add to it."""

    bound: float
    prices: tuple[float, ...]

    def out_of_reach(self, program: Program, worth: int) -> dict[int, int]:
        """The columns that stay where they are in every solution that costs no more than `worth`.

        Moving such a column by one takes the cost beyond it, whatever the others do. The solver's
        figures are nearly right only: so much is left for that, and no whole unit less than one.
        """
        room = worth - self.bound + max(1.0, abs(worth) * _SLACK)
        keep = {column: 0 for column, price in enumerate(self.prices) if price > room}
        highs = program.highs
        return keep | {c: highs[c] for c, price in enumerate(self.prices) if price < -room}


def relaxed(program: Program, effort: Effort) -> Relaxed | None:
    """Solve with decisions taken in part where that is cheaper; None where it is not settled."""
    import highspy

    solver = _silent_solver(highspy, effort)
    lp = _as_lp(program, [(0, high) for high in program.highs], highspy)
    lp.integrality_ = [highspy.HighsVarType.kContinuous] * len(program.highs)
    solver.passModel(lp)
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    bound = float(solver.getInfo().objective_function_value)
    return Relaxed(bound, tuple(float(each) for each in solver.getSolution().col_dual))


def _silent_solver(highspy: Any, effort: Effort) -> Any:
    """HiGHS greets on stdout as soon as it is made, unless it is told not to before that."""

    def say_nothing(solver: Any) -> None:
        solver.setOptionValue("output_flag", False)

    solver = type("Silent", (highspy.Highs,), {"enableCallbacks": say_nothing})()
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", effort.seed)
    solver.setOptionValue("time_limit", effort.seconds)
    return solver


def _as_lp(program: Program, bounds: list[tuple[int, int]], highspy: Any) -> Any:
    import numpy as np

    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(bounds), len(program.rows)
    lp.col_cost_ = np.array(program.costs, dtype=np.double)
    lp.col_lower_ = np.array([low for low, _ in bounds], dtype=np.double)
    lp.col_upper_ = np.array([high for _, high in bounds], dtype=np.double)
    lp.row_lower_ = np.array([low for low, _, _ in program.rows], dtype=np.double)
    lp.row_upper_ = np.array([high for _, high, _ in program.rows], dtype=np.double)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(bounds)
    matrix = lp.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kRowwise
    matrix.num_col_, matrix.num_row_ = len(bounds), len(program.rows)
    starts = np.cumsum([0, *(len(terms) for _, _, terms in program.rows)])
    matrix.start_ = starts.astype(np.int32)
    columns = [column for _, _, terms in program.rows for column in terms]
    matrix.index_ = np.array(columns, dtype=np.int32)
    factors = [factor for _, _, terms in program.rows for factor in terms.values()]
    matrix.value_ = np.array(factors, dtype=np.double)
    return lp


def _answer(solver: Any, highspy: Any) -> Answer:
    status = solver.getModelStatus()
    found = solver.getInfo().primal_solution_status == highspy.kSolutionStatusFeasible
    kinds = highspy.HighsModelStatus
    if status in (kinds.kInfeasible, kinds.kUnboundedOrInfeasible):
        return Answer(Outcome.IMPOSSIBLE)
    bound = solver.getInfo().mip_dual_bound
    if not found:
        return Answer(Outcome.UNKNOWN, bound=bound)
    values = tuple(round(value) for value in solver.getSolution().col_value)
    return Answer(Outcome.PROVED if status == kinds.kOptimal else Outcome.STOPPED, values, bound)
