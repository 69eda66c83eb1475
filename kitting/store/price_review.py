"""What price lists left for a person: rows that nobody could place, links that were proposed.

A decision carries the name of who took it. An accepted link is a link like any other: `link_of`
makes it one, and `kitting.store.links` follows it beside those of the editions.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, Select, and_, exists, func, insert, select, update

from kitting.buying.price_lists.succession import several_in
from kitting.catalog.model import Link, LinkKind, PartNumber, normal_number
from kitting.errors import BadInput, NotFound, Problem
from kitting.store.parts import table_of
from kitting.store.search_rows import IS_LATEST
from kitting.store.tables.catalogue import EditionRow
from kitting.store.tables.parts import LinkRow, PartRow
from kitting.store.tables.prices import (
    LinkProposalRow,
    PriceStrayRow,
    ProposalState,
    SupplierNumberRow,
)
from kitting.store.tables.trade import PriceListRow, SupplierRow

_LISTS = table_of(PriceListRow)
_STRAYS = table_of(PriceStrayRow)
_NUMBERS = table_of(SupplierNumberRow)
_PROPOSALS = table_of(LinkProposalRow)
_PARTS = table_of(PartRow)
_LINKS = table_of(LinkRow)
_EDITIONS = table_of(EditionRow)
_SUPPLIERS = table_of(SupplierRow)
_AT_ONCE = 300


@dataclass(frozen=True, slots=True)
class KeptStray:
    """A row of a list that holds and offers nothing as it stands."""

    supplier: str
    origin: str
    place: str
    number: str
    says: str
    why: str


@dataclass(frozen=True, slots=True)
class Proposal:
    """A proposed link; `new` is None while nobody knows the number. `beside` are links that are."""

    id: int
    supplier: str
    origin: str
    place: str
    old: PartNumber
    new_said: str
    new: PartNumber | None
    state: ProposalState
    who: str
    why: str
    beside: tuple[PartNumber, ...] = ()


class PriceReview:
    """Reads and writes what awaits a person within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def strays(self, supplier: str = "", most: int = 50) -> tuple[tuple[KeptStray, ...], int]:
        """Return the first rows that nobody has decided, and how many there are."""
        decided = exists().where(
            _NUMBERS.c.supplier == _LISTS.c.supplier, _NUMBERS.c.their_normal == _STRAYS.c.normal
        )
        query = (
            select(
                _LISTS.c.supplier,
                _LISTS.c.origin,
                *(_STRAYS.c[name] for name in ("place", "number", "says", "why")),
            )
            .join(_LISTS, _LISTS.c.id == _STRAYS.c.list_id)
            .where(_LISTS.c.ended_at.is_(None), ~decided)
        )
        if supplier:
            query = query.where(_LISTS.c.supplier == supplier)
        ordered = query.order_by(_STRAYS.c.list_id, _STRAYS.c.line).limit(most)
        rows = self._connection.execute(ordered)
        return tuple(KeptStray(*row) for row in rows), self._count(query)

    def proposals(
        self, supplier: str = "", state: ProposalState = ProposalState.OPEN, most: int = 50
    ) -> tuple[tuple[Proposal, ...], int]:
        """Return the first proposed links of a state, and how many there are."""
        query = select(_PROPOSALS).where(_PROPOSALS.c.state == state)
        if supplier:
            query = query.where(_PROPOSALS.c.supplier == supplier)
        rows = self._connection.execute(query.order_by(_PROPOSALS.c.id).limit(most)).all()
        return tuple(self._proposal(row) for row in rows), self._count(query)

    def accept(self, key: int, who: str, part: PartNumber | None = None) -> Proposal:
        """Make a proposed link a link; `part` says which part the new number is.

        Raises:
            NotFound: no such proposal, or no such part.
            BadInput: it was decided before, its number is unknown, or it would close a loop.
        """
        old, new = self.ends(key, part)
        self._refuse_loop(old, new)
        self._decide(key, who, "", ProposalState.ACCEPTED, new)
        return self._by_key(key)

    def ends(self, key: int, part: PartNumber | None = None) -> tuple[PartNumber, PartNumber]:
        """Return the old number and the new one that an open proposal would link.

        Raises:
            NotFound: no such proposal, or no such part.
            BadInput: it was decided before, or its number is unknown.
        """
        proposal = self._open(key)
        if part is not None:
            self._need_part(part)
        new = part or proposal.new or _only(self._of_number(proposal.new_said))
        if new is None:
            raise BadInput(_unnamed(proposal))
        return proposal.old, new

    def refuse(self, key: int, who: str, why: str) -> Proposal:
        """Put a proposed link aside for good, or take back one that was accepted.

        Raises:
            NotFound: no such proposal.
            BadInput: it was refused before.
        """
        if self._by_key(key).state is not ProposalState.ACCEPTED:
            self._open(key)
        self._decide(key, who, why, ProposalState.REFUSED, None)
        return self._by_key(key)

    def decide_number(
        self, supplier: str, number: str, part: PartNumber | None, who: str, why: str = ""
    ) -> None:
        """Keep a person's word on a supplier's number: which part it is, or None: none of ours.

        Raises:
            NotFound: no such supplier or part.
            BadInput: the number has no letter or figure.
        """
        known = self._connection.execute(select(_SUPPLIERS.c.key)).scalars().all()
        if supplier not in known:
            raise NotFound("supplier", supplier, sorted(known))
        normal = normal_number(number)
        if not normal:
            raise BadInput(Problem(number, "a number without letter or figure", "look at it"))
        if part is not None:
            self._need_part(part)
        same = and_(_NUMBERS.c.supplier == supplier, _NUMBERS.c.their_normal == normal)
        values = {
            "their_number": number,
            "part_maker": part.maker if part else None,
            "part_number": part.number if part else None,
            "who": who,
            "why": why,
            "decided_at": datetime.now(UTC),
        }
        if self._connection.execute(update(_NUMBERS).where(same).values(**values)).rowcount == 0:
            self._connection.execute(
                insert(_NUMBERS).values(supplier=supplier, their_normal=normal, **values)
            )

    def part(self, text: str) -> PartNumber:
        """Return the part that a text names: maker:number, or a number that only one maker has.

        Raises:
            NotFound: there is none, or several.
        """
        maker, colon, number = text.partition(":")
        every = self._of_number(number if colon else text)
        named = tuple(part for part in every if part.maker == maker.strip()) if colon else every
        exact = tuple(part for part in named if part.number == number.strip())
        found = exact or named
        if len(found) == 1:
            return found[0]
        raise NotFound("part", text, map(str, every[:4]))

    def _of_number(self, number: str) -> tuple[PartNumber, ...]:
        query = select(_PARTS).where(_PARTS.c.normal == normal_number(number)).limit(_AT_ONCE)
        rows = self._connection.execute(query)
        return tuple(sorted(PartNumber(row.part_maker, row.part_number) for row in rows))

    def _refuse_loop(self, old: PartNumber, new: PartNumber) -> None:
        """Refuse a link whose new number is, in some steps, superseded by its old one."""
        chains: dict[PartNumber, tuple[PartNumber, ...]] = {new: (old, new)}
        waiting = [new]
        while waiting:
            here = waiting.pop()
            if here == old:
                chain = " → ".join(map(str, chains[here]))
                raise BadInput(
                    Problem(str(old), f"this would close a loop: {chain}", "refuse one of the two")
                )
            for after in self._superseding(here):
                if after not in chains:
                    chains[after] = (*chains[here], after)
                    waiting.append(after)

    def _superseding(self, part: PartNumber) -> tuple[PartNumber, ...]:
        """The numbers that supersede a part, by a latest edition or an accepted link."""
        found = set()
        of_latest = exists().where(_EDITIONS.c.id == _LINKS.c.edition_id, IS_LATEST)
        for table, holds in (
            (_LINKS, and_(_LINKS.c.kind == LinkKind.SUPERSEDED, of_latest)),
            (_PROPOSALS, _PROPOSALS.c.state == ProposalState.ACCEPTED),
        ):
            query = select(table.c.new_maker, table.c.new_number).where(
                table.c.old_maker == part.maker, table.c.old_number == part.number, holds
            )
            found |= {PartNumber(*row) for row in self._connection.execute(query)}
        return tuple(sorted(found))

    def _proposal(self, row: Any) -> Proposal:
        old = PartNumber(row.old_maker, row.old_number)
        new = PartNumber(row.new_maker, row.new_number) if row.new_number else None
        beside = tuple(part for part in self._superseding(old) if part != new)
        return Proposal(
            row.id, row.supplier, row.origin, row.place, old, row.new_said, new, row.state,
            row.who or "", row.why, beside,
        )  # fmt: skip

    def _by_key(self, key: int) -> Proposal:
        row = self._connection.execute(select(_PROPOSALS).where(_PROPOSALS.c.id == key)).first()
        if row is None:
            raise NotFound("proposal", str(key))
        return self._proposal(row)

    def _open(self, key: int) -> Proposal:
        proposal = self._by_key(key)
        if proposal.state is not ProposalState.OPEN:
            raise BadInput(
                Problem(f"proposal {key}", f"it was {proposal.state} by {proposal.who}", "")
            )
        return proposal

    def _decide(
        self, key: int, who: str, why: str, state: ProposalState, new: PartNumber | None
    ) -> None:
        values: dict[str, Any] = {
            "state": state,
            "who": who,
            "why": why,
            "decided_at": datetime.now(UTC),
        }
        if new is not None:
            values |= {"new_maker": new.maker, "new_number": new.number}
        self._connection.execute(update(_PROPOSALS).where(_PROPOSALS.c.id == key).values(**values))

    def _need_part(self, part: PartNumber) -> None:
        same = and_(_PARTS.c.part_maker == part.maker, _PARTS.c.part_number == part.number)
        if self._connection.execute(select(_PARTS).where(same)).first() is None:
            near = select(_PARTS).where(_PARTS.c.normal == part.normal).limit(3)
            rows = self._connection.execute(near)
            raise NotFound(
                "part", str(part), [f"{row.part_maker}:{row.part_number}" for row in rows]
            )

    def _count(self, query: Select[Any]) -> int:
        return self._connection.execute(
            select(func.count()).select_from(query.subquery())
        ).scalar_one()


def _only(parts: tuple[PartNumber, ...]) -> PartNumber | None:
    return parts[0] if len(parts) == 1 else None


def _unnamed(proposal: Proposal) -> Problem:
    """That nobody can say which part a proposal means."""
    where = f"proposal {proposal.id}"
    if several_in(proposal.new_said):
        return Problem(
            where,
            f"'{proposal.new_said}' is more than one number, and a list's link is one for one",
            "say which with --as maker:number, or refuse it and put the link into the catalogue",
        )
    return Problem(
        where,
        f"nobody knows the number {proposal.new_said}",
        "say which part it is with --as maker:number",
    )


def link_of(row: Any) -> Link:
    """Return an accepted proposal as the link that it is."""
    return Link(
        record=f"list-{row.id}",
        kind=LinkKind.SUPERSEDED,
        old=PartNumber(row.old_maker, row.old_number),
        old_quantity=1,
        new=PartNumber(row.new_maker, row.new_number),
        new_quantity=1,
        since=row.decided_at.date(),
        source=(
            f"price list {row.origin} of {row.supplier}, {row.place}; "
            f"accepted by {row.who} on {row.decided_at:%d %b %Y}"
        ),
    )
