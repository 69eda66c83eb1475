"""Two parts beside each other: which attributes differ, and what the difference is at the bench.

A thread is compared as a thread (hand, diameter, pitch, form), a seal, an O-ring or a rolling
bearing by its sizes and what else tells it, any other attribute as a figure or as words.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

from kitting.catalog.attributes import figure_in, same_value
from kitting.engineering.o_rings import ORing, compare_o_rings
from kitting.engineering.rolling import compare_bearings, parse_bearing
from kitting.engineering.seal import SealSize, compare_seals
from kitting.engineering.sizes import Size, SizeComparison
from kitting.engineering.thread import Fits, compare_threads, threads_fit
from kitting.engineering.thread_text import parse_thread
from kitting.errors import BadInput
from kitting.measure import Quantity, parse_quantity

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from kitting.catalog.model import Part

_S = TypeVar("_S")
_T = TypeVar("_T")
_SEAL = ("shaft", "housing", "width")
_O_RING = ("inside", "section")
_ATTRIBUTE = {"inside diameter": "inside"}
_CLEARANCE = "internal clearance"


@dataclass(frozen=True, slots=True)
class AttributeLine:
    """One attribute of two parts: what each says, and whether it is the same.

    `means` says what the difference is at the bench, as well as it can be told; '' for a part that
    does not state the attribute.
    """

    name: str
    left: str
    right: str
    same: bool
    means: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Compared:
    """Two parts and every attribute that either has, in the order of the first."""

    left: Part
    right: Part
    lines: tuple[AttributeLine, ...]

    @property
    def differs(self) -> tuple[AttributeLine, ...]:
        """The attributes that are not the same, those that one part does not state among them."""
        return tuple(line for line in self.lines if not line.same)

    @property
    def same_size(self) -> bool:
        """Whether they agree in kind and in every attribute, and state at least two.

        Agreement by size alone is to be confirmed, never taken.
        """
        return self.left.kind == self.right.kind and len(self.lines) > 1 and not self.differs


def compare_parts(left: Part, right: Part) -> Compared:
    """Return every attribute of two parts, and what each difference means."""
    names = dict.fromkeys((*left.attributes, *right.attributes))
    told = _told_by_the_sums(left, right)
    return Compared(left, right, tuple(_line(name, left, right, told) for name in names))


def _line(
    name: str, left: Part, right: Part, told: Mapping[str, SizeComparison | tuple[str, ...]]
) -> AttributeLine:
    one, other = left.attributes.get(name, ""), right.attributes.get(name, "")
    if same_value(one, other):
        return AttributeLine(name, one, other, same=True)
    if not (one and other):
        states = left.number if one else right.number
        return AttributeLine(name, one, other, same=False, means=(f"only {states} states it",))
    means = _as_threads(one, other) if name == "thread" else told.get(name)
    if means is None:
        return AttributeLine(name, one, other, same=False, means=_as_figures(one, other))
    if isinstance(means, tuple):
        return AttributeLine(name, one, other, same=not means, means=means)
    same = means.size is Size.SAME
    says = f"{means.by} between them, within what such a size may vary" if same else str(means)
    return AttributeLine(name, one, other, same, (says if same else f"the second: {says}",))


def _as_threads(one: str, other: str) -> tuple[str, ...] | None:
    """What differs between two threads, nothing when they are one thread by two names."""
    threads = _parsed(parse_thread, (one, other))
    if threads is None:
        return None
    found = tuple(str(each) for each in compare_threads(*threads))
    fit = threads_fit(*threads)
    return (*found, f"they {fit}" if fit is Fits.NO else str(fit)) if found else ()


def _as_figures(one: str, other: str) -> tuple[str, ...]:
    left, right = figure_in(one), figure_in(other)
    if left is None or right is None or left.unit.dimension is not right.unit.dimension:
        return ()
    by = (right - left).to(left.unit)
    return (f"the second: {'larger' if by.base > 0 else 'smaller'} by {abs(by)}",)


def _told_by_the_sums(left: Part, right: Part) -> Mapping[str, SizeComparison | tuple[str, ...]]:
    """What the sums for bearings, seals and O-rings say, by the attribute that it belongs to."""
    both = left.attributes.keys() & right.attributes.keys()
    if "designation" in both:
        return _as_bearings(left, right)
    if both.issuperset(_SEAL):
        seals = _parsed(lambda part: SealSize(*_three(part)), (left, right))
        found = compare_seals(seals[1], seals[0]) if seals else ()
    elif both.issuperset(_O_RING):
        rings = _parsed(lambda part: ORing(*_two(part)), (left, right))
        found = compare_o_rings(rings[1], rings[0]) if rings else ()
    else:
        return {}
    return {_ATTRIBUTE.get(each.what, each.what): each for each in found}


def _as_bearings(left: Part, right: Part) -> Mapping[str, tuple[str, ...]]:
    bearings = _parsed(lambda part: parse_bearing(_designation(part)), (left, right))
    if bearings is None:
        return {}
    sizes, others = compare_bearings(bearings[1], bearings[0])
    told: dict[str, list[str]] = {
        "designation": [f"the second: {size}" for size in sizes if size.size is not Size.SAME],
        "clearance": [],
    }
    both = left.attributes.keys() & right.attributes.keys()
    for each in others:
        where = "clearance" if each.what == _CLEARANCE and "clearance" in both else "designation"
        told[where].append(f"{each.what}: {each.right} against {each.left}")
    # A designation that says nothing else by other words is the same bearing.
    return {name: tuple(says) for name, says in told.items() if says or name == "designation"}


def _designation(part: Part) -> str:
    """The designation, with the clearance class that stands in an attribute of its own."""
    return f"{part.attributes['designation']} {part.attributes.get('clearance', '')}".strip()


def _two(part: Part) -> tuple[Quantity, Quantity]:
    inside, section = (parse_quantity(part.attributes[name]) for name in _O_RING)
    return inside, section


def _three(part: Part) -> tuple[Quantity, Quantity, Quantity]:
    shaft, housing, width = (parse_quantity(part.attributes[name]) for name in _SEAL)
    return shaft, housing, width


def _parsed(parse: Callable[[_S], _T], two: tuple[_S, _S]) -> tuple[_T, _T] | None:
    """Both, read as what they should be; None when either cannot be."""
    try:
        return parse(two[0]), parse(two[1])
    except BadInput:
        return None
