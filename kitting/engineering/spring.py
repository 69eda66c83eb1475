"""Helical compression springs: rate, load, stress, solid length, buckling, blow-off pressure.

Sources: EN 13906-1 (cylindrical compression springs of round wire) and Shigley's Mechanical
Engineering Design, chapter 10; each function names its equation.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from kitting.engineering.spring_wire import SpringWire, wire_named
from kitting.engineering.working import (
    PI,
    amount,
    beside,
    need_kind,
    need_positive,
    settled,
    worked,
)
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Quantity


class Ends(StrEnum):
    """How the ends of a compression spring are made."""

    PLAIN = "plain"
    PLAIN_GROUND = "plain and ground"
    CLOSED = "closed"
    CLOSED_GROUND = "closed and ground"

    @property
    def dead_coils(self) -> Decimal:
        """Coils that do not work (Shigley Table 10-1)."""
        return {Ends.PLAIN: Decimal(0), Ends.PLAIN_GROUND: Decimal(1)}.get(self, Decimal(2))

    @property
    def ground(self) -> bool:
        """Whether the ends are ground flat."""
        return self in {Ends.PLAIN_GROUND, Ends.CLOSED_GROUND}


class Seating(StrEnum):
    """How the spring's two ends are held, which settles whether it buckles."""

    BOTH_FLAT = "both ends on flat parallel seats"
    ONE_FLAT = "one end flat, one pivoted"
    BOTH_PIVOTED = "both ends pivoted"
    ONE_FREE = "one end clamped, one free"

    @property
    def factor(self) -> Decimal:
        """The end-condition constant: Shigley Table 10-2; EN 13906-1 seating coefficient."""
        return {
            Seating.BOTH_FLAT: Decimal("0.5"),
            Seating.ONE_FLAT: Decimal("0.707"),
            Seating.BOTH_PIVOTED: Decimal(1),
            Seating.ONE_FREE: Decimal(2),
        }[self]


@dataclass(frozen=True, slots=True)
class Spring:
    """A compression spring as measured or drawn; made by `spring`, which checks it."""

    wire: Quantity
    mean_diameter: Quantity
    active_coils: Decimal
    total_coils: Decimal
    ends: Ends
    shear_modulus: Quantity
    elastic_modulus: Quantity
    free_length: Quantity | None = None

    @property
    def outside_diameter(self) -> Quantity:
        """Mean diameter plus the wire."""
        return self.mean_diameter + self.wire

    @property
    def inside_diameter(self) -> Quantity:
        """Mean diameter less the wire."""
        return self.mean_diameter - self.wire


def spring(
    *,
    wire: Quantity,
    outside: Quantity | None = None,
    mean: Quantity | None = None,
    inside: Quantity | None = None,
    active_coils: Decimal | None = None,
    total_coils: Decimal | None = None,
    ends: Ends = Ends.CLOSED_GROUND,
    material: str | SpringWire = "spring steel",
    shear_modulus: Quantity | None = None,
    free_length: Quantity | None = None,
) -> Spring:
    """Return the spring that these measurements describe.

    Give one of `outside`, `mean`, `inside`, and one or both of `active_coils`, `total_coils`
    (one follows from the other by the ends). `shear_modulus` overrides the material's.

    Raises:
        BadInput: a size or count that cannot be, all of them at once.
    """
    problems = Problems()
    places = {"wire": wire, "outside diameter": outside, "mean diameter": mean,
              "inside diameter": inside, "free length": free_length}  # fmt: skip
    for place, size in places.items():
        if need_kind(problems, place, size, "mm"):
            need_positive(problems, place, size)
    if need_kind(problems, "shear modulus", shear_modulus, "MPa"):
        need_positive(problems, "shear modulus", shear_modulus)
    if sum(size is not None for size in (outside, mean, inside)) != 1:
        problems.add("diameter", "one diameter of the coil is needed", "outside, mean or inside")
    active, total = _coils(problems, active_coils, total_coils, ends)
    problems.raise_if_any()
    middle = _mean_diameter(wire, outside, mean, inside)
    stuff = wire_named(material) if isinstance(material, str) else material
    made = Spring(
        wire=wire,
        mean_diameter=middle,
        active_coils=active,
        total_coils=total,
        ends=ends,
        shear_modulus=shear_modulus or stuff.shear_modulus(wire),
        elastic_modulus=stuff.elastic_modulus,
        free_length=free_length,
    )
    _check_shape(made)
    return made


