"""That every key a family's rows name is there, and that what they bound is the right way round."""

from collections.abc import Iterable
from typing import Protocol

from kitting.catalog.check_notes import Notes
from kitting.catalog.family import Family
from kitting.catalog.model import PartNumber, Variant
from kitting.catalog.nearest import nearest


class _Conditional(Protocol):
    """Whatever holds on some variants and between two running numbers."""

    @property
    def variants(self) -> tuple[str, ...]: ...
    @property
    def first(self) -> int | None: ...
    @property
    def last(self) -> int | None: ...


def check_references(family: Family, notes: Notes) -> None:
    """Note every reference to nothing in variants, positions, fits, sets and labour."""
    _check_variants(family, notes)
    _check_positions(family, notes)
    _check_fits(family, notes)
    _check_sets(family, notes)


def known_part(
    family: Family, notes: Notes, row: tuple[str, str], column: str, number: PartNumber
) -> bool:
    """Whether a part is in the parts list; a fault with the nearest when it is not."""
    if number in family.part_by_number:
        return True
    respelled = [
        str(known)
        for known in family.part_by_number
        if known.maker == number.maker and known.normal == number.normal
    ]
    if respelled:
        notes.fault(
            row, column, f"'{number}' is written {respelled[0]} in parts.csv", "so too here"
        )
        return False
    near = nearest(str(number), map(str, family.part_by_number))
    notes.fault(
        row,
        column,
        f"there is no part '{number}'",
        f"did you mean '{near[0]}'?" if near else "add it to parts.csv",
    )
    return False


def check_conditions(
    family: Family, notes: Notes, row: tuple[str, str], value: _Conditional
) -> None:
    """The variants and running numbers on which a row holds."""
    for variant in value.variants:
        notes.known(row, "variants", "variant", variant, family.variant_by_key)
    if value.first is not None and value.last is not None and value.first > value.last:
        notes.fault(
            row,
            "last",
            f"the running numbers {value.first} to {value.last} are the wrong way round",
            "the first one first",
        )
    elif not _some_engine_has(family, value):
        start = "the first" if value.first is None else str(value.first)
        end = "the last" if value.last is None else str(value.last)
        on = f" of {', '.join(value.variants)}" if value.variants else ""
        notes.fault(
            row,
            "first" if value.first is not None else "last",
            f"no engine{on} has a running number from {start} to {end}, so this never holds",
            "look at the numbers in variants.csv",
        )


def _some_engine_has(family: Family, value: _Conditional) -> bool:
    """Whether an engine of a variant that the row names lies between its running numbers."""
    if value.first is None and value.last is None:
        return True
    named = [family.variant_by_key[key] for key in value.variants if key in family.variant_by_key]
    among = named or ([] if value.variants else list(family.variants))
    return not among or any(
        (value.first is None or value.first <= variant.last)
        and (value.last is None or value.last >= variant.first)
        for variant in among
    )


def _check_variants(family: Family, notes: Notes) -> None:
    if not family.variants:
        notes.faults.add("variants.csv", "there is no variant", "give at least one")
    ordered = sorted(family.variants, key=lambda v: (v.prefix, v.first))
    before: Variant | None = None
    for variant in ordered:
        row = ("variants", variant.key)
        if variant.first > variant.last:
            notes.fault(
                row,
                "last",
                f"the running numbers {variant.first} to {variant.last} are the wrong way round",
                "the first one first",
            )
        if before and before.prefix == variant.prefix and variant.first <= before.last:
            notes.fault(
                row,
                "first",
                f"engine {variant.prefix}{variant.first} is also of variant '{before.key}'",
                f"begin after {before.last}",
            )
        before = variant


def _check_positions(family: Family, notes: Notes) -> None:
    for position in family.positions:
        row = ("positions", position.key)
        notes.known(row, "assembly", "assembly", position.assembly, family.assembly_by_key)
        for variant in position.variants:
            notes.known(row, "variants", "variant", variant, family.variant_by_key)
        if position.sized_by:
            notes.known(row, "sized_by", "size table", position.sized_by, family.table_by_key)
        if position.matched and len(family.matched_with[position.matched]) < 2:
            notes.warn(
                row,
                "matched",
                f"no other position is matched with '{position.matched}'",
                "give its fellow the same word, or leave the cell empty",
            )


def _check_fits(family: Family, notes: Notes) -> None:
    seen: dict[object, str] = {}
    for at, fit in enumerate(family.fits):
        row = ("fits", str(at))
        known_part(family, notes, row, "part", fit.part)
        check_conditions(family, notes, row, fit)
        _same_again(notes, row, seen, (fit.position, fit.part, fit.variants, fit.first, fit.grade))
        if not notes.known(row, "position", "position", fit.position, family.position_by_key):
            continue
        sized_by = family.position_by_key[fit.position].sized_by
        table = family.table_by_key.get(sized_by)
        if fit.grade and not sized_by:
            notes.fault(
                row,
                "grade",
                f"the position {fit.position} is sized by no table",
                "leave the grade empty, or give the position its sized_by",
            )
        elif fit.grade and table is not None:
            grades = [grade.key for grade in table.grades]
            notes.known(row, "grade", f"grade of {sized_by}", fit.grade, grades)
        elif sized_by and not fit.grade:
            notes.warn(
                row,
                "grade",
                f"the position {fit.position} is sized by {sized_by}, and this part has no grade: "
                "it is taken at every one",
                "say which grade it is for, unless it serves at all of them",
            )


def _check_sets(family: Family, notes: Notes) -> None:
    seen: dict[object, str] = {}
    for at, item in enumerate(family.set_items):
        row = ("sets", str(at))
        known_part(family, notes, row, "set", item.set)
        known_part(family, notes, row, "part", item.part)
        _same_again(notes, row, seen, (item.set, item.part))
    inside: dict[PartNumber, set[PartNumber]] = {}
    for item in family.set_items:
        inside.setdefault(item.set, set()).add(item.part)
    for at, item in enumerate(family.set_items):
        if item.set in _within(inside, item.part):
            notes.fault(
                ("sets", str(at)), "part", f"the set {item.set} is within itself", "take it out"
            )


def _within(inside: dict[PartNumber, set[PartNumber]], part: PartNumber) -> set[PartNumber]:
    """A part and all that is in it, however deep."""
    found, waiting = {part}, [part]
    while waiting:
        for each in inside.get(waiting.pop(), set()) - found:
            found.add(each)
            waiting.append(each)
    return found


def _same_again(notes: Notes, row: tuple[str, str], seen: dict[object, str], what: object) -> None:
    place = notes.place(*row)
    before = seen.setdefault(what, place)
    if before != place:
        notes.fault(row, "", f"this row says the same as {before}", "keep one of them")


def chain(steps: Iterable[object]) -> str:
    """A chain as it is shown: first to last."""
    return " → ".join(str(step) for step in steps)
