"""Whether the number that a supplier offers in the place of another serves where it must go.

The resolver answers: a substitute serves a position when it is one of the ways to satisfy the need
there, at the size in play, and in which quantity. Where a float chooses among a position's parts
(shims, thrust washers), only what stands for the one that was chosen serves. A number that the
catalogue does not know is never taken on trust.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING

from kitting.catalog.model import normal_number
from kitting.catalog.resolver import resolve, subgraph_about
from kitting.catalog.ways import Need, WayKind
from kitting.job.fitted import chosen_by_float, fits_at, fits_here

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

    from kitting.buying.orders import LineFor
    from kitting.catalog.family import Family
    from kitting.catalog.model import Fit, PartNumber, Position
    from kitting.catalog.trade import Offer
    from kitting.catalog.ways import Resolution, Way
    from kitting.job.findings import Job


class Serves(StrEnum):
    """What a substitute is to a position."""

    YES = "serves"
    WITH_WORK = "serves with work"
    NO = "does not serve"
    UNKNOWN = "not in the catalogue"


@dataclass(frozen=True, slots=True)
class FitEffect:
    """What a substitute means for the engine: whether it serves, and why, a sentence each."""

    serves: Serves
    part: PartNumber | None
    because: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """In one line."""
        named = f"{self.part} " if self.part else "it is "
        return f"{named}{self.serves}: {'; '.join(self.because)}"


def part_named(
    typed: str, supplier: str, family: Family, offers: Iterable[Offer]
) -> PartNumber | None:
    """The part that a supplier's text names: his own number first, then a maker's; None if unsure.

    Other spacing, dashes or case are the same number; nothing fuzzier is.
    """
    wanted = normal_number(typed)
    maker, colon, rest = typed.partition(":")
    his = {
        offer.part
        for offer in offers
        if offer.supplier == supplier and normal_number(offer.their_number) == wanted
    }
    theirs = {
        part.number
        for part in family.parts
        if part.number.normal == wanted
        or (colon and part.number.maker == maker and part.number.normal == normal_number(rest))
    }
    for found in (his, theirs):
        if len(found) == 1:
            return next(iter(found))
    return None


def effect_on_fit(
    family: Family,
    job: Job,
    need: LineFor,
    ordered: PartNumber,
    part: PartNumber | None,
    day: date,
) -> FitEffect:
    """What putting `part` into the positions of a need means, where another number was ordered.

    The worst of the positions holds.
    """
    if part is None or part not in family.part_by_number:
        says = "nobody has said what it fits; compare it with the drawing before accepting"
        return FitEffect(Serves.UNKNOWN, part, (says, "it is counted one for one"))
    asked = replace(need, stands_for=need.stands_for or ordered)
    effects = [
        _effect(family, job, family.position_by_key[key], asked, part, day)
        for key in need.positions
        if key in family.position_by_key
    ]
    order = (Serves.NO, Serves.UNKNOWN, Serves.WITH_WORK, Serves.YES)
    gone = FitEffect(Serves.UNKNOWN, part, ("the parts list of the job has no such place now",))
    return min(effects, key=lambda effect: order.index(effect.serves), default=gone)


def measure_of(
    family: Family, job: Job, need: LineFor, ordered: PartNumber, part: PartNumber, day: date
) -> Fraction | None:
    """How many of `part` do for one of what was ordered; None where nothing tells it.

    Where positions or ways differ the most holds: nothing is counted for more than it makes.
    """
    found = []
    known = (key for key in need.positions if key in family.position_by_key)
    need = replace(need, stands_for=need.stands_for or ordered)
    for position in map(family.position_by_key.__getitem__, known):
        ways = _resolutions(family, job, position, need, day)
        wanted = _counts(ways, part)
        asked = _counts(ways, ordered)
        if not asked and need.stands_for != ordered and need.stands_for is not None:
            per_one = Fraction(need.per, need.makes)
            asked = [count * per_one for count in _counts(ways, need.stands_for)]
        if wanted and asked:
            found.append(max(wanted) / min(asked))
    return max(found, default=None)


def serving(family: Family, job: Job, need: LineFor, day: date) -> frozenset[PartNumber]:
    """The numbers that serve alone, and without work, in all the positions of a need."""
    found = []
    for key in need.positions:
        position = family.position_by_key.get(key)
        here = _resolutions(family, job, position, need, day) if position else ()
        ways = [way for each in here for way in each.ways if _is_plain(way)]
        found.append(frozenset(way.parts[0][0] for way in ways))
    return frozenset.intersection(*found) if found else frozenset()


def _is_plain(way: Way) -> bool:
    """Whether one number does it, with nothing to buy or to do beside."""
    beside = way.operations or way.companions or not way.current
    return len(way.parts) == 1 and not beside


def _counts(resolutions: Iterable[Resolution], part: PartNumber) -> list[Fraction]:
    """How many of a part alone fill the position, by each need there that it satisfies."""
    counts = []
    for found in resolutions:
        if part == found.need.part:
            counts.append(Fraction(found.need.quantity))
        else:
            ways = (way for way in found.ways if _is_way(way, part))
            counts += [Fraction(way.parts[0][1]) for way in ways]
    return counts


def _effect(
    family: Family, job: Job, position: Position, need: LineFor, part: PartNumber, day: date
) -> FitEffect:
    resolutions = _resolutions(family, job, position, need, day)
    ways = [way for found in resolutions for way in found.ways if _is_way(way, part)]
    plain = [way for way in ways if not way.operations]
    if plain or ways:
        way = (plain or ways)[0]
        return FitEffect(Serves.YES if plain else Serves.WITH_WORK, part, _why(way, position))
    return FitEffect(Serves.NO, part, _why_not(family, position, part, resolutions, need))


def _resolutions(
    family: Family, job: Job, position: Position, need: LineFor, day: date
) -> list[Resolution]:
    """The ways from each part that would do in the need's place; from its own alone where that was
    chosen by a float, or goes in beside another."""
    meant = need.stands_for
    fits = _fits(family, position, need, job)
    found = [
        _resolved(family, job, position, need, day, fit.part, fit.quantity or position.quantity)
        for fit in fits
    ]
    to_it = [each for each in found if _leads_to(each, meant)]
    if len(fits) > 1 and chosen_by_float(family, position):
        return to_it
    if not to_it and meant in family.part_by_number and meant is not None:
        return [_resolved(family, job, position, need, day, meant, position.quantity)]
    return found


def _leads_to(found: Resolution, part: PartNumber | None) -> bool:
    """Whether a part alone is the need, or satisfies it, old stock too."""
    alone = {way.parts[0][0] for way in found.ways if len(way.parts) == 1}
    return part is not None and part in alone | {found.need.part}


def _fits(family: Family, position: Position, need: LineFor, job: Job) -> list[Fit]:
    if not (position.sized_by and need.grade):
        return list(fits_here(family, position, job))
    return list(fits_at(family, position, job, need.grade))


def _resolved(
    family: Family,
    job: Job,
    position: Position,
    need: LineFor,
    day: date,
    part: PartNumber,
    quantity: int,
) -> Resolution:
    asked = Need(
        part=part,
        quantity=quantity,
        position=position.key,
        variant=job.variant,
        running=family.running_number(job.engine_number),
        grade=need.grade if position.sized_by else "",
        whole=True,
    )
    return resolve(asked, subgraph_about(family, part, position.key), day)


def _is_way(way: Way, part: PartNumber) -> bool:
    return len(way.parts) == 1 and way.parts[0][0] == part and way.kind is not WayKind.OLD_STOCK


def _why(way: Way, position: Position) -> tuple[str, ...]:
    steps = [str(step) for step in way.because] or [f"it is a part for {position.name}"]
    steps += [f"only {condition}" for condition in way.conditions]
    steps += [f"it takes work: {operation}" for operation in way.operations]
    steps += [f"{number} must come with it, {count} of it" for number, count in way.companions]
    return tuple(steps)


def _why_not(
    family: Family,
    position: Position,
    part: PartNumber,
    resolutions: Iterable[Resolution],
    need: LineFor,
) -> tuple[str, ...]:
    told = [n.why for found in resolutions for n in found.not_taken if n.part == part]
    grades = sorted(
        {fit.grade for fit in family.fits_of.get(position.key, ()) if fit.part == part} - {""}
    )
    if need.grade and grades and need.grade not in grades:
        told.insert(0, f"it is of grade {', '.join(grades)}, and {need.grade} is wanted")
    if not told and chosen_by_float(family, position):
        told.append(f"an end float chose {need.stands_for} there, and this does not stand for it")
    if not told:
        told.append(f"the catalogue knows no way from a part for {position.name} to it")
    return tuple(dict.fromkeys(told))
