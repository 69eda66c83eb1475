"""Reading a filled build sheet back: every problem at its cell, all at once, nothing half taken."""

from __future__ import annotations

from dataclasses import dataclass
from textwrap import shorten
from typing import TYPE_CHECKING

from kitting.catalog.model import normal_number
from kitting.errors import BadInput, Problem, Problems
from kitting.job.build import plan_build
from kitting.job.build_figures import BuildFigure
from kitting.sheets.build.layout import build_blocks
from kitting.sheets.cells import day_in, words_in
from kitting.sheets.files import open_workbook
from kitting.sheets.strip.findings import Signed, finding_of
from kitting.sheets.strip.keys import BUILD_SHEET, Column, Field, RowKey, RowKind
from kitting.sheets.strip.rows import keyed_sheets, place_of, single_rows
from kitting.sheets.strip.strays import Noted, check_keys, stray_in_print, stray_in_rows, texts_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from datetime import date
    from pathlib import Path

    from kitting.catalog.model import Assembly
    from kitting.job.build import Planned
    from kitting.job.findings import Finding
    from kitting.job.path import JobPath
    from kitting.sheets.strip.layout import Block, Line
    from kitting.sheets.strip.rows import KeyedRow, KeyedSheets

_SHOWN = 60


@dataclass(frozen=True, slots=True)
class BuildReport:
    """What a filled build sheet says, and what the reader took with a doubt."""

    figures: tuple[BuildFigure, ...]
    warnings: tuple[str, ...]


def read_build_sheet(file: Path, path: JobPath, day: date) -> BuildReport:
    """Return the figures of a filled build sheet; the file is only read.

    Args:
        file: the workbook.
        path: the job that the sheet must be of.
        day: the day of figures that no day stands with.

    Raises:
        BadInput: with every problem, each with its sheet and cell and what would be right.
    """
    problems = Problems()
    sheets = keyed_sheets(
        open_workbook(file), path.family, path.bench.job, problems, form=BUILD_SHEET
    )
    _raise(problems, file)
    report = _Reading(file.name, path, sheets, problems, day).report()
    _raise(problems, file)
    return report


def _raise(problems: Problems, file: Path) -> None:
    """Raise what was found, the file's name before each place."""
    if len(problems):
        raise BadInput(
            Problem(_named(file.name, each.place), each.wrong, each.right) for each in problems
        )


def _named(name: str, place: str) -> str:
    """The place with its file, which a finding's own place names already."""
    return place if place.startswith(name) else ", ".join(filter(None, (name, place)))


class _Reading:
    """One workbook being read."""

    def __init__(
        self, file: str, path: JobPath, sheets: KeyedSheets, problems: Problems, day: date
    ) -> None:
        self.file = file
        self.path = path
        self.sheets = sheets
        self.problems = problems
        self.day = day
        self.noted = Noted(problems, [], "not taken")
        self.rows = single_rows(sheets, problems)
        self.plan = plan_build(path)
        self.blocks: Mapping[Assembly, tuple[Block, ...]] = build_blocks(self.plan, path.bench.job)

    def report(self) -> BuildReport:
        """Read everything."""
        self._check_job()
        above = Signed(self._field(Field.WHO), self._day(self._row(Field.WHEN), "text"))
        figures: list[BuildFigure] = []
        for assembly in self.blocks:
            signed = self._signed(self.rows.get(str(RowKey(RowKind.SIGNED, assembly.key))), above)
            for finding in self._findings(assembly, signed):
                figures.extend(self._figures(finding))
        self._strays()
        return BuildReport(tuple(figures), tuple(self.noted.warnings))

    def _row(self, field: Field) -> KeyedRow | None:
        return self.rows.get(str(RowKey(RowKind.FIELD, field)))

    def _field(self, field: Field) -> str:
        return self._words(self._row(field), "text")

    def _words(self, row: KeyedRow | None, box: str) -> str:
        if row is not None:
            with self.problems.at(row.place(box)):
                return words_in(row.box(box))
        return ""

    def _day(self, row: KeyedRow | None, box: str) -> date | None:
        if row is not None:
            with self.problems.at(row.place(box)):
                found = day_in(row.box(box))
                if found is not None and found > self.day:
                    wrong = f"{found:%d %b %Y} is still to come"
                    raise BadInput(Problem("", wrong, "the day on which it was measured"))
                return found
        return None

    def _signed(self, row: KeyedRow | None, above: Signed) -> Signed:
        """Who and when of an assembly; what it leaves empty holds from the top."""
        return Signed(
            self._words(row, "who") or above.who,
            self._day(row, "when") or above.when or self.day,
        )

    def _check_job(self) -> None:
        number, job = self._field(Field.JOB), self.path.bench.job.number
        row = self._row(Field.JOB)
        if row is not None and number and normal_number(number) != normal_number(job):
            self.problems.add(
                row.place("text"),
                f"the sheet is of job {number}, and this is job {job}",
                "load it to the job that it is of",
            )

    def _findings(self, assembly: Assembly, signed: Signed) -> Iterator[Finding]:
        planned: dict[str, list[Planned]] = {}
        for each in self.plan:
            if each.assembly == assembly:
                planned.setdefault(each.position.key, []).append(each)
        for features in planned.values():
            keys = {each.feature.key for each in features}
            rows = [
                row
                for row in self.rows.values()
                if row.key.kind in {RowKind.READ, RowKind.PLAN} and row.key.name in keys
            ]
            finding = finding_of(
                features[0].position,
                rows,
                signed,
                self.path.family,
                self.file,
                self.problems,
                self.noted.warnings,
            )
            if finding is not None:
                yield finding

    def _figures(self, finding: Finding) -> Iterator[BuildFigure]:
        if not finding.who:
            self.problems.add(
                finding.place,
                "figures without a name: a build record is signed",
                "write who measured at the top of the first sheet, or beside the assembly",
            )
            return
        for reading in finding.readings:
            yield BuildFigure(
                feature=reading.feature,
                station=reading.station,
                direction=reading.direction,
                text=reading.text,
                value=reading.value,
                instrument=reading.instrument,
                who=finding.who,
                when=finding.when or self.day,
                place=finding.place,
            )

    def _strays(self) -> None:
        """Refuse or warn of whatever stands outside the boxes."""
        known: set[str] = set()
        shown: set[str] = set()
        plan = frozenset({Column.LIMITS})
        for assembly, blocks in self.blocks.items():
            known |= {str(line.key) for block in blocks for line in block}
            shown |= texts_of(blocks)
            for _ in stray_in_rows(assembly, blocks, self.sheets, self.rows, self.noted, plan):
                continue
            for line in (line for block in blocks for line in block):
                self._compare_plan(line)
        check_keys(known, self.rows, self.noted)
        for _ in stray_in_print(self.sheets.printed, shown, self.noted):
            continue
        for stray in self.sheets.strays:
            self.noted.stray(stray.place, stray.cell)

    def _compare_plan(self, line: Line) -> None:
        """Warn where the plan on the sheet is not the plan of today."""
        row = self.rows.get(str(line.key))
        if row is None or line.key.kind not in {RowKind.READ, RowKind.PLAN}:
            return
        shown = line.cells.get(Column.LIMITS)
        now = " ".join(shown.text.split()) if shown else ""
        there = " ".join(str(row.cells[Column.LIMITS].value or "").split())
        if there != now:
            printed = shorten(there, _SHOWN, placeholder=" …")
            self.noted.warnings.append(
                f"{place_of(row.sheet, row.cells[Column.LIMITS])}: '{printed}' is not the plan "
                f"of today ('{now}'); the figures are held against today's"
            )
