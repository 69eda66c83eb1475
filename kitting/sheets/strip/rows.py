"""Finding the rows of a strip sheet by their hidden keys, wherever they have come to stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.sheets.cells import is_blank
from kitting.sheets.strip.keys import (
    COVER_COLUMNS,
    FORMAT,
    LETTERS,
    PRINTED,
    RUN_ON,
    SHEET_FORMS,
    STRIP_SHEET,
    Column,
    Role,
    RowKey,
    RowKind,
    SheetForm,
    SheetKey,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

    from kitting.catalog.family import Family
    from kitting.errors import Problems
    from kitting.job.findings import Job
    from kitting.sheets.cells import AnyCell

# A blank sheet has a few hundred rows; nothing is looked for further down than this.
_MOST_ROWS = 20_000


@dataclass(frozen=True, slots=True)
class KeyedRow:
    """One row that its key makes known: its sheet, its number, and its cells by column."""

    sheet: str
    row: int
    key: RowKey
    cells: Mapping[Column, AnyCell]
    beyond: tuple[AnyCell, ...] = ()

    def box(self, name: str) -> AnyCell:
        """The box of that name."""
        return self.cells[self.key.boxes[name]]

    def place(self, name: str) -> str:
        """Where the box of that name stands, as a person finds it."""
        return place_of(self.sheet, self.box(name))

    @property
    def run(self) -> tuple[AnyCell, ...]:
        """The cells of a long box, left to right."""
        return tuple(self.cells[column] for column in list(Column)[1:] if column in self.cells)

    @property
    def filled(self) -> bool:
        """Whether anything stands in a box that is blank on a fresh sheet."""
        if self.key.kind in RUN_ON:
            return any(not is_blank(cell) for cell in self.run)
        return any(
            not is_blank(self.cells[column])
            for name, column in self.key.boxes.items()
            if name != "instrument"
        )


@dataclass(frozen=True, slots=True)
class Stray:
    """A cell that somebody wrote into outside every box of the sheet."""

    place: str
    cell: AnyCell


@dataclass(frozen=True, slots=True)
class KeyedSheets:
    """All rows of a workbook by key, each key's rows in the order found, and what is stray."""

    rows: Mapping[str, tuple[KeyedRow, ...]]
    printed: tuple[KeyedRow, ...]
    strays: tuple[Stray, ...]
    assemblies: frozenset[str]


def place_of(title: str, cell: AnyCell) -> str:
    """A cell's place as a person finds it."""
    return f'sheet "{title}", cell {cell.coordinate}'


def keyed_sheets(
    book: Workbook, family: Family, job: Job, problems: Problems, form: SheetForm = STRIP_SHEET
) -> KeyedSheets:
    """Return the keyed rows of every sheet that is the job's; note what cannot be read."""
    rows: dict[str, list[KeyedRow]] = {}
    printed: list[KeyedRow] = []
    strays: list[Stray] = []
    assemblies: set[str] = set()
    for sheet, key in _sheets_of_job(book, family, job, problems, form):
        columns = _columns(sheet, key, problems)
        if columns is None:
            continue
        assemblies.add(key.assembly)
        for found in _rows(sheet, columns):
            if isinstance(found, Stray):
                strays.append(found)
            elif found.key == PRINTED:
                printed.append(found)
            elif found.key.kind is not RowKind.PRINTED:
                rows.setdefault(str(found.key), []).append(found)
    kept = {key: tuple(found) for key, found in rows.items()}
    return KeyedSheets(kept, tuple(printed), tuple(strays), frozenset(assemblies))


def single_rows(sheets: KeyedSheets, problems: Problems) -> Mapping[str, KeyedRow]:
    """One row a key; a key that stands twice is refused where both are filled in."""
    single = {}
    for key, rows in sheets.rows.items():
        filled = [row for row in rows if row.filled]
        single[key] = (filled or rows)[0]
        for other in filled[1:]:
            problems.add(
                f'sheet "{other.sheet}", row {other.row}',
                f'this row stands in sheet "{filled[0].sheet}", row {filled[0].row} as well, '
                "and both are filled in",
                "keep one of them",
            )
    return single


