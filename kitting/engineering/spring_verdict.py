"""Is the spring on the bench the family's: good, tired, or another spring altogether.

A tired spring has taken a set: it is shorter, its rate is what it was. A rate that differs is
another wire, coil or number of coils, hence another spring. Hooke's law, EN 13906-1 (rate depends
on G, d, D and n alone, not on the free length).
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from kitting.engineering.spring_rig import (
    RigLoad,
    free_length_from_rig,
    rate_from_free_length,
    rate_from_readings,
)
from kitting.engineering.working import amount, beside, worked
from kitting.errors import BadInput, Problem
from kitting.measure import Decision, Limits, Quantity, decide


class SpringState(StrEnum):
    """What the figures make of a spring."""

    AGREES = "agrees"
    TIRED = "tired"
    ANOTHER = "another spring"
    UNDECIDED = "undecided"


@dataclass(frozen=True, slots=True)
class SpringBand:
    """What the family says of its spring; anything unknown is left out."""

    free_length: Limits | None = None
    rate: Limits | None = None
    load: Limits | None = None
    load_length: Quantity | None = None
    wire: Limits | None = None
    outside: Limits | None = None
    total_coils: Decimal | None = None
    coil_tolerance: Decimal = Decimal("0.25")

    def __post_init__(self) -> None:
        if (self.load is None) != (self.load_length is None):
            raise BadInput(
                Problem(
                    "load", "a load band and the length it is taken at go together", "give both"
                )
            )

    def rate_limits(self) -> Limits | None:
        """The family's rate band, or the one that its load and free length imply: F / (L0 − L)."""
        if self.rate is not None or self.load is None or self.load_length is None:
            return self.rate
        free = self.free_length or Limits()
        low = _implied_rate(self.load.low, free.high, self.load_length)
        high = _implied_rate(self.load.high, free.low, self.load_length)
        return None if low is None and high is None else Limits(low, high)


def _implied_rate(
    load: Quantity | None, free_length: Quantity | None, length: Quantity
) -> Quantity | None:
    if load is None or free_length is None:
        return None
    return rate_from_free_length(free_length, RigLoad(length, load))


@dataclass(frozen=True, slots=True)
class SpringFigures:
    """What was measured of the spring on the bench; anything not measured is left out."""

    free_length: Quantity | None = None
    rate: Quantity | None = None
    rig: tuple[RigLoad, ...] = ()
    wire: Quantity | None = None
    outside: Quantity | None = None
    total_coils: Decimal | None = None


@dataclass(frozen=True, slots=True)
class SpringUncertainty:
    """Expanded uncertainties (k = 2) of the figures; nought unless told."""

    length: Quantity = field(default_factory=lambda: Quantity.of(0, "mm"))
    load: Quantity = field(default_factory=lambda: Quantity.of(0, "N"))
    rate: Quantity = field(default_factory=lambda: Quantity.of(0, "N/mm"))


@dataclass(frozen=True, slots=True)
class SpringVerdict:
    """The state of a spring, why, and the rate it was judged by when there is one."""

    state: SpringState
    reasons: tuple[str, ...]
    rate: Quantity | None


@dataclass(frozen=True, slots=True)
class _Judged:
    name: str
    value: Quantity
    limits: Limits
    decision: Decision

    @property
    def short(self) -> bool:
        low = self.limits.low
        return self.decision is Decision.BAD and low is not None and self.value < low

    def __str__(self) -> str:
        words = {
            Decision.GOOD: "is within",
            Decision.BAD: "is outside",
            Decision.UNDECIDED: "is too near to call against",
        }
        return f"{self.name} {_plain(self.value)} {words[self.decision]} {self.limits}"


def judge_spring(
    figures: SpringFigures, band: SpringBand, uncertainty: SpringUncertainty | None = None
) -> SpringVerdict:
    """Return whether the spring agrees with the family's band, is tired, or is another spring.

    - another spring: rate, wire, outside diameter or coils are proven outside the band; or the
      free length is proven longer than the band, which no wear can make;
    - tired: free length or installed load proven short, with the rate inside its band;
    - undecided: short, with no rate to tell set from substitution; a figure within its
      uncertainty of a limit; or nothing measured that the band knows;
    - agrees: all that was measured and has a band is proven inside it.
    """
    unsure = uncertainty or SpringUncertainty()
    found_rate = figures.rate or rate_from_readings(figures.rig, figures.free_length)
    shape = _shape(figures, band, unsure)
    rate = _judge("rate", found_rate, band.rate_limits(), unsure.rate)
    length = _judge("free length", figures.free_length, band.free_length, unsure.length)
    load = _judge("load", _load(figures, band, found_rate), band.load, unsure.load)
    judged = [item for item in (*shape, rate, length, load) if item is not None]
    coils = _coils_differ(figures, band)
    reasons = [str(item) for item in judged] + ([coils] if coils else [])
    if coils or any(item.decision is Decision.BAD for item in (*shape, rate) if item):
        return SpringVerdict(SpringState.ANOTHER, tuple(reasons), found_rate)
    state, more = _length_and_load(rate, length, load)
    if state is SpringState.AGREES and (
        not judged or any(item.decision is Decision.UNDECIDED for item in judged)
    ):
        state = SpringState.UNDECIDED
        more = more if judged else ["nothing was measured that the family has a figure for"]
    return SpringVerdict(state, tuple(reasons + more), found_rate)


