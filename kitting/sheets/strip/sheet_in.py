"""Reading a filled strip sheet back: every problem at its cell, all at once, nothing half taken.

What a person wrote outside the boxes is never dropped in silence: words are warned of and kept as
notes, a figure is refused.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.catalog.model import normal_number
from kitting.errors import BadInput, Problem, Problems
from kitting.job.strip import StripReport
from kitting.sheets.cells import day_in, words_in
from kitting.sheets.files import open_workbook
from kitting.sheets.strip.cover import entries
from kitting.sheets.strip.findings import Signed, finding_of
from kitting.sheets.strip.keys import Field, RowKey, RowKind
from kitting.sheets.strip.layout import assemblies_on, assembly_blocks
from kitting.sheets.strip.rows import keyed_sheets, single_rows
from kitting.sheets.strip.strays import (
    Noted,
    check_keys,
    stray_beside,
    stray_in_print,
    stray_in_rows,
    texts_of,
)

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date
    from pathlib import Path

    from kitting.catalog.family import Family
    from kitting.catalog.model import Assembly
    from kitting.job.findings import Finding, Job
    from kitting.sheets.strip.layout import Block
    from kitting.sheets.strip.rows import KeyedRow, KeyedSheets

_YES = frozenset({"yes", "y", "x", "✓", "✔", "true", "1"})
_NO = frozenset({"no", "n", "false", "0"})


def read_strip_sheet(path: Path, family: Family, job: Job) -> StripReport:
    """Return what a filled strip sheet says of a job; the file is only read.

    Args:
        path: the workbook.
        family: the edition of the family that the job is on.
        job: the job that the sheet must be of.

    Raises:
        BadInput: with every problem, each with its sheet and cell and what would be right.
    """
    problems = Problems()
    sheets = keyed_sheets(open_workbook(path), family, job, problems)
    # Of another engine's sheet, or one with its keys gone, nothing further can be said.
    _raise(problems, path)
    report = _Reading(path.name, family, job, sheets, problems).report()
    _raise(problems, path)
    return report


def _raise(problems: Problems, path: Path) -> None:
    """Raise what was found, the file's name before each place."""
    if len(problems):
        raise BadInput(
            Problem(", ".join(filter(None, (path.name, each.place))), each.wrong, each.right)
            for each in problems
        )


