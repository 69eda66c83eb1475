"""`kitting order plan`: the cheapest sound way to buy, the soonest, and that in fewest parcels."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

import click

from kitting.buying.orders import OrderState
from kitting.cli.answer import Answer, reads
from kitting.cli.opened import on_day, path_within

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence
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


def buying_terms(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the terms on which a plan is made."""
    for option in (
        click.option("--not-from", "not_from", multiple=True, help="A supplier that is not used."),
        click.option("--not-made-by", "not_made_by", multiple=True, help="A maker not wanted."),
        click.option("--rather", default="", help="A maker whose parts are preferred."),
        click.option(
            "--premium", default="0", help="By how many per cent his parts may cost more."
        ),
        click.option(
            "--returns-to",
            "returns_to",
            multiple=True,
            help="A supplier that takes held parts on sale or return.",
        ),
        click.option(
            "--even-from",
            "again",
            multiple=True,
            help="Ask this supplier again for what failed with him for this job.",
        ),
        click.option(
            "--seconds", type=click.FloatRange(1, 600), default=20.0, help="Time for each plan."
        ),
    ):
        function = option(function)
    return function


def asked_again(work: UnitOfWork, before: Before, terms: Mapping[str, Any]) -> Before:
    """What came before, without the failures of those who are asked again all the same.

    Raises:
        NotFound: no such supplier.
    """
    from kitting.catalog.nearest import nearest
    from kitting.errors import NotFound

    known = work.trade.trade(()).supplier_by_key
    for key in terms["again"]:
        if key not in known:
            raise NotFound("supplier", key, nearest(key, known, 3))
    return replace(before, failures=replace(before.failures, again=frozenset(terms["again"])))


def policy_of(work: UnitOfWork, terms: Mapping[str, Any]) -> Policy:
    """The policy that a command's terms say.

    Raises:
        BadInput: a supplier or maker that is not known, or a premium that is no number.
    """
    from kitting.buying.demand import Policy
    from kitting.catalog.nearest import nearest
    from kitting.errors import BadInput, NotFound, Problem

    trade = work.trade.trade(())
    makers = {maker.key for maker in trade.makers}
    for key in (*terms["not_from"], *terms["returns_to"]):
        if key not in trade.supplier_by_key:
            raise NotFound("supplier", key, nearest(key, trade.supplier_by_key, 3))
    for key in (*terms["not_made_by"], *filter(None, (terms["rather"],))):
        if key not in makers:
            raise NotFound("maker", key, nearest(key, makers, 3))
    typed = str(terms["premium"])
    if not typed.replace(".", "", 1).isdecimal():
        raise BadInput(Problem("--premium", f"'{typed}' is no number of per cent", "such as 10"))
    return Policy(
        banned_makers=frozenset(terms["not_made_by"]),
        banned_suppliers=frozenset(terms["not_from"]),
        preferred_maker=terms["rather"],
        premium=Decimal(typed),
        sale_or_return=frozenset(terms["returns_to"]),
        time_limit=float(terms["seconds"]),
    )


def planned_for(
    work: UnitOfWork, jobs: Sequence[str], policy: Policy, before: Before, day: date | None
) -> Planned:
    """What of the jobs' kits is still to be bought, and what no plan can hold."""
    from kitting.buying.drafting_plan import still_to_plan, why_not_planned
    from kitting.buying.plan_clash import lines_without_plan
    from kitting.buying.plan_of_jobs import problem_of, without_part

    paths = tuple(path_within(work, job, day) for job in dict.fromkeys(jobs))
    whole = problem_of(paths, policy, _shelf(work, paths))
    problem = still_to_plan(whole, paths, before)
    hopeless = tuple(lines_without_plan(problem))
    left_out = [f"{line.name} (job {job}): {line.problem}" for job, line in without_part(paths)]
    unsold = "nobody sells it at a price that is valid today"
    left_out += [f"{line}: {why_not_planned(line, problem, before) or unsold}" for line in hopeless]
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
    best. Held lines stay out, unless a supplier takes them on sale or return. What failed with a
    supplier for a job is not asked of him again for that job.

    \b
    Examples:
      kitting order plan 26-041
      kitting order plan 26-041 26-050 --why cheapest
      kitting order plan 26-041 --not-from calder-flats
      kitting order plan 26-041 --even-from thornhay
    """
    from kitting.buying.drafting_plan import failed_before
    from kitting.buying.plan import compare
    from kitting.buying.plan_reasons import reasons_of
    from kitting.buying.standing import before_of
    from kitting.cli.plan_screens import plans_text, reasons_text
    from kitting.store import Database

    with Database().read() as work:
        records = work.orders.records()
        drafts = {each.order.number for each in records if each.state is OrderState.DRAFT}
        before = asked_again(work, before_of(records, leave_out=drafts), terms)
        planned = planned_for(work, jobs, policy_of(work, terms), before, day)
    plans = compare(planned.problem).each
    told = failed_before(before, planned.problem, plans)
    chosen = plans[AIMS.index(aim)] if aim else None
    reasons = reasons_of(planned.problem, chosen) if chosen else ()

    def shape() -> object:
        from kitting.cli.shapes.plan import PlansShape, plan_shape

        shown = [plan_shape(each, reasons if each is chosen else ()) for each in plans]
        return PlansShape(list(jobs), shown, list(planned.left_out), list(told))

    if chosen:
        return shape, lambda: reasons_text(chosen, reasons, planned.left_out, told)
    return shape, lambda: plans_text(plans, planned.left_out, told)
