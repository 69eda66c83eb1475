"""How lines of a kit come to one: those of one stage that come to the same part at the same grade.

Their quantities add up. Where one new part answers several old ones (a merge: inner and outer
springs now sold as a pair), the quantities of those old ones do not add up: the greatest of them is
bought.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kitting.catalog.model import PartNumber
    from kitting.job.kit import KitLine


def merged(drafts: Iterable[KitLine]) -> list[KitLine]:
    """The lines, those of one stage, part and grade joined into one."""
    groups: dict[tuple[object, ...], list[KitLine]] = defaultdict(list)
    for line in drafts:
        alike = line.part if line.part is not None else line.positions
        groups[(line.stage, alike, line.grade, line.worst_part, line.hold)].append(line)
    return [_joined(group) for group in groups.values()]


def _joined(group: list[KitLine]) -> KitLine:
    first = group[0]
    if len(group) == 1:
        return first
    quantity = _together(group)
    serves = frozenset.intersection(*(line.serves for line in group))
    whole = {part: _together(group, part) for part in serves}
    return replace(
        first,
        positions=tuple(dict.fromkeys(key for line in group for key in line.positions)),
        quantity=quantity,
        serves=serves,
        counts=counts_of(first.part, quantity, whole) if first.part else (),
        needed=tuple(dict.fromkeys(reason for line in group for reason in line.needed)),
        chosen=tuple(dict.fromkeys(reason for line in group for reason in line.chosen)),
        wrong_in_data=tuple(dict.fromkeys(each for line in group for each in line.wrong_in_data)),
    )


def _together(group: list[KitLine], of: PartNumber | None = None) -> int:
    """The quantity of lines that come to one part: added up, but once for what a merge answers.

    With `of`, how many of another number that would do.
    """
    total = 0
    merged: dict[tuple[PartNumber, ...], dict[PartNumber | None, int]] = {}
    for line in group:
        quantity = line.whole_of(of) if of else line.quantity
        if not line.answers:
            total += quantity
            continue
        counts = merged.setdefault(line.answers, {})
        counts[line.named] = counts.get(line.named, 0) + quantity
    return total + sum(max(counts.values()) for counts in merged.values())


def counts_of(
    part: PartNumber, quantity: int, whole: Mapping[PartNumber, int]
) -> tuple[tuple[PartNumber, int], ...]:
    """Of the numbers that would do, those of which the line takes more or fewer pieces."""
    return tuple(
        sorted((o, count) for o, count in whole.items() if count != quantity and o != part)
    )
