"""`kitting calc spring`: rate, loads, stress and blow-off of a coil spring; tired or another."""

import click

from kitting.cli.calc.brief import (
    LengthsIn,
    RatesIn,
    few,
    limits_from,
    limits_of,
    pair_of,
    said,
    short,
)
from kitting.cli.calc.common import figure, figure_or_none, given_options, sum_door
from kitting.cli.calc.layout import facts, page, points, table, title
from kitting.cli.calc.spring_shapes import (
    DesignOut,
    FamilyIn,
    LoadsIn,
    MatchOut,
    PointOut,
    SpringIn,
    SpringOut,
    UncertaintyIn,
    VerdictOut,
)
from kitting.engineering import spring as sums
from kitting.engineering.spring_rig import RigLoad, free_length_from_rig, rate_from_readings
from kitting.engineering.spring_verdict import (
    KnownSpring,
    SpringBand,
    SpringFigures,
    SpringUncertainty,
    identify_spring,
    judge_spring,
)
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Limits, Quantity, Unit

# Within these a measured spring is taken for a listed one, when the input says nothing.
_WIRE_WITHIN, _LENGTH_WITHIN = Quantity.of("0.025", "mm"), Quantity.of("0.5", "mm")
_BITES = "A spring under load bites: hold it in a proper tool, and stand clear of its line."


def answer(given: SpringIn, unit: Unit) -> SpringOut:
    """Work out all that the input allows."""
    made = _made(given)
    figures, found_rate = _figures(given)
    free = None
    if found_rate is not None and figures.rig:
        free = free_length_from_rig(figures.rig[0], found_rate)
    blow_off = _blow_off(given, made)
    if made is None and not figures.rig and given.family is None and not given.known:
        raise BadInput(
            Problem("", "there is nothing to work out", "give wire, diameter and coils, or a rig")
        )
    return SpringOut(
        unit=str(unit),
        design=None if made is None else _design(made, given, unit),
        points=() if made is None else _points(made, given, unit),
        blow_off=said(blow_off),
        rate_from_rig=said(found_rate if figures.rig else None),
        free_length_from_rig=figure_or_none(free, unit),
        verdict=_verdict(given, figures),
        known=_known(given, figures, unit),
        notes=_notes(made, given),
    )


def _made(given: SpringIn) -> sums.Spring | None:
    """The spring of the input, when its shape is told at all."""
    if given.outside is None and given.mean is None and given.inside is None:
        return None
    if given.wire is None:
        raise BadInput(Problem("wire", "it is missing", "measure it with a micrometer"))
    if given.family is not None and given.total_coils is None and given.active_coils is None:
        return None
    return sums.spring(
        wire=given.wire,
        outside=given.outside,
        mean=given.mean,
        inside=given.inside,
        active_coils=given.active_coils,
        total_coils=given.total_coils,
        ends=given.ends,
        material=given.material,
        shear_modulus=given.shear_modulus,
        free_length=given.free_length,
    )


def _figures(given: SpringIn) -> tuple[SpringFigures, Quantity | None]:
    problems, rig = Problems(), list[RigLoad]()
    for number, reading in enumerate(given.rig, 1):
        with problems.at(f"rig, number {number}"):
            rig.append(RigLoad(reading.length, reading.load))
    problems.raise_if_any()
    figures = SpringFigures(
        free_length=given.free_length,
        rate=given.measured_rate,
        rig=tuple(rig),
        wire=given.wire,
        outside=given.outside,
        total_coils=given.total_coils,
    )
    return figures, rate_from_readings(figures.rig, figures.free_length)


