"""What finding asks of whatever holds the parts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Collection, Container, Iterable, Iterator, Mapping, Sequence

    from kitting.catalog.family import Family
    from kitting.catalog.model import Fit, Part, PartNumber, Position
    from kitting.catalog.search_words import Asked


@dataclass(frozen=True, slots=True)
class Theirs:
    """A part by a supplier's number, and the supplier's name."""

    part: Part
    number: str
    supplier: str


class Candidates(Protocol):
    """Whatever holds parts; numbers are asked for in their plain form (`normal_number`).

    Where only one family's parts are asked for, the names of attributes and the vocabulary are
    still those of all.
    """

    def numbered(self, normals: Collection[str]) -> Mapping[str, Sequence[Part]]:
        """The parts of those numbers."""

    def theirs(self, normals: Collection[str]) -> Mapping[str, Sequence[Theirs]]:
        """The parts that suppliers sell by those numbers of their own."""

    def near(self, normal: str, edits: int) -> Iterable[str]:
        """Every number within so many edits, and maybe more; suppliers' numbers within one."""

    def answering(self, asked: Asked, most: int) -> tuple[Sequence[Part], int]:
        """The best parts that answer words and figures, by `order_of`.

        With them above zero where so many answer that only as many were put in order.
        """

    def answers(self, asked: Asked) -> bool:
        """Whether any part answers words and figures."""

    @property
    def attributes(self) -> Container[str]:
        """The names that attributes have."""

    def has_word(self, word: str) -> bool:
        """Whether a part has just that word."""

    def vocabulary(self) -> Collection[str]:
        """The words of all parts that may be begun (`may_be_begun`)."""

    def families(self, numbers: Iterable[PartNumber]) -> Sequence[str]:
        """The keys, in order, of all families that have any of the parts, whose-ever are asked."""


def order_of(score: int, name_length: int, number: PartNumber) -> tuple[object, ...]:
    """Best first: the score, then the shorter name, then the number."""
    return (-score, name_length, number)


def engines_of(family: Family, fit: Fit, position: Position) -> Iterator[str]:
    """What a part fits, by name: the family, the assembly and the variants."""
    yield family.name
    if position.assembly in family.assembly_by_key:
        yield family.assembly_by_key[position.assembly].name
    for key in fit.variants or position.variants or family.variant_by_key:
        if key in family.variant_by_key:
            yield family.variant_by_key[key].name
