"""The pictures of a job as PNG, each drawn once, and only when a sheet asks for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kitting.job.path import JobPath
    from kitting.job.size_choice import SizeChoice


class Album:
    """The PNG pictures of one job, by size table."""

    def __init__(self, path: JobPath) -> None:
        self._path = path
        self._drawn: dict[str, dict[str, bytes]] = {}

    def of_size(self, choice: SizeChoice) -> dict[str, bytes]:
        """The pictures of one size by the key of their feature; '' is the one of them all."""
        table = choice.table.key
        if table not in self._drawn:
            from kitting.sheets.pictures.of_job import pictures_of_size

            self._drawn[table] = {
                found.feature: found.picture.png() for found in pictures_of_size(self._path, choice)
            }
        return self._drawn[table]
