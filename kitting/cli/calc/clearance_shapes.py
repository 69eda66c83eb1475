"""The JSON in and out of `kitting calc clearance`."""

from typing import Literal

from kitting.cli.calc.common import Answer, Given, Length, Strict
from kitting.cli.calc.sizes import BandOut, SizeIn


class TargetIn(Strict):
    """The clearance wanted, and the limit of wear."""

    low: Length
    high: Length
    limit: Length | None = None


class ShellIn(Strict):
    """A step of shells to hand, thin to thick, and how many half shells of it."""

    name: str
    wall: SizeIn
    halves: int = 2


class SampleIn(Strict):
    """A Monte Carlo estimate: the same seed gives the same answer."""

    seed: int
    trials: int = 10_000
    spread: Literal["normal", "uniform"] = "normal"


class ClearanceIn(Given):
    """Sizes on drawing (low and high) or measured (with uncertainty).

    `wall_lower` only where the two half shells differ. Without a journal, the band to grind to is
    the answer. `finished` are the limits of the grade to be ground to. `rod` is for the rule of
    thumb.
    """

    housing: SizeIn
    wall: SizeIn
    wall_lower: SizeIn | None = None
    journal: SizeIn | None = None
    target: TargetIn | None = None
    finished: SizeIn | None = None
    shells: tuple[ShellIn, ...] = ()
    rod: bool = False
    sample: SampleIn | None = None


class SampleOut(Strict):
    """What the trials gave: 99.73 % lie from low to high; `outside` is the share off target."""

    trials: int
    seed: int
    mean: str
    low: str
    high: str
    outside: str


class GrindOut(Strict):
    """The finished journal that gives the target, or why none does."""

    low: str | None
    high: str | None
    because: str
    notes: tuple[str, ...]


class PairOut(Strict):
    """Two half shells, and the clearance that they give."""

    loaded: str
    other: str
    clearance: BandOut
    within: bool


class ClearanceOut(Answer):
    """Clearances forwards and backwards."""

    basis: str
    lined: BandOut
    clearance: BandOut | None
    likely: BandOut | None
    sample: SampleOut | None
    verdict: str | None
    grind_to: GrindOut | None
    shells: tuple[PairOut, ...]
    rule_of_thumb: str | None
    felt: str | None
    notes: tuple[str, ...]
