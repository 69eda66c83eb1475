"""That what lines a bearing closes: walls grow by half the step, lined bores, clearances."""

from kitting.catalog.bands import (
    Band,
    differences,
    finish_of,
    printed_clearance,
    printed_lined,
    table_clearance,
    wall_of,
    worked_clearance,
    worked_lined,
)
from kitting.catalog.check_notes import Notes
from kitting.catalog.size_tables import Grade, SizeTable


def grade_row(grade: Grade) -> tuple[str, str]:
    """The row that a grade stands in."""
    return ("grades", f"{grade.table}/{grade.key}")


def closes(table: SizeTable, grade: Grade) -> bool:
    """Whether a row proves itself: its clearance, as printed, is what its other figures give."""
    worked, lined = worked_clearance(table, grade), worked_lined(table, grade)
    printed = printed_clearance(grade) or table_clearance(table)
    if worked is None or printed is None or worked != printed:
        return False
    return lined is None or printed_lined(grade) in {None, lined}


def check_walls(table: SizeTable, standard: Grade, notes: Notes) -> None:
    """A shell's wall grows by half the step, half steps too, unless the row closes without."""
    first = wall_of(standard)
    if first is None:
        return
    for grade in table.grades:
        wall = wall_of(grade)
        if wall is None or (worked_lined(table, grade) is not None and closes(table, grade)):
            continue
        growth, half = differences(wall, first), grade.step.half()
        if growth == (half, half):
            continue
        full = growth == (grade.step, grade.step)
        grown = f"the wall grows by {growth[0].to(table.unit)}"
        notes.fault(
            grade_row(grade),
            "wall_low",
            f"{grown}, the full step, there being a wall on either side"
            if full
            else f"the wall {wall} does not grow from {first} by half the step {grade.step}",
            f"{Band(first.low + half, first.high + half)} would be half the step",
        )


def check_lined(table: SizeTable, notes: Notes) -> None:
    """The lined bore is the housing less two walls, or the two give one housing at all grades."""
    housing_by: tuple[str, Band] | None = None
    for grade in table.grades:
        printed, wall = printed_lined(grade), wall_of(grade)
        if printed is None or wall is None:
            continue
        worked = worked_lined(table, grade)
        if worked is None:
            housing = Band(printed.low + wall.high * 2, printed.high + wall.low * 2)
            housing_by = housing_by or (grade.key, housing)
            if housing != housing_by[1]:
                notes.fault(
                    grade_row(grade),
                    "lined_low",
                    f"lined bore and two walls make a housing of {housing}, and at "
                    f"'{housing_by[0]}' one of {housing_by[1]}",
                    "the housing does not change from grade to grade: look at bore and wall",
                )
        elif worked != printed:
            notes.fault(
                grade_row(grade),
                "lined_low",
                f"the lined bore {printed} is not the housing less two walls",
                f"{worked} would be",
            )


def check_clearance(table: SizeTable, notes: Notes) -> None:
    """The clearance is the lined bore less the journal, at both ends."""
    whole = table_clearance(table)
    for grade in table.grades:
        worked, printed = worked_clearance(table, grade), printed_clearance(grade)
        if worked is None or finish_of(grade) is None:
            continue
        row = grade_row(grade)
        if worked.low.base < 0:
            notes.fault(
                row,
                "finish_high",
                f"the greatest journal does not go into the least lined bore: {worked.low}",
                "look at finish_high, lined_low and the walls",
            )
        elif printed is not None and worked != printed:
            notes.fault(
                row,
                "clearance_low",
                f"the clearance {printed} is not the lined bore less the journal",
                f"{worked} would be",
            )
        elif printed is None and whole is not None and not _within(worked, whole):
            notes.fault(
                row,
                "clearance_low",
                f"the lined bore less the journal is {worked}, outside the table's {whole}",
                "look at finish, lined bore and walls",
            )


def _within(inner: Band, outer: Band) -> bool:
    return outer.low <= inner.low and inner.high <= outer.high
