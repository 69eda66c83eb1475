"""The verdict stage: from what the bench said to what follows for each position.

Every opinion on a position is kept; the gravest decides: wrong part, renew, rework, recheck,
reuse. A named person's decision stands above them, and what the rules said is kept beside it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.catalog.model import Verdict
from kitting.job.assess import Assessment, State, assess
from kitting.job.because import Because
from kitting.job.fitted import judge_fitted
from kitting.job.settings import Lean
from kitting.job.spring_opinion import judge_fitted_spring

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.family import Family
    from kitting.catalog.model import Position
    from kitting.job.findings import Bench, Finding, Override
    from kitting.job.settings import Settings

GRAVITY = (Verdict.REUSE, Verdict.RECHECK, Verdict.REWORK, Verdict.RENEW, Verdict.WRONG_PART)


@dataclass(frozen=True, slots=True)
class Opinion:
    """One rule's or one measurement's word on a position."""

    verdict: Verdict
    operation: str
    because: Because


@dataclass(frozen=True, slots=True)
class PositionVerdict:
    """What follows for a position.

    `operations` are what rework is asked, without repeats. `undecided` are opinions that the
    verdict does not settle: they keep the job from being ready. `ruled` is what the rules said
    where a named person decided otherwise.
    """

    position: Position
    verdict: Verdict
    operations: tuple[str, ...]
    because: tuple[Because, ...]
    opinions: tuple[Opinion, ...]
    assessments: tuple[Assessment, ...]
    undecided: tuple[Because, ...] = ()
    ruled: Verdict | None = None


@dataclass(frozen=True)
class Verdicts:
    """The verdicts of a job, in the order an engine comes apart."""

    bench: Bench
    positions: tuple[PositionVerdict, ...]
    findings: Mapping[str, Finding] = field(repr=False)

    @cached_property
    def by_position(self) -> Mapping[str, PositionVerdict]:
        """Verdicts by position key."""
        return MappingProxyType({verdict.position.key: verdict for verdict in self.positions})


def judge(family: Family, bench: Bench, settings: Settings) -> Verdicts:
    """Return the verdict on every position that has a finding or a named person's decision."""
    findings = {finding.position: finding for finding in bench.findings}
    overrides = {override.position: override for override in bench.overrides}
    judged = []
    for position in family.positions_on(bench.job.variant):
        finding = findings.get(position.key)
        override = overrides.get(position.key)
        if override is None and (finding is None or not _looked_at(family, finding)):
            continue
        verdict = _judge_position(family, position, bench, finding, settings)
        judged.append(verdict if override is None else _overridden(verdict, override))
    return Verdicts(bench, tuple(judged), MappingProxyType(findings))


def _looked_at(family: Family, finding: Finding) -> bool:
    """Whether the bench looked at what was fitted: figures of new parts in hand are no look."""
    found = any(not family.feature_by_key[r.feature].is_in_hand for r in finding.readings)
    return found or replace(finding, readings=()).says_something


def _judge_position(
    family: Family,
    position: Position,
    bench: Bench,
    finding: Finding | None,
    settings: Settings,
) -> PositionVerdict:
    assessments: tuple[Assessment, ...] = ()
    opinions: list[Opinion] = []
    if finding is not None:
        assessments = _assessments(family, position, finding, settings)
        opinions = [
            *_of_the_part(family, position, bench, finding),
            *(
                opinion
                for assessed in assessments
                for opinion in _of_the_figures(assessed, settings)
            ),
            *_of_the_spring(family, position, finding, settings),
            *_of_the_eye(family, position, bench, finding),
            *_of_a_glance(finding),
        ]
    verdict = max(
        (opinion.verdict for opinion in opinions), key=GRAVITY.index, default=Verdict.REUSE
    )
    deciding = [opinion for opinion in opinions if opinion.verdict is verdict]
    settled = verdict in {Verdict.RENEW, Verdict.WRONG_PART}
    operations = _operations(opinions) if verdict is Verdict.REWORK else ()
    open_questions = [
        opinion
        for opinion in opinions
        if opinion.verdict is Verdict.RECHECK and opinion.operation not in operations
    ]
    return PositionVerdict(
        position=position,
        verdict=verdict,
        operations=operations,
        because=tuple(opinion.because for opinion in deciding),
        opinions=tuple(opinions),
        assessments=assessments,
        undecided=() if settled else tuple(opinion.because for opinion in open_questions),
    )


