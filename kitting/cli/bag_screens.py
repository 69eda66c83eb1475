"""The bags of a job as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.cli.job import job_heading
from kitting.cli.screen import paragraph, table
from kitting.job.bags import WaitsFor
from kitting.job.hand import Source

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kitting.job.bags import Bag, Wait
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath

_OF_A_LINE = frozenset({WaitsFor.PARTS, WaitsFor.ORDER, WaitsFor.HELD, WaitsFor.MEASURING})
_CLOSED = (
    "The job is closed and nothing more is bought for it: what a bag waits for below was not in "
    "hand when it was closed."
)


def bags_text(path: JobPath, bags: Sequence[Bag], *, whole: bool = False) -> str:
    """Each bag in build order: whether its stage can start, and what it waits for."""
    rows = [
        (str(bag.number), bag.stage, str(len(bag.lines)), _in_hand(path, bag), bag.sentence)
        for bag in bags
    ]
    parts = [job_heading(path)]
    if path.bench.job.closed:
        parts.append(paragraph(_CLOSED))
    if not rows:
        parts.append("No bags: the kit has no line yet.")
    else:
        parts.append(table(("bag", "stage", "lines", "in hand", "today"), rows, right="023"))
    parts += [_bag(path, bag, whole=whole) for bag in bags]
    left = path.hand.left_over(path.kit)
    if left:
        said = [
            paragraph(f"- {each.quantity} × {each.part}, for {each.position}, {each.source}", 2, 2)
            for each in left
        ]
        parts.append("\n".join(("In hand, and no longer asked for:", *said)))
    coming = [
        paragraph(f"- {each.quantity} × {each.part}, for {each.position}, {each.place}", 2, 2)
        for line in path.kit.lines
        for each in path.hand.too_many(line)
    ]
    if coming:
        parts.append("\n".join(("On order, and no longer asked for: cancel in time:", *coming)))
    return "\n\n".join(part for part in parts if part)


def _in_hand(path: JobPath, bag: Bag) -> str:
    return str(sum(1 for line in bag.lines if not path.hand.missing(line)))


def _bag(path: JobPath, bag: Bag, *, whole: bool) -> str:
    if bag.can_start and not whole:
        return ""
    lines = [paragraph(f"Bag {bag.number}, {bag.stage}: {bag.sentence}", hang=2)]
    if whole:
        lines += [paragraph(_line(path, line), 2, 2) for line in bag.lines]
    lines += [paragraph(f"- {_wait(wait)}", 2, 2) for wait in bag.waits]
    return "\n".join(lines)


def _wait(wait: Wait) -> str:
    if wait.why in _OF_A_LINE:
        return f"{wait.key} {wait.because.says}"
    return f"{wait.why}: {wait.because.says}"


def _line(path: JobPath, line: KitLine) -> str:
    part = line.part or "no part"
    have = path.hand.count(line)
    shelf = path.hand.count(line, Source.SHELF)
    said = f"{line.key}  {line.quantity} × {part}, {line.text}: {have} in hand"
    said += f", {shelf} of them from the shelf" if shelf else ""
    unproven = sum(each.quantity for each in path.hand.to_prove(line))
    return said + (f", {unproven} here to be measured" if unproven else "")
