"""That a size table closes: steps, walls, lined bores and clearances agree at every grade.

The sums (diameters, w = wall, H = housing bolted up):
lined least = H least - 2 w greatest, lined greatest = H greatest - 2 w least;
clearance least = lined least - journal greatest, clearance greatest = lined greatest - journal
least; a wall grows by half the step, for there is one on either side.
Sources: the published tables in `tests/published` close by these.
"""

from itertools import pairwise

from kitting.catalog.bands import Band, differences, finish_of
from kitting.catalog.check_lining import (
    check_clearance,
    check_lined,
    check_walls,
    closes,
    grade_row,
)
from kitting.catalog.check_notes import Notes
from kitting.catalog.family import Family
from kitting.catalog.size_tables import Grade, SizeKind, SizeTable

_PAIRS = ("finish", "wall", "lined", "clearance")


def check_tables(family: Family, notes: Notes) -> None:
    """Note every size table and grade that cannot be right."""
    for table in family.size_tables:
        check_table(table, notes)


def check_table(table: SizeTable, notes: Notes) -> None:
    """Note what cannot be right in one size table."""
    row = ("size_tables", table.key)
    _check_head(table, notes, row)
    standard = [grade for grade in table.machined if not grade.step]
    if len(standard) != 1:
        wrong = "there is no standard grade" if not standard else "two grades are standard"
        notes.fault(row, "key", f"{wrong} in {table.key}", "one grade has the step 0")
    if not _pairs_are_right(table, notes):
        return
    _check_order(table, notes)
    for grade in table.grades:
        _check_worn(table, grade, notes)
        _check_half_step(table, grade, notes)
    if len(standard) == 1:
        for grade in table.grades:
            _check_step(table, standard[0], grade, notes)
        check_walls(table, standard[0], notes)
    check_lined(table, notes)
    check_clearance(table, notes)


def _check_head(table: SizeTable, notes: Notes, row: tuple[str, str]) -> None:
    for low_name, low, high_name, high in (
        ("housing_low", table.housing_low, "housing_high", table.housing_high),
        ("clearance_low", table.clearance_low, "clearance_high", table.clearance_high),
        ("clearance_high", table.clearance_high, "clearance_limit", table.clearance_limit),
    ):
        if low is not None and high is not None and low > high:
            notes.fault(
                row,
                high_name,
                f"{low_name} {low} and {high_name} {high} are the wrong way round",
                "the smaller one first",
            )
    if (table.housing_low is None) != (table.housing_high is None):
        notes.fault(row, "housing_low", "a housing has two limits", "give both or neither")
    if table.stock.base < 0:
        notes.fault(row, "stock", f"the stock {table.stock} is below zero", "a plain amount")
    if len(table.machined) > 1 and not table.operation:
        notes.warn(
            row, "operation", f"no work is named that takes {table.key} to size", "name the work"
        )


def _pairs_are_right(table: SizeTable, notes: Notes) -> bool:
    before = len(notes.faults)
    for grade in table.grades:
        for name in _PAIRS:
            low, high = getattr(grade, f"{name}_low"), getattr(grade, f"{name}_high")
            if (low is None) != (high is None):
                notes.fault(
                    grade_row(grade), f"{name}_low", f"one limit of {name} alone", "give both"
                )
            elif low is not None and low > high:
                notes.fault(
                    grade_row(grade),
                    f"{name}_high",
                    f"the limits {low} to {high} are the wrong way round",
                    "low first, then high",
                )
        if grade.step.base < 0:
            notes.fault(
                grade_row(grade), "step", f"the step {grade.step} is below zero", "always positive"
            )
        if not grade.half_step_of and grade.finish_low is None:
            notes.fault(
                grade_row(grade), "finish_low", "the finished size is missing", "give both limits"
            )
    return len(notes.faults) == before


def _check_order(table: SizeTable, notes: Notes) -> None:
    """Each grade that is machined to lies beyond the one before it."""
    for before, after in pairwise(table.grades):
        if before.sequence == after.sequence:
            notes.fault(
                grade_row(after), "sequence", f"'{before.key}' has it too", "number them in order"
            )
    for before, after in pairwise(table.machined):
        band, next_band = finish_of(before), finish_of(after)
        if band is None or next_band is None:
            continue
        smaller, larger = (next_band, band) if table.kind is SizeKind.SHAFT else (band, next_band)
        if not (smaller.low < larger.low and smaller.high < larger.high):
            way = "smaller" if table.kind is SizeKind.SHAFT else "larger"
            notes.fault(
                grade_row(after),
                "finish_low",
                f"{next_band} is not {way} than {band} of '{before.key}'",
                f"each grade of a {table.kind} is {way} than the one before",
            )
        if after.step <= before.step:
            notes.fault(
                grade_row(after),
                "step",
                f"the step {after.step} is not beyond {before.step} of '{before.key}'",
                "steps grow from standard on",
            )


def _check_step(table: SizeTable, standard: Grade, grade: Grade, notes: Notes) -> None:
    """The finish moves by the step; a maker's own band is allowed where the row still closes."""
    first, finish = finish_of(standard), finish_of(grade)
    if first is None or finish is None or closes(table, grade):
        return
    away = -grade.step if table.kind is SizeKind.SHAFT else grade.step
    stepped = Band(first.low + away, first.high + away)
    off = max(abs(each) for each in differences(finish, stepped))
    if not off:
        return
    wrong = f"the finished size {finish} is not standard and the step, {stepped}"
    if off < first.high - first.low:
        notes.warn(grade_row(grade), "finish_low", wrong, "is it the maker's own band?")
    else:
        notes.fault(grade_row(grade), "finish_low", wrong, "look at the printed row")


def _check_worn(table: SizeTable, grade: Grade, notes: Notes) -> None:
    finish = finish_of(grade)
    if grade.worn is None or finish is None:
        return
    if table.kind is SizeKind.SHAFT and grade.worn > finish.low:
        notes.fault(
            grade_row(grade),
            "worn",
            f"the limit of use {grade.worn} is above the least finished size {finish.low}",
            "a shaft is worn out when it is smaller",
        )
    if table.kind is SizeKind.BORE and grade.worn < finish.high:
        notes.fault(
            grade_row(grade),
            "worn",
            f"the limit of use {grade.worn} is below the greatest finished size {finish.high}",
            "a bore is worn out when it is larger",
        )


def _check_half_step(table: SizeTable, grade: Grade, notes: Notes) -> None:
    row = grade_row(grade)
    if not grade.half_step_of:
        if grade.takes_up is not None:
            notes.fault(row, "takes_up", "only a half step takes up wear", "name its half_step_of")
        return
    by_key = {machined.key: machined for machined in table.machined}
    if not notes.known(
        row, "half_step_of", f"machined grade of {table.key}", grade.half_step_of, by_key
    ):
        return
    if grade.takes_up is None or grade.takes_up.base <= 0:
        notes.fault(row, "takes_up", "it takes up no wear", "say by how much it closes the bearing")
    elif grade.step != by_key[grade.half_step_of].step + grade.takes_up:
        notes.warn(
            row,
            "step",
            f"{grade.step} is not the step of '{grade.half_step_of}' and the {grade.takes_up} "
            "that it takes up",
            "look at both",
        )