def _operations(opinions: list[Opinion]) -> tuple[str, ...]:
    asked = (opinion.operation for opinion in opinions if opinion.verdict is Verdict.REWORK)
    return tuple(dict.fromkeys(operation for operation in asked if operation))


def _assessments(
    family: Family, position: Position, finding: Finding, settings: Settings
) -> tuple[Assessment, ...]:
    return tuple(
        assess(
            family,
            feature,
            tuple(reading for reading in finding.readings if reading.feature == feature.key),
            settings,
        )
        for feature in family.features_of.get(position.key, ())
    )


def _of_the_part(
    family: Family, position: Position, bench: Bench, finding: Finding
) -> list[Opinion]:
    if finding.fitted is None:
        return []
    return [
        Opinion(Verdict.WRONG_PART if judged.wrong else Verdict.REUSE, "", judged.because)
        for judged in judge_fitted(family, position, bench.job, finding.fitted)
    ]


def _of_the_figures(assessed: Assessment, settings: Settings) -> list[Opinion]:
    if assessed.state is State.NOT_MEASURED:
        return []
    feature = assessed.feature
    reasons = [test.because() for test in assessed.telling]
    if assessed.state is State.UNDECIDED and settings.lean is not Lean.RECHECK:
        verdict = Verdict.REUSE if settings.lean is Lean.REUSE else feature.if_out
        policy = f"the shop leans to {settings.lean} where nothing is proven"
        return [
            Opinion(verdict, feature.operation, Because(policy, "shop.csv, lean", after=(reason,)))
            for reason in reasons
        ]
    return [Opinion(assessed.verdict, feature.operation, reason) for reason in reasons]


def _of_the_spring(
    family: Family, position: Position, finding: Finding, settings: Settings
) -> list[Opinion]:
    found = judge_fitted_spring(family, position, finding, settings)
    return [Opinion(found[0], "", found[1])] if found else []


def _of_the_eye(
    family: Family, position: Position, bench: Bench, finding: Finding
) -> list[Opinion]:
    opinions = []
    for seen in finding.seen:
        observation = family.observation_by_key[seen.observation]
        degree = observation.grades.index(seen.grade)
        amount = f", {seen.amount}" if seen.amount is not None else ""
        saw = Because(f"seen on {position.name}: {observation.name}, {seen.grade}{amount}")
        applying = [
            rule
            for rule in family.judgements
            if rule.observation == seen.observation
            and degree >= observation.grades.index(rule.at_least)
            and position in family.aimed_at(rule.of, bench.job.variant)
        ]
        if not applying:
            opinions.append(Opinion(Verdict.REUSE, "", saw))
        for rule in applying:
            because = Because(rule.because, rule.source, rule.key, (saw,))
            opinions.append(Opinion(rule.verdict, rule.operation, because))
    return opinions


def _of_a_glance(finding: Finding) -> list[Opinion]:
    if not finding.sound:
        return []
    who = f" by {finding.who}" if finding.who else ""
    return [Opinion(Verdict.REUSE, "", Because(f"looked at{who} and found sound"))]


def _overridden(verdict: PositionVerdict, override: Override) -> PositionVerdict:
    says = f"decided by {override.who} on {override.when:%d %b %Y}: {override.reason}"
    because = Because(says, "named person's decision", after=verdict.because)
    return PositionVerdict(
        position=verdict.position,
        verdict=override.verdict,
        operations=(override.operation,) if override.operation else (),
        because=(because,),
        opinions=verdict.opinions,
        assessments=verdict.assessments,
        undecided=(because,) if override.verdict is Verdict.RECHECK else (),
        ruled=verdict.verdict,
    )
