"""A bush pressed into a housing: interference, pressure, stresses, closure, force, heat.

Lamé's thick cylinders of two materials, plane stress, one diameter where they meet:
p = δ / (d { [ (do² + d²)/(do² − d²) + νo ] / Eo + [ (d² + di²)/(d² − di²) − νi ] / Ei }),
δ on the diameter (Shigley, Mechanical Engineering Design, press and shrink fits).
"""

from dataclasses import dataclass
from decimal import Decimal

from kitting.engineering.materials import Material
from kitting.engineering.working import PI, amount, beside, settled, worked
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Limits, Quantity

ROOM = Decimal(20)  # reference temperature, °C (ISO 1)
# Force fits run to .0025 of the diameter (Jones, Turning and Boring); past .01 a figure is wrong.
_SENSELESS = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class BushJob:
    """A bush and its housing as measured or drawn, at room temperature.

    `housing_bore` and `bush_outside` are limits (two equal ends for one measured size);
    `bush_bore` is the bore before pressing, 0 for a solid plug; `friction` serves the push-in
    force (0.1 to 0.2 dry or oiled steel on bronze, common practice, no source).
    """

    housing_bore: Limits
    housing_outside: Quantity
    housing: Material
    bush_outside: Limits
    bush_bore: Quantity
    bush: Material
    length: Quantity | None = None
    friction: Decimal = Decimal("0.15")

    def __post_init__(self) -> None:
        problems = Problems()
        for place, band in (
            ("housing bore", self.housing_bore),
            ("bush outside", self.bush_outside),
        ):
            if band.low is None or band.high is None:
                problems.add(place, "it has an open end", "give both limits, or one size twice")
            elif band.low.base <= 0:
                problems.add(place, f"{band.low} is not above zero", "give the diameter")
        if self.bush_bore.base < 0:
            problems.add("bush bore", f"{self.bush_bore} is below zero", "0 for a solid plug")
        if self.length is not None and self.length.base <= 0:
            problems.add("length", f"{self.length} is not above zero", "give the length pressed in")
        if self.friction <= 0:
            problems.add("friction", f"{self.friction} is not above zero", "such as 0.15")
        problems.raise_if_any()
        self._check_walls()

    def _check_walls(self) -> None:
        problems = Problems()
        bore, outside = _ends(self.housing_bore), _ends(self.bush_outside)
        if self.housing_outside <= max(bore[1], outside[1]):
            problems.add(
                "housing outside",
                f"a housing of {self.housing_outside} cannot hold a bush of {outside[1]}",
                "give the diameter of the metal round the bush",
            )
        if self.bush_bore >= outside[0]:
            problems.add(
                "bush bore",
                f"a bore of {self.bush_bore} leaves no wall in a bush of {outside[0]}",
                "check which is the bore and which the outside",
            )
        greatest = outside[1] - bore[0]
        if greatest > bore[0] * _SENSELESS or -greatest > bore[0] * _SENSELESS:
            problems.add(
                "bush outside",
                f"{outside[1]} in a bore of {bore[0]} is no fit at all",
                "check the units: press fits are some thousandths of the diameter",
            )
        problems.raise_if_any()

    @property
    def interference(self) -> Limits:
        """Least and greatest interference on the diameter; below zero it is loose."""
        bore, outside = _ends(self.housing_bore), _ends(self.bush_outside)
        return Limits(outside[0] - bore[1], outside[1] - bore[0])

    @property
    def meeting(self) -> Quantity:
        """The diameter where bush and housing meet: the middle of the housing bore."""
        low, high = _ends(self.housing_bore)
        return (low + high).half()


@dataclass(frozen=True, slots=True)
class Press:
    """What one interference does. Hoop stresses: tension above zero, compression below.

    `closure` is how much smaller the bush's bore becomes, `swelling` how much larger the housing's
    outside; `force` is there when the length is known.
    """

    interference: Quantity
    pressure: Quantity
    housing_hoop: Quantity
    bush_hoop: Quantity
    closure: Quantity
    swelling: Quantity
    force: Quantity | None

    @property
    def tight(self) -> bool:
        """Whether anything holds the bush."""
        return self.interference.base > 0


