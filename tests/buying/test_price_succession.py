"""What stands where a number's successor does: a number, several, itself, or that there is none."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.price_lists.matching import Known
from kitting.buying.price_lists.succession import (
    Said,
    number_named,
    says_the_end,
    several_in,
    successor_in,
)
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


@pytest.mark.parametrize(
    "text", ["obs", "OBS", "Obs.", "DISC", "disc.", "withdrawn 2024", "disc 12/25",
             "Discontinued (March 2023)", "obsolete since 3/2019", "eingestellt", "obsolète", "vervallen", "fuori produzione"]
)  # fmt: skip
def test_the_trades_word_for_an_end_is_no_number(text: str) -> None:
    assert successor_in(text) == Said(ended=True)


@pytest.mark.parametrize("text", ["n/a", "N/A.", "-", "none", "keine", "aucun", "geen", "No"])
def test_a_word_for_nothing_says_nothing_of_a_successor(text: str) -> None:
    assert successor_in(text) == Said()


@pytest.mark.parametrize(
    "text", ["TBA", "tbc", "POA", "see catalogue", "See catalogue p. 12", "SEE CATALOGUE PAGE 12",
             "auf Anfrage", "yes", "x", "ring sales 01632", "Auslauf"]
)  # fmt: skip
def test_words_where_a_number_belongs_are_told_and_never_a_link(text: str) -> None:
    said = successor_in(text)
    assert not said.ended
    report = compare([a_row("W320", superseded_by=said.after)], KNOWN)
    assert (report.superseded, report.counts["offers"]) == ([], 1)
    (remark,) = report.remarks
    assert remark.startswith("row 7: where the number belongs that supersedes W320 stands '")
    assert report.counts["superseded by no number"] == 1


def test_a_known_number_in_such_words_is_still_a_number() -> None:
    known = Known(parts=parts(SEAL, ("hob", "seal later")))
    (found,) = compare([a_row("W320", superseded_by="seal later")], known).superseded
    assert found.new == ("hob", "seal later")


@pytest.mark.parametrize(
    "text", ["NLA use W-321", "NLA - see W-321", "n/a - use W-321", "obsolete, replaced by W-321",
             "Discontinued: use W-321", "withdrawn → W-321", "superseded by W-321",
             "OBS; now W-321", "entfällt, ersetzt durch W-321"]
)  # fmt: skip
def test_an_end_that_names_what_is_used_instead_names_the_successor(text: str) -> None:
    said = successor_in(text)
    assert said == Said("W-321")
    (found,) = compare([a_row("W320", superseded_by=said.after)], KNOWN).superseded
    assert (found.old, found.new) == (SEAL, RING)


@pytest.mark.parametrize(
    "text", ["was W320", "formerly W320", "replaces W320", "supersedes W320", "ersetzt W320",
             "früher: W320", "ex W320", "remplace W320", "old no. W320"]
)  # fmt: skip
def test_a_number_that_takes_the_place_of_another_is_its_successor(
    tmp_path: Path, text: str
) -> None:
    rows = [["Part no", "Price", "Superseded by"], ["W-321", "1.00", text]]
    _, (row,) = list_of(csv_file(tmp_path / "list.csv", rows))
    assert (row.superseded_by, row.supersedes, row.why) == ("", "W320", "")
    (found,) = compare([row], KNOWN).superseded
    assert (found.old, found.new, found.new_said) == (SEAL, RING, "W-321")


def test_in_place_of_a_number_that_nobody_knows_is_told() -> None:
    report = compare([a_row("W321", supersedes="G-1"), a_row("W320", supersedes="W 320")], KNOWN)
    assert report.superseded == []
    assert report.remarks == [
        "row 7: W321 is said to take the place of 'G-1', which nobody knows; no link is proposed"
    ]


@pytest.mark.parametrize(
    "heading", ["Supersedes", "Replaces", "Ersetzt", "Remplace", "In place of"]
)
def test_a_column_of_the_numbers_replaced_is_not_one_of_the_numbers_that_replace(
    tmp_path: Path, heading: str
) -> None:
    rows = [["Part no", "Price", heading], ["K-1", "1.00", "K-9"]]
    reader, (row,) = list_of(csv_file(tmp_path / "list.csv", rows))
    assert (row.superseded_by, reader.columns and reader.columns.left) == ("", (heading,))
