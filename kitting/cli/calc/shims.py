"""`kitting calc shims`: the best stack for a float."""

from typing import Literal

import click

from kitting.cli.calc.common import Answer, Given, Length, Strict, figure, given_options, sum_door
from kitting.cli.calc.layout import facts, page, points, title
from kitting.cli.calc.sizes import NOTHING, split_option
from kitting.engineering.band import Band
from kitting.engineering.shims import ShimsDo, ShimStock, ShimTask, Stack, choose_shims
from kitting.measure import Unit


class ShimIn(Strict):
    """Shims of one thickness; without a count, as many as wanted."""

    thickness: Length
    count: int | None = None


class ShimsIn(Given):
    """The float as measured with `in_place` of shims, the band wanted, and the stock.

    Shims 'close' the float, or 'open' it (as under a housing or for a projection).
    """

    measured: Length
    in_place: Length = NOTHING
    low: Length
    high: Length
    stock: tuple[ShimIn, ...]
    shims: Literal["close", "open"] = "close"


class ShimOut(Strict):
    """So many of one thickness."""

    thickness: str
    count: int


class StackOut(Strict):
    """A stack and the float it gives."""

    shims: tuple[ShimOut, ...]
    thickness: str
    gives: str
    within: bool


class ShimsOut(Answer):
    """The best stack, and others in order."""

    met: bool
    because: str
    ideal: str
    best: StackOut
    alternatives: tuple[StackOut, ...]


def answer(given: ShimsIn, unit: Unit) -> ShimsOut:
    """Look at every stack."""
    choice = choose_shims(
        ShimTask(
            measured=given.measured.to(unit),
            in_place=given.in_place.to(unit),
            band=Band(given.low.to(unit), given.high.to(unit)),
            stock=tuple(ShimStock(shim.thickness.to(unit), shim.count) for shim in given.stock),
            shims_do=ShimsDo(given.shims),
        )
    )
    return ShimsOut(
        unit=str(unit),
        met=choice.met,
        because=choice.because,
        ideal=figure(choice.ideal, unit),
        best=_stack_out(choice.best, unit),
        alternatives=tuple(_stack_out(stack, unit) for stack in choice.alternatives),
    )


def _stack_out(stack: Stack, unit: Unit) -> StackOut:
    return StackOut(
        shims=tuple(
            ShimOut(thickness=figure(thickness, unit), count=count)
            for thickness, count in stack.shims
        ),
        thickness=figure(stack.thickness, unit),
        gives=figure(stack.gives, unit),
        within=stack.within,
    )


def _said(stack: StackOut, unit: str) -> str:
    shims = " + ".join(f"{shim.count} × {shim.thickness}" for shim in stack.shims) or "no shim"
    place = "in the band" if stack.within else "outside the band"
    return f"{shims} = {stack.thickness} {unit}, gives {stack.gives} {unit}, {place}"


def sheet(found: ShimsOut) -> str:
    """The answer as a sheet of text."""
    return page(
        title("Shims"),
        facts(
            (
                ("Best stack", _said(found.best, found.unit)),
                ("Wanted", f"{found.ideal} {found.unit} of shims"),
                ("Is the band met?", "yes" if found.met else "no"),
                ("Because", found.because),
            )
        ),
        points("Others", [_said(stack, found.unit) for stack in found.alternatives]),
    )


@sum_door(ShimsIn, ShimsOut, answer, sheet)
@click.option("--measured", help="The float as measured.")
@click.option("--in-place", help="The shims that were in when it was measured.")
@click.option("--low", help="Least float wanted.")
@click.option("--high", help="Greatest float wanted.")
@click.option("--shim", multiple=True, help="THICKNESS,COUNT to hand; or THICKNESS alone: plenty.")
@click.option("--opens", is_flag=True, default=None, help="A shim adds to the float.")
def command(
    *,
    measured: str | None,
    in_place: str | None,
    low: str | None,
    high: str | None,
    shim: tuple[str, ...],
    opens: bool | None,
) -> dict[str, object]:
    """The stack of shims that lands nearest the middle of the band, fewest shims first."""
    return given_options(
        measured=measured,
        in_place=in_place,
        low=low,
        high=high,
        stock=[_stock(text) for text in shim],
        shims="open" if opens else None,
    )


def _stock(text: str) -> dict[str, str]:
    if "," not in text:
        return {"thickness": text}
    thickness, count = split_option(text, 2, "--shim")
    return {"thickness": thickness, "count": count}
