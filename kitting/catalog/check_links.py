"""That supersessions and interchanges name parts that are there, agree, and go in no circle."""

from itertools import combinations

from kitting.catalog.check_notes import Notes
from kitting.catalog.check_references import check_conditions, known_part
from kitting.catalog.circles import circles
from kitting.catalog.conditions import can_hold_together
from kitting.catalog.family import Family
from kitting.catalog.model import Link, LinkKind, PartNumber
from kitting.catalog.rings import one_way_rings


def check_links(family: Family, notes: Notes) -> None:
    """Note every link that cannot be right, alone or beside the others."""
    for at, link in enumerate(family.links):
        _check_one(family, link, notes, ("links", str(at)))
    _check_records(family, notes)
    _check_contradictions(family, notes)
    _check_circles(family, notes)
    for at, ring in one_way_rings(family.links):
        notes.warn(("links", str(at)), "kind", ring.wrong, ring.right)


def superseded(family: Family) -> dict[PartNumber, Link]:
    """The numbers answered by others whatever the engine, each with a link that says so."""
    return {
        link.old: link
        for link in family.links
        if link.kind is LinkKind.SUPERSEDED
        and not (link.variants or link.first or link.last or link.with_grade or link.until)
    }


def _check_one(family: Family, link: Link, notes: Notes, row: tuple[str, str]) -> None:
    known_part(family, notes, row, "old", link.old)
    known_part(family, notes, row, "new", link.new)
    for companion in link.needs:
        known_part(family, notes, row, "needs", companion)
    check_conditions(family, notes, row, link)
    if link.old == link.new:
        notes.fault(row, "new", f"{link.old} stands for itself", "name the other number")
    if link.since is not None and link.until is not None and link.since > link.until:
        notes.fault(
            row, "until", f"it ends on {link.until}, before it begins on {link.since}", "swap them"
        )
    if link.kind is LinkKind.WITH_WORK and not link.operation:
        notes.fault(row, "operation", "with work, and no work is named", "name the operation")
    if link.with_grade:
        grades = {grade.key for table in family.size_tables for grade in table.grades}
        notes.known(row, "with_grade", "grade", link.with_grade, grades)
    if link.use_up and link.kind is not LinkKind.SUPERSEDED:
        notes.warn(row, "use_up", f"{link.kind}: both numbers may be bought", "leave it empty")


def _check_records(family: Family, notes: Notes) -> None:
    """Rows of one record are one change: of one kind, and a split or a merge if there are more."""
    first: dict[str, tuple[int, Link]] = {}
    for at, link in enumerate(family.links):
        before_at, before = first.setdefault(link.record, (at, link))
        if before_at == at:
            continue
        row = ("links", str(at))
        other = notes.place("links", str(before_at))
        if before.kind is not link.kind:
            notes.fault(
                row, "kind", f"'{link.kind}' beside '{before.kind}' in {other}", "one kind a record"
            )
        elif before.old != link.old and before.new != link.new:
            notes.fault(
                row,
                "record",
                f"it shares the record {link.record} with {other}, yet neither number",
                "a split keeps the old number, a merge the new one; else begin another record",
            )


def _check_contradictions(family: Family, notes: Notes) -> None:
    """One number answered by two changes at once: nobody can say which."""
    by_old: dict[PartNumber, list[tuple[int, Link]]] = {}
    for at, link in enumerate(family.links):
        if link.kind is LinkKind.SUPERSEDED:
            by_old.setdefault(link.old, []).append((at, link))
    for links in by_old.values():
        for (at, one), (other_at, other) in combinations(links, 2):
            if one.record != other.record and can_hold_together((one, other)):
                notes.fault(
                    ("links", str(other_at)),
                    "old",
                    f"{other.old} is superseded by {other.new} here and by {one.new} in "
                    f"{notes.place('links', str(at))}",
                    "give each its variants, engine numbers or days, or one record for a split",
                )


def _check_circles(family: Family, notes: Notes) -> None:
    links = {
        str(at): link
        for at, link in enumerate(family.links)
        if link.kind is LinkKind.SUPERSEDED and link.old != link.new
    }
    edges: dict[tuple[PartNumber, PartNumber], frozenset[str]] = {}
    for at, link in links.items():
        step = (link.old, link.new)
        edges[step] = edges.get(step, frozenset()) | {at}

    def together(rows: tuple[str, ...]) -> bool:
        return can_hold_together(links[at] for at in rows)

    for numbers, rows in circles(edges, together):
        notes.fault(
            ("links", rows[-1]),
            "new",
            "supersessions in a circle: " + " → ".join(map(str, numbers)),
            "one of them is the current number: take the link that leads away from it out",
        )
