"""How well the cells of a column suit a field: numbers that are known, money, days, packs."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Sequence

from kitting.catalog.model import normal_number
from kitting.sheets.price_lists.cells import LONGEST_NUMBER, pack_of, quality_of
from kitting.sheets.price_lists.counts import as_in_headings
from kitting.sheets.price_lists.currencies import all_currencies
from kitting.sheets.price_lists.dates import readings
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.marks import Mark, Marked
from kitting.sheets.price_lists.money import MoneyReader
from kitting.sheets.price_lists.steps import quantity_of
from kitting.sheets.price_lists.units import unit_of

Known = Callable[[Collection[str]], Collection[str]]
"""Of some part numbers, as compared, those that are known."""

_CANNOT = -1.0
_LONGEST_CODE = 3  # 'C', 'PK', 'EA': what is longer and unknown is a word
_FEW = 2
_MOST_GAPS = 2
_WORDY = re.compile(r"[^\W\d_]{4,}\s|\s[^\W\d_]{4,}")
_NEARLY_ALL = 0.9
_SOME, _MOST = 0.3, 0.5
_CODE = re.compile(r"[A-Z]{3}")
COUNTS = frozenset({Field.PER, Field.PACK, Field.QUANTITY, Field.STOCK})
"""The fields whose cells are counts, and never money."""

_FIGURE = re.compile(
    r"(?:[£€$]|EUR|GBP|USD)?\s*(\d[\d.,'’ ]*?)(?:[.,](\d+))?\s*(?:[£€$]|EUR|GBP|USD)?"
)
_TENS = re.compile(r"10*[.,]00")
_OWN_SIZE = re.compile(
    r"(?<![^\W_])(?:packs?|packets?|pkts?|pk|boxe?s?|cases?|cartons?|bags?|sets?|lots?|vpe|ve|packung"
    r"|beutel|karton|boîte|doos|caja|conf\w*)\.?\s*(?:(?:of|à|x|von|de|da|van|/)\s*)?\d+\b"
    r"|(?<!\d)\d+(?:er|\s*[x/-]?\s*packs?)\b",
    re.IGNORECASE,
)
_DECIMALS = re.compile(r"\d[.,]\d\d\b|[£€$]")


def suits(field: Field, values: Sequence[str], known: Known) -> float:
    """How well values suit a field, 0 to 100; below 0 when they cannot be it."""
    if not values:
        return _CANNOT if field in {Field.PRICE, Field.NUMBER} else 0
    if field is Field.NUMBER:
        return _numbers(values, known)
    if field is Field.PART:
        return _makers_numbers(values, known)
    judge = _JUDGES.get(field)
    return judge(values) if judge else 0


def may_be(field: Field, values: Sequence[str]) -> bool:
    """Whether a plainly named column whose cells are mostly not understood may be the field still.

    A column that says for how many a price is must not be passed over for its odd cells; one of
    words alone, as 'Unit' above the names of assemblies, says no such thing.
    """
    if field in {Field.NUMBER, Field.PRICE, Field.PER}:
        return True
    if field is Field.CURRENCY:
        return any(not any(mark.isdigit() for mark in text) for text in values)
    says = {Field.UNIT: unit_of, Field.PACK: pack_of}.get(field)
    return says is not None and any(
        len(text) <= _LONGEST_CODE or says(as_in_headings(text)) is not None for text in values
    )


def like_numbers(values: Sequence[str]) -> bool:
    """Whether values look like part numbers: short, nearly all different, a figure in each."""
    if len(values) < _FEW:
        return False
    coded = _share(
        values,
        lambda text: (
            len(text) <= LONGEST_NUMBER // 2
            and text.count(" ") <= _MOST_GAPS
            and any(mark.isdigit() for mark in text)
            and not _WORDY.search(text)
        ),
    )
    return coded >= _NEARLY_ALL and len(set(values)) >= _NEARLY_ALL * len(values)


def looks_like_money(text: str) -> bool:
    """Whether a cell is a price with its decimals or its sign, and no bare count."""
    return bool(_DECIMALS.search(text)) and not MoneyReader(".")(text).wrong


def holds_money(values: Sequence[str]) -> bool:
    """Whether a column is of money: figures with two decimals, or nearly all of them not whole.

    Figures of 1.00, 10.00 and 100.00 alone are counts that were written so.

    >>> holds_money(["11.00", "20.00"]), holds_money(["11.5", "2.25"]), holds_money(["10", "25"])
    (True, True, False)
    >>> holds_money(["1.00", "10.00", "100.00"]), holds_money(["1,000", "2,500"])
    (False, False)
    """
    found = [match for match in map(_FIGURE.fullmatch, values) if match]
    if not found or len(found) < _NEARLY_ALL * len(values):
        return False
    if all(_TENS.fullmatch(match[0]) for match in found):
        return False
    priced = sum(1 for each in found if each[2] and (len(each[2]) == _FEW or _broken(each[2])))
    return priced >= _NEARLY_ALL * len(found)


def _broken(decimals: str) -> bool:
    """Whether decimals are a part of one; three of them are thousands as likely."""
    return len(decimals) != 3 and bool(decimals.strip("0"))


def names_its_size(heading: str) -> bool:
    """Whether a heading says how many itself, so that its cells cannot.

    >>> [names_its_size(text) for text in ("Pack of 10", "VPE 10", "10er", "Pack size", "Pack of")]
    [True, True, True, False, False]
    """
    return _OWN_SIZE.search(as_in_headings(heading)) is not None


def _numbers(values: Sequence[str], known: Known) -> float:
    different = len(set(values)) / len(values)
    digits = _share(values, lambda text: any(mark.isdigit() for mark in text))
    if digits < 0.3 or different < 0.3:
        return _CANNOT
    normals = {normal_number(text) for text in values} - {""}
    found = len(set(known(normals))) / max(1, len(normals))
    return 20 * different + 80 * found


def _makers_numbers(values: Sequence[str], known: Known) -> float:
    """As of any numbers, yet known without their maker; the same may stand in several rows."""
    figured = _share(values, lambda text: any(mark.isdigit() for mark in text))
    if figured < _SOME or _share(values, looks_like_money) > _MOST:
        return _CANNOT
    return 20 + 80 * known_share(values, known)


def known_share(values: Collection[str], known: Known) -> float:
    """How many of some numbers, written with their maker or without, are known: 0 to 1."""
    normals = {normal_number(text.rpartition(":")[2]) for text in values} - {""}
    return len(set(known(normals))) / max(1, len(normals))


def _prices(values: Sequence[str]) -> float:
    reader = MoneyReader(".")
    usable = _share(values, lambda text: not reader(text).wrong)
    formulas = any(isinstance(text, Marked) and text.mark is Mark.FORMULA for text in values)
    if usable < 0.4 and not formulas:
        return _CANNOT
    decimals = _share(values, lambda text: _DECIMALS.search(text) is not None)
    return 60 * usable + 40 * decimals if decimals > 0.3 else 30 * usable


def _currencies(values: Sequence[str]) -> float:
    if all_currencies(values):
        return 100
    return 0 if _share(values, lambda text: _CODE.fullmatch(text) is not None) > 0.5 else _CANNOT


def _mostly(test: Callable[[str], bool], points: float) -> Callable[[Sequence[str]], float]:
    return lambda values: points if _share(values, test) > 0.5 else _CANNOT


def _share(values: Sequence[str], test: Callable[[str], bool]) -> float:
    return sum(1 for text in values if test(text)) / len(values)


_DAY = _mostly(lambda text: any(readings(text)), 20)
_JUDGES: dict[Field, Callable[[Sequence[str]], float]] = {
    Field.PRICE: _prices,
    Field.CURRENCY: _currencies,
    Field.PER: _mostly(lambda text: pack_of(as_in_headings(text)) is not None, 10),
    Field.UNIT: _mostly(lambda text: unit_of(as_in_headings(text)) is not None, 10),
    Field.PACK: _mostly(lambda text: pack_of(as_in_headings(text)) is not None, 10),
    Field.QUANTITY: _mostly(lambda text: quantity_of(as_in_headings(text)) > 0, 10),
    Field.QUALITY: _mostly(lambda text: quality_of(text) is not None, 20),
    Field.VALID_FROM: _DAY,
    Field.VALID_UNTIL: _DAY,
}
