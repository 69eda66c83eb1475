"""The build record as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.cli.job import job_heading
from kitting.cli.screen import paragraph, table
from kitting.job.assess import State
from kitting.job.build import where

if TYPE_CHECKING:
    from kitting.job.build import BuildLine, BuildRecord
    from kitting.job.build_figures import BuildFigure, Closing
    from kitting.job.path import JobPath

_CAUTION = (
    "Figures are aids: the maker's manual and a competent engineer come first. Nothing runs before "
    "its critical figures are here."
)


def build_text(
    path: JobPath,
    record: BuildRecord,
    closing: Closing | None,
    words: str = "",
    *,
    only_open: bool = False,
) -> str:
    """Each figure against its plan, in build order; then what stands in the way of closing."""
    chosen = [
        (line, row)
        for line in record.lines
        for row in _rows(line)
        if words.casefold() in " ".join((*row, line.planned.feature.key)).casefold()
        and not (only_open and line.state is State.GOOD and line.is_complete)
    ]
    parts = [job_heading(path)]
    for name in dict.fromkeys(line.planned.assembly.name for line, _ in chosen):
        rows = [row for line, row in chosen if line.planned.assembly.name == name]
        headings = ("verdict", "what", "figure", "plan", "who")
        parts.append(f"{name}\n" + table(headings, rows))
    if not chosen:
        parts.append("Nothing to measure here.")
    parts.append(paragraph(record.sentence))
    parts.extend(_reasons(record))
    if closing is not None:
        note = f": {closing.note}" if closing.note else ""
        parts.append(paragraph(f"Closed by {closing.who} on {closing.when:%d %b %Y}{note}"))
    parts.append(paragraph(_CAUTION))
    return "\n\n".join(parts)


def line_text(line: BuildLine) -> str:
    """One figure: the verdict and why."""
    says = "; ".join(str(test.because()) for test in line.tests) or line.planned.feature.name
    return paragraph(f"{line.state}: {says}", hang=2)


def missing_text(line: BuildLine) -> str:
    """Which places of a figure are missing."""
    places = [where(*place) for place in line.missing]
    return ", ".join(filter(None, places)) or "the figure"


def _rows(line: BuildLine) -> list[tuple[str, ...]]:
    planned = line.planned
    name = planned.feature.name + (" (critical)" if planned.feature.critical else "")
    settled = "" if planned.settled else " (not settled yet)"
    plan = f"{planned.limits}, {planned.basis}{settled}"
    decided = {test.what: test.decision for test in line.tests}
    rows: list[tuple[str, ...]] = [
        (
            str(decided.get(_what(line, figure), line.state)),
            " ".join(filter(None, (name, where(figure.station, figure.direction)))),
            figure.text,
            plan,
            f"{figure.who}, {figure.when:%d %b}",
        )
        for figure in line.figures
    ]
    if line.missing:
        at = "" if missing_text(line) == "the figure" else f": {missing_text(line)}"
        rows.append((str(State.NOT_MEASURED), f"{name}{at}", "", plan, ""))
    return rows


def _what(line: BuildLine, figure: BuildFigure) -> str:
    place = where(figure.station, figure.direction)
    return f"{line.planned.feature.name}, {place}:" if place else f"{line.planned.feature.name}:"


def _reasons(record: BuildRecord) -> list[str]:
    lines = [
        paragraph(f"- {line.planned.feature.name}: {missing_text(line)} missing", 2, 2)
        for line in record.wanting
    ]
    lines += [
        paragraph(f"- {test.because()}", 2, 2)
        for line in record.bad
        for test in line.tests
        if test.decision == "bad"
    ]
    return ["\n".join(("In the way of closing the job:", *lines))] if lines else []
