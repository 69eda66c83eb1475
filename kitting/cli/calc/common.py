"""What every `kitting calc` command shares. How to add one, say `kitting calc taper`:

1. a line in `kitting.cli.calc.SUMS`, and the module `kitting/cli/calc/taper.py`;
2. two pydantic models, `TaperIn(Given)` and `TaperOut(Answer)`. Lengths coming in are `Length`,
   which is a `Quantity` by the time the sum sees it; going out they are text, made by
   `figure(quantity, unit)`. Other kinds: `Force`, `Pressure`, `Stiffness`, `Temperature`,
   `Angle`, or `amount_of(dimension)`;
3. a function from the one to the other, and one that lays the answer out within 80 columns
   (helpers in `kitting.cli.calc.layout`);
4. the door, which only turns options into the same keys that the JSON has:

       @sum_door(TaperIn, TaperOut, answer, sheet)
       @click.option("--over", help="Length over which it was measured.")
       def command(*, over: str | None) -> dict[str, object]:
           \"\"\"One line of help.\"\"\"
           return given_options(over=over)

`sum_door` adds --input, --unit, --json and --schema, reads arrays, and turns bad input into
sentences on standard error with exit status 2. Options must default to None (or an empty tuple),
so that --input and options are not mixed unseen. Spell bad option text out with
`BadInput(Problem("--over", what is wrong, what would be right))`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Annotated, Any, TypeVar

import click
from pydantic import BaseModel, ConfigDict, PlainValidator, ValidationInfo, WithJsonSchema
from pydantic_core import PydanticCustomError

from kitting.cli.calc.jsonin import problems_of, read_inputs, write_json
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Dimension, Quantity, Unit, parse_quantity, unit_named

_FINEST = 12


class Strict(BaseModel):
    """A shape that refuses keys it does not know and never changes."""

    model_config = ConfigDict(extra="forbid", frozen=True, coerce_numbers_to_str=True)


class Given(Strict):
    """An input: `unit` stands for the bare numbers among its lengths."""

    unit: str | None = None


class Answer(Strict):
    """An output: every length in it is decimal text in `unit`."""

    unit: str


@dataclass(slots=True)
class _Reading:
    """What the validators share while one input is read."""

    unit: Unit | None
    first: Unit | None = None


def _validator(dimension: Dimension, bare: str | None) -> Callable[[Any, ValidationInfo], Quantity]:
    def validate(value: Any, info: ValidationInfo) -> Quantity:
        if isinstance(value, Quantity):
            return value
        context = info.context
        reading = context if isinstance(context, _Reading) else _Reading(None)
        if not isinstance(value, (str, int)) or isinstance(value, bool):
            raise PydanticCustomError("figure", "this is not a figure; write one such as '1.6872'")
        try:
            quantity = _parse(str(value), dimension, reading, bare)
        except BadInput as error:
            said = "; ".join(str(problem) for problem in error.problems)
            raise PydanticCustomError("figure", "{said}", {"said": said}) from error
        if dimension is Dimension.LENGTH and reading.first is None:
            reading.first = quantity.unit
        return quantity

    return validate


def _parse(text: str, dimension: Dimension, reading: _Reading, bare: str | None) -> Quantity:
    stands_for = reading.unit if dimension is Dimension.LENGTH else None
    if stands_for is None and bare is not None:
        stands_for = unit_named(bare)
    quantity = parse_quantity(text, stands_for)
    if quantity.unit.dimension is not dimension:
        raise BadInput(
            Problem("", f"'{text}' is a {quantity.unit.dimension}", f"a {dimension} belongs here")
        )
    return quantity


def _schema(dimension: Dimension, examples: list[str]) -> WithJsonSchema:
    return WithJsonSchema(
        {
            "type": ["string", "number"],
            "description": f"a {dimension} with its unit; a bare number takes the usual unit",
            "examples": examples,
        }
    )


def amount_of(dimension: Dimension, bare: str | None, *examples: str) -> Any:
    """A pydantic field type that reads a quantity; `bare` is the unit of a number without one."""
    return Annotated[
        Quantity,
        PlainValidator(_validator(dimension, bare)),
        _schema(dimension, list(examples)),
    ]


Length = Annotated[
    Quantity,
    PlainValidator(_validator(Dimension.LENGTH, None)),
    _schema(Dimension.LENGTH, ["1.6872 in", "42.85 mm", "1.5 thou"]),
]
Force = Annotated[
    Quantity,
    PlainValidator(_validator(Dimension.FORCE, None)),
    _schema(Dimension.FORCE, ["280 N", "12 lbf"]),
]
Pressure = Annotated[
    Quantity,
    PlainValidator(_validator(Dimension.PRESSURE, None)),
    _schema(Dimension.PRESSURE, ["60 psi", "210 MPa"]),
]
Stiffness = Annotated[
    Quantity,
    PlainValidator(_validator(Dimension.STIFFNESS, None)),
    _schema(Dimension.STIFFNESS, ["16.2 N/mm", "11.5 lbf/in"]),
]
Temperature = Annotated[
    Quantity,
    PlainValidator(_validator(Dimension.TEMPERATURE, "°C")),
    _schema(Dimension.TEMPERATURE, ["20 °C"]),
]
Angle = Annotated[
    Quantity,
    PlainValidator(_validator(Dimension.ANGLE, "°")),
    _schema(Dimension.ANGLE, ["120 °"]),
]


def figure(quantity: Quantity, unit: Unit) -> str:
    """The number alone, as decimal text in `unit`: exact where it ends within 12 decimals, else
    rounded half-even to 12; never fewer places than the unit's usual ones."""
    value = quantity.value_in(unit)
    exponent = value.normalize().as_tuple().exponent
    places = min(_FINEST, -exponent) if isinstance(exponent, int) else _FINEST
    step = Decimal(1).scaleb(-max(unit.places, places))
    return format(value.quantize(step, ROUND_HALF_EVEN), "f")