def _length_and_load(
    rate: _Judged | None, length: _Judged | None, load: _Judged | None
) -> tuple[SpringState, list[str]]:
    bad = [item for item in (length, load) if item and item.decision is Decision.BAD]
    if length in bad and length is not None and not length.short:
        return SpringState.ANOTHER, ["no spring grows with wear: too long is another spring"]
    if not bad:
        return SpringState.AGREES, []
    if rate is None:
        return SpringState.UNDECIDED, [
            "tired or another spring: only the rate can tell, so load it at two lengths"
        ]
    if rate.decision is Decision.UNDECIDED:
        return SpringState.UNDECIDED, ["the rate decides between tired and another spring"]
    if any(item.short for item in bad):
        return SpringState.TIRED, ["the rate is right and it is short: it has taken a set"]
    return SpringState.ANOTHER, ["it pushes harder than the band at that length"]


def _judge(
    name: str, value: Quantity | None, limits: Limits | None, unsure: Quantity
) -> _Judged | None:
    if value is None or limits is None:
        return None
    return _Judged(name, value, limits, decide(value, unsure, limits))


def _shape(figures: SpringFigures, band: SpringBand, unsure: SpringUncertainty) -> list[_Judged]:
    pairs = (
        _judge("wire", figures.wire, band.wire, unsure.length),
        _judge("outside diameter", figures.outside, band.outside, unsure.length),
    )
    return [item for item in pairs if item is not None]


@worked
def _load(figures: SpringFigures, band: SpringBand, rate: Quantity | None) -> Quantity | None:
    """The load at the band's length: as read there, else along the line of the measured rate."""
    if band.load_length is None:
        return None
    for reading in figures.rig:
        if reading.length == band.load_length:
            return reading.load
    if rate is None:
        return None
    free = figures.free_length
    if figures.rig:
        free = free_length_from_rig(figures.rig[0], rate)
    if free is None or free <= band.load_length:
        return None
    newtons = rate.value_in("N/mm") * (free - band.load_length).value_in("mm")
    return amount(newtons, "N", beside(rate, "N", "lbf"))


def _coils_differ(figures: SpringFigures, band: SpringBand) -> str:
    if figures.total_coils is None or band.total_coils is None:
        return ""
    if abs(figures.total_coils - band.total_coils) <= band.coil_tolerance:
        return ""
    return f"{figures.total_coils} coils counted, the family's has {band.total_coils}"


def _plain(value: Quantity) -> str:
    return value.show(value.unit.places + (0 if value.is_length else 1))


@dataclass(frozen=True, slots=True)
class KnownSpring:
    """A spring of a list, by the attributes that a bench can measure."""

    name: str
    wire: Quantity
    free_length: Quantity
    total_coils: Decimal | None = None
    outside: Quantity | None = None


@dataclass(frozen=True, slots=True)
class SpringMatch:
    """How a known spring compares with the one measured; nothing in `differs` is a candidate."""

    spring: KnownSpring
    agrees: tuple[str, ...]
    differs: tuple[str, ...]
    set_taken: Quantity | None

    @property
    def is_candidate(self) -> bool:
        """Whether every attribute measured agrees."""
        return not self.differs


def identify_spring(
    figures: SpringFigures,
    known: Iterable[KnownSpring],
    wire_tolerance: Quantity,
    length_tolerance: Quantity,
    coil_tolerance: Decimal = Decimal("0.25"),
) -> tuple[SpringMatch, ...]:
    """Return the known springs, likeliest first, each with what agrees and what differs.

    A measured free length below a listed one by up to a tenth is taken as set (common practice,
    no source) and told as such: the wire, outside diameter and coils do not change with use.

    Raises:
        BadInput: no wire diameter, without which no spring can be told from another.
    """
    if figures.wire is None:
        raise BadInput(Problem("wire", "no wire diameter is given", "measure it with a micrometer"))
    matches = [
        _compare(figures, spring, wire_tolerance, length_tolerance, coil_tolerance)
        for spring in known
    ]
    return tuple(sorted(matches, key=_rank))


def _rank(match: SpringMatch) -> tuple[int, int, Decimal, str]:
    set_taken = match.set_taken.base if match.set_taken else Decimal(0)
    return len(match.differs), -len(match.agrees), set_taken, match.spring.name


def _compare(
    figures: SpringFigures,
    spring: KnownSpring,
    wire_tolerance: Quantity,
    length_tolerance: Quantity,
    coil_tolerance: Decimal,
) -> SpringMatch:
    agrees: list[str] = []
    differs: list[str] = []

    def note(name: str, same: bool) -> None:
        (agrees if same else differs).append(name)

    if figures.wire is not None:
        note("wire", abs(figures.wire - spring.wire) <= wire_tolerance)
    if figures.outside is not None and spring.outside is not None:
        note("outside diameter", abs(figures.outside - spring.outside) <= length_tolerance)
    if figures.total_coils is not None and spring.total_coils is not None:
        note("coils", abs(figures.total_coils - spring.total_coils) <= coil_tolerance)
    set_taken = None
    if figures.free_length is not None:
        shortfall = spring.free_length - figures.free_length
        taken = length_tolerance < shortfall <= spring.free_length * Decimal("0.1")
        note("free length", abs(shortfall) <= length_tolerance or taken)
        set_taken = shortfall if taken else None
    return SpringMatch(spring, tuple(agrees), tuple(differs), set_taken)
