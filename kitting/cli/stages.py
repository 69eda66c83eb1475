"""`kitting verdicts`, `sizes`, `kit`, `estimate`: the stages of a job, each on a screen."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from kitting.cli.answer import Answer, reads
from kitting.cli.opened import on_day, path_of
from kitting.errors import BadInput, Problem


@click.command()
@click.argument("number")
@click.option("--assembly", default="", help="Only this assembly's.")
@click.option("--verdict", default="", help="Only this verdict: renew, rework, wrong part …")
@click.option("--why", "position", default="", help="The whole reasoning for one position.")
@on_day
@reads("stages:VerdictsShape")
def verdicts(number: str, assembly: str, verdict: str, position: str, day: date | None) -> Answer:
    """What follows for each part that was found, with its reason, and what else that demands.

    \b
    Examples:
      kitting verdicts 26-041 --verdict "wrong part"
      kitting verdicts 26-041 --why crankshaft
    """
    from kitting.cli.verdict_screens import verdict_reasons, verdicts_text

    path = path_of(number, day)

    def shape() -> object:
        from kitting.cli.shapes.stages import verdicts_shape

        return verdicts_shape(path)

    if position:
        return shape, lambda: verdict_reasons(path, position)
    return shape, lambda: verdicts_text(path, assembly, verdict)


@click.command()
@click.argument("number")
@click.option("--why", "key", default="", help="Every grade of one table with its reason.")
@click.option(
    "--pictures",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    help="Write pictures of wear, sizes and clearances (SVG) into this folder.",
)
@on_day
@reads("sizes:SizesShape")
def sizes(number: str, key: str, folder: Path | None, day: date | None) -> Answer:
    """The grade that each journal and bore is finished to, likely and worst case, with the sum.

    With it what is made to suit: the band to finish to from the rods and shells in hand, bushes to
    ream, shims to stack.

    \b
    Examples:
      kitting sizes 26-041 --why crankpin
      kitting sizes 26-041 --pictures exports/26-041
    """
    from kitting.cli.size_screens import size_reasons, sizes_text

    path = path_of(number, day)
    written: tuple[Path, ...] = ()
    if folder is not None:
        from kitting.sheets.pictures.of_job import write_pictures

        written = write_pictures(path, folder)

    def shape() -> object:
        from kitting.cli.shapes.sizes import sizes_shape

        return sizes_shape(path, written)

    def text() -> str:
        said = size_reasons(path, key) if key else sizes_text(path)
        return "\n".join((said, *(f"written: {file}" for file in written)))

    return shape, text


@click.command()
@click.argument("number")
@click.option("--why", "line", default="", help="The whole reasoning for one line, such as 2.03.")
@click.option("--find", "words", default="", help="Only lines with this in any column.")
@click.option("--held", is_flag=True, help="Only what waits for the machinist.")
@on_day
@reads("stages:KitShape")
def kit(number: str, line: str, words: str, held: bool, day: date | None) -> Answer:
    """What the job needs, bag by bag, with the number that is current today.

    \b
    Examples:
      kitting kit 26-041
      kitting kit 26-041 --why 2.03
    """
    from kitting.cli.kit_screens import kit_text, line_reasons

    path = path_of(number, day)

    def shape() -> object:
        from kitting.cli.shapes.stages import kit_shape

        return kit_shape(path)

    if line:
        return shape, lambda: line_reasons(path, line)
    return shape, lambda: kit_text(path, words, held=held)


@click.command()
@click.argument("number")
@click.option("--keep", is_flag=True, help="Keep it as given today, as the next revision.")
@click.option("--kept", type=int, default=None, help="Show a kept revision as it was given.")
@click.option("--against-actual", "actual", is_flag=True, help="Hold a kept one against what came.")
@on_day
@reads("actual:EstimateAnswer")
def estimate(number: str, keep: bool, kept: int | None, actual: bool, day: date | None) -> Answer:
    """What the job comes to, likely and worst case, at today's best valid offers.

    \b
    Examples:
      kitting estimate 26-041
      kitting estimate 26-041 --keep
      kitting estimate 26-041 --against-actual
    """
    from kitting.cli.actual_screens import actual_answer
    from kitting.cli.estimate_screens import estimate_text
    from kitting.cli.keeping import keep_estimate, kept_answer

    if actual:
        if keep:
            raise BadInput(Problem("--keep", "it does not go with --against-actual", "say one"))
        return actual_answer(number, kept)
    if kept is not None:
        return kept_answer(number, kept)
    path = path_of(number, day)
    revision = keep_estimate(path) if keep else None

    def shape() -> object:
        from kitting.cli.shapes.money import estimate_shape

        return estimate_shape(path, revision)

    return shape, lambda: estimate_text(path, revision)
