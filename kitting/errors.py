"""What can go wrong, as facts; the doors turn them into sentences.

Bad user data is collected as `Problem`s and raised once, as `BadInput`. A fault of ours is any
other exception. Exit status 2 for the first, 1 for the second.
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that cannot be taken: where it stands, what is wrong, what would be right."""

    place: str
    wrong: str
    right: str = ""

    def __str__(self) -> str:
        sentence = f"{self.place}: {self.wrong}" if self.place else self.wrong
        return f"{sentence}; {self.right}" if self.right else sentence


class KittingError(Exception):
    """The root of every error that the project raises on purpose."""


class BadInput(KittingError):
    """Something a person gave cannot be taken; carries every problem found, in order.

    `sum_up` says what they come to, where a count of them alone would not.
    """

    def __init__(self, problems: Iterable[Problem] | Problem, sum_up: str = "") -> None:
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        self.sum_up = sum_up
        super().__init__("\n".join([*map(str, self.problems), *filter(None, [sum_up])]))


class NotFound(BadInput):
    """A key names nothing; near matches are offered."""

    def __init__(self, what: str, key: str, near: Iterable[str] = ()) -> None:
        offered = ", ".join(near)
        super().__init__(
            Problem("", f"no {what} '{key}'", f"did you mean {offered}?" if offered else "")
        )


class Problems:
    """Collects problems while a file is read, so that all of them come in one go."""

    def __init__(self) -> None:
        self._found: list[Problem] = []

    def add(self, place: str, wrong: str, right: str = "") -> None:
        """Note one problem."""
        self._found.append(Problem(place, wrong, right))

    def extend(self, problems: Iterable[Problem]) -> None:
        """Note several problems."""
        self._found.extend(problems)

    def __iter__(self) -> Iterator[Problem]:
        return iter(self._found)

    def __len__(self) -> int:
        return len(self._found)

    @contextmanager
    def at(self, place: str) -> Iterator[None]:
        """Collect the BadInput raised inside the block, putting `place` before its problems."""
        try:
            yield
        except BadInput as error:
            for problem in error.problems:
                where = f"{place}, {problem.place}" if problem.place else place
                self.add(where, problem.wrong, problem.right)

    def raise_if_any(self) -> None:
        """Raise one BadInput with all that was found, or do nothing."""
        if self._found:
            raise BadInput(self._found)
