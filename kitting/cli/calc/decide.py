"""`kitting calc decide`: what a reading proves of its limits."""

import click

from kitting.cli.calc.common import (
    Answer,
    Given,
    Length,
    Strict,
    Temperature,
    estimate,
    figure,
    given_options,
    sum_door,
)
from kitting.cli.calc.layout import facts, page, points, table, title
from kitting.cli.calc.sizes import NOTHING, split_option
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Decision, Limits, Quantity, Unit, decide
from kitting.measure.expansion import REFERENCE, Body, at_reference
from kitting.measure.uncertainty import (
    Budget,
    Instrument,
    instrument_budget,
    spread_of,
    what_would_decide,
)


class BodyIn(Strict):
    """A material and its temperature."""

    material: str
    temperature: Temperature = REFERENCE


class InstrumentIn(Strict):
    """The instrument's budget; `repeats` are readings of one place, from which the operator's
    spread is worked out where `operator` is not given."""

    resolution: Length
    calibration: Length = NOTHING
    operator: Length | None = None
    repeats: tuple[Length, ...] = ()
    temperature_spread: Temperature = Quantity.of(0, "°C")
    material: str = "carbon steel"
    temperature: Temperature = REFERENCE


class DecideIn(Given):
    """A reading, its limits, and either its uncertainty or the instrument's budget.

    Where `part` is given, the reading is corrected to 20 °C first.
    """

    reading: Length
    low: Length | None = None
    high: Length | None = None
    uncertainty: Length | None = None
    instrument: InstrumentIn | None = None
    part: BodyIn | None = None


class LineOut(Strict):
    """A line of the budget."""

    source: str
    half_width: str
    shape: str
    standard: str


class DecideOut(Answer):
    """The decision and its sum."""

    decision: str
    because: str
    reading: str
    at_20: str
    uncertainty: str
    budget: tuple[LineOut, ...]
    would_decide: tuple[str, ...]


def answer(given: DecideIn, unit: Unit) -> DecideOut:
    """Correct to 20 °C, work out U, decide."""
    _check(given)
    reading = given.reading.to(unit)
    part = Body(given.part.material, given.part.temperature) if given.part else None
    corrected = _corrected(given, reading, part)
    budget = _budget(given, corrected, part)
    spread = (budget.expanded if budget else given.uncertainty or NOTHING).to(unit)
    limits = Limits(
        low=given.low.to(unit) if given.low is not None else None,
        high=given.high.to(unit) if given.high is not None else None,
    )
    decision = decide(corrected, spread, limits)
    return DecideOut(
        unit=str(unit),
        decision=decision.value,
        because=_because(corrected, spread, limits, decision),
        reading=figure(reading, unit),
        at_20=figure(corrected, unit),
        uncertainty=_spread_out(given, spread, unit),
        budget=_lines(budget, unit),
        would_decide=_would_decide(corrected, spread, limits, decision),
    )


def _check(given: DecideIn) -> None:
    problems = Problems()
    if given.reading.base <= 0:
        problems.add("reading", f"{given.reading} is not above zero", "write it without a sign")
    if given.low is None and given.high is None:
        problems.add("limits", "there is none", "give low, high or both")
    if (given.uncertainty is None) == (given.instrument is None):
        problems.add("uncertainty", "it is not clear", "give uncertainty, or instrument")
    problems.raise_if_any()


def _corrected(given: DecideIn, reading: Quantity, part: Body | None) -> Quantity:
    if part is None:
        return reading
    tool = given.instrument
    return at_reference(reading, part, Body(tool.material, tool.temperature) if tool else None)


def _budget(given: DecideIn, length: Quantity, part: Body | None) -> Budget | None:
    tool = given.instrument
    if tool is None:
        return None
    if tool.operator is None and tool.repeats:
        operator, repeats = spread_of(tool.repeats), len(tool.repeats)
    else:
        operator, repeats = tool.operator or NOTHING, max(1, len(tool.repeats))
    return instrument_budget(
        length,
        Instrument(
            resolution=tool.resolution,
            calibration=tool.calibration,
            operator=operator,
            part=part or Body("carbon steel"),
            body=Body(tool.material, tool.temperature),
            temperature_spread=tool.temperature_spread,
            repeats=repeats,
        ),
    )


