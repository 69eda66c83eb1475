"""`kitting approve`: the customer's word on a kept estimate, line by line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from kitting.cli.amounts import worded
from kitting.cli.answer import Answer, reads
from kitting.cli.opened import path_within, today
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from kitting.job.path import JobPath
    from kitting.store import KeptEstimate, UnitOfWork


@click.command()
@click.argument("number")
@click.option("--revision", type=int, default=None, help="The kept estimate he saw [the newest].")
@click.option(
    "--line",
    "lines",
    type=(str, click.Choice(["yes", "no"])),
    multiple=True,
    help="A line's key or an operation, and his word.",
)
@click.option("--who", default="", help="Who took it down.")
@reads("approval:ApprovalShape")
def approve(
    number: str, revision: int | None, lines: tuple[tuple[str, str], ...], who: str
) -> Answer:
    """The customer's word on a kept estimate, line by line; without --line, what stands.

    Each line is needed, advised or optional. A decline that breaks soundness is refused with the
    reasons; what may be declined leaves the kit. What was declined under an earlier revision may
    still be agreed to: an operation by its key, a line as 2.11@1 (line 2.11 of revision 1).

    \b
    Examples:
      kitting approve 26-041
      kitting approve 26-041 --revision 1 --line balance no --line 2.11 yes \\
          --who "K. Ferris"
    """
    from kitting.cli.approval_screens import Standing, approval_text
    from kitting.job.approval import Said, answered, before_revision
    from kitting.store import Database

    database = Database()
    if lines:
        name = worded("--who", who)
        with database.work() as work:
            work.jobs.hold(number)
            kept = _kept(work, number, revision)
            path = path_within(work, number, kept.given)
            then = before_revision(path, kept.revision, kept.given)
            _check_same(then, kept)
            said = [Said(key.strip(), word == "yes") for key, word in lines]
            given = path.bench.approvals
            approvals = answered(then, kept.revision, said, name, today(), given)
            work.jobs.add_approvals(number, approvals)
            now = path_within(work, number, kept.given)
            work.commit()
    else:
        with database.read() as work:
            kept = _kept(work, number, revision, to_answer=False)
            now = path_within(work, number, kept.given)
            then = before_revision(now, kept.revision, kept.given)
            _check_same(then, kept, work.estimates.estimates(number)[-1].revision)
    standing = Standing(then, now, kept.revision)

    def shape() -> object:
        from kitting.cli.shapes.approval import approval_shape

        return approval_shape(standing)

    return shape, lambda: approval_text(standing, answered=bool(lines))


def _kept(
    work: UnitOfWork, number: str, revision: int | None, *, to_answer: bool = True
) -> KeptEstimate:
    """The kept estimate, which must be the newest where it is answered.

    Raises:
        NotFound: no such job, or no such revision.
        BadInput: nothing is kept of it, or a newer one.
    """
    work.jobs.job(number)
    every = work.estimates.estimates(number)
    if not every:
        raise BadInput(
            Problem(
                f"job {number}",
                "no estimate of it is kept, so there is nothing to approve",
                f"keep one: kitting estimate {number} --keep",
            )
        )
    newest = every[-1]
    if revision is None or revision == newest.revision:
        return newest
    asked = work.estimates.estimate(number, revision)
    if not to_answer:
        return asked
    raise BadInput(
        Problem(
            f"revision {asked.revision}",
            f"revision {newest.revision} has taken its place",
            "ask the customer about the newest",
        )
    )


def _check_same(path: JobPath, kept: KeptEstimate, newest: int = 0) -> None:
    """Refuse when the kit is no longer what the revision was given for; `newest` is the last kept.

    Raises:
        BadInput: with what differs.
    """
    from kitting.job.approval import parts_of

    given = {
        (line.kit_line, line.part)
        for line in kept.lines
        if line.kind in {"part", "set", "outside work"} and not line.kit_line.startswith("if.")
    }
    now = parts_of(path)
    differs = sorted(f"{key or 'set'} {part or ''}".strip() for key, part in given ^ now)
    if differs and kept.revision < newest:
        raise BadInput(
            Problem(
                f"revision {kept.revision}",
                f"the kit has changed since, and revision {newest} has taken its place",
                f"'kitting estimate {kept.job} --kept {kept.revision}' shows it as it was given",
            )
        )
    if differs:
        shown = ", ".join(differs[:3]) + (" and more" if len(differs) > 3 else "")
        raise BadInput(
            Problem(
                f"revision {kept.revision}",
                f"the kit is no longer what it was given for: {shown}",
                f"keep it as the next: kitting estimate {kept.job} --keep",
            )
        )
