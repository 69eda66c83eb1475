"""Which numbers can be nearly the same as one typed: keys to look up in an index, and no other.

One edit leaves few numbers to try, each looked up as it stands, so that the work does not depend on
how alike a catalogue's numbers are. Two edits leave too many to try; but then the end of the number
is as typed, or its beginning has one edit at most, and beginnings are ranges of the index.
"""

from __future__ import annotations

import string

_MARKS = string.digits + string.ascii_uppercase
# Greater than every mark of a plain number, byte by byte.
AFTER = "~"


def one_edit(normal: str) -> list[str]:
    """Every plain number one edit away: a mark changed, left out, too many, or two turned round."""
    found: set[str] = set()
    for at in range(len(normal) + 1):
        start, end = normal[:at], normal[at:]
        found.update([start + mark + end for mark in _MARKS])
        if end:
            rest = end[1:]
            found.add(start + rest)
            found.update([start + mark + rest for mark in _MARKS])
            if rest:
                found.add(start + rest[0] + end[0] + rest[1:])
    found.discard(normal)
    return sorted(found)


def two_edits(normal: str) -> tuple[list[str], str]:
    """The beginnings, and the end turned round, of which a number two edits away has one.

    The mark between beginning and end keeps two neighbours that are turned round out of one of
    them, so that no edit touches both.
    """
    half = (len(normal) - 1) // 2
    start, end = normal[:half], normal[half + 1 :]
    starts = sorted({start, *one_edit(start)})
    fewest: list[str] = []
    for each in starts:
        if not fewest or not each.startswith(fewest[-1]):
            fewest.append(each)
    return fewest, end[::-1]
