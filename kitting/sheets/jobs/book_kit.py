"""The job book's sheets of the kit: what follows, the lines, why each, the sets, the advice."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.sheets.page import Column, Kind, Row
from kitting.sheets.tables import Table
from kitting.sheets.words import chain_text, position_names

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath


def demand_table(path: JobPath) -> Table:
    """All that the findings lead to: renewals, work, checks, advice."""
    columns = (
        Column("Demanded", 11),
        Column("Of", 30),
        Column("Work", 22),
        Column("Because", 100),
    )
    operations = path.trade.operation_by_key
    rows = tuple(
        (
            str(demand.then),
            path.family.position_by_key[demand.position].name,
            operations[demand.operation].name if demand.operation else "",
            chain_text(demand.reasons),
        )
        for demand in path.demands.demands
    )
    return Table("What follows", "What the findings and verdicts lead to", columns, rows)


def kit_table(path: JobPath) -> Table:
    """The kit, a line a part."""
    columns = (
        Column("Line", 7, Kind.NUMBER),
        Column("Bag", 18),
        Column("Quantity", 8, Kind.COUNT),
        Column("Part", 32),
        Column("Size", 16),
        Column("Buy", 19, Kind.NUMBER),
        Column("Parts list says", 19, Kind.NUMBER),
        Column("Goes to", 36),
        Column("Held", 7, Kind.MARK),
        Column("At worst: size", 16),
        Column("At worst: buy", 19, Kind.NUMBER),
        Column("In the set", 19, Kind.NUMBER),
        Column("Trouble", 26),
    )
    rows = tuple(_kit_row(path, line) for line in path.kit.lines)
    return Table("Kit", path.kit.readiness.sentence, columns, rows)


def _kit_row(path: JobPath, line: KitLine) -> Row:
    return (
        line.key,
        line.stage,
        line.quantity,
        line.name,
        line.grade,
        str(line.part or ""),
        str(line.named or ""),
        position_names(path, line.positions),
        "held" if line.hold else "",
        line.worst_grade,
        str(line.worst_part or ""),
        str(line.covered_by or ""),
        "; ".join(filter(None, (line.problem, *line.wrong_in_data))),
    )


def why_table(path: JobPath) -> Table:
    """The chains of reasons behind each line: one step a row, nearest first."""
    columns = (
        Column("Line", 7, Kind.NUMBER),
        Column("Part", 30),
        Column("Question", 14),
        Column("Step", 6, Kind.COUNT),
        Column("Because", 84),
        Column("Source", 28),
        Column("Rule", 24, Kind.NUMBER),
    )
    rows = tuple(row for line in path.kit.lines for row in _why_rows(line))
    return Table("Why", "Why each line is needed, and why that number", columns, rows)


def _why_rows(line: KitLine) -> Iterator[Row]:
    for question, reasons in (("why needed", line.needed), ("why this one", line.chosen)):
        for reason in reasons:
            for depth, step in reason.steps():
                yield (
                    line.key,
                    line.name,
                    question,
                    depth + 1,
                    step.says,
                    step.source,
                    step.rule,
                )


def set_table(path: JobPath) -> Table:
    """The sets taken, what they cover and what they leave over."""
    columns = (
        Column("Set", 20, Kind.NUMBER),
        Column("Name", 34),
        Column("Covers lines", 40, Kind.NUMBER),
        Column("Left over", 40, Kind.NUMBER),
        Column("Saves", 12, Kind.AMOUNT, "#,##0.00"),
        Column("Because", 60),
    )
    rows = tuple(
        (
            str(chosen.set),
            path.family.part_by_number[chosen.set].name,
            ", ".join(key for key, _ in chosen.covers),
            ", ".join(f"{count} × {part}" for part, count in chosen.surplus),
            chosen.saves,
            str(chosen.because),
        )
        for chosen in path.kit.sets
    )
    return Table("Sets", "One number in place of several", columns, rows)


def advice_table(path: JobPath) -> Table:
    """What the rebuilder is told besides."""
    columns = (Column("Of", 32), Column("Advice", 110))
    rows = tuple(
        (path.family.position_by_key[advice.position].name, chain_text(advice.because))
        for advice in path.kit.advice
    )
    return Table("Advice", "What else to bear in mind", columns, rows)
