"""`kitting order plan`: the cheapest sound way to buy, the soonest, and that in fewest parcels."""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

import click

from kitting.buying.orders import OrderState
from kitting.cli.answer import Answer, reads
from kitting.cli.buying_terms import buying_terms, policy_of
from kitting.cli.opened import on_day, path_within
from kitting.errors import BadInput, NotFound, Problem, Problems

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence
    from typing import Any

    from kitting.buying.drafting import Before
    from kitting.buying.planning.demand import PlanProblem, Policy, ShelfStock
    from kitting.buying.planning.reasons import Reason
    from kitting.buying.planning.values import Plan
    from kitting.buying.standing import OrderRecord
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


def asked_again(work: UnitOfWork, before: Before, terms: Mapping[str, Any]) -> Before:
    """What came before, without the failures of those who are asked again all the same.

    Raises:
        NotFound: no such supplier.
    """
    from kitting.catalog.nearest import nearest

    known = work.trade.trade(()).supplier_by_key
    for key in terms["again"]:
        if key not in known:
            raise NotFound("supplier", key, nearest(key, known, 3))
    return replace(before, failures=replace(before.failures, again=frozenset(terms["again"])))


def planned_for(
    work: UnitOfWork,
    jobs: Sequence[str],
    policy: Policy,
    before: Before,
    day: date | None,
    leave_out: Sequence[str] = (),
) -> Planned:
    """What of the jobs' kits is still to be bought, and what no plan can hold.

    Raises:
        BadInput: a line to be left out that is not there.
    """
    from kitting.buying.drafting_plan import still_to_plan, why_not_planned
    from kitting.buying.planning.conditions import Rule
    from kitting.buying.planning.left_out import left_out_of
    from kitting.buying.planning.of_jobs import problem_of, without_part

    paths = tuple(path_within(work, job, day) for job in dict.fromkeys(jobs))
    _check_open(paths)
    whole = problem_of(paths, policy, _shelf(work, paths))
    asked = _asked(whole, leave_out)
    open_still = still_to_plan(whole, paths, before)
    wanted = tuple(line for line in open_still.lines if (line.job, line.key) not in asked)
    found = left_out_of(replace(open_still, lines=wanted))
    said = [f"{line.name} (job {job}): {line.problem}" for job, line in without_part(paths)]
    said += [
        f"{line}: left out as asked" for line in open_still.lines if (line.job, line.key) in asked
    ]
    for each in found.unsold:
        only_failed = {condition.rule for condition in each.conditions} == {Rule.FAILED}
        lines = each.lines if only_failed else ()
        failed = [why_not_planned(line, open_still, before) for line in lines]
        why = "; ".join(filter(None, failed))
        said.append(f"{each.named}: {why}" if why else each.unsold)
    return Planned(paths, found.problem, tuple(said))


def spare_told(
    work: UnitOfWork,
    records: Sequence[OrderRecord],
    paths: Iterable[JobPath],
    parts: Collection[PartNumber],
) -> tuple[str, ...]:
    """What earlier orders bring of parts that are to be bought, and nobody needs."""
    from kitting.buying.spares import spares_of
    from kitting.cli.order_common import JobsNow

    sets = {item: None for path in paths for item in path.family.set_items}
    spares = spares_of(records, sets, parts, JobsNow(work, records).wanted())
    are_sets = {item.set for item in sets}
    told = (
        replace(spare, on_shelf=work.shelf.free(spare.part), is_set=spare.part in are_sets)
        for spare in spares
    )
    return tuple(spare.sentence for spare in told)


def _open_jobs(work: UnitOfWork) -> tuple[str, ...]:
    """The jobs that are open and stripped, as far as anything of them is."""
    jobs = (each.number for each in work.jobs.jobs() if not each.closed)
    found = tuple(number for number in jobs if work.jobs.bench(number).stripped)
    if not found:
        wrong = "no job is open with anything stripped"
        raise BadInput(Problem("JOB", wrong, "'kitting job list' shows the jobs; name one"))
    return found


def _check_open(paths: Iterable[JobPath]) -> None:
    problems = Problems()
    for job in (path.bench.job for path in paths):
        if job.closed:
            wrong = f"it was closed by {job.closed_by} on {job.closed:%d %b %Y}"
            problems.add(f"job {job.number}", wrong, "nothing more is bought for it: leave it out")
    problems.raise_if_any()


