"""What finding asks of whatever holds the parts: families in memory here, or a database."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Protocol

from kitting.catalog.model import normal_number
from kitting.catalog.search_words import Described, forms_of, may_be_begun

if TYPE_CHECKING:
    from collections.abc import Collection, Container, Iterable, Iterator, Mapping, Sequence

    from kitting.catalog.family import Family
    from kitting.catalog.model import Fit, Part, PartNumber, Position
    from kitting.catalog.search_words import Asked
    from kitting.catalog.trade import Trade


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


def order_of(score: int, name_length: int, number: PartNumber) -> tuple[object, ...]:
    """Best first: the score, then the shorter name, then the number."""
    return (-score, name_length, number)


class FamilyCandidates:
    """The parts of some families and what suppliers ask for them; of two families the last says.

    `only` is the key of a family: of all the parts those that it has.
    """

    def __init__(
        self, families: Sequence[Family], trade: Trade | None = None, only: str = ""
    ) -> None:
        self._families = families
        self._trade = trade
        self._only = only

    def numbered(self, normals: Collection[str]) -> Mapping[str, Sequence[Part]]:
        """See `Candidates`."""
        return {each: self._by_normal[each] for each in normals if each in self._by_normal}

    def theirs(self, normals: Collection[str]) -> Mapping[str, Sequence[Theirs]]:
        """See `Candidates`."""
        return {each: self._by_theirs[each] for each in normals if each in self._by_theirs}

    def near(self, normal: str, edits: int) -> Iterable[str]:
        """See `Candidates`; all that are of nearly the length."""
        known = {*self._by_normal, *self._by_theirs} if edits == 1 else set(self._by_normal)
        return (each for each in known if abs(len(each) - len(normal)) <= edits)

    def answering(self, asked: Asked, most: int) -> tuple[Sequence[Part], int]:
        """See `Candidates`; every part is put in order."""
        scored = ((each.answers(asked), each.part) for each in self._described)
        best = sorted(
            ((score, part) for score, part in scored if score),
            key=lambda each: order_of(each[0], len(each[1].name), each[1].number),
        )
        return [part for _, part in best[:most]], 0

    @cached_property
    def attributes(self) -> Container[str]:
        """See `Candidates`."""
        return frozenset(name for part in self._every.values() for name in part.attributes)

    def has_word(self, word: str) -> bool:
        """See `Candidates`."""
        return any(form in each.words for each in self._described for form in forms_of(word))

    def answers(self, asked: Asked) -> bool:
        """See `Candidates`."""
        return any(each.answers(asked) for each in self._described)

    def vocabulary(self) -> Collection[str]:
        """See `Candidates`."""
        words = (word for each in self._every_described for word in each.words)
        return frozenset(word for word in words if may_be_begun(word))

    @cached_property
    def _every(self) -> Mapping[PartNumber, Part]:
        every: dict[PartNumber, Part] = {}
        for family in self._families:
            every |= family.part_by_number
        return every

    @cached_property
    def _parts(self) -> Mapping[PartNumber, Part]:
        """Those that are asked for."""
        if not self._only:
            return self._every
        mine = {
            number
            for family in self._families
            if family.key == self._only
            for number in family.part_by_number
        }
        return {number: part for number, part in self._every.items() if number in mine}

    @cached_property
    def _by_normal(self) -> Mapping[str, Sequence[Part]]:
        groups: dict[str, list[Part]] = {}
        for number in sorted(self._parts):
            groups.setdefault(number.normal, []).append(self._parts[number])
        return groups

    @cached_property
    def _by_theirs(self) -> Mapping[str, Sequence[Theirs]]:
        groups: dict[str, dict[tuple[PartNumber, str], Theirs]] = {}
        for offer in self._trade.offers if self._trade else ():
            part = self._parts.get(offer.part)
            if part is not None:
                mine = groups.setdefault(normal_number(offer.their_number), {})
                name = self._name_of(offer.supplier)
                mine[part.number, offer.supplier] = Theirs(part, offer.their_number, name)
        return {normal: tuple(mine[key] for key in sorted(mine)) for normal, mine in groups.items()}

    def _name_of(self, supplier: str) -> str:
        known = self._trade.supplier_by_key.get(supplier) if self._trade else None
        return known.name if known else supplier

    @cached_property
    def _described(self) -> tuple[Described, ...]:
        return tuple(each for each in self._every_described if each.part.number in self._parts)

    @cached_property
    def _every_described(self) -> tuple[Described, ...]:
        places: dict[PartNumber, dict[str, None]] = {}
        engines: dict[PartNumber, dict[str, None]] = {}
        for family in self._families:
            for fit in family.fits:
                position = family.position_by_key.get(fit.position)
                if position is not None:
                    places.setdefault(fit.part, {})[position.name] = None
                    named = engines_of(family, fit, position)
                    engines.setdefault(fit.part, {}).update(dict.fromkeys(named))
        return tuple(
            Described(part, tuple(places.get(number, ())), tuple(engines.get(number, ())))
            for number, part in self._every.items()
        )


def engines_of(family: Family, fit: Fit, position: Position) -> Iterator[str]:
    """What a part fits, by name: the family, the assembly and the variants."""
    yield family.name
    if position.assembly in family.assembly_by_key:
        yield family.assembly_by_key[position.assembly].name
    for key in fit.variants or position.variants or family.variant_by_key:
        if key in family.variant_by_key:
            yield family.variant_by_key[key].name
