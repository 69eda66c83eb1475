"""References to nothing, told in one go with the cells that cannot be taken.

A family with such cells never leaves the reading; but what it names, and has not, can be said at
once where the cells that tell what there is were all taken.
"""

from __future__ import annotations

import re
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.catalog.check_notes import Notes
from kitting.catalog.check_references import check_references

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from kitting.catalog.family import Family
    from kitting.catalog.rows import Sources
    from kitting.errors import Problem

_CELL = re.compile(r"(?P<row>(?P<file>.+) line \d+), column (?P<column>\w+)")
# The table that a column refers to, and the columns that tell what a table has.
_REFERS: Mapping[str, str] = MappingProxyType(
    {
        "part": "parts",
        "set": "parts",
        "position": "positions",
        "assembly": "assemblies",
        "sized_by": "size_tables",
        "variants": "variants",
        "first": "variants",
        "last": "variants",
    }
)
_TELLING = frozenset({"key", "part", "first", "last"})


def early_references(
    family: Family, sources: Sources, problems: Iterable[Problem]
) -> Iterator[Problem]:
    """The references to nothing that hold whatever the cells with problems ought to say.

    None where more than cells is wrong: a sheet, a file or a heading.
    """
    tables = {place.rpartition(" line ")[0]: table for (table, _), place in sources.items()}
    unsure: set[str | None] = set()
    told: set[str] = set()
    for problem in problems:
        cell = _CELL.fullmatch(problem.place)
        if cell is None:
            return
        told.add(cell["row"])
        if cell["column"] in _TELLING:
            unsure.add(tables.get(cell["file"]))
    notes = Notes(sources)
    check_references(family, notes)
    for fault in notes.faults:
        cell = _CELL.fullmatch(fault.place)
        if cell is not None and cell["row"] not in told:
            table = _REFERS.get(cell["column"])
            if table is not None and table not in unsure:
                yield fault
