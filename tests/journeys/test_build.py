"""A job built, measured and closed, by the commands that a user types."""

from typing import Any

from openpyxl import load_workbook
from openpyxl.cell.cell import Cell

from tests.journeys.shop import DAY, Shop

JOB = "26-041"
GOOD = {
    "main-bush-clearance": ".0020",
    "piston-left-clearance": ".0035",
    "piston-right-clearance": "3.5 thou",
    "big-end-left-clearance": ".0017",
    "big-end-right-clearance": ".0017",
    "crank-end-float": ".0045",
    "torque-big-end-left": "24",
    "torque-big-end-right": "24",
}
SETTLED = (("crankpin", "under-020"), ("bore", "over-040"))


def build(shop: Shop, key: str) -> Any:
    return next(
        line for line in shop.reads("build", "show", JOB)["lines"] if line["feature"] == key
    )


def add(shop: Shop, key: str, figure: str, *more: str) -> str:
    return shop.types("build", "add", JOB, key, figure, "--who", "J. Marlowe", *more)


def settled(shop: Shop) -> Shop:
    """The sizes decided that were held until the metal was ground and bored."""
    for table, grade in SETTLED:
        shop.types("decide", "size", JOB, table, grade, "--who", "K.", "--reason", "ground")
    return shop


def closed(shop: Shop) -> Shop:
    settled(shop)
    for key, figure in GOOD.items():
        add(shop, key, figure)
    shop.types("job", "close", JOB, "--who", "K. Ferris", "--note", "ran an hour on the stand")
    return shop


def test_the_plan_beside_each_figure_follows_the_size_decided(loaded: Shop) -> None:
    plan = build(loaded, "big-end-left-clearance")
    assert (plan["limits"], plan["basis"], plan["settled"]) == (
        "0.0010 in to 0.0024 in", "crankpins .010 undersize", False,
    )  # fmt: skip
    loaded.types(
        "decide", "size", JOB, "crankpin", "under-020", "--who", "K.", "--reason", "clocked",
    )  # fmt: skip
    plan = build(loaded, "big-end-left-clearance")
    assert (plan["basis"], plan["settled"]) == ("crankpins .020 undersize", True)


def test_a_figure_is_judged_signed_and_kept_with_what_it_replaces(loaded: Shop) -> None:
    assert add(loaded, "main-bush-clearance", ".0052").startswith("bad: main journal in its bush")
    said = add(loaded, "main-bush-clearance", ".0020")
    assert "takes the place of 0.0052 in by J. Marlowe" in " ".join(said.split())
    line = build(loaded, "main-bush-clearance")
    assert line["state"] == "good"
    assert [(f["text"], f["who"]) for f in line["figures"]] == [(".0020", "J. Marlowe")]


def test_a_filled_build_sheet_is_loaded_once(loaded: Shop) -> None:
    loaded.types("build", "sheet", JOB, "--to", "build.xlsx")
    book = load_workbook(loaded.folder / "build.xlsx")
    for sheet in book.worksheets:
        for row in range(2, sheet.max_row + 1):
            key = str(sheet[f"A{row}"].value)
            cell = sheet[f"{'C' if key == 'field|who' else 'E'}{row}"]
            feature = key.removeprefix("read|").partition("|")[0]
            if isinstance(cell, Cell) and (key == "field|who" or feature in GOOD):
                cell.value = "J. Marlowe" if key == "field|who" else GOOD[feature]
    book.save(loaded.folder / "build.xlsx")
    looked = loaded.types("build", "load", JOB, "build.xlsx", "--look")
    assert "8 figures would be added" in looked
    assert build(loaded, "main-bush-clearance")["state"] == "not measured"
    said = loaded.types("build", "load", JOB, "build.xlsx")
    assert "8 figures added." in said
    assert "4 critical ones to a size not settled" in said
    settled(loaded)
    assert "the job may be closed" in loaded.types("build", "show", JOB)
    before = loaded.reads("build", "show", JOB)
    assert "Nothing new" in loaded.types("build", "load", JOB, "build.xlsx")
    assert loaded.reads("build", "show", JOB) == before


