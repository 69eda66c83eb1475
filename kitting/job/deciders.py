"""Which of the shop's instruments would settle a figure that is too near its limit to call."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.measure.uncertainty import what_would_decide

if TYPE_CHECKING:
    from kitting.catalog.family import Family
    from kitting.catalog.model import Feature
    from kitting.job.settings import Settings
    from kitting.measure import Quantity


def how_to_decide(
    family: Family,
    feature: Feature,
    figure: tuple[Quantity, Quantity, Quantity],
    settings: Settings,
) -> str:
    """Say what would decide a figure (value, U, limit), naming the shop's instrument that would.

    An instrument suits when the family measures something of the same kind with it.
    """
    value, uncertainty, limit = figure
    says = what_would_decide(value, uncertainty, limit)
    distance = abs(value - limit)
    finer = {
        name: doubt
        for name, doubt in _suitable(family, feature, settings).items()
        if doubt < uncertainty
    }
    deciding = {name: doubt for name, doubt in finer.items() if distance and doubt <= distance}
    if deciding:
        name = max(deciding, key=lambda each: (deciding[each], each))
        return f"{says}; the shop's {name} (U {deciding[name].to(value.unit)}) does"
    if finer and not distance:
        name = min(finer, key=lambda each: (finer[each], each))
        return f"{says}: the shop's {name} (U {finer[name].to(value.unit)}) is finer"
    if not distance:
        return (
            f"{says}; the shop has none finer for a {feature.kind}, so a named person may decide "
            f"it ('{settings.decide_with}')"
        )
    return says


def _suitable(family: Family, feature: Feature, settings: Settings) -> dict[str, Quantity]:
    """The shop's instruments for a kind of figure, each with its U."""
    names = dict.fromkeys(each.instrument for each in family.features if each.kind == feature.kind)
    found = {}
    for name in names:
        stated = settings.uncertainty.get(name.strip().lower())
        if stated is not None and stated.unit.dimension is feature.unit.dimension:
            found[name] = stated
    return found
