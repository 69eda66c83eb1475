"""`kitting bags`: a bag an assembly stage: what is in hand, what can start, labels for them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.cli.amounts import AMOUNT, PIECES
from kitting.cli.answer import Answer, reads
from kitting.cli.opened import on_day, path_of
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kitting.job.bags import Bag
    from kitting.job.path import JobPath


@click.command()
@click.argument("number")
@click.option("--in-hand", "came", multiple=True, help="This line, or this set, has come.")
@click.option("--not-in-hand", "went", multiple=True, help="This line has not come after all.")
@click.option("--back", "back", multiple=True, help="This operation's work is back.")
@click.option("--not-back", "not_back", multiple=True, help="It is not back after all.")
@click.option("--quantity", type=PIECES, default=None, help="How many came [all that miss].")
@click.option("--cost", type=AMOUNT, default=None, help="What it cost the shop in all.")
@click.option("--who", default="", help="Who says so.")
@click.option("--whole", is_flag=True, help="Every line of every bag.")
@click.option(
    "--labels",
    type=click.Path(path_type=Path, dir_okay=False),
    default=None,
    help="Write a label for each bag to this PDF.",
)
@click.option("--sheet", default="3x8", show_default=True, help="Labels across × down.")
@click.option("--skip", type=int, default=0, help="So many labels of the first sheet are used.")
@click.option(
    "--scan", default="", help="Tell whether a label's text, or its check, is still right."
)
@on_day
@reads("bags:BagsShape")
def bags(
    number: str,
    came: tuple[str, ...],
    went: tuple[str, ...],
    back: tuple[str, ...],
    not_back: tuple[str, ...],
    quantity: int | None,
    cost: Decimal | None,
    who: str,
    whole: bool,
    labels: Path | None,
    sheet: str,
    skip: int,
    scan: str,
    day: date | None,
) -> Answer:
    """The bags in build order, and which stage can start today.

    A stage can start when each of its lines is in hand (delivered, off the shelf, or marked here),
    nothing of it is held, its machining is back and no question is open on it.

    \b
    Examples:
      kitting bags 26-041
      kitting bags 26-041 --in-hand 2.03 --who "J. Marlowe"
      kitting bags 26-041 --back regrind --who "J. Marlowe" --cost 96.00
      kitting bags 26-041 --labels bags.pdf --sheet 3x8 --skip 5
    """
    from kitting.cli.arriving import Marks, mark
    from kitting.cli.bag_screens import bags_text
    from kitting.job.bags import bags_of

    marks = Marks(came, went, back, not_back, quantity, cost, who)
    path = mark(number, marks, day) if marks.any else path_of(number, day)
    found = bags_of(path)
    printed = _labels(path, found, labels, sheet, skip) if labels is not None else ""

    def shape() -> object:
        from kitting.cli.shapes.bags import bags_shape

        return bags_shape(path, found)

    def text() -> str:
        if scan:
            return _scanned(path, found, scan)
        return printed or bags_text(path, found, whole=whole)

    return shape, text


def _labels(path: JobPath, found: Sequence[Bag], file: Path, sheet: str, skip: int) -> str:
    """Write the labels; returns what to say of them."""
    from kitting.sheets.label_pdf import write_labels
    from kitting.sheets.labels import Label, sheet_named

    job = path.bench.job.number
    labels = [
        Label(
            (
                f"Job {job}",
                f"Bag {bag.number} of {bag.total}",
                bag.stage,
                bag.count_text,
                f"check {bag.check}",
            ),
            bag.label_text(job),
        )
        for bag in found
        if bag.lines
    ]
    kind = sheet_named(sheet)
    pages = write_labels(labels, kind, file, f"Bags of job {job}", skip)
    many = f"{pages} sheet" if pages == 1 else f"{pages} sheets"
    return (
        f"written: {file}: {len(labels)} labels on {many} ({kind.measures}).\n"
        "Print at full size, on plain paper first."
    )


def _scanned(path: JobPath, found: Sequence[Bag], text: str) -> str:
    """That a label's text, or its check alone, is that of a bag as it is now.

    Raises:
        BadInput: it is that of a bag as it was, or of none of the job's.
    """
    job = path.bench.job.number
    said = " ".join(text.split())
    for bag in found:
        if said == bag.label_text(job) or said.upper() == bag.check:
            return f"Right: bag {bag.number}, {bag.stage}, as the kit has it now."
    for bag in found:
        if said.startswith(f"JOB {job}; BAG ") and f", {bag.stage}; " in said:
            raise BadInput(
                Problem(
                    "--scan",
                    f"OLD: the contents of bag {bag.number}, {bag.stage}, have changed since this "
                    "label was printed",
                    f"now it is {bag.count_text}, check {bag.check}: print the label anew",
                )
            )
    wrong = f"NOT of job {job}: no bag of it has such a label"
    raise BadInput(Problem("--scan", wrong, "scan the label whole, or type its check"))
