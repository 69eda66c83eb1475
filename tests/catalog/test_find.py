"""Finding a part: the same number is an answer, a number nearly the same is a question."""

import string
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from kitting.catalog.attributes import compare, same_size, same_value
from kitting.catalog.family import Family
from kitting.catalog.find import Finder, Found, How
from kitting.catalog.model import normal_number
from kitting.catalog.near_numbers import difference, near_numbers
from kitting.catalog.search_words import Asked
from tests.builders import a_fit, a_part, a_position, an_offer, number
from tests.catalog.in_memory import FamilyCandidates, find_parts
from tests.wren import tiny_family, tiny_trade


def shelf() -> Family:
    """The Wren with parts that are harder to tell apart."""
    family = tiny_family()
    more = (
        a_part("hob:C65-1042", "bush", {"bore": "1.2490 in", "outside": "1.500 in"}),
        a_part("dal:C65 1042", "bush", {"bore": "31.7 mm", "outside": "1.500 in"}),
        a_part("hob:C65-1024", "bush", {"bore": "1.3000 in", "outside": "1.500 in"}),
        a_part("dal:S-1", "seal", {"shaft": "30 mm", "housing": "47 mm", "width": "7 mm"}),
        a_part("dal:S-2", "seal", {"shaft": "30 mm", "housing": "52 mm", "width": "7 mm"}),
    )
    timing = replace(a_position("timing-bush", "bottom-end", "bush"), name="timing-side bush")
    return replace(
        family,
        parts=(*family.parts, *more),
        positions=(*family.positions, timing),
        fits=(*family.fits, a_fit("timing-bush", "hob:C65-1042")),
    )


def found(query: str) -> Found:
    return find_parts(query, [shelf()], tiny_trade())


def numbers(query: str) -> list[str]:
    return [str(match.part.number) for match in found(query).matches]


@pytest.mark.parametrize("typed", ["C65-1042", "c65 1042", "C651042", "c65.10-42 "])
def test_a_number_in_other_clothes_is_the_same_number(typed: str) -> None:
    assert set(numbers(typed)) == {"hob:C65-1042", "dal:C65 1042"}


def test_the_number_as_written_comes_before_another_spelling() -> None:
    assert [match.how for match in found("C65 1042").matches] == [How.NUMBER, How.RESPELLED]
    assert numbers("C65 1042")[0] == "dal:C65 1042"
    assert found("c651042").matches[0].because == "c651042 is C65 1042 in another spelling"


def test_a_maker_before_the_number_picks_his_part() -> None:
    assert numbers("hob:c65 1042") == ["hob:C65-1042"]


@pytest.mark.parametrize("typed", ["DAL C65 1042", "dal c65-1042", "Dal C651042"])
def test_a_makers_key_may_stand_before_the_number_by_a_blank(typed: str) -> None:
    assert numbers(typed) == ["dal:C65 1042"]
    assert found(typed).matches[0].how is not How.WORDS


@pytest.mark.parametrize("mark", ["1", "A1", "bush", "1..", "..1", "<=1 ", "x1", "é"])
def test_what_is_longer_than_any_number_is_answered_with_nothing_at_once(mark: str) -> None:
    asked = found(mark * 5000)
    assert not (asked.matches and asked.matches[0].how is not How.WORDS)
    assert asked.near == ()


def test_marks_that_nobody_can_see_count_for_nothing() -> None:
    assert numbers("C65\x00-10\u200b42") == numbers("C65-1042")


@pytest.mark.parametrize(
    "query",
    ["bush bore 31.5..31.72 mm", "bush bore 31.5 mm..31.72 mm", "bush bore 31.5mm .. 31.72mm",
     "bush 31.5..31.72 mm bore"],
)  # fmt: skip
def test_a_range_may_have_its_unit_set_apart(query: str) -> None:
    assert set(numbers(query)) == {"dal:C65 1042"}


def test_a_suppliers_number_finds_the_part_and_says_whose_it_is() -> None:
    (match,) = found("aw-320").matches
    assert (str(match.part.number), match.how) == ("hob:W320", How.SUPPLIER)
    assert match.because == "AW320 is Ashby Spares's number for it"


