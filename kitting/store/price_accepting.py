"""Accepting a link that a price list names, and saying which answers of the catalogue it changes.

A list's link counts in every family: where a family says otherwise of the same number, two changes
stand side by side and neither is followed. What a link would leave without an answer is refused
until somebody says that it is meant.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from kitting.catalog.answers import AnswerChange, Bought, answer, changed
from kitting.catalog.model import PartNumber
from kitting.errors import BadInput, Problem
from kitting.store.links import Links
from kitting.store.price_review import PriceReview, Proposal
from kitting.store.search import Search

_TOLD = 4


class PriceAccepting:
    """Accepts proposed links within one unit of work."""

    def __init__(self, review: PriceReview, links: Links, search: Search) -> None:
        self._review = review
        self._links = links
        self._search = search

    def accept(
        self, key: int, who: str, day: date, part: PartNumber | None = None, *, anyhow: bool = False
    ) -> tuple[Proposal, tuple[AnswerChange, ...]]:
        """Make a proposed link a link; returns it and the answers of a day that it changes.

        Args:
            key: the proposal's number.
            who: whose word it is.
            day: today.
            part: which part the new number is, where nobody knows.
            anyhow: that it is meant even where it leaves a number without an answer.

        Raises:
            NotFound: no such proposal, or no such part.
            BadInput: as `PriceReview.accept` raises it, or it leaves numbers without an answer.
        """
        old, new = self._review.ends(key, part)
        graphs = self._links.subgraphs([old, new])
        joined = {old, new} | {
            number
            for graph in graphs.values()
            for link in graph.links
            for number in (link.old, link.new)
        }
        before = self._answers(joined, day)
        proposal = self._review.accept(key, who, part)
        changes = changed(before, self._answers(joined, day))
        lost = [each for each in changes if each.is_lost]
        if lost and not anyhow:
            raise BadInput(_leaves_nothing(proposal, lost))
        return proposal, changes

    def _answers(
        self, numbers: Collection[PartNumber], day: date
    ) -> dict[tuple[str, PartNumber], Bought]:
        """What answers for numbers in the eyes of each family, those that see alike taken once."""
        found: dict[tuple[str, PartNumber], Bought] = {}
        for family, others in self._eyes(numbers).items():
            graphs = self._links.subgraphs(numbers, family)
            for number in numbers:
                bought = answer(number, graphs[number], day)
                found |= {(each, number): bought for each in (family, *others)}
        return found

    def _eyes(self, numbers: Collection[PartNumber]) -> dict[str, tuple[str, ...]]:
        """Families that see the numbers differently, each with those that see them as it does.

        One with links of its own about them follows these; all others follow the same of others.
        """
        _, links = self._links.about(numbers, "")
        families = self._search.families(numbers)
        owners = {link.record.partition(": ")[0] for link in links}
        found: dict[str, tuple[str, ...]] = dict.fromkeys(sorted(owners & {*families}), ())
        rest = [each for each in families if each not in owners]
        if rest or not found:
            found[rest[0] if rest else ""] = tuple(rest[1:])
        return found


def _leaves_nothing(proposal: Proposal, lost: list[AnswerChange]) -> Problem:
    """That a link leaves numbers without an answer, and how it is accepted all the same."""
    numbers = [f"{each.part} ({family_words(each.families)})" for each in lost]
    more = f" and {len(numbers) - _TOLD} more" if len(numbers) > _TOLD else ""
    also = ", ".join(map(str, proposal.beside))
    because = f": {proposal.old} is superseded by {also} already" if also else ""
    return Problem(
        f"proposal {proposal.id}",
        f"nothing could be bought any more for {', '.join(numbers[:_TOLD])}{more}{because}",
        "refuse it with --refuse, mend the catalogue, or accept it all the same with --confirm",
    )


def family_words(families: tuple[str, ...]) -> str:
    """The families in a few words."""
    first = families[0] or "no family"
    return f"{first} and {len(families) - 1} more" if len(families) > 1 else first
