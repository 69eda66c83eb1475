"""The demo's path on one page that a person reads in a minute."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from kitting.catalog.model import Verdict
from kitting.catalog.rules import Then
from kitting.cli.estimate_screens import totals_text
from kitting.cli.job import job_heading, readiness_text
from kitting.cli.screen import paragraph, table

if TYPE_CHECKING:
    from kitting.job.path import JobPath

_TOLD = (Verdict.WRONG_PART, Verdict.RENEW, Verdict.REWORK, Verdict.RECHECK)


def demo_page(first: JobPath, second: JobPath) -> list[str]:
    """The parts of the page, in the order of the job's path."""
    return [
        job_heading(second),
        _strip(first),
        _verdicts(first),
        _open(first, second),
        _sizes(second),
        _kit(second),
        "5. ESTIMATE\n" + totals_text(second.estimate),
    ]


def _strip(path: JobPath) -> str:
    readings = sum(len(finding.readings) for finding in path.bench.findings)
    seen = sum(len(finding.seen) for finding in path.bench.findings)
    return paragraph(
        f"1. STRIP: {len(path.bench.findings)} findings in {len(path.bench.stripped)} assemblies, "
        f"{readings} readings, {seen} observations, read back from the strip sheet.",
        hang=3,
    )


def _verdicts(path: JobPath) -> str:
    counted = Counter(str(each.verdict) for each in path.verdicts.positions)
    tally = ", ".join(f"{count} {name}" for name, count in counted.most_common())
    rows = [
        (str(each.verdict), each.position.name, _short(str(each.because[0])))
        for verdict in _TOLD
        for each in path.verdicts.positions
        if each.verdict is verdict
    ]
    demands = path.demands
    follows = (
        f"From that follow {len(demands.of(Then.RENEW))} renewals in all, "
        f"{len(demands.of(Then.OPERATION))} operations and {len(demands.of(Then.CHECK))} checks."
    )
    return "\n".join(
        (f"2. VERDICTS: {tally}.", "", table(("verdict", "position", "because"), rows), "", follows)
    )


def _short(text: str) -> str:
    """The sentence up to its advice or source, so that a row stays short."""
    return text.partition("; ")[0].partition(" (")[0]


def _open(first: JobPath, second: JobPath) -> str:
    before = readiness_text(first.kit.readiness)
    after = second.kit.readiness.sentence
    return f"{before}\n\nAfter a second look and the owner's word on the valve: {after}"


def _sizes(path: JobPath) -> str:
    rows = [
        (
            choice.table.name,
            choice.present.name if choice.present else "?",
            choice.parts_likely.name if choice.parts_likely else "none",
            choice.parts_worst.name if choice.parts_worst else "none",
            f"hold until {choice.hold_until}" if choice.hold else "",
        )
        for choice in path.sizes.choices
    ]
    return "3. SIZES\n" + table(("size of", "now", "likely", "worst case", "buying"), rows)


def _kit(path: JobPath) -> str:
    kit = path.kit
    held = [line for line in kit.lines if line.hold]
    changed = [line for line in kit.lines if line.part and line.named and line.part != line.named]
    lines = [
        f"4. KIT: {len(kit.lines)} lines in {len({line.stage for line in kit.lines})} bags, "
        f"{len(held)} held, {len(kit.work)} operations for the machinist."
    ]
    lines += [
        paragraph(f"- {line.named} is answered today by {line.part}: {line.name}", indent=3, hang=2)
        for line in changed
    ]
    lines += [paragraph(f"- {chosen.because.says}", indent=3, hang=2) for chosen in kit.sets]
    lines += [
        paragraph(
            f"- {line.quantity} × {line.text}: {line.key}, may become {line.worst_grade}",
            indent=3,
            hang=2,
        )
        for line in held
    ]
    return "\n".join(lines)