@pytest.mark.parametrize(
    ("query", "expected"),
    [
        ("seal 30x47x7", ["dal:S-1"]),
        ("seal 30 x 47 x 7", ["dal:S-1"]),
        ("30x7", ["dal:S-1", "dal:S-2"]),
        ("seal 30x30x7", []),
        ("bush 1.24..1.25", ["hob:C65-1042"]),
        ("bush id 1.2485 .. 1.2495", ["hob:C65-1042"]),
        ("bush outside 1.24..1.25", []),
        ("bush bore 31..32mm", ["dal:C65 1042", "hob:C65-1042"]),
        ("bush bore<=31.7 mm", ["dal:C65 1042"]),
        ("bush bore <= 1.25", ["hob:C65-1042"]),
        ("bush id>=1.25", ["dal:C65 1042", "hob:C65-1024"]),
        ("bore≥1.25in bush", ["hob:C65-1024"]),
        ("bush bore=31.7 mm", ["dal:C65 1042"]),
        ("bush bore=1.3", ["hob:C65-1024"]),
        ("nut height=6.35 mm", ["dal:R320", "hob:W320"]),
        ("nut 3/8 x 26", ["dal:R320", "hob:W320"]),
        ("timing bush", ["hob:C65-1042"]),
        ("barrel-nuts", ["hob:W320"]),
        ("nut 26", ["dal:R320", "hob:W320"]),
        ("nut 6", []),
        ("nut 2", ["hob:W320"]),
        ("spr 22", ["dal:R205", "hob:W205", "hob:W206"]),
        ("sp 22", []),
        ("seal gasket", []),
    ],
)
def test_words_and_figures_must_all_agree(query: str, expected: list[str]) -> None:
    assert sorted(numbers(query)) == expected


def test_a_number_nearly_right_is_a_question_with_the_difference_shown() -> None:
    answer = found("C65-1O42")
    assert answer.matches == ()
    assert [(near.number, near.difference) for near in answer.near][:2] == [
        ("C65 1042", "look-alike: O typed where it has 0, at place 5"),
        ("C65-1042", "look-alike: O typed where it has 0, at place 5"),
    ]


@pytest.mark.parametrize(
    ("typed", "right", "said"),
    [
        ("C651024", "C651042", "24 typed where it has 42, at place 6"),
        ("C651043", "C651042", "3 typed where it has 2, at place 7"),
        ("C65104", "C651042", "2 is left out, at place 7"),
        ("C6510442", "C651042", "4 is too many, at place 7"),
        ("CS51042", "C651042", "S typed where it has 6, at place 2"),
        ("C6SI042", "C651042", "look-alike: S typed where it has 5, at place 3; "
         "look-alike: I typed where it has 1, at place 4"),
    ],
)  # fmt: skip
def test_the_difference_is_said_in_words(typed: str, right: str, said: str) -> None:
    assert difference(typed, right) == said


def test_numbers_two_slips_away_are_asked_about_only_where_none_is_nearer() -> None:
    assert [near.number for near in found("C65-1O43").near] == ["C65 1042", "C65-1042"]
    assert [near.number for near in found("C65-1043").near] == ["C65 1042", "C65-1042"]


def test_a_number_cut_short_is_answered_and_a_slip_in_it_is_still_asked_about() -> None:
    answer = found("C6510")
    assert [match.how for match in answer.matches] == [How.WORDS] * 3
    assert answer.near == ()
    answer = found("W32")
    assert numbers("W32") == ["hob:W320", "hob:W321"]
    assert answer.matches[0].because == "its number begins with 'W32', and goes on with 0"
    assert "hob:W302" in {str(near.part.number) for near in answer.near}
    assert not {near.part.number for near in answer.near} & {
        match.part.number for match in answer.matches
    }


def test_misspelt_words_are_offered_mended_and_nothing_is_taken() -> None:
    answer = found("timng bsh")
    assert (answer.matches, answer.near) == ((), ())
    assert answer.meant == "timing bush"
    assert found("qqqqqq").meant == ""
    assert found("  ") == Found("")


