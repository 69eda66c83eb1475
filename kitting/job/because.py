"""Why something is so: a sentence, where it comes from, and what it follows from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator


@dataclass(frozen=True, slots=True)
class Because:
    """One step of a chain of reasons.

    `source` is the document or table that says so, `rule` the key of the catalogue's row that
    applied it, `after` the steps that this one follows from.
    """

    says: str
    source: str = ""
    rule: str = ""
    after: tuple[Because, ...] = ()

    def __str__(self) -> str:
        return f"{self.says} ({self.source})" if self.source else self.says

    def steps(self, depth: int = 0) -> Iterator[tuple[int, Because]]:
        """This step and all it follows from, each with its depth, nearest first."""
        yield depth, self
        for step in self.after:
            yield from step.steps(depth + 1)

    @property
    def root(self) -> Because:
        """The first thing that the chain rests on."""
        return self.after[0].root if self.after else self
