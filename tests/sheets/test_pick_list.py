"""The pick list as the storeman reads it."""

from dataclasses import replace
from pathlib import Path

from kitting.job.hand import Hand, InHand, Source
from kitting.job.path import JobPath
from kitting.sheets.jobs.pick_list import write_pick_list
from tests.sheets.opened import rows_of, text_of, the_sheet
from tests.sheets.values import a_job, a_ready_job, number


def rows(path: JobPath, folder: Path) -> list[list[str]]:
    file = folder / "pick.xlsx"
    write_pick_list(path, file)
    return rows_of(the_sheet(file))


def test_the_bags_come_in_the_order_the_engine_is_built(tmp_path: Path) -> None:
    bags = [row[0] for row in rows(a_job(), tmp_path) if row[0].startswith("Bag")]
    assert bags == ["Bag 1 of 2: 1 bottom end", "Bag 2 of 2: 3 top end"]


def test_each_line_has_a_box_a_quantity_a_number_and_where_it_comes_from(tmp_path: Path) -> None:
    found = rows(a_job(), tmp_path)
    nut = next(row for row in found if "nut W320" in row)
    assert nut[:5] == ["☐", "1.03", "4", "hob:W320", "nut W320"]
    assert "barrel nuts" in nut
    assert "Brook and Daughter, 1 pack of 4" in nut


def test_every_line_of_the_kit_is_there_once(tmp_path: Path) -> None:
    path = a_job()
    listed = [row[1] for row in rows(path, tmp_path) if row[0] == "☐" and "." in row[1]]
    assert sorted(listed) == sorted(line.key for line in path.kit.lines)


def test_what_a_set_brings_is_taken_from_the_set(tmp_path: Path) -> None:
    found = rows(a_job(), tmp_path)
    assert "the set hob:W900" in next(row for row in found if "gasket W210" in row)
    opened = next(row for row in found if "hob:W900" in row)
    assert "lines 1.02, 3.03" in opened


def test_held_shells_are_marked_not_to_be_bought(tmp_path: Path) -> None:
    shell = next(row for row in rows(a_job(), tmp_path) if "shell W110" in row)
    assert "-010 grade, or at worst -020 grade" in shell
    assert any(cell.startswith("HELD") for cell in shell)


def test_a_position_without_a_part_is_shown_as_missing(tmp_path: Path) -> None:
    path = a_job()
    lines = tuple(
        replace(line, part=None, problem="nobody makes it") if line.part == number("W150") else line
        for line in path.kit.lines
    )
    found = rows(replace(path, kit=replace(path.kit, lines=lines)), tmp_path)
    assert any("NO PART: nobody makes it" in row for row in found)


def test_a_part_that_nobody_offers_says_ask(tmp_path: Path) -> None:
    path = a_job()
    lines = tuple(
        replace(line, quote=None) if line.part == number("W150") else line
        for line in path.estimate.lines
    )
    found = rows(replace(path, estimate=replace(path.estimate, lines=lines)), tmp_path)
    assert "nobody offers it: ask" in next(row for row in found if "hob:W150" in row)


def test_ready_or_not_is_at_the_head(tmp_path: Path) -> None:
    rows(a_job(), tmp_path)
    assert "NOT ready to order: 2 points open." in text_of(tmp_path / "pick.xlsx")
    rows(a_ready_job(), tmp_path)
    assert "Ready to order." in text_of(tmp_path / "pick.xlsx")


def test_each_bag_says_whether_its_stage_can_start_and_what_it_waits_for(tmp_path: Path) -> None:
    found = [row[0] for row in rows(a_ready_job(), tmp_path)]
    bottom = found.index("Bag 1 of 2: 1 bottom end")
    assert found[bottom + 1].startswith("Waits: ")
    assert "– Regrind: not back (machining)" in found


def test_what_came_off_the_shelf_is_said_with_its_place(tmp_path: Path) -> None:
    path = a_ready_job()
    line = next(line for line in path.kit.lines if line.part == number("W320"))
    taken = InHand(line.positions[0], line.part, 4, Source.SHELF, "Joan", path.day, place="bin 9")
    row = next(r for r in rows(replace(path, hand=Hand((taken,))), tmp_path) if "nut W320" in r)
    assert "our shelf: bin 9" in row
    some = replace(taken, quantity=3)
    row = next(r for r in rows(replace(path, hand=Hand((some,))), tmp_path) if "nut W320" in r)
    assert any("3 of 4 in hand\n3 from the shelf" in cell for cell in row)


def test_what_is_on_order_names_the_order_and_the_rest_is_to_be_ordered(tmp_path: Path) -> None:
    path = a_job()
    nuts = next(line for line in path.kit.lines if line.part == number("W320"))
    coming = InHand(
        position=nuts.positions[0],
        part=nuts.part,
        quantity=3,
        source=Source.DELIVERY,
        who="Joan",
        when=path.day,
        place="order P1001",
    )
    found = rows(replace(path, hand=Hand(coming=(coming,))), tmp_path)
    row = next(row for row in found if "nut W320" in row)
    assert any(cell.startswith("order P1001, ") for cell in row)
    assert any("1 of 4 to be ordered" in cell for cell in row)
