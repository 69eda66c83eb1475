"""The nearest right word to a wrong one, offered as a question and never taken."""

from collections.abc import Iterable

_LIKE_ENOUGH = 60


def nearest(word: str, choices: Iterable[str], most: int = 1) -> tuple[str, ...]:
    """Return the choices that most resemble `word`, best first; empty when none is like it."""
    from rapidfuzz import fuzz, process, utils

    found = process.extract(
        word,
        sorted(choices),
        scorer=fuzz.WRatio,
        processor=utils.default_process,
        limit=most,
        score_cutoff=_LIKE_ENOUGH,
    )
    return tuple(choice for choice, _score, _index in found)


def did_you_mean(word: str, choices: Iterable[str], most_listed: int = 8) -> str:
    """Return advice for a word that is none of `choices`: the nearest, or what there is."""
    known = sorted(choices)
    near = nearest(word, known)
    if near:
        return f"did you mean '{near[0]}'?"
    if known and len(known) <= most_listed:
        return f"use one of {', '.join(known)}"
    return ""
