"""Part numbers that are nearly what was typed, with the difference in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

_MOST_EDITS = 2
_SHORTEST = 3
_LONGEST = 64  # a part number has at most 60 marks; what is longer is near none
_LOOK_ALIKE = (("0", "O"), ("1", "I"), ("5", "S"), ("8", "B"), ("2", "Z"))


def near_numbers(typed: str, numbers: Iterable[str], most: int) -> tuple[tuple[str, str], ...]:
    """Return the numbers one edit from what was typed, each with the difference in words.

    Where there is none, those two edits away, unless the number is short. All in the plain form of
    `normal_number`. One edit is a mark changed, left out, too many, or two neighbours that changed
    places. Look-alikes (0 for O) come first.
    """
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    edits = edits_allowed(typed)
    if not edits:
        return ()
    close = process.extract(
        typed, set(numbers), scorer=OSA.distance, limit=None, score_cutoff=edits
    )
    least = min((distance for _, distance, _ in close if distance), default=0)
    told = [(number, difference(typed, number)) for number, d, _ in close if d and d == least]
    ranked = sorted(told, key=lambda each: (not each[1].startswith("look-alike"), each[0]))
    return tuple(ranked[:most])


def edits_allowed(typed: str) -> int:
    """How many edits from a plain number another is near it: none where it is too short to say.

    Nor where it is longer than any number.
    """
    if not _SHORTEST <= len(typed) <= _LONGEST:
        return 0
    return max(1, min(_MOST_EDITS, (len(typed) + 1) // 4))


def difference(typed: str, right: str) -> str:
    """Say how `right` differs from what was typed.

    >>> difference("C651024", "C651042")
    '24 typed where it has 42, at place 6'
    """
    from rapidfuzz.distance import Levenshtein

    start = _alike(typed, right)
    turned = typed[start : start + 2]
    if len(typed) == len(right) and right == typed[:start] + turned[::-1] + typed[start + 2 :]:
        return f"{turned} typed where it has {turned[::-1]}, at place {start + 1}"
    edits = Levenshtein.editops(typed, right)
    return "; ".join(_edit(e.tag, typed, right, e.src_pos, e.dest_pos) for e in edits)


def _alike(typed: str, right: str) -> int:
    """How many marks are alike at the start."""
    pairs = zip(typed, right, strict=False)
    return next((at for at, (a, b) in enumerate(pairs) if a != b), min(len(typed), len(right)))


def _edit(tag: str, typed: str, right: str, source: int, target: int) -> str:
    if tag == "replace":
        mark, wanted = typed[source], right[target]
        alike = any({mark, wanted} == set(pair) for pair in _LOOK_ALIKE)
        says = f"{mark} typed where it has {wanted}, at place {source + 1}"
        return f"look-alike: {says}" if alike else says
    if tag == "delete":
        return f"{typed[source]} is too many, at place {source + 1}"
    return f"{right[target]} is left out, at place {source + 1}"
