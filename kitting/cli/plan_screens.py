"""Buying plans as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.planning.surplus import why_surplus
from kitting.cli.screen import heading, paragraph, table

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from kitting.buying.planning.demand import PlanProblem
    from kitting.buying.planning.reasons import Reason
    from kitting.buying.planning.values import Parcel, Plan


def plans_text(
    problem: PlanProblem, plans: Sequence[Plan], left_out: Sequence[str], mind: Iterable[str] = ()
) -> str:
    """The plans of a problem side by side, with each job's share, then the parcels of each."""
    rows = [
        (
            str(plan.aim),
            f"{plan.total:,}",
            f"{plan.goods:,}",
            f"{plan.carriage:,}",
            f"{plan.work:,}",
            str(len(plan.parcels)),
            f"{plan.last_arrival:%d %b %Y}",
            f"{plan.proof.gap} %" if not plan.proof.proved else "proved",
        )
        for plan in plans
    ]
    headings = ("plan", "total", "goods", "carriage", "work", "parcels", "last part", "best?")
    parts = [
        heading(f"Buying plans, {plans[0].currency} without VAT"),
        _partial(left_out),
        table(headings, rows, right="12345"),
        _jobs(plans),
        *(_parcels(plan) for plan in plans),
        _extras(problem, plans[0]),
        _left_out(left_out),
        _mind(mind),
    ]
    return "\n\n".join(part for part in parts if part)


def _partial(left_out: Sequence[str]) -> str:
    """That a plan is not for the whole kit, where it is not."""
    if not left_out:
        return ""
    lines = "1 line is" if len(left_out) == 1 else f"{len(left_out)} lines are"
    return paragraph(f"Not for the whole kit: {lines} in no plan, as told at the end.")


def _jobs(plans: Sequence[Plan]) -> str:
    """What each of several jobs comes to in each plan; they add up to the plan's total."""
    jobs = list(plans[0].by_job)
    if len(jobs) < 2:
        return ""
    rows = [(job, *(f"{plan.by_job.get(job, 0):,}" for plan in plans)) for job in jobs]
    return "each job's share\n" + table(
        ("job", *(str(plan.aim) for plan in plans)), rows, right="123"
    )


def _parcels(plan: Plan) -> str:
    rows = [_parcel(parcel) for parcel in plan.parcels]
    return f"{plan.aim}\n" + table(
        ("supplier", "lines", "goods", "carriage", "in all", "days"), rows, right="12345"
    )


def _parcel(parcel: Parcel) -> tuple[str, ...]:
    return (
        parcel.supplier.name,
        str(len(parcel.purchases)),
        f"{parcel.goods:,}",
        f"{parcel.carriage:,}",
        f"{parcel.total:,}",
        str(parcel.days),
    )


def _extras(problem: PlanProblem, plan: Plan) -> str:
    lines = [
        f"- comes and is not needed: {each.pieces} × {each.part}, "
        f"{why_surplus(problem, plan, each)}"
        for each in plan.surplus
    ]
    lines += [f"- off the shelf: {each.pieces} × {each.part}" for each in plan.shelf]
    lines += [f"- waits for the machinist: {line}" for line in plan.waiting]
    wrapped = [paragraph(line, indent=2, hang=2) for line in lines]
    return "\n".join((f"Of the {plan.aim} plan:", *wrapped)) if wrapped else ""


def _left_out(left_out: Iterable[str]) -> str:
    lines = [paragraph(f"- {says}", indent=2, hang=2) for says in left_out]
    return "\n".join(("In no plan:", *lines)) if lines else ""


def _mind(said: Iterable[str]) -> str:
    lines = [paragraph(f"- {says}", indent=2, hang=2) for says in said]
    return "\n".join(("Mind:", *lines)) if lines else ""


def reasons_text(
    plan: Plan, reasons: Iterable[Reason], left_out: Sequence[str], mind: Iterable[str] = ()
) -> str:
    """Every line of a plan: where it goes, what it costs, why, and what the next best costs."""
    costs = {(line.line.job, line.line.key): line for line in plan.lines}
    rows = [
        (
            f"{reason.line.job} {reason.line.key}",
            reason.line.name,
            f"{costs[(reason.line.job, reason.line.key)].total:,}",
            reason.sentence,
        )
        for reason in reasons
    ]
    parts = [
        heading(f"The {plan.aim} plan, {plan.currency} {plan.total:,} without VAT"),
        _partial(left_out),
        paragraph(f"{plan.proof.sentence}. A line's cost holds its share of the carriage."),
        table(("line", "what", "cost", "why"), rows, right="2"),
        _left_out(left_out),
        _mind(mind),
    ]
    return "\n\n".join(part for part in parts if part)
