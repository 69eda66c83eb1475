"""JSON in and out of the sums: numbers keep the digits that were typed, errors name their line."""

import json
import sys
from collections.abc import Iterable
from decimal import Decimal
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from kitting.errors import BadInput, Problem

_FURTHEST = 30
_SAID = {
    "missing": ("it is missing", "give it"),
    "string_type": ("this is not text", "write it in quotation marks"),
    "tuple_type": ("this is not a list", "write it in [ ]"),
    "list_type": ("this is not a list", "write it in [ ]"),
    "model_type": ("this is not an object", "write it in { }"),
    "dict_type": ("this is not an object", "write it in { }"),
    "int_parsing": ("this is not a whole number", "write one such as 4"),
    "int_type": ("this is not a whole number", "write one such as 4"),
    "bool_parsing": ("this is neither true nor false", "write true or false"),
    "bool_type": ("this is neither true nor false", "write true or false"),
}


def read_inputs(source: str) -> tuple[list[object], bool]:
    """Return the inputs in a file, or in standard input for '-', and whether they came as an array.

    Numbers stay text, so that no digit is lost.

    Raises:
        BadInput: no such file, not UTF-8, or not JSON; the line is named.
    """
    name = "standard input" if source == "-" else source
    try:
        raw = sys.stdin.buffer.read() if source == "-" else _bytes_of(source)
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadInput(Problem(name, "it is not UTF-8 text", "save it as UTF-8")) from error
    except OSError as error:
        reason = error.strerror or "it cannot be read"
        raise BadInput(Problem(name, f"it cannot be read: {reason}", "check the path")) from error
    found = _parse(name, text)
    return (found, True) if isinstance(found, list) else ([found], False)


def _bytes_of(source: str) -> bytes:
    return Path(source).read_bytes()


def _parse(name: str, text: str) -> object:
    try:
        return json.loads(
            text,
            parse_float=_in_full,
            parse_int=str,
            parse_constant=_no_constant,
            object_pairs_hook=_once_each,
        )
    except json.JSONDecodeError as error:
        place = f"{name}, line {error.lineno}, column {error.colno}"
        raise BadInput(Problem(place, f"this is not JSON: {error.msg}", "mend it")) from error
    except BadInput as error:
        raise BadInput(
            [Problem(name, problem.wrong, problem.right) for problem in error.problems]
        ) from error
    except RecursionError as error:
        raise BadInput(Problem(name, "it is nested too deeply", "give plain inputs")) from error


def _in_full(text: str) -> str:
    """`5e-05` as 0.00005: programs write small numbers so, and no digit is lost."""
    number = Decimal(text)
    return format(number, "f") if abs(number.adjusted()) < _FURTHEST else text


def _no_constant(text: str) -> object:
    raise BadInput(Problem("", f"{text} is not a figure", "leave out what was not measured"))


def _once_each(pairs: Iterable[tuple[str, object]]) -> dict[str, object]:
    found: dict[str, object] = {}
    for key, value in pairs:
        if key in found:
            raise BadInput(Problem("", f"the key '{key}' is there twice", "keep one of them"))
        found[key] = value
    return found


def write_json(value: object) -> str:
    """The JSON text of an answer, two spaces a level."""
    return json.dumps(value, indent=2, ensure_ascii=False)


def problems_of(error: ValidationError, shape: type[BaseModel]) -> list[Problem]:
    """What pydantic found, in our own sentences."""
    return [_problem(dict(found), shape) for found in error.errors(include_url=False)]


def _problem(found: dict[str, Any], shape: type[BaseModel]) -> Problem:
    kind, place = found["type"], _place(found["loc"])
    if kind == "extra_forbidden":
        key = str(found["loc"][-1])
        near = get_close_matches(key, sorted(_keys(shape)), n=2, cutoff=0.6)
        right = f"did you mean {' or '.join(near)}?" if near else "leave it out; see --schema"
        return Problem(place, "no such key is known here", right)
    if kind in {"figure", "bad"}:
        return Problem(place, str(found["msg"]))
    if kind in {"enum", "literal_error"}:
        return Problem(place, f"'{found['input']}' is not one of the choices", _choices(found))
    wrong, right = _SAID.get(kind, (str(found["msg"]), "see --schema"))
    return Problem(place, wrong, right)


def _choices(found: dict[str, Any]) -> str:
    return f"write {found.get('ctx', {}).get('expected', 'one that --schema names')}"


def _place(loc: Iterable[str | int]) -> str:
    """`readings, number 3, value`: counted from one, as a person counts."""
    return ", ".join(f"number {part + 1}" if isinstance(part, int) else part for part in loc)


def _keys(shape: type[BaseModel]) -> set[str]:
    schema = shape.model_json_schema()
    shapes = [schema, *schema.get("$defs", {}).values()]
    return {key for one in shapes for key in one.get("properties", {})}
