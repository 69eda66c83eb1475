"""What is remembered of a list's columns: the headings taken, and those that are none of a field.

'No column is for packs' is said of the columns that are there. A column that comes later is none of
them, and is asked about anew.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.fields import Mapping as Columns

SAID_OF = frozenset({Field.PACK, Field.PART})
"""The fields of which it is remembered."""

_NONE = "none: "
_BETWEEN = " | "


def is_none(heading: str) -> bool:
    """Whether what is remembered in place of a heading says which columns are none of a field."""
    return heading.startswith(_NONE)


def nones_in(remembered: Mapping[Field, str]) -> dict[Field, frozenset[str]]:
    """The headings, in small letters, that are none of a field.

    >>> nones_in({Field.PACK: "none: Qty | Off", Field.PRICE: "Net"})[Field.PACK] == {"qty", "off"}
    True
    """
    return {
        field: frozenset(heading.removeprefix(_NONE).casefold().split(_BETWEEN))
        for field, heading in remembered.items()
        if is_none(heading)
    }


def as_nones(said: Collection[tuple[Field, str]]) -> dict[Field, str]:
    """What is to be remembered of headings that are none of a field.

    >>> as_nones([(Field.PACK, "Qty"), (Field.PACK, "Off")])
    {<Field.PACK: 'pack'>: 'none: Off | Qty'}
    """
    fields = sorted({field for field, _ in said})
    return {
        each: _NONE + _BETWEEN.join(sorted(heading for field, heading in said if field is each))
        for each in fields
    }


def as_remembered(columns: Columns) -> dict[Field, str]:
    """Return the headings (or 'column C') to be remembered for the supplier's next list."""
    taken = {c.field: c.heading or f"column {c.letter}" for c in columns.columns}
    return {**as_nones(columns.nones), **taken}
