"""Files that people hand in as workbooks, and saving one whole or not at all."""

import io
import shutil
import zipfile
from pathlib import Path

import openpyxl
import pytest
from openpyxl import Workbook

from kitting.errors import BadInput
from kitting.sheets import files
from kitting.sheets.files import open_workbook, save_workbook
from tests.libreoffice import convert
from tests.sheets.bench import blank_sheet, filled_sheet, read, refusal

OLE = bytes.fromhex("d0cf11e0a1b11ae1")


def book_with(text: str) -> Workbook:
    book = Workbook()
    book.worksheets[0]["A1"].value = text
    return book


def refused(path: Path) -> str:
    with pytest.raises(BadInput) as caught:
        open_workbook(path)
    return str(caught.value)


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("notes.xlsx", b"crank bent, shells gone", "this is no workbook"),
        ("empty.xlsx", b"", "the file is empty"),
        ("cut.xlsx", b"PK\x03\x04 and then the line went dead", "this is no workbook"),
        ("old.xlsx", OLE + bytes(600), "this is an old-style workbook"),
        ("sheet.xls", OLE, "this is an old-style workbook, not a workbook that can be read"),
        ("sheet.ods", b"PK", "this is no workbook"),
        ("sheet.csv", b"a,b", "this is plain text, without the sheet's keys"),
        (
            "locked.xlsx",
            OLE + bytes(600) + "EncryptedPackage".encode("utf-16-le"),
            "the workbook is protected by a password; save a copy without the password",
        ),
    ],
)
def test_what_is_no_workbook_is_told_for_what_it_is(
    tmp_path: Path, name: str, content: bytes, said: str
) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    assert refused(path).startswith(f"{name}: {said}")


def test_a_file_that_is_not_there_and_a_folder_are_told(tmp_path: Path) -> None:
    assert "there is no such file" in refused(tmp_path / "gone.xlsx")
    assert "this is a folder" in refused(tmp_path)


def test_a_packed_file_that_is_no_workbook_is_told(tmp_path: Path) -> None:
    path = tmp_path / "photographs.xlsx"
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr("crank.jpg", b"picture")
    assert "a packed file but no workbook" in refused(path)


def test_a_damaged_workbook_is_told(tmp_path: Path) -> None:
    sound = blank_sheet(tmp_path)
    path = tmp_path / "damaged.xlsx"
    with zipfile.ZipFile(sound) as whole, zipfile.ZipFile(path, "w") as packed:
        for part in whole.infolist():
            content = whole.read(part)
            packed.writestr(part, content[:90] if "sheet2" in part.filename else content)
    assert "the workbook is damaged" in refused(path)


def test_200_mb_are_refused_before_they_are_opened(tmp_path: Path) -> None:
    path = tmp_path / "pictures.xlsx"
    with path.open("wb") as stream:
        stream.write(b"PK\x03\x04")
        stream.truncate(200_000_000)
    assert "the file has 200 MB; a filled sheet has less than 1" in refused(path)


def test_a_small_file_that_unpacks_without_end_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "bomb.xlsx"
    shutil.copy(blank_sheet(tmp_path), path)
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/media/zeros.bin", bytes(260_000_000))
    assert path.stat().st_size < 1_000_000
    assert "far more than a filled sheet" in refused(path)


@pytest.mark.parametrize("lock", ["~$filled.xlsx", ".~lock.filled.xlsx#"])
def test_a_workbook_that_is_open_elsewhere_is_refused(tmp_path: Path, lock: str) -> None:
    path = filled_sheet(tmp_path, ("rod", "sound", "x"))
    (tmp_path / lock).write_text("somebody")
    said = refusal(path)
    assert "the workbook is open in a spreadsheet program; save and close it there first" in said
    assert lock in said
    (tmp_path / lock).unlink()
    assert read(path).findings[0].sound


def test_a_workbook_of_another_kind_is_no_strip_sheet(tmp_path: Path) -> None:
    path = tmp_path / "prices.xlsx"
    book_with("price list").save(path)
    assert "no sheet of this workbook is a strip sheet" in refusal(path)


def test_an_old_style_workbook_is_told_even_under_our_name(tmp_path: Path) -> None:
    other = convert(blank_sheet(tmp_path), "xls", tmp_path / "other")
    assert "choose 'save as', take .xlsx or .ods as the kind of file" in refused(other)
    renamed = other.rename(tmp_path / "renamed.xlsx")
    assert "this is an old-style workbook" in refused(renamed)


def test_a_filled_sheet_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "filled.xlsx"
    save_workbook(book_with("first"), path)
    with pytest.raises(BadInput, match="perhaps filled in"):
        save_workbook(book_with("second"), path)
    save_workbook(book_with("third"), path, replace=True)
    assert openpyxl.load_workbook(path).worksheets[0]["A1"].value == "third"


@pytest.mark.parametrize("replace", [True, False])
@pytest.mark.parametrize("folder", [".", "..", "here"])
def test_a_folder_is_no_name_for_a_file(
    folder: str, replace: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path)
    wrong = f"{folder}: this is a folder; name the file to write in it"
    with pytest.raises(BadInput) as caught:
        save_workbook(book_with("new"), Path(folder), replace=replace)
    assert str(caught.value) == wrong
    with pytest.raises(BadInput) as caught:
        files.save_bytes(b"new", Path(folder))
    assert str(caught.value) == wrong
    assert list(tmp_path.rglob("*")) == [tmp_path / "here"]


def test_a_save_that_fails_leaves_no_half_file(tmp_path: Path) -> None:
    (tmp_path / "exports").write_text("a file where a folder belongs")
    with pytest.raises(BadInput, match="cannot be written"):
        save_workbook(book_with("text"), tmp_path / "exports" / "sheet.xlsx")
    assert [path.name for path in tmp_path.iterdir()] == ["exports"]


def test_what_is_saved_can_be_opened(tmp_path: Path) -> None:
    path = tmp_path / "new folder" / "sheet.xlsx"
    save_workbook(book_with("text"), path)
    assert open_workbook(path).worksheets[0]["A1"].value == "text"
    assert zipfile.is_zipfile(io.BytesIO(path.read_bytes()))
    assert path.stat().st_size < files.MOST_MEGABYTES * 1_000_000
