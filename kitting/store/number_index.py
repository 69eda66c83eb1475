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
    """Every plain number one edit away: a mark changed, left out, too many, or two turned round.

    Each once: of marks that are alike side by side only the first counts. In order, so that the
    index is gone through one way.
    """
    found: list[str] = []
    for at in range(len(normal) + 1):
        start, end = normal[:at], normal[at:]
        found += [start + mark + end for mark in _MARKS if mark != start[-1:]]
        if not end:
            break
        here, rest = end[0], end[1:]
        found += [start + mark + rest for mark in _MARKS if mark != here]
        if here != start[-1:]:
            found.append(start + rest)
        if rest and rest[0] != here:
            found.append(start + rest[0] + here + rest[1:])
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
