"""The kit of a job as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.catalog.nearest import nearest
from kitting.cli.approval_screens import declined_text
from kitting.cli.job import job_heading, readiness_text
from kitting.cli.screen import chain, paragraph, table
from kitting.errors import NotFound
from kitting.job.hand import Source

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kitting.job.kit import Kit, KitLine
    from kitting.job.path import JobPath

_HEADINGS = ("line", "qty", "part", "what", "size", "note")


def kit_text(path: JobPath, words: str = "", *, held: bool = False) -> str:
    """The kit, a table a bag, then sets, machining and advice."""
    kit = path.kit
    chosen = [line for line in kit.lines if _wanted(path, line, words, held=held)]
    stages = dict.fromkeys(line.stage for line in chosen)
    tables = [
        f"Bag: {stage}\n"
        + table(_HEADINGS, [_row(path, line) for line in chosen if line.stage == stage], right="1")
        for stage in stages
    ]
    whole = not (words or held)
    parts = [
        job_heading(path),
        readiness_text(kit.readiness),
        *tables,
        _wrong_in_data((*chosen, *kit.possible) if whole else chosen),
        _possible(path) if whole else "",
        _sets(kit) if whole else "",
        _work(path) if whole else "",
        _advice(path) if whole else "",
        declined_text(path) if whole else "",
        f"{len(chosen)} of {len(kit.lines)} lines.",
    ]
    return "\n\n".join(part for part in parts if part)


def _wanted(path: JobPath, line: KitLine, words: str, *, held: bool) -> bool:
    everything = " ".join((line.key, *_row(path, line), line.stage, *line.positions))
    return words.casefold() in everything.casefold() and (line.hold or not held)


def _row(path: JobPath, line: KitLine) -> tuple[str, ...]:
    notes = []
    if line.problem:
        notes.append(line.problem)
    if line.wrong_in_data:
        notes.append("its links contradict each other")
    if line.hold:
        notes.append(f"hold until {line.hold_until}, may be {line.worst_grade}")
    if line.covered_by:
        notes.append(f"in set {line.covered_by.number}")
    if line.part and line.named and line.part != line.named:
        notes.append(f"for {line.named.number}")
    shelf, have = path.hand.count(line, Source.SHELF), path.hand.count(line)
    if shelf:
        notes.append(f"{shelf} from the shelf")
    if have > shelf:
        notes.append(f"{have - shelf} in hand")
    unproven = sum(each.quantity for each in path.hand.to_prove(line))
    if unproven:
        notes.append(f"{unproven} here to be measured")
    part = line.part.number if line.part else "—"
    return (line.key, str(line.quantity), part, line.name, line.grade, "; ".join(notes))


def _wrong_in_data(lines: Iterable[KitLine]) -> str:
    told = [
        paragraph(f"- {line.key} {line.text}: {wrong}", indent=2, hang=2)
        for line in lines
        for wrong in line.wrong_in_data
    ]
    head = "Wrong in the catalogue, look at how many and which before you buy:"
    return "\n".join((head, *told)) if told else ""


def _possible(path: JobPath) -> str:
    rows = [_row(path, line) for line in path.kit.possible]
    return "Only if a recheck says so:\n" + table(_HEADINGS, rows, right="1") if rows else ""


def _sets(kit: Kit) -> str:
    lines = [paragraph(f"- {chosen.because.says}", indent=2, hang=2) for chosen in kit.sets]
    return "\n".join(("Sets taken:", *lines)) if lines else ""


def _work(path: JobPath) -> str:
    operations = path.trade.operation_by_key
    lines = [
        paragraph(
            f"- {operations[work.operation].name}: "
            + ", ".join(path.family.position_by_key[key].name for key in work.positions),
            indent=2,
            hang=2,
        )
        for work in path.kit.work
    ]
    return "\n".join(("For the machinist:", *lines)) if lines else ""


def _advice(path: JobPath) -> str:
    lines = [
        paragraph(f"- {reason}", indent=2, hang=2)
        for advice in path.kit.advice
        for reason in advice.because
    ]
    return "\n".join(("Mind:", *dict.fromkeys(lines))) if lines else ""


def line_reasons(path: JobPath, key: str) -> str:
    """Why one line is needed, and why it is that number."""
    line = path.kit.by_key.get(key)
    if line is None:
        raise NotFound("kit line", key, nearest(key, path.kit.by_key, 3))
    part = f"{line.part}" if line.part else "no part"
    parts = [
        job_heading(path),
        f"Line {line.key}: {line.quantity} × {part}, {line.name} {line.grade}".rstrip(),
        f"Needed\n{chain(line.needed)}",
    ]
    if line.chosen:
        parts.append(f"This number\n{chain(line.chosen)}")
    if line.hold:
        parts.append(
            paragraph(f"Held: buy when the machinist has looked; it may be {line.worst_grade}.")
        )
    if line.problem:
        parts.append(paragraph(f"Problem: {line.problem}"))
    parts += [paragraph(f"Wrong in the catalogue: {wrong}") for wrong in line.wrong_in_data]
    return "\n\n".join(parts)
