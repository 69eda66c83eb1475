"""The shape of an estimate."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from kitting.cli.shapes.job import JobShape, ReadyShape, job_shape, ready_shape
from kitting.job.estimate import EstimateLine, Totals
from kitting.job.findings import Job
from kitting.job.path import JobPath
from kitting.store.estimates import KeptEstimate, KeptLine, KeptTotal


@dataclass(frozen=True, slots=True)
class EstimateLineShape:
    """One priced line, without VAT. `cost` is the shop's own and never goes to a customer."""

    kind: str
    stage: str
    line: str
    part: str | None
    text: str
    quantity: str
    unit: str
    unit_net: str
    net: str
    worst_net: str
    vat: str
    cost: str
    supplier: str | None
    flags: list[str]


@dataclass(frozen=True, slots=True)
class VatShape:
    """The VAT of one category."""

    category: str
    rate: str
    base: str
    amount: str


@dataclass(frozen=True, slots=True)
class TotalsShape:
    """A total without VAT, its VAT, and with it."""

    net: str
    vat: list[VatShape]
    gross: str


@dataclass(frozen=True, slots=True)
class EstimateShape:
    """What a job comes to. `revision` is given where it was kept; a kept one has no `ready`."""

    job: JobShape
    ready: ReadyShape | None
    day: date
    currency: str
    lines: list[EstimateLineShape]
    likely: TotalsShape
    worst: TotalsShape
    warnings: list[str]
    revision: int | None


def estimate_shape(path: JobPath, revision: int | None = None) -> EstimateShape:
    """The shape of a job's estimate."""
    estimate = path.estimate
    return EstimateShape(
        job=job_shape(path.bench.job),
        ready=ready_shape(path.kit.readiness),
        day=estimate.day,
        currency=estimate.currency,
        lines=[_line(line) for line in estimate.lines],
        likely=_totals(estimate.likely),
        worst=_totals(estimate.worst),
        warnings=list(estimate.warnings),
        revision=revision,
    )


def _line(line: EstimateLine) -> EstimateLineShape:
    supplier = line.quote.offer.supplier if line.quote else line.supplier or None
    return EstimateLineShape(
        kind=line.kind,
        stage=line.stage,
        line=line.kit_line,
        part=str(line.part) if line.part else None,
        text=line.text,
        quantity=str(line.quantity),
        unit=line.unit,
        unit_net=str(line.unit_net),
        net=str(line.net),
        worst_net=str(line.worst_net),
        vat=line.vat,
        cost=str(line.cost),
        supplier=supplier,
        flags=list(line.flags),
    )


def _totals(totals: Totals) -> TotalsShape:
    vat = [
        VatShape(line.category, str(line.rate), str(line.base), str(line.amount))
        for line in totals.vat
    ]
    return TotalsShape(str(totals.net), vat, str(totals.gross))


def kept_shape(job: Job, kept: KeptEstimate) -> EstimateShape:
    """The shape of an estimate as it was given."""
    return EstimateShape(
        job=job_shape(job),
        ready=None,
        day=kept.given,
        currency=kept.currency,
        lines=[_kept_line(line) for line in kept.lines],
        likely=_kept_totals(total for total in kept.totals if total.outcome == "likely"),
        worst=_kept_totals(total for total in kept.totals if total.outcome == "worst"),
        warnings=list(kept.warnings),
        revision=kept.revision,
    )


def _kept_line(line: KeptLine) -> EstimateLineShape:
    return EstimateLineShape(
        kind=line.kind,
        stage=line.stage,
        line=line.kit_line,
        part=str(line.part) if line.part else None,
        text=line.text,
        quantity=str(line.quantity),
        unit=line.unit,
        unit_net=str(line.unit_net),
        net=str(line.net),
        worst_net=str(line.worst_net),
        vat=line.vat,
        cost=str(line.cost),
        supplier=line.supplier or None,
        flags=list(line.flags),
    )


def _kept_totals(totals: Iterable[KeptTotal]) -> TotalsShape:
    kept = tuple(totals)
    vat = [VatShape(t.vat, str(t.percent), str(t.net), str(t.tax)) for t in kept]
    net = sum((t.net for t in kept), Decimal(0))
    tax = sum((t.tax for t in kept), Decimal(0))
    return TotalsShape(str(net), vat, str(net + tax))
