"""Circles that a family's supersessions close with those of others: families, accepted lists.

The check of a catalogue sees only what stands in its folders; what they say is followed beside what
is kept already.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace

from sqlalchemy import Connection, select, union

from kitting.catalog.circles_across import CircleAcross, Said, circles_across
from kitting.catalog.model import Link, LinkKind, PartNumber
from kitting.store import catalogue_maps as maps
from kitting.store.links import Links
from kitting.store.parts import table_of
from kitting.store.search_rows import is_latest
from kitting.store.tables.catalogue import EditionRow
from kitting.store.tables.prices import LinkProposalRow, ProposalState

_EDITIONS = table_of(EditionRow)
_PROPOSALS = table_of(LinkProposalRow)
_LINKS = maps.LINKS.table


def closed_circles(connection: Connection, families: Collection[str]) -> tuple[CircleAcross, ...]:
    """Return the circles that the latest editions of some families close with links of others."""
    ends = sorted({number for family in families for number in _met(connection, family)})
    if not ends:
        return ()
    _, links = Links(connection).about(ends, "")
    known = set(connection.execute(select(_EDITIONS.c.family).distinct()).scalars())
    return tuple(
        circle
        for circle in circles_across(_said(links, known))
        if any(step.family in families for step in circle.steps)
    )


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


def _said(links: Iterable[Link], known: Collection[str]) -> Iterator[Said]:
    """Links as they are read beside each other, each with the family whose it is."""
    for link in links:
        family, _, record = link.record.partition(": ")
        if family in known:
            yield Said(family, replace(link, record=record))
        else:
            yield Said("", link)
