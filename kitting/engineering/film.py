"""What a clearance does to the oil film: Sommerfeld number, least film, friction, side flow.

Raimondi and Boyd's solutions (see `film_tables`), as laid out in Shigley, Mechanical Engineering
Design, chapter 12. A second opinion only: steady load, full round bearing without grooves, one
viscosity, laminar film. An engine's bearings are loaded by turns and grooved.
"""

from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from kitting.engineering.film_tables import INFINITE, TABLES, Row, weights
from kitting.engineering.working import PI, amount, need_kind, need_positive, settled, worked
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Quantity

_SHORTEST, _LONGEST = Decimal("0.25"), Decimal(4)
# Oil: density in kg/m³ and heat capacity in J/(kg K), usual mineral oil (Shigley section 12-9).
_DENSITY, _HEAT = Decimal(861), Decimal(1760)


@dataclass(frozen=True, slots=True)
class Bearing:
    """A plain bearing running: sizes, load, speed in rev/min, viscosity in mPa·s as it is hot."""

    journal: Quantity
    clearance: Quantity
    length: Quantity
    load: Quantity
    speed: Decimal
    viscosity: Decimal

    def __post_init__(self) -> None:
        problems = Problems()
        lengths = {"journal": self.journal, "clearance": self.clearance, "length": self.length}
        for place, size in lengths.items():
            if need_kind(problems, place, size, "mm"):
                need_positive(problems, place, size)
        if need_kind(problems, "load", self.load, "N"):
            need_positive(problems, "load", self.load)
        need_positive(problems, "speed", self.speed)
        need_positive(problems, "viscosity", self.viscosity)
        problems.raise_if_any()
        self._check_proportions()

    def _check_proportions(self) -> None:
        problems = Problems()
        if self.clearance * 50 >= self.journal:
            problems.add(
                "clearance",
                f"{self.clearance} is no running clearance on {self.journal}",
                "it is about a thousandth of the diameter: check the units",
            )
        if not _SHORTEST <= self.slenderness <= _LONGEST:
            problems.add(
                "length",
                f"length over diameter is {self.slenderness:.2f}",
                f"the solutions serve {_SHORTEST} to {_LONGEST}",
            )
        problems.raise_if_any()

    @property
    def slenderness(self) -> Decimal:
        """Length over diameter."""
        return _slenderness(self.length, self.journal)


@worked
def _slenderness(length: Quantity, journal: Quantity) -> Decimal:
    return settled(length.value_in("mm") / journal.value_in("mm"))


@dataclass(frozen=True, slots=True)
class Film:
    """The film that a clearance gives.

    Flows in mm³/s, power in W, `rise` in °C between oil in and out; `notes` say where the answer
    leans on less than the tables.
    """

    sommerfeld: Decimal
    film_ratio: Decimal
    least_film: Quantity
    eccentricity: Decimal
    friction: Decimal
    power: Decimal
    flow: Decimal
    side_flow: Decimal
    rise: Decimal
    reynolds: Decimal
    notes: tuple[str, ...]


@worked
def sommerfeld_number(bearing: Bearing) -> Decimal:
    """Return S = (r/c)² µ N / P, with N in rev/s and P = W / (l d) (Shigley Eq. 12-7)."""
    diameter, gap = bearing.journal.value_in("mm"), bearing.clearance.value_in("mm")
    pressure = bearing.load.value_in("N") / (diameter * bearing.length.value_in("mm"))
    turning = bearing.viscosity.scaleb(-9) * bearing.speed / 60  # MPa·s × rev/s
    return settled((diameter / gap) ** 2 * turning / pressure)