def _mean_diameter(
    wire: Quantity, outside: Quantity | None, mean: Quantity | None, inside: Quantity | None
) -> Quantity:
    if outside is not None:
        return outside - wire
    if inside is not None:
        return inside + wire
    return mean if mean is not None else wire


def _coils(
    problems: Problems, active: Decimal | None, total: Decimal | None, ends: Ends
) -> tuple[Decimal, Decimal]:
    if active is None and total is None:
        problems.add("coils", "no coils are given", "count them, end to end: total coils")
        return Decimal(1), Decimal(1)
    if active is None and total is not None and Decimal(0) < total <= ends.dead_coils:
        problems.add(
            "coils",
            f"{total} total coils leave none to work with ends {ends}",
            f"such ends take up {ends.dead_coils}: count again",
        )
        return Decimal(1), Decimal(1)
    active_count = active if active is not None else (total or Decimal(0)) - ends.dead_coils
    total_count = total if total is not None else active_count + ends.dead_coils
    given = total_count if active is None else active_count
    if given <= 0:
        problems.add("coils", f"{given} coils make no spring", "a spring has at least one coil")
    elif total_count < active_count:
        problems.add(
            "coils",
            f"{active_count} working coils are more than the {total_count} in all",
            "total coils include the ends",
        )
    return active_count, total_count


def _check_shape(made: Spring) -> None:
    problems = Problems()
    if made.mean_diameter <= made.wire:
        problems.add(
            "diameter",
            f"wire of {made.wire} cannot be coiled to a mean diameter of {made.mean_diameter}",
            "check which of outside, mean and inside was measured",
        )
    elif made.free_length is not None and made.free_length < solid_length(made):
        problems.add(
            "free length",
            f"{made.free_length} is shorter than the spring pressed solid, {solid_length(made)}",
            "check the coils counted and the wire",
        )
    problems.raise_if_any()


def spring_index(of: Spring) -> Decimal:
    """Return C = D / d, bare. Usual springs lie between 4 and 12 (Shigley section 10-1)."""
    ratio = of.mean_diameter.ratio(of.wire)
    return _decimal_ratio(ratio.numerator, ratio.denominator)


@worked
def _decimal_ratio(over: int, under: int) -> Decimal:
    return settled(Decimal(over) / Decimal(under))


@worked
def rate(of: Spring) -> Quantity:
    """Return the spring rate k = G d⁴ / (8 D³ n), N/mm or lbf/in as the wire is metric or not.

    EN 13906-1 (spring rate); Shigley Eq. 10-9.
    """
    wire, middle = of.wire.value_in("mm"), of.mean_diameter.value_in("mm")
    modulus = of.shear_modulus.value_in("MPa")
    stiffness = modulus * wire**4 / (8 * middle**3 * of.active_coils)
    return amount(stiffness, "N/mm", beside(of.wire, "N/mm", "lbf/in"))


@worked
def solid_length(of: Spring) -> Quantity:
    """Return the length coil-bound: d × total coils, one wire more when the ends are not ground.

    Shigley Table 10-1; EN 13906-1 gives the same as an upper bound.
    """
    coils = of.total_coils + (Decimal(0) if of.ends.ground else Decimal(1))
    return amount(of.wire.value_in("mm") * coils, "mm", of.wire.unit.symbol)


@worked
def pitch(of: Spring) -> Quantity:
    """Return the pitch of the working coils, from the free length (Shigley Table 10-1)."""
    length, wire = _free_length(of).value_in("mm"), of.wire.value_in("mm")
    in_ends = {
        Ends.PLAIN: wire,
        Ends.PLAIN_GROUND: Decimal(0),
        Ends.CLOSED: 3 * wire,
        Ends.CLOSED_GROUND: 2 * wire,
    }[of.ends]
    coils = of.active_coils + (1 if of.ends is Ends.PLAIN_GROUND else 0)
    return amount((length - in_ends) / coils, "mm", of.wire.unit.symbol)


