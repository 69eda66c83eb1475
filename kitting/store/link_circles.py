"""Circles that a family's supersessions close with those of others: families, accepted lists.

The check of a family sees only the family; what it says is followed beside what is kept already. A
circle is looked for in the eyes of the family and of every other that has a link in it, since each
follows its own links and of others those that hold whatever the engine.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import Connection, select, union

from kitting.catalog.circles import circles
from kitting.catalog.conditions import can_hold_together
from kitting.catalog.model import Link, LinkKind, PartNumber
from kitting.catalog.outside import merged
from kitting.store import catalogue_maps as maps
from kitting.store.links import Links
from kitting.store.parts import table_of
from kitting.store.search_rows import is_latest
from kitting.store.tables.catalogue import EditionRow
from kitting.store.tables.prices import LinkProposalRow, ProposalState

_EDITIONS = table_of(EditionRow)
_PROPOSALS = table_of(LinkProposalRow)
_LINKS = maps.LINKS.table


@dataclass(frozen=True, slots=True)
class ClosedCircle:
    """A circle, its numbers first and last alike, and who says each step of it.

    `record` is one of the family's own records in it; `others` are the links of others.
    """

    numbers: tuple[PartNumber, ...]
    record: str
    others: tuple[Link, ...]


def closed_circles(connection: Connection, family: str) -> tuple[ClosedCircle, ...]:
    """Return the circles that the latest edition of a family closes with links of others."""
    ends = _met(connection, family)
    if not ends:
        return ()
    links = Links(connection)
    _, others = links.about(ends, family)
    known = set(connection.execute(select(_EDITIONS.c.family).distinct()).scalars())
    eyes = dict.fromkeys(_owner(link) for link in others if link.kind is LinkKind.SUPERSEDED)
    found: dict[frozenset[PartNumber], ClosedCircle] = {}
    for eye in (family, *(each for each in eyes if each in known)):
        own, beyond = links.about(ends, eye)
        for circle in _circles(merged(own, beyond), own if eye == family else (), family):
            found.setdefault(frozenset(circle.numbers), circle)
    return tuple(found.values())


def _met(connection: Connection, family: str) -> list[PartNumber]:
    """The numbers that the family leads to and others lead away from.

    A circle of both passes through one of them, so that nothing else need be read.
    """
    mine, theirs = _LINKS.alias("mine"), _LINKS.alias("theirs")
    here, there = _EDITIONS.alias("here"), _EDITIONS.alias("there")
    leads_here = (
        select(mine.c.new_maker, mine.c.new_number)
        .join(here, here.c.id == mine.c.edition_id)
        .where(here.c.family == family, mine.c.kind == LinkKind.SUPERSEDED, is_latest(here))
    )
    by_families = (
        leads_here.join(
            theirs,
            (theirs.c.old_maker == mine.c.new_maker) & (theirs.c.old_number == mine.c.new_number),
        )
        .join(there, there.c.id == theirs.c.edition_id)
        .where(theirs.c.kind == LinkKind.SUPERSEDED, there.c.family != family, is_latest(there))
    )
    by_lists = leads_here.join(
        _PROPOSALS,
        (_PROPOSALS.c.old_maker == mine.c.new_maker)
        & (_PROPOSALS.c.old_number == mine.c.new_number),
    ).where(_PROPOSALS.c.state == ProposalState.ACCEPTED)
    rows = connection.execute(union(by_families, by_lists))
    return sorted(PartNumber(*row) for row in rows)


def _owner(link: Link) -> str:
    """The family that an outside link is of; of a price list's link nothing that is a family."""
    return link.record.partition(": ")[0]


def _circles(every: tuple[Link, ...], own: tuple[Link, ...], family: str) -> Iterator[ClosedCircle]:
    """The circles with links of the family and of others in them."""
    links = [link for link in every if link.kind is LinkKind.SUPERSEDED and link.old != link.new]
    ours = set(own) | {link for link in links if not own and _owner(link) == family}
    edges: dict[tuple[PartNumber, PartNumber], frozenset[int]] = {}
    for at, link in enumerate(links):
        step = (link.old, link.new)
        edges[step] = edges.get(step, frozenset()) | {at}

    def together(rows: tuple[int, ...]) -> bool:
        return can_hold_together(links[at] for at in rows)

    for numbers, rows in circles(edges, together):
        chain = [links[at] for at in rows]
        mine = [link for link in chain if link in ours]
        others = tuple(link for link in chain if link not in ours)
        if mine and others:
            record = mine[0].record.removeprefix(f"{family}: ")
            yield ClosedCircle(numbers, record, others)
