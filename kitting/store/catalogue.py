"""Families of engines in the database: loaded whole or not at all, an edition at a time."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from types import MappingProxyType
from typing import Any

from sqlalchemy import ColumnElement, Connection, and_, delete, false, insert, or_, select, update

from kitting.catalog.family import Family
from kitting.catalog.model import Link, Part, PartNumber
from kitting.catalog.size_tables import Grade, SizeTable
from kitting.errors import BadInput, NotFound, Problem
from kitting.measure import UNITS
from kitting.store import catalogue_maps as maps
from kitting.store import search_rows
from kitting.store.catalogue_maps import LinkNeed, PartAttribute
from kitting.store.faults import whole_or_not
from kitting.store.fingerprint import fingerprint
from kitting.store.parts import insert_missing, keep_parts, table_of
from kitting.store.rows import RowMap, plain_rows
from kitting.store.search_rows import by_maker
from kitting.store.tables.catalogue import EditionRow, FamilyRow
from kitting.store.tables.jobs import JobRow

_EDITIONS = table_of(EditionRow)
_FAMILIES = table_of(FamilyRow)
_JOBS = table_of(JobRow)
# As `search_rows.is_latest` has it.
_LAST_FIRST = (_EDITIONS.c.loaded_at.desc(), _EDITIONS.c.id.desc())
_A_TICK = timedelta(microseconds=1)

# In the order in which rows may refer to earlier ones; the name is the family's field.
_WHOLE: tuple[tuple[str, RowMap[Any]], ...] = (
    ("variants", maps.VARIANTS),
    ("assemblies", maps.ASSEMBLIES),
    ("observations", maps.OBSERVATIONS),
    ("size_tables", maps.SIZE_TABLES),
    ("positions", maps.POSITIONS),
    ("features", maps.FEATURES),
    ("judgements", maps.JUDGEMENTS),
    ("consequences", maps.CONSEQUENCES),
    ("parts", maps.PARTS),
    ("fits", maps.FITS),
    ("links", maps.LINKS),
    ("set_items", maps.SET_ITEMS),
    ("labour", maps.LABOUR),
)
_WITH_MORE = {"size_tables", "parts", "links"}


@dataclass(frozen=True, slots=True)
class Loaded:
    """What a loading did: nothing (`changed` is false) when that content was there already.

    `in_force` is the family's edition in force now: the one whose name came last, whatever was
    loaded again since, unless an earlier one was put back.
    """

    changed: bool
    edition: str
    in_force: str


@dataclass(frozen=True, slots=True)
class KeptEdition:
    """One edition of a family that the database holds; `latest` says that it is in force."""

    family: str
    edition: str
    name: str
    years: str
    loaded_at: datetime
    latest: bool


# Of more parts than this a family is read whole at once.
_MANY = 5000
# By which of its numbers a row of a table names a part.
_NAMES: dict[str, tuple[str, ...]] = {
    maps.PARTS.table.name: ("part",),
    maps.FITS.table.name: ("part",),
    maps.LINKS.table.name: ("old", "new"),
    maps.SET_ITEMS.table.name: ("set", "part"),
}


@dataclass(frozen=True, slots=True)
class _Naming:
    """Which rows of an edition are read: all, or of what stands of parts those about some parts."""

    edition_id: int
    about: Collection[PartNumber] | None

    def __call__(self, rows: RowMap[Any]) -> ColumnElement[bool]:
        table = rows.table
        mine: ColumnElement[bool] = table.c.edition_id == self.edition_id
        if self.about is None or table.name not in _NAMES:
            return mine
        named = (
            and_(table.c[f"{end}_maker"] == maker, table.c[f"{end}_number"].in_(numbers))
            for end in _NAMES[table.name]
            for maker, numbers in by_maker(self.about)
        )
        return and_(mine, or_(false(), *named))

    def beside(self, rows: RowMap[Any], parents: RowMap[Any]) -> ColumnElement[bool]:
        """Which rows of a table that stands beside another's, by the line of the parent."""
        mine: ColumnElement[bool] = rows.table.c.edition_id == self.edition_id
        if self.about is None:
            return mine
        return and_(mine, rows.table.c.line.in_(select(parents.table.c.line).where(self(parents))))


