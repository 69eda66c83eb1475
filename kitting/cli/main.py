"""`kitting`: the command and what every command of it shares.

A command's module is loaded when the command is asked for, so that help stays quick.
"""

import os
import sys
from types import MappingProxyType

import click

from kitting.cli.lazy import LazyGroup
from kitting.errors import BadInput, KittingError

BAD_INPUT, OUR_FAULT = 2, 1

# name → (module, attribute, help in a line), in the order of a job
COMMANDS = MappingProxyType(
    {
        "demo": ("demo", "demo", "Run the worked job and write its workbooks."),
        "catalog": ("catalog", "catalog", "Check, load, show and search the catalogue."),
        "job": ("job", "job", "Open a job, list the jobs, show one, close it."),
        "strip": ("strip", "strip", "Strip sheets out and in; findings one by one."),
        "verdicts": ("stages", "verdicts", "What follows for each part, and why."),
        "decide": ("decide", "decide", "A named person's word against the rules, kept."),
        "sizes": ("stages", "sizes", "The grade that each journal and bore is finished to."),
        "kit": ("stages", "kit", "What the job needs, by bag, and why."),
        "estimate": ("stages", "estimate", "What the job comes to, likely and worst."),
        "prices": ("prices", "prices", "Suppliers' price lists: load, show, history, review."),
        "order": ("order", "order", "Orders: drafted, approved, answered, delivered."),
        "approve": ("approve", "approve", "The customer's word on an estimate, line by line."),
        "shelf": ("shelf", "shelf", "The shop's own stock: in, out, counted, taken for jobs."),
        "bags": ("bags", "bags", "Which stage can start today; labels for the bags."),
        "build": ("build", "build", "Figures measured at assembly, against the plan, signed."),
        "sheets": ("sheets", "sheets", "Write the workbooks of a job."),
        "calc": ("calc", "calc", "The measuring and machining sums, each alone."),
        "doctor": ("doctor", "doctor", "Database, migrations, catalogue: what is missing."),
    }
)


@click.group(cls=LazyGroup, lazy=COMMANDS, context_settings={"max_content_width": 80})
@click.version_option(package_name="kitting", message="kitting %(version)s")
def main() -> None:
    """From the inspection of a stripped engine to one order that is right.

    A job goes: open it, write a strip sheet, fill it in at the bench, load it, then look at the
    verdicts, the sizes, the kit and the estimate, and write the sheets.

    \b
    Example:
      kitting job open 24-017 --family corvane-650 --engine CV23417 \\
          --customer "A. Customer"
      kitting strip sheet 24-017
      kitting strip load 24-017 filled.xlsx
      kitting kit 24-017

    Figures are aids: the maker's manual and a competent engineer come first.
    """


def run() -> None:
    """Run the command; bad input exits with 2, a fault of ours with 1, and neither with a trace."""
    sys.exit(guarded(sys.argv[1:]))


def guarded(arguments: list[str]) -> int:
    """Run `arguments` and return the exit status."""
    try:
        outcome = main.main(arguments, prog_name="kitting", standalone_mode=False)
    except BrokenPipeError:
        # the reader (a pager, head) has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as error:
        return _reported(error)
    return outcome if isinstance(outcome, int) else 0


def _reported(error: Exception) -> int:
    """Say what went wrong on standard error and return the exit status for it."""
    if isinstance(error, click.exceptions.Abort):
        click.echo("stopped", err=True)
        return OUR_FAULT
    if isinstance(error, click.ClickException):
        error.show()
        return BAD_INPUT
    if isinstance(error, BadInput):
        _say_problems(error)
        return BAD_INPUT
    if isinstance(error, KittingError):
        click.echo(str(error), err=True)
        return OUR_FAULT
    if os.environ.get("KITTING_TRACE"):
        raise error
    click.echo(f"A fault of the program, not of yours: {type(error).__name__}: {error}", err=True)
    click.echo("Run it again with KITTING_TRACE=1 and pass on what it prints.", err=True)
    return OUR_FAULT


def _say_problems(error: BadInput) -> None:
    for problem in error.problems:
        click.echo(str(problem), err=True)
    count = len(error.problems)
    if error.sum_up:
        click.echo(error.sum_up, err=True)
    elif count > 1:
        click.echo(f"{count} problems; nothing was stored.", err=True)