@worked
def press(job: BushJob, interference: Quantity) -> Press:
    """Return what an interference on the diameter does in this job; nothing when it is loose.

    Hoop at the housing's bore p (do² + d²)/(do² − d²), at the bush's bore −2 p d²/(d² − di²)
    (at the outside of a solid plug −p); closure 2 p d² di / (Ei (d² − di²)); swelling
    2 p d² do / (Eo (do² − d²)); force µ p π d L (Lamé; Shigley as above).
    """
    d, di = job.meeting.value_in("mm"), job.bush_bore.value_in("mm")
    do = job.housing_outside.value_in("mm")
    modulus_o, modulus_i = job.housing.modulus.value_in("MPa"), job.bush.modulus.value_in("MPa")
    around = (do**2 + d**2) / (do**2 - d**2)
    within = (d**2 + di**2) / (d**2 - di**2)
    give = d * (
        (around + job.housing.poisson) / modulus_o + (within - job.bush.poisson) / modulus_i
    )
    tight = max(interference.value_in("mm"), Decimal(0))
    pressure = tight / give
    bore_hoop = -pressure * (2 * d**2 / (d**2 - di**2) if di else Decimal(1))
    length, stress = job.meeting.unit.symbol, beside(job.meeting, "MPa", "psi")
    force = None
    if job.length is not None:
        newtons = job.friction * pressure * PI * d * job.length.value_in("mm")
        force = amount(newtons, "N", beside(job.meeting, "N", "lbf"))
    return Press(
        interference=interference,
        pressure=amount(pressure, "MPa", stress),
        housing_hoop=amount(pressure * around, "MPa", stress),
        bush_hoop=amount(bore_hoop, "MPa", stress),
        closure=amount(2 * pressure * d**2 * di / (modulus_i * (d**2 - di**2)), "mm", length),
        swelling=amount(2 * pressure * d**2 * do / (modulus_o * (do**2 - d**2)), "mm", length),
        force=force,
    )


@dataclass(frozen=True, slots=True)
class Heat:
    """How hot the housing must be for the bush to drop in, °C; and the rise that this is."""

    rise: Decimal
    housing_at: Decimal
    bush_at: Decimal


@worked
def heat_to_drop_in(
    job: BushJob, play: Quantity, room: Decimal = ROOM, bush_at: Decimal | None = None
) -> Heat:
    """Return the heat that opens the housing past the greatest interference by `play`.

    ΔT = (δ + play) / (α d), less what a chilled bush gives: α d (room − chill) of its own.

    Raises:
        BadInput: play below zero, or a bush hotter than the room.
    """
    cold = room if bush_at is None else bush_at
    problems = Problems()
    if play.base < 0:
        problems.add("play", f"{play} is below zero", "give what the bush needs to drop freely")
    if cold > room:
        problems.add("bush temperature", f"{cold} °C is hotter than the room", "chill it, or leave")
    problems.raise_if_any()
    past = _ends(job.interference)[1] + play
    rise = rise_to_open(job.meeting, past, job.housing, job.bush, room - cold)
    return Heat(rise, settled(room + rise), cold)


@worked
def rise_to_open(
    meeting: Quantity, past: Quantity, housing: Material, bush: Material, chill: Decimal
) -> Decimal:
    """Return the rise, °C, that opens a housing by `past` on the diameter: ΔT = past / (α d).

    A bush chilled by so many degrees gives α d chill of its own. Free expansion: how thick the
    metal round the bore is does not matter.
    """
    d = meeting.value_in("mm")
    wanted = past.value_in("mm") - bush.expansion * d * chill
    return settled(max(wanted, Decimal(0)) / (housing.expansion * d))


@worked
def interference_at(job: BushJob, interference: Quantity, temperature: Decimal) -> Quantity:
    """Return the interference when bush and housing are both at `temperature`, °C.

    δ(T) = δ + d (α bush − α housing)(T − 20): free expansion of both at one diameter.
    """
    return interference_hot(job.meeting, interference, job.housing, job.bush, temperature)


@worked
def interference_hot(
    meeting: Quantity,
    interference: Quantity,
    housing: Material,
    bush: Material,
    temperature: Decimal,
) -> Quantity:
    """Return an interference at `temperature`, °C, from the meeting diameter and the metals."""
    grows = meeting.value_in("mm") * (bush.expansion - housing.expansion) * (temperature - ROOM)
    return amount(interference.value_in("mm") + grows, "mm", interference.unit.symbol)


@worked
def loose_at(job: BushJob) -> Decimal | None:
    """Return the temperature, °C, at which the least interference is gone, or None if it never is.

    T = 20 + δ / (d (α housing − α bush)); below 20 °C only when the bush grows more than the
    housing, where the answer is None: heat makes such a bush tighter.
    """
    gap = job.housing.expansion - job.bush.expansion
    if gap <= 0:
        return None
    least = _ends(job.interference)[0].value_in("mm")
    return settled(ROOM + least / (job.meeting.value_in("mm") * gap))


def _ends(band: Limits) -> tuple[Quantity, Quantity]:
    if band.low is None or band.high is None:
        raise BadInput(Problem("", f"the limits '{band}' have an open end", "give both"))
    return band.low, band.high
