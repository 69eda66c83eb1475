"""The words that several sheets share: which engine, which day, what is open, what is held."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from datetime import date

    from kitting.job.because import Because
    from kitting.job.findings import Job
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath
    from kitting.job.readiness import OpenPoint


def day_text(day: date) -> str:
    """A day as people write it."""
    return f"{day.day} {day:%B %Y}"


def engine_facts(path: JobPath) -> tuple[tuple[str, str], ...]:
    """Which engine it is, without saying whose."""
    variant = path.family.variant_by_key[path.bench.job.variant]
    return (
        ("Engine", f"{path.family.name}, {variant.name} ({variant.years})"),
        ("Engine number", path.bench.job.engine_number),
    )


def open_point_text(point: OpenPoint) -> str:
    """What is open, where, and why it is asked."""
    return f"{point.where}: {point.why}. {sentence(point.because.says)}"


def sentence(text: str) -> str:
    """A text begun with a capital and ended with a stop."""
    begun = text[:1].upper() + text[1:]
    return begun if begun.endswith((".", "!", "?")) else f"{begun}."


def shown_grade(line: KitLine) -> str:
    """The grade of a line, and what it becomes at worst where that is held open."""
    if line.hold:
        return f"{line.grade or 'not settled'}, or at worst {line.worst_grade}"
    return line.grade


def held_reasons(path: JobPath) -> Iterator[str]:
    """Why parts are held, from the sizes that they follow; the last reason says it whole."""
    for choice in path.sizes.choices:
        if choice.hold and choice.because:
            yield sentence(choice.because[-1].says)


def telling(because: Because) -> str:
    """The first step of a chain that says more than which verdict it was."""
    step = because
    while step.after and not step.rule and not step.source:
        step = step.after[0]
    return step.says


def chain_text(reasons: Iterable[Because]) -> str:
    """Chains of reasons, a line each, each step further in than what it explains; none twice."""
    lines = (
        f"{'    ' * depth}{'← ' if depth else ''}{step}"
        for reason in reasons
        for depth, step in reason.steps()
    )
    return "\n".join(dict.fromkeys(lines))


def position_names(path: JobPath, keys: Iterable[str]) -> str:
    """The names of positions, in one line."""
    return ", ".join(path.family.position_by_key[key].name for key in keys)


def names_customer(text: str, job: Job) -> bool:
    """Whether a note gives away whose engine it is, by any word of the customer's name."""
    said = set(re.findall(r"\w+", text.casefold()))
    return any(
        len(word) > 2 and word in said for word in re.findall(r"\w+", job.customer.casefold())
    )


def supplier_name(path: JobPath, key: str) -> str:
    """A supplier's or a machinist's name, or the key where the trade has no such row."""
    supplier = path.trade.supplier_by_key.get(key)
    return supplier.name if supplier else key


def file_word(text: str) -> str:
    """A text as part of a file's name: letters, digits and dashes only."""
    return re.sub(r"[^0-9A-Za-z]+", "-", text).strip("-").lower() or "x"
