"""The buying plan at the terminal: three plans side by side, why, and orders made of one."""

from decimal import Decimal

import pytest

from tests.journeys.shop import DAY, Shop

JOB = "26-041"
CHEAPEST = ("--only", "cheapest", "--on", DAY)


def test_three_plans_stand_side_by_side_and_each_is_best_at_its_own(loaded: Shop) -> None:
    answer = loaded.reads("order", "plan", JOB, "--on", DAY)
    cheapest, soonest, fewest = answer["plans"]
    assert all(plan["proved"] for plan in answer["plans"])
    assert Decimal(cheapest["total"]) <= min(Decimal(p["total"]) for p in answer["plans"])
    assert soonest["days"] <= min(plan["days"] for plan in answer["plans"])
    assert len(fewest["parcels"]) <= min(len(plan["parcels"]) for plan in answer["plans"])


def test_one_plan_alone_is_the_one_that_stands_beside_the_others(loaded: Shop) -> None:
    (alone,) = loaded.reads("order", "plan", JOB, "--only", "fewest", "--on", DAY)["plans"]
    assert (alone["aim"], len(alone["parcels"]), alone["lines"][0]["because"]) == (
        "fewest parcels",
        4,
        None,
    )
    two = ("--only", "fewest", "--why", "cheapest")
    assert "ask for two plans" in loaded.refuses("order", "plan", JOB, *two)


def test_a_plan_adds_up_to_the_penny_over_its_parcels_and_over_its_lines(loaded: Shop) -> None:
    plan = loaded.reads("order", "plan", JOB, *CHEAPEST)["plans"][0]
    parcels = sum(Decimal(parcel["total"]) for parcel in plan["parcels"])
    lines = sum(Decimal(line["total"]) for line in plan["lines"])
    assert Decimal(plan["total"]) == parcels + Decimal(plan["work"]) == lines


def test_held_shells_wait_and_are_named(loaded: Shop) -> None:
    plan = loaded.reads("order", "plan", JOB, *CHEAPEST)["plans"][0]
    assert any("shells" in waiting for waiting in plan["waiting"])
    assert not any("shells" in line["name"] for line in plan["lines"])


def test_a_supplier_may_be_left_out_with_what_only_he_sells(loaded: Shop) -> None:
    without: tuple[str, ...] = ("--not-from", "calder-flats")
    said = loaded.refuses("order", "plan", JOB, "--on", DAY, *without)
    assert "while nothing is bought from Calder Flats Vintage Supply" in said
    assert "nobody sells it" not in said
    for key in ("2.14", "6.05"):
        assert f"(--leave-out {JOB}:{key})" in said
        without = (*without, "--leave-out", f"{JOB}:{key}")
    answer = loaded.reads("order", "plan", JOB, *CHEAPEST, *without)
    assert [each.rpartition(": ")[2] for each in answer["left_out"]] == ["left out as asked"] * 2
    assert "calder-flats" not in {parcel["supplier"] for parcel in answer["plans"][0]["parcels"]}
    made = loaded.types("order", "make", JOB, "--plan", "soonest", "--on", DAY, *without)
    assert made.count("left out as asked") == 2


def test_every_line_says_why_it_goes_where_it_goes_and_how_far_the_looking_has_come(
    loaded: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    said = loaded.tries("order", "plan", JOB, "--on", DAY, "--why", "cheapest")
    assert "Looking for what else would do: 1 of" in said.err
    assert "Looking" not in said.out
    assert "next best" in said.out
    assert "new old stock, from Penhollow" in " ".join(said.out.split())
    assert max(map(len, said.out.splitlines())) <= 80


def test_orders_are_drafted_from_the_plan_with_its_prices(loaded: Shop) -> None:
    plan = loaded.reads("order", "plan", JOB, *CHEAPEST)["plans"][0]
    said = loaded.types("order", "make", JOB, "--plan", "cheapest", "--on", DAY)
    assert said.count("drafted") == len(plan["parcels"])
    orders = loaded.reads("order", "list")["orders"]
    assert len(orders) == len(plan["parcels"])


def test_two_jobs_are_planned_as_one_and_each_line_stays_its_jobs_own(loaded: Shop) -> None:
    loaded.types("job", "open", "26-042", "--family", "corvane-650", "--engine", "CV23418")
    loaded.types("strip", "add", "26-042", "barrel", "sound", "--who", "J. Marlowe")
    both = loaded.reads("order", "plan", JOB, "26-042", *CHEAPEST)["plans"][0]
    one = loaded.reads("order", "plan", JOB, *CHEAPEST)["plans"][0]
    other = loaded.reads("order", "plan", "26-042", *CHEAPEST)["plans"][0]
    assert {line["job"] for line in both["lines"]} == {JOB, "26-042"}
    assert Decimal(both["total"]) <= Decimal(one["total"]) + Decimal(other["total"])
    assert set(both["by_job"]) == {JOB, "26-042"}
    assert sum(map(Decimal, both["by_job"].values())) == Decimal(both["total"])
    assert all(each["because"] for each in both["surplus"])
    key = min(line["line"] for line in other["lines"])
    said = loaded.refuses("order", "plan", JOB, "26-042", "--on", DAY, "--leave-out", key)
    assert f"say 26-041:{key} or 26-042:{key}" in said


def test_terms_that_cannot_be_are_refused(loaded: Shop) -> None:
    assert "did you mean" in loaded.refuses("order", "plan", JOB, "--not-from", "calder")
    assert "such as 10" in loaded.refuses("order", "plan", JOB, "--premium", "lots")
    assert "no job '99'" in loaded.refuses("order", "plan", "99")
    assert "--with goes with --plan" in loaded.refuses("order", "make", JOB, "--with", "26-042")


def test_held_parts_that_nobody_takes_back_wait_under_their_own_sizes(loaded: Shop) -> None:
    plan = loaded.reads("order", "plan", JOB, *CHEAPEST, "--returns-to", "marlbeck")
    assert not any("nobody sells" in says for says in plan["left_out"])
    waiting = plan["plans"][0]["waiting"]
    assert any("worst case" in each for each in waiting)
    assert not any(each.count(" over") + each.count(" under") > 1 for each in waiting)


def test_a_line_to_be_left_out_must_be_there(loaded: Shop) -> None:
    said = loaded.refuses("order", "plan", JOB, "--leave-out", "99.99")
    assert "no line '99.99' is to be bought" in said