def test_a_job_is_closed_only_when_each_critical_figure_is_there(loaded: Shop) -> None:
    said = loaded.refuses("job", "close", JOB, "--who", "K. Ferris")
    for key in GOOD:
        assert f"{key} (critical)" in said
    assert "nothing more is bought" not in loaded.types("bags", JOB)
    *most, last = GOOD
    for key in most:
        add(loaded, key, GOOD[key])
    said = loaded.refuses("job", "close", JOB, "--who", "K. Ferris")
    assert f"{last} (critical): big-end nuts, right: tightening" in said
    add(loaded, last, GOOD[last])
    said = loaded.refuses("job", "close", JOB, "--who", "K. Ferris")
    assert "oil clearance, left: its size is not settled (crankpins .010 undersize)" in said
    assert last not in said
    settled(loaded)
    said = loaded.types("job", "close", JOB, "--who", "K. Ferris")
    assert "Job 26-041 closed by K. Ferris" in said
    assert "Still open: bag 1, " in said
    assert "waits: parts to order" in said
    assert "nothing more is bought for it" in " ".join(loaded.types("bags", JOB).split())


def test_a_critical_figure_too_near_to_call_needs_somebodys_word(loaded: Shop) -> None:
    settled(loaded)
    for key, figure in (GOOD | {"main-bush-clearance": ".0025"}).items():
        add(loaded, key, figure)
    close = ("job", "close", JOB, "--who", "K. Ferris")
    said = loaded.refuses(*close)
    assert "main-bush-clearance: main journal in its bush" in said
    assert "take it with --accept FIGURE --note WHY" in said
    taken = ("--accept", "main-bush-clearance")
    assert "nothing says why it will do" in loaded.refuses(*close, *taken)
    said = loaded.refuses(*close, "--accept", "torque-head", "--note", "new nuts")
    assert "no critical figure too near to call 'torque-head'" in said
    loaded.types(*close, *taken, "--note", "turns freely")
    assert loaded.reads("build", "show", JOB)["closed"]["note"] == (
        "turns freely (accepted, too near to call: main-bush-clearance)"
    )


def test_an_engine_that_is_never_built_is_closed_only_with_a_reason(open_shop: Shop) -> None:
    close = ("job", "close", JOB, "--who", "K. Ferris")
    said = open_shop.refuses(*close)
    assert "nothing is stripped, so nothing was built" in said
    assert open_shop.reads("build", "show", JOB)["may_close"] is False
    said = open_shop.types(*close, "--not-built", "sold as it lay")
    assert "not built: sold as it lay" in said
    assert open_shop.reads("build", "show", JOB)["closed"]["note"] == "not built: sold as it lay"


def test_a_figure_proven_bad_keeps_a_job_open_critical_or_not(loaded: Shop) -> None:
    settled(loaded)
    for key, figure in GOOD.items():
        add(loaded, key, figure)
    add(loaded, "torque-head", "31 lbf·ft")
    said = loaded.refuses("job", "close", JOB, "--who", "K. Ferris")
    assert "outside 24.0 lbf·ft to 26.0 lbf·ft" in said
    assert "put it right and measure again" in said


def test_a_closed_job_is_read_by_every_command_and_changed_by_none(loaded: Shop) -> None:
    filled = loaded.filled(JOB, loaded.demo_entries())
    shop = closed(loaded)
    shown = shop.reads("build", "show", JOB)
    assert shown["closed"]["who"] == "K. Ferris"
    assert "Closed by K. Ferris" in shop.types("build", "show", JOB)
    shop.types("kit", JOB, "--on", DAY)
    shop.types("build", "sheet", JOB, "--to", "build.xlsx")
    for words in (
        ("job", "close", JOB, "--who", "K."),
        ("build", "add", JOB, "torque-head", "25", "--who", "J."),
        ("build", "load", JOB, "build.xlsx"),
        ("strip", "add", JOB, "timing-cover", "sound", "--who", "J."),
        ("strip", "load", JOB, str(filled)),
        ("decide", "size", JOB, "crankpin", "under-020", "--who", "K.", "--reason", "r"),
        ("decide", "verdict", JOB, "oil-pump", "renew", "--who", "K.", "--reason", "r"),
        ("estimate", JOB, "--keep", "--on", DAY),
        ("shelf", "take", JOB, "7.01"),
        ("shelf", "give-back", JOB, "7.01"),
        ("bags", JOB, "--in-hand", "7.01", "--who", "J."),
        ("order", "plan", JOB, "--on", DAY),
    ):
        assert "it was closed by K. Ferris on" in shop.refuses(*words), words
    assert shop.reads("build", "show", JOB) == shown
    assert "closed" in shop.types("job", "show", JOB).splitlines()[0]
    assert [job["closed_by"] for job in shop.reads("job", "list")["jobs"]] == ["K. Ferris"]
    assert shop.reads("job", "list", "--open")["jobs"] == []
    assert "no job is open with anything stripped" in shop.refuses("order", "plan")


