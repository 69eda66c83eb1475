"""Finding among families in memory: every part looked at, as a second opinion on the database."""

from collections.abc import Collection, Container, Iterable, Mapping, Sequence
from functools import cached_property

from kitting.catalog.candidates import Theirs, engines_of, order_of
from kitting.catalog.family import Family
from kitting.catalog.find import MOST, Finder, Found
from kitting.catalog.model import Part, PartNumber, normal_number
from kitting.catalog.search_words import Asked, Described, forms_of, may_be_begun
from kitting.catalog.trade import Trade


def find_parts(
    query: str,
    families: Sequence[Family],
    trade: Trade | None = None,
    most: int = MOST,
    only: str = "",
) -> Found:
    """Return the parts that `query` names or describes; `only` those that the family `only` has."""
    beyond = FamilyCandidates(families, trade) if only else None
    return Finder(FamilyCandidates(families, trade, only), beyond).find(query, most)


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

    def families(self, numbers: Iterable[PartNumber]) -> Sequence[str]:
        """See `Candidates`."""
        asked = set(numbers)
        return sorted(
            family.key
            for family in self._families
            if asked & (family.part_by_number.keys() | {fit.part for fit in family.fits})
        )

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
