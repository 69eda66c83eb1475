"""Sizes as they are known: as the bench measured them, with U, else by drawing."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR
from typing import TYPE_CHECKING

from kitting.engineering.band import Band
from kitting.engineering.bush_ream import ream_band
from kitting.job.because import Because
from kitting.measure import Limits

if TYPE_CHECKING:
    from kitting.catalog.family import Family
    from kitting.catalog.model import Feature
    from kitting.catalog.size_tables import SizeTable
    from kitting.job.findings import Reading
    from kitting.job.settings import Settings
    from kitting.job.verdicts import Verdicts
    from kitting.measure import Quantity, Unit


@dataclass(frozen=True, slots=True)
class KnownSize:
    """Where a true size lies, whether that was measured, and the sentence that says so."""

    band: Band
    measured: bool
    because: Because


@dataclass(frozen=True)
class BenchSizes:
    """What the bench measured of a job's features, and how sure its instruments are."""

    family: Family
    verdicts: Verdicts
    settings: Settings

    def readings(self, feature: Feature, station: str = "") -> tuple[Reading, ...]:
        """The readings of a feature, at one station where one is named."""
        finding = self.verdicts.findings.get(feature.position)
        if finding is None:
            return ()
        return tuple(
            reading
            for reading in finding.readings
            if reading.feature == feature.key and station in {"", reading.station}
        )

    def measured(self, feature: Feature, station: str = "") -> KnownSize | None:
        """Where the size lies by its readings: the least less U to the greatest and U."""
        readings = self.readings(feature, station)
        if not readings:
            return None
        doubts = [self.settings.uncertainty_of(reading, feature) for reading in readings]
        pairs = tuple(zip((reading.value for reading in readings), doubts, strict=True))
        band = Band(
            min(value - doubt for value, doubt in pairs).to(feature.unit),
            max(value + doubt for value, doubt in pairs).to(feature.unit),
        )
        least, greatest = min(v for v, _ in pairs), max(v for v, _ in pairs)
        spread = f"{least}" if least == greatest else f"{least} to {greatest}"
        where = f", {station}" if station else ""
        says = f"{feature.name}{where}: measured {spread}, U {max(doubts)}"
        return KnownSize(band, True, Because(says, f"{readings[0].instrument or 'bench'}"))

    def going_with(self, served: Feature, kind: str) -> Feature | None:
        """The feature of `kind` that goes with another, on the job's variant, or None."""
        here = {p.key for p in self.family.positions_on(self.verdicts.bench.job.variant)}
        for feature in self.family.features:
            serves = feature.goes_with == served.key and feature.kind == kind
            if serves and feature.position in here:
                return feature
        return None

    def metal_of(self, table: SizeTable) -> tuple[Feature, ...]:
        """The journals or bores of a table on the job's variant."""
        here = {p.key for p in self.family.positions_on(self.verdicts.bench.job.variant)}
        return tuple(
            feature
            for feature in self.family.features
            if feature.size_table == table.key and feature.position in here and is_metal(feature)
        )


def is_metal(feature: Feature) -> bool:
    """Whether the feature is the machined metal itself, not a shell's wall or a score in it."""
    return feature.kind in {"diameter", "bore"} and not feature.scores


def by_drawing(name: str, low: Quantity, high: Quantity, source: str) -> KnownSize:
    """A size that nobody measured: its drawing's limits."""
    band = Band(low, high)
    return KnownSize(band, False, Because(f"{name}: by drawing {band}", source))


def inward(band: Band, unit: Unit) -> Band:
    """The band in the figures that the trade reads, rounded inward so that it promises no more.

    A band too narrow for that is kept as it is.
    """
    low = band.low.to(unit).rounded(rounding=ROUND_CEILING)
    high = band.high.to(unit).rounded(rounding=ROUND_FLOOR)
    return Band(low, high) if low <= high else Band(band.low.to(unit), band.high.to(unit))


def outward(band: Band, unit: Unit) -> Band:
    """The band in the figures that the trade reads, rounded outward so that it hides nothing."""
    return Band(
        band.low.to(unit).rounded(rounding=ROUND_FLOOR),
        band.high.to(unit).rounded(rounding=ROUND_CEILING),
    )


def bore_for(runs: Band, wanted: Band, unit: Unit) -> Band:
    """The bore that gives the clearance wanted all over what runs in it, rounded inward.

    Raises:
        BadInput: what runs in it varies by more than the clearance does.
    """
    band = ream_band(Limits(runs.low, runs.high), Limits(wanted.low, wanted.high))
    return inward(band, unit)
