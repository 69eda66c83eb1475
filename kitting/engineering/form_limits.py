"""Which limits of form a journal or bore has passed, and which the uncertainty leaves open.

ISO 14253-1 decides what is proven; the readings as they stand decide what is over its limit.
"""

from dataclasses import dataclass

from kitting.measure.decide import Decision, Limits, decide
from kitting.measure.journal import JournalForm, StationReading
from kitting.measure.quantity import Quantity
from kitting.measure.uncertainty import what_would_decide


@dataclass(frozen=True, slots=True)
class FormLimits:
    """What the family allows; each may be left open. A shaft has `wear_min`, a bore `wear_max`."""

    ovality: Quantity | None = None
    taper: Quantity | None = None
    wear_min: Quantity | None = None
    wear_max: Quantity | None = None

    @property
    def amounts(self) -> dict[str, Quantity | None]:
        """Each limit under its name."""
        return {
            "limits, ovality": self.ovality,
            "limits, taper": self.taper,
            "limits, wear_min": self.wear_min,
            "limits, wear_max": self.wear_max,
        }


NO_LIMITS = FormLimits()


@dataclass(frozen=True, slots=True)
class _Case:
    """One figure against one limit, with where it was found and which side is bad."""

    name: str
    what: str
    value: Quantity
    band: Limits
    limit: Quantity
    over: str


def over_limits(form: JournalForm, limits: FormLimits, score_depth: Quantity) -> tuple[str, ...]:
    """Say each reason to machine: wear, ovality, taper past its limit, or any scoring."""
    unit = form.least.unit
    reasons = [
        f"{case.name}: {case.what} {case.over} {case.limit.to(unit)}"
        for case in _cases(form, limits)
        if case.value not in case.band
    ]
    if score_depth:
        reasons.append(f"scoring: scored {score_depth.to(unit)} deep")
    return tuple(reasons)


def left_open(form: JournalForm, limits: FormLimits, uncertainty: Quantity) -> tuple[str, ...]:
    """Say each figure that is within the uncertainty of its limit, and what would decide it."""
    unit = form.least.unit
    return tuple(
        f"{case.name}: {case.value} is within the uncertainty {uncertainty.to(unit)} of its limit "
        f"{case.limit.to(unit)}; {what_would_decide(case.value, uncertainty, case.limit)}"
        for case in _cases(form, limits)
        if decide(case.value, uncertainty, case.band) is Decision.UNDECIDED
    )


def _cases(form: JournalForm, limits: FormLimits) -> list[_Case]:
    cases = []
    if limits.wear_min is not None:
        what = _where("the least diameter", form.least_at)
        band = Limits(low=limits.wear_min)
        over = "is below the wear limit"
        cases.append(_Case("wear", what, form.least, band, limits.wear_min, over))
    if limits.wear_max is not None:
        what = _where("the greatest diameter", form.greatest_at)
        band = Limits(high=limits.wear_max)
        over = "is above the wear limit"
        cases.append(_Case("wear", what, form.greatest, band, limits.wear_max, over))
    for name, value, place, limit in (
        ("ovality", form.ovality, f"at station {form.oval_station}", limits.ovality),
        ("taper", form.taper, f"along direction {form.taper_direction}", limits.taper),
    ):
        if limit is not None:
            what = f"{value} {place}"
            cases.append(_Case(name, what, value, Limits(high=limit), limit, "is over the limit"))
    return cases


def _where(what: str, reading: StationReading) -> str:
    return f"{what} {reading.value} at {reading.place}"
