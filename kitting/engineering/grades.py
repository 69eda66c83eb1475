"""Size grades as a table prints them, and the checks that a table must pass before it is used."""

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import pairwise

from kitting.errors import BadInput, NotFound, Problem, Problems
from kitting.measure.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Grade:
    """A finished size: its name and the inclusive band that the finished diameter must lie in."""

    name: str
    finish_min: Quantity
    finish_max: Quantity

    def __post_init__(self) -> None:
        if self.finish_min > self.finish_max:
            raise BadInput(
                Problem(
                    f"grade '{self.name}'",
                    f"its limits {self.finish_min} to {self.finish_max} are the wrong way round",
                    "finish_min is the smaller one",
                )
            )
        if self.finish_min.base <= 0:
            raise BadInput(
                Problem(
                    f"grade '{self.name}'",
                    f"its limit {self.finish_min} is not above zero",
                    "a grade is the finished diameter, not the step from standard",
                )
            )

    @property
    def band(self) -> str:
        """The band in words."""
        return f"{self.finish_min} to {self.finish_max}"


@dataclass(frozen=True, slots=True)
class HalfStep:
    """A shell for a shaft of `for_grade` that is worn a little and not ground."""

    name: str
    for_grade: str
    takes_up: Quantity

    def __post_init__(self) -> None:
        if self.takes_up.base <= 0:
            raise BadInput(
                Problem(
                    f"half step '{self.name}'",
                    f"it takes up {self.takes_up}, which is not above zero",
                    "say by how much it closes the bearing, such as 0.002 in",
                )
            )


def check_grades(grades: Sequence[Grade]) -> None:
    """Refuse a table that has no grade, names one twice, or does not step evenly one way.

    Raises:
        BadInput: with every problem found.
    """
    if not grades:
        raise BadInput(Problem("", "the table is empty", "give at least the present grade"))
    problems = Problems()
    seen: set[str] = set()
    for grade in grades:
        if grade.name in seen:
            problems.add("", f"'{grade.name}' is there twice", "give each grade its own name")
        seen.add(grade.name)
    downwards = grades[-1].finish_max < grades[0].finish_max
    for before, after in pairwise(grades):
        larger, smaller = (before, after) if downwards else (after, before)
        if not (smaller.finish_min < larger.finish_min and smaller.finish_max < larger.finish_max):
            problems.add(
                "",
                f"the table does not step from '{before.name}' ({before.band}) "
                f"to '{after.name}' ({after.band})",
                "each grade must differ from the one before it, all in one direction; check the "
                "printed row",
            )
    problems.raise_if_any()


def grade_named(grades: Sequence[Grade], name: str) -> Grade:
    """Return the grade called `name`.

    Raises:
        NotFound: none is; near matches are offered.
    """
    for grade in grades:
        if grade.name == name:
            return grade
    names = [grade.name for grade in grades]
    raise NotFound("grade", name, get_close_matches(name, names, cutoff=0.3) or names)
