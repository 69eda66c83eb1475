"""The shapes of `kitting calc spring`: what is read and what is answered."""

from kitting.cli.calc.brief import LengthsIn, Number, RatesIn
from kitting.cli.calc.common import Answer, Force, Given, Length, Pressure, Stiffness, Strict
from kitting.engineering.spring import Ends, Seating


class RigIn(Strict):
    """One reading of a spring rig."""

    length: Length
    load: Force


class LoadsIn(Strict):
    """Limits of a load; either may be left out."""

    low: Force | None = None
    high: Force | None = None


class FamilyIn(Strict):
    """What the family says of its spring."""

    free_length: LengthsIn | None = None
    rate: RatesIn | None = None
    load: LoadsIn | None = None
    load_length: Length | None = None
    wire: LengthsIn | None = None
    outside: LengthsIn | None = None
    total_coils: Number | None = None


class UncertaintyIn(Strict):
    """Expanded uncertainties (k = 2) of what was measured."""

    length: Length | None = None
    load: Force | None = None
    rate: Stiffness | None = None


class KnownIn(Strict):
    """A spring of a list, to be recognised."""

    name: str
    wire: Length
    free_length: Length
    total_coils: Number | None = None
    outside: Length | None = None


class SpringIn(Given):
    """A spring by its wire, coil and ends; what to work out of it; what to judge it by."""

    wire: Length | None = None
    outside: Length | None = None
    mean: Length | None = None
    inside: Length | None = None
    total_coils: Number | None = None
    active_coils: Number | None = None
    ends: Ends = Ends.CLOSED_GROUND
    material: str = "spring steel"
    shear_modulus: Pressure | None = None
    free_length: Length | None = None
    measured_rate: Stiffness | None = None
    at: tuple[Length, ...] = ()
    loads: tuple[Force, ...] = ()
    installed: Length | None = None
    seat: Length | None = None
    seating: Seating = Seating.BOTH_FLAT
    rig: tuple[RigIn, ...] = ()
    family: FamilyIn | None = None
    uncertainty: UncertaintyIn | None = None
    known: tuple[KnownIn, ...] = ()
    wire_tolerance: Length | None = None
    length_tolerance: Length | None = None


class DesignOut(Strict):
    """What the shape of the spring gives. Rate, loads, stress and pressure carry their units."""

    mean_diameter: str
    active_coils: str
    total_coils: str
    index: str
    shear_modulus: str
    rate: str
    solid_length: str
    wahl_factor: str
    load_solid: str | None
    buckles_at_deflection: str | None
    buckles: bool | None


class PointOut(Strict):
    """The spring at one length: its load, its stress."""

    length: str
    load: str
    stress: str


class VerdictOut(Strict):
    """What the figures make of the spring."""

    state: str
    reasons: tuple[str, ...]


class MatchOut(Strict):
    """A spring of the list against the one measured."""

    name: str
    candidate: bool
    agrees: tuple[str, ...]
    differs: tuple[str, ...]
    set_taken: str | None


class SpringOut(Answer):
    """Everything that could be worked out of what was given."""

    design: DesignOut | None
    points: tuple[PointOut, ...]
    blow_off: str | None
    rate_from_rig: str | None
    free_length_from_rig: str | None
    verdict: VerdictOut | None
    known: tuple[MatchOut, ...]
    notes: tuple[str, ...]
