"""Journals that are ground together: the deepest grade of the group serves them all.

Source: one journal ground, all ground (TM 5-3805-262-34, pp. 4-23, 4-24).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from kitting.engineering.grades import Grade
from kitting.engineering.regrind import RegrindChoice, RegrindRequest, choose_regrind
from kitting.errors import Problems


@dataclass(frozen=True, slots=True)
class GroupChoice:
    """The grades of the group, each journal's own choice, and which journal set the depth.

    `likely` and `worst` are None where any journal of the group has no grade left.
    """

    needed: bool
    likely: Grade | None
    worst: Grade | None
    likely_set_by: tuple[str, ...]
    worst_set_by: tuple[str, ...]
    choices: tuple[tuple[str, RegrindChoice], ...]
    because: str


def choose_for_group(requests: Sequence[tuple[str, RegrindRequest]]) -> GroupChoice:
    """Return the grade to which all the journals of `requests`, named, are ground.

    Every journal of the group counts, also one that alone would not need it: it is ground with
    the rest and must clean up too.

    Raises:
        BadInput: a journal that cannot be taken, or journals of different grade tables.
    """
    _check(requests)
    problems = Problems()
    choices: list[tuple[str, RegrindChoice]] = []
    for name, request in requests:
        with problems.at(name):
            choices.append((name, choose_regrind(request)))
    problems.raise_if_any()
    likely, likely_set_by = _deepest(choices, lambda choice: choice.likely)
    worst, worst_set_by = _deepest(choices, lambda choice: choice.worst)
    needing = [name for name, choice in choices if choice.needed]
    return GroupChoice(
        needed=bool(needing),
        likely=likely,
        worst=worst,
        likely_set_by=likely_set_by,
        worst_set_by=worst_set_by,
        choices=tuple(choices),
        because=_because(needing, likely, likely_set_by),
    )


def _check(requests: Sequence[tuple[str, RegrindRequest]]) -> None:
    problems = Problems()
    if not requests:
        problems.add("group", "it has no journal", "give at least one")
    for name, request in requests[1:]:
        if request.grades != requests[0][1].grades:
            problems.add(
                name,
                f"its grade table is not that of {requests[0][0]}",
                "only journals of one table are ground together",
            )
    problems.raise_if_any()


def _deepest(
    choices: Sequence[tuple[str, RegrindChoice]],
    pick: Callable[[RegrindChoice], Grade | None],
) -> tuple[Grade | None, tuple[str, ...]]:
    picked = [(name, pick(choice)) for name, choice in choices]
    without = tuple(name for name, grade in picked if grade is None)
    if without:
        return None, without
    grades = [grade for _, grade in picked if grade is not None]
    deepest = min(grades, key=lambda grade: grade.finish_max)
    return deepest, tuple(name for name, grade in picked if grade == deepest)


def _because(needing: Sequence[str], likely: Grade | None, set_by: Sequence[str]) -> str:
    if not needing:
        return "no journal of the group needs grinding"
    if likely is None:
        return f"no grade is left for {', '.join(set_by)}: reclaim, or another crank"
    return (
        f"{', '.join(needing)} must be ground, and one ground means all ground: "
        f"'{likely.name}', the deepest that any of them needs ({', '.join(set_by)})"
    )
