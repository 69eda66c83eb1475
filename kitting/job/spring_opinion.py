"""A fitted spring judged whole: rate, free length and shape together tell tired from another.

Each figure is held against its own limits elsewhere; here they are put together, and a spring that
is not the position's is looked for among the family's others.
"""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

from kitting.catalog.model import Verdict
from kitting.engineering.spring_verdict import (
    SpringBand,
    SpringFigures,
    SpringState,
    SpringUncertainty,
    judge_spring,
)
from kitting.errors import BadInput
from kitting.job.because import Because
from kitting.measure import Limits, Quantity, parse_quantity

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.family import Family
    from kitting.catalog.model import Feature, Part, Position
    from kitting.job.findings import Finding
    from kitting.job.settings import Settings

_FOLLOWS = {SpringState.TIRED: Verdict.RENEW, SpringState.ANOTHER: Verdict.WRONG_PART}
# Within this of a listed rate a spring may be that one; makers hold rates to some 5 %
# (common practice, no source).
_ALIKE = Decimal("0.05")


def judge_fitted_spring(
    family: Family, position: Position, finding: Finding, settings: Settings
) -> tuple[Verdict, Because] | None:
    """Return what the figures of a spring make of it, or None where they prove nothing amiss.

    Only a spring whose rate the family states is judged so; one that lengthens in use (a tension
    spring, with an upper limit of wear on its length) is judged by its rate alone.
    """
    features = family.features_of.get(position.key, ())
    rate = next((feature for feature in features if feature.kind == "rate"), None)
    if rate is None:
        return None
    length = next((feature for feature in features if feature.kind == "length"), None)
    if length is not None and length.wear_high is not None:
        length = None
    figures = SpringFigures(
        free_length=_least(length, finding),
        rate=_least(rate, finding),
        wire=_attribute(finding, "wire"),
        outside=_attribute(finding, "outside"),
        total_coils=_count(finding),
    )
    if figures == SpringFigures():
        return None
    band = SpringBand(
        free_length=Limits(length.wear_low or length.low, length.high) if length else None,
        rate=Limits(rate.low, rate.high),
        total_coils=_listed_coils(family, position),
    )
    try:
        found = judge_spring(figures, band, _doubts(finding, rate, length, settings))
    except BadInput as error:
        return Verdict.RECHECK, Because(f"{position.name}: {error}", rate.source)
    verdict = _FOLLOWS.get(found.state)
    if verdict is None:
        return None
    says = f"{position.name} is {found.state}: {'; '.join(found.reasons)}"
    if found.state is SpringState.ANOTHER and figures.rate is not None:
        says += _could_be(family, position, figures.rate)
    return verdict, Because(says, rate.source)


def _least(feature: Feature | None, finding: Finding) -> Quantity | None:
    """The reading that counts: of several springs in one position, the most tired."""
    if feature is None:
        return None
    values = [reading.value for reading in finding.readings if reading.feature == feature.key]
    return min(values, default=None)


def _doubts(
    finding: Finding, rate: Feature, length: Feature | None, settings: Settings
) -> SpringUncertainty:
    def doubt(feature: Feature) -> Quantity:
        found = [
            settings.uncertainty_of(reading, feature)
            for reading in finding.readings
            if reading.feature == feature.key
        ]
        return max(found, default=Quantity.of(0, feature.unit))

    plain = SpringUncertainty()
    return SpringUncertainty(
        length=doubt(length) if length else plain.length, load=plain.load, rate=doubt(rate)
    )


def _attributes(finding: Finding) -> Mapping[str, str]:
    return (finding.fitted.attributes if finding.fitted else None) or {}


def _attribute(finding: Finding, name: str) -> Quantity | None:
    try:
        return parse_quantity(_attributes(finding).get(name, ""))
    except BadInput:
        return None


def _count(finding: Finding) -> Decimal | None:
    return _number(_attributes(finding).get("total coils", ""))


def _listed_coils(family: Family, position: Position) -> Decimal | None:
    """The coils of the position's springs where every number agrees on them."""
    fits = family.fits_of.get(position.key, ())
    said = {family.part_by_number[fit.part].attributes.get("total coils", "") for fit in fits}
    return _number(said.pop()) if len(said) == 1 else None


def _number(text: str) -> Decimal | None:
    try:
        return Decimal(text)
    except InvalidOperation:
        return None


def _could_be(family: Family, position: Position, rate: Quantity) -> str:
    """Which spring of the family it may be, by its rate."""
    here = {fit.part for fit in family.fits_of.get(position.key, ())}
    names = dict.fromkeys(
        f"{part.name} ({part.number})"
        for part in family.parts
        if part.number not in here and _alike(part, rate)
    )
    return f"; by its rate it may be {' or '.join(list(names)[:3])}" if names else ""


def _alike(part: Part, rate: Quantity) -> bool:
    try:
        listed = parse_quantity(part.attributes.get("rate", ""))
    except BadInput:
        return False
    if listed.unit.dimension is not rate.unit.dimension:
        return False
    return abs(listed - rate) <= listed * _ALIKE
