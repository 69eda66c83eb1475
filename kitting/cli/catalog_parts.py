"""Which part a person means by what was typed, and in which family; nothing is guessed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.errors import BadInput, NotFound, Problem

if TYPE_CHECKING:
    from kitting.catalog.family import Family
    from kitting.catalog.find import Finder
    from kitting.catalog.model import Part, Position
    from kitting.catalog.trade import Trade

_NEAR = 3


@dataclass(frozen=True, slots=True)
class Shelf:
    """The families looked through and whatever finds a part in them."""

    families: tuple[Family, ...]
    finder: Finder

    def part(self, typed: str) -> Part:
        """The part of that number, in any spelling, or by a supplier's number for it.

        Raises:
            BadInput: no such number, with those nearly so; or several parts have it.
        """
        from kitting.catalog.find import How

        found = self.finder.find(typed)
        exact = [each for each in found.matches if each.how is not How.WORDS]
        own = [each for each in exact if each.how is not How.SUPPLIER]
        parts = list(dict.fromkeys(each.part.number for each in own or exact))
        if len(parts) > 1:
            named = ", ".join(str(number) for number in parts)
            raise BadInput(
                Problem("", f"'{typed}' is the number of several parts", f"say which: {named}")
            )
        if parts:
            return (own or exact)[0].part
        near = dict.fromkeys(f"{n.part.number} ({n.difference})" for n in found.near[:_NEAR])
        raise NotFound("part", typed, near)

    def having(self, part: Part) -> tuple[Family, ...]:
        """The families that have a part."""
        return tuple(each for each in self.families if part.number in each.part_by_number)

    def one_family(self, part: Part, position: str) -> Family:
        """The family that a question about a part is for.

        Raises:
            BadInput: several have the part, and neither the family nor a position says which.
        """
        having = self.having(part)
        placed = [each for each in having if position in each.position_by_key] or list(having)
        if len(placed) > 1:
            keys = ", ".join(each.key for each in placed)
            raise BadInput(
                Problem("", f"{part.number} is in several families", f"say --family: {keys}")
            )
        return placed[0]


def shelf(key: str) -> Shelf:
    """The latest edition of one family, or of all that are loaded."""
    from kitting.catalog.candidates import FamilyCandidates
    from kitting.catalog.find import Finder
    from kitting.cli.opened import family_within
    from kitting.store import Database

    trade: Trade | None = None
    with Database().read() as work:
        keys = [key] if key else [kept.family for kept in work.catalogue.families() if kept.latest]
        families = tuple(family_within(work, each) for each in keys)
        if work.trade.is_loaded():
            trade = work.trade.trade({p.number for family in families for p in family.parts})
    if not families:
        raise BadInput(Problem("", "no engine family is loaded yet", "run: kitting catalog load"))
    return Shelf(families, Finder(FamilyCandidates(families, trade)))


def position_of(family: Family, key: str) -> Position:
    """A position by its key.

    Raises:
        NotFound: the family has none of that key; near ones are offered.
    """
    from kitting.catalog.nearest import nearest

    if key not in family.position_by_key:
        raise NotFound(f"position of {family.key}", key, nearest(key, family.position_by_key, 3))
    return family.position_by_key[key]


def engine_of(family: Family, number: str) -> tuple[str, int | None]:
    """The variant and the running number of an engine; nothing known where none is named.

    Raises:
        BadInput: the number is of no variant.
    """
    if not number:
        return "", None
    variant = family.variant_of_engine(number)
    if variant is None:
        known = "; ".join(
            f"{each.prefix}{each.first} to {each.prefix}{each.last}" for each in family.variants
        )
        raise BadInput(Problem("", f"engine {number} is no {family.name}", f"there are {known}"))
    return variant.key, family.running_number(number)


def grade_of(family: Family, key: str) -> str:
    """A size grade by its key; '' where none is named.

    Raises:
        NotFound: no size table has a grade of that key; near ones are offered.
    """
    from kitting.catalog.nearest import nearest

    grades = dict.fromkeys(grade.key for table in family.size_tables for grade in table.grades)
    if key and key not in grades:
        raise NotFound(f"grade of {family.key}", key, nearest(key, grades, 3))
    return key
