"""The stack of shims for each end float that was measured, from the thicknesses that can be had.

A further shim is taken to close the float, as end shims do.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.engineering.band import Band
from kitting.engineering.shims import ShimChoice, ShimStock, ShimTask, choose_shims
from kitting.errors import BadInput
from kitting.job.because import Because
from kitting.job.fitted import fits_here
from kitting.measure import Limits, decide, parse_quantity
from kitting.measure.decide import Decision

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from kitting.catalog.model import Feature, PartNumber, Position
    from kitting.job.known_sizes import BenchSizes
    from kitting.measure import Quantity


@dataclass(frozen=True, slots=True)
class FloatShims:
    """An end float as measured, and the stack that brings it nearest the middle of its band.

    `in_place` is None where the shims that were in were not measured: then there is no `choice`.
    `as_it_is` says whether the float is proven inside its band already. `parts` are the shims of
    the best stack and how many of each; empty where no stack brings the float into its band.
    """

    position: Position
    feature: Feature
    measured: Quantity
    in_place: Quantity | None
    band: Band
    as_it_is: bool
    choice: ShimChoice | None
    because: Because
    parts: tuple[tuple[PartNumber, int], ...] = ()


def stack_shims(bench: BenchSizes) -> tuple[FloatShims, ...]:
    """Return a stack for every end float measured at a position that shims serve."""
    family = bench.family
    return tuple(
        found
        for position in family.positions_on(bench.verdicts.bench.job.variant)
        for feature in family.features_of.get(position.key, ())
        if feature.kind == "end float"
        for found in _stack(position, feature, bench)
    )


def floats_to_measure(bench: BenchSizes) -> frozenset[str]:
    """The positions whose shims follow from an end float that nobody has measured, by key."""
    family = bench.family
    return frozenset(
        position.key
        for position in family.positions_on(bench.verdicts.bench.job.variant)
        for feature in family.features_of.get(position.key, ())
        if feature.kind == "end float"
        and not bench.readings(feature)
        and len(_stock(position, bench)) > 1
    )


def _stack(position: Position, feature: Feature, bench: BenchSizes) -> Iterator[FloatShims]:
    readings = bench.readings(feature)
    numbers = _stock(position, bench)
    stock = tuple(ShimStock(thickness) for thickness in numbers)
    if not readings or not stock or feature.low is None or feature.high is None:
        return
    band = Band(feature.low, feature.high)
    # Where it was read more than once the greatest counts: it is what the shaft can move.
    reading = max(readings, key=lambda each: each.value)
    doubt = bench.settings.uncertainty_of(reading, feature)
    inside = decide(reading.value, doubt, Limits(band.low, band.high)) is Decision.GOOD
    shims = bench.going_with(feature, "thickness")
    in_reading = bench.readings(shims) if shims else ()
    in_place = in_reading[-1].value if in_reading else None
    choice, says = None, "measure the shims that are in with a micrometer, then ask again"
    if in_place is not None:
        try:
            choice = choose_shims(ShimTask(reading.value, in_place, band, stock))
            says = choice.because
        except BadInput as error:
            says = str(error)
    kept = "it is inside its band: leave the shims as they are" if inside else says
    measured = Because(
        f"{feature.name}: measured {reading.value}, U {doubt}"
        + (f", with {in_place} of shims in place" if in_place is not None else "")
    )
    because = Because(f"{feature.name}: {kept}", feature.source, after=(measured,))
    best = choice.best.shims if choice and choice.met else ()
    parts = tuple((numbers[thickness], count) for thickness, count in best)
    yield FloatShims(
        position, feature, reading.value, in_place, band, inside, choice, because, parts
    )


def _stock(position: Position, bench: BenchSizes) -> Mapping[Quantity, PartNumber]:
    """The shims that fit the position by their thickness, each thickness once."""
    found: dict[Quantity, PartNumber] = {}
    for fit in fits_here(bench.family, position, bench.verdicts.bench.job):
        part = bench.family.part_by_number[fit.part]
        if "shim" in part.kind and "thickness" in part.attributes:
            try:
                found.setdefault(parse_quantity(part.attributes["thickness"]), fit.part)
            except BadInput:
                continue
    return found
