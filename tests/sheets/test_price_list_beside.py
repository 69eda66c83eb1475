"""A list read in a process of its own says and refuses what it does read in this one."""

import gc
import os
import signal
from collections.abc import Callable, Collection
from dataclasses import replace
from pathlib import Path

import pytest

from kitting.buying.price_lists.rows import PriceRow
from kitting.errors import BadInput
from kitting.sheets.price_lists.beside import ReaderBeside, reader_of
from kitting.sheets.price_lists.by_sheet import Choice
from kitting.sheets.price_lists.file import open_price_list
from kitting.sheets.price_lists.list_in import PriceListReader
from tests.sheets.price_lists import TERMS, csv_file, workbook

HEADS = ["Part no", "Description", "Pack", "Net price", "In stock", "Superseded by"]
ROWS: list[list[object]] = [
    ["K-101", "seal per 100", 1, "12.50", "20+", ""],
    ["K-102", "Dichtung für Öl", 10, "3,95 EUR", "out", "K-109"],
    ["K-103", "stud", "some", "POA", "", "NLA"],
    ["3-Jan", "nut", 1, "1.10", "", ""],
    ["", "Studs and nuts", "", "", "", ""],
    ["FREE", "", "", "", "", ""],
    ["K-104", "bush", 1, "-4.00", "", ""],
    ["Total", "", "", "16.45", "", ""],
]
ALONE = Choice({}, {}, lambda numbers: {"K101", "FREE"} & {*numbers})


def as_text(folder: Path) -> Path:
    return csv_file(folder / "list.csv", [["Prices hold until 31/12/2026"], HEADS, *ROWS])


def as_workbook(folder: Path) -> Path:
    odd: list[list[object]] = [["Part no", "Net"], [1042, 4.2], ["=A1", 5], ["K-9", "two"]]
    heads: list[object] = [*HEADS]
    return workbook(folder / "list.xlsx", Trade=[heads, *ROWS], More=odd, Empty=[["nothing"]])


def met(reader: PriceListReader) -> tuple[object, ...]:
    """All that a reader knows once it has read."""
    chunks = [*reader.chunks()]
    return chunks, reader.tally, reader.notes, reader.sheets, reader.columns


def reading() -> list[int]:
    """The processes that read a list for this one; it may have begun others too."""
    mine = os.getpid()
    begun = Path(f"/proc/{mine}/task/{mine}/children").read_text().split()
    return [int(each) for each in begun if "read_for" in command_of(each)]


def command_of(process: str) -> str:
    try:
        return Path(f"/proc/{process}/cmdline").read_text()
    except OSError:  # it has ended meanwhile
        return ""


@pytest.mark.parametrize("write", [as_text, as_workbook])
def test_all_that_was_read_comes_across(tmp_path: Path, write: Callable[[Path], Path]) -> None:
    file = open_price_list(write(tmp_path))
    here = met(PriceListReader(file, TERMS, ALONE))
    assert met(ReaderBeside(file, TERMS, ALONE)) == here
    numbers = [row.number for some in PriceListReader(file, TERMS, ALONE).chunks() for row in some]
    assert "FREE" in numbers, "what is known was not asked"


def test_many_rows_come_in_their_order(tmp_path: Path) -> None:
    rows = [[f"K-{at}", f"{1 + at / 100:.2f}"] for at in range(45_000)]
    written = csv_file(tmp_path / "list.csv", [["Part no", "Net"], *rows])
    file = open_price_list(written)
    chunks = [*ReaderBeside(file, TERMS, ALONE).chunks()]
    assert [*map(len, chunks)] == [20_000, 20_000, 5_000]
    assert [row.number for some in chunks for row in some] == [row[0] for row in rows]
    assert all(type(row) is PriceRow for some in chunks for row in some)


def test_a_refusal_comes_across(tmp_path: Path) -> None:
    file = open_price_list(csv_file(tmp_path / "list.csv", [["Part no", "Net", "Net"], [1, 2, 3]]))
    said = []
    for kind in (PriceListReader, ReaderBeside):
        with pytest.raises(BadInput) as caught:
            met(kind(file, TERMS, ALONE))
        said.append((str(caught.value), caught.value.problems, caught.value.sum_up))
    assert said[0] == said[1]


def test_a_fault_of_ours_comes_across_with_where_it_was(tmp_path: Path) -> None:
    file = open_price_list(as_text(tmp_path))
    file.path.unlink()
    with pytest.raises(RuntimeError, match=r"FileNotFoundError: .*list\.csv") as caught:
        met(ReaderBeside(file, TERMS, ALONE))
    assert any("read_text" in note for note in caught.value.__notes__)


def test_what_this_process_cannot_say_of_numbers_is_its_own_fault(tmp_path: Path) -> None:
    def known(_numbers: Collection[str]) -> Collection[str]:
        raise OSError("the database is gone")

    file = open_price_list(as_text(tmp_path))
    with pytest.raises(OSError, match="the database is gone"):
        met(ReaderBeside(file, TERMS, replace(ALONE, known=known)))
    assert reading() == []


def long_list(folder: Path) -> Path:
    rows = ([f"K-{at}", "seal 30 x 47 x 7", "1.50"] for at in range(200_000))
    return csv_file(folder / "long.csv", [["Part no", "What", "Net"], *rows])


def test_one_ended_from_outside_is_told_and_leaves_nothing(tmp_path: Path) -> None:
    chunks = ReaderBeside(open_price_list(long_list(tmp_path)), TERMS, ALONE).chunks()
    next(chunks)
    (process,) = reading()
    os.kill(process, signal.SIGKILL)
    with pytest.raises(BadInput, match="ended from outside; load it once more"):
        list(chunks)
    assert reading() == []


def test_one_that_nobody_listens_to_any_more_ends(tmp_path: Path) -> None:
    chunks = ReaderBeside(open_price_list(long_list(tmp_path)), TERMS, ALONE).chunks()
    next(chunks)
    assert len(reading()) == 1
    del chunks
    gc.collect()
    assert reading() == []


def test_a_short_list_needs_no_process(tmp_path: Path) -> None:
    assert type(reader_of(open_price_list(as_text(tmp_path)), TERMS, ALONE)) is PriceListReader
    cores = os.cpu_count() or 1
    wanted = ReaderBeside if cores > 1 else PriceListReader
    assert type(reader_of(open_price_list(long_list(tmp_path)), TERMS, ALONE)) is wanted
    assert reading() == []
