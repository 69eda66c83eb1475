"""Writing a family back as the text files it can be read from: read(write(family)) == family."""

import csv
import io
from collections.abc import Iterable, Mapping
from datetime import date
from decimal import Decimal
from pathlib import Path

from kitting.catalog.cells import SEPARATOR, wrong
from kitting.catalog.columns import FAMILY_FILES, FAMILY_KEYS
from kitting.catalog.family import Family
from kitting.catalog.model import PartNumber
from kitting.errors import Problems
from kitting.measure import UNITS, Quantity

_JOIN = f" {SEPARATOR} "
_NAMED_OTHERWISE = {("parts", "part"): "number"}


def write_family(family: Family, folder: Path) -> tuple[Path, ...]:
    """Write every file of a family into `folder`, named by the family's key; return the files.

    Raises:
        BadInput: a text holds what a cell cannot, such as a line break; nothing is written.
    """
    texts = {file: _text(file, rows) for file, rows in family_rows(family).items()}
    folder.mkdir(parents=True, exist_ok=True)
    written: list[Path] = []
    for file, text in texts.items():
        path = folder / f"{file}.csv"
        path.write_text(text, encoding="utf-8", newline="")
        written.append(path)
    return tuple(written)


def family_rows(family: Family) -> Mapping[str, list[list[str]]]:
    """Every file of a family as rows of cell texts, without their headings.

    Raises:
        BadInput: a text holds what a cell cannot.
    """
    values: Mapping[str, Iterable[object]] = {
        "variants": family.variants,
        "assemblies": family.assemblies,
        "positions": family.positions,
        "features": family.features,
        "size_tables": family.size_tables,
        "grades": [grade for table in family.size_tables for grade in table.grades],
        "observations": family.observations,
        "judgements": family.judgements,
        "consequences": family.consequences,
        "parts": family.parts,
        "fits": family.fits,
        "links": family.links,
        "sets": family.set_items,
        "labour": family.labour,
    }
    problems = Problems()
    rows = {"family": [[key, str(getattr(family, key))] for key in FAMILY_KEYS]}
    for file, listed in values.items():
        rows[file] = [_row(file, value, problems) for value in listed]
    problems.raise_if_any()
    return rows


def _row(file: str, value: object, problems: Problems) -> list[str]:
    texts: list[str] = []
    for column in FAMILY_FILES[file]:
        with problems.at(f"{file}.csv, column {column}"):
            texts.append(cell_text(getattr(value, _NAMED_OTHERWISE.get((file, column), column))))
    return texts


def _text(file: str, rows: Iterable[list[str]]) -> str:
    page = io.StringIO()
    writer = csv.writer(page, lineterminator="\n")
    writer.writerow(FAMILY_FILES[file])
    writer.writerows(rows)
    return page.getvalue()


def cell_text(value: object) -> str:
    """The text of a cell that says `value`, as `kitting.catalog.cells` reads it back.

    Raises:
        BadInput: no cell can say it.
    """
    match value:
        case None | False:
            text = ""
        case True:
            text = "yes"
        case PartNumber():
            text = str(value)
        case tuple():
            text = _JOIN.join(_free_of(SEPARATOR, cell_text(each)) for each in value)
        case Mapping():
            text = "; ".join(
                f"{_free_of('=;', str(name))}={_free_of(';', str(said))}"
                for name, said in value.items()
            )
        case Quantity():
            text = quantity_text(value)
        case Decimal():
            text = f"{value:f}"
        case date():
            text = value.isoformat()
        case _:
            text = str(value)
    return _free_of("\n\r\0", text)


def _free_of(marks: str, text: str) -> str:
    if any(mark in text for mark in marks) or text != text.strip():
        raise wrong(
            f"'{text[:40]}' cannot stand in a cell",
            "one line, no spaces about it, and none of the marks that part a list",
        )
    return text


def quantity_text(value: Quantity) -> str:
    """The figure in full in its own unit, or in the first unit in which it ends.

    Raises:
        BadInput: it ends in no unit, so that no text can state it.
    """
    others = (unit for unit in UNITS.values() if unit.dimension is value.unit.dimension)
    for unit in (value.unit, *others):
        number = value.value_in(unit)
        if Quantity.of(number, unit) == value:
            return f"{number:f} {unit}"
    raise wrong(f"{value} ends in no unit", "round it to what can be measured")
