"""Rules that run in a circle: what they demand of one position leads back to it.

The rules are followed on positions, not on their targets' names, so that 'renew a gasket' and
'renew a pump' only meet where a position is both; and variant by variant, since positions differ.
"""

from collections import deque
from collections.abc import Iterator

from kitting.catalog.check_notes import Notes
from kitting.catalog.circles import circles
from kitting.catalog.family import Family
from kitting.catalog.reach import reached
from kitting.catalog.rules import Consequence, Then, When

# A fact that a rule can make or wait for: renewal of a position, or an operation on it.
_Fact = tuple[When, str, str]
_OPENS = {When.RENEW: Then.RENEW, When.OPERATION: Then.OPERATION}


def check_circles(family: Family, notes: Notes) -> None:
    """Note each circle of rules once, with its chain."""
    told: set[frozenset[str]] = set()
    for variant in family.variant_by_key:
        for facts, rules in circles(_edges(family, variant)):
            if frozenset(rules) in told:
                continue
            told.add(frozenset(rules))
            notes.fault(
                ("consequences", rules[0]),
                "",
                f"the rules {', '.join(dict.fromkeys(rules))} run in a circle: "
                + " → ".join(_in_words(fact) for fact in facts),
                "take one out; positions renewed together get the same word in 'matched'",
            )


def _in_words(fact: _Fact) -> str:
    what, position, operation = fact
    return f"{operation} {position}" if what is When.OPERATION else f"renew {position}"


def _edges(family: Family, variant: str) -> dict[tuple[_Fact, _Fact], frozenset[str]]:
    """From each fact that can be to those that follow, with the rules that lead there."""
    edges: dict[tuple[_Fact, _Fact], frozenset[str]] = {}
    rules = [_Aimed(family, rule, variant) for rule in family.consequences if rule.when in _OPENS]
    waiting: deque[_Fact] = deque(_first_facts(family, variant))
    known = set(waiting)
    while waiting:
        fact = waiting.popleft()
        for rule in rules:
            if not rule.waits_for(fact):
                continue
            for next_fact in rule.made(fact):
                step = (fact, next_fact)
                edges[step] = edges.get(step, frozenset()) | {rule.key}
                if next_fact not in known:
                    known.add(next_fact)
                    waiting.append(next_fact)
    return edges


def _first_facts(family: Family, variant: str) -> Iterator[_Fact]:
    """Any position may be found bad; work starts where a reading, an eye or a size demands it."""
    for position in family.positions:
        if not position.variants or variant in position.variants:
            yield (When.RENEW, position.key, "")
    for feature in family.features:
        if feature.operation:
            yield (When.OPERATION, feature.position, feature.operation)
        if feature.size_table in family.table_by_key:
            operation = family.table_by_key[feature.size_table].operation
            if operation:
                yield (When.OPERATION, feature.position, operation)
    for judgement in family.judgements:
        if judgement.operation:
            for position in reached(family, judgement.of, variant):
                yield (When.OPERATION, position.key, judgement.operation)
    for rule in family.consequences:
        if rule.when not in _OPENS and rule.then is Then.OPERATION:
            for position in reached(family, rule.to, variant):
                yield (When.OPERATION, position.key, rule.operation)


class _Aimed:
    """A rule with the positions of one variant that it waits for and falls on."""

    def __init__(self, family: Family, rule: Consequence, variant: str) -> None:
        self.key = rule.key
        self._rule = rule
        self._of = {position.key for position in reached(family, rule.of, variant)}
        self._to = [position.key for position in reached(family, rule.to, variant)]

    def waits_for(self, fact: _Fact) -> bool:
        """Whether the rule fires on a fact."""
        what, position, operation = fact
        if self._rule.when is not what:
            return False
        if what is When.OPERATION:
            return self._rule.of.sort == "operation" and self._rule.of.key == operation
        return position in self._of

    def made(self, fact: _Fact) -> Iterator[_Fact]:
        """The facts that follow."""
        rule = self._rule
        if rule.then is Then.OPERATION and rule.to.sort == "operation":
            yield (When.OPERATION, fact[1], rule.to.key)
        for position in self._to:
            if rule.then is Then.RENEW:
                yield (When.RENEW, position, "")
            elif rule.then is Then.OPERATION:
                yield (When.OPERATION, position, rule.operation)