def test_attributes_agree_as_figures_in_any_unit_and_as_words_otherwise() -> None:
    assert same_value("0.250 in", "6.35 mm")
    assert same_value("1/2 x 20 Cycle", "1/2x20 cycle")
    assert not same_value("0.250 in", "0.251 in")
    assert not same_value("left", "right")


def test_two_parts_are_compared_by_what_differs() -> None:
    thick = a_part("hob:N1", "nut", {"thread": "3/8 x 26 cycle", "height": "0.312 in"})
    thin = a_part(
        "hob:N2", "nut", {"thread": "3/8 x 26 cycle", "height": "0.250 in", "hand": "left"}
    )
    assert compare(thick, thin) == (("height", "0.312 in", "0.250 in"), ("hand", "", "left"))


def test_a_part_of_the_same_size_is_offered_only_when_two_attributes_and_all_shared_agree() -> None:
    family = shelf()
    nut = family.part_by_number[number("hob:W320")]
    assert [str(p.number) for p in same_size(nut, family.parts)] == ["dal:R320"]
    seal = family.part_by_number[number("dal:S-1")]
    assert same_size(seal, family.parts) == ()
    spring = family.part_by_number[number("hob:W205")]
    assert same_size(spring, family.parts) == ()


def test_a_suppliers_number_nearly_right_is_a_question_too() -> None:
    trade = tiny_trade()
    offer = replace(an_offer("brook", "hob:W201", "4.00"), their_number="BD/7731-9")
    answer = find_parts("bd77319x", [tiny_family()], replace(trade, offers=(offer,)))
    assert [(near.number, near.difference) for near in answer.near] == [
        ("BD/7731-9 (Brook and Daughter)", "X is too many, at place 8")
    ]


def timing_bushes() -> Family:
    """Timing bushes of every way to write a size, and an oil seal of the gearbox."""
    family = shelf()
    names = {
        "hob:T1": "Timing bush .020 undersize",
        "hob:T2": "Timing bush 0.020 in",
        "hob:T3": "Timing bush, 20 thou under",
        "hob:T4": "Timing bush 20mm",
        "hob:T5": "Timing bush .010 undersize",
        "hob:T6": "Timing bush .0205 special",
        "hob:G1": "Gearbox oil seal",
    }
    parts = tuple(replace(a_part(each, "bush"), name=name) for each, name in names.items())
    with_id = a_part("hob:D1", "sleeve", {"id": "1.2480 in", "od": "1.5 in"})
    return replace(family, parts=(*family.parts, *parts, with_id))


def asked(query: str) -> Found:
    return find_parts(query, [timing_bushes()])


def answers(query: str) -> set[str]:
    return {str(match.part.number) for match in asked(query).matches}


@pytest.mark.parametrize(
    ("query", "expected"),
    [
        ("timing bush 20", {"hob:T1", "hob:T2", "hob:T3", "hob:T4"}),
        ("timing bush .020", {"hob:T1", "hob:T2", "hob:T3"}),
        ("timing bush 0.020 in", {"hob:T1", "hob:T2", "hob:T3"}),
        ("timing bush 20 thou", {"hob:T1", "hob:T2", "hob:T3"}),
        ("timing bush 20mm", {"hob:T4"}),
        ("timing bush 10", {"hob:T5"}),
        ("oil seal for the gearbox", {"hob:G1"}),
        ("sleeve id 1.248..1.250", {"hob:D1"}),
        ("sleeve id=1.2480 in", {"hob:D1"}),
        ("sleeve id 1.248", {"hob:D1"}),
        ("sleeve od 38.1 mm", {"hob:D1"}),
    ],
)
def test_a_size_is_found_in_whatever_way_it_is_written(query: str, expected: set[str]) -> None:
    assert answers(query) == expected


