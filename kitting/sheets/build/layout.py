"""What stands where on a build sheet: a block a position, a box a figure, the plan beside it.

The same rows, columns and hidden keys as on a strip sheet, so that both are drawn and read alike.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from kitting.sheets.strip.keys import PRINTED, Column, Field, RowKey, RowKind
from kitting.sheets.strip.layout import Line, Look, Shown, feature_lines, wrapped
from kitting.sheets.strip.limits import band

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from kitting.catalog.model import Assembly
    from kitting.job.build import Planned
    from kitting.job.findings import Job
    from kitting.sheets.strip.layout import Block

_HOW_TO = (
    "Write in the yellow boxes only, as the instrument reads; another unit may be written with it. "
    "A figure that looks impossible and is right gets an exclamation mark. Names and days lower "
    "down are needed only where they differ from these.",
)
_AIDS = (
    "The figures are aids: the maker's manual and a competent engineer come first. Nothing runs "
    "before its critical figures are here.",
)


def build_blocks(plan: Sequence[Planned], job: Job) -> Mapping[Assembly, tuple[Block, ...]]:
    """The blocks of each assembly's sheet, in build order; the first sheet is signed at its top."""
    sheets: dict[Assembly, tuple[Block, ...]] = {}
    for assembly, planned in groupby(plan, key=lambda each: each.assembly):
        head = () if sheets else (_cover(job),)
        sheets[assembly] = (*head, _signed(assembly), *_positions(tuple(planned)))
    return sheets


def plan_lines(planned: Planned) -> tuple[str, ...]:
    """The limits of a figure and what they follow, a line each."""
    unit = planned.feature.unit
    limits = band(planned.limits.low, planned.limits.high, unit, "plan ")
    settled = "" if planned.settled else "size not settled yet"
    return tuple(line for line in (limits or "no limit", planned.basis, settled) if line)


def _cover(job: Job) -> Block:
    labels = (
        (Field.JOB, "Job number", job.number),
        (Field.WHO, "Who builds and measures", ""),
        (Field.WHEN, "Day", ""),
    )
    lines = [
        Line(
            RowKey(RowKind.FIELD, field),
            {
                Column.WHAT: Shown(label),
                Column.LIMITS: Shown(text, Look.DAY if field is Field.WHEN else Look.WIDE),
            },
        )
        for field, label, text in labels
    ]
    told = [line for text in (*_HOW_TO, *_AIDS) for line in wrapped(text, Look.FAINT)]
    return (*lines, *told)


def _signed(assembly: Assembly) -> Block:
    return (
        *wrapped(assembly.caution, Look.CAUTION, 100),
        Line(
            RowKey(RowKind.SIGNED, assembly.key),
            {
                Column.WHAT: Shown(f"{assembly.name}: measured"),
                Column.SECOND: Shown("by, on", Look.FAINT_RIGHT),
                Column.THIRD: Shown("", Look.WIDE),
                Column.TOOL: Shown("", Look.DAY),
            },
        ),
    )


def _positions(plan: Sequence[Planned]) -> Iterator[Block]:
    for position, planned in groupby(plan, key=lambda each: each.position):
        lines = [
            Line(
                PRINTED,
                {
                    **{column: Shown("", Look.BAND) for column in Column},
                    Column.WHAT: Shown(position.name, Look.BAND),
                },
            )
        ]
        if position.caution:
            lines.extend(wrapped(f"Caution: {position.caution}", Look.CAUTION, 100))
        for each in planned:
            lines.extend(feature_lines(each.feature, plan_lines(each)))
        yield tuple(lines)
