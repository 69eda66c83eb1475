"""The metric engine takes the same path: nothing of the twin is wired into the code."""

from tests.journeys.shop import DAY, Shop

JOB = "26-050"


def test_a_metric_single_goes_from_the_strip_to_its_workbooks(stocked_shop: Shop) -> None:
    shop = stocked_shop
    family = shop.reads("catalog", "show", "tarnwick-s45")["family"]
    number = family["variants"][0]["engine_numbers"].split(" to ")[0]
    shop.types("job", "open", JOB, "--family", "tarnwick-s45", "--engine", number)
    worn = ("41.975", "41.905", "41.970", "41.910")
    places = ("fan side in line", "fan side across", "drive side in line", "drive side across")
    said = [f"crankpin {place} = {value}" for place, value in zip(places, worn, strict=True)]
    shop.types("strip", "add", JOB, "crankshaft", *said, "--who", "J. Fitter")
    verdicts = {v["position"]: v for v in shop.reads("verdicts", JOB, "--on", DAY)["verdicts"]}
    assert verdicts["crankshaft"]["verdict"] == "rework"
    sizes = {s["table"]: s for s in shop.reads("sizes", JOB, "--on", DAY)["sizes"]}
    assert sizes["crankpin"]["likely"].startswith("0.25")
    kit = shop.reads("kit", JOB, "--on", DAY)
    assert any("0.25" in line["grade"] for line in kit["lines"])
    shop.types("sheets", JOB, "--to", "out", "--on", DAY)
    assert len(list((shop.folder / "out").glob("*.xlsx"))) >= 4


def test_one_plan_over_engines_of_two_families_buys_for_both(loaded: Shop) -> None:
    family = loaded.reads("catalog", "show", "tarnwick-s45")["family"]
    number = family["variants"][0]["engine_numbers"].split(" to ")[0]
    loaded.types("job", "open", JOB, "--family", "tarnwick-s45", "--engine", number)
    loaded.types("strip", "add", JOB, "cylinder-barrel", "sound", "--who", "J. Fitter")
    other = loaded.reads("order", "plan", JOB, "--only", "cheapest", "--on", DAY)
    assert other["plans"][0]["lines"]
    both = loaded.reads("order", "plan", "--only", "cheapest", "--on", DAY)
    assert both["jobs"] == ["26-041", JOB]
    mine = [line["line"] for line in both["plans"][0]["lines"] if line["job"] == JOB]
    assert mine == [line["line"] for line in other["plans"][0]["lines"]]
    said = loaded.types("order", "make", JOB, "--with", "26-041", "--plan", "cheapest", "--on", DAY)
    assert "nobody sells it" not in said
    alone = loaded.types("order", "make", JOB, "--plan", "cheapest", "--on", DAY)
    assert "Mind: left as drafted, for job 26-041 too: P100" in alone
    loaded.types("job", "close", "26-041", "--not-built", "sold as it lay", "--who", "K. Ferris")
    loaded.types("order", "make", JOB, "--on", DAY)
    drafts = loaded.reads("order", "list")["orders"]
    assert not any(len(e["jobs"]) > 1 for e in drafts if e["state"] == "draft")
