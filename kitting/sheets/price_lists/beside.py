"""A long list read in a process of its own, so that what was read is compared meanwhile.

Reading takes the rows to pieces, comparing asks the database: two cores do both at once. The
process that reads knows no database; whether somebody knows a number it asks across.
"""

from __future__ import annotations

import gc
import os
import pickle
import subprocess
import sys
import traceback
from collections.abc import Collection, Generator
from contextlib import suppress
from dataclasses import replace
from enum import IntEnum
from typing import IO, TYPE_CHECKING, Any

from kitting.buying.price_lists.rows import PriceRow
from kitting.errors import BadInput, Problem
from kitting.sheets.price_lists.list_in import PriceListReader

if TYPE_CHECKING:
    from kitting.sheets.price_lists.by_sheet import Choice
    from kitting.sheets.price_lists.file import PriceListFile
    from kitting.sheets.price_lists.terms import ListTerms

_LONG = {"text": 4_000_000, "xlsx": 1_000_000, "ods": 1_000_000}
"""Bytes from which reading a file takes longer than to begin a process."""


class _Said(IntEnum):
    """What one process says to the other: which list, and then what came of it."""

    LIST = 0
    ROWS = 1
    ASKS = 2
    REFUSED = 3
    FAILED = 4
    ENDED = 5


class ReaderBeside(PriceListReader):
    """Reads a list as `PriceListReader` does, its rows taken to pieces by another process."""

    def __init__(self, file: PriceListFile, terms: ListTerms, choice: Choice) -> None:
        super().__init__(file, terms, choice)
        self._known = choice.known

    def chunks(self) -> Generator[list[PriceRow], None, None]:
        """Yield the rows that speak of a part, some thousands at once.

        Raises:
            BadInput: as `PriceListReader.chunks` raises it, or the process was ended from outside.
        """
        looked = f"import sys; sys.path[:] = {sys.path!r}"  # it is to find what this one finds
        command = f"{looked}; from {__name__} import read_for; read_for()"
        process = subprocess.Popen(  # noqa: S603 — this very program
            [sys.executable, "-c", command],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            start_new_session=True,  # who stops this one at the keyboard does not stop that one
        )
        other = _Other(process.stdout, process.stdin)
        try:
            other.say(_Said.LIST, (self._file, self._terms, replace(self._choice, known=_nobody)))
            yield from self._taken(other)
        except _Gone:
            raise BadInput(_ended(self._file)) from None
        finally:
            process.kill()
            other.close()
            process.wait()

    def _taken(self, other: _Other) -> Generator[list[PriceRow], None, None]:
        while True:
            said, what = other.hear()
            if said is _Said.ROWS:
                yield [*map(PriceRow._make, zip(*what, strict=True))]
            elif said is _Said.ASKS:
                other.say(said, {*self._known(what)})
            elif said is _Said.REFUSED:
                raise BadInput(*what)
            elif said is _Said.FAILED:
                failed = RuntimeError(what.rstrip().rpartition("\n")[2])
                failed.add_note(what)
                raise failed
            else:
                self.tally, self.sheets, self.notes = what
                return


def reader_of(file: PriceListFile, terms: ListTerms, choice: Choice) -> PriceListReader:
    """What reads a list: beside this process where the list is long and there is a core for it."""
    alone = file.path.stat().st_size < _LONG[file.kind] or (os.cpu_count() or 1) < 2
    return (PriceListReader if alone else ReaderBeside)(file, terms, choice)


def read_for() -> None:
    """Read a list for the process at the other end of the standard streams: all that this does."""
    gc.disable()  # of rows none holds another in a ring
    other = _Other(sys.stdin.buffer, sys.stdout.buffer)
    sys.stdout = sys.stderr
    with suppress(_Gone):
        file, terms, choice = other.hear()[1]
        try:
            reader = PriceListReader(file, terms, replace(choice, known=other.known))
            for rows in reader.chunks():
                # Columns of plain values are written and read twice as quickly as so many rows.
                other.say(_Said.ROWS, [*zip(*rows, strict=True)])
            other.say(_Said.ENDED, (reader.tally, reader.sheets, reader.notes))
        except BadInput as error:
            other.say(_Said.REFUSED, (error.problems, error.sum_up))
        except _Gone:
            raise
        except Exception:
            other.say(_Said.FAILED, traceback.format_exc())


class _Gone(Exception):
    """The other process is no more."""


class _Other:
    """The other process: what it says and what is said to it."""

    def __init__(self, hears: IO[bytes] | None, says: IO[bytes] | None) -> None:
        if hears is None or says is None:
            raise TypeError("both ways are needed")
        self._hears, self._says = hears, says

    def say(self, said: _Said, what: Any) -> None:
        """Say something; waits until the other has room for it."""
        try:
            self._says.write(pickle.dumps((said, what), 4))
            self._says.flush()
        except ConnectionError:
            raise _Gone from None

    def hear(self) -> tuple[_Said, Any]:
        """Wait for what the other says."""
        try:
            heard: tuple[_Said, Any] = pickle.load(self._hears)  # noqa: S301 — our own wrote it
        except (EOFError, pickle.UnpicklingError):  # or ended in the middle of it
            raise _Gone from None
        return heard

    def known(self, numbers: Collection[str]) -> Collection[str]:
        """Of some numbers those that the other knows."""
        self.say(_Said.ASKS, [*numbers])
        found: Collection[str] = self.hear()[1]
        return found

    def close(self) -> None:
        """Say and hear no more."""
        self._hears.close()
        with suppress(ConnectionError):
            self._says.close()


def _nobody(_numbers: Collection[str]) -> Collection[str]:
    return ()


def _ended(file: PriceListFile) -> Problem:
    return Problem(
        file.path.name, "the process that reads it was ended from outside", "load it once more"
    )
