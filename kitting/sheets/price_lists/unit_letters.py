"""C and M in a column of units: a hundred and a thousand, or M a metre.

Beside C an M is a thousand. Without it the part decides, a hose is sold by the metre; where neither
does, a person is asked, and what he said of the column is remembered.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from typing import TYPE_CHECKING

from kitting.errors import Problem
from kitting.sheets.price_lists.fields import Column, Field
from kitting.sheets.price_lists.marks import tidy
from kitting.sheets.price_lists.nones import as_told
from kitting.sheets.price_lists.units import of_a_unit

if TYPE_CHECKING:
    from kitting.sheets.price_lists.marks import Cells

_BY_LENGTH = re.compile(
    r"hose|pip(?:e|ing)\b|\btub(?:e|ing)\b|cable|\bwire\b|\bcord\b|\brope\b|strip\b|strap|sleev"
    r"|chain|\btrim\b|extrusion|felt|webbing|\btape\b|braid|beading|conduit|schlauch|kabel|rohr"
    r"|leitung|draht|litze|profil|band\b|tuyau|durite|câble|\bfil\b|gaine|\btubo\b|manguera|\bcavo\b"
    r"|slang\b|metre|meter|mètre",
    re.IGNORECASE,
)
_BY_PIECE = re.compile(
    r"nut\b|bolt|screw|clip|clamp|washer|rivet|\bpin\b|stud\b|fitting|union|connector|olive"
    r"|terminal|grommet|\btie\b|mutter|schraub|scheibe|schelle|niete?\b|verbinder|écrou|\bvis\b"
    r"|rondelle|collier|dado|\bvite\b|tuerca|tornillo|arandela",
    re.IGNORECASE,
)


def letter_in(text: str) -> str:
    """The letter of a cell that is 'C', 'E' or 'M' alone; '' of any other.

    >>> letter_in("M."), letter_in("m"), letter_in("EA")
    ('M', '', '')
    """
    plain = tidy(text).rstrip(".")
    return plain if plain in {"C", "E", "M"} else ""


def sold_by_length(words: str) -> bool:
    """Whether words speak of what is sold by the metre, and not of what holds it.

    >>> sold_by_length("Coolant hose 19 mm"), sold_by_length("Hose clip"), sold_by_length("Nut")
    (True, False, False)
    """
    return bool(_BY_LENGTH.search(words)) and not _BY_PIECE.search(words)


def in_doubt(units: Column, price: Column, rows: Iterable[Cells], text: Column | None) -> bool:
    """Whether an M in a column of units may be a thousand or a metre.

    A list that says nothing of its parts is doubted where it writes E for each, and M beside it.
    """
    if price.per and not of_a_unit(price.heading):
        return False
    letters = set()
    plain = False
    for cells in rows:
        letter = letter_in(cells[units.index]) if units.index < len(cells) else ""
        words = cells[text.index].strip() if text and text.index < len(cells) else ""
        letters.add(letter)
        plain = plain or (letter == "M" and not sold_by_length(words) and bool(words))
        if letter == "M" and not words:
            letters.add("M alone")
    return "C" not in letters and (plain or {"M alone", "E"} <= letters)


def holds_letters(units: Column, rows: Iterable[Cells]) -> bool:
    """Whether a column has cells of C or M alone."""
    at = units.index
    return any(at < len(cells) and letter_in(cells[at]) in {"C", "M"} for cells in rows)


def thousand_or_metre(units: Column, of: str) -> Problem:
    """Ask what an M in a column of units is."""
    heading = units.heading or f"column {units.letter}"
    return Problem(
        f"column {units.letter}",
        f"is M in '{heading}' a thousand, or a metre?",
        f"say {as_told(Field.PER, of, heading)} if it is a thousand, "
        f"{as_told(Field.UNIT, of, heading)} if a metre",
    )


def as_answered(units: Column, nones: Collection[tuple[Field, str]]) -> bool | None:
    """Whether C and M are a hundred and a thousand as a person said of a column; None: not said.

    Who gives the column for how many a price is has said that they are, who gives it for units that
    M is a metre; that it is none of the other is remembered.
    """
    given = units.how.startswith("given")
    name = units.heading or f"column {units.letter}"
    other = Field.UNIT if units.field is Field.PER else Field.PER
    if given or (other, name) in nones:
        return units.field is Field.PER
    return None
