"""A person at LibreOffice: sorts, inserts rows, renames sheets, deletes columns, types, saves.

The hands are a macro in the profile of the test's own process; it does what the menus do.
"""

import subprocess
from pathlib import Path

from tests.libreoffice import convert, profile, soffice

_SECONDS = 180
_DOCTYPE = '<!DOCTYPE {0} PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "{1}.dtd">'
_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_LIBRARY = (
    _HEAD
    + _DOCTYPE.format("library:library", "library")
    + '<library:library xmlns:library="http://openoffice.org/2000/library" '
    'library:name="Standard" library:readonly="false" library:passwordprotected="false">'
    '<library:element library:name="Hands"/></library:library>'
)
_MODULE = (
    _HEAD
    + _DOCTYPE.format("script:module", "module")
    + '<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Hands" '
    'script:language="StarBasic">{}</script:module>'
)
_WORK = """
Sub Work(source As String, target As String)
  Dim hidden(0) As New com.sun.star.beans.PropertyValue
  hidden(0).Name = "Hidden"
  hidden(0).Value = True
  doc = StarDesktop.loadComponentFromURL(source, "_blank", 0, hidden())
  sheet = doc.Sheets.getByIndex(0)
  sheet.unprotect("")
{steps}
  Dim out(0) As New com.sun.star.beans.PropertyValue
  out(0).Name = "FilterName"
  out(0).Value = "Calc MS Excel 2007 XML"
  doc.storeToURL(target, out())
  doc.close(True)
End Sub
"""


def renames(name: str) -> str:
    """Give the first sheet another name."""
    return f'  sheet.Name = "{name}"'


def inserts_row(before: int) -> str:
    """Insert an empty row before that row."""
    return f"  sheet.Rows.insertByIndex({before - 1}, 1)"


def deletes_column(letter: str) -> str:
    """Delete a column."""
    at = f'sheet.getCellRangeByName("{letter}1").CellAddress.Column'
    return f"  sheet.Columns.removeByIndex({at}, 1)"


def types(cell: str, text: str) -> str:
    """Type something, as at the keyboard: figures and dates become such."""
    quoted = text.replace('"', '""')
    return f'  sheet.getCellRangeByName("{cell}").setFormula("{quoted}")'


def dates(cell: str, day: str) -> str:
    """Type a day: a number that the cell shows as a date."""
    return f'  sheet.getCellRangeByName("{cell}").Value = CDate("{day}")'


def sorts(cells: str, column: int, *, falling: bool = False) -> str:
    """Sort a range by one of its columns, counted from 0."""
    return f"""
  Dim by(0) As New com.sun.star.table.TableSortField
  by(0).Field = {column}
  by(0).IsAscending = {not falling}
  Dim how(1) As New com.sun.star.beans.PropertyValue
  how(0).Name = "SortFields"
  how(0).Value = by()
  how(1).Name = "ContainsHeader"
  how(1).Value = False
  sheet.getCellRangeByName("{cells}").sort(how())"""


def by_hand(source: Path, target: Path, *steps: str) -> Path:
    """Open `source` in LibreOffice, do each step, and save it as `target`."""
    work = _WORK.replace("{steps}", "\n".join(steps))
    folder = _hands(source) / "user" / "basic" / "Standard"
    escaped = work.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")
    (folder / "Hands.xba").write_text(_MODULE.format(escaped), encoding="utf-8")
    (folder / "script.xlb").write_text(_LIBRARY, encoding="utf-8")
    ran = _run(f'macro:///Standard.Hands.Work("{source.as_uri()}","{target.as_uri()}")')
    assert target.exists(), f"LibreOffice saved nothing: {ran.stdout} {ran.stderr}"
    return target


def _run(macro: str) -> subprocess.CompletedProcess[str]:
    place = f"-env:UserInstallation={profile().as_uri()}"
    return subprocess.run(
        [soffice(), "--headless", "--norestore", place, macro],
        capture_output=True,
        text=True,
        timeout=_SECONDS,
        check=False,
    )


def _hands(source: Path) -> Path:
    """The profile, once LibreOffice has made its own folders in it."""
    if not (profile() / "user" / "basic" / "Standard").exists():
        convert(source, "csv", source.parent / "first-start")
    return profile()
