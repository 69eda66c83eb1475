"""Two sheets for one job: what is pooled, what is corrected, and what is asked."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.errors import BadInput
from kitting.job.findings import Bench, Finding, Fitted, Job, Reading, Seen
from kitting.job.strip import StripReport, merge_findings
from tests.builders import q
from tests.wren import tiny_family

WREN = tiny_family()
JOB = Job("J-104", "wren-single", "2024-1", "mark-2", "WS 612", "", date(2024, 4, 29))
MAY = date(2024, 5, 1)
MICROMETER = {"micrometer": q("0.0001 in")}


def pin(value: str, direction: str = "0") -> Reading:
    return Reading("crankpin-diameter", "front", direction, value, q(value), "micrometer")


ANN = Finding(
    "crank", readings=(pin("1.4930"),), who="Ann", when=MAY, place='a.xlsx, sheet "B", rows 4 to 9'
)
BOB = replace(ANN, who="Bob", place='b.xlsx, sheet "B", rows 5 to 8')


def report(*findings: Finding) -> StripReport:
    return StripReport(findings, ("bottom-end",))


def bench(*findings: Finding) -> Bench:
    return merge_findings(Bench(JOB, (), ()), report(*findings), WREN).accepted()


def held(after: Bench, position: str = "crank") -> Finding:
    return [finding for finding in after.findings if finding.position == position][-1]


def test_a_first_sheet_is_taken_as_it_is() -> None:
    result = merge_findings(Bench(JOB, (), ()), report(ANN), WREN)
    assert (result.added, result.stripped, result.questions) == (("crank",), ("bottom-end",), ())
    assert result.accepted().findings == (ANN,)


def test_loading_the_same_sheet_twice_changes_nothing() -> None:
    once = bench(ANN)
    again = merge_findings(once, report(ANN), WREN)
    assert again.changes_nothing
    assert again.accepted() == once


def test_what_two_people_found_of_one_position_is_pooled() -> None:
    bob = replace(BOB, readings=(pin("1.4927", "90"),), seen=(Seen("chipped", "no"),), note="dirty")
    result = merge_findings(bench(ANN), report(bob), WREN)
    pooled = held(result.accepted())
    assert result.altered == ("crank",)
    assert pooled.readings == (pin("1.4930"), pin("1.4927", "90"))
    assert (pooled.who, pooled.note) == ("Ann and Bob", "dirty")
    assert pooled.place == f"{ANN.place}; {BOB.place}"
    assert merge_findings(result.accepted(), report(ANN, bob), WREN).changes_nothing


def test_readings_within_both_uncertainties_agree_and_the_earlier_stays() -> None:
    bob = replace(BOB, readings=(pin("1.4928"),))
    result = merge_findings(bench(ANN), report(bob), WREN, uncertainty=MICROMETER)
    assert result.changes_nothing


def test_readings_further_apart_are_asked_about_with_names_places_and_values() -> None:
    bob = replace(BOB, readings=(pin("1.4927"),))
    before = bench(ANN)
    result = merge_findings(before, report(bob), WREN, uncertainty=MICROMETER)
    assert result.bench == before
    with pytest.raises(BadInput) as caught:
        result.accepted()
    assert str(caught.value) == (
        "crank, crankpin-diameter front 0: "
        'Ann says 1.4930 in (a.xlsx, sheet "B", rows 4 to 9), '
        'Bob says 1.4927 in (b.xlsx, sheet "B", rows 5 to 8); '
        "measure it again together, or say whose word holds: 'Ann' or 'Bob'"
    )


def test_a_readings_own_uncertainty_comes_before_its_instruments() -> None:
    rough = replace(pin("1.4920"), uncertainty=q("0.001 in"))
    bob = replace(BOB, readings=(rough,))
    assert not merge_findings(bench(ANN), report(bob), WREN, uncertainty=MICROMETER).questions


@pytest.mark.parametrize(
    ("take", "value"),
    [("Ann", "1.4930"), ("earlier", "1.4930"), ("bob", "1.4927"), ("later", "1.4927")],
)
def test_whose_word_to_take_settles_it(take: str, value: str) -> None:
    bob = replace(BOB, readings=(pin("1.4927"), pin("1.4925", "90")))
    result = merge_findings(bench(ANN), report(bob), WREN, take=take)
    found = {r.direction: r.value for r in held(result.accepted()).readings}
    assert found == {"0": q(value), "90": q("1.4925")}


def test_a_third_persons_word_settles_nothing() -> None:
    bob = replace(BOB, readings=(pin("1.4927"),))
    assert merge_findings(bench(ANN), report(bob), WREN, take="Carol").questions


def test_sound_against_damaged_is_asked_either_way_round() -> None:
    sound = Finding("shells", sound=True, who="Ann")
    deep = Finding("shells", seen=(Seen("scoring", "deep", q("2 thou")),), who="Bob")
    for first, second in ((sound, deep), (deep, sound)):
        result = merge_findings(bench(first), report(second), WREN)
        assert [question.what for question in result.questions] == ["sound or not"]
        assert "scoring deep 2.0 thou" in result.questions[0].sentence
        taken = held(
            merge_findings(bench(first), report(second), WREN, take="Bob").accepted(), "shells"
        )
        assert (taken.sound, taken.seen) == (False, deep.seen)


def test_nothing_amiss_agrees_with_sound() -> None:
    sound = Finding("shells", sound=True, who="Ann")
    none = Finding("shells", seen=(Seen("scoring", "none"),), who="Bob")
    assert not merge_findings(bench(sound), report(none), WREN).questions


def test_grades_numbers_and_attributes_that_differ_are_asked_about() -> None:
    ann = Finding(
        "barrel-nuts", seen=(Seen("chipped", "no"),), who="Ann",
        fitted=Fitted("W320", {"height": "0.25 in", "thread": "3/8 x 26 cycle"}),
    )  # fmt: skip
    bob = Finding(
        "barrel-nuts", seen=(Seen("chipped", "yes"),), who="Bob",
        fitted=Fitted("w-321", {"height": "0.310 in", "thread": "3/8 X 26  cycle"}),
    )  # fmt: skip
    asked = [q.what for q in merge_findings(bench(ann), report(bob), WREN).questions]
    assert asked == ["chipped", "number fitted", "height fitted"]


def test_one_number_written_two_ways_is_the_same_number() -> None:
    ann = Finding("shells", fitted=Fitted("W110"), who="Ann")
    bob = Finding("shells", fitted=Fitted("w 110"), who="Bob")
    assert merge_findings(bench(ann), report(bob), WREN).changes_nothing


def test_the_same_person_corrects_what_was_said_before() -> None:
    later = replace(ANN, readings=(pin("1.4920"),), when=date(2024, 5, 2))
    result = merge_findings(bench(ANN), report(later), WREN)
    assert result.altered == ("crank",)
    assert held(result.accepted()).readings == (pin("1.4920"),)


def test_an_older_sheet_of_the_same_person_is_asked_about() -> None:
    older = replace(ANN, readings=(pin("1.4920"),), when=date(2024, 4, 2))
    assert merge_findings(bench(ANN), report(older), WREN).questions


def test_two_unnamed_sheets_that_differ_are_asked_about() -> None:
    nameless = replace(ANN, who="")
    other = replace(nameless, readings=(pin("1.4920"),))
    questions = merge_findings(bench(nameless), report(other), WREN).questions
    assert questions[0].names == ("somebody unnamed", "somebody unnamed")


READINGS = st.lists(
    st.tuples(st.sampled_from(["0", "90"]), st.integers(14800, 15000)), unique_by=lambda t: t[0]
).map(lambda found: tuple(pin(f"{n / 10000:.4f}", direction) for direction, n in found))
FINDINGS = st.builds(
    Finding,
    position=st.just("crank"),
    readings=READINGS,
    seen=st.sampled_from([(), (Seen("chipped", "no"),), (Seen("chipped", "yes"),)]),
    sound=st.just(False),
    note=st.sampled_from(["", "dirty", "blue"]),
    who=st.sampled_from(["", "Ann", "Bob"]),
)


@given(FINDINGS, FINDINGS, st.sampled_from(["earlier", "later"]))
def test_a_settled_merge_repeated_asks_and_changes_nothing_more(
    first: Finding, second: Finding, take: str
) -> None:
    settled = merge_findings(bench(first), report(second), WREN, take=take).accepted()
    again = merge_findings(settled, report(held(settled)), WREN)
    assert again.changes_nothing


@given(FINDINGS, FINDINGS)
def test_no_reading_is_lost_and_none_is_invented(first: Finding, second: Finding) -> None:
    after = held(merge_findings(bench(first), report(second), WREN, take="later").accepted())
    given_readings = {*first.readings, *second.readings}
    assert set(after.readings) <= given_readings
    assert {r.direction for r in after.readings} == {r.direction for r in given_readings}
