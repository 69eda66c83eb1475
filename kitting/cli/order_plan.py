"""`kitting order plan`: the cheapest sound way to buy, the soonest, and that in fewest parcels."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

import click

from kitting.buying.orders import OrderState
from kitting.cli.answer import Answer, reads
from kitting.cli.buying_terms import buying_terms, policy_of
from kitting.cli.opened import on_day, path_within

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from typing import Any

    from kitting.buying.demand import PlanProblem, Policy, ShelfStock
    from kitting.buying.drafting import Before
    from kitting.catalog.model import PartNumber
    from kitting.job.path import JobPath
    from kitting.store import UnitOfWork

AIMS = ("cheapest", "soonest", "fewest")


@dataclass(frozen=True)
class Planned:
    """The jobs' paths, the problem to plan, and what no plan can hold: a sentence each."""

    paths: tuple[JobPath, ...]
    problem: PlanProblem
    left_out: tuple[str, ...]


def planned_for(
    work: UnitOfWork, jobs: Sequence[str], policy: Policy, before: Before, day: date | None
) -> Planned:
    """What of the jobs' kits is still to be bought, and what no plan can hold."""
    from kitting.buying.drafting_plan import still_to_plan
    from kitting.buying.plan_clash import lines_without_plan
    from kitting.buying.plan_of_jobs import problem_of, without_part

    paths = tuple(path_within(work, job, day) for job in dict.fromkeys(jobs))
    whole = problem_of(paths, policy, _shelf(work, paths))
    problem = still_to_plan(whole, paths, before)
    hopeless = tuple(lines_without_plan(problem))
    left_out = [f"{line.name} (job {job}): {line.problem}" for job, line in without_part(paths)]
    left_out += [f"{line}: nobody sells it at a price that is valid today" for line in hopeless]
    kept = tuple(line for line in problem.lines if line not in hopeless)
    return Planned(paths, replace(problem, lines=kept), tuple(left_out))


def _shelf(work: UnitOfWork, paths: Iterable[JobPath]) -> tuple[ShelfStock, ...]:
    from kitting.buying.demand import ShelfStock

    parts = {part.number for path in paths for part in path.family.parts}
    free: dict[PartNumber, int] = {}
    for item in work.shelf.items(parts):
        free[item.part] = free.get(item.part, 0) + item.quantity
    return tuple(ShelfStock(part, count) for part, count in sorted(free.items()) if count)


@click.command()
@click.argument("jobs", nargs=-1, required=True, metavar="JOB...")
@click.option("--why", "aim", type=click.Choice(AIMS), help="Every line of one plan, with why.")
@buying_terms
@on_day
@reads("plan:PlansShape")
def plan(jobs: tuple[str, ...], aim: str | None, day: date | None, **terms: Any) -> Answer:
    """Plan the buying for one or several jobs: cheapest, soonest, fewest parcels.

    Packs, price breaks, carriage and its free-over, least orders, sets, what the supplier has and
    the shop's own shelf are all weighed; the plan is proved, or says how far it may be from the
    best. Held lines stay out, unless a supplier takes them on sale or return. A used part is not
    bought for a critical position (one that the job cannot be closed without a figure of), unless
    asked for.

    \b
    Examples:
      kitting order plan 26-041
      kitting order plan 26-041 26-050 --why cheapest
      kitting order plan 26-041 --not-from calder-flats --within 7
      kitting order plan 26-041 --not-of used --not-where-critical pattern
    """
    from kitting.buying.plan import compare
    from kitting.buying.plan_reasons import reasons_of
    from kitting.buying.standing import before_of
    from kitting.cli.plan_screens import plans_text, reasons_text
    from kitting.store import Database

    with Database().read() as work:
        records = work.orders.records()
        drafts = {each.order.number for each in records if each.state is OrderState.DRAFT}
        before = before_of(records, leave_out=drafts)
        planned = planned_for(work, jobs, policy_of(work, terms), before, day)
    plans = compare(planned.problem).each
    chosen = plans[AIMS.index(aim)] if aim else None
    reasons = reasons_of(planned.problem, chosen) if chosen else ()

    def shape() -> object:
        from kitting.cli.shapes.plan import PlansShape, plan_shape

        shown = [plan_shape(each, reasons if each is chosen else ()) for each in plans]
        return PlansShape(list(jobs), shown, list(planned.left_out))

    if chosen:
        return shape, lambda: reasons_text(chosen, reasons, planned.left_out)
    return shape, lambda: plans_text(plans, planned.left_out)
