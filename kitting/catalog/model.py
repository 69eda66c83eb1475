"""What the catalogue says of an engine family: frozen values, one class a table of `catalog/`.

The rules stand in `kitting.catalog.rules`, the grades in `kitting.catalog.size_tables`. The text
files, the database and the stages all speak in these; `kitting.catalog.family` puts them together.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.measure import Quantity, Unit


class Verdict(StrEnum):
    """What follows for a position."""

    REUSE = "reuse"
    REWORK = "rework"
    RENEW = "renew"
    WRONG_PART = "wrong part"
    RECHECK = "recheck"


class LinkKind(StrEnum):
    """How one part number stands to another."""

    SUPERSEDED = "superseded"
    EITHER_WAY = "either way"
    ONE_WAY = "one way"
    FULL_SET = "full set"
    WITH_WORK = "with work"


def normal_number(text: str) -> str:
    """Return a part number without what people write differently: case, spaces, dashes, dots.

    >>> normal_number("c65 - 1042/a")
    'C651042A'
    """
    return re.sub(r"[^0-9A-Z]", "", text.upper())


class PartNumber(NamedTuple):
    """A maker's number for a part; the maker by its short key.

    A tuple, as it is the key of nearly every table in memory.
    """

    maker: str
    number: str

    def __str__(self) -> str:
        return f"{self.maker}:{self.number}"

    @property
    def normal(self) -> str:
        """The number as it is compared."""
        return normal_number(self.number)


@dataclass(frozen=True, slots=True)
class Variant:
    """A version of the family by years and engine numbers (prefix, then a running number)."""

    key: str
    name: str
    prefix: str
    first: int
    last: int
    years: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Assembly:
    """A group stripped and built together; `stage` is its bag at assembly."""

    key: str
    name: str
    sequence: int
    stage: str
    caution: str = ""


@dataclass(frozen=True, slots=True)
class Position:
    """A place in an assembly that a part occupies.

    `sized_by` names the size table whose chosen grade the part must have; `matched` joins positions
    that are renewed together; `must_look` asks for a finding whenever the assembly is stripped;
    `variants` empty means all.
    """

    key: str
    assembly: str
    sequence: int
    name: str
    kind: str
    quantity: int
    variants: tuple[str, ...] = ()
    must_look: bool = False
    sized_by: str = ""
    matched: str = ""
    caution: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Feature:
    """Something measurable at a position, with its limits and how to measure it.

    `low`/`high` are the drawing's limits when new, `wear_low`/`wear_high` the limits of use. A
    feature with a `size_table` takes both from the present grade's row instead. `part_tells` marks
    a figure by which a part is known (a spring's rate): out of limits is then a wrong part, not a
    worn one. `scores` names the journal or bore whose depth of score or pit (radial) this is.
    `goes_with` names the feature whose sum this figure serves: the journal that this bore is the
    housing of, or whose shell (thickness) or bush (diameter) in hand it measures; the bore whose
    piston in hand it measures; the end float that these shims (thickness) were in place for. Of the
    bore of a bush or guide that is finished after fitting it names the pin or stem that runs there,
    which has no size table; of a new pin or stem in hand, that bore.
    `if_out` and `operation` say what follows when it is out. `at_build` is measured again at
    assembly.
    """

    key: str
    position: str
    name: str
    kind: str
    unit: Unit
    low: Quantity | None
    high: Quantity | None
    wear_low: Quantity | None
    wear_high: Quantity | None
    ovality: Quantity | None
    taper: Quantity | None
    size_table: str
    stations: tuple[str, ...]
    directions: tuple[str, ...]
    instrument: str
    if_out: Verdict
    operation: str
    source: str
    part_tells: bool = False
    critical: bool = False
    at_build: bool = False
    scores: str = ""
    note: str = ""
    goes_with: str = ""

    @property
    def is_in_hand(self) -> bool:
        """Whether it measures what is about to be fitted, and says nothing of what was found."""
        return bool(self.goes_with) and self.kind != "bore"


@dataclass(frozen=True, slots=True)
class Part:
    """A maker's part. `attributes` hold what tells it from another: thread, height, rate, width.

    `vat` is the VAT category of EN 16931 (S standard, Z zero, E exempt).
    """

    number: PartNumber
    name: str
    kind: str
    attributes: Mapping[str, str]
    vat: str = "S"
    note: str = ""


@dataclass(frozen=True, slots=True)
class Fit:
    """That a part serves a position: on which variants and engine numbers, at which grade.

    `quantity` is how many of the part the position takes when that differs from the position's
    own (a pair sold as one number takes 1). `first`/`last` bound the engine's running number.
    """

    position: str
    part: PartNumber
    variants: tuple[str, ...] = ()
    first: int | None = None
    last: int | None = None
    grade: str = ""
    quantity: int | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Link:
    """A supersession or an interchange. Rows of one `record` belong together (splits, merges).

    `old` × `old_quantity` is answered by `new` × `new_quantity`. `needs` are companions that must
    be bought with it, `operation` the work it takes. `since`/`until` bound the day of the order,
    `use_up` allows the old number while stock lasts. `with_grade` limits it to one size grade.
    """

    record: str
    kind: LinkKind
    old: PartNumber
    old_quantity: int
    new: PartNumber
    new_quantity: int
    variants: tuple[str, ...] = ()
    first: int | None = None
    last: int | None = None
    with_grade: str = ""
    since: date | None = None
    until: date | None = None
    operation: str = ""
    needs: tuple[PartNumber, ...] = ()
    use_up: bool = False
    note: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class SetItem:
    """That a set (one number) contains so many of a part."""

    set: PartNumber
    part: PartNumber
    quantity: int
