"""`kitting catalog trace`: the whole tree of supersession and interchange about a part."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.cli.answer import Answer, reads
from kitting.cli.opened import Day, today

if TYPE_CHECKING:
    from datetime import date

    from kitting.catalog.family import Family
    from kitting.catalog.model import Fit
    from kitting.catalog.trace import Trace


@click.command("trace")
@click.argument("part")
@click.option("--family", "key", default="", help="Only this family [the one that has it].")
@click.option("--position", default="", help="For this position: what does not fit it is told.")
@click.option("--engine", default="", help="On the engine of this number.")
@click.option("--grade", default="", help="At this size grade [the part's own].")
@click.option("--one-only", is_flag=True, help="Not every one of the position is renewed.")
@click.option("--on", "day", type=Day(), default=None, help="As of this day [today].")
@click.option(
    "--svg",
    type=click.Path(path_type=Path, dir_okay=False),
    default=None,
    help="Write the tree as a picture too.",
)
@reads("links:TraceShape")
def trace_command(
    part: str,
    key: str,
    position: str,
    engine: str,
    grade: str,
    one_only: bool,
    day: date | None,
    svg: Path | None,
) -> Answer:
    """Show every number that PART is linked with, and today's answer.

    The tree goes both ways: the older numbers that PART answers for and the newer ones that answer
    for it, with what may be changed for what. Each number that is not the answer says why. Loops
    and contradictions are shown with their chain and are not followed.

    \b
    Examples:
      kitting catalog trace C61-1067/010
      kitting catalog trace cor:C66-4078 --engine CV28110 --position camshaft
      kitting catalog trace C61-1067 --svg shells.svg
    """
    family, found = _traced(part, key, position, engine, grade, one_only, day or today())
    if svg is not None:
        from kitting.sheets.trace_picture import write_picture

        write_picture(family, found, svg)

    def shape() -> object:
        from kitting.cli.shapes.links import trace_shape

        return trace_shape(family, found)

    def text() -> str:
        from kitting.cli.trace_screen import trace_text

        said = trace_text(family, found)
        return f"{said}\n\nThe picture is in {svg}." if svg else said

    return shape, text


def _traced(
    typed: str, key: str, position: str, engine: str, grade: str, one_only: bool, day: date
) -> tuple[Family, Trace]:
    from kitting.catalog.resolver import subgraph_about
    from kitting.catalog.trace import trace
    from kitting.catalog.ways import Need
    from kitting.cli.catalog_parts import engine_of, grade_of, meant

    asked = meant(typed, key=key)
    (part,), family = asked.parts, asked.one_family(position)
    variant, running = engine_of(family, engine)
    own = [fit for fit in family.fits if fit.part == part.number]
    own = [fit for fit in own if fit.position == position] or own
    need = Need(
        part=part.number,
        quantity=_wanted(family, position, own),
        position=position,
        variant=variant,
        running=running,
        grade=grade_of(family, grade) or _own_grade(own),
        whole=not one_only,
    )
    return family, trace(need, subgraph_about(family, part.number), day)


def _wanted(family: Family, position: str, own: list[Fit]) -> int:
    """How many the position takes, one where none is named."""
    from kitting.cli.catalog_parts import position_of

    if not position:
        return 1
    named = [fit.quantity for fit in own if fit.position == position and fit.quantity]
    return named[0] if named else position_of(family, position).quantity


def _own_grade(own: list[Fit]) -> str:
    """The one size grade that a part is of, by its own rows of fits.csv; '' where not one."""
    grades = {fit.grade for fit in own}
    return grades.pop() if len(grades) == 1 else ""
