"""What the bench is asked of a position: where to measure, what to look for, how parts are told."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.catalog.attributes import FOR_FLOAT, WITHIN

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.family import Family
    from kitting.catalog.model import Feature, Part, Position
    from kitting.catalog.rules import Observation


def reading_places(feature: Feature) -> tuple[tuple[str, str], ...]:
    """Every station × direction of a feature's plan; one empty pair where a single figure does."""
    return tuple(
        (station, direction)
        for station in feature.stations or ("",)
        for direction in feature.directions or ("",)
    )


def observations_at(position: Position, family: Family) -> Mapping[str, Observation]:
    """The observations that can be made of a position's kind, by key."""
    return MappingProxyType(
        {
            seen.key: seen
            for seen in family.observations
            if not seen.kinds or position.kind in seen.kinds
        }
    )


def parts_at(position: Position, family: Family) -> tuple[Part, ...]:
    """The parts that the catalogue says fit a position, in its order."""
    fits = family.fits_of.get(position.key, ())
    found = (family.part_by_number.get(fit.part) for fit in fits)
    return tuple(part for part in found if part is not None)


def attributes_at(position: Position, family: Family) -> Mapping[str, str]:
    """The attributes that tell the parts of a position apart, each with a value as an example.

    How near a new part is to its figure, and the float that a washer serves, tell none from
    another on the bench.
    """
    found: dict[str, str] = {}
    for part in parts_at(position, family):
        for key, value in part.attributes.items():
            if key not in {WITHIN, FOR_FLOAT}:
                found.setdefault(key, value)
    return MappingProxyType(found)
