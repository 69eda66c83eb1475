"""The conditions that a plan must keep, each a value that can be lifted to see what clashes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.buying.planning.demand import SmallOrder

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.buying.planning.demand import PassedOver, PlanProblem
    from kitting.catalog.trade import Offer, Quality


class Rule(StrEnum):
    """What kind of condition."""

    MAKER_BANNED = "maker banned"
    SUPPLIER_BANNED = "supplier banned"
    LEAST_ORDER = "least order"
    STOCK = "stock told"
    FAILED = "failed before"
    NO_TOP_UP = "no topping up"
    MATCHED = "one maker"
    QUALITY = "quality"
    CRITICAL = "soundness of critical lines"
    CRITICAL_QUALITY = "quality of critical lines"
    RETURN = "sale or return"
    WITHIN_DAYS = "days"


@dataclass(frozen=True, slots=True, order=True)
class Condition:
    """One condition of the problem: its kind, what it is about, and how it reads.

    `lifted_by` is what the shop would type to lift it, where that is not plain from the words.
    """

    rule: Rule
    about: str
    words: str
    lifted_by: str = ""

    def __str__(self) -> str:
        return self.words


def conditions_of(problem: PlanProblem) -> tuple[Condition, ...]:
    """Every condition of a problem that can be lifted, the shop's own wishes last."""
    return (
        *_of_market(problem),
        *_matched(problem),
        *dict.fromkeys(failed_condition(problem, each) for each in problem.passed_over),
        *_of_policy(problem),
    )


def stock_condition(problem: PlanProblem, index: int) -> Condition | None:
    """The bound that an offer's stock sets, or None where it sets none."""
    offer = problem.every_offer[index]
    packs = stock_bound(offer, back_orders=problem.policy.back_orders)
    if packs is None:
        return None
    name = _supplier_name(problem, offer.supplier)
    return Condition(Rule.STOCK, str(index), stock_words(offer, name, packs))


def stock_bound(offer: Offer, *, back_orders: bool) -> int | None:
    """The most packs that an offer can bring; None when it is not bounded."""
    return None if offer.stock is None or (offer.stock == 0 and back_orders) else offer.stock


def stock_words(offer: Offer, name: str, packs: int) -> str:
    """That the named supplier of an offer has so many packs and no more."""
    each = "" if offer.pack == 1 else f" pack{'' if packs == 1 else 's'} of {offer.pack}"
    return f"{name} has no more than {packs}{each} of {offer.part}"


def least_order_condition(problem: PlanProblem, supplier: str) -> Condition | None:
    """The least order of a supplier, where an order below it is barred."""
    terms = next(each for each in problem.suppliers if each.key == supplier)
    if problem.policy.small_order is not SmallOrder.BARRED or terms.least_order <= 0:
        return None
    words = f"{terms.name} takes no order under {terms.currency} {terms.least_order}"
    return Condition(Rule.LEAST_ORDER, supplier, words, "--make-up")


def failed_condition(problem: PlanProblem, passed: PassedOver) -> Condition:
    """That a supplier is not asked again for a part with which he failed."""
    offer = passed.offer
    name = _supplier_name(problem, offer.supplier)
    words = f"{name}, who failed with {offer.part} ({passed.why}), is not asked for it again"
    about = f"{offer.supplier}|{offer.part}"
    return Condition(Rule.FAILED, about, words, f"--even-from {offer.supplier}")


def maker_condition(maker: str) -> Condition:
    """That a maker's parts are banned."""
    return Condition(Rule.MAKER_BANNED, maker, f"nothing made by '{maker}' is bought")


def supplier_condition(problem: PlanProblem, supplier: str) -> Condition:
    """That a supplier is banned."""
    name = _supplier_name(problem, supplier)
    return Condition(Rule.SUPPLIER_BANNED, supplier, f"nothing is bought from {name}")


def quality_condition(quality: Quality) -> Condition:
    """That nothing of a quality is bought."""
    return Condition(Rule.QUALITY, quality, f"nothing {quality.told} is bought")


def critical_quality_condition(quality: Quality) -> Condition:
    """That nothing of a quality is bought for a critical line."""
    words = f"nothing {quality.told} is bought for a critical line"
    return Condition(Rule.CRITICAL_QUALITY, quality, words)


def match_condition(job: str, group: str) -> Condition:
    """That the lines of a matched group are of one maker."""
    return Condition(
        Rule.MATCHED, f"{job}|{group}", f"the {group} of job {job} must be of one maker"
    )


CRITICAL = Condition(Rule.CRITICAL, "", "critical lines take only ways as sound as the shop asks")
RETURN = Condition(Rule.RETURN, "", "held lines are bought only where parts can be taken back")
NO_TOP_UP = Condition(
    Rule.NO_TOP_UP, "", "nothing is bought only to fill an order up", "without --no-top-up"
)
WITHIN_DAYS = Condition(Rule.WITHIN_DAYS, "", "everything must come within the days given")


def _of_market(problem: PlanProblem) -> Iterator[Condition]:
    for index in range(len(problem.every_offer)):
        stock = stock_condition(problem, index)
        if stock is not None:
            yield stock
    for supplier in problem.suppliers:
        least = least_order_condition(problem, supplier.key)
        if least is not None:
            yield least


def _matched(problem: PlanProblem) -> Iterator[Condition]:
    groups = dict.fromkeys((line.job, line.match) for line in problem.planned if line.match)
    for job, group in groups:
        yield match_condition(job, group)


def _of_policy(problem: PlanProblem) -> Iterator[Condition]:
    policy = problem.policy
    critical = any(line.critical for line in problem.planned)
    if policy.critical_rank is not None and critical:
        yield CRITICAL
    offered = sorted({offer.quality for offer in problem.every_offer})
    if critical:
        for quality in (each for each in offered if each in policy.not_where_critical):
            yield critical_quality_condition(quality)
    for quality in (each for each in offered if each in policy.not_of):
        yield quality_condition(quality)
    if any(line.held for line in problem.planned):
        yield RETURN
    if not policy.top_up:
        yield NO_TOP_UP
    if policy.within_days is not None:
        yield WITHIN_DAYS
    for maker in sorted(policy.banned_makers):
        yield maker_condition(maker)
    for supplier in sorted(policy.banned_suppliers):
        yield supplier_condition(problem, supplier)


def _supplier_name(problem: PlanProblem, key: str) -> str:
    return next((each.name for each in problem.suppliers if each.key == key), key)
