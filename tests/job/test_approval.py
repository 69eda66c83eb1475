"""What a customer may decline: optional lines leave, and what soundness rests on stays."""

from dataclasses import replace
from datetime import date

import pytest

from kitting.catalog.rules import Consequence, Then, Weight, When
from kitting.errors import BadInput, NotFound
from kitting.job.approval import Item, Said, answered, before_revision, declined_now, items_of
from kitting.job.findings import Approval
from kitting.job.path import JobPath, walk
from tests.builders import a_consequence
from tests.sheets.values import a_family, a_ready_job, a_trade

DAY = date(2024, 5, 9)


def a_job(*rules: Consequence, approvals: tuple[Approval, ...] = ()) -> JobPath:
    """The Wren with its usual rules and these."""
    family = a_family()
    more = replace(family, consequences=(*family.consequences, *rules))
    path = a_ready_job()
    bench = replace(path.bench, approvals=approvals)
    return walk(more, a_trade(), bench, path.day)


def rule(key: str, to: str, weight: Weight, when: str = "assembly:bottom-end") -> Consequence:
    how = When.STRIPPED if when.startswith("assembly:") else When.RENEW
    return a_consequence(key, how, when, Then.RENEW, to, weight=weight)


SPRING = rule("new-spring", "relief-spring", Weight.OPTIONAL)
PUMP = rule("new-pump-too", "oil-pump", Weight.ADVISED)
AFTER = rule("spring-asks", "sump-filter", Weight.NEEDED, when="relief-spring")


def item(path: JobPath, position: str) -> Item:
    return next(each for each in items_of(path) if (position, "") in each.of)


def says(path: JobPath, position: str, *, agreed: bool = False) -> tuple[Approval, ...]:
    return answered(path, 1, [Said(item(path, position).key, agreed)], "Joan", DAY)


def renewed(path: JobPath) -> set[str]:
    return set(path.demands.renewed)


def test_a_line_is_as_needed_as_the_gravest_reason_for_it() -> None:
    path = a_job(SPRING, PUMP, AFTER)
    assert item(path, "relief-spring").weight is Weight.OPTIONAL
    assert item(path, "oil-pump").weight is Weight.ADVISED
    assert item(path, "sump-filter").weight is Weight.NEEDED
    assert item(path, "shells").weight is Weight.NEEDED, "a verdict asks for them"
    both = a_job(SPRING, replace(SPRING, key="again", weight=Weight.NEEDED))
    assert item(both, "relief-spring").weight is Weight.NEEDED


def test_what_is_optional_leaves_the_kit_with_what_followed_from_it() -> None:
    path = a_job(SPRING, AFTER)
    assert {"relief-spring", "sump-filter"} <= renewed(path)
    after = a_job(SPRING, AFTER, approvals=says(path, "relief-spring"))
    assert renewed(path) - renewed(after) == {"relief-spring", "sump-filter"}
    assert after.estimate.likely.net < path.estimate.likely.net


def test_what_soundness_rests_on_is_refused_with_the_chain_of_reasons() -> None:
    path = a_job(SPRING)
    with pytest.raises(BadInput) as refused:
        says(path, "rod-bolts")
    said = str(refused.value)
    assert "cannot be declined: soundness rests on it" in said
    assert "because of bolts-go-too (shop rule) because shells: renew" in said
    with pytest.raises(BadInput, match="soundness rests on it"):
        says(path, "shells")


def test_what_follows_from_something_optional_cannot_go_while_that_stays() -> None:
    path = a_job(SPRING, AFTER)
    with pytest.raises(BadInput, match="because of spring-asks"):
        says(path, "sump-filter")


def test_fellows_that_are_renewed_together_go_together() -> None:
    family = a_family()
    pair = tuple(
        replace(p, matched="pair") if p.key in {"relief-spring", "sump-filter"} else p
        for p in family.positions
    )
    path = a_job(SPRING)
    both = walk(
        replace(family, positions=pair, consequences=(*family.consequences, SPRING)),
        path.trade, path.bench, path.day,
    )  # fmt: skip
    assert item(both, "sump-filter").weight is Weight.OPTIONAL
    with pytest.raises(BadInput, match="renewed together with its fellows"):
        says(both, "sump-filter")
    gone = says(both, "relief-spring")
    assert not {"relief-spring", "sump-filter"} & renewed(
        walk(both.family, both.trade, replace(both.bench, approvals=gone), both.day)
    )


