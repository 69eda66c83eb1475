"""Supersession and interchange about a part, or about many at once, from all that is loaded.

Links come from the latest edition of every family and from price lists, where a person accepted
them. One statement walks from the parts over both ends of every link; what it reaches goes to the
pure resolver. Where it reaches links of lists, another reads these.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from typing import TYPE_CHECKING, Any

from sqlalchemy import (
    CTE,
    ColumnElement,
    CompoundSelect,
    Connection,
    Select,
    Table,
    bindparam,
    cast,
    exists,
    func,
    lateral,
    null,
    or_,
    select,
    true,
    union_all,
)
from sqlalchemy.dialects.postgresql import JSONB

from kitting.catalog.model import Link, PartNumber
from kitting.catalog.outside import Outside, merged, once
from kitting.catalog.ways import Subgraph
from kitting.store import catalogue_maps as maps
from kitting.store.parts import table_of
from kitting.store.price_review import link_of
from kitting.store.search import Search
from kitting.store.search_rows import IS_LATEST, by_maker, in_batches
from kitting.store.tables.catalogue import EditionRow
from kitting.store.tables.prices import LinkProposalRow, ProposalState

if TYPE_CHECKING:
    from kitting.catalog.circles_across import CircleAcross
    from kitting.catalog.family import Family

_LINKS, _NEEDS = maps.LINKS.table, maps.LINK_NEEDS.table
_EDITIONS = table_of(EditionRow)
_PROPOSALS = table_of(LinkProposalRow)
_RECORD = [column.name for column in maps.LINKS.columns].index("record")
_ASKING = (
    select(_LINKS.c.old_maker, _LINKS.c.old_number)
    .join(_NEEDS, (_NEEDS.c.edition_id == _LINKS.c.edition_id) & (_NEEDS.c.line == _LINKS.c.line))
    .where(
        _NEEDS.c.part_maker == bindparam("maker"),
        _NEEDS.c.part_number.in_(bindparam("numbers", expanding=True)),
    )
)
# So many are named in one statement.
_AT_ONCE = 500
_ACCEPTED = _PROPOSALS.c.state == ProposalState.ACCEPTED


class Links:
    """Reads links within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def subgraph(self, part: PartNumber, family: str = "") -> Subgraph:
        """Return every link that can be reached from a part, by either end; see `subgraphs`."""
        return self.subgraphs([part], family)[part]

    def subgraphs(
        self, parts: Iterable[PartNumber], family: str = ""
    ) -> Mapping[PartNumber, Subgraph]:
        """Return what is linked with each of some parts, all read at once.

        Args:
            parts: any numbers.
            family: whose engines are meant: of other families only links that ask for no engine
                and no grade are given. Without it, all are.
        """
        asked = list(dict.fromkeys(parts))
        own, others = self.about(asked, family)
        links = merged(own, others) if family else once(others)
        groups = _joined(links)
        return {part: Subgraph(groups.get(part, ())) for part in asked}

    def joined(self, parts: Collection[PartNumber]) -> frozenset[PartNumber]:
        """Some parts with every number that links join to them, or that must come with them."""
        asked = {*parts, *self._asking_for(parts)}
        graphs = self.subgraphs(asked)
        links = {link for graph in graphs.values() for link in graph.links}
        return frozenset(
            asked | {number for link in links for number in (link.old, link.new, *link.needs)}
        )

    def _asking_for(self, parts: Iterable[PartNumber]) -> set[PartNumber]:
        """The old numbers of links that ask for one of the parts as a companion."""
        found: set[PartNumber] = set()
        for maker, some in by_maker(parts):
            rows = self._connection.execute(_ASKING, {"maker": maker, "numbers": some})
            found |= {PartNumber(*row) for row in rows}
        return found

    def closed_circles(self, families: Collection[str]) -> tuple[CircleAcross, ...]:
        """Return the circles that some families close with what is kept of others, each once."""
        from kitting.store.link_circles import closed_circles

        return closed_circles(self._connection, families)

    def outside(self, family: Family) -> Outside:
        """Return what others say of a family's numbers, for `kitting.catalog.outside.widened`."""
        known = {part.number for part in family.parts}
        known |= {number for link in family.links for number in (link.old, link.new)}
        spoken_of = self._spoken_of(known, family.key)
        if not spoken_of:
            return Outside()
        _, others = self.about(spoken_of, family.key)
        ends = {number for link in others for number in (link.old, link.new, *link.needs)}
        beyond = ends - family.part_by_number.keys()
        return Outside(others, tuple(Search(self._connection).parts(beyond)))

    def _spoken_of(self, numbers: Iterable[PartNumber], family: str) -> tuple[PartNumber, ...]:
        """Those of a family's numbers that links of others start or end at."""
        rows = self._connection.execute(
            _SPOKEN_OF[self._connection.dialect.name], {**_given(numbers), "family": family}
        )
        return tuple(PartNumber(*row) for row in rows)

    def about(
        self, parts: Iterable[PartNumber], family: str
    ) -> tuple[tuple[Link, ...], tuple[Link, ...]]:
        """The family's own links about some parts, and those of others, whose they are named."""
        query = _STATEMENTS[self._connection.dialect.name]
        rows = self._connection.execute(query, _given(parts)).all()
        own: list[Link] = []
        others: list[Link] = []
        for is_own, link in _read(rows, family):
            (own if is_own else others).append(link)
        for ids in in_batches(sorted(row[1] for row in rows if row[0] is None), _AT_ONCE):
            others += map(link_of, self._connection.execute(_LISTED, {"ids": ids}))
        return tuple(own), tuple(others)