@worked
def oil_film(bearing: Bearing) -> Film:
    """Return what the clearance makes of the film.

    h0 = (1 − ε) c; f = (c/r) × friction variable; Q = flow variable × r c N l; power f W v; rise =
    power / (ρ C (Q − Qs/2)), the heat carried off by the oil alone (Shigley Eq. 12-15).

    Raises:
        BadInput: a film thinner than the tables reach: the bearing touches.
    """
    number = sommerfeld_number(bearing)
    row = _interpolated(number, bearing.slenderness)
    radius, gap = bearing.journal.value_in("mm") / 2, bearing.clearance.value_in("mm") / 2
    turns = bearing.speed / 60
    flow = row.flow * radius * gap * turns * bearing.length.value_in("mm")
    friction = row.friction * gap / radius
    surface = 2 * PI * radius * turns  # mm/s
    power = friction * bearing.load.value_in("N") * surface / 1000
    carried = flow * (1 - row.side / 2) * _DENSITY.scaleb(-9) * _HEAT
    reynolds = _DENSITY * surface * gap / (bearing.viscosity * 1000)
    return Film(
        sommerfeld=number,
        film_ratio=settled(1 - row.eccentricity),
        least_film=amount((1 - row.eccentricity) * gap, "mm", bearing.journal.unit.symbol),
        eccentricity=settled(row.eccentricity),
        friction=settled(friction),
        power=settled(power),
        flow=settled(flow),
        side_flow=settled(flow * row.side),
        rise=settled(power / carried),
        reynolds=settled(reynolds),
        notes=_notes(row.eccentricity, reynolds, radius / gap),
    )


def _notes(eccentricity: Decimal, reynolds: Decimal, ratio: Decimal) -> tuple[str, ...]:
    found: list[str] = []
    if eccentricity < Decimal("0.1"):
        found.append("lighter than the tables go: the lightly loaded limit (Petroff) was used")
    # Taylor vortices begin at Re = 41.3 √(r/c) (G. I. Taylor, 1923).
    if reynolds > Decimal("41.3") * ratio.sqrt():
        found.append("the film is not laminar at this speed and clearance: do not rely on this")
    return tuple(found)


@worked
def trumpler_least_film(journal: Quantity) -> Quantity:
    """Return Trumpler's least film for starting and running, 0.0002 + 0.00004 d in inches.

    Shigley section 12-7 (P. R. Trumpler, Design of Film Bearings, 1966).
    """
    inches = Decimal("0.0002") + Decimal("0.00004") * journal.value_in("in")
    return amount(inches, "in", journal.unit.symbol)


def _interpolated(number: Decimal, slenderness: Decimal) -> Row:
    shares = {name: share for name, share in weights(slenderness).items() if share}
    rows = {name: _along(TABLES[name], number, name) for name in shares}
    eccentricity = sum((shares[name] * rows[name].eccentricity for name in shares), Decimal(0))
    if not 0 < eccentricity <= Decimal("0.97"):
        raise BadInput(
            Problem(
                "load",
                "the film is thinner than the solutions reach: the journal would touch",
                "less load or clearance, more speed or thicker oil",
            )
        )
    return Row(
        eccentricity=eccentricity,
        sommerfeld=number,
        friction=sum((shares[name] * rows[name].friction for name in shares), Decimal(0)),
        flow=sum((shares[name] * rows[name].flow for name in shares), Decimal(0)),
        side=sum((shares[name] * rows[name].side for name in shares), Decimal(0)),
    )


def _along(rows: tuple[Row, ...], number: Decimal, name: str) -> Row:
    """One table at a Sommerfeld number: straight lines against ln S (friction: ln against ln)."""
    first, last = rows[0], rows[-1]
    if number >= first.sommerfeld:
        return _lighter(first, number)
    if number < last.sommerfeld:
        return _heavier(last, number, name)
    before, after = next(pair for pair in pairwise(rows) if number >= pair[1].sommerfeld)
    part = (before.sommerfeld / number).ln() / (before.sommerfeld / after.sommerfeld).ln()
    friction = (before.friction.ln() + part * (after.friction / before.friction).ln()).exp()
    return Row(
        before.eccentricity + part * (after.eccentricity - before.eccentricity),
        number,
        friction,
        before.flow + part * (after.flow - before.flow),
        before.side + part * (after.side - before.side),
    )


def _lighter(first: Row, number: Decimal) -> Row:
    """Lighter than the table: ε falls as 1/S, friction grows as S (Petroff), Q tends to π."""
    share = first.sommerfeld / number
    return Row(
        first.eccentricity * share,
        number,
        first.friction / share,
        PI + (first.flow - PI) * share,
        first.side * share,
    )


def _heavier(last: Row, number: Decimal, name: str) -> Row:
    """Heavier than the table: in proportion down to no film; only the infinite one is so used."""
    share = number / last.sommerfeld
    gap = (1 - last.eccentricity) * share
    if name == INFINITE:
        return Row(1 - gap, number, last.friction * share, last.flow * share, last.side)
    return Row(1 - gap, number, last.friction * share, last.flow, last.side)
