"""What else must be done because of what was found, followed to the end.

The rules are rows of the catalogue (`consequences.csv`); nothing here knows an engine. Facts start
from the strip-down, the observations and the verdicts; each rule whose fact holds adds demands, and
a demand is itself a fact for further rules, until nothing new follows.

What the customer has declined is demanded no more by rules that soundness does not rest on (see
`Weight`), and neither is what would have followed from it. A needed reason brings it back.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.catalog.model import Verdict
from kitting.catalog.rules import Then, Weight, When
from kitting.job.because import Because

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from kitting.catalog.family import Family
    from kitting.catalog.rules import Consequence, Target
    from kitting.job.verdicts import PositionVerdict, Verdicts

MATCHED = "positions.csv, matched"


@dataclass(frozen=True, slots=True)
class Fact:
    """Something that is so: `what` of `key` (a position or an assembly), `detail` where needed."""

    what: When
    key: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Demand:
    """Something that must follow: what, of which position, with every reason for it.

    `operation` names the work where `then` is an operation; the text of advice stands in the
    reasons.
    """

    then: Then
    position: str
    operation: str
    reasons: tuple[Because, ...]


@dataclass(frozen=True)
class Demands:
    """All that the job demands, in the order in which it was found to follow."""

    demands: tuple[Demand, ...]

    def of(self, then: Then) -> tuple[Demand, ...]:
        """The demands of one sort."""
        return tuple(demand for demand in self.demands if demand.then is then)

    @cached_property
    def renewed(self) -> Mapping[str, Demand]:
        """The renewals by position."""
        return MappingProxyType({demand.position: demand for demand in self.of(Then.RENEW)})

    @cached_property
    def operations(self) -> Mapping[tuple[str, str], Demand]:
        """The work by operation and position."""
        work = self.of(Then.OPERATION)
        return MappingProxyType({(demand.operation, demand.position): demand for demand in work})


def follow(family: Family, verdicts: Verdicts) -> Demands:
    """Return every renewal, operation, check and advice that the verdicts lead to.

    A position renewed for several reasons is demanded once, with all of them.
    """
    return _Following(family, verdicts).run()


class _Following:
    """One run to the fixed point: facts to look at, and the reasons found for each demand."""

    def __init__(self, family: Family, verdicts: Verdicts) -> None:
        self._family = family
        self._verdicts = verdicts
        self._variant = verdicts.bench.job.variant
        self._waiting: deque[tuple[Fact, Because]] = deque()
        self._known: set[Fact] = set()
        self._reasons: dict[tuple[Then, str, str], list[Because]] = {}
        self._rules = _rules_by_fact(family)
        self._meant: dict[Target, frozenset[str]] = {}  # a target is asked about for every fact
        self._declined = verdicts.bench.declined

    def run(self) -> Demands:
        for fact, because in self._first_facts():
            self._tell(fact, because)
        while self._waiting:
            fact, because = self._waiting.popleft()
            for rule in self._applying(fact):
                self._demand(rule, fact, because)
            if fact.what is When.RENEW:
                self._renew_matched(fact.key, because)
        return Demands(
            tuple(
                Demand(then, position, operation, tuple(reasons))
                for (then, position, operation), reasons in self._reasons.items()
            )
        )

    def _first_facts(self) -> Iterator[tuple[Fact, Because]]:
        for verdict in self._verdicts.positions:
            yield from self._facts_of(verdict)
        for assembly in self._verdicts.bench.stripped:
            name = self._family.assembly_by_key[assembly].name
            yield Fact(When.STRIPPED, assembly), Because(f"{name} stripped")

    def _facts_of(self, verdict: PositionVerdict) -> Iterator[tuple[Fact, Because]]:
        key, name = verdict.position.key, verdict.position.name
        says = Because(f"{name}: {verdict.verdict}", after=verdict.because)
        finding = self._verdicts.findings.get(key)
        for seen in finding.seen if finding is not None else ():
            observation = self._family.observation_by_key[seen.observation]
            saw = Because(f"seen on {name}: {observation.name}, {seen.grade}")
            yield Fact(When.SEEN, key, f"{seen.observation}={seen.grade}"), saw
        if verdict.verdict is Verdict.WRONG_PART:
            yield Fact(When.WRONG_PART, key), says
        if verdict.verdict in {Verdict.WRONG_PART, Verdict.RENEW}:
            self._add(Then.RENEW, key, "", says)
        elif verdict.verdict is Verdict.REUSE:
            yield Fact(When.REUSE, key), says
        elif verdict.verdict is Verdict.REWORK:
            yield Fact(When.REWORK, key), says
        for operation in verdict.operations:
            self._add(Then.OPERATION, key, operation, says)

    def _applying(self, fact: Fact) -> Iterator[Consequence]:
        for rule in self._rules.get(fact.what, ()):
            if fact.what is When.OPERATION:
                if rule.of.key == fact.detail:
                    yield rule
            elif fact.what is When.STRIPPED:
                if rule.of.key == fact.key:
                    yield rule
            elif self._speaks_of(rule, fact.key) and self._bad_enough(rule, fact):
                yield rule

    def _speaks_of(self, rule: Consequence, position: str) -> bool:
        meant = self._meant.get(rule.of)
        if meant is None:
            meant = frozenset(p.key for p in self._family.aimed_at(rule.of, self._variant))
            self._meant[rule.of] = meant
        return position in meant

    def _bad_enough(self, rule: Consequence, fact: Fact) -> bool:
        if fact.what is not When.SEEN:
            return True
        observation, _, grade = fact.detail.partition("=")
        grades = self._family.observation_by_key[observation].grades
        return rule.observation == observation and grades.index(grade) >= grades.index(
            rule.at_least
        )

    def _demand(self, rule: Consequence, fact: Fact, because: Because) -> None:
        reason = Because(rule.because, rule.source, rule.key, (because,))
        targets = self._family.aimed_at(rule.to, self._variant)
        if rule.to.sort == "operation":
            self._demand_of(rule, fact.key, rule.to.key, reason)
        for position in targets:
            self._demand_of(rule, position.key, rule.operation, reason)

    def _demand_of(self, rule: Consequence, position: str, operation: str, reason: Because) -> None:
        may_go = rule.weight is not Weight.NEEDED and rule.then in {Then.RENEW, Then.OPERATION}
        if not (may_go and (position, operation) in self._declined):
            self._add(rule.then, position, operation, reason)

    def _renew_matched(self, key: str, because: Because) -> None:
        matched = self._family.position_by_key[key].matched
        if not matched:
            return
        here = {position.key for position in self._family.positions_on(self._variant)}
        for other in self._family.matched_with[matched]:
            renewed = (Then.RENEW, other.key, "") in self._reasons
            if other.key in here and not renewed:
                says = f"renewed together with its fellows ({matched})"
                reason = Because(says, MATCHED, after=(because,))
                self._add(Then.RENEW, other.key, "", reason)

    def _add(self, then: Then, position: str, operation: str, reason: Because) -> None:
        reasons = self._reasons.setdefault((then, position, operation), [])
        if any(known.says == reason.says and known.rule == reason.rule for known in reasons):
            return
        reasons.append(reason)
        if then is Then.RENEW:
            self._tell(Fact(When.RENEW, position), reason)
        elif then is Then.OPERATION:
            self._tell(Fact(When.OPERATION, position, operation), reason)

    def _tell(self, fact: Fact, because: Because) -> None:
        if fact not in self._known:
            self._known.add(fact)
            self._waiting.append((fact, because))


def weight_of(family: Family, reasons: Iterable[Because]) -> Weight:
    """How much something is wanted: as much as the gravest of the reasons for it.

    A rule's row says; what is renewed for its fellows' sake is as needed as they are; anything else
    (a verdict on the part itself) is needed.
    """
    weights = {rule.key: rule.weight for rule in family.consequences}
    order = (Weight.OPTIONAL, Weight.ADVISED, Weight.NEEDED)

    def weigh(reason: Because) -> Weight:
        if reason.source == MATCHED and reason.after:
            return weigh(reason.after[0])
        return weights.get(reason.rule, Weight.NEEDED)

    return max(map(weigh, reasons), key=order.index, default=Weight.NEEDED)


def _rules_by_fact(family: Family) -> Mapping[When, tuple[Consequence, ...]]:
    return {when: tuple(rule for rule in family.consequences if rule.when is when) for when in When}
