"""What `kitting catalog find` answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.cli.screen import paragraph, table

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

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
        found = work.search.find(words, _MOST, key)
        every = work.search.places(match.part.number for match in found.matches)
    places = {
        number: [(family, position) for family, position in fits if key in {"", family}]
        for number, fits in every.items()
    }

    def shape() -> object:
        from kitting.cli.shapes.catalog import (
            ElsewhereShape,
            FoundShape,
            NearShape,
            PartlyShape,
            part_shape,
        )

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
            unknown=list(found.unknown),
            partly=[
                PartlyShape(str(p.part.number), p.part.name, list(p.lacks)) for p in found.partly
            ],
            elsewhere=[
                ElsewhereShape(str(e.part.number), e.part.name, e.because, list(e.families))
                for e in found.elsewhere
            ],
        )

    return shape, lambda: _text(found, places, key)


def _text(found: Found, places: _Places, key: str) -> str:
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
        parts.append(paragraph(" ".join(_why_nothing(found, key))))
    if found.elsewhere:
        others = [
            (str(e.part.number), e.part.name, ", ".join(e.families), e.because)
            for e in found.elsewhere
        ]
        listed = table(("part", "what", "of", "found by"), others)
        parts.append(f"It is a number of another family; is that the engine?\n{listed}")
    if found.partly:
        partly = [(str(p.part.number), p.part.name, ", ".join(p.lacks)) for p in found.partly]
        listed = table(("part", "what", "has no"), partly)
        parts.append(f"These agree with the most of it; is it one of them?\n{listed}")
    if found.near:
        near = [(str(n.part.number), n.part.name, n.difference) for n in found.near]
        parts.append(f"Did you mean one of these?\n{table(('part', 'what', 'difference'), near)}")
        parts.append(paragraph("None of them is taken: ask again with the whole number."))
    return "\n\n".join(parts)


def _why_nothing(found: Found, key: str) -> Iterator[str]:
    """That nothing answers, what no part has, and what none has beside the rest."""
    if found.elsewhere:
        yield f"No part of {key} is '{found.query}'."
        return
    yield f"Nothing is '{found.query}'."
    if found.meant:
        yield f"Did you mean '{found.meant}'?"
    if found.unknown and (found.partly or found.meant):
        yield f"No part has {_quoted(found.unknown)}."
    missed = dict.fromkeys(each.lacks for each in found.partly)
    beside = [tuple(said for said in lacks if said not in found.unknown) for lacks in missed]
    choices = [f"{_quoted(lacks)} beside the rest" for lacks in beside if lacks]
    if choices:
        yield f"No part has {', nor '.join(choices)}."


def _quoted(said: Iterable[str]) -> str:
    return " and ".join(f"'{each}'" for each in said)
