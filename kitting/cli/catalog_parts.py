"""Which part a person means by what was typed, and in which families; nothing is guessed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.errors import BadInput, NotFound, Problem

if TYPE_CHECKING:
    from kitting.catalog.family import Family
    from kitting.catalog.model import Part, Position


@dataclass(frozen=True, slots=True)
class Meant:
    """The parts that were typed, and the families that have the first of them."""

    parts: tuple[Part, ...]
    families: tuple[Family, ...]

    def one_family(self, position: str) -> Family:
        """The family that a question about the first part is for.

        Raises:
            BadInput: several have the part, and neither the family nor a position says which.
        """
        placed = [each for each in self.families if position in each.position_by_key]
        left = placed or list(self.families)
        if len(left) > 1:
            keys = ", ".join(each.key for each in left)
            raise BadInput(
                Problem(
                    "", f"{self.parts[0].number} is in several families", f"say --family: {keys}"
                )
            )
        return left[0]


def meant(*typed: str, key: str = "") -> Meant:
    """Look parts up in one family, or in the latest edition of all that are loaded.

    Only the families that the first part stands in are read, and of those only what is joined to
    the parts, however many there are.

    Raises:
        BadInput: no such number, with those nearly so; or several parts have it.
    """
    from kitting.cli.opened import family_within
    from kitting.store import Database

    with Database().read() as work:
        if not work.catalogue.families():
            says = "no engine family is loaded yet"
            raise BadInput(Problem("", says, "run: kitting catalog load"))
        numbers = [work.search.number(each, key) for each in typed]
        keys = [key] if key else work.search.families(work.links.joined(numbers[:1]))
        families = tuple(family_within(work, each, about=numbers) for each in keys)
        known = {part.number: part for part in work.search.parts(numbers)}
    for family in families:
        known |= {
            each: family.part_by_number[each] for each in numbers if each in family.part_by_number
        }
    for number, each in zip(numbers, typed, strict=True):
        if number not in known or (key and number not in families[0].part_by_number):
            raise NotFound(f"part of {key}" if key else "part of the catalogue", each)
    first = numbers[0]
    return Meant(
        tuple(known[each] for each in numbers),
        tuple(each for each in families if first in each.part_by_number),
    )


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
