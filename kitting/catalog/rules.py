"""The rules of a family: what is seen, what that means, what follows, and the hours it takes."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal

    from kitting.catalog.model import Verdict


class When(StrEnum):
    """What a consequence waits for."""

    STRIPPED = "stripped"
    SEEN = "seen"
    REUSE = "reuse"
    REWORK = "rework"
    RENEW = "renew"
    WRONG_PART = "wrong part"
    OPERATION = "operation"


class Then(StrEnum):
    """What a consequence demands."""

    RENEW = "renew"
    OPERATION = "operation"
    CHECK = "check"
    ADVISE = "advise"


class Weight(StrEnum):
    """How much a renewal or operation that follows is wanted: what the customer may decline."""

    NEEDED = "needed"
    ADVISED = "advised"
    OPTIONAL = "optional"


@dataclass(frozen=True, slots=True)
class Observation:
    """Something seen or felt, in grades from none to worst; `kinds` empty means any position."""

    key: str
    name: str
    grades: tuple[str, ...]
    kinds: tuple[str, ...] = ()
    question: str = ""


@dataclass(frozen=True, slots=True)
class Target:
    """What a rule speaks of: a position, a kind of position, an assembly, or an operation.

    Written `big-end-shells-left`, `kind:gasket`, `assembly:bottom-end`, `kind:gasket@bottom-end`
    (that kind within that assembly), `operation:regrind`, `table:crankpin`.
    """

    sort: str
    key: str
    within: str = ""

    def __str__(self) -> str:
        head = self.key if self.sort == "position" else f"{self.sort}:{self.key}"
        return f"{head}@{self.within}" if self.within else head


@dataclass(frozen=True, slots=True)
class Judgement:
    """A verdict rule: this observation, at least this bad, on these positions, means that.

    `line` is where it was read, and no part of what it says.
    """

    key: str
    observation: str
    at_least: str
    of: Target
    verdict: Verdict
    operation: str
    because: str
    source: str
    line: int = field(default=0, compare=False)


@dataclass(frozen=True, slots=True)
class Consequence:
    """A rule: when this is so of these, then that is demanded of those.

    `observation` and `at_least` go with `When.SEEN`. `operation` goes with `When.OPERATION` as
    `of`, and with `Then.OPERATION` as what is to be done to `to`. Of a renewal or an operation,
    `weight` says whether soundness rests on it. `line` is where it was read, and no part of what it
    says.
    """

    key: str
    when: When
    of: Target
    observation: str
    at_least: str
    then: Then
    to: Target
    operation: str
    because: str
    source: str
    line: int = field(default=0, compare=False)
    weight: Weight = Weight.NEEDED


@dataclass(frozen=True, slots=True)
class Labour:
    """Hours for an action (strip, clean, renew, build, check) on a target."""

    action: str
    of: Target
    hours: Decimal
    note: str = ""
