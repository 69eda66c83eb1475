"""A line of a job's kit by the key that is typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.catalog.nearest import nearest
from kitting.errors import BadInput, NotFound, Problem

if TYPE_CHECKING:
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath


def line_of(path: JobPath, key: str) -> KitLine:
    """The line of the kit with that key.

    Raises:
        NotFound: there is none; near keys are offered.
        BadInput: it is one that only a recheck would bring.
    """
    line = path.kit.by_key.get(key.strip())
    if line is None:
        raise NotFound("kit line", key, nearest(key, path.kit.by_key, 3))
    if line in path.kit.possible:
        raise BadInput(
            Problem(
                f"line {key}",
                f"{line.name} is needed only if the recheck says so",
                "answer the recheck first: kitting strip add, or kitting decide verdict",
            )
        )
    return line


def named(line: KitLine) -> str:
    """A line in a few words."""
    return f"line {line.key}, {line.text}"
