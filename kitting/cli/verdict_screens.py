"""The verdicts of a job as text."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from kitting.catalog.model import Verdict
from kitting.catalog.nearest import nearest
from kitting.catalog.rules import Then
from kitting.cli.job import job_heading, readiness_text
from kitting.cli.screen import chain, paragraph, table
from kitting.errors import NotFound

_RENEWED = {Verdict.RENEW, Verdict.WRONG_PART}

if TYPE_CHECKING:
    from kitting.job.path import JobPath
    from kitting.job.verdicts import PositionVerdict


def verdicts_text(path: JobPath, assembly: str, verdict: str) -> str:
    """All verdicts in a table, then what follows from them."""
    family = path.family
    if assembly and assembly not in family.assembly_by_key:
        raise NotFound("assembly", assembly, family.assembly_by_key)
    chosen = [
        each
        for each in path.verdicts.positions
        if assembly in {"", each.position.assembly} and verdict in {"", each.verdict}
    ]
    rows = [(each.position.name, _said(path, each), str(each.because[0])) for each in chosen]
    counted = Counter(str(each.verdict) for each in path.verdicts.positions)
    tally = ", ".join(f"{count} {name}" for name, count in counted.most_common())
    parts = [
        job_heading(path),
        table(("position", "verdict", "because"), rows) if rows else "No verdicts here.",
        f"{sum(counted.values())} positions: {tally}.",
        _follows(path) if not (assembly or verdict) else "",
        readiness_text(path.kit.readiness),
    ]
    return "\n\n".join(part for part in parts if part)


def _said(path: JobPath, each: PositionVerdict) -> str:
    said = str(each.verdict)
    if each.position.key in path.demands.renewed and each.verdict not in _RENEWED:
        said += ", yet renewed: see below"
    if each.operations:
        said += f": {', '.join(each.operations)}"
    return f"{said} (overruled)" if each.ruled is not None else said


def _follows(path: JobPath) -> str:
    judged = {each.position.key for each in path.verdicts.positions}
    renewed = [d for d in path.demands.of(Then.RENEW) if d.position not in judged]
    checks = path.demands.of(Then.CHECK)
    work = path.demands.of(Then.OPERATION)
    lines = [
        f"Follows from that: {len(renewed)} further renewals, {len(work)} operations, "
        f"{len(checks)} checks."
    ]
    for demand in (*work, *checks):
        name = path.family.position_by_key[demand.position].name
        what = demand.operation or demand.then
        lines.append(paragraph(f"- {what}: {name}; {demand.reasons[0]}", indent=2, hang=2))
    return "\n".join(lines)


def verdict_reasons(path: JobPath, position: str) -> str:
    """Everything that led to the verdict on one position, and what follows for it."""
    family = path.family
    if position not in family.position_by_key:
        raise NotFound("position", position, nearest(position, family.position_by_key, 3))
    name = family.position_by_key[position].name
    each = path.verdicts.by_position.get(position)
    parts = [job_heading(path)]
    if each is None:
        parts.append(f"{name}: no finding, so no verdict.")
    else:
        parts.append(f"{name}: {_said(path, each)}\n{chain(each.because)}")
        others = [opinion.because for opinion in each.opinions]
        parts.append(f"All that was said of it:\n{chain(others)}")
    demands = [d for d in path.demands.demands if d.position == position]
    for demand in demands:
        what = f"{demand.then} {demand.operation}".strip()
        parts.append(f"Demanded: {what}\n{chain(demand.reasons)}")
    return "\n\n".join(parts)
