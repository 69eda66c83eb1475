"""The shapes of the catalogue: what a check found, the families, one family, parts found."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from kitting.catalog.family import Family
from kitting.catalog.model import Part
from kitting.errors import Problem


@dataclass(frozen=True, slots=True)
class ProblemShape:
    """Where, what is wrong, what would be right."""

    place: str
    wrong: str
    right: str


@dataclass(frozen=True, slots=True)
class CheckShape:
    """What `kitting catalog check` found; `sound` when there are no faults."""

    sound: bool
    folders: list[str]
    faults: list[ProblemShape]
    warnings: list[ProblemShape]


@dataclass(frozen=True, slots=True)
class FamilyShape:
    """A family in figures: how many of each thing it describes."""

    key: str
    name: str
    maker: str
    years: str
    edition: str
    summary: str
    variants: list[dict[str, str]]
    counts: dict[str, int]
    links: dict[str, int]
    positions: list[dict[str, str]]


@dataclass(frozen=True, slots=True)
class EditionShape:
    """One edition of a family that the database holds."""

    family: str
    name: str
    edition: str
    years: str
    latest: bool


@dataclass(frozen=True, slots=True)
class ShownShape:
    """The editions in the database; with a family asked for, that family."""

    editions: list[EditionShape]
    family: FamilyShape | None


@dataclass(frozen=True, slots=True)
class PartShape:
    """A part: its number, what it is, where it fits."""

    part: str
    name: str
    kind: str
    attributes: dict[str, str]
    positions: list[str]
    because: str


@dataclass(frozen=True, slots=True)
class NearShape:
    """A part whose number is nearly what was asked for, and the difference: a question."""

    part: str
    name: str
    number: str
    difference: str


@dataclass(frozen=True, slots=True)
class PartlyShape:
    """A part that agrees with the most of what was asked, and what it lacks: a question."""

    part: str
    name: str
    lacks: list[str]


@dataclass(frozen=True, slots=True)
class ElsewhereShape:
    """A part with the number asked for, which other families have and the one asked about not."""

    part: str
    name: str
    because: str
    families: list[str]


@dataclass(frozen=True, slots=True)
class FoundShape:
    """Parts found; where none is, those nearly so are offered as a question.

    `unknown` are the words and figures asked that no part has at all.

    `looked_at` is above zero where so many parts agree that only as many were put in order.
    """

    query: str
    meant: str
    looked_at: int
    parts: list[PartShape]
    near: list[NearShape]
    unknown: list[str]
    partly: list[PartlyShape]
    elsewhere: list[ElsewhereShape]


def problem_shapes(problems: Iterable[Problem]) -> list[ProblemShape]:
    """The shapes of problems."""
    return [ProblemShape(p.place, p.wrong, p.right) for p in problems]


def family_counts(family: Family) -> dict[str, int]:
    """How many of each thing a family describes."""
    return {
        "variants": len(family.variants),
        "assemblies": len(family.assemblies),
        "positions": len(family.positions),
        "features": len(family.features),
        "size tables": len(family.size_tables),
        "grades": sum(len(table.grades) for table in family.size_tables),
        "observations": len(family.observations),
        "judgements": len(family.judgements),
        "consequences": len(family.consequences),
        "parts": len(family.parts),
        "fits": len(family.fits),
        "links": len(family.links),
        "sets": len({item.set for item in family.set_items}),
        "times": len(family.labour),
    }


def family_shape(family: Family) -> FamilyShape:
    """The shape of a family."""
    return FamilyShape(
        key=family.key,
        name=family.name,
        maker=family.maker,
        years=family.years,
        edition=family.edition,
        summary=family.summary,
        variants=[
            {
                "key": v.key,
                "name": v.name,
                "engine_numbers": f"{v.prefix}{v.first} to {v.prefix}{v.last}",
                "years": v.years,
            }
            for v in family.variants
        ],
        counts=family_counts(family),
        links=dict(Counter(str(link.kind) for link in family.links)),
        positions=[
            {"key": p.key, "name": p.name, "assembly": p.assembly, "kind": p.kind}
            for p in family.positions
        ],
    )


def part_shape(part: Part, places: Iterable[tuple[str, str]], because: str) -> PartShape:
    """The shape of a part; `places` are families and positions."""
    return PartShape(
        part=str(part.number),
        name=part.name,
        kind=part.kind,
        attributes=dict(part.attributes),
        positions=[f"{family}: {position}" for family, position in places],
        because=because,
    )