class _Reading:
    """One workbook being read: its rows by key, and what has been noted so far."""

    def __init__(
        self, file: str, family: Family, job: Job, sheets: KeyedSheets, problems: Problems
    ) -> None:
        self.file = file
        self.family = family
        self.job = job
        self.sheets = sheets
        self.problems = problems
        self.noted = Noted(problems, [])
        self.variant = family.variant_by_key[job.variant]
        self.rows = single_rows(sheets, problems)
        self.blocks = {
            assembly.key: assembly_blocks(family, self.variant, assembly)
            for assembly in assemblies_on(family, self.variant)
        }

    def report(self) -> StripReport:
        """Read everything."""
        self._check_job()
        cover = Signed(self._field(Field.WHO), self._cover_day())
        findings: list[Finding] = []
        stripped: list[str] = []
        for assembly in assemblies_on(self.family, self.variant):
            row = self.rows.get(str(RowKey(RowKind.STRIPPED, assembly.key)))
            signed = self._signed(row, cover)
            here = self._findings(self.blocks[assembly.key][1:], signed)
            findings.extend(here)
            if self._apart(assembly, row, found=bool(here)):
                stripped.append(assembly.key)
        notes = "; ".join(filter(None, (self._field(Field.NOTES), *self._strays())))
        self._warn_unsigned(findings)
        warnings = tuple(self.noted.warnings)
        return StripReport(tuple(findings), tuple(stripped), cover.who, notes, warnings)

    def _field(self, field: Field) -> str:
        """What the cover says, '' where it says nothing."""
        row = self.rows.get(str(RowKey(RowKind.FIELD, field)))
        if row is not None:
            with self.problems.at(row.place("text")):
                return words_in(row.box("text"))
        return ""

    def _cover_day(self) -> date | None:
        row = self.rows.get(str(RowKey(RowKind.FIELD, Field.WHEN)))
        if row is not None:
            with self.problems.at(row.place("text")):
                return day_in(row.box("text"))
        return None

    def _signed(self, row: KeyedRow | None, above: Signed) -> Signed:
        """Who and when of a row; what it leaves empty holds from above."""
        name, day = "", None
        if row is not None:
            with self.problems.at(row.place("who")):
                name = words_in(row.box("who"))
            with self.problems.at(row.place("when")):
                day = day_in(row.box("when"))
        return Signed(name or above.who, day or above.when)

    def _check_job(self) -> None:
        """Refuse a sheet that names another job or another engine."""
        number = self._field(Field.JOB)
        if number and normal_number(number) != normal_number(self.job.number):
            self.problems.add(
                self.rows[str(RowKey(RowKind.FIELD, Field.JOB))].place("text"),
                f"the sheet is of job {number}, and this is job {self.job.number}",
                "load it to the job that it is of",
            )
        engine = self._field(Field.ENGINE)
        if engine:
            place = self.rows[str(RowKey(RowKind.FIELD, Field.ENGINE))].place("text")
            with self.problems.at(place):
                _check_engine(engine, self.family, self.job)

    def _findings(self, blocks: Iterable[Block], above: Signed) -> list[Finding]:
        found = []
        for block in blocks:
            rows = [self.rows[str(line.key)] for line in block if str(line.key) in self.rows]
            own = self.rows.get(str(RowKey(RowKind.FITTED, block[0].key.name)))
            finding = finding_of(
                self.family.position_by_key[block[0].key.name],
                rows,
                self._signed(own, above),
                self.family,
                self.file,
                self.problems,
                self.noted.warnings,
            )
            if finding is not None:
                found.append(finding)
        return found

    def _apart(self, assembly: Assembly, row: KeyedRow | None, *, found: bool) -> bool:
        """Whether the assembly was taken apart; unsaid, it was where anything was found in it."""
        if row is None:
            return found
        said = ""
        with self.problems.at(row.place("stripped")):
            said = words_in(row.box("stripped")).lower()
            if said not in _YES | _NO | {""}:
                raise BadInput(Problem("", f"'{said}' is neither yes nor no", "write yes or no"))
        if not said and found:
            self.noted.warnings.append(
                f"{row.place('stripped')}: taken as apart, because something was found in "
                f"{assembly.name}; write no if it was not"
            )
        return said in _YES or (not said and found)

    def _strays(self) -> list[str]:
        """Every word that stands outside the boxes, with its place."""
        known = {str(RowKey(RowKind.FIELD, field)) for field in Field}
        shown: set[str] = set()
        words: list[str] = []
        for assembly in assemblies_on(self.family, self.variant):
            blocks = self.blocks[assembly.key]
            known |= {str(line.key) for block in blocks for line in block}
            shown |= texts_of(blocks)
            words.extend(stray_in_rows(assembly, blocks, self.sheets, self.rows, self.noted))
        check_keys(known, self.rows, self.noted)
        words.extend(stray_in_print(self.sheets.printed, shown, self.noted))
        for entry in entries(self.variant, self.job):
            row = self.rows.get(str(RowKey(RowKind.FIELD, entry.field)))
            if row is not None:
                words.extend(stray_beside(row, entry.hint, self.noted))
        words.extend(self.noted.stray(stray.place, stray.cell) for stray in self.sheets.strays)
        return words

    def _warn_unsigned(self, findings: Iterable[Finding]) -> None:
        taken = tuple(findings)
        nameless = sum(not finding.who for finding in taken)
        dayless = sum(finding.when is None for finding in taken)
        if nameless:
            self.noted.warnings.append(f"no name stands with {nameless} findings: see the cover")
        if dayless:
            self.noted.warnings.append(f"no day stands with {dayless} findings: see the cover")


def _check_engine(typed: str, family: Family, job: Job) -> None:
    """Refuse an engine number that is none of the family's, or not the job's."""
    found = family.variant_of_engine(typed)
    if found is None:
        ranges = "; ".join(
            f"{variant.name} {variant.prefix} {variant.first} to {variant.last}"
            for variant in family.variants
        )
        raise BadInput(
            Problem("", f"no {family.name} has engine number '{typed}'", f"there are {ranges}")
        )
    if normal_number(typed) != normal_number(job.engine_number):
        raise BadInput(
            Problem(
                "",
                f"engine number '{typed}' ({found.name}) is not the job's",
                f"job {job.number} is on engine {job.engine_number}",
            )
        )
