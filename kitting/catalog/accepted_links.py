"""A family as the resolver is to see it: its own links, and those accepted from price lists."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from kitting.catalog.model import LinkKind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kitting.catalog.family import Family
    from kitting.catalog.model import Link


def with_accepted(family: Family, links: Iterable[Link]) -> Family:
    """Return the family with further links after its own.

    A link is taken when the family has both its parts, and says nothing of that succession itself:
    what a catalogue says with its conditions goes before what a price list says without any.
    """
    said = {(link.old, link.new) for link in family.links if link.kind is LinkKind.SUPERSEDED}
    parts = family.part_by_number
    more = tuple(
        link
        for link in links
        if link.old in parts and link.new in parts and (link.old, link.new) not in said
    )
    return replace(family, links=(*family.links, *more)) if more else family
