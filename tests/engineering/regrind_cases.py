"""Random journals and grade tables, and a second working of the rules in plain fractions."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from hypothesis import strategies as st

from kitting.engineering.form_limits import FormLimits
from kitting.engineering.grades import Grade, HalfStep
from kitting.engineering.regrind import RegrindRequest
from kitting.measure import Quantity
from kitting.measure.journal import StationReading


def inch(text: str) -> Quantity:
    return Quantity.of(text, "in")


def tenths(count: int) -> Quantity:
    """So many ten-thousandths of an inch."""
    return Quantity.of(Decimal(count).scaleb(-4), "in")


STANDARD = 17000
TABLE = tuple(
    Grade(f"0.{step:03} undersize" if step else "standard", tenths(low), tenths(low + 5))
    for step, low in ((s, STANDARD - 10 * s) for s in (0, 10, 20, 30, 40))
)
HALF_STEPS = (
    HalfStep("0.001 undersize", "standard", inch("0.001")),
    HalfStep("0.002 undersize", "standard", inch("0.002")),
    HalfStep("0.012 undersize", "0.010 undersize", inch("0.002")),
)

amounts = st.integers(0, 40).map(tenths)


@st.composite
def requests(draw: st.DrawFn) -> RegrindRequest:
    """A journal at any grade, worn by up to .012, scored or not."""
    at = draw(st.sampled_from(TABLE))
    top = int(at.finish_max.value_in("in").scaleb(4))
    sizes = st.integers(top - 120, top).map(tenths)
    places = [(station, direction) for station in "ABC" for direction in ("0", "90")]
    chosen = draw(st.lists(st.sampled_from(places), min_size=2, max_size=6, unique=True))
    return RegrindRequest(
        grades=TABLE,
        readings=tuple(StationReading(s, d, draw(sizes)) for s, d in chosen),
        stock=draw(st.integers(0, 20).map(tenths)),
        uncertainty=draw(st.integers(0, 4).map(tenths)),
        score_depth=draw(st.sampled_from([0, 0, 10, 25]).map(tenths)),
        present=at.name,
        limits=FormLimits(
            ovality=draw(st.none() | amounts),
            taper=draw(st.none() | amounts),
            wear_min=draw(st.none() | st.integers(top - 60, top).map(tenths)),
        ),
        half_steps=HALF_STEPS,
    )


@dataclass(frozen=True)
class Worked:
    """What the rules give, worked another way."""

    needed: bool
    even: Fraction
    one_sided: Fraction
    likely: str | None
    worst: str | None
    not_ground: str | None


def _f(quantity: Quantity) -> Fraction:
    return Fraction(quantity.base)


def work_again(request: RegrindRequest) -> Worked:
    """The rules as they are written down, in fractions of a millimetre."""
    sizes = [_f(reading.value) for reading in request.readings]
    present = next(grade for grade in request.grades if grade.name == request.present)
    taken_off = 2 * _f(request.score_depth) + _f(request.stock) + _f(request.uncertainty)
    even = min(sizes) - taken_off
    one_sided = 2 * min(sizes) - max(*sizes, _f(present.finish_min)) - taken_off
    needed = _needed(request, sizes)
    smaller = [grade for grade in request.grades if grade.finish_max < present.finish_max]
    wear = _f(present.finish_min) - min(sizes)
    steps = sorted(
        (_f(step.takes_up), step.name)
        for step in request.half_steps
        if step.for_grade == present.name and _f(step.takes_up) >= wear
    )
    return Worked(
        needed,
        even,
        one_sided,
        _largest(smaller, even),
        _largest(smaller, one_sided),
        steps[0][1] if steps and not needed and wear > 0 else None,
    )


def _largest(grades: list[Grade], diameter: Fraction) -> str | None:
    fitting = [(_f(grade.finish_max), grade.name) for grade in grades]
    return max(((top, name) for top, name in fitting if top <= diameter), default=(0, None))[1]


def _needed(request: RegrindRequest, sizes: list[Fraction]) -> bool:
    limits = request.limits
    pairs = [(one, other) for one in request.readings for other in request.readings]
    round_one = max(_f(a.value) - _f(b.value) for a, b in pairs if a.station == b.station)
    along_one = max(_f(a.value) - _f(b.value) for a, b in pairs if a.direction == b.direction)
    return (
        (limits.wear_min is not None and min(sizes) < _f(limits.wear_min))
        or (limits.ovality is not None and round_one > _f(limits.ovality))
        or (limits.taper is not None and along_one > _f(limits.taper))
        or request.score_depth.base > 0
    )
