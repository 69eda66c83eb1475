"""Where two findings of one position differ, and how they are pooled where they do not."""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.catalog.model import normal_number
from kitting.errors import BadInput
from kitting.job.findings import Fitted
from kitting.job.measuring_plan import reading_places
from kitting.measure import Quantity, parse_quantity

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from kitting.catalog.family import Family
    from kitting.job.findings import Finding, Reading, Seen

_NAMELESS = "somebody unnamed"
_AND = " and "
_NEXT = " / "


@dataclass(frozen=True, slots=True)
class Disagreement:
    """One thing of a position on which two findings differ, earlier first."""

    position: str
    what: str
    values: tuple[str, str]
    names: tuple[str, str]
    places: tuple[str, str]

    @property
    def sentence(self) -> str:
        """Who says what, and where it is written."""
        sides = zip(self.names, self.values, self.places, strict=True)
        said = (
            f"{name} says {value}" + (f" ({place})" if place else "")
            for name, value, place in sides
        )
        return ", ".join(said)


def same_hand(old: Finding, new: Finding) -> bool:
    """Whether `new` is the same named person speaking again, no earlier than before."""
    in_order = old.when is None or new.when is None or old.when <= new.when
    return bool(new.who) and old.who.casefold() == new.who.casefold() and in_order


def differences(
    old: Finding, new: Finding, family: Family, uncertainty: Mapping[str, Quantity]
) -> tuple[Disagreement, ...]:
    """Return all on which two findings of one position differ.

    Readings at one place differ when they stand further apart than both expanded uncertainties
    together; an instrument without a known one counts as exact.
    """
    pairs = (
        *_reading_pairs(old, new, uncertainty),
        *_seen_pairs(old, new),
        *_sound_pairs(old, new, family),
        *_fitted_pairs(old.fitted, new.fitted),
    )
    names = (old.who or _NAMELESS, new.who or _NAMELESS)
    return tuple(
        Disagreement(new.position, what, (said, says), names, (old.place, new.place))
        for what, said, says in pairs
    )


def pooled(old: Finding, new: Finding, family: Family, *, new_wins: bool) -> Finding:
    """Return both findings as one; `old` itself when `new` says nothing more.

    Where they contradict, the winner's word stands; readings that agree stay as the earlier one
    unless `new_wins`.
    """
    first, second = (old, new) if new_wins else (new, old)
    both = replace(
        old,
        readings=_pooled_readings(first, second, family),
        seen=_pooled_seen(first, second, family),
        fitted=_pooled_fitted(first.fitted, second.fitted),
        sound=_pooled_sound(first, second, family),
        note=_joined(old.note, new.note, _NEXT),
    )
    if _content(both) == _content(old):
        return old
    days = [day for day in (old.when, new.when) if day is not None]
    return replace(
        both,
        who=_joined(old.who, new.who, _AND),
        when=max(days, default=None),
        place=_joined(old.place, new.place, "; "),
    )


def amiss(finding: Finding, family: Family) -> tuple[Seen, ...]:
    """What was seen that is worse than an observation's first grade."""
    return tuple(
        seen
        for seen in finding.seen
        if seen.grade != family.observation_by_key[seen.observation].grades[0]
    )


def _reading_pairs(
    old: Finding, new: Finding, uncertainty: Mapping[str, Quantity]
) -> Iterator[tuple[str, str, str]]:
    before = {_spot(reading): reading for reading in old.readings}
    for reading in new.readings:
        earlier = before.get(_spot(reading))
        if earlier is None:
            continue
        apart = abs(reading.value - earlier.value)
        if apart > _allowed(reading, uncertainty) + _allowed(earlier, uncertainty):
            yield " ".join(filter(None, _spot(reading))), str(earlier.value), str(reading.value)


def _allowed(reading: Reading, uncertainty: Mapping[str, Quantity]) -> Quantity:
    if reading.uncertainty is not None:
        return reading.uncertainty
    for instrument, expanded in uncertainty.items():
        alike = instrument.casefold() == reading.instrument.casefold()
        if alike and expanded.unit.dimension is reading.value.unit.dimension:
            return expanded
    return reading.value * 0


