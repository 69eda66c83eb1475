"""What `kitting catalog find` answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.cli.screen import paragraph, table

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.find import Found
    from kitting.catalog.model import PartNumber
    from kitting.cli.answer import Answer

    # Where each part fits: family and position.
    _Places = Mapping[PartNumber, list[tuple[str, str]]]

_MOST = 12


def find_answer(words: str, key: str) -> Answer:
    """Find parts in one family, or in the latest edition of all that are loaded."""
    from kitting.store import Database

    with Database().read() as work:
        if key:
            family = work.catalogue.family(key)
            trade = work.trade.trade(part.number for part in family.parts)
        else:
            found = work.search.find(words, _MOST)
            places = work.search.places(match.part.number for match in found.matches)
    if key:
        from kitting.catalog.find import find_parts

        found = find_parts(words, [family], trade, most=_MOST)
        places = {
            match.part.number: [
                (key, fit.position) for fit in family.fits if fit.part == match.part.number
            ]
            for match in found.matches
        }

    def shape() -> object:
        from kitting.cli.shapes.catalog import FoundShape, NearShape, part_shape

        return FoundShape(
            query=found.query,
            meant=found.meant,
            looked_at=found.looked_at,
            parts=[
                part_shape(m.part, places[m.part.number], f"{m.how}: {m.because}")
                for m in found.matches
            ],
            near=[
                NearShape(str(n.part.number), n.part.name, n.number, n.difference)
                for n in found.near
            ],
        )

    return shape, lambda: _text(found, places)


def _text(found: Found, places: _Places) -> str:
    parts = []
    if found.matches:
        rows = [
            (
                str(match.part.number),
                match.part.name,
                ", ".join(position for _, position in places[match.part.number]),
                match.because,
            )
            for match in found.matches
        ]
        parts.append(table(("part", "what", "fits", "found by"), rows))
        if found.looked_at:
            parts.append(
                paragraph(
                    f"More than {found.looked_at} parts agree; these are the best of the first "
                    f"{found.looked_at}. Ask again with one word more."
                )
            )
    else:
        asked = f" Did you mean '{found.meant}'?" if found.meant else ""
        parts.append(f"Nothing is '{found.query}'.{asked}")
    if found.near:
        near = [(str(n.part.number), n.part.name, n.difference) for n in found.near]
        parts.append(f"Did you mean one of these?\n{table(('part', 'what', 'difference'), near)}")
        parts.append(paragraph("None of them is taken: ask again with the whole number."))
    return "\n\n".join(parts)