class Catalogue:
    """Reads and writes families within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def load_family(self, family: Family) -> Loaded:
        """Store a checked family; the same content again changes nothing.

        An edition whose content changed is replaced as long as no job refers to it; an earlier one
        stays an earlier one.

        Raises:
            BadInput: jobs refer to that edition and its content is another now, a figure cannot be
                kept exactly, or a row refers to nothing.
        """
        with whole_or_not(self._connection, f"family {family.key}"):
            return self._load(family)

    def put_back(self, key: str, edition: str) -> Loaded:
        """Put an edition in force that a later one had taken the place of.

        Raises:
            NotFound: no such family, or no such edition of it.
        """
        self._hold(key)
        found, in_force = (
            edition_of(self._connection, key, edition),
            edition_of(self._connection, key),
        )
        if found.id == in_force.id:
            return Loaded(False, edition, edition)
        before = search_rows.numbers_of(self._connection, key)
        words = search_rows.words_of(self._connection, before)
        self._connection.execute(
            update(_EDITIONS).where(_EDITIONS.c.id == found.id).values(loaded_at=_after(in_force))
        )
        after = search_rows.numbers_of(self._connection, key)
        search_rows.refresh(self._connection, before | after, words)
        return Loaded(True, edition, edition)

    def family(
        self, key: str, edition: str | None = None, about: Collection[PartNumber] | None = None
    ) -> Family:
        """Return a family whole: the edition asked for, else the one in force.

        Args:
            key: whose.
            edition: which; without it the one in force.
            about: of all that stands of parts only what names one of these, for a question about a
                few parts of a family that may have very many.

        Raises:
            NotFound: no such family, or no such edition of it.
        """
        found = edition_of(self._connection, key, edition)
        with plain_rows():
            return self._read(key, found, about)

    def _read(self, key: str, found: Any, about: Collection[PartNumber] | None) -> Family:
        naming = _Naming(found.id, about if about is None or len(about) < _MANY else None)
        whole: dict[str, Any] = {
            name: table.all(self._connection, naming(table))
            for name, table in _WHOLE
            if name not in _WITH_MORE
        }
        return Family(
            key=key,
            name=found.name,
            maker=found.maker,
            years=found.years,
            edition=found.edition,
            unit=UNITS[found.unit],
            summary=found.summary,
            size_tables=self._size_tables(found.id),
            parts=self._parts(naming),
            links=self._links(naming),
            **whole,
        )

    def fitting(self, key: str, position: str) -> frozenset[PartNumber]:
        """The numbers that fit a position of a family's edition in force."""
        fits = maps.FITS.table.c
        rows = self._connection.execute(
            select(fits.part_maker, fits.part_number).where(
                fits.edition_id == edition_of(self._connection, key).id,
                fits.position == position,
            )
        )
        return frozenset(PartNumber(*row) for row in rows)

    def families(self) -> tuple[KeptEdition, ...]:
        """Return every edition of every family, the one in force of each first."""
        rows = self._connection.execute(
            select(_EDITIONS).order_by(_EDITIONS.c.family, *_LAST_FIRST)
        )
        kept: list[KeptEdition] = []
        for row in rows:
            latest = not kept or kept[-1].family != row.family
            kept.append(
                KeptEdition(row.family, row.edition, row.name, row.years, row.loaded_at, latest)
            )
        return tuple(kept)

    def _load(self, family: Family) -> Loaded:
        content = fingerprint(family)
        insert_missing(self._connection, _FAMILIES, [{"key": family.key}])
        self._hold(family.key)
        every = _editions_of(self._connection, family.key)
        in_force = every[0] if every else None
        kept = next((row for row in every if row.edition == family.edition), None)
        if kept is not None and in_force is not None and kept.content_hash == content:
            return Loaded(False, family.edition, in_force.edition)
        before = search_rows.numbers_of(self._connection, family.key)
        words = search_rows.words_of(self._connection, before)
        moment = _after(in_force)
        if kept is not None:
            self._replace(family, kept.id)
            moment = moment if kept is in_force else kept.loaded_at
        self._insert(family, content, moment)
        after = search_rows.numbers_of(self._connection, family.key)
        search_rows.refresh(self._connection, before | after, words)
        return Loaded(True, family.edition, edition_of(self._connection, family.key).edition)

    def _hold(self, key: str) -> None:
        """Hold a family until the end of the unit of work: two benches load one after the other."""
        self._connection.execute(
            select(_FAMILIES.c.key).where(_FAMILIES.c.key == key).with_for_update()
        )

    def _replace(self, family: Family, edition_id: int) -> None:
        jobs = self._connection.execute(
            select(_JOBS.c.number).where(_JOBS.c.edition_id == edition_id).order_by(_JOBS.c.number)
        ).scalars()
        named = ", ".join(jobs)
        if named:
            raise BadInput(
                Problem(
                    f"family {family.key}, edition {family.edition}",
                    f"its content has changed while jobs refer to it: {named}",
                    "give the changed files a new edition name in family.csv",
                )
            )
        self._connection.execute(delete(_EDITIONS).where(_EDITIONS.c.id == edition_id))

    def _insert(self, family: Family, content: str, moment: datetime) -> None:
        keep_parts(self._connection, _numbers(family))
        edition_id = self._connection.execute(
            insert(_EDITIONS)
            .values(
                family=family.key,
                edition=family.edition,
                content_hash=content,
                loaded_at=moment,
                name=family.name,
                maker=family.maker,
                years=family.years,
                unit=family.unit.symbol,
                summary=family.summary,
            )
            .returning(_EDITIONS.c.id)
        ).scalar_one()
        for name, table in _WHOLE:
            table.insert(self._connection, getattr(family, name), edition_id=edition_id)
        grades = [grade for table in family.size_tables for grade in table.grades]
        maps.GRADES.insert(self._connection, grades, edition_id=edition_id)
        maps.PART_ATTRIBUTES.insert_under(
            self._connection,
            [[PartAttribute(*pair) for pair in part.attributes.items()] for part in family.parts],
            edition_id=edition_id,
        )
        maps.LINK_NEEDS.insert_under(
            self._connection,
            [[LinkNeed(part) for part in link.needs] for link in family.links],
            edition_id=edition_id,
        )

    def _size_tables(self, edition_id: int) -> tuple[SizeTable, ...]:
        grades: dict[str, list[Grade]] = defaultdict(list)
        for grade in maps.GRADES.all(
            self._connection, maps.GRADES.table.c.edition_id == edition_id
        ):
            grades[grade.table].append(grade)
        tables = maps.SIZE_TABLES
        where = tables.table.c.edition_id == edition_id
        plain = tables.all(self._connection, where, grades=())
        return tuple(replace(table, grades=tuple(grades[table.key])) for table in plain)

    def _parts(self, naming: _Naming) -> tuple[Part, ...]:
        attributes = maps.PART_ATTRIBUTES.under(
            self._connection, naming.beside(maps.PART_ATTRIBUTES, maps.PARTS)
        )
        rows = maps.PARTS.select(self._connection, naming(maps.PARTS))
        return tuple(
            maps.PARTS.read(
                row[1:],
                attributes=MappingProxyType(
                    {each.attribute: each.value for each in attributes.get(row[0], ())}
                ),
            )
            for row in rows
        )

    def _links(self, naming: _Naming) -> tuple[Link, ...]:
        needs = maps.LINK_NEEDS.under(self._connection, naming.beside(maps.LINK_NEEDS, maps.LINKS))
        rows = maps.LINKS.select(self._connection, naming(maps.LINKS))
        return tuple(
            maps.LINKS.read(row[1:], needs=tuple(each.part for each in needs.get(row[0], ())))
            for row in rows
        )


