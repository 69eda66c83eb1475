"""From the bench's gauges to what the grinder is told: rods, shells, bushes, shims, pictures."""

from pathlib import Path

from tests.journeys.shop import DAY, Shop
from tests.sheets.opened import text_of

JOB = "26-041"
WHO = ("--who", "J. Marlowe")


def adds(shop: Shop, position: str, *pieces: str) -> None:
    shop.types("strip", "add", JOB, position, *pieces, *WHO)


def targets(shop: Shop, table: str) -> list[dict[str, object]]:
    sizes = shop.reads("sizes", JOB)["sizes"]
    found: list[dict[str, object]] = next(s for s in sizes if s["table"] == table)["finish_to"]
    return found


def test_the_rods_are_measured_at_the_strip_and_the_pins_are_ground_to_them(loaded: Shop) -> None:
    """Eye 1.8316 to 1.8318 ± .0002, walls by drawing: one tenth less than the printed band."""
    left = targets(loaded, "crankpin")[0]
    assert left["rests_on"] == "partly measured, the rest by drawing"
    assert (left["low"], left["high"]) == ("1.7080 in", "1.7084 in")
    assert left["gives"] == left["wanted"] == {"low": "0.0010 in", "high": "0.0024 in"}


def test_shells_in_hand_move_the_band_of_their_own_pin_alone(loaded: Shop) -> None:
    """Walls .0610 ± .0001: lined 1.7092 to 1.7102, so 1.7078 to 1.7082 on the left pin."""
    adds(
        loaded,
        "big-end-shells-left",
        "big-end-left-wall upper = .0610",
        "big-end-left-wall lower = .0610",
    )
    left, _, right, _ = targets(loaded, "crankpin")
    assert left["rests_on"] == "measured in hand"
    assert (left["low"], left["high"]) == ("1.7078 in", "1.7082 in")
    assert (right["low"], right["high"]) == ("1.7080 in", "1.7084 in")
    why = loaded.types("sizes", JOB, "--why", "crankpin")
    assert "measured 0.0610 in" in " ".join(why.split())


def test_measuring_the_new_shells_is_no_word_on_the_old_ones(loaded: Shop) -> None:
    before = {v["position"]: v["verdict"] for v in loaded.reads("verdicts", JOB)["verdicts"]}
    adds(loaded, "big-end-shells-right", "big-end-right-wall upper = .0610")
    after = {v["position"]: v["verdict"] for v in loaded.reads("verdicts", JOB)["verdicts"]}
    assert after == before


def test_a_bush_on_a_sound_journal_is_reamed_to_it_and_told_its_heat(loaded: Shop) -> None:
    bushes = {bush["position"]: bush for bush in loaded.reads("sizes", JOB)["bushes"]}
    main = bushes["main-bush"]
    assert main["journal_measured"]
    assert main["ream_to"] == {"low": "1.7502 in", "high": "1.7509 in"}
    assert (main["heat_housing_to_c"], main["chilled_heat_housing_to_c"]) == (135, 105)
    assert main["tight_at_100_c"]


def test_a_guide_is_reamed_to_the_worn_stem_that_is_kept(loaded: Shop) -> None:
    """Stem .3093 to .3096 ± .0001: .3097 + .0015 to .3092 + .0025, not the printed .3120."""
    (guide,) = loaded.reads("sizes", JOB)["pin_bores"]
    assert (guide["position"], guide["measured"]) == ("guide-inlet-right", True)
    assert guide["ream_to"] == {"low": "0.3112 in", "high": "0.3117 in"}
    said = " ".join(loaded.types("sizes", JOB).split())
    assert "Inlet valve guide, right stem, inlet right 0.3112 to 0.3117 in" in said
    why = loaded.types("sizes", JOB, "--why", "guide-housing-inlet-right")
    assert "stem, inlet right: measured 0.3093 in to 0.3096 in" in " ".join(why.split())


def test_a_float_measured_with_its_shims_gets_a_stack(loaded: Shop) -> None:
    """Bare .019, middle .0045: .0145 is wanted, and one of .015 is nearer than any two."""
    adds(loaded, "crank-shims", "crank-end-float = .014", "crank-shims-in-place = .005")
    shims = loaded.reads("sizes", JOB)["shims"][0]
    assert shims["stack"] == {"0.0150 in": 1}
    assert shims["gives"] == "0.0040 in"


def test_a_wall_in_the_wrong_unit_is_refused_at_the_bench(loaded: Shop) -> None:
    wall = "big-end-left-wall upper = 1.549"
    said = loaded.refuses("strip", "add", JOB, "big-end-shells-left", wall, *WHO)
    assert "millimetres" in said


def test_the_grinder_reads_the_band_what_it_rests_on_and_the_order_of_work(loaded: Shop) -> None:
    loaded.types("sheets", JOB, "--to", str(loaded.folder / "out"), "--on", DAY)
    text = text_of(loaded.folder / "out" / f"{JOB}-works-ashlow.xlsx")
    for words in (
        "1.7080 in  1.7084 in  0.0010 in  0.0024 in",
        "big-end eye bolted up, left: measured 1.8316 in to 1.8318 in, U 0.0002 in",
        "Fillet radius 0.080 to 0.090 in",
        "Finish 16 microinch",
        "Oil holes chamfered 0.020 in",
        "☐ 1. Crack test",
        "☐ 2. Sludge trap out",
    ):
        assert words in text, words


def test_who_reams_the_guide_reads_the_stem_and_the_bore_for_it(loaded: Shop) -> None:
    loaded.types("sheets", JOB, "--to", str(loaded.folder / "out"), "--on", DAY)
    text = text_of(loaded.folder / "out" / f"{JOB}-works-hemble.xlsx")
    for words in (
        "stem, inlet right: 0.3092 in to 0.3097 in, as measured",
        "ream to 0.3112 in to 0.3117 in after fitting, for a clearance of 0.0015 in to 0.0025 in",
    ):
        assert words in text, words
    assert "finished bore for it: 0.3120" not in text
    assert "0.3112 in to 0.3117 in" in text_of(loaded.folder / "out" / f"{JOB}-job-book.xlsx")


def test_pictures_are_written_where_they_are_asked_for(loaded: Shop) -> None:
    folder = loaded.folder / "pictures"
    said = loaded.reads("sizes", JOB, "--pictures", str(folder))
    assert {Path(file) for file in said["pictures"]} == set(folder.iterdir())
    assert (folder / f"{JOB}-wear-crankpin-left.svg").exists()