@pytest.mark.parametrize(
    "query", ["fits timing-side bush", "bush for the Wren single", "Bottom end bush", "bush Mark 2"]
)
def test_a_part_is_found_by_the_place_and_the_engine_that_it_fits(query: str) -> None:
    assert "hob:C65-1042" in numbers(query)


def test_where_nothing_agrees_with_all_the_words_what_agrees_with_most_is_a_question() -> None:
    answer = asked("timing bush 30")
    assert (answer.matches, answer.meant, answer.unknown) == ((), "", ())
    assert {each.lacks for each in answer.partly} == {("30",)}
    assert {str(each.part.number) for each in answer.partly} == {f"hob:T{at}" for at in range(1, 7)}
    answer = asked("timing bush 77 qqqq")
    assert answer.unknown == ("77", "qqqq")
    assert {each.lacks for each in answer.partly} == {("77", "qqqq")}
    answer = asked("timng bsh 77")
    assert (answer.meant, answer.unknown) == ("timing bush", ("77",))


def test_of_two_words_that_do_not_go_together_either_may_be_what_is_wrong() -> None:
    lacks = {each.lacks for each in found("seal spring").partly}
    assert lacks == {("seal",), ("spring",)}


def test_what_is_offered_agrees_with_as_many_words_as_any_part_does() -> None:
    words = ("timing", "bush", "20", "nut", "gearbox")
    described = FamilyCandidates([timing_bushes()])
    best = max(
        size
        for size in range(1, 6)
        for some in combinations(words, size)
        if described.answers(Asked(some))
    )
    offered = asked(" ".join(words)).partly
    assert best == 3
    assert {len(words) - len(each.lacks) for each in offered} == {best}


def test_the_same_words_are_never_offered_back() -> None:
    for query in ("timing bush 30", "Seal Spring", "Mark 1 cam", "fits camshaft"):
        answer = asked(query)
        assert answer.meant.casefold() != query.casefold()


def test_a_part_stands_once_though_a_supplier_sells_it_by_the_makers_number() -> None:
    offer = replace(an_offer("brook", "hob:C65-1042", "4.00"), their_number="C65-1042")
    trade = replace(tiny_trade(), offers=(offer,))
    exact = find_parts("C65-1042", [shelf()], trade).matches
    assert [str(match.part.number) for match in exact] == ["hob:C65-1042", "dal:C65 1042"]
    assert "Brook and Daughter's number for it" in exact[0].because
    near = find_parts("C65-1O42", [shelf()], trade).near
    assert len({miss.part.number for miss in near}) == len(near)


_NUMBERS = st.text(string.ascii_uppercase + string.digits, min_size=5, max_size=10)


@settings(max_examples=200, deadline=None)
@given(st.data(), st.lists(_NUMBERS, min_size=1, max_size=30, unique=True))
def test_one_slip_of_the_finger_always_finds_the_number_among_the_questions(
    data: st.DataObject, known: list[str]
) -> None:
    right = data.draw(st.sampled_from(known))
    at = data.draw(st.integers(0, len(right) - 2))
    mark = data.draw(st.sampled_from(string.ascii_uppercase + string.digits))
    slips = (
        right[:at] + mark + right[at + 1 :],
        right[:at] + right[at + 1 :],
        right[:at] + mark + right[at:],
        right[:at] + right[at + 1] + right[at] + right[at + 2 :],
    )
    typed = data.draw(st.sampled_from(slips))
    assume(typed not in known)
    assert right in [number for number, _ in near_numbers(typed, known, 100)]


@settings(max_examples=100, deadline=None)
@given(st.sampled_from([str(part.number) for part in shelf().parts]), st.data())
def test_any_spelling_of_a_number_finds_its_part(text: str, data: st.DataObject) -> None:
    marks = [
        data.draw(st.sampled_from((mark, mark.lower(), f"-{mark}", f" {mark}", f"{mark}.")))
        for mark in normal_number(number(text).number)
    ]
    answer = Finder(FamilyCandidates([shelf()])).find("".join(marks))
    assert text in {str(match.part.number) for match in answer.matches}
    assert all(match.how in {How.NUMBER, How.RESPELLED} for match in answer.matches)