def wahl_factor(index: Decimal) -> Decimal:
    """Return K = (4C − 1)/(4C − 4) + 0.615/C, the curvature and shear correction (A. M. Wahl).

    Shigley Eq. 10-4 (as the Wahl factor); an option of EN 13906-1.

    Raises:
        BadInput: an index of one or less, which no wire can be coiled to.
    """
    if index <= 1:
        raise BadInput(Problem("index", f"{index} is no spring index", "D / d is above 1"))
    return _wahl(index)


@worked
def _wahl(index: Decimal) -> Decimal:
    return settled((4 * index - 1) / (4 * index - 4) + Decimal("0.615") / index)


@worked
def shear_stress(of: Spring, load: Quantity) -> Quantity:
    """Return the greatest shear stress in the wire at `load`, with Wahl's factor; MPa or psi.

    tau = K 8 F D / (pi d³), Shigley Eq. 10-7, EN 13906-1 (corrected shear stress).
    """
    middle, wire = of.mean_diameter.value_in("mm"), of.wire.value_in("mm")
    plain = 8 * load.value_in("N") * middle / (PI * wire**3)
    stress = wahl_factor(spring_index(of)) * plain
    return amount(stress, "MPa", beside(of.wire, "MPa", "psi"))


@worked
def load_at(of: Spring, length: Quantity) -> Quantity:
    """Return the load at an installed length: k (L0 − L), N or lbf.

    Raises:
        BadInput: no free length; a length past the free length or below the solid length.
    """
    free, solid = _free_length(of), solid_length(of)
    if length > free:
        raise BadInput(
            Problem("length", f"at {length} the spring is loose", f"its free length is {free}")
        )
    if length < solid:
        raise BadInput(
            Problem("length", f"{length} is below the coil-bound length", f"solid at {solid}")
        )
    force = rate(of).value_in("N/mm") * (free - length).value_in("mm")
    return amount(force, "N", beside(of.wire, "N", "lbf"))


@worked
def length_at(of: Spring, load: Quantity) -> Quantity:
    """Return the length under `load`: L0 − F / k.

    Raises:
        BadInput: no free length, or a load that binds the coils.
    """
    free = _free_length(of)
    deflection = amount(load.value_in("N") / rate(of).value_in("N/mm"), "mm", free.unit.symbol)
    length = free - deflection
    if length < solid_length(of):
        raise BadInput(
            Problem("load", f"{load} binds the coils", f"the spring is solid at {solid_length(of)}")
        )
    return length


@worked
def critical_deflection(of: Spring, seating: Seating = Seating.BOTH_FLAT) -> Quantity | None:
    """Return the deflection at which the spring bows, or None where it never does.

    y = L0 C1 [1 − √(1 − C2/λ²)], C1 = E/(2(E − G)), C2 = 2π²(E − G)/(2G + E), λ = ν L0/D.
    Shigley Eq. 10-10; the buckling limit of EN 13906-1.
    """
    free, middle = _free_length(of).value_in("mm"), of.mean_diameter.value_in("mm")
    elastic, shear = of.elastic_modulus.value_in("MPa"), of.shear_modulus.value_in("MPa")
    slenderness = seating.factor * free / middle
    first = elastic / (2 * (elastic - shear))
    second = 2 * PI**2 * (elastic - shear) / (2 * shear + elastic)
    inside = 1 - second / slenderness**2
    if inside < 0:
        return None
    return amount(free * first * (1 - inside.sqrt()), "mm", of.wire.unit.symbol)


@worked
def blow_off_pressure(load: Quantity, seat: Quantity) -> Quantity:
    """Return the pressure that lifts a valve held shut by `load` over a seat of diameter `seat`.

    p = F / (π/4 d²): pressure is force over the area that it acts on. kPa or psi.
    """
    problems = Problems()
    if need_kind(problems, "seat diameter", seat, "mm"):
        need_positive(problems, "seat diameter", seat)
    if need_kind(problems, "load", load, "N"):
        need_positive(problems, "load", load)
    problems.raise_if_any()
    pressure = 4 * load.value_in("N") / (PI * seat.value_in("mm") ** 2)
    return amount(pressure, "MPa", beside(seat, "kPa", "psi"))


def _free_length(of: Spring) -> Quantity:
    if of.free_length is None:
        raise BadInput(Problem("free length", "no free length is given", "measure it unloaded"))
    return of.free_length
