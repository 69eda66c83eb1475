"""A number all of figures, its dashes between them, is one number and no word with a size."""

from dataclasses import replace

import pytest

from kitting.catalog.family import Family
from kitting.catalog.find import Found, How
from kitting.catalog.search_words import pieces_of
from tests.builders import a_part
from tests.catalog.in_memory import find_parts
from tests.wren import tiny_family


def shelf() -> Family:
    family = tiny_family()
    sizes = {"shaft": "45 mm", "housing": "60 mm", "width": "8 mm"}
    more = (
        a_part("dal:45-60-8", "ring", sizes),
        a_part("hob:4560-044", "pin", {}),
        a_part("hob:4550-016", "pin", {}),
        a_part("hob:4550-040", "pin", {"length": "1 in"}),
        a_part("hob:4550-051", "pin", {"length": "01 in"}),
        replace(a_part("hob:S9", "shaft-bush", {}), name="Shaft-bush 45"),
    )
    return replace(family, parts=(*family.parts, *more))


def found(query: str) -> Found:
    return find_parts(query, [shelf()])


def test_a_slip_in_a_number_of_figures_is_a_question_and_no_find() -> None:
    answer = found("4560-045")
    assert answer.matches == ()
    assert [near.number for near in answer.near] == ["4560-044"]


def test_a_number_of_figures_cut_short_finds_what_it_begins_alone() -> None:
    answer = found("4550-01")
    assert [(str(each.part.number), each.how) for each in answer.matches] == [
        ("hob:4550-016", How.WORDS)
    ]
    assert answer.matches[0].because == "its number begins with '4550-01', and goes on with 6"


@pytest.mark.parametrize(
    ("word", "pieces"),
    [("shaft-bush", ("shaft", "bush")), ("bush-20", ("bush", "20")), ("4560-045", ()),
     ("30-47-7", ()), ("1/4-26", ("1/4", "26")), ("bush", ())],
)  # fmt: skip
def test_a_word_of_figures_has_no_pieces(word: str, pieces: tuple[str, ...]) -> None:
    assert pieces_of(word) == pieces


def test_a_word_with_a_dash_still_stands_by_its_pieces() -> None:
    assert "hob:S9" in {str(each.part.number) for each in found("bush-45").matches}


@pytest.mark.parametrize(
    "query",
    ["ring 45-60-8", "ring 44 to 45 mm", "ring between 44.5 and 45.5 millimetres",
     "ring 1.76-1.78in", 'ring 1.76" - 1.78"', "ring from 44mm to 45mm", "ring 44..45mm"],
)  # fmt: skip
def test_sizes_and_ranges_are_understood_as_people_write_them(query: str) -> None:
    answer = found(query)
    assert [str(each.part.number) for each in answer.matches] == ["dal:45-60-8"]
    assert answer.query == query


@pytest.mark.parametrize(
    "query",
    [
        "ring 45-61-8",
        "ring 46 to 47 mm",
        "ring 45 to 44 mm",
        "ring 44 mm to 45 in",
        "ring 44 and 46",
        "ring 44-46",
        "dal 45-60-7",
    ],
)
def test_other_sizes_and_what_is_no_range_find_nothing_for_certain(query: str) -> None:
    assert found(query).matches == ()


def test_a_number_that_was_taken_for_sizes_is_named_and_a_makers_is_none() -> None:
    family = shelf()
    other = a_part("hob:44-60-8", "pin", {})
    same = a_part("kes:X-1", "ring", {"shaft": "44 mm", "housing": "60 mm", "width": "8 mm"})
    family = replace(family, parts=(*family.parts, other, same))
    answer = find_parts("ring 44-60-8", [family])
    assert {str(each.part.number) for each in answer.matches} == {"kes:X-1"}
    assert [(str(n.part.number), n.difference) for n in answer.near] == [
        ("hob:44-60-8", "this is its number")
    ]
    answer = find_parts("kes 44-60-8", [family])
    assert answer.matches == ()


def test_a_query_that_finds_something_as_it_is_written_is_not_read_otherwise() -> None:
    family = shelf()
    said = replace(a_part("hob:Q1", "ring", {}), name="Ring 44 to 46 mm")
    answer = find_parts("ring 44 to 46 mm", [replace(family, parts=(*family.parts, said))])
    assert [str(each.part.number) for each in answer.matches] == ["hob:Q1"]
