"""The stack of shims that brings a float, or an end play, nearest the middle of its band.

From a float measured with shims of known thickness in place: where shims take up the float, the
stack wanted is float + shims in place − middle; where they add to it, shims in place + middle −
float. Every sum that stock can make is looked at, so the first answer is the best there is.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import gcd

from kitting.engineering.band import Band
from kitting.errors import BadInput, Problem, Problems
from kitting.measure.quantity import Quantity

_MOST_SUMS = 200_000
_SHOWN = 5


class ShimsDo(StrEnum):
    """What one more shim does to the float."""

    CLOSE = "close"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class ShimStock:
    """Shims of one thickness, and how many are to hand (None: as many as wanted)."""

    thickness: Quantity
    count: int | None = None


@dataclass(frozen=True, slots=True)
class ShimTask:
    """The float as measured with `in_place` of shims, the band wanted, and the stock."""

    measured: Quantity
    in_place: Quantity
    band: Band
    stock: tuple[ShimStock, ...]
    shims_do: ShimsDo = ShimsDo.CLOSE


@dataclass(frozen=True, slots=True)
class Stack:
    """A stack: shims by thickness, thickest first; what it is thick, and the float it gives."""

    shims: tuple[tuple[Quantity, int], ...]
    thickness: Quantity
    gives: Quantity
    within: bool

    @property
    def count(self) -> int:
        """How many shims it has."""
        return sum(number for _, number in self.shims)

    def __str__(self) -> str:
        if not self.shims:
            return "no shim"
        return " + ".join(f"{number} × {thickness}" for thickness, number in self.shims)


@dataclass(frozen=True, slots=True)
class ShimChoice:
    """The best stack, others in order, whether the band is met, and why not."""

    ideal: Quantity
    best: Stack
    alternatives: tuple[Stack, ...]
    met: bool
    because: str


def choose_shims(task: ShimTask) -> ShimChoice:
    """Return the stack that lands nearest the middle of the band, the fewest shims first on ties.

    Where two stacks are equally near with equally many shims, the thinner one stands first.

    Raises:
        BadInput: no stock, a thickness or count that is none, or more sums than can be looked at.
    """
    _check(task)
    unit = task.band.low.unit
    sign = 1 if task.shims_do is ShimsDo.OPEN else -1
    bare = task.measured - task.in_place * sign
    ideal = ((task.band.middle - bare) * sign).to(unit)
    stacks = [
        Stack(shims, thickness, gives := (bare + thickness * sign).to(unit), gives in task.band)
        for shims, thickness in _sums(task.stock, ideal)
    ]
    stacks.sort(key=lambda stack: (abs(stack.thickness - ideal), stack.count, stack.thickness))
    best = stacks[0]
    others = [stack for stack in stacks[1:] if stack.within] or stacks[1:3]
    return ShimChoice(ideal, best, tuple(others[:_SHOWN]), best.within, _because(task, best, ideal))


def _because(task: ShimTask, best: Stack, ideal: Quantity) -> str:
    if best.within:
        return f"{best} gives {best.gives}; the middle of {task.band} is {task.band.middle}"
    if ideal.base < 0:
        return (
            f"the band {task.band} cannot be met: with no shim at all the float is {best.gives}, "
            "so something else must be machined or changed"
        )
    return (
        f"the band {task.band} cannot be met from this stock: the nearest stack, {best}, gives "
        f"{best.gives}; {ideal} of shims is wanted"
    )


def _check(task: ShimTask) -> None:
    problems = Problems()
    if not task.stock:
        problems.add("stock", "there are no shims to choose from", "list thicknesses and counts")
    seen: set[Quantity] = set()
    for shim in task.stock:
        if shim.thickness.base <= 0:
            problems.add("stock", f"a shim of {shim.thickness} is none", "give its thickness")
        if shim.count is not None and shim.count < 0:
            problems.add("stock", f"{shim.count} of {shim.thickness}", "count them from 0 up")
        if shim.thickness in seen:
            problems.add("stock", f"{shim.thickness} is there twice", "add the counts together")
        seen.add(shim.thickness)
    if task.in_place.base < 0:
        problems.add("in_place", f"{task.in_place} is below zero", "give the shims that were in")
    problems.raise_if_any()


_Counts = tuple[int, ...]


def _sums(
    stock: Sequence[ShimStock], ideal: Quantity
) -> list[tuple[tuple[tuple[Quantity, int], ...], Quantity]]:
    """Each thickness that can be stacked, with the fewest shims that make it.

    Nothing over twice the ideal is kept: no shim at all would be nearer.
    """
    shims = sorted(stock, key=lambda shim: shim.thickness, reverse=True)
    steps, most, step = _whole_steps(shims, ideal)
    found: dict[int, _Counts] = {0: ()}
    for size, shim in zip(steps, shims, strict=True):
        found = _with(found, size, shim.count, most)
    unit = ideal.unit
    return [
        (
            tuple((s.thickness, n) for s, n in zip(shims, counts, strict=True) if n),
            Quantity(step * total, unit),
        )
        for total, counts in found.items()
    ]


def _with(found: dict[int, _Counts], size: int, count: int | None, most: int) -> dict[int, _Counts]:
    """The sums, with 0 … count shims of one size added to each.

    The count is split in 1, 2, 4 … and a rest, each taken or not: every number up to it can be
    made so, in few passes.
    """
    grown = {total: (*counts, 0) for total, counts in found.items()}
    for part in _parts(min(most // size, most if count is None else count)):
        for total, counts in list(grown.items()):
            sum_now = total + part * size
            if sum_now > most:
                continue
            counts_now = (*counts[:-1], counts[-1] + part)
            known = grown.get(sum_now)
            if known is None or sum(counts_now) < sum(known):
                grown[sum_now] = counts_now
            if len(grown) > _MOST_SUMS:
                raise _too_many()
    return grown


def _parts(count: int) -> list[int]:
    parts = []
    part = 1
    while count > 0:
        parts.append(min(part, count))
        count -= parts[-1]
        part *= 2
    return parts


def _too_many() -> BadInput:
    return BadInput(
        Problem(
            "stock",
            "it makes too many stacks to look at",
            "leave out the thinnest, or give the counts to hand",
        )
    )


def _whole_steps(shims: Sequence[ShimStock], ideal: Quantity) -> tuple[list[int], int, Decimal]:
    """The thicknesses, and twice the ideal, in whole numbers of one common step; and that step."""
    parts = [Fraction(shim.thickness.base) for shim in shims]
    under = 1
    for part in parts:
        under = under * part.denominator // gcd(under, part.denominator)
    whole = [int(part * under) for part in parts]
    shared = gcd(*whole)
    twice = Fraction(ideal.base) * 2 * under / shared
    most = max(0, twice.numerator // twice.denominator)
    return [size // shared for size in whole], most, Decimal(shared) / Decimal(under)
