"""The nearest right word to a wrong one, offered as a question and never taken."""

from collections.abc import Iterable, Set

_LIKE_ENOUGH = 0.6
_LOOKED_AT = 8


def nearest(word: str, choices: Iterable[str], most: int = 1) -> tuple[str, ...]:
    """Return the choices that most resemble `word`, best first; empty when none is like it.

    Letters added, dropped, changed or transposed count one each; words in another order count as
    like. Of two as near, the one that begins alike is first.
    """
    from rapidfuzz import fuzz, process
    from rapidfuzz.distance import OSA, Prefix

    typed = word.lower()
    by_lower = {choice.lower(): choice for choice in sorted(choices)}
    edits = process.extract(
        typed,
        by_lower.keys(),
        scorer=OSA.normalized_similarity,
        limit=_LOOKED_AT,
        score_cutoff=_LIKE_ENOUGH,
    )
    turned = process.extract(
        typed,
        by_lower.keys(),
        scorer=fuzz.token_sort_ratio,
        limit=_LOOKED_AT,
        score_cutoff=100 * _LIKE_ENOUGH,
    )
    scores = {choice: score for choice, score, _ in edits}
    for choice, score, _ in turned:
        scores[choice] = max(scores.get(choice, 0), score / 100)
    ranked = sorted(scores, key=lambda c: (-scores[c], -Prefix.similarity(typed, c), c))
    return tuple(by_lower[choice] for choice in ranked[:most])


def did_you_mean(word: str, choices: Iterable[str], most_listed: int = 8) -> str:
    """Return advice for a word that is none of `choices`: the nearest, or what there is."""
    known = sorted(choices) if isinstance(choices, Set) else list(choices)
    near = nearest(word, known)
    if near:
        return f"did you mean '{near[0]}'?"
    if known and len(known) <= most_listed:
        return f"use one of {', '.join(known)}"
    return ""