def _read(rows: Iterable[Any], own: str) -> Iterable[tuple[bool, Link]]:
    """Links from rows that hold a companion each: family, line, link, rank, companion.

    The record of another family's link is given with that family, so that no two are mixed up.
    """
    plain: dict[tuple[str, int], Any] = {}
    needs: dict[tuple[str, int], dict[int, PartNumber]] = {}
    for row in rows:
        if row[0] is None:
            continue
        key = (row[0], row[1])
        plain[key] = row
        if row[-3] is not None:
            needs.setdefault(key, {})[row[-3]] = PartNumber(*row[-2:])
    for key in sorted(plain):
        link, ranked = list(plain[key][2:-3]), needs.get(key)
        if key[0] != own:
            link[_RECORD] = f"{key[0]}: {link[_RECORD]}"
        companions = tuple(ranked[at] for at in sorted(ranked)) if ranked else ()
        yield key[0] == own, maps.LINKS.read(tuple(link), needs=companions)


def _joined(links: tuple[Link, ...]) -> Mapping[PartNumber, tuple[Link, ...]]:
    """For each number all the links that hang together with it, in their order."""
    beside: dict[PartNumber, list[int]] = defaultdict(list)
    for at, link in enumerate(links):
        beside[link.old].append(at)
        beside[link.new].append(at)
    groups: dict[PartNumber, tuple[Link, ...]] = {}
    for first, near in beside.items():
        if first in groups:
            continue
        numbers, known, found = [first], {first}, set(near)
        for number in numbers:
            for at in beside[number]:
                found.add(at)
                for end in (links[at].old, links[at].new):
                    if end not in known:
                        known.add(end)
                        numbers.append(end)
        group = tuple(links[at] for at in sorted(found))
        groups |= dict.fromkeys(numbers, group)
    return groups


def _given(parts: Iterable[PartNumber]) -> dict[str, str]:
    return {"parts": json.dumps([[part.maker, part.number] for part in parts])}


