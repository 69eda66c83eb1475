"""What is remembered of a list's columns: the headings taken, and those that are none of a field.

'No column is for packs' is said of the columns that are there. A column that comes later is none of
them, and is asked about anew.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from kitting.sheets.price_lists.fields import Field, letter_of
from kitting.sheets.price_lists.fields import Mapping as Columns

_SAID_OF = frozenset({
    Field.PACK, Field.PART, Field.PRICE, Field.PER, Field.UNIT, Field.CURRENCY, Field.VALID_FROM,
    Field.VALID_UNTIL,
})  # fmt: skip

_NONE = "none: "
_BETWEEN = " | "


def headings_in(remembered: Mapping[Field, str]) -> dict[Field, str]:
    """The headings that were taken last time, by field.

    >>> headings_in({Field.PACK: "none: Qty", Field.PRICE: "Net\\nnone: Members"})
    {<Field.PRICE: 'price'>: 'Net'}
    """
    taken = {field: text.partition("\n")[0] for field, text in remembered.items()}
    return {field: text for field, text in taken.items() if not text.startswith(_NONE)}


def nones_in(remembered: Mapping[Field, str]) -> dict[Field, frozenset[str]]:
    """The headings, in small letters, that are none of a field.

    >>> nones_in({Field.PACK: "none: Qty | Off", Field.PRICE: "Net"})[Field.PACK] == {"qty", "off"}
    True
    """
    said = {field: text.rpartition("\n")[2] for field, text in remembered.items()}
    return {
        field: frozenset(text.removeprefix(_NONE).casefold().split(_BETWEEN))
        for field, text in said.items()
        if text.startswith(_NONE)
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
    """Return what is to be remembered for the supplier's next list, by field.

    The heading that was taken (or 'column C'), and below it those that are none of the field.
    """
    taken = {c.field: c.heading or f"column {c.letter}" for c in columns.columns}
    nones = as_nones(columns.nones)
    return {
        field: "\n".join(filter(None, (taken.get(field), nones.get(field))))
        for field in [*nones, *(each for each in taken if each not in nones)]
    }


class Denied:
    """What a person said, now or last time, that some columns are not; what of it was met again."""

    def __init__(
        self, headings: Sequence[str], told: Mapping[Field, str], remembered: Mapping[Field, str]
    ) -> None:
        self._headings = headings
        self._told = told
        self._last = nones_in(remembered)
        self._met: set[tuple[Field, str]] = set()

    @property
    def met(self) -> tuple[tuple[Field, str], ...]:
        """What is to be remembered: fields, each with the heading that is none of it."""
        return tuple(sorted(self._met))

    def says(self, field: Field, index: int) -> bool:
        """Whether a column is known to be none of a field."""
        heading = name_of(index, self._headings)
        if field not in _SAID_OF:
            return False
        told = self._told.get(field)
        return told == "none" if told else heading.casefold() in self._last.get(field, ())

    def said_before(self, field: Field, index: int) -> bool:
        """Whether it is remembered that a column is none of a field, and nothing said now."""
        last = self._last.get(field, ())
        return field not in self._told and name_of(index, self._headings).casefold() in last

    def note(self, field: Field, columns: Collection[int]) -> None:
        """Keep that a person, by what he chose, said that some columns are none of a field."""
        self._met |= {(field, name_of(at, self._headings)) for at in columns}

    def still_open(self, field: Field, columns: Collection[int]) -> list[int]:
        """Those of some columns of which nobody said that they are none; the others are noted."""
        self.note(field, [at for at in columns if self.says(field, at)])
        return [at for at in columns if not self.says(field, at)]


def name_of(index: int, headings: Sequence[str]) -> str:
    """Return the heading of a column, or 'column C' where it has none."""
    heading = headings[index] if index < len(headings) else ""
    return heading or f"column {letter_of(index)}"


def as_told(field: str, of: str, heading: str) -> str:
    """How a person says which column a field is; `of` names the sheet, as '@More'.

    >>> as_told("pack", "", "none"), as_told("price", "@More", "Net")
    ('--map pack=none', '--map "price@More=Net"')
    """
    said = f"{field}{of}={heading}"
    return f"--map {said}" if heading == "none" and not of else f'--map "{said}"'
