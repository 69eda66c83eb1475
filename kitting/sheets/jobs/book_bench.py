"""The job book's sheets of the bench: findings, verdicts and sizes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.sheets.page import Column, Kind, Row
from kitting.sheets.tables import Table
from kitting.sheets.words import chain_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.job.findings import Finding
    from kitting.job.path import JobPath
    from kitting.job.sizes import SizeChoice


def findings_table(path: JobPath) -> Table:
    """Every reading, sight and note of the bench, a line each."""
    columns = (
        Column("Assembly", 18),
        Column("Position", 28),
        Column("What", 32),
        Column("Station", 10),
        Column("Direction", 9),
        Column("Found", 26, Kind.NUMBER),
        Column("With", 14),
        Column("By", 14),
        Column("On", 11, Kind.DAY),
        Column("Written at", 30),
    )
    rows = tuple(row for finding in path.bench.findings for row in _finding_rows(path, finding))
    return Table("Findings", "What the bench measured and saw", columns, rows)


def _finding_rows(path: JobPath, finding: Finding) -> Iterator[Row]:
    position = path.family.position_by_key[finding.position]
    where = (path.family.assembly_by_key[position.assembly].name, position.name)
    tail = (finding.who, finding.when, finding.place)
    for reading in finding.readings:
        name = path.family.feature_by_key[reading.feature].name
        yield (
            *where,
            name,
            reading.station,
            reading.direction,
            str(reading.value),
            reading.instrument,
            *tail,
        )
    for what, found in _words(path, finding):
        yield (*where, what, "", "", found, "", *tail)


def _words(path: JobPath, finding: Finding) -> Iterator[tuple[str, str]]:
    for seen in finding.seen:
        amount = f", {seen.amount}" if seen.amount is not None else ""
        yield path.family.observation_by_key[seen.observation].name, f"{seen.grade}{amount}"
    if finding.fitted is not None:
        if finding.fitted.number:
            yield "number on the part fitted", finding.fitted.number
        for name, value in (finding.fitted.attributes or {}).items():
            yield f"{name} of the part fitted", value
    if finding.sound:
        yield "looked at", "sound"
    if finding.note:
        yield "note", finding.note


def verdict_table(path: JobPath) -> Table:
    """What follows for each position, and why."""
    columns = (
        Column("Assembly", 18),
        Column("Position", 28),
        Column("Verdict", 12),
        Column("Work", 20),
        Column("Because", 80),
        Column("Still undecided", 36),
        Column("Rules said", 12),
    )
    operations = path.trade.operation_by_key
    rows = tuple(
        (
            path.family.assembly_by_key[verdict.position.assembly].name,
            verdict.position.name,
            str(verdict.verdict),
            ", ".join(operations[key].name for key in verdict.operations),
            chain_text(verdict.because),
            chain_text(verdict.undecided),
            str(verdict.ruled or ""),
        )
        for verdict in path.verdicts.positions
    )
    return Table("Verdicts", "What follows for each position", columns, rows)


def size_table(path: JobPath) -> Table:
    """The grade decided for each size table, with its sums."""
    columns = (
        Column("Size", 26),
        Column("Rests on", 14),
        Column("Now", 15),
        Column("Likely", 15),
        Column("At worst", 15),
        Column("Half step", 15),
        Column("Held", 7, Kind.MARK),
        Column("Sums and reasons", 84),
        Column("Source", 26),
    )
    rows = tuple(_size_row(choice) for choice in path.sizes.choices)
    return Table("Sizes", "The grade of each size, likely and at worst", columns, rows)


def _size_row(choice: SizeChoice) -> Row:
    grades = (choice.present, choice.likely, choice.worst, choice.half_step)
    return (
        choice.table.name,
        str(choice.basis),
        *(grade.name if grade else "" for grade in grades),
        "held" if choice.hold else "",
        "\n".join(because.says for because in choice.because),
        choice.table.source,
    )