def _spread_out(given: DecideIn, spread: Quantity, unit: Unit) -> str:
    """As given, or what was worked out, to two places beyond the usual."""
    return figure(spread, unit) if given.instrument is None else estimate(spread, unit, 2)


def _lines(budget: Budget | None, unit: Unit) -> tuple[LineOut, ...]:
    return tuple(
        LineOut(
            source=line.source,
            half_width=estimate(line.half_width, unit, 2),
            shape=line.shape.value,
            standard=estimate(line.standard, unit, 2),
        )
        for line in (budget.lines if budget else ())
    )


def _because(value: Quantity, spread: Quantity, limits: Limits, decision: Decision) -> str:
    said = {
        Decision.GOOD: "is proven inside",
        Decision.BAD: "is proven outside",
        Decision.UNDECIDED: "is proven neither inside nor outside",
    }[decision]
    return f"{value} with U = {spread} (k = 2) {said} {limits} (ISO 14253-1)"


def _would_decide(
    value: Quantity, spread: Quantity, limits: Limits, decision: Decision
) -> tuple[str, ...]:
    if decision is not Decision.UNDECIDED:
        return ()
    return tuple(
        f"against {limit}: {what_would_decide(value, spread, limit)}"
        for limit in (limits.low, limits.high)
        if limit is not None and abs(value - limit) < spread
    )


def sheet(found: DecideOut) -> str:
    """The answer as a sheet of text."""
    unit = found.unit
    warm = found.at_20 if found.at_20 != found.reading else None
    return page(
        title("What the reading proves"),
        facts(
            (
                ("Decision", found.decision),
                ("Because", found.because),
                ("Reading", f"{found.reading} {unit}"),
                ("At 20 °C", f"{warm} {unit}" if warm else None),
                ("U, k = 2", f"{found.uncertainty} {unit}"),
            )
        ),
        table(
            ("Source", "Half-width", "Standard", "Shape"),
            [(line.source, line.half_width, line.standard, line.shape) for line in found.budget],
        )
        if found.budget
        else "",
        points("What would decide", found.would_decide),
    )


@sum_door(DecideIn, DecideOut, answer, sheet)
@click.option("--reading", help="What was read.")
@click.option("--low", help="Low limit.")
@click.option("--high", help="High limit.")
@click.option("--uncertainty", help="Expanded uncertainty (k = 2), when it is known.")
@click.option("--resolution", help="Step of the instrument's scale: works U out instead.")
@click.option("--calibration", help="Expanded uncertainty (k = 2) on its certificate.")
@click.option("--operator", help="Standard deviation of one reading by this hand.")
@click.option("--repeat", multiple=True, help="A repeat of the reading, to work that out.")
@click.option("--degrees", help="How well the temperatures are known, ± °C.")
@click.option("--part", help="MATERIAL,°C of the part.")
@click.option("--tool", help="MATERIAL,°C of the instrument.")
def command(
    *,
    reading: str | None,
    low: str | None,
    high: str | None,
    uncertainty: str | None,
    resolution: str | None,
    calibration: str | None,
    operator: str | None,
    repeat: tuple[str, ...],
    degrees: str | None,
    part: str | None,
    tool: str | None,
) -> dict[str, object]:
    """Good, bad or undecided after ISO 14253-1; the instrument's budget; correction to 20 °C."""
    instrument = given_options(
        resolution=resolution,
        calibration=calibration,
        operator=operator,
        repeats=list(repeat),
        temperature_spread=degrees,
        **(_body(tool, "--tool") or {}),
    )
    if instrument and resolution is None:
        raise BadInput(Problem("--resolution", "it is missing", "give the step of the scale"))
    return given_options(
        reading=reading,
        low=low,
        high=high,
        uncertainty=uncertainty,
        instrument=instrument,
        part=_body(part, "--part"),
    )


def _body(text: str | None, option: str) -> dict[str, object] | None:
    if text is None:
        return None
    material, temperature = split_option(text, 2, option)
    return {"material": material, "temperature": temperature}