def _design(made: sums.Spring, given: SpringIn, unit: Unit) -> DesignOut:
    index = sums.spring_index(made)
    free, bows = made.free_length, None
    if free is not None:
        bows = sums.critical_deflection(made, given.seating)
    travel = None if free is None else free - sums.solid_length(made)
    return DesignOut(
        mean_diameter=figure(made.mean_diameter, unit),
        active_coils=few(made.active_coils),
        total_coils=few(made.total_coils),
        index=few(index),
        shear_modulus=said(made.shear_modulus) or "",
        rate=said(sums.rate(made)) or "",
        solid_length=figure(sums.solid_length(made), unit),
        wahl_factor=few(sums.wahl_factor(index)),
        load_solid=None if free is None else said(sums.load_at(made, sums.solid_length(made))),
        buckles_at_deflection=figure_or_none(bows, unit),
        buckles=None if travel is None else bows is not None and bows < travel,
    )


def _points(made: sums.Spring, given: SpringIn, unit: Unit) -> tuple[PointOut, ...]:
    installed = () if given.installed is None else (given.installed,)
    problems, found = Problems(), list[PointOut]()
    for length in (*given.at, *installed):
        with problems.at("at"):
            found.append(_point(made, length, sums.load_at(made, length), unit))
    for load in given.loads:
        with problems.at("loads"):
            found.append(_point(made, sums.length_at(made, load), load, unit))
    problems.raise_if_any()
    return tuple(found)


def _point(made: sums.Spring, length: Quantity, load: Quantity, unit: Unit) -> PointOut:
    stress = said(sums.shear_stress(made, load)) or ""
    return PointOut(length=figure(length, unit), load=said(load) or "", stress=stress)


def _blow_off(given: SpringIn, made: sums.Spring | None) -> Quantity | None:
    if given.seat is None:
        return None
    if given.installed is None or made is None:
        raise BadInput(
            Problem("seat", "blow-off needs the spring and its installed length", "give installed")
        )
    return sums.blow_off_pressure(sums.load_at(made, given.installed), given.seat)


def _verdict(given: SpringIn, figures: SpringFigures) -> VerdictOut | None:
    if given.family is None:
        return None
    found = judge_spring(figures, _band(given.family), _uncertainty(given.uncertainty))
    return VerdictOut(state=found.state.value, reasons=found.reasons)


def _uncertainty(told: UncertaintyIn | None) -> SpringUncertainty:
    none, told = SpringUncertainty(), told or UncertaintyIn()
    return SpringUncertainty(
        told.length or none.length, told.load or none.load, told.rate or none.rate
    )


def _band(family: FamilyIn) -> SpringBand:
    def limits(name: str, given: LengthsIn | RatesIn | LoadsIn | None) -> Limits | None:
        return None if given is None else limits_of(f"family, {name}", given.low, given.high)

    return SpringBand(
        free_length=limits("free_length", family.free_length),
        rate=limits("rate", family.rate),
        load=limits("load", family.load),
        load_length=family.load_length,
        wire=limits("wire", family.wire),
        outside=limits("outside", family.outside),
        total_coils=family.total_coils,
    )


def _known(given: SpringIn, figures: SpringFigures, unit: Unit) -> tuple[MatchOut, ...]:
    if not given.known:
        return ()
    listed = [
        KnownSpring(one.name, one.wire, one.free_length, one.total_coils, one.outside)
        for one in given.known
    ]
    found = identify_spring(
        figures,
        listed,
        given.wire_tolerance or _WIRE_WITHIN,
        given.length_tolerance or _LENGTH_WITHIN,
    )
    return tuple(
        MatchOut(
            name=match.spring.name,
            candidate=match.is_candidate,
            agrees=match.agrees,
            differs=match.differs,
            set_taken=figure_or_none(match.set_taken, unit),
        )
        for match in found
    )


def _notes(made: sums.Spring | None, given: SpringIn) -> tuple[str, ...]:
    found = [_BITES]
    if made is not None and not 4 <= sums.spring_index(made) <= 12:
        found.insert(0, "The spring index lies outside 4 to 12: check the wire and the diameter.")
    if made is not None and given.shear_modulus is None:
        found.insert(0, f"The wire was taken as {given.material}; another gives another rate.")
    return tuple(found)


