"""`kitting calc thrust`: the thrust washer by table."""

import click

from kitting.cli.calc.common import Answer, Given, Length, Strict, figure, given_options, sum_door
from kitting.cli.calc.layout import facts, page, points, title
from kitting.cli.calc.sizes import NOTHING, BandOut, band_out, split_option
from kitting.engineering.band import Band
from kitting.engineering.thrust import WasherRow, choose_washer, thrust_gap
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Quantity, Unit


class RowIn(Strict):
    """A row of the table; `over` and `under` leave the figure itself out, `low` and `high` not."""

    name: str
    low: Length | None = None
    high: Length | None = None
    over: Length | None = None
    under: Length | None = None
    thickness_min: Length | None = None
    thickness_max: Length | None = None


class ThrustIn(Given):
    """The figure the table is entered with: `value`, or end play, nominal and washers.

    Then value = end play − (nominal − washers as measured). `step` is the step in which the table
    is printed.
    """

    rows: tuple[RowIn, ...]
    value: Length | None = None
    end_play: Length | None = None
    nominal: Length | None = None
    washers: tuple[Length, ...] = ()
    step: Length | None = None
    uncertainty: Length = NOTHING


class ThrustOut(Answer):
    """The row, or null with the reason; and the table's flaws."""

    value: str
    row: str | None
    thickness: BandOut | None
    because: str
    could_be: tuple[str, ...]
    gaps: tuple[str, ...]
    overlaps: tuple[str, ...]


def answer(given: ThrustIn, unit: Unit) -> ThrustOut:
    """Enter the table, and say where it is open."""
    value = _value(given).to(unit)
    choice = choose_washer(
        value, _rows(given.rows, unit), step=given.step, uncertainty=given.uncertainty
    )
    thickness = choice.row.thickness if choice.row else None
    return ThrustOut(
        unit=str(unit),
        value=figure(value, unit),
        row=choice.row.name if choice.row else None,
        thickness=band_out(thickness, unit) if thickness else None,
        because=choice.because,
        could_be=choice.could_be,
        gaps=tuple(str(gap) for gap in choice.gaps),
        overlaps=choice.overlaps,
    )


def _value(given: ThrustIn) -> Quantity:
    if given.value is not None:
        return given.value
    if given.end_play is None or given.nominal is None:
        raise BadInput(
            Problem(
                "value",
                "the figure to enter the table with is missing",
                "give value, or end_play, nominal and washers",
            )
        )
    return thrust_gap(given.end_play, given.nominal, given.washers)


def _rows(rows: tuple[RowIn, ...], unit: Unit) -> tuple[WasherRow, ...]:
    problems = Problems()
    found: list[WasherRow] = []
    for number, row in enumerate(rows, 1):
        with problems.at(f"rows, number {number}"):
            found.append(_row(row, unit))
    problems.raise_if_any()
    return tuple(found)


def _row(row: RowIn, unit: Unit) -> WasherRow:
    lows = [end for end in (row.low, row.over) if end is not None]
    highs = [end for end in (row.high, row.under) if end is not None]
    if len(lows) > 1 or len(highs) > 1:
        raise BadInput(Problem("", "an end is given twice", "give low or over, high or under"))
    if (row.thickness_min is None) != (row.thickness_max is None):
        raise BadInput(Problem("", "half a thickness", "give thickness_min and thickness_max"))
    thickness = None
    if row.thickness_min is not None and row.thickness_max is not None:
        thickness = Band(row.thickness_min.to(unit), row.thickness_max.to(unit))
    return WasherRow(
        name=row.name,
        low=lows[0].to(unit) if lows else None,
        high=highs[0].to(unit) if highs else None,
        low_itself=row.over is None,
        high_itself=row.under is None,
        thickness=thickness,
    )


def sheet(found: ThrustOut) -> str:
    """The answer as a sheet of text."""
    unit, washer = found.unit, found.thickness
    return page(
        title("Thrust washer"),
        facts(
            (
                ("Enter the table with", f"{found.value} {unit}"),
                ("Row", found.row or "none: the table does not answer"),
                ("Thickness", f"{washer.low} to {washer.high} {unit}" if washer else None),
                ("Because", found.because),
                ("Within uncertainty", ", ".join(found.could_be)),
            )
        ),
        points("Where the table is open", found.gaps),
        points("Where it answers twice", found.overlaps),
    )


@sum_door(ThrustIn, ThrustOut, answer, sheet)
@click.option("--value", help="The figure that the table is entered with.")
@click.option("--end-play", help="End play as measured; with --nominal and --washer.")
@click.option("--nominal", help="What the washers are taken from.")
@click.option("--washer", multiple=True, help="A washer as measured.")
@click.option("--row", multiple=True, help="NAME,LOW,HIGH; empty: open; >LOW, <HIGH: not itself.")
@click.option("--step", help="The step in which the table is printed.")
@click.option("--uncertainty", help="Expanded uncertainty (k = 2) of the figure.")
def command(
    *,
    value: str | None,
    end_play: str | None,
    nominal: str | None,
    washer: tuple[str, ...],
    row: tuple[str, ...],
    step: str | None,
    uncertainty: str | None,
) -> dict[str, object]:
    """The thrust washer for an end play, by the maker's table; gaps in the table are said."""
    return given_options(
        value=value,
        end_play=end_play,
        nominal=nominal,
        washers=list(washer),
        rows=[_row_from(text) for text in row],
        step=step,
        uncertainty=uncertainty,
    )


def _row_from(text: str) -> dict[str, str]:
    name, low, high = split_option(text, 3, "--row")
    return {"name": name} | _end(low, ">", "over", "low") | _end(high, "<", "under", "high")


def _end(text: str, sign: str, without: str, itself: str) -> dict[str, str]:
    """An end of a row: nothing, the figure itself, or from beyond it."""
    if not text:
        return {}
    return {without: text.removeprefix(sign)} if text.startswith(sign) else {itself: text}