def _seeds(dialect: str) -> Select[Any]:
    """The parts asked for, from a JSON array of pairs."""
    if dialect == "sqlite":
        rows = func.json_each(bindparam("parts")).table_valued("value", name="asked")
        pair = (func.json_extract(rows.c.value, f"$[{at}]") for at in (0, 1))
        return select(*(end.label(name) for end, name in zip(pair, _REACHED, strict=True)))
    array = func.jsonb_array_elements(cast(bindparam("parts"), JSONB))
    rows = array.table_valued("value", name="asked")
    value = cast(rows.c.value, JSONB)
    return select(*(value[at].astext.label(name) for at, name in enumerate(_REACHED)))


_REACHED = ("maker", "number")


def _step(reached: CTE, table: Table, near: str, far: str, *where: ColumnElement[bool]) -> Any:
    """From the numbers reached to those at the other end of their links."""
    return select(
        table.c[f"{far}_maker"].label("maker"), table.c[f"{far}_number"].label("number")
    ).where(
        table.c[f"{near}_maker"] == reached.c.maker,
        table.c[f"{near}_number"] == reached.c.number,
        *where,
    )


def _reached(dialect: str) -> CTE:
    """Every number that links lead to, by either end. A loop ends it: UNION keeps a number once."""
    reached = _seeds(dialect).cte("reached", recursive=True)
    steps = [
        _step(reached, table, near, far, *where)
        for table, where in ((_LINKS, ()), (_PROPOSALS, (_ACCEPTED,)))
        for near, far in (("old", "new"), ("new", "old"))
    ]
    if dialect == "sqlite":
        # SQLite takes several steps; PostgreSQL one only, which may look sideways.
        return reached.union(*steps)
    beside = lateral(union_all(*steps), name="beside")
    return reached.union(
        select(beside.c.maker, beside.c.number).select_from(reached).join(beside, true())
    )


def _statement(dialect: str) -> CompoundSelect[Any]:
    """The links of editions, and of those of lists no more than which they are."""
    reached = _reached(dialect)

    def about(table: Table) -> ColumnElement[bool]:
        return (table.c.old_maker == reached.c.maker) & (table.c.old_number == reached.c.number)

    of_editions = (
        select(
            _EDITIONS.c.family,
            _LINKS.c.line,
            *maps.LINKS.columns,
            _NEEDS.c.rank,
            *maps.LINK_NEEDS.columns,
        )
        .select_from(reached)
        .join(_LINKS, about(_LINKS))
        .join(_EDITIONS, _EDITIONS.c.id == _LINKS.c.edition_id)
        .outerjoin(
            _NEEDS, (_NEEDS.c.edition_id == _LINKS.c.edition_id) & (_NEEDS.c.line == _LINKS.c.line)
        )
        .where(IS_LATEST)
    )
    nothing = [null()] * (len(maps.LINKS.columns) + 1 + len(maps.LINK_NEEDS.columns))
    of_lists = (
        select(null(), _PROPOSALS.c.id, *nothing)
        .select_from(reached)
        .join(_PROPOSALS, about(_PROPOSALS))
        .where(_ACCEPTED)
    )
    return union_all(of_editions, of_lists)


def _spoken_of(dialect: str) -> Select[Any]:
    """The numbers asked for that have a link of another family, or of a list, at either end."""
    asked = _seeds(dialect).subquery("known")
    mine = select(_EDITIONS.c.id).where(_EDITIONS.c.family == bindparam("family"))
    others = ((_LINKS, _LINKS.c.edition_id.not_in(mine)), (_PROPOSALS, _ACCEPTED))
    spoken = (
        exists().where(
            table.c[f"{end}_maker"] == asked.c.maker,
            table.c[f"{end}_number"] == asked.c.number,
            of_others,
        )
        for table, of_others in others
        for end in ("old", "new")
    )
    return select(asked).where(or_(*spoken))


_SPOKEN_OF = {name: _spoken_of(name) for name in ("sqlite", "postgresql")}
_STATEMENTS = {name: _statement(name) for name in ("sqlite", "postgresql")}
_LISTED = (
    select(_PROPOSALS)
    .where(_PROPOSALS.c.id.in_(bindparam("ids", expanding=True)))
    .order_by(_PROPOSALS.c.id)
)