def _sheets_of_job(
    book: Workbook, family: Family, job: Job, problems: Problems, form: SheetForm
) -> Iterator[tuple[Worksheet, SheetKey]]:
    told = set()
    any_known = False
    for sheet in book.worksheets:
        key = SheetKey.read(sheet["A1"].value)
        if key is None:
            any_known = _say_keys_gone(sheet, problems, form) or any_known
            continue
        any_known = True
        wrong = _wrong_sheet(key, family, job, form)
        if wrong is not None and wrong not in told:
            problems.add(f'sheet "{sheet.title}"', *wrong)
            told.add(wrong)
        if wrong is None and key.role in form.roles:
            yield sheet, key
    if not any_known:
        problems.add(
            "",
            f"no sheet of this workbook is a {form.name}",
            f"write one with '{form.written_with}'",
        )


def _wrong_sheet(
    key: SheetKey, family: Family, job: Job, form: SheetForm
) -> tuple[str, str] | None:
    """Why a sheet is not the job's: wrong and right, or None."""
    other = next((each for each in SHEET_FORMS if key.role in each.roles), form)
    if other is not form:
        return f"it is a {other.name}, not a {form.name}", f"load it with '{other.loaded_with}'"
    if key.family != job.family:
        return f"it is of {key.family}; job {job.number} is on {family.name}", _fresh(form)
    if key.edition != job.edition:
        return (
            f"it is of edition {key.edition} of the catalogue; job {job.number} is on edition "
            f"{job.edition}",
            _fresh(form),
        )
    if key.variant != job.variant:
        named = family.variant_by_key.get(key.variant)
        shown = named.name if named else key.variant
        mine = family.variant_by_key[job.variant].name
        return f"it is of {shown}; job {job.number} is on {mine}", _fresh(form)
    if key.form != FORMAT:
        return "it was written by another version of this program", _fresh(form)
    return None


def _fresh(form: SheetForm) -> str:
    return f"write a fresh sheet with '{form.written_with}' and copy what was written"


def _say_keys_gone(sheet: Worksheet, problems: Problems, form: SheetForm) -> bool:
    """Note a sheet of ours whose keys were cut off; return whether it is one."""
    heads = {str(cell.value) for row in sheet.iter_rows(max_row=1) for cell in row}
    place = f'sheet "{sheet.title}"'
    if len(heads & set(Column)) > 1:
        problems.add(place, "its hidden column A is gone, and the rows' keys with it", _fresh(form))
        return True
    down = sheet.iter_rows(max_col=1, max_row=min(sheet.max_row, _MOST_ROWS))
    if any(RowKey.read(row[0].value) for row in down):
        problems.add(
            place, "its hidden first row is gone, and the columns' keys with it", _fresh(form)
        )
        return True
    return False


def _columns(sheet: Worksheet, key: SheetKey, problems: Problems) -> Mapping[Column, int] | None:
    """Where each column stands, or None when one is gone."""
    needed: Iterable[Column] = COVER_COLUMNS if key.role is Role.COVER else Column
    found: dict[Column, int] = {}
    for row in sheet.iter_rows(max_row=1):
        for at, cell in enumerate(row, start=1):
            if str(cell.value) in set(Column):
                found.setdefault(Column(str(cell.value)), at)
    gone = [column for column in needed if column not in found]
    for column in gone:
        problems.add(
            f'sheet "{sheet.title}"',
            f"the column '{column}' is gone (it stood at {LETTERS[column]})",
            "undo the cut, or copy what was written onto a fresh sheet",
        )
    return None if gone else found


def _rows(sheet: Worksheet, columns: Mapping[Column, int]) -> Iterator[KeyedRow | Stray]:
    known = set(columns.values())
    last = min(sheet.max_row, _MOST_ROWS)
    for row, cells in enumerate(sheet.iter_rows(min_row=2, max_row=last), start=2):
        key = RowKey.read(cells[0].value)
        typed = [(at, cell) for at, cell in enumerate(cells, 1) if at > 1 and not is_blank(cell)]
        if key is None:
            yield from (Stray(place_of(sheet.title, cell), cell) for _, cell in typed)
        else:
            beyond = tuple(cell for at, cell in typed if at not in known)
            yield KeyedRow(
                sheet.title,
                row,
                key,
                {column: cells[at - 1] for column, at in columns.items()},
                beyond,
            )
