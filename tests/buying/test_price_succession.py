"""What stands where a number's successor does: a number, several, itself, or that there is none."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.price_lists.matching import Known
from kitting.buying.price_lists.succession import number_named, says_the_end, several_in
from tests.buying.test_price_changes import RING, SEAL, a_row, compare, parts
from tests.sheets.price_lists import csv_file, list_of

KNOWN = Known(parts=parts(SEAL, RING))


@pytest.mark.parametrize(
    "text", ["discontinued", "Discontinued.", "NLA", "n.l.a.", "no longer available", "obsolete",
             "No replacement", "no longer supplied", "withdrawn", "entfällt"]
)  # fmt: skip
def test_a_number_that_ends_is_no_longer_supplied_and_links_to_nothing(
    tmp_path: Path, text: str
) -> None:
    rows = [["Part no", "Price", "Superseded by"], ["K-1", "1.00", text], ["K-2", "2.00", ""]]
    reader, (ended, other) = list_of(csv_file(tmp_path / "list.csv", rows))
    assert (ended.superseded_by, ended.why) == ("", f"no longer supplied ('{text}')")
    assert (other.why, reader.tally.problems) == ("", [])
    report = compare([ended._replace(number="W320", normal="W320")], KNOWN)
    assert (report.superseded, report.counts["strays"]) == ([], 1)


@pytest.mark.parametrize(
    "text", ["see K-9", "See: K-9", "use K-9", "→ K-9", "->K-9", "1 x K-9", "replaced by K-9",
             "now K-9", "please use instead K-9"]
)  # fmt: skip
def test_a_number_said_in_words_is_that_number(tmp_path: Path, text: str) -> None:
    rows = [["Part no", "Price", "Superseded by"], ["K-1", "1.00", text]]
    _, (row,) = list_of(csv_file(tmp_path / "list.csv", rows))
    assert row.superseded_by == "K-9"


@pytest.mark.parametrize("number", ["SEE-2", "NLA-4", "USE4", "NOW/2", "Z-1", "31/46", "OBS 1"])
def test_a_number_that_begins_like_a_word_is_a_number(number: str) -> None:
    assert (number_named(number), says_the_end(number), several_in(number)) == (number, False, ())


@pytest.mark.parametrize(
    ("text", "several"),
    [
        ("C2 / C3", ("C2", "C3")),
        ("C2/C3", ("C2", "C3")),
        ("C2, C3 and C4", ("C2", "C3", "C4")),
        ("C2 or C3", ("C2", "C3")),
        ("2 x C3", ("2 x C3",)),
    ],
)
def test_several_numbers_are_a_question_and_no_link_to_an_unknown_one(
    text: str, several: tuple[str, ...]
) -> None:
    assert several_in(text) == several
    (found,) = compare([a_row("W320", superseded_by=text)], KNOWN).superseded
    assert (found.new, found.new_said) == (None, text)


def test_a_number_superseded_by_itself_is_told() -> None:
    rows = [a_row("W320", superseded_by="w-320"), a_row("W321", superseded_by="hob:W-321")]
    report = compare(rows, KNOWN)
    assert report.superseded == []
    assert report.remarks == [
        "row 7: W320 is said to be superseded by itself",
        "row 7: W321 is said to be superseded by itself",
    ]


@given(st.text(max_size=12))
def test_what_is_named_is_never_nothing_and_is_the_end_of_what_was_said(text: str) -> None:
    named = number_named(text)
    assert text.endswith(named)
    assert bool(named) == bool(text)
