"""The shape of a buying plan. Inside the shop only."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from kitting.buying.planning.demand import PlanProblem
from kitting.buying.planning.reasons import Reason
from kitting.buying.planning.surplus import why_surplus
from kitting.buying.planning.values import LinePlan, Parcel, Plan


@dataclass(frozen=True, slots=True)
class BoughtShape:
    """So many packs of one offer."""

    their_number: str
    part: str
    packs: int
    pack: int
    pack_price: str
    currency: str
    net: str
    home: str
    surplus: int
    quality: str | None
    on_return: bool
    back_order: bool


@dataclass(frozen=True, slots=True)
class ParcelShape:
    """One order to one supplier; money in the shop's currency."""

    supplier: str
    goods: str
    carriage: str
    total: str
    days: int
    bought: list[BoughtShape]


@dataclass(frozen=True, slots=True)
class PlannedLineShape:
    """Where a line goes, what it costs with its share of carriage, and why."""

    job: str
    line: str
    name: str
    way: str
    suppliers: list[str]
    parts: list[str]
    qualities: list[str | None]
    goods: str
    carriage: str
    work: str
    total: str
    because: str | None


@dataclass(frozen=True, slots=True)
class SurplusShape:
    """Pieces that come and are not needed, and why they come."""

    part: str
    pieces: int
    because: str


@dataclass(frozen=True, slots=True)
class PlanShape:
    """One plan: its cost, when the last part comes, its parcels and lines, and the proof.

    `by_job` is what each job comes to; they add up to the total.
    """

    aim: str
    currency: str
    total: str
    goods: str
    carriage: str
    work: str
    days: int
    last_arrival: date
    proved: bool
    gap_percent: str
    parcels: list[ParcelShape]
    lines: list[PlannedLineShape]
    by_job: dict[str, str]
    surplus: list[SurplusShape]
    from_the_shelf: dict[str, int]
    waiting: list[str]


@dataclass(frozen=True, slots=True)
class PlansShape:
    """Three plans side by side, what no plan can hold, and what failed before where they buy."""

    jobs: list[str]
    plans: list[PlanShape]
    left_out: list[str]
    mind: list[str]


def plan_shape(problem: PlanProblem, plan: Plan, reasons: Iterable[Reason] = ()) -> PlanShape:
    """The shape of a plan of a problem."""
    why = {(reason.line.job, reason.line.key): reason.sentence for reason in reasons}
    return PlanShape(
        aim=plan.aim,
        currency=plan.currency,
        total=str(plan.total),
        goods=str(plan.goods),
        carriage=str(plan.carriage),
        work=str(plan.work),
        days=plan.days,
        last_arrival=plan.last_arrival,
        proved=plan.proof.proved,
        gap_percent=str(plan.proof.gap),
        parcels=[_parcel(parcel) for parcel in plan.parcels],
        lines=[_line(line, why.get((line.line.job, line.line.key))) for line in plan.lines],
        by_job={job: str(total) for job, total in plan.by_job.items()},
        surplus=[
            SurplusShape(str(each.part), each.pieces, why_surplus(problem, plan, each))
            for each in plan.surplus
        ],
        from_the_shelf={str(each.part): each.pieces for each in plan.shelf},
        waiting=[str(line) for line in plan.waiting],
    )


def _parcel(parcel: Parcel) -> ParcelShape:
    return ParcelShape(
        supplier=parcel.supplier.key,
        goods=str(parcel.goods),
        carriage=str(parcel.carriage),
        total=str(parcel.total),
        days=parcel.days,
        bought=[
            BoughtShape(
                their_number=each.offer.their_number,
                part=str(each.offer.part),
                packs=each.packs,
                pack=each.offer.pack,
                pack_price=str(each.pack_price),
                currency=each.offer.currency,
                net=str(each.net),
                home=str(each.home),
                surplus=each.surplus,
                quality=each.offer.quality.value or None,
                on_return=each.on_return,
                back_order=each.back_order,
            )
            for each in parcel.purchases
        ],
    )


def _line(line: LinePlan, because: str | None) -> PlannedLineShape:
    return PlannedLineShape(
        job=line.line.job,
        line=line.line.key,
        name=line.line.name,
        way=line.way.kind,
        suppliers=[share.supplier or str(share.source) for share in line.shares],
        parts=[str(share.part) for share in line.shares],
        qualities=[share.quality.value or None for share in line.shares],
        goods=str(line.goods),
        carriage=str(line.carriage),
        work=str(line.work),
        total=str(line.total),
        because=because,
    )