def _asked(problem: PlanProblem, leave_out: Iterable[str]) -> frozenset[tuple[str, str]]:
    """The lines that are to be left out, by job and key; a held line at both its sizes."""
    problems = Problems()
    asked: set[tuple[str, str]] = set()
    for said in leave_out:
        job, colon, key = said.rpartition(":")
        found = {
            (line.job, line.key)
            for line in problem.lines
            if line.key.partition(",")[0] == key and (not colon or line.job == job)
        }
        if not found:
            right = "give a line as the kit names it, such as 2.11, or with its job, 26-041:2.11"
            problems.add("--leave-out", f"no line '{said}' is to be bought", right)
        elif len({job for job, _ in found}) > 1:
            named = " or ".join(sorted(f"{job}:{key}" for job in {job for job, _ in found}))
            problems.add("--leave-out", f"line {key} stands in several of the jobs", f"say {named}")
        asked |= found
    problems.raise_if_any()
    return frozenset(asked)


def _shelf(work: UnitOfWork, paths: Iterable[JobPath]) -> tuple[ShelfStock, ...]:
    from kitting.buying.planning.demand import ShelfStock

    parts = {part.number for path in paths for part in path.family.parts}
    free: dict[PartNumber, int] = {}
    for item in work.shelf.items(parts):
        free[item.part] = free.get(item.part, 0) + item.quantity
    return tuple(ShelfStock(part, count) for part, count in sorted(free.items()) if count)


def _reasons(problem: PlanProblem, plan: Plan, seconds: float) -> tuple[Reason, ...]:
    """The reasons of a plan's lines; at a terminal it is seen how far the looking has come."""
    from kitting.buying.planning.reasons import reasons_of

    def tell(done: int, of: int) -> None:
        if sys.stderr.isatty():
            said = f"Looking for what else would do: {done} of {of} " if done < of else ""
            click.echo(f"\r{said:<60}\r{said}", nl=False, err=True)

    return reasons_of(problem, plan, seconds, tell)


@click.command()
@click.argument("jobs", nargs=-1, metavar="[JOB...]")
@click.option("--only", type=click.Choice(AIMS), help="One plan alone, in less time.")
@click.option("--why", type=click.Choice(AIMS), help="One plan, every line with why.")
@buying_terms
@on_day
@reads("plan:PlansShape")
def plan(
    jobs: tuple[str, ...], only: str | None, why: str | None, day: date | None, **terms: Any
) -> Answer:
    """Plan the buying for one or several jobs: cheapest, soonest, fewest parcels.

    With no job named it is one plan over every job that is open and stripped.

    Packs, price breaks, carriage and its free-over, least orders, sets, what the supplier has and
    the shop's own shelf are all weighed; the plan is proved, or says how far it may be from the
    best. With --why one plan is made, and for each line the next best is looked for. Held lines
    stay out, unless a supplier takes them on sale or return. What failed with a supplier for a job
    is not asked of him again for that job. A used part is not bought for a critical position (one
    that the job cannot be closed without a figure of), unless asked for.

    \b
    Examples:
      kitting order plan 26-041
      kitting order plan
      kitting order plan 26-041 --only soonest
      kitting order plan 26-041 26-050 --why cheapest
      kitting order plan 26-041 --not-from calder-flats --within 7
      kitting order plan 26-041 --even-from thornhay
      kitting order plan 26-041 --not-of used --not-where-critical pattern
    """
    from kitting.buying.drafting_plan import failed_before
    from kitting.buying.planning.plan import compare, make_plan
    from kitting.buying.planning.values import Aim
    from kitting.buying.standing import before_of
    from kitting.cli.plan_screens import plans_text, reasons_text
    from kitting.store import Database

    if only and why and only != why:
        wrong = f"--only {only} and --why {why} ask for two plans"
        raise BadInput(Problem("--only", wrong, "name one; --why alone makes one plan too"))
    aim = why or only
    with Database().read() as work:
        jobs = jobs or _open_jobs(work)
        records = work.orders.records()
        drafts = {each.order.number for each in records if each.state is OrderState.DRAFT}
        before = asked_again(work, before_of(records, leave_out=drafts), terms)
        planned = planned_for(work, jobs, policy_of(work, terms), before, day, terms["leave_out"])
    problem = planned.problem
    chosen = make_plan(problem, tuple(Aim)[AIMS.index(aim)]) if aim else None
    plans = (chosen,) if chosen else compare(problem).each
    bought = {e.offer.part for each in plans for parcel in each.parcels for e in parcel.purchases}
    with Database().read() as work:
        spare = spare_told(work, work.orders.records(), planned.paths, bought)
    told = (*failed_before(before, problem, plans), *spare)
    reasons = _reasons(problem, chosen, float(terms["seconds"]) / 2) if chosen and why else ()

    def shape() -> object:
        from kitting.cli.shapes.plan import PlansShape, plan_shape

        shown = [plan_shape(problem, each, reasons if each is chosen else ()) for each in plans]
        return PlansShape(list(jobs), shown, list(planned.left_out), list(told))

    if chosen and why:
        return shape, lambda: reasons_text(chosen, reasons, planned.left_out, told)
    return shape, lambda: plans_text(problem, plans, planned.left_out, told)