def edition_of(connection: Connection, key: str, edition: str | None = None) -> Any:
    """Return the row of a family's edition: the one asked for, else the one in force.

    Raises:
        NotFound: no such family, or no such edition of it.
    """
    rows = _editions_of(connection, key)
    if not rows:
        known = connection.execute(
            select(_EDITIONS.c.family).distinct().order_by(_EDITIONS.c.family)
        )
        raise NotFound("engine family", key, known.scalars())
    for row in rows:
        if edition in {None, row.edition}:
            return row
    raise NotFound(f"edition of {key}", str(edition), (row.edition for row in rows))


def _editions_of(connection: Connection, key: str) -> Sequence[Any]:
    """The editions of a family, the one in force first."""
    query = select(_EDITIONS).where(_EDITIONS.c.family == key).order_by(*_LAST_FIRST)
    return connection.execute(query).all()


def _after(in_force: Any | None) -> datetime:
    """Now, or just after an edition came into force where the clock was put back since."""
    now = datetime.now(UTC)
    return now if in_force is None else max(now, in_force.loaded_at + _A_TICK)


def _numbers(family: Family) -> set[PartNumber]:
    """Every part number that the family names anywhere."""
    found = {part.number for part in family.parts} | {fit.part for fit in family.fits}
    for link in family.links:
        found.update((link.old, link.new, *link.needs))
    for item in family.set_items:
        found.update((item.set, item.part))
    return found