REFUSED = (
    (("build", "show", "26-999"), "no job '26-999'"),
    (("build", "sheet", "26-999"), "no job '26-999'"),
    (("job", "close", "26-999", "--who", "K."), "no job '26-999'"),
    (("job", "close", JOB, "--who", " "), "--who: it is empty"),
    (("job", "close", JOB), "Missing option '--who'"),
    (("build", "add", JOB, "torque-haed", "25", "--who", "J."), "did you mean torque-head"),
    (("build", "add", JOB, "main-bush-bore", "1.75", "--who", "J."), "measured when stripped"),
    (("build", "add", JOB, "torque-head", "tight", "--who", "J."), "'tight'"),
    (("build", "add", JOB, "torque-head", "25 in", "--who", "J."), "in"),
    (("build", "add", JOB, "torque-head", "250", "--who", "J."), "look at the decimal point"),
    (
        ("build", "add", JOB, "torque-head", "25", "--who", "J.", "--at", "top"),
        "'top' is no place of it; leave --at away",
    ),
    (("build", "add", JOB, "torque-head", "25", "--who", ""), "--who: it is empty"),
    (("build", "load", JOB, "nothing.xlsx"), "there is no such file"),
    (("build", "load", JOB, "filled.xlsx"), "it is a strip sheet, not a build sheet"),
)


def test_everything_that_cannot_be_taken_is_refused_in_a_sentence(loaded: Shop) -> None:
    loaded.filled(JOB, loaded.demo_entries())
    for words, sentence in REFUSED:
        assert sentence in loaded.refuses(*words), words
    assert all(line["figures"] == [] for line in loaded.reads("build", "show", JOB)["lines"])


def test_a_feature_of_several_places_asks_which(loaded: Shop) -> None:
    loaded.types(
        "job", "open", "26-050", "--family", "tarnwick-s45", "--engine", a_tarnwick(loaded)
    )
    blank = loaded.folder / "t.xlsx"
    loaded.types("strip", "sheet", "26-050", "--to", str(blank))
    loaded.types("strip", "add", "26-050", "piston-rings", "sound", "--who", "J.")
    add_ring = ("build", "add", "26-050", "ring-gap", "0.35", "--who", "J.")
    said = loaded.refuses(*add_ring)
    assert "it is measured at several places; say --at 'top' or 'second' or 'scraper'" in said
    assert "good" in loaded.types(*add_ring, "--at", "second")


def a_tarnwick(shop: Shop) -> str:
    """An engine number of the second engine, as its family numbers them."""
    from kitting.catalog.files import read_family
    from kitting.catalog.shipped import shipped_folder

    variant = read_family(shipped_folder() / "tarnwick-s45").variants[0]
    return f"{variant.prefix}{variant.first + 3}"


def test_the_screens_fit_a_terminal(loaded: Shop) -> None:
    add(loaded, "main-bush-clearance", ".0052")
    for words in (("build", "show", JOB), ("build", "show", JOB, "--open", "--find", "bush")):
        assert max(map(len, loaded.types(*words).splitlines())) <= 80, words


def test_a_figure_below_zero_is_a_figure_and_no_option(loaded: Shop) -> None:
    figure = ("build", "add", JOB, "crank-end-float", "-0.004")
    assert "No such option" not in loaded.refuses(*figure, "--who", "Joan")
    future = ("--who", "Joan", "--when", "2031-01-01")
    assert "01 Jan 2031 is still to come" in loaded.refuses(*figure, *future)
