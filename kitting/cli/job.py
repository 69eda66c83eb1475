"""`kitting job`: open a job, list the jobs, show one."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import click

from kitting.cli.answer import Answer, reads
from kitting.cli.closing import close
from kitting.cli.hours import hours
from kitting.cli.opened import on_day, path_of, today
from kitting.cli.screen import heading, paragraph, table
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from kitting.catalog.family import Family
    from kitting.job.findings import Job
    from kitting.job.path import JobPath
    from kitting.job.readiness import Readiness


@click.group()
def job() -> None:
    """Open a job, list the jobs, show one, write hours worked on it, close it."""


job.add_command(close)
job.add_command(hours)


@job.command("open")
@click.argument("number")
@click.option("--family", required=True, help="The engine family's key.")
@click.option("--engine", required=True, help="The number stamped on the engine.")
@click.option("--customer", default="", help="The customer's name; never on a supplier's sheet.")
@click.option("--note", default="", help="Anything that belongs to the whole job.")
def open_job(number: str, family: str, engine: str, customer: str, note: str) -> None:
    """Open a job for an engine.

    The variant follows from the engine number.

    \b
    Example:
      kitting job open 26-041 --family corvane-650 --engine CV23417
    """
    from kitting.job.findings import Job
    from kitting.store import Database

    if not number.strip() or len(number) > 40:
        raise BadInput(Problem("NUMBER", f"'{number[:40]}' is no job number", "such as 26-041"))
    with Database().work() as work:
        edition = work.catalogue.family(family)
        variant = variant_for(edition, engine)
        opened = Job(
            number=number.strip(),
            family=edition.key,
            edition=edition.edition,
            variant=variant,
            engine_number=engine.strip(),
            customer=customer.strip(),
            opened=today(),
            note=note.strip(),
        )
        work.jobs.open_job(opened)
        work.commit()
    name = edition.variant_by_key[variant].name
    click.echo(
        f"Job {opened.number} opened: {edition.name}, {name}, engine {opened.engine_number}."
    )
    click.echo(f"Next: kitting strip sheet {opened.number}")


def variant_for(family: Family, engine: str) -> str:
    """The variant of an engine number.

    Raises:
        BadInput: the number is outside every variant; says what would be inside.
    """
    variant = family.variant_of_engine(engine)
    if variant is None:
        ranges = "; ".join(
            f"{v.prefix}{v.first} to {v.prefix}{v.last} ({v.name})" for v in family.variants
        )
        raise BadInput(
            Problem(
                "--engine",
                f"'{engine}' is outside every variant of {family.name}",
                f"the numbers run {ranges}",
            )
        )
    return variant.key


@job.command("list")
@click.option("--find", "words", default="", help="Only jobs with this in any column.")
@click.option("--open", "only_open", is_flag=True, help="Only jobs that are not closed.")
@reads("job:JobsShape")
def list_jobs(words: str, only_open: bool) -> Answer:
    """List the jobs in the order in which they were opened.

    \b
    Examples:
      kitting job list --open
      kitting job list --find corvane
    """
    from kitting.store import Database

    with Database().read() as work:
        every = work.jobs.jobs()
    jobs = tuple(each for each in every if _has(each, words) and not (only_open and each.closed))

    def shape() -> object:
        from kitting.cli.shapes.job import JobsShape, job_shape

        return JobsShape([job_shape(each) for each in jobs])

    def text() -> str:
        if every and not jobs:
            return "No such job. All of them: kitting job list"
        if not jobs:
            return "No jobs yet. Open one: kitting job open NUMBER --family KEY --engine NUMBER"
        rows = [
            (
                each.number,
                each.family,
                each.engine_number,
                each.customer,
                each.opened.isoformat(),
                each.closed.isoformat() if each.closed else "",
            )
            for each in jobs
        ]
        return table(("job", "family", "engine", "customer", "opened", "closed"), rows)

    return shape, text


def _has(each: Job, words: str) -> bool:
    everything = f"{each.number} {each.family} {each.variant} {each.engine_number} {each.customer}"
    return words.casefold() in everything.casefold()


@job.command("show")
@click.argument("number")
@on_day
@reads("job:JobSummaryShape")
def show_job(number: str, day: date | None) -> Answer:
    """Show how far a job is: stripped, found, ready or not, and what it comes to.

    \b
    Example:
      kitting job show 26-041
    """
    path = path_of(number, day)

    def shape() -> object:
        from kitting.cli.shapes.job import JobSummaryShape, job_shape, ready_shape

        return JobSummaryShape(
            job=job_shape(path.bench.job),
            stripped=list(path.bench.stripped),
            findings=len(path.bench.findings),
            ready=ready_shape(path.kit.readiness),
            currency=path.estimate.currency,
            likely_gross=str(path.estimate.likely.gross),
            worst_gross=str(path.estimate.worst.gross),
        )

    return shape, lambda: _summary(path)


def _summary(path: JobPath) -> str:
    bench, family, estimate = path.bench, path.family, path.estimate
    names = [family.assembly_by_key[key].name for key in bench.stripped]
    job = bench.job
    closed = f"Closed     {job.closed:%d %b %Y}, by {job.closed_by}" if job.closed else ""
    facts = [
        job_heading(path),
        f"Customer   {bench.job.customer or '(none given)'}",
        f"Opened     {bench.job.opened:%d %b %Y}, catalogue edition {bench.job.edition}",
        *([closed] if closed else ()),
        paragraph(f"Stripped   {', '.join(names) or 'nothing yet'}", hang=11),
        f"Findings   {len(bench.findings)}",
        f"Estimate   {estimate.currency} {estimate.likely.gross:,} likely, "
        f"{estimate.worst.gross:,} worst case, with VAT",
    ]
    if closed:
        return "\n".join(facts) + "\n\nIt is only read; nothing more is bought for it."
    return "\n".join(facts) + "\n\n" + readiness_text(path.kit.readiness)


def job_heading(path: JobPath) -> str:
    """The heading of every screen of a job."""
    job, family = path.bench.job, path.family
    variant = family.variant_by_key[job.variant].name
    closed = f" · closed {job.closed:%d %b %Y}" if job.closed else ""
    return heading(
        f"Job {job.number} · {family.name} · {variant} · engine {job.engine_number}{closed}"
    )


def readiness_text(readiness: Readiness) -> str:
    """Ready or not, and each point that is open."""
    lines = [readiness.sentence]
    lines += [
        paragraph(f"- {point.where} ({point.why}): {point.because}", indent=2, hang=2)
        for point in readiness.points
    ]
    return "\n".join(lines)
