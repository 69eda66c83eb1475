"""One job from the bench to its workbooks, by the commands that a user types."""

from typing import Any

from openpyxl import load_workbook

from tests.journeys.shop import DAY, Shop

JOB = "26-041"


def line_for(kit: dict[str, Any], position: str) -> dict[str, Any]:
    lines: list[dict[str, Any]] = kit["lines"]
    return next(line for line in lines if position in line["positions"])


def test_the_variant_follows_from_the_engine_number(open_shop: Shop) -> None:
    assert open_shop.reads("job", "show", JOB)["job"]["variant"] == "mark-2"


def test_a_filled_sheet_brings_every_finding_and_loaded_twice_changes_nothing(
    open_shop: Shop,
) -> None:
    file = str(open_shop.filled(JOB, open_shop.demo_entries()))
    assert "findings added" in open_shop.types("strip", "load", JOB, file)
    before = open_shop.reads("strip", "show", JOB)
    assert len(before["findings"]) >= 60
    assert "Nothing new" in open_shop.types("strip", "load", JOB, file)
    assert open_shop.reads("strip", "show", JOB) == before


def test_readings_keep_what_was_typed(loaded: Shop) -> None:
    crank = next(
        f for f in loaded.reads("strip", "show", JOB)["findings"] if f["position"] == "crankshaft"
    )
    pit = next(r for r in crank["readings"] if r["feature"] == "crankpin-left-pit")
    assert (pit["text"], pit["value"]) == ("3thou", "3.0 thou")


def test_wrong_parts_are_wrong_and_not_worn(loaded: Shop) -> None:
    verdicts = {v["position"]: v for v in loaded.reads("verdicts", JOB)["verdicts"]}
    assert verdicts["crank-pinion-nut"]["verdict"] == "wrong part"
    assert verdicts["relief-spring-60"]["verdict"] == "wrong part"
    assert verdicts["oil-pump"]["verdict"] == "reuse"
    assert verdicts["cam-bush-centre"]["verdict"] == "reuse"
    assert verdicts["camshaft"]["operations"] == ["grind-cam-centre"]


def test_a_bush_good_by_feel_is_renewed_by_its_figures(loaded: Shop) -> None:
    text = loaded.types("verdicts", JOB, "--why", "main-bush")
    assert "outside at most 1.7525 in" in text


def test_a_job_with_gone_big_ends_is_not_ready_before_the_suspects_are_seen(
    loaded: Shop,
) -> None:
    ready = loaded.reads("kit", JOB)["ready"]
    assert not ready["ready"]
    assert {point["where"] for point in ready["open"]} == {
        "Timing cover",
        "Idler spindle",
        "Exhaust valve, left",
    }


def test_the_job_becomes_ready_when_the_open_points_are_answered(loaded: Shop) -> None:
    loaded.types("strip", "add", JOB, "timing-cover", "sound", "--who", "J. Marlowe")
    loaded.types("strip", "add", JOB, "idler-spindle", "outer 0 = .6237", "--who", "J. Marlowe")
    loaded.types(
        "decide", "verdict", JOB, "valve-exhaust-left", "renew",
        "--who", "K. Ferris", "--reason", "on its limit",
    )  # fmt: skip
    assert loaded.reads("kit", JOB)["ready"] == {
        "ready": True,
        "sentence": "Ready to order.",
        "open": [],
    }
    verdict = next(
        v
        for v in loaded.reads("verdicts", JOB)["verdicts"]
        if v["position"] == "valve-exhaust-left"
    )
    assert (verdict["verdict"], verdict["ruled"]) == ("renew", "recheck")
    assert "K. Ferris" in verdict["because"][0]["says"]


def test_likely_and_worst_regrind_differ_and_the_shells_are_held(loaded: Shop) -> None:
    sizes = {s["table"]: s for s in loaded.reads("sizes", JOB, "--on", DAY)["sizes"]}
    pins = sizes["crankpin"]
    assert (pins["likely"], pins["worst"], pins["hold"]) == (
        ".010 undersize",
        ".020 undersize",
        True,
    )
    assert sizes["bore"]["likely"] == ".020 oversize"
    shells = line_for(loaded.reads("kit", JOB, "--on", DAY), "big-end-shells-left")
    assert shells["hold"]
    assert shells["worst_part"] is not None