def sheet(found: SpringOut) -> str:
    """The answer as a sheet of text."""
    design = found.design
    lines: list[tuple[str, str | None]] = []
    if design is not None:
        solid = f"{short(design.solid_length)} {found.unit}"
        coils = f"{design.active_coils} working, {design.total_coils} in all"
        lines += [
            ("Mean diameter", f"{short(design.mean_diameter)} {found.unit}"),
            ("Coils", coils),
            ("Index, Wahl's factor", f"{design.index}, {design.wahl_factor}"),
            ("Rate", design.rate),
            ("Solid", f"{solid}, {design.load_solid}" if design.load_solid else solid),
            ("Bows before it is solid", {True: "yes", False: "no", None: None}[design.buckles]),
        ]
    lines += [
        ("Blow-off pressure", found.blow_off),
        ("Rate off the rig", found.rate_from_rig),
        (
            "Free length by the rig",
            found.free_length_from_rig and short(found.free_length_from_rig),
        ),
        ("Verdict", found.verdict.state if found.verdict else None),
    ]
    rows = [(short(one.length), one.load, one.stress) for one in found.points]
    springs = [
        (one.name, "may be" if one.candidate else "no", ", ".join(one.differs) or "all agrees")
        for one in found.known
    ]
    return page(
        title("Spring"),
        facts(lines),
        table((f"Length, {found.unit}", "Load", "Stress (Wahl)"), rows) if rows else "",
        points("Why", found.verdict.reasons if found.verdict else ()),
        table(("Known spring", "This one?", "Differs in"), springs) if springs else "",
        points("Mind", found.notes),
    )


@sum_door(SpringIn, SpringOut, answer, sheet)
@click.option("--wire", help="Wire diameter.")
@click.option("--outside", help="Outside diameter of the coil.")
@click.option("--mean", help="Mean diameter of the coil.")
@click.option("--inside", help="Inside diameter of the coil.")
@click.option("--total-coils", help="Coils counted end to end.")
@click.option("--active-coils", help="Working coils.")
@click.option("--ends", help="plain, 'plain and ground', closed, 'closed and ground'.")
@click.option("--material", help="Wire: spring steel, music wire, stainless 1.4310 …")
@click.option("--free-length", help="Length unloaded.")
@click.option("--measured-rate", help="Rate as measured, such as '40 lbf/in'.")
@click.option("--at", multiple=True, help="A length to give the load at.")
@click.option("--load", multiple=True, help="A load to give the length at.")
@click.option("--installed", help="Installed length, for the blow-off pressure.")
@click.option("--seat", help="Diameter of the valve's seat.")
@click.option("--rig", multiple=True, help="LENGTH=LOAD off a rig: '1.2 in=10.8 lbf'.")
@click.option("--family-free-length", help="The family's LOW,HIGH.")
@click.option("--family-rate", help="The family's LOW,HIGH.")
@click.option("--family-load", help="The family's LOW,HIGH at --family-load-length.")
@click.option("--family-load-length", help="Length that the family's load is taken at.")
def command(
    *, load: tuple[str, ...], rig: tuple[str, ...], **options: str | None
) -> dict[str, object]:
    """Rate, loads, stress, blow-off pressure; is it the family's spring, tired or another.

    Example: kitting calc spring --wire "0.064 in" --outside "0.48 in" --total-coils 11
    --free-length "1.53 in" --installed "1.2 in" --seat "0.5 in"
    """
    family = given_options(
        free_length=limits_from(options.pop("family_free_length"), "--family-free-length"),
        rate=limits_from(options.pop("family_rate"), "--family-rate"),
        load=limits_from(options.pop("family_load"), "--family-load"),
        load_length=options.pop("family_load_length"),
    )
    readings = [pair_of(text, "--rig") for text in rig]
    return given_options(
        loads=load,
        rig=[{"length": length, "load": force} for length, force in readings],
        family=family,
        **options,
    )
