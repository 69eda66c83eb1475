"""Whether what was fitted is the right part, by its number or by what was measured off it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.catalog.attributes import FOR_FLOAT
from kitting.catalog.model import LinkKind, normal_number
from kitting.job.because import Because
from kitting.job.told_apart import what_differs

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kitting.catalog.family import Family
    from kitting.catalog.model import Fit, Part, PartNumber, Position
    from kitting.job.findings import Fitted, Job


# A number that was superseded, or interchanges either way, was right too when it was fitted.
_BOTH_WAYS = frozenset({LinkKind.SUPERSEDED, LinkKind.EITHER_WAY})


@dataclass(frozen=True, slots=True)
class FittedOpinion:
    """`wrong` when the part is proven not to belong; `because` says what differs or agrees."""

    wrong: bool
    because: Because


def fits_here(family: Family, position: Position, job: Job) -> tuple[Fit, ...]:
    """The fits of a position that hold for the job's variant and engine number."""
    running = family.running_number(job.engine_number)
    return tuple(
        fit
        for fit in family.fits_of.get(position.key, ())
        if (not fit.variants or job.variant in fit.variants)
        and (fit.first is None or (running is not None and running >= fit.first))
        and (fit.last is None or (running is not None and running <= fit.last))
    )


def fits_at(family: Family, position: Position, job: Job, grade: str) -> tuple[Fit, ...]:
    """Those of them that serve at a size grade: a row that names none serves at every one."""
    return tuple(fit for fit in fits_here(family, position, job) if fit.grade in {"", grade})


def chosen_by_float(family: Family, position: Position) -> bool:
    """Whether a float chooses among a position's parts: shims, or washers that name their float."""
    parts = [family.part_by_number[fit.part] for fit in family.fits_of.get(position.key, ())]
    floats = any(each.kind == "end float" for each in family.features_of.get(position.key, ()))
    shims = sum("shim" in each.kind and "thickness" in each.attributes for each in parts)
    return (floats and shims > 1) or any(FOR_FLOAT in each.attributes for each in parts)


def judge_fitted(
    family: Family, position: Position, job: Job, fitted: Fitted
) -> tuple[FittedOpinion, ...]:
    """Return what the number and the measured attributes say of the part that was fitted."""
    opinions = []
    right = [family.part_by_number[fit.part] for fit in fits_here(family, position, job)]
    if fitted.number:
        opinions.append(_by_number(family, position, right, fitted.number))
    if fitted.attributes:
        opinions.extend(_by_attributes(position, right, fitted.attributes))
    return tuple(opinions)


def _by_number(family: Family, position: Position, right: list[Part], typed: str) -> FittedOpinion:
    wanted = normal_number(typed.rpartition(":")[2])
    known = [part for part in family.parts if part.number.normal == wanted]
    if not known:
        says = f"the number '{typed}' is not in the catalogue; judged by what was measured alone"
        return FittedOpinion(False, Because(says))
    serving = _serving(family, (part.number for part in right))
    if any(part.number in serving for part in known):
        return FittedOpinion(False, Because(f"{typed} was fitted and belongs in {position.name}"))
    found = known[0]
    differs = differences(found.attributes, right) if right else ()
    what = f": {'; '.join(differs)}" if differs else ""
    says = f"{typed} ({found.name}) was fitted and does not belong in {position.name}{what}"
    return FittedOpinion(True, Because(says, rule="fits.csv"))


def _serving(family: Family, right: Iterable[PartNumber]) -> frozenset[PartNumber]:
    """The right numbers, what they superseded and were superseded by, and what may stand for them.

    Followed to the end: an old number, its successor's successor, and an interchange of that.
    """
    found = set(right)
    waiting = list(found)
    while waiting:
        number = waiting.pop()
        for link in family.links:
            onward = {link.new} if link.old == number else set()
            if link.new == number and link.kind in _BOTH_WAYS:
                onward.add(link.old)
            waiting.extend(onward - found)
            found |= onward
    return frozenset(found)


def _by_attributes(
    position: Position, right: list[Part], measured: Mapping[str, str]
) -> list[FittedOpinion]:
    differs = differences(measured, right)
    if differs:
        says = f"what was fitted in {position.name} differs: {'; '.join(differs)}"
        return [FittedOpinion(True, Because(says, rule="parts.csv"))]
    agreed = ", ".join(f"{name} {value}" for name, value in measured.items())
    return [FittedOpinion(False, Because(f"what was fitted agrees with the parts list: {agreed}"))]


def differences(measured: Mapping[str, str], right: Iterable[Part]) -> tuple[str, ...]:
    """Name each attribute in which `measured` agrees with none of the right parts, and how."""
    found = []
    parts = tuple(right)
    for name in measured:
        stating = [part for part in parts if name in part.attributes]
        compared = [what_differs(name, measured, part.attributes) for part in stating]
        if not stating or None in compared:
            continue
        wanted = " or ".join(sorted({part.attributes[name] for part in stating}))
        least = min((each for each in compared if each is not None), key=len)
        how = f" ({'; '.join(least)})" if least else ""
        found.append(f"{name} {measured[name]} where {wanted} belongs{how}")
    return tuple(found)