def test_a_superseded_shell_is_answered_by_its_successor_with_the_chain(loaded: Shop) -> None:
    shells = line_for(loaded.reads("kit", JOB, "--on", DAY), "big-end-shells-left")
    assert (shells["named"], shells["part"]) == ("cor:C61-1067/010", "cor:C66-1067/010")
    chain = [step["says"] for step in shells["chosen"]]
    assert "cor:C61-1067/010 is superseded by cor:C64-1067/010: stronger backing" in chain
    assert shells["quantity"] == 2


def test_a_seal_is_interchanged_one_way_and_says_so(loaded: Shop) -> None:
    seal = line_for(loaded.reads("kit", JOB, "--on", DAY), "drive-side-seal")
    assert seal["part"] == "amb:AS 35-52-7 D"
    assert any("not the reverse" in step["says"] for step in seal["chosen"])


def test_a_set_covers_lines_and_nothing_is_bought_twice(loaded: Shop) -> None:
    kit = loaded.reads("kit", JOB, "--on", DAY)
    covered = [line for line in kit["lines"] if line["covered_by"]]
    assert covered
    estimate = loaded.reads("estimate", JOB, "--on", DAY)
    bought = {line["line"] for line in estimate["lines"] if line["kind"] == "part"}
    assert bought.isdisjoint(line["line"] for line in covered)
    assert len([line for line in estimate["lines"] if line["kind"] == "set"]) == len(kit["sets"])


def test_the_why_of_a_line_goes_back_to_what_the_bench_saw(loaded: Shop) -> None:
    nut = line_for(loaded.reads("kit", JOB, "--on", DAY), "crank-pinion-tab")
    text = loaded.types("kit", JOB, "--why", nut["line"])
    assert "stripped" in text
    assert "rule" in text


def test_every_workbook_is_written_and_the_orders_are_drafts_until_ready(loaded: Shop) -> None:
    loaded.types("sheets", JOB, "--to", "out", "--on", DAY)
    names = sorted(file.name for file in (loaded.folder / "out").iterdir())
    assert [n for n in names if "estimate" in n]
    assert [n for n in names if n.startswith("order-")]
    assert [n for n in names if "works" in n]
    assert [n for n in names if "pick-list" in n]
    assert [n for n in names if "job-book" in n]
    order = next(f for f in (loaded.folder / "out").iterdir() if f.name.startswith("order-"))
    words = " ".join(
        str(cell.value) for sheet in load_workbook(order) for row in sheet for cell in row
    )
    assert "Draft" in words
    assert "Aldous" not in words
    assert JOB not in words


def test_an_estimate_is_kept_as_given_whatever_the_prices_say_later(loaded: Shop) -> None:
    given = loaded.reads("estimate", JOB, "--keep", "--on", DAY)
    assert given["revision"] == 1
    kept = loaded.reads("estimate", JOB, "--kept", "1")
    assert kept["likely"]["gross"] == given["likely"]["gross"]
    assert [line["net"] for line in kept["lines"]] == [line["net"] for line in given["lines"]]


def test_a_later_size_decision_ends_the_hold(loaded: Shop) -> None:
    loaded.types(
        "decide", "size", JOB, "crankpin", "under-020",
        "--who", "K. Ferris", "--reason", "the grinder clocked it",
    )  # fmt: skip
    shells = line_for(loaded.reads("kit", JOB, "--on", DAY), "big-end-shells-left")
    assert not shells["hold"]
    assert shells["grade"] == ".020 undersize"


def test_a_new_edition_leaves_an_older_job_readable(loaded: Shop) -> None:
    from kitting.catalog.shipped import shipped_folder

    before = loaded.reads("kit", JOB, "--on", DAY)
    copy = loaded.folder / "mine" / "corvane-650"
    copy.mkdir(parents=True)
    for file in (shipped_folder() / "corvane-650").glob("*.csv"):
        text = file.read_text(encoding="utf-8")
        (copy / file.name).write_text(text.replace("1970-4", "1971-1"), encoding="utf-8")
    loaded.types("catalog", "load", str(copy))
    editions = {e["edition"] for e in loaded.reads("catalog", "show")["editions"]}
    assert {"1970-4", "1971-1"} <= editions
    assert loaded.reads("kit", JOB, "--on", DAY) == before
