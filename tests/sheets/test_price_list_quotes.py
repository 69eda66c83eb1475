"""Quotes that somebody forgot to close: their row is told, and no other row is lost in it."""

import csv
import io
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.sheets.price_lists.marks import Spoilt
from kitting.sheets.price_lists.quotes import rows_of
from tests.sheets.price_lists import list_of, prices, problems

HEAD = "Number,Price,Description\n"


@pytest.mark.parametrize(
    ("body", "spoilt", "taken"),
    [
        ('A-1,1.5,"open\nA-2,2.5,x\n', [2], ["A-2"]),
        ('A-1,1.5,"open\nA-2,2.5,"shut"\nA-3,3.5,x\n', [2], ["A-2", "A-3"]),
        ('A-1,1.5,"open\nA-2,2.5,stud 1/2"\nA-3,3.5,x\n', [2], ["A-2", "A-3"]),
        ('A-1,1.5,x\nA-2,2.5,"open', [3], ["A-1"]),
        ('A-1,1.5,"open\nA-2,2.5,"open too\nA-3,3.5,x\n', [2, 3], ["A-3"]),
        ('"A-1,1.5,x\nA-2,2.5,x\n', [2], ["A-2"]),
        ('"A-1\nlarge",1.5,"two\nlines"\nA-2,2.5,x\n', [], ["A-1 large", "A-2"]),
        ('A-1,1.5,"large, thick\nand long, too"\nA-2,2.5,x\n', [], ["A-1", "A-2"]),
        ('A-1,1.5,"1/2" stud"\nA-2,2.5,3/8" stud\n', [], ["A-1", "A-2"]),
    ],
)
def test_a_quote_left_open_is_told_with_its_row_and_takes_no_other(
    tmp_path: Path, body: str, spoilt: list[int], taken: list[str]
) -> None:
    path = tmp_path / "list.csv"
    path.write_text(HEAD + body, encoding="utf-8")
    _, rows = list_of(path)
    assert [number for number, _ in prices(rows)] == taken
    said = problems(path)
    assert [each.partition(":")[0] for each in said] == [f"list.csv, row {at}" for at in spoilt]
    assert all('begins with " and does not end' in each for each in said)


def test_a_quote_left_open_above_the_list_is_told_as_well(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text(f'Autumn "list,"as agreed,\n{HEAD}A-1,1.5,x\n', encoding="utf-8")
    reader, rows = list_of(path)
    assert prices(rows) == [("A-1", 15000)]
    assert reader.notes[0].startswith('row 1, above the list: a cell begins with "')


def test_an_endless_cell_is_told_for_what_it_is(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text(f"{HEAD}A-1,1.5,{'x' * 200_000}\nA-2,2.5,x\n", encoding="utf-8")
    assert problems(path) == ["list.csv, row 2: a cell has over 131,072 characters; look at it"]


CELL = st.text("ab1.,; \"'£", max_size=6)


@given(st.lists(st.lists(CELL, min_size=3, max_size=3), max_size=30))
def test_what_was_written_rightly_is_read_as_written(table: list[list[str]]) -> None:
    text = io.StringIO(newline="")
    csv.writer(text).writerows(table)
    assert list(rows_of(text.getvalue().splitlines(keepends=True), ",")) == table


@given(st.integers(1, 80), st.data())
def test_however_many_quotes_are_left_open_no_row_is_lost(count: int, data: st.DataObject) -> None:
    broken = data.draw(st.sets(st.integers(0, count - 1)))
    lines = [f"A-{at},{at + 1}.50,{chr(34) if at in broken else ''}seal\n" for at in range(count)]
    rows = list(rows_of(lines, ","))
    assert [row[0] for row in rows] == [f"A-{at}" for at in range(count)]
    assert {at for at, row in enumerate(rows) if isinstance(row, Spoilt)} == broken
