"""A group whose commands are loaded one by one, when asked for, so that help stays quick."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from collections.abc import Mapping


class LazyGroup(click.Group):
    """A group that knows its commands by name and loads one when it is called.

    `lazy` gives by the name of each its module within `kitting.cli`, its attribute there and its
    help in a line, in the order in which they are listed.
    """

    def __init__(
        self, *args: Any, lazy: Mapping[str, tuple[str, str, str]], **attributes: Any
    ) -> None:
        super().__init__(*args, **attributes)
        self._lazy = lazy

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names, in their order."""
        return [*self._lazy, *super().list_commands(ctx)]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load one."""
        if cmd_name not in self._lazy:
            return super().get_command(ctx, cmd_name)
        module, attribute, _ = self._lazy[cmd_name]
        command: click.Command = getattr(import_module(f"kitting.cli.{module}"), attribute)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the names and what they do, without loading any."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, self._lazy[name][2]) for name in self.list_commands(ctx)])
