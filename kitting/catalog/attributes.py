"""What tells one part from another: attributes compared as figures where both are figures."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from kitting.errors import BadInput
from kitting.measure import Quantity, parse_quantity

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kitting.catalog.model import Part

# The float that a thrust washer serves, where washers are chosen by it.
FOR_FLOAT = "for float"
# How far a new part may be from the first of these figures that it states.
WITHIN = "within"
NEAR = ("thickness", "outside")
_BY = re.compile(r"(?<=[\d\"])\s*[x×]\s*(?=[\d.])")
_FEWEST = 2


def tidy(value: str) -> str:
    """An attribute as it is compared: one case, single spaces, none about the x of 1/2 x 20."""
    return _BY.sub("x", " ".join(value.casefold().split()))


@lru_cache(maxsize=8192)
def figure_in(value: str) -> Quantity | None:
    """The figure that an attribute states with its unit, or None."""
    try:
        return parse_quantity(value)
    except BadInput:
        return None


def nearness(attributes: Mapping[str, str]) -> tuple[str, Quantity, Quantity] | None:
    """The figure that a part says it is near to, by name, and how near; None where it says none."""
    name = next((name for name in NEAR if name in attributes), None)
    if name is None or WITHIN not in attributes:
        return None
    stated, within = figure_in(attributes[name]), figure_in(attributes[WITHIN])
    return (name, stated, within) if stated is not None and within is not None else None


def same_value(left: str, right: str) -> bool:
    """Whether two attributes say the same: as figures, 0.250 in being 6.35 mm, or as words."""
    one, other = figure_in(left), figure_in(right)
    if one is not None and other is not None:
        return one == other
    return tidy(left) == tidy(right)


def compare(one: Part, other: Part) -> tuple[tuple[str, str, str], ...]:
    """Every attribute that is not the same in both: its name and what each says, '' for nothing."""
    names = dict.fromkeys((*one.attributes, *other.attributes))
    pairs = ((name, one.attributes.get(name, ""), other.attributes.get(name, "")) for name in names)
    return tuple(pair for pair in pairs if not same_value(pair[1], pair[2]))


def same_size(part: Part, parts: Iterable[Part]) -> tuple[Part, ...]:
    """Other parts of its kind that agree in every attribute both have, two at least.

    A match by size alone: to be offered as 'same size, confirm', never taken.
    """
    found = []
    for other in parts:
        shared = part.attributes.keys() & other.attributes.keys()
        if other.number == part.number or other.kind != part.kind or len(shared) < _FEWEST:
            continue
        if all(same_value(part.attributes[name], other.attributes[name]) for name in shared):
            found.append(other)
    return tuple(found)
