"""A circle that a family being loaded closes with links that others gave, told at its row."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.errors import Problem

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.catalog.family import Family
    from kitting.catalog.model import Link
    from kitting.catalog.rows import Sources
    from kitting.store import UnitOfWork

_LIST = "list-"


def circles_told(work: UnitOfWork, family: Family, sources: Sources) -> Iterator[Problem]:
    """Each circle of supersessions that a family closes, once it is loaded.

    Told at the family's row in it, with its chain, and whose the other links are.
    """
    for circle in work.links.closed_circles(family.key):
        yield Problem(
            _place(family, sources, circle.record),
            "supersessions in a circle with what is kept already: "
            + " → ".join(map(str, circle.numbers)),
            "; ".join((*map(_whose, circle.others), "one of them must go")),
        )


def _place(family: Family, sources: Sources, record: str) -> str:
    at = next(at for at, link in enumerate(family.links) if link.record == record)
    where = sources.get(("links", str(at)), f"links {record}")
    return f"{where}, column new"


def _whose(link: Link) -> str:
    """Whose word a link is, and how it is taken back."""
    says = f"{link.old} is superseded by {link.new} by "
    if not link.record.startswith(_LIST):
        return f"{says}the family and record {link.record}"
    number = link.record.removeprefix(_LIST)
    return (
        f"{says}the {link.source}; take that back with: "
        f"kitting prices review --refuse {number} --who NAME"
    )
