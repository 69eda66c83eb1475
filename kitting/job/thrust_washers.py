"""The thrust washer for a float, where a position's washers state which float each one serves.

A washer says so by its attribute `for float`: `0.010 to 0.016 in`, `up to 0.010 in` (itself among
them), `over 0.010 to 0.016 in` (0.010 not among them) or `over 0.016 in`. The parts are the rows
of the table, in whatever order; the standard one is that whose row answers for the float of a new
engine. A float that no row answers for is never given the nearest.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.catalog.attributes import FOR_FLOAT
from kitting.engineering.thrust import (
    ThrustChoice,
    choose_washer,
    in_order,
    row_said,
    standard_row,
    thrust_gap,
)
from kitting.errors import BadInput, Problem
from kitting.job.because import Because
from kitting.job.fitted import fits_here
from kitting.measure import parse_quantity

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from kitting.catalog.model import Feature, Part, PartNumber, Position
    from kitting.job.known_sizes import BenchSizes
    from kitting.measure import Quantity


@dataclass(frozen=True, slots=True)
class ThrustWasher:
    """The washer chosen for a position, None where the table or the bench leaves it open."""

    position: Position
    value: Quantity | None
    choice: ThrustChoice | None
    part: PartNumber | None
    because: Because


def choose_washers(bench: BenchSizes, renewed: Collection[str]) -> tuple[ThrustWasher, ...]:
    """Return the washer of every position whose parts are chosen by a float.

    Of positions that are not `renewed`, those that the bench said something of.
    """
    found = []
    for position in bench.family.positions_on(bench.verdicts.bench.job.variant):
        fits = fits_here(bench.family, position, bench.verdicts.bench.job)
        parts = [bench.family.part_by_number[fit.part] for fit in fits]
        washers = [part for part in parts if FOR_FLOAT in part.attributes]
        asked = position.key in renewed or position.key in bench.verdicts.findings
        if washers and asked:
            found.append(_choose(position, washers, bench))
    return tuple(found)


def _choose(position: Position, washers: Sequence[Part], bench: BenchSizes) -> ThrustWasher:
    features = bench.family.features_of.get(position.key, ())
    floats = [feature for feature in features if feature.kind == "end float"]
    readings = bench.readings(floats[0]) if floats else ()
    if not readings:
        says = f"{position.name}: which washer follows from the end float, and it was not measured"
        return ThrustWasher(position, None, None, None, Because(says, rule="parts.csv"))
    reading = max(readings, key=lambda each: each.value)
    doubt = bench.settings.uncertainty_of(reading, floats[0])
    value, how = None, Because(f"{floats[0].name}: measured {reading.value}")
    try:
        rows = in_order(row_said(str(part.number), part.attributes[FOR_FLOAT]) for part in washers)
        standard = standard_row(rows, floats[0].low, floats[0].high)
        name = standard.name if standard else ""
        value, how = _entered(
            reading.value, floats[0], [w for w in washers if str(w.number) == name], bench
        )
        choice = choose_washer(value, rows, uncertainty=doubt)
    except BadInput as error:
        because = Because(f"{position.name}: {error}", floats[0].source, "parts.csv", (how,))
        return ThrustWasher(position, value, None, None, because)
    part = next(
        (w.number for w in washers if choice.row and str(w.number) == choice.row.name), None
    )
    near = f"; within U it could be {' or '.join(choice.could_be)}" if choice.could_be else ""
    says = f"{position.name}: {choice.because}{near}"
    because = Because(says, floats[0].source, "parts.csv", (how,))
    return ThrustWasher(position, value, choice, part, because)


def _entered(
    end_float: Quantity, feature: Feature, standards: Sequence[Part], bench: BenchSizes
) -> tuple[Quantity, Because]:
    """What the table is entered with: the float that a standard washer would give.

    Raises:
        BadInput: a washer was measured, and none is known as the standard one.
    """
    in_place = bench.going_with(feature, "thickness")
    measured = bench.readings(in_place) if in_place else ()
    if not measured:
        return end_float, Because(f"{feature.name}: measured {end_float}")
    standard = standards[0].attributes.get("thickness") if standards else None
    if standard is None:
        raise BadInput(
            Problem(
                feature.key,
                "a washer was measured, and none of its washers is known as the standard one",
                "give the float its limits when new, and the washer for that float its thickness",
            )
        )
    worn = min(reading.value for reading in measured)
    nominal = parse_quantity(standard)
    value = thrust_gap(end_float, nominal, (worn,)).to(end_float.unit)
    says = f"{feature.name}: measured {end_float} on a washer of {worn}, so {value} on {nominal}"
    return value, Because(says)
