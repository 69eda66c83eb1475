"""One attribute of a fitted part against the parts list: the same, or what differs.

A thread is compared as a thread, whatever it is called; a rolling bearing by its designation and
clearance class; a seal by its three sizes. Anything else is compared as a figure, which may be
off by as much as the part's maker allows, or as words.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from kitting.catalog.attributes import nearness
from kitting.engineering.rolling import compare_bearings, parse_bearing
from kitting.engineering.seal import compare_seals, parse_seal
from kitting.engineering.sizes import Size
from kitting.engineering.thread import compare_threads
from kitting.engineering.thread_forms import Hand
from kitting.engineering.thread_text import parse_thread
from kitting.errors import BadInput
from kitting.measure import parse_quantity

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.engineering.thread import ThreadSpec

_THREADS = frozenset({"thread", "foot"})
_LEFT = "left"


def what_differs(
    name: str, measured: Mapping[str, str], wanted: Mapping[str, str]
) -> tuple[str, ...] | None:
    """Return what differs in attribute `name`, which both have; None when nothing does.

    Empty where the two differ and there is no more to say than their values.
    """
    found: tuple[str, ...] | None
    if name in _THREADS:
        found = _threads(name, measured, wanted)
    elif name == "designation":
        found = _bearings(measured, wanted)
    else:
        found = _seals(measured[name], wanted[name])
    if found is not None:
        return found or None
    same = _same_text(measured[name], wanted[name]) or _near_enough(name, measured, wanted)
    return None if same else ()


def _threads(
    name: str, measured: Mapping[str, str], wanted: Mapping[str, str]
) -> tuple[str, ...] | None:
    right = _thread(wanted[name], "")
    fitted = _thread(measured[name], wanted[name].split()[-1]) if right else None
    if right is None or fitted is None:
        return None
    # The parts list states the hand beside the thread; unsaid at the bench, it is not judged.
    if wanted.get("hand", "").startswith(_LEFT):
        right = replace(right, hand=Hand.LEFT)
    if fitted.hand is not Hand.LEFT:
        fitted = replace(fitted, hand=right.hand)
    return tuple(str(each) for each in compare_threads(fitted, right))


def _thread(text: str, series: str) -> ThreadSpec | None:
    """The thread that a text names; one without a series is taken to be of the series wanted."""
    for typed in (text, f"{text} {series}") if series else (text,):
        try:
            return parse_thread(typed)
        except BadInput:
            continue
    return None


def _bearings(measured: Mapping[str, str], wanted: Mapping[str, str]) -> tuple[str, ...] | None:
    try:
        fitted, right = parse_bearing(_marked(measured)), parse_bearing(_marked(wanted))
    except BadInput:
        return None
    sizes, others = compare_bearings(fitted, right)
    return (
        *(str(size) for size in sizes if size.size is not Size.SAME),
        *(str(other) for other in others),
    )


def _marked(attributes: Mapping[str, str]) -> str:
    """The designation with its clearance class, where that stands apart."""
    return f"{attributes['designation']} {attributes.get('clearance', '')}".strip()


def _seals(measured: str, wanted: str) -> tuple[str, ...] | None:
    try:
        fitted, right = parse_seal(measured), parse_seal(wanted)
    except BadInput:
        return None
    return tuple(str(s) for s in compare_seals(fitted, right) if s.size is not Size.SAME)


def _near_enough(name: str, measured: Mapping[str, str], wanted: Mapping[str, str]) -> bool:
    """Whether a figure is as near to the part's own as its maker allows."""
    near = nearness(wanted)
    if near is None or near[0] != name:
        return False
    _, stated, within = near
    try:
        figure = parse_quantity(measured[name], stated.unit)
    except BadInput:
        return False
    alike = figure.is_length and stated.is_length and within.is_length
    return alike and abs(figure - stated) <= within


def _same_text(left: str, right: str) -> bool:
    try:
        one = parse_quantity(left)
        return one == parse_quantity(right, one.unit)
    except BadInput:
        return " ".join(left.casefold().split()) == " ".join(right.casefold().split())
