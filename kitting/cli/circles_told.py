"""A circle that families being loaded close with links that others gave, told once at a row."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.errors import Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from kitting.catalog.circles_across import CircleAcross
    from kitting.catalog.family import Family
    from kitting.catalog.model import Link
    from kitting.catalog.rows import Sources
    from kitting.store import UnitOfWork

_LIST = "list-"


def circles_told(
    work: UnitOfWork, fresh: Mapping[str, tuple[Family, Sources]]
) -> Iterator[tuple[str, Problem]]:
    """Each circle of supersessions that families close, once they are loaded: of which, and what.

    Told at the first family's row in it, with its chain, and whose the links are.
    """
    for circle in work.links.closed_circles(fresh):
        step = next(step for step in circle.steps if step.family in fresh)
        family, sources = fresh[step.family]
        row = next(at for at, link in enumerate(family.links) if _alike(link, step.link))
        place = sources.get(("links", str(row)), f"links {step.link.record}")
        yield (
            family.key,
            Problem(
                f"{place}, column new",
                f"supersessions in a circle with what is kept already: {circle.chain}",
                "; ".join((circle.whose, *_taken_back(circle), "one of them must go")),
            ),
        )


def _alike(one: Link, other: Link) -> bool:
    return (one.record, one.old, one.new) == (other.record, other.old, other.new)


def _taken_back(circle: CircleAcross) -> Iterator[str]:
    """How the links of lists in a circle are taken back."""
    for step in circle.steps:
        if not step.family:
            number = step.link.record.removeprefix(_LIST)
            yield (
                f"the list's word is taken back with: "
                f"kitting prices review --refuse {number} --who NAME"
            )
