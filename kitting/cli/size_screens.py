"""The size choices of a job as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.catalog.nearest import nearest
from kitting.cli.job import job_heading, readiness_text
from kitting.cli.screen import chain, paragraph, table
from kitting.cli.suit_screens import suit_reasons, suits_text
from kitting.errors import NotFound

if TYPE_CHECKING:
    from kitting.catalog.size_tables import Grade
    from kitting.job.machining import MachinedFeature
    from kitting.job.path import JobPath
    from kitting.job.sizes import SizeChoice

_CAUTION = (
    "Figures are aids: the maker's manual and a competent engineer come first. Crack-test what "
    "rotates before money is spent on it."
)


def sizes_text(path: JobPath) -> str:
    """Every size choice in a table, then its sums."""
    rows = [
        (
            choice.table.name,
            _name(choice.present),
            _parts(choice, choice.parts_likely),
            _parts(choice, choice.parts_worst),
            f"hold until {choice.hold_until}" if choice.hold else "",
        )
        for choice in path.sizes.choices
    ]
    sums = [
        paragraph(f"- {reason.says}", indent=2, hang=2)
        for choice in path.sizes.choices
        if choice.machined or choice.unsettled
        for reason in choice.because
    ]
    parts = [
        job_heading(path),
        table(("size of", "now", "likely", "worst case", "buying"), rows) if rows else "No sizes.",
        "\n".join(sums),
        suits_text(path.sizes),
        readiness_text(path.kit.readiness),
        paragraph(_CAUTION),
    ]
    return "\n\n".join(part for part in parts if part)


def _name(grade: Grade | None) -> str:
    return grade.name if grade else "?"


def _parts(choice: SizeChoice, grade: Grade | None) -> str:
    if grade is None:
        return "none" if choice.machined else "?"
    return grade.name


def size_reasons(path: JobPath, key: str) -> str:
    """Every grade of one table and why it does or does not do."""
    choice = path.sizes.by_table.get(key)
    if choice is None:
        known = {table.key for table in path.family.size_tables}
        raise NotFound("size choice in this job", key, nearest(key, known, 3))
    parts = [job_heading(path), f"{choice.table.name}: {choice.basis}\n{chain(choice.because)}"]
    for each in choice.machined.features if choice.machined else ():
        parts.append(_grades(choice, each))
    parts.append(suit_reasons(path.sizes, key))
    return "\n\n".join(part for part in parts if part)


def _grades(choice: SizeChoice, each: MachinedFeature) -> str:
    says = {"even": "evenly worn only", "one_sided": "either way", "no": "no"}
    rows = [
        (choice.table.grade(row.name).name, says[row.cleans_up], row.because) for row in each.grades
    ]
    form = each.form
    figures = (
        f"{each.feature.name}: {form.least} to {form.greatest}, ovality {form.ovality}, "
        f"taper {form.taper}"
    )
    return f"{paragraph(figures)}\n\n{table(('grade', 'cleans up', 'because'), rows)}"
