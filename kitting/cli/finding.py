"""What `kitting catalog find` answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.cli.screen import paragraph, table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kitting.catalog.family import Family
    from kitting.catalog.find import Found
    from kitting.cli.answer import Answer


_MOST = 12


def find_answer(words: str, key: str) -> Answer:
    """Find parts in one family, or in the latest edition of all that are loaded."""
    from kitting.catalog.find import find_parts
    from kitting.store import Database

    with Database().read() as work:
        keys = [key] if key else [kept.family for kept in work.catalogue.families() if kept.latest]
        families = [work.catalogue.family(each) for each in keys]
        parts = {part.number for family in families for part in family.parts}
        trade = work.trade.trade(parts) if families else None
    found = find_parts(words, families, trade, most=_MOST)

    def shape() -> object:
        from kitting.cli.shapes.catalog import FoundShape, NearShape, part_shape

        return FoundShape(
            query=found.query,
            meant=found.meant,
            parts=[part_shape(families, m.part, f"{m.how}: {m.because}") for m in found.matches],
            near=[
                NearShape(str(n.part.number), n.part.name, n.number, n.difference)
                for n in found.near
            ],
        )

    return shape, lambda: _text(found, families)


def _text(found: Found, families: Sequence[Family]) -> str:
    parts = [f"Taken to mean: {found.meant}"] if found.meant else []
    if found.matches:
        rows = [
            (
                str(match.part.number),
                match.part.name,
                ", ".join(_positions(families, match.part.number)),
                match.because,
            )
            for match in found.matches
        ]
        parts.append(table(("part", "what", "fits", "found by"), rows))
    else:
        parts.append(f"Nothing is '{found.query}'.")
    if found.near:
        near = [(str(n.part.number), n.part.name, n.difference) for n in found.near]
        parts.append(f"Did you mean one of these?\n{table(('part', 'what', 'difference'), near)}")
        parts.append(paragraph("None of them is taken: ask again with the whole number."))
    return "\n\n".join(parts)


def _positions(families: Sequence[Family], number: object) -> list[str]:
    return [fit.position for family in families for fit in family.fits if fit.part == number]
