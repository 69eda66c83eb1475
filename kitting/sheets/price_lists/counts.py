"""Thousands in a count: '1,000', '1.000', '1 000' and "1'000" as the list that has them means it.

A mark before three figures may be one for thousands or for decimals. The list's own prices tell
which; where they do not, nobody can say, and a person is asked.
"""

from __future__ import annotations

import re

from kitting.sheets.price_lists.marks import Figure, tidy

_GROUPED = re.compile(
    r"(?<![\d.,'’])(?<!\d )(?P<count>[1-9]\d{0,2}(?P<mark>[.,'’ ])\d{3}(?:(?P=mark)\d{3})*)"
    r"(?P<tail>[.,]\d+)?(?![\d.,'’]*\d)"
)
_DECIMAL = ".,"


def counted(text: str, decimal: str) -> str | None:
    """A cell with the thousands of its counts joined; None where its mark may be either.

    `decimal` is the list's mark before decimals, '' where it is not known.

    >>> counted("box of 1,000", "."), counted("1.000", ","), counted("1,000", ",")
    ('box of 1000', '1000', '1,000')
    >>> counted("1 000", ""), counted("1,000", "") is None
    ('1000', True)
    """
    if isinstance(text, Figure):
        return text
    plain = tidy(text)
    unsure = [found for found in _GROUPED.finditer(plain) if not (decimal or _surely(found))]
    if unsure:
        return None
    return _GROUPED.sub(lambda f: _joined(f) if _surely(f) or f["mark"] != decimal else f[0], plain)


def as_in_headings(text: str) -> str:
    """A heading with its thousands joined: nobody heads a column 'per 1.000' and means one.

    >>> as_in_headings("Price per 1,000"), as_in_headings("ab 1.000 Stück")
    ('Price per 1000', 'ab 1000 Stück')
    """
    return _GROUPED.sub(_joined, tidy(text))


def _surely(found: re.Match[str]) -> bool:
    """Whether a mark can only be one for thousands, whatever the list's habit."""
    mark, tail = found["mark"], found["tail"]
    several = found["count"].count(mark) > 1
    return mark not in _DECIMAL or several or bool(tail and tail[0] != mark)


def _joined(found: re.Match[str]) -> str:
    return found["count"].replace(found["mark"], "") + (found["tail"] or "")
