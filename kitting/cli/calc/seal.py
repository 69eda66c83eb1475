"""`kitting calc seal`: is a seal or O-ring the same size as another; the nearest standard one."""

import click

from kitting.cli.calc.brief import read_at
from kitting.cli.calc.common import Answer, Given, Strict, figure, given_options, sum_door
from kitting.cli.calc.layout import facts, page, points, table, title
from kitting.engineering import o_rings, seal
from kitting.engineering.sizes import SizeComparison, all_same
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Limits, Unit, unit_named


class SealIn(Given):
    """A lip seal (shaft x housing x width) or an O-ring (number, or inside x section).

    `against` is the one wanted, written the same way.
    """

    seal: str | None = None
    o_ring: str | None = None
    against: str | None = None


class SizeOut(Strict):
    """One dimension against the one wanted."""

    what: str
    size: str
    by: str


class NearOut(Strict):
    """A standard one near it: `same` is by dimensions alone, so confirm."""

    name: str
    same: bool
    sizes: tuple[SizeOut, ...]


class SealOut(Answer):
    """The part, how it compares, where it sits, and what is near it."""

    name: str
    dimensions: dict[str, str]
    against: str | None
    same: bool | None
    differs: tuple[SizeOut, ...]
    shaft_limits: str | None
    housing_limits: str | None
    nearest: tuple[NearOut, ...]
    source: str


def answer(given: SealIn, unit: Unit) -> SealOut:
    """Compare, and look for the nearest."""
    if (given.seal is None) == (given.o_ring is None):
        raise BadInput(Problem("", "one part is needed", "give seal, 30x47x7, or o_ring, 214"))
    bare = None if given.unit is None else unit_named(given.unit)
    if given.seal is not None:
        return _seal(given.seal, given.against, unit, bare)
    return _o_ring(given.o_ring or "", given.against, unit)


def _seal(text: str, against: str | None, unit: Unit, bare: Unit | None) -> SealOut:
    problems = Problems()
    part = read_at(problems, "seal", lambda: seal.parse_seal(text, bare))
    wanted = None
    if against is not None:
        wanted = read_at(problems, "against", lambda: seal.parse_seal(against, bare))
    problems.raise_if_any()
    if part is None:
        raise BadInput(list(problems))
    shaft, housing = seal.seats(part)
    found = () if wanted is None else seal.compare_seals(part, wanted)
    return SealOut(
        unit=str(unit),
        name=str(part),
        dimensions={name: figure(size, unit) for name, size in part.dimensions.items()},
        against=None if wanted is None else str(wanted),
        same=None if wanted is None else all_same(found),
        differs=_sizes(found, unit),
        shaft_limits=_span(shaft, unit),
        housing_limits=_span(housing, unit),
        nearest=tuple(
            NearOut(name=str(near.seal), same=near.same_size, sizes=_sizes(near.differs, unit))
            for near in seal.nearest_seals(part)
        ),
        source=seal.SOURCE,
    )


def _o_ring(text: str, against: str | None, unit: Unit) -> SealOut:
    problems = Problems()
    part = read_at(problems, "o_ring", lambda: o_rings.parse_o_ring(text))
    wanted = None
    if against is not None:
        wanted = read_at(problems, "against", lambda: o_rings.parse_o_ring(against))
    problems.raise_if_any()
    if part is None:
        raise BadInput(list(problems))
    found = () if wanted is None else o_rings.compare_o_rings(part, wanted)
    return SealOut(
        unit=str(unit),
        name=_ring_name(part),
        dimensions={name: figure(size, unit) for name, size in part.dimensions.items()},
        against=None if wanted is None else _ring_name(wanted),
        same=None if wanted is None else all_same(found),
        differs=_sizes(found, unit),
        shaft_limits=None,
        housing_limits=None,
        nearest=tuple(
            NearOut(
                name=_ring_name(near),
                same=all_same(compared),
                sizes=_sizes(compared, unit),
            )
            for near in o_rings.nearest_o_rings(part)
            for compared in (o_rings.compare_o_rings(near, part),)
        ),
        source=o_rings.SOURCE,
    )


def _ring_name(ring: o_rings.ORing) -> str:
    inside, section = ring.millimetres
    sizes = f"{inside} × {section} mm"
    return f"{ring.dash} ({sizes})" if ring.dash else sizes


def _sizes(found: tuple[SizeComparison, ...], unit: Unit) -> tuple[SizeOut, ...]:
    return tuple(
        SizeOut(what=one.what, size=one.size.value, by=figure(one.by, unit)) for one in found
    )


def _span(limits: Limits, unit: Unit) -> str | None:
    if limits.low is None or limits.high is None:
        return None
    return f"{figure(limits.low, unit)} to {figure(limits.high, unit)}"


def sheet(found: SealOut) -> str:
    """The answer as a sheet of text."""
    verdict = {True: "same size, confirm", False: "another size", None: None}[found.same]
    rows = [
        (near.name, "same size, confirm" if near.same else _words(near.sizes, found.unit))
        for near in found.nearest
    ]
    return page(
        title(found.name),
        facts(
            (
                ("Against", found.against),
                ("By dimensions", verdict),
                ("Differs", _words(found.differs, found.unit) if found.same is False else None),
                (f"Shaft h11, {found.unit}", found.shaft_limits),
                (f"Housing H8, {found.unit}", found.housing_limits),
                ("Sizes by", found.source),
            )
        ),
        table(("Nearest standard", "Against this one"), rows),
        points("Mind", ("Lip, material and spin direction are not dimensions: look at both.",)),
    )


def _words(sizes: tuple[SizeOut, ...], unit: str) -> str:
    return ", ".join(
        f"{one.what} {one.size} by {one.by} {unit}" for one in sizes if one.size != "the same"
    )


@sum_door(SealIn, SealOut, answer, sheet)
@click.option("--seal", "lip", help="A lip seal: shaft x housing x width, '30x47x7'.")
@click.option("--o-ring", help="An O-ring: number '214', or inside x section '25 x 3.5 mm'.")
@click.option("--against", help="The one wanted, written the same way.")
def command(*, lip: str | None, o_ring: str | None, against: str | None) -> dict[str, object]:
    """Is a seal or an O-ring the same size, larger or smaller; the nearest standard size.

    Example: kitting calc seal --seal 30x52x7 --against 30x47x7
    """
    return given_options(seal=lip, o_ring=o_ring, against=against)