def estimate(quantity: Quantity, unit: Unit, beyond: int = 1) -> str:
    """An estimate's number in `unit`, rounded half-even to so many places beyond the usual."""
    return quantity.to(unit).show(unit.places + beyond).removesuffix(f" {unit}")


def figure_or_none(quantity: Quantity | None, unit: Unit) -> str | None:
    """`figure`, or None where there is no quantity."""
    return None if quantity is None else figure(quantity, unit)


def given_options(**options: object) -> dict[str, object]:
    """The options that were given, under the keys of the JSON."""
    return {key: value for key, value in options.items() if value not in (None, (), [], {})}


_In = TypeVar("_In", bound=Given)
_Out = TypeVar("_Out", bound=Answer)


def sum_door(
    given: type[_In],
    answer_shape: type[_Out],
    answer: Callable[[_In, Unit], _Out],
    sheet: Callable[[_Out], str],
) -> Callable[[Callable[..., dict[str, object]]], click.Command]:
    """Make a click command of a sum; see the top of this module.

    `answer` takes the checked input and the unit to answer in: the input's "unit", else that of
    the first length in it, else millimetres.
    """

    def decorate(function: Callable[..., dict[str, object]]) -> click.Command:
        def run(
            source: str | None, unit: str | None, as_json: bool, schema: bool, **options: object
        ) -> None:
            if schema:
                shapes = {
                    "input": given.model_json_schema(),
                    "output": answer_shape.model_json_schema(mode="serialization"),
                }
                click.echo(write_json(shapes))
                return
            try:
                inputs, is_array = _inputs(source, unit, function(**options))
                answers = _answers(inputs, is_array, given, answer)
            except BadInput as error:
                for problem in error.problems:
                    click.echo(str(problem), err=True)
                raise click.exceptions.Exit(2) from error
            if as_json:
                dumped = [found.model_dump(mode="json") for found in answers]
                click.echo(write_json(dumped if is_array else dumped[0]))
            else:
                click.echo("\n\n".join(sheet(found) for found in answers))

        return click.Command(
            function.__module__.rsplit(".", 1)[-1],
            params=[*reversed(getattr(function, "__click_params__", [])), *_shared_options()],
            callback=run,
            help=function.__doc__,
        )

    return decorate


def _shared_options() -> list[click.Parameter]:
    return [
        click.Option(["--input", "source"], help="A file with JSON, or - for standard input."),
        click.Option(["--unit"], help="Unit of bare numbers and of the answer: in, thou, mm."),
        click.Option(["--json", "as_json"], is_flag=True, help="Answer in JSON."),
        click.Option(["--schema"], is_flag=True, help="Print the shapes of the JSON in and out."),
    ]


def _inputs(
    source: str | None, unit: str | None, options: Mapping[str, object]
) -> tuple[list[object], bool]:
    if source is None:
        if not options:
            raise BadInput(
                Problem("", "nothing was given to work on", "see --help, or use --input FILE")
            )
        inputs: list[object] = [dict(options)]
        is_array = False
    elif options:
        names = ", ".join(sorted(options))
        raise BadInput(
            Problem("", f"--input was given, and options too ({names})", "give one or the other")
        )
    else:
        inputs, is_array = read_inputs(source)
    if unit is not None:
        inputs = [{"unit": unit} | one if isinstance(one, dict) else one for one in inputs]
    return inputs, is_array


def _answers(
    inputs: list[object],
    is_array: bool,
    given: type[_In],
    answer: Callable[[_In, Unit], _Out],
) -> list[_Out]:
    problems = Problems()
    answers: list[_Out] = []
    for number, raw in enumerate(inputs, 1):
        try:
            answers.append(_answer(raw, given, answer))
        except BadInput as error:
            for problem in error.problems:
                place = f"input {number}, {problem.place}" if is_array else problem.place
                problems.add(place.removesuffix(", "), problem.wrong, problem.right)
    problems.raise_if_any()
    return answers


def _answer(raw: object, given: type[_In], answer: Callable[[_In, Unit], _Out]) -> _Out:
    # imported here because only a failed validation needs it
    from pydantic import ValidationError

    reading = _Reading(_stated_unit(raw))
    try:
        checked = given.model_validate(raw, context=reading)
    except ValidationError as error:
        raise BadInput(problems_of(error, given)) from error
    return answer(checked, reading.unit or reading.first or unit_named("mm"))


def _stated_unit(raw: object) -> Unit | None:
    stated = raw.get("unit") if isinstance(raw, dict) else None
    if not isinstance(stated, str):
        return None
    problems = Problems()
    with problems.at("unit"):
        unit = unit_named(stated)
        if unit.dimension is not Dimension.LENGTH:
            problems.add("unit", f"'{stated}' is a {unit.dimension}", "name a length: in, mm, thou")
    problems.raise_if_any()
    return unit
