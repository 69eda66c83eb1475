"""Oil clearance of a shell bearing, forwards from the sizes and backwards to the journal.

Worst case, on the diameter (plain geometry; it closes on every row of TM 5-4320-302-14, p. 6-181):

    least    = H_min − t1_max − t2_max − D_max
    greatest = H_max − t1_min − t2_min − D_min

with H the housing bore bolted up, t1 and t2 the two shell walls at the crown, D the journal.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from kitting.engineering.band import Band
from kitting.errors import BadInput, Problem, Problems
from kitting.measure.quantity import Quantity

# Running clearance at which a shaft can no longer be felt to move: common practice, no source.
FELT_BY_HAND = Quantity.of("0.0015", "in")
_PER_INCH = Decimal("0.001")
_ROD_EXTRA = Quantity.of("0.0005", "in")


@dataclass(frozen=True, slots=True)
class ShellBearing:
    """A housing bore bolted up and the walls of its two half shells, on drawing or measured."""

    housing: Band
    upper_wall: Band
    lower_wall: Band

    def __post_init__(self) -> None:
        problems = Problems()
        sizes = {
            "housing": self.housing,
            "upper shell wall": self.upper_wall,
            "lower shell wall": self.lower_wall,
        }
        for name, size in sizes.items():
            if size.low.base <= 0:
                problems.add(name, f"{size.low} is not above zero", "write the size as read")
        if not len(problems) and self.lined.low.base <= 0:
            problems.add(
                "housing",
                f"the shells fill the bore: {self.housing.low} less walls of "
                f"{self.upper_wall.high} and {self.lower_wall.high}",
                "check the units; a wall is the thickness of one half shell",
            )
        problems.raise_if_any()

    @classmethod
    def alike(cls, housing: Band, wall: Band) -> "ShellBearing":
        """The usual case: both half shells of one wall."""
        return cls(housing, wall, wall)

    @property
    def lined(self) -> Band:
        """The bore over the shells."""
        return Band(
            self.housing.low - self.upper_wall.high - self.lower_wall.high,
            self.housing.high - self.upper_wall.low - self.lower_wall.low,
        )


@dataclass(frozen=True, slots=True)
class GrindBand:
    """The finished journal that gives a clearance, and what must be said beside it."""

    band: Band
    notes: tuple[str, ...]


def oil_clearance(bearing: ShellBearing, journal: Band) -> Band:
    """Return the least and greatest clearance; below zero, the journal would be nipped."""
    lined = bearing.lined
    return Band(lined.low - journal.high, lined.high - journal.low)


def band_to_grind(bearing: ShellBearing, target: Band, finished: Band | None = None) -> GrindBand:
    """Return the journal band that gives the target clearance whatever the bearing is within its
    limits: D_max = lined_min − c_min, D_min = lined_max − c_max.

    Args:
        bearing: on drawing, or as measured (`Band.measured`).
        target: the clearance wanted.
        finished: the grade's finished band; where the answer leaves it, a note says so.

    Raises:
        BadInput: the bearing alone varies by more than the target band allows.
    """
    lined = bearing.lined
    spare = target.width - lined.width
    if spare.base < 0:
        raise BadInput(
            Problem(
                "target clearance",
                f"no journal gives {target} in every such bearing: housing and shells alone "
                f"vary by {lined.width.to(target.low.unit)}, the target only by {target.width}",
                "measure the housing bolted up and the shells in hand, then ask again",
            )
        )
    band = Band(lined.high - target.high, lined.low - target.low)
    if band.low.base <= 0:
        raise BadInput(
            Problem(
                "target clearance",
                f"{target} leaves no journal in a bore of {lined}",
                "check the units of the clearance",
            )
        )
    return GrindBand(band, _grind_notes(band, finished))


def _grind_notes(band: Band, finished: Band | None) -> tuple[str, ...]:
    if finished is None or finished.holds(band):
        return ()
    if band.high < finished.low or band.low > finished.high:
        side = "below" if band.high < finished.low else "above"
        return (
            f"the whole band lies {side} the grade's finished limits {finished}: "
            "check that the shells are of that grade and the housing is in limits",
        )
    return (f"part of the band lies outside the grade's finished limits {finished}",)


@dataclass(frozen=True, slots=True)
class ShellStock:
    """A shell that is to hand: the step it stands on, its wall, and how many half shells."""

    name: str
    wall: Band
    halves: int = 2


@dataclass(frozen=True, slots=True)
class ShellPair:
    """Two half shells, the thicker on the loaded side, and the clearance that they give."""

    loaded: ShellStock
    other: ShellStock
    clearance: Band
    within: bool
    off_middle: Quantity

    @property
    def mixed(self) -> bool:
        """Whether the halves are of two steps."""
        return self.loaded.name != self.other.name


def choose_shells(
    housing: Band, journal: Band, target: Band, steps: Sequence[ShellStock]
) -> tuple[ShellPair, ...]:
    """Return every allowed pair of half shells, the best first.

    Source: bearing maker's guidance, 2008: the thicker shell on the loaded side, never more than
    one step mixed. `steps` is the run of shells from thin to thick or back, so that neighbours are
    one step apart; a step of which none is in stock still stands in it, with `halves` 0. Best:
    inside the target, then nearest to its middle, then not mixed.

    Raises:
        BadInput: no shells, or steps whose walls do not step.
    """
    _check_steps(steps)
    pairs = [
        _pair(housing, journal, target, thick, thin)
        for place, thick in enumerate(steps)
        for thin in steps[max(0, place - 1) : place + 2]
        if thick.wall.middle >= thin.wall.middle and _to_hand(thick, thin)
    ]
    return tuple(sorted(pairs, key=lambda pair: (not pair.within, pair.off_middle, pair.mixed)))


def _check_steps(steps: Sequence[ShellStock]) -> None:
    if not steps:
        raise BadInput(Problem("shells", "there are none to choose from", "give at least one"))
    middles = [step.wall.middle for step in steps]
    rising = sorted(set(middles))
    if middles not in (rising, rising[::-1]):
        raise BadInput(
            Problem(
                "shells",
                "their walls do not step from one to the next",
                "list them by thickness, each step once",
            )
        )


def _to_hand(thick: ShellStock, thin: ShellStock) -> bool:
    if thick.name == thin.name:
        return thick.halves >= 2
    return thick.halves >= 1 and thin.halves >= 1


def _pair(
    housing: Band, journal: Band, target: Band, thick: ShellStock, thin: ShellStock
) -> ShellPair:
    clearance = oil_clearance(ShellBearing(housing, thick.wall, thin.wall), journal)
    return ShellPair(
        thick,
        thin,
        clearance,
        within=target.holds(clearance),
        off_middle=abs(clearance.middle - target.middle),
    )


def rule_of_thumb(journal: Quantity, *, rod: bool) -> Quantity:
    """The clearance by rule of thumb: .001 per inch of journal, and .0005 more on a rod.

    Source: bearing maker's guidance, 2008. It stands beside the family's limits, never in their
    place.
    """
    by_size = (journal * _PER_INCH).to("in")
    return by_size + _ROD_EXTRA if rod else by_size


def felt_by_hand(clearance: Quantity) -> str:
    """What the hand should feel at a running clearance. Common practice, no source."""
    if clearance.base < 0:
        return "the shaft is nipped: it will not turn"
    if clearance <= FELT_BY_HAND:
        return f"at {FELT_BY_HAND} or less no movement can be felt by hand"
    return f"above {FELT_BY_HAND} movement can be felt by hand"
