"""Where a command writes its one file."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path


def out_file(given: Path | None, usual: Path) -> Path:
    """The file that was given; in a folder that was given the usual name; else the usual file."""
    if given is None:
        return usual
    return given / usual.name if given.is_dir() else given
