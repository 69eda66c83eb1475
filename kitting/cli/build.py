"""`kitting build`: what is measured at assembly, against the plan: sheet out and in, one by one."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.catalog.nearest import nearest
from kitting.cli.amounts import shortened, worded
from kitting.cli.answer import Answer, reads
from kitting.cli.opened import Day, path_of, path_within, today
from kitting.cli.out_file import out_file
from kitting.cli.screen import paragraph
from kitting.errors import BadInput, NotFound, Problem

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kitting.job.build import BuildRecord, Planned
    from kitting.job.build_figures import BuildFigure
    from kitting.job.path import JobPath
    from kitting.store import UnitOfWork


@click.group()
def build() -> None:
    """The build record: figures measured at assembly, held against the plan and signed."""


@build.command()
@click.argument("number")
@click.option(
    "--to",
    "file",
    type=click.Path(path_type=Path),
    default=None,
    help="The file to write, or the folder for it [exports/JOB-build-sheet.xlsx].",
)
@click.option("--overwrite", is_flag=True, help="Write over a file that is there.")
def sheet(number: str, file: Path | None, overwrite: bool) -> None:
    """Write the build sheet of a job: a box for each figure, with the plan beside it.

    \b
    Example:
      kitting build sheet 26-041
    """
    from kitting.sheets.build.sheet_out import write_build_sheet
    from kitting.sheets.words import file_word

    path = path_of(number, None)
    out = out_file(file, Path("exports") / f"{file_word(number)}-build-sheet.xlsx")
    count = write_build_sheet(path, out, overwrite=overwrite)
    click.echo(f"written: {out}: {count} features to measure at assembly.")
    click.echo(f"Next: fill it in, then kitting build load {number} {out}")


@build.command()
@click.argument("number")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--look", is_flag=True, help="Only say what it would bring; store nothing.")
def load(number: str, file: Path, look: bool) -> None:
    """Load a filled build sheet; loading it twice changes nothing.

    \b
    Example:
      kitting build load 26-041 exports/26-041-build-sheet.xlsx
    """
    from kitting.sheets.build.sheet_in import read_build_sheet
    from kitting.store import Database

    with Database().work() as work:
        work.jobs.hold(number)
        path = path_within(work, number)
        report = read_build_sheet(file, path, today())
        before = work.building.figures(number)
        fresh = work.building.add_figures(number, report.figures)
        record = record_within(work, path)
        if not look:
            work.commit()
    for warning in report.warnings:
        click.echo(paragraph(f"note: {warning}", hang=2))
    if not fresh:
        click.echo("Nothing new: the record says all of it already.")
    else:
        _say_replaced(fresh, before)
        click.echo(f"{len(fresh)} figures {'would be ' if look else ''}added.")
    click.echo(paragraph(record.sentence))


# A figure below zero is no option.
@build.command(context_settings={"ignore_unknown_options": True})
@click.argument("number")
@click.argument("feature")
@click.argument("figure")
@click.option("--who", required=True, help="Who measured.")
@click.option("--at", "place", default="", help="Where along and round: 'top 90'.")
@click.option("--instrument", default="", help="With what, if not the usual.")
@click.option("--when", "day", type=Day(), default=None, help="On which day [today].")
def add(
    number: str,
    feature: str,
    figure: str,
    who: str,
    place: str,
    instrument: str,
    day: date | None,
) -> None:
    """Add one figure measured at assembly.

    \b
    Example:
      kitting build add 26-041 main-bush-clearance "0.0020 in" \\
          --who "J. Marlowe"
    """
    from kitting.cli.build_screens import line_text
    from kitting.job.bench_words import hear_reading
    from kitting.job.build import plan_build
    from kitting.job.build_figures import BuildFigure
    from kitting.store import Database

    name = worded("--who", who)
    if day is not None and day > today():
        wrong = f"{day:%d %b %Y} is still to come"
        raise BadInput(Problem("--when", wrong, "the day on which it was measured"))
    with Database().work() as work:
        work.jobs.hold(number)
        path = path_within(work, number)
        planned = _planned(path, plan_build(path), feature)
        spot = _spot(planned, place)
        tool = shortened("--instrument", instrument)
        reading = hear_reading(figure, planned.feature, path.family, spot, tool)
        said = BuildFigure(
            feature=reading.feature,
            station=reading.station,
            direction=reading.direction,
            text=reading.text,
            value=reading.value,
            instrument=reading.instrument,
            who=name,
            when=day or today(),
            place="command line",
        )
        before = work.building.figures(number)
        fresh = work.building.add_figures(number, [said])
        record = record_within(work, path)
        work.commit()
    _say_replaced(fresh, before)
    line = next(each for each in record.lines if each.planned.feature.key == planned.feature.key)
    click.echo(line_text(line))
    click.echo(paragraph(record.sentence))


@build.command()
@click.argument("number")
@click.option("--open", "only_open", is_flag=True, help="Only what is missing or not proven good.")
@click.option("--find", "words", default="", help="Only rows with this in any column.")
@reads("build:BuildShape")
def show(number: str, only_open: bool, words: str) -> Answer:
    """Show the build record: each figure against its plan, with its verdict and who measured.

    \b
    Example:
      kitting build show 26-041 --open
    """
    from kitting.cli.build_screens import build_text
    from kitting.store import Database

    with Database().read() as work:
        path = path_within(work, number)
        record = record_within(work, path)
        closing = work.building.closing(number)

    def shape() -> object:
        from kitting.cli.shapes.build import build_shape

        return build_shape(path, record, closing)

    return shape, lambda: build_text(path, record, closing, words, only_open=only_open)


def record_within(work: UnitOfWork, path: JobPath) -> BuildRecord:
    """The build record as it stands within a unit of work."""
    from kitting.job.build import judge_build, plan_build
    from kitting.job.settings import Settings

    figures = work.building.figures(path.bench.job.number)
    return judge_build(plan_build(path), figures, Settings.of_shop(path.trade.shop))


def _planned(path: JobPath, plan: Sequence[Planned], key: str) -> Planned:
    """The planned figure of that feature.

    Raises:
        NotFound: no such feature; near ones are offered.
        BadInput: it is none that is measured at assembly, or its assembly was not stripped.
    """
    found = {each.feature.key: each for each in plan}
    if key in found:
        return found[key]
    feature = path.family.feature_by_key.get(key)
    if feature is None:
        known = [each.key for each in path.family.features if each.at_build]
        raise NotFound("feature", key, nearest(key, found or known, 3))
    if not feature.at_build:
        raise BadInput(
            Problem(
                key,
                f"{feature.name} is measured when stripped, not at assembly",
                "add it with `kitting strip add`",
            )
        )
    raise BadInput(
        Problem(key, f"{feature.name} is of an assembly that was not stripped in this job")
    )


def _spot(planned: Planned, typed: str) -> tuple[str, str]:
    """The station and direction that `typed` names."""
    from kitting.job.build import where

    spots = {" ".join(filter(None, place)).casefold(): place for place in planned.places}
    spots |= {where(*place).casefold(): place for place in planned.places}
    found = spots.get(" ".join(typed.split()).casefold())
    if found is None:
        names = [" ".join(filter(None, place)) for place in planned.places]
        said = f"'{typed}' is no place of it" if typed else "it is measured at several places"
        raise BadInput(
            Problem(
                planned.feature.name,
                said,
                f"say --at {' or '.join(repr(name) for name in names)}"
                if any(names)
                else "leave --at away: it has one figure only",
            )
        )
    return found


def _say_replaced(fresh: Sequence[BuildFigure], before: Sequence[BuildFigure]) -> None:
    held = {figure.spot: figure for figure in before}
    for figure in fresh:
        old = held.get(figure.spot)
        if old is not None:
            said = (
                f"{figure.feature}: {figure.value} by {figure.who} takes the place of {old.value} "
                f"by {old.who}, {old.when:%d %b %Y}; both are kept"
            )
            click.echo(paragraph(said, hang=2))
