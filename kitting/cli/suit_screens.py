"""What is made to suit the sizes of a job, as text: bands to finish to, bushes, shims."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.cli.screen import chain, heading, paragraph, table

if TYPE_CHECKING:
    from kitting.engineering.band import Band
    from kitting.job.bush_sizes import BushSize
    from kitting.job.pin_bores import PinBore
    from kitting.job.size_choice import Sizes
    from kitting.job.targets import FinishTarget

_HEAT = (
    "Heat evenly in an oven, gloves on, never with a flame in one place. The maker's manual comes "
    "before these temperatures: an alloy case that is overheated loses its strength."
)


def suits_text(sizes: Sizes) -> str:
    """The bands to finish to, the bores of new bushes and the stacks of shims."""
    parts = [
        _targets(sizes.targets),
        _bushes(sizes.bushes),
        _pin_bores(sizes.pin_bores),
        _floats(sizes),
    ]
    return "\n\n".join(part for part in parts if part)


def suit_reasons(sizes: Sizes, key: str) -> str:
    """The reasons of every band and bush that belongs to one size table."""
    targets = sizes.targets_of(key)
    bushes = [bush for bush in sizes.bushes if bush.position.sized_by == key]
    fits = tuple(dict.fromkeys(bush.fit.because for bush in bushes if bush.fit))
    pins = (each.because for each in sizes.pin_bores if each.position.sized_by == key)
    reasons = (*(each.because for each in targets), *(b.because for b in bushes), *pins, *fits)
    return f"{heading('Made to suit')}\n{chain(reasons)}" if reasons else ""


def _targets(targets: tuple[FinishTarget, ...]) -> str:
    rows = [
        (each.feature.name, each.grade.name, band(each.band), band(each.gives), str(each.rests_on))
        for each in targets
    ]
    notes = dict.fromkeys(f"{each.feature.name}: {note}" for each in targets for note in each.notes)
    lines = [paragraph(f"- {note}", indent=2, hang=2) for note in notes]
    if not rows:
        return ""
    headings = ("finish", "at", "to", "which gives", "worked from")
    return "\n".join((table(headings, rows), *lines))


def _bushes(bushes: tuple[BushSize, ...]) -> str:
    rows = [
        (
            bush.position.name,
            bush.grade.name,
            band(bush.bore) if bush.bore else "none: see the reasons",
            band(bush.fit.interference) if bush.fit else "?",
            heat(bush),
        )
        for bush in bushes
    ]
    if not rows:
        return ""
    lines = [
        paragraph(f"- {bush.because.says}", indent=2, hang=2)
        for bush in bushes
        if bush.bore is None or not bush.measured
    ]
    loose = [
        paragraph(f"- {bush.position.name}: not held by its fit when hot; peg it", indent=2, hang=2)
        for bush in bushes
        if bush.fit and not bush.fit.tight
    ]
    headings = ("new bush", "at", "ream to", "tight by", "housing at, to drop in")
    return "\n".join((table(headings, rows), *lines, *loose, paragraph(_HEAT)))


def _pin_bores(found: tuple[PinBore, ...]) -> str:
    rows = [
        (
            each.position.name,
            each.pin.name,
            band(each.bore) if each.bore else "none: see the reasons",
        )
        for each in found
    ]
    if not rows:
        return ""
    lines = [
        paragraph(f"- {each.because.says}", indent=2, hang=2)
        for each in found
        if each.bore is None or not each.measured
    ]
    return "\n".join((table(("new guide or bush", "runs on", "ream to"), rows), *lines))


def heat(bush: BushSize) -> str:
    """How hot the housing must be, with the bush as it is and from the freezer."""
    if bush.fit is None or bush.fit.heat is None or bush.fit.chilled is None:
        return "?"
    return f"{bush.fit.heat} °C, or {bush.fit.chilled} °C with the bush at −18 °C"


def _floats(sizes: Sizes) -> str:
    reasons = [shims.because for shims in sizes.shims]
    reasons += [washer.because for washer in sizes.washers]
    lines = [paragraph(f"- {because.says}", indent=2, hang=2) for because in reasons]
    return "\n".join(("End floats:", *lines)) if lines else ""


def band(of: Band | None) -> str:
    """A band as '1.7080 to 1.7084 in'."""
    if of is None:
        return "not known"
    unit = of.low.unit
    return f"{of.low.show().removesuffix(f' {unit}')} to {of.high.to(unit)}"
