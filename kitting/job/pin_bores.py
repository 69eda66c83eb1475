"""New bushes and guides that run on a pin or a stem: the bore that each is finished to.

They close as they are pressed in, and are reamed to what runs in them: to the pin or stem as it
was measured, where it is kept or the new one is in hand, else by its drawing until it is here.
Bushes that follow a journal with a size table are sized by `bush_sizes`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.engineering.band import Band
from kitting.errors import BadInput
from kitting.job.because import Because
from kitting.job.known_sizes import bore_for, by_drawing

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from kitting.catalog.family import Family
    from kitting.catalog.model import Feature, Position
    from kitting.job.known_sizes import BenchSizes, KnownSize


@dataclass(frozen=True, slots=True)
class PinBore:
    """The bore of one new bush or guide, on the pin or stem that runs in it.

    `bore` is None where no bore gives the clearance all over the pin; the `because` says so.
    `measured` tells whether the pin that will run there was measured, or stands by drawing.
    """

    position: Position
    pin: Feature
    pin_band: Band
    measured: bool
    wanted: Band
    bore: Band | None
    because: Because


def size_to_pins(bench: BenchSizes, renewed: Collection[str]) -> tuple[PinBore, ...]:
    """Return the bore of every bush or guide that is renewed and runs on a pin or stem."""
    family = bench.family
    return tuple(
        found
        for position in family.positions_on(bench.verdicts.bench.job.variant)
        if position.key in renewed
        for feature in family.features_of.get(position.key, ())
        for found in _sized(position, feature, bench, renewed)
    )


def _sized(
    position: Position, feature: Feature, bench: BenchSizes, renewed: Collection[str]
) -> Iterator[PinBore]:
    pin = runs_in(bench.family, feature)
    wanted = clearance_on(bench.family, feature)
    if pin is None or wanted is None:
        return
    runs, how = _pin(feature, pin, bench, renewed)
    if runs is None:
        return
    bore = None
    try:
        bore = bore_for(runs.band, wanted, feature.unit)
    except BadInput as error:
        says = f"{position.name}: {error}"
    else:
        says = f"{position.name}: ream to {bore} for a clearance of {wanted}{how}"
    because = Because(says, feature.source, "features.csv", after=(runs.because,))
    yield PinBore(position, pin, runs.band, runs.measured, wanted, bore, because)


def runs_in(family: Family, bore: Feature) -> Feature | None:
    """The pin or stem that runs in a bore which is finished to suit it, or None.

    A bore that goes with a journal of a size table is the housing of its bearing, and nothing runs
    in it.
    """
    pin = family.feature_by_key.get(bore.goes_with) if bore.kind == "bore" else None
    return pin if pin is not None and pin.kind == "diameter" and not pin.size_table else None


def clearance_on(family: Family, bore: Feature) -> Band | None:
    """The drawing's clearance: as printed at the bore's position, else bore less pin."""
    for feature in family.features_of.get(bore.position, ()):
        if feature.kind == "clearance" and feature.low is not None and feature.high is not None:
            return Band(feature.low, feature.high)
    pin = runs_in(family, bore)
    if pin is None or bore.low is None or bore.high is None or pin.low is None or pin.high is None:
        return None
    return Band(bore.low - pin.high, bore.high - pin.low)


def _pin(
    bore: Feature, pin: Feature, bench: BenchSizes, renewed: Collection[str]
) -> tuple[KnownSize | None, str]:
    """What will run in the bore, and what is still to be done about it.

    A new one in hand counts before all. The old one's readings count only where it is kept.
    """
    new = bench.going_with(bore, "diameter")
    in_hand = bench.measured(new) if new is not None else None
    if in_hand is not None:
        return in_hand, ""
    is_new = pin.position in renewed
    kept = None if is_new else bench.measured(pin)
    if kept is not None:
        return kept, ""
    drawn = new if is_new and new is not None else pin
    if drawn.low is None or drawn.high is None:
        return None, ""
    then = "; measure the new one in hand, and ream to that" if is_new else "; measure it first"
    return by_drawing(drawn.name, drawn.low, drawn.high, drawn.source), then
