"""What every reading command shares: --json, --schema, and the text it shows otherwise."""

from __future__ import annotations

import functools
import json
from collections.abc import Callable
from importlib import import_module
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from pydantic import TypeAdapter

Answer = tuple[Callable[[], object], Callable[[], str]]
"""How to make the shape, and how to make the text: only the one that is asked for is made."""


def reads(shape: str) -> Callable[[Callable[..., Answer]], Callable[..., None]]:
    """Give a command --json and --schema.

    `shape` is 'module:Class' within `kitting.cli.shapes`; the command returns an `Answer`.
    """

    def decorate(function: Callable[..., Answer]) -> Callable[..., None]:
        @click.option("--json", "as_json", is_flag=True, help="Answer in JSON.")
        @click.option(
            "--schema",
            is_flag=True,
            is_eager=True,
            expose_value=False,
            callback=functools.partial(_print_schema, shape),
            help="Print the JSON's schema and stop.",
        )
        @functools.wraps(function)
        def command(*args: Any, as_json: bool, **kwargs: Any) -> None:
            make_shape, make_text = function(*args, **kwargs)
            if as_json:
                click.echo(_adapter(shape).dump_json(make_shape(), indent=2).decode())
            else:
                click.echo(make_text())

        return command

    return decorate


def _print_schema(shape: str, ctx: click.Context, _option: click.Parameter, asked: bool) -> None:
    if asked and not ctx.resilient_parsing:
        schema = _adapter(shape).json_schema(mode="serialization")
        click.echo(json.dumps(schema, indent=2, ensure_ascii=False))
        ctx.exit()


def _adapter(shape: str) -> TypeAdapter[Any]:
    from pydantic import TypeAdapter

    module, _, name = shape.partition(":")
    return TypeAdapter(getattr(import_module(f"kitting.cli.shapes.{module}"), name))
