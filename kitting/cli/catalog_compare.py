"""`kitting catalog compare`: two parts beside each other, and whether either may be used."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import click

from kitting.cli.answer import Answer, reads
from kitting.cli.opened import Day, today

if TYPE_CHECKING:
    from datetime import date

    from kitting.catalog.comparing import AttributeLine, Compared
    from kitting.catalog.family import Family
    from kitting.catalog.model import PartNumber
    from kitting.catalog.ways import Way


@dataclass(frozen=True, slots=True)
class _StandsFor:
    """Whether `offered` may stand for `wanted` in a family: the way, or None."""

    family: Family
    wanted: PartNumber
    offered: PartNumber
    way: Way | None


@click.command()
@click.argument("first")
@click.argument("second")
@click.option("--family", "key", default="", help="Only this family [all].")
@click.option("--on", "day", type=Day(), default=None, help="As of this day [today].")
@reads("links:CompareShape")
def compare(first: str, second: str, key: str, day: date | None) -> Answer:
    """Show what differs between two parts, and whether either may stand for the other.

    Threads are compared as threads (hand, diameter, pitch, form), seals, O-rings and rolling
    bearings by their sizes and what else tells them. Sizes that agree prove nothing alone: the
    links of the catalogue say what may be changed for what.

    \b
    Example:
      kitting catalog compare C61-3052 C66-3052
    """
    from kitting.catalog.comparing import compare_parts
    from kitting.cli.catalog_parts import meant

    asked = meant(first, second, key=key)
    left, right = asked.parts
    on_day = day or today()
    compared = compare_parts(left, right)
    alone = left.number == right.number
    both = [family for family in asked.families if right.number in family.part_by_number]
    stands = [
        _stands_for(family, *pair, on_day)
        for family in (() if alone else both)
        for pair in ((left.number, right.number), (right.number, left.number))
    ]

    def shape() -> object:
        from kitting.cli.shapes import links

        return links.CompareShape(
            left=str(left.number),
            left_name=left.name,
            left_kind=left.kind,
            right=str(right.number),
            right_name=right.name,
            right_kind=right.kind,
            attributes=links.attribute_shapes(compared),
            same_size=compared.same_size,
            stands_for=[
                links.StandsForShape(
                    family=each.family.key,
                    wanted=str(each.wanted),
                    offered=str(each.offered),
                    way=links.way_shape(each.way) if each.way else None,
                )
                for each in stands
            ],
            day=on_day.isoformat(),
        )

    return shape, lambda: _text(compared, stands)


def _stands_for(
    family: Family, wanted: PartNumber, offered: PartNumber, on_day: date
) -> _StandsFor:
    """On any engine and at the part's own grade: the terms of the way say what it asks for."""
    from kitting.catalog.where_used import way_between

    return _StandsFor(family, wanted, offered, way_between(family, wanted, offered, on_day))


def _text(compared: Compared, stands: list[_StandsFor]) -> str:
    from kitting.cli.screen import heading, paragraph, table

    left, right = compared.left, compared.right
    rows = [("what", left.name, right.name, _mark(same=left.name == right.name))]
    rows.append(("kind", left.kind, right.kind, _mark(same=left.kind == right.kind)))
    rows += [(line.name, line.left, line.right, _meaning(line)) for line in compared.lines]
    parts = [
        heading(f"{left.number} and {right.number}"),
        table(("", str(left.number), str(right.number), "difference"), rows),
    ]
    if compared.same_size and left.number != right.number:
        says = "Alike in all that is stated of them: same size, to be confirmed at the bench."
        parts.append(paragraph(says))
    parts.append("\n".join(paragraph(_stands_words(each), 2, 2) for each in stands))
    if left.number == right.number:
        parts.append(paragraph("Both are one number: there is nothing to choose between."))
    elif not stands:
        parts.append(paragraph("No family has both, so no link says that either may be used."))
    return "\n\n".join(part for part in parts if part)


def _mark(*, same: bool) -> str:
    return "the same" if same else "differs"


def _meaning(line: AttributeLine) -> str:
    return "; ".join(line.means) or _mark(same=line.same)


def _stands_words(each: _StandsFor) -> str:
    from kitting.cli.trace_screen import way_terms

    lead = f"{each.family.key}: {each.offered}"
    if each.way is None:
        return f"{lead} does not stand for {each.wanted}."
    terms = "".join(f"; {term}" for term in way_terms(each.way))
    return f"{lead} may stand for {each.wanted} ({each.way.kind}){terms}."
