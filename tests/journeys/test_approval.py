"""The customer's word line by line, and the estimate against what came, as a user types it."""

from decimal import Decimal
from typing import Any

import pytest
from openpyxl import load_workbook

from tests.journeys.shop import DAY, Shop

JOB = "26-041"
WHO = ("--who", "K. Ferris")


@pytest.fixture
def given(loaded: Shop) -> Shop:
    """The twin with the demo's findings, and its estimate given to the customer."""
    loaded.types(
        "decide", "verdict", JOB, "valve-exhaust-left", "renew", "--who", "K.", "--reason", "limit",
    )  # fmt: skip
    loaded.types("estimate", JOB, "--keep", "--on", DAY)
    return loaded


def lines(shop: Shop) -> dict[str, Any]:
    return {line["line"]: line for line in shop.reads("approve", JOB)["lines"]}


def collets(shop: Shop) -> str:
    return next(key for key, line in lines(shop).items() if "Valve collet" in line["what"])


def test_each_line_says_how_much_it_is_wanted(given: Shop) -> None:
    found = lines(given)
    assert found["balance"]["weight"] == "optional"
    assert found[collets(given)]["weight"] == "advised"
    assert found["regrind"]["weight"] == "needed"
    assert all(line["said"] is None for line in found.values())


def test_what_is_declined_leaves_kit_and_estimate_and_is_remembered(given: Shop) -> None:
    key = collets(given)
    said = given.types(
        "approve", JOB, "--revision", "1", "--line", "balance", "no", "--line", key, "no", *WHO
    )
    assert "Declined by the customer:" in said
    kit = given.reads("kit", JOB, "--on", DAY)
    assert "balance" not in [work["operation"] for work in kit["work"]]
    assert not [line for line in kit["lines"] if "valve-collets" in line["positions"]]
    assert "Balance crankshaft" in given.types("kit", JOB, "--on", DAY)
    standing = given.reads("approve", JOB)
    assert float(standing["now_gross"]) < float(standing["given_gross"])
    assert {each["line"] for each in standing["declined"]} == {"balance", key}
    assert (lines(given)["balance"]["said"], lines(given)["balance"]["who"]) == ("no", "K. Ferris")
    kept = given.reads("estimate", JOB, "--keep", "--on", DAY)
    assert kept["revision"] == 2
    assert kept["likely"]["gross"] == standing["now_gross"]


def test_what_soundness_rests_on_is_refused_with_its_reasons_and_nothing_is_kept(
    given: Shop,
) -> None:
    bolts = next(key for key, line in lines(given).items() if "Big-end bolt" in line["what"])
    said = given.refuses("approve", JOB, "--line", bolts, "no", "--line", "balance", "no", *WHO)
    assert f"--line {bolts}: 4 × Big-end bolt cannot be declined: soundness rests on it" in said
    assert "big-end bolts are tightened once (Corvane service sheet 16)" in said
    assert all(line["said"] is None for line in lines(given).values())


def test_a_yes_is_kept_and_a_later_word_takes_its_place(given: Shop) -> None:
    given.types("approve", JOB, "--line", "balance", "no", *WHO)
    given.types("approve", JOB, "--line", "balance", "yes", "--line", "regrind", "yes", *WHO)
    found = lines(given)
    assert (found["balance"]["said"], found["regrind"]["said"]) == ("yes", "yes")
    kit = given.reads("kit", JOB, "--on", DAY)
    assert "balance" in [work["operation"] for work in kit["work"]]


def test_a_revision_is_answered_only_while_the_kit_is_what_it_was_given_for(given: Shop) -> None:
    given.types(
        "decide", "verdict", JOB, "oil-pump", "renew", "--who", "K.", "--reason", "to be sure",
    )  # fmt: skip
    said = given.refuses("approve", JOB, "--line", "balance", "no", *WHO)
    assert "revision 1: the kit is no longer what it was given for" in said
    given.types("estimate", JOB, "--keep", "--on", DAY)
    assert "revision 2 has taken its place" in given.refuses("approve", JOB, "--revision", "1")
    given.types("approve", JOB, "--revision", "2", "--line", "balance", "no", *WHO)


def test_the_customers_sheet_asks_yes_or_no_where_he_may_say_it(given: Shop) -> None:
    given.types("sheets", JOB, "--to", "out", "--on", DAY)
    sheet = load_workbook(given.folder / "out" / f"{JOB}-estimate.xlsx").worksheets[0]
    words = [str(cell.value) for row in sheet.iter_rows() for cell in row]
    assert "balance: optional\n☐ yes   ☐ no" in words
    assert "regrind: needed" in words