def _seen_pairs(old: Finding, new: Finding) -> Iterator[tuple[str, str, str]]:
    before = {seen.observation: seen for seen in old.seen}
    for seen in new.seen:
        earlier = before.get(seen.observation)
        if earlier is None:
            continue
        amounts_differ = None not in {earlier.amount, seen.amount} and earlier.amount != seen.amount
        if earlier.grade != seen.grade or amounts_differ:
            yield seen.observation, _shown(earlier), _shown(seen)


def _sound_pairs(old: Finding, new: Finding, family: Family) -> Iterator[tuple[str, str, str]]:
    if old.sound and amiss(new, family):
        yield "sound or not", "sound", ", ".join(map(_named, amiss(new, family)))
    if new.sound and amiss(old, family):
        yield "sound or not", ", ".join(map(_named, amiss(old, family))), "sound"


def _fitted_pairs(old: Fitted | None, new: Fitted | None) -> Iterator[tuple[str, str, str]]:
    if old is None or new is None:
        return
    numbers = normal_number(old.number), normal_number(new.number)
    if all(numbers) and numbers[0] != numbers[1]:
        yield "number fitted", old.number, new.number
    before = old.attributes or {}
    for key, value in (new.attributes or {}).items():
        if key in before and _plain(before[key]) != _plain(value):
            yield f"{key} fitted", before[key], value


def _pooled_readings(first: Finding, second: Finding, family: Family) -> tuple[Reading, ...]:
    """Both, the second's word holding, in the order of the measuring plan: along the part."""
    readings = {_spot(reading): reading for reading in (*first.readings, *second.readings)}
    plan = {
        (feature.key, *place): at
        for feature in family.features_of.get(second.position, ())
        for at, place in enumerate(reading_places(feature))
    }
    features = list(dict.fromkeys(spot[0] for spot in plan))
    ordered = sorted(readings, key=lambda spot: (features.index(spot[0]), plan[spot]))
    return tuple(readings[spot] for spot in ordered)


def _pooled_seen(first: Finding, second: Finding, family: Family) -> tuple[Seen, ...]:
    """Both, the second's word holding; what it calls sound is no longer damaged."""
    seen = {one.observation: one for one in first.seen}
    if second.sound:
        for one in amiss(first, family):
            del seen[one.observation]
    for one in second.seen:
        earlier = seen.get(one.observation)
        if earlier and earlier.grade == one.grade and one.amount is None:
            continue
        seen[one.observation] = one
    return tuple(seen.values())


def _pooled_sound(first: Finding, second: Finding, family: Family) -> bool:
    return second.sound or (first.sound and not amiss(second, family))


def _pooled_fitted(first: Fitted | None, second: Fitted | None) -> Fitted | None:
    if first is None or second is None:
        return first or second
    attributes = {**(first.attributes or {}), **(second.attributes or {})}
    return Fitted(
        second.number or first.number, MappingProxyType(attributes) if attributes else None
    )


def _spot(reading: Reading) -> tuple[str, str, str]:
    return reading.feature, reading.station, reading.direction


def _content(finding: Finding) -> object:
    """What a finding says, apart from who wrote it where and in what spelling."""
    fitted = finding.fitted
    return (
        {_spot(reading): reading.value for reading in finding.readings},
        {seen.observation: (seen.grade, seen.amount) for seen in finding.seen},
        (normal_number(fitted.number), dict(fitted.attributes or {})) if fitted else None,
        finding.sound,
        finding.note,
    )


def _joined(old: str, new: str, between: str) -> str:
    """Both texts, each once."""
    parts = [part for part in old.split(between) if part]
    fresh = [part for part in new.split(between) if part and part not in parts]
    return between.join((*parts, *fresh))


def _shown(seen: Seen) -> str:
    return f"{seen.grade} {seen.amount}" if seen.amount is not None else seen.grade


def _named(seen: Seen) -> str:
    return f"{seen.observation} {_shown(seen)}"


def _plain(value: str) -> Quantity | str:
    try:
        return parse_quantity(value)
    except BadInput:
        return " ".join(value.split()).casefold()
