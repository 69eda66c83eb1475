"""Finding the row of the visible headings, whose words a person may have put into his language."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.sheets.cells import is_blank
from kitting.sheets.orders.keys import Told

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping

    from kitting.sheets.cells import AnyCell


def heading_row(
    rows: Iterable[tuple[int, tuple[AnyCell, ...]]],
    columns: Mapping[str, int],
    keyed: Collection[str],
) -> int:
    """The row of the headings, 0 where it is gone.

    It is the one that says "Line"; else the first with words, and no figure, above most columns.
    `rows` are those that are neither the keys' nor a line's; `keyed` the keys that a form has.
    """
    at = [columns[key] for key in keyed if key in columns]
    like = 0
    for number, cells in rows:
        if str(cells[columns[Told.LINE]].value or "").strip() == "Line":
            return number
        over = [cells[each] for each in at if not is_blank(cells[each])]
        wordy = all(cell.data_type == "s" for cell in over)
        if not like and wordy and 2 * len(over) > len(at):
            like = number
    return like