def test_the_estimate_is_held_against_what_came(given: Shop) -> None:
    given.types("bags", JOB, "--back", "regrind", "--cost", "120.00", "--who", "J.", "--on", DAY)
    kit = given.reads("kit", JOB, "--on", DAY)
    nuts = next(line for line in kit["lines"] if "big-end-nuts-left" in line["positions"])
    given.types("shelf", "in", nuts["part"], "4", "--where", "bin 9", "--cost", "1.10")
    given.types("shelf", "take", JOB, nuts["line"])
    actual = given.reads("estimate", JOB, "--against-actual")
    rows = {row["part"] or row["text"]: row for row in actual["rows"]}
    assert rows[nuts["part"]]["actual"] == "4.40"
    assert rows["Regrind crankpins"]["actual"] == "120.00"
    assert rows["Labour: Crankshaft and rods"]["note"] == "no hours written"
    assert actual["actual"] == "124.40"
    text = given.types("estimate", JOB, "--against-actual")
    assert "Of what is known" in text
    assert max(map(len, text.splitlines())) <= 80


def test_hours_worked_are_written_and_held_against_the_estimate(given: Shop) -> None:
    hours = ("job", "hours", JOB)
    assert "Crankshaft and rods: 3.5 h in all" in given.types(*hours, "bottom-end", "3.5", *WHO)
    given.types(*hours, "crankshaft and Rods", "-0.5", *WHO, "--note", "tea")
    rows = given.reads("estimate", JOB, "--against-actual")["rows"]
    (row,) = (each for each in rows if each["text"] == "Labour: Crankshaft and rods")
    assert row["note"] == "3 h"
    rate = given.reads("estimate", JOB)
    labour = next(each for each in rate["lines"] if each["text"] == "Labour: Crankshaft and rods")
    assert Decimal(row["actual"]) == 3 * Decimal(labour["unit_net"])


REFUSED = (
    (("job", "hours", "26-999", "bottom-end", "1", *WHO), "no job '26-999'"),
    (("job", "hours", JOB, "botom end", "1", *WHO), "did you mean bottom-end"),
    (("job", "hours", JOB, "bottom-end", "lots", *WHO), "'lots' is no number of hours"),
    (("job", "hours", JOB, "bottom-end", "0", *WHO), "'0' is no number of hours"),
    (("job", "hours", JOB, "bottom-end", "-1", *WHO), "0 are written so far"),
    (("job", "hours", JOB, "bottom-end", "1", "--who", " "), "--who: it is empty"),
    (("approve", "26-999"), "no job '26-999'"),
    (("approve", JOB, "--revision", "7"), f"no estimate of job '{JOB} revision 7'"),
    (("approve", JOB, "--line", "balance", "perhaps", *WHO), "'perhaps' is not one of"),
    (("approve", JOB, "--line", "balance", "no"), "--who: it is empty"),
    (("approve", JOB, "--line", "9.99", "no", *WHO), "no line of this revision '9.99'"),
    (("approve", JOB, "--line", "ballance", "no", *WHO), "did you mean balance?"),
    (("estimate", JOB, "--against-actual", "--keep"), "it does not go with --against-actual"),
    (("estimate", JOB, "--against-actual", "--kept", "9"), "revision 9"),
    (("estimate", "26-999", "--against-actual"), "no job '26-999'"),
)


def test_everything_that_cannot_be_taken_is_refused_in_a_sentence(given: Shop) -> None:
    for words, sentence in REFUSED:
        assert sentence in given.refuses(*words), words


def test_a_job_without_a_kept_estimate_says_how_to_keep_one(open_shop: Shop) -> None:
    for words in (("approve", JOB), ("estimate", JOB, "--against-actual")):
        assert f"keep one: kitting estimate {JOB} --keep" in open_shop.refuses(*words)


def test_the_screens_fit_a_terminal(given: Shop) -> None:
    given.types("approve", JOB, "--line", "balance", "no", *WHO)
    for words in (("approve", JOB), ("kit", JOB), ("estimate", JOB)):
        assert max(map(len, given.types(*words).splitlines())) <= 80, words


def test_a_no_is_taken_back_under_a_later_revision_and_the_earlier_one_is_still_read(
    given: Shop,
) -> None:
    given.types("approve", JOB, "--line", "balance", "no", *WHO)
    given.types("estimate", JOB, "--keep")
    shown = given.types("approve", JOB)
    assert "Balance crankshaft: --line balance yes" in shown
    assert "Estimate revision 1" in given.types("approve", JOB, "--revision", "1")
    given.types("approve", JOB, "--line", "balance", "yes", *WHO)
    assert given.reads("approve", JOB)["declined"] == []
