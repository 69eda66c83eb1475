"""What others say of a family's numbers: links of other families, and of price lists, accepted.

A link that asks for an engine or a size grade speaks of its own family's engines and grades, and
holds nowhere else. What the family itself says of a number comes before what others say of it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.catalog.model import LinkKind, Part

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kitting.catalog.family import Family
    from kitting.catalog.model import Link, PartNumber


@dataclass(frozen=True, slots=True)
class Outside:
    """Links that others give, and the parts beyond the family that they lead to."""

    links: tuple[Link, ...] = ()
    parts: tuple[Part, ...] = ()


def is_general(link: Link) -> bool:
    """Whether a link holds whatever the engine and the size grade."""
    return not (link.variants or link.with_grade) and link.first is None and link.last is None


def merged(own: Iterable[Link], others: Iterable[Link]) -> tuple[Link, ...]:
    """All links once: of others those that are general and that the family has no word on.

    A supersession by others of a number that the family says is superseded is left out; so is any
    link that says what an earlier one says.
    """
    ours = tuple(own)
    decided = {link.old for link in ours if link.kind is LinkKind.SUPERSEDED}
    general = [
        link
        for link in others
        if is_general(link) and not (link.kind is LinkKind.SUPERSEDED and link.old in decided)
    ]
    if not general:
        return ours
    said = {_what(link) for link in ours}
    return (*ours, *(link for link in once(general) if _what(link) not in said))


def once(links: Iterable[Link]) -> tuple[Link, ...]:
    """The links without those that say what an earlier one says of the same engines."""
    first: dict[object, Link] = {}
    for link in links:
        first.setdefault(_what(link), link)
    return tuple(first.values())


def widened(family: Family, outside: Outside) -> Family:
    """The family with what others say of its numbers, as the stages of a job take it.

    A number that no family describes is taken to be what the number is that it stands for; a
    companion that none describes goes by its number.
    """
    links = merged(family.links, outside.links)
    if len(links) == len(family.links):
        return family
    known = {part.number: part for part in (*outside.parts, *family.parts)}
    _describe(known, links)
    named = {number for link in links for number in (link.old, link.new, *link.needs)}
    beyond = (named & known.keys()) - family.part_by_number.keys()
    return replace(
        family, links=links, parts=(*family.parts, *(known[number] for number in sorted(beyond)))
    )


def _describe(known: dict[PartNumber, Part], links: tuple[Link, ...]) -> None:
    """Add what the links lead to from what is known, step by step."""
    waiting = list(links)
    while told := [link for link in waiting if link.old in known or link.new in known]:
        for link in told:
            alike = known.get(link.old) or known[link.new]
            for number in (link.old, link.new):
                known.setdefault(number, replace(alike, number=number, attributes={}, note=""))
            for number in link.needs:
                known.setdefault(number, Part(number, f"part {number.number}", "part", {}))
        waiting = [link for link in waiting if link not in told]


def _what(link: Link) -> object:
    """What a link says and of which engines, whoever says it and since whenever."""
    quantities = (link.old_quantity, link.new_quantity)
    engines = (link.variants, link.first, link.last, link.with_grade)
    return link.kind, link.old, link.new, quantities, engines
