"""`kitting calc NAME`: each sum of the bench and the machine shop, alone.

A name is a module of this package that is loaded when it is asked for, so that help stays quick.
To add one: a line in `SUMS`, and a module with a `command` (see `kitting.cli.calc.common`).
"""

from importlib import import_module
from types import MappingProxyType

import click

# name → (module, what it answers)
SUMS = MappingProxyType(
    {
        "journal": ("journal", "Ovality, taper and wear of a journal, and the grade it is at."),
        "bore": ("bore", "Ovality, taper and wear ridge of a bore; next oversize; ring gap."),
        "decide": ("decide", "Good, bad or undecided: a reading, its limits, its uncertainty."),
        "regrind": ("regrind", "The undersize a journal cleans up at, and every grade's why."),
        "crank": ("crank", "All journals ground together: the deepest grade of the group."),
        "clearance": ("clearance", "Oil clearance, the band to grind to, shells to choose."),
        "film": ("film", "What a clearance does to the oil film, as a second opinion."),
        "bush": ("bush", "Pressing in a bush: pressure, closure, heat, size to ream."),
        "shims": ("shims", "The best stack of shims for an end float."),
        "thrust": ("thrust", "The thrust washer for a measured end play, by table."),
        "spring": ("spring", "Rate, loads and blow-off pressure of a coil spring."),
        "thread": ("thread", "Sizes of a thread, which thread it is, do two fit."),
        "fit": ("fit", "ISO 286 limits of a hole and shaft, and their clearance."),
        "seal": ("seal", "Is a seal the same size as another."),
        "bearing": ("bearing", "Size, designation and clearance of a rolling bearing."),
    }
)


class SumsGroup(click.Group):
    """A group that knows its commands by name and loads one when it is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names, in the order of the table."""
        return [*SUMS, *super().list_commands(ctx)]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load one."""
        if cmd_name not in SUMS:
            return super().get_command(ctx, cmd_name)
        command: click.Command = import_module(f"{__name__}.{SUMS[cmd_name][0]}").command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the names and what they answer, without loading any."""
        with formatter.section("Sums"):
            formatter.write_dl([(name, SUMS[name][1]) for name in self.list_commands(ctx)])


@click.group(cls=SumsGroup)
def calc() -> None:
    """The measuring and machining sums, each usable alone.

    Each takes options, or --input FILE ('-' for standard input) with JSON; --json answers in JSON
    and --schema prints both shapes. Figures are aids: the maker's manual and a competent engineer
    come first.
    """
