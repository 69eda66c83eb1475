"""Keeping an estimate as it was given, and showing a kept one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.cli.screen import heading, paragraph, table

if TYPE_CHECKING:
    from kitting.cli.answer import Answer
    from kitting.job.estimate import EstimateLine, Totals
    from kitting.job.path import JobPath
    from kitting.store.estimates import KeptEstimate, KeptLine, KeptTotal


def keep_estimate(path: JobPath, who: str = "") -> int:
    """Store the estimate with the prices of its day; returns its revision."""
    from kitting.store import Database
    from kitting.store.estimates import KeptEstimate

    estimate = path.estimate
    kept = KeptEstimate(
        job=path.bench.job.number,
        given=estimate.day,
        currency=estimate.currency,
        lines=tuple(_line(line) for line in estimate.lines),
        totals=(*_totals("likely", estimate.likely), *_totals("worst", estimate.worst)),
        warnings=estimate.warnings,
        who=who,
    )
    with Database().work() as work:
        revision = work.estimates.keep_estimate(kept)
        work.commit()
    return revision


def _line(line: EstimateLine) -> KeptLine:
    from kitting.store.estimates import KeptLine

    quote = line.quote
    offer = quote.offer if quote else None
    work = line.work_quote
    return KeptLine(
        kind=line.kind,
        stage=line.stage,
        text=line.text,
        quantity=line.quantity,
        unit=line.unit,
        cost=line.cost,
        unit_net=line.unit_net,
        net=line.net,
        worst_net=line.worst_net,
        vat=line.vat,
        kit_line=line.kit_line,
        part=line.part,
        supplier=offer.supplier if offer else work.price.machinist if work else line.supplier,
        their_number=offer.their_number if offer else "",
        pack=offer.pack if offer else None,
        packs=quote.packs if quote else None,
        pack_price=quote.pack_price if quote else work.price.price if work else None,
        currency=offer.currency if offer else work.price.currency if work else "",
        price_until=offer.valid_until if offer else work.price.valid_until if work else None,
        lapsed=bool((quote and quote.lapsed) or (work and work.lapsed)),
        flags=line.flags,
        because=[step.says for reason in line.because for _, step in reason.steps()],
    )


def _totals(outcome: str, totals: Totals) -> tuple[KeptTotal, ...]:
    from kitting.store.estimates import KeptTotal

    return tuple(
        KeptTotal(outcome, line.category, line.rate, line.base, line.amount) for line in totals.vat
    )


def kept_answer(number: str, revision: int) -> Answer:
    """An estimate as it was given, whatever the price lists say now."""
    from kitting.store import Database

    with Database().read() as work:
        kept = work.estimates.estimate(number, revision)
        job = work.jobs.job(number)

    def shape() -> object:
        from kitting.cli.shapes.money import kept_shape

        return kept_shape(job, kept)

    return shape, lambda: _kept_text(kept)


def _kept_text(kept: KeptEstimate) -> str:
    rows = [
        (
            line.part.number if line.part else "",
            line.text,
            f"{line.quantity.normalize():f}",
            f"{line.unit_net:,.2f}",
            f"{line.net:,.2f}",
            f"{line.worst_net:,.2f}",
        )
        for line in kept.lines
    ]
    sums = [
        (
            f"{total.outcome}: VAT {total.vat} {total.percent:f} %",
            f"{total.net:,.2f}",
            f"{total.tax:,.2f}",
        )
        for total in kept.totals
    ]
    for outcome in dict.fromkeys(total.outcome for total in kept.totals):
        mine = [total for total in kept.totals if total.outcome == outcome]
        gross = sum(total.net + total.tax for total in mine)
        sums.append((f"{outcome}: to pay", f"{gross:,.2f}", ""))
    title = f"Job {kept.job} · estimate revision {kept.revision} of {kept.given:%d %b %Y}"
    return "\n\n".join(
        (
            heading(title),
            table(("part", "what", "qty", "price", "likely", "worst"), rows, right="2345"),
            table((f"Totals, {kept.currency}", "without VAT", "VAT"), sums, right="12"),
            paragraph("The prices are those of that day."),
        )
    )
