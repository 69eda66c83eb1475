"""The grade that a journal or bore is at now, told from its least worn place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.engineering.grades import Grade as Finished
from kitting.engineering.regrind import find_present

if TYPE_CHECKING:
    from kitting.catalog.model import Feature
    from kitting.catalog.size_tables import Grade, SizeTable
    from kitting.job.findings import Reading
    from kitting.job.settings import Settings


def finished_grades(table: SizeTable) -> tuple[Finished, ...]:
    """The machined grades of a table, as the sums take them; named by their keys."""
    return tuple(
        Finished(grade.key, grade.finish_low, grade.finish_high)
        for grade in table.machined
        if grade.finish_low is not None and grade.finish_high is not None
    )


def present_grade(
    table: SizeTable, feature: Feature, readings: tuple[Reading, ...], settings: Settings
) -> tuple[Grade, str]:
    """Return the grade that the readings show the metal to be at, and how that was told.

    A shaft only wears smaller, so its greatest reading tells; a bore only wears larger, so its
    least reading does.
    """
    uncertainty = max(settings.uncertainty_of(reading, feature) for reading in readings)
    values = [reading.value for reading in readings]
    if table.kind == "shaft":
        found, because = find_present(finished_grades(table), max(values), uncertainty)
        return table.grade(found.name), because
    least = min(values)
    machined = sorted(table.machined, key=lambda grade: grade.sequence)
    fitting = [
        grade
        for grade in machined
        if grade.finish_low is not None and grade.finish_low <= least + uncertainty
    ]
    grade = fitting[-1] if fitting else machined[0]
    return (
        grade,
        f"'{grade.name}' is the largest grade from which the least reading {least} can have worn",
    )
