"""A shop at its terminal: types commands, reads what comes back."""

from __future__ import annotations

import json
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

from kitting.cli.main import guarded
from kitting.sheets.strip.fill import Entry, fill_strip_sheet, read_entries

if TYPE_CHECKING:
    import pytest

DAY = "2026-11-25"


@dataclass(frozen=True)
class Said:
    """What a command answered."""

    status: int
    out: str
    err: str


@dataclass(frozen=True)
class Shop:
    """A folder, a database and a terminal."""

    folder: Path
    capsys: pytest.CaptureFixture[str]

    def tries(self, *words: str) -> Said:
        """Type a command that may fail."""
        self.capsys.readouterr()
        status = guarded(list(words))
        said = self.capsys.readouterr()
        assert "Traceback" not in said.err + said.out
        return Said(status, said.out, said.err)

    def types(self, *words: str) -> str:
        """Type a command that must work; returns what it printed."""
        said = self.tries(*words)
        assert said.status == 0, said.err
        return said.out

    def refuses(self, *words: str) -> str:
        """Type a command that must be refused as bad input; returns what it says is wrong."""
        said = self.tries(*words)
        assert said.status == 2, (said.status, said.out, said.err)
        return said.err

    def reads(self, *words: str) -> Any:
        """Type a reading command with --json; returns what it answered."""
        return json.loads(self.types(*words, "--json"))

    def demo_entries(self) -> tuple[Entry, ...]:
        """What the demo's bench wrote on its strip sheet."""
        return read_entries(Path(str(files("kitting") / "demo" / "first-look.csv")))

    def filled(self, number: str, entries: tuple[Entry, ...], name: str = "filled.xlsx") -> Path:
        """Write a job's blank sheet and fill it in."""
        blank, out = self.folder / "blank.xlsx", self.folder / name
        self.types("strip", "sheet", number, "--to", str(blank), "--overwrite")
        fill_strip_sheet(blank, entries, out)
        return out