def test_a_decline_holds_no_longer_when_the_part_proves_bad() -> None:
    path = a_job(SPRING)
    declined = says(path, "relief-spring")
    (stays,) = declined_now(a_job(SPRING, approvals=declined))
    assert stays.back == ()
    needed = replace(SPRING, key="now-needed", weight=Weight.NEEDED)
    later = a_job(SPRING, needed, approvals=declined)
    assert "relief-spring" in renewed(later)
    (back,) = declined_now(later)
    assert [reason.rule for reason in back.back] == ["now-needed"]


def test_an_operation_is_declined_by_its_name() -> None:
    test = a_consequence(
        "polish", When.STRIPPED, "assembly:bottom-end", Then.OPERATION, "rod",
        operation="line-ream", weight=Weight.OPTIONAL,
    )  # fmt: skip
    path = a_job(test)
    (said,) = answered(path, 1, [Said("line-ream", False)], "Joan", DAY)
    assert (said.position, said.operation, said.agreed) == ("rod", "line-ream", False)
    after = a_job(test, approvals=(said,))
    assert "line-ream" not in {work.operation for work in after.kit.work}
    with pytest.raises(BadInput, match="Regrind cannot be declined"):
        answered(path, 1, [Said("regrind", False)], "Joan", DAY)


def test_a_later_yes_brings_it_back() -> None:
    path = a_job(SPRING)
    no, yes = says(path, "relief-spring"), says(path, "relief-spring", agreed=True)
    assert "relief-spring" in renewed(a_job(SPRING, approvals=(*no, *yes)))


def test_the_lines_of_a_revision_keep_their_keys_while_it_is_being_answered() -> None:
    path = a_job(SPRING, PUMP)
    declined = says(path, "relief-spring")
    now = a_job(SPRING, PUMP, approvals=declined)
    then = before_revision(now, 1, now.day)
    assert [each.key for each in items_of(then)] == [each.key for each in items_of(path)]
    assert item(before_revision(now, 2, now.day), "oil-pump").key is not None
    assert "relief-spring" not in renewed(before_revision(now, 2, now.day))


def test_wrong_keys_are_refused_in_a_sentence() -> None:
    path = a_job(SPRING)
    key = item(path, "relief-spring").key
    with pytest.raises(BadInput, match=r"--line 9\.99: no line of this revision '9\.99'"):
        answered(path, 1, [Said("9.99", False)], "Joan", DAY)
    with pytest.raises(BadInput, match="it is named twice"):
        answered(path, 1, [Said(key, False), Said(key, True)], "Joan", DAY)
    chosen = str(path.kit.sets[0].set)
    with pytest.raises(BadInput, match="it is a set; speak of the lines that it covers"):
        answered(path, 1, [Said(chosen, False)], "Joan", DAY)
    assert issubclass(NotFound, BadInput)


def test_what_was_declined_before_is_agreed_to_later_and_taken_for_nothing_else() -> None:
    first = a_job(SPRING)
    no = says(first, "relief-spring")
    later = a_job(SPRING, approvals=no)
    key = f"{no[0].kit_line}@1"
    (yes,) = answered(later, 2, [Said(key, agreed=True)], "Joan", DAY, no)
    assert (yes.revision, yes.of, yes.agreed) == (2, ("relief-spring", ""), True)
    assert "relief-spring" in renewed(a_job(SPRING, approvals=(*no, yes)))
    with pytest.raises(BadInput, match=f"{key} for 1 × "):
        answered(later, 2, [Said(no[0].kit_line, agreed=True)], "Joan", DAY, no)
    with pytest.raises(BadInput, match="is declined already"):
        answered(later, 2, [Said(key, agreed=False)], "Joan", DAY, no)
    with pytest.raises(BadInput, match="named twice"):
        answered(later, 2, [Said(key, agreed=True)] * 2, "Joan", DAY, no)
