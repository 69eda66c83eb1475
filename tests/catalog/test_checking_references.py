"""Every key that a row names is there; supersessions agree; gaps are warned of."""

from dataclasses import replace
from datetime import date

import pytest

from kitting.catalog.check import check_family
from kitting.catalog.family import Family
from kitting.catalog.model import Fit, Link, LinkKind, Position, SetItem, Variant
from tests.builders import a_feature, a_fit, a_link, a_part, a_position, number
from tests.wren import tiny_family

SUP = LinkKind.SUPERSEDED
_DAY, _LATER = date(1970, 1, 1), date(1970, 1, 2)


def faults(family: Family) -> list[str]:
    return [str(problem) for problem in check_family(family, {}).faults]


def warnings(family: Family) -> list[str]:
    return [str(problem) for problem in check_family(family, {}).warnings]


def linked(*links: Link) -> Family:
    return replace(tiny_family(), links=links)


def test_variants_that_share_an_engine_number_are_caught() -> None:
    family = tiny_family()
    more = replace(family, variants=(*family.variants, Variant("mark-3", "3", "WS", 900, 1200, "")))
    assert faults(more) == [
        "variants mark-3, column first: engine WS900 is also of variant 'mark-2'; begin after 999"
    ]


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        (a_position("extra", "top-ends", "nut"), "there is no assembly 'top-ends'; did you mean"),
        (
            a_position("extra", "top-end", "nut", variants=("mark-9",)),
            "there is no variant 'mark-9'",
        ),
        (a_position("extra", "top-end", "nut", sized_by="bores"), "no size table 'bores'; did you"),
    ],
)
def test_a_position_that_names_nothing_is_caught(changed: Position, said: str) -> None:
    family = tiny_family()
    more = replace(family, positions=(*family.positions, changed))
    assert any(said in fault for fault in faults(more))


def test_a_feature_of_nothing_and_of_the_wrong_table_is_caught() -> None:
    family = tiny_family()
    features = (
        a_feature("lost", "cranck", "diameter", ("1.0", "1.1")),
        a_feature("wrong-way", "barrel", "diameter", size_table="bore"),
        a_feature("both", "crank", "diameter", ("1.0", "1.1"), size_table="crankpin"),
        a_feature("float-form", "oil-pump", "end float", ("0.001", "0.003"), form=("0.001", "")),
    )
    found = faults(replace(family, features=(*family.features, *features)))
    for said in (
        "features lost, column position: there is no position 'cranck'; did you mean 'crank'?",
        "features wrong-way, column kind: a diameter is measured by bore, a size table of a bore",
        "features both, column size_table: it has limits of its own beside a size table",
        "features float-form, column ovality: a end float has no ovality",
    ):
        assert any(said in fault for fault in found), said


@pytest.mark.parametrize(
    ("fit", "said"),
    [
        (
            a_fit("rods", "hob:W131"),
            "column position: there is no position 'rods'; did you mean 'rod",
        ),
        (
            a_fit("rod", "hob:W1310"),
            "column part: there is no part 'hob:W1310'; did you mean 'hob:W1",
        ),
        (a_fit("rod", "hob:w 131"), "'hob:w 131' is written hob:W131 in parts.csv"),
        (a_fit("shells", "hob:W110", "-011"), "there is no grade of crankpin '-011'; did you mean"),
        (a_fit("rod", "hob:W130", "std"), "the position rod is sized by no table"),
        (a_fit("rod", "hob:W131"), "this row says the same as fits 5"),
        (replace(a_fit("rod", "hob:W130"), first=9, last=3), "9 to 3 are the wrong way round"),
    ],
)
def test_a_fit_that_cannot_be_is_caught(fit: Fit, said: str) -> None:
    family = tiny_family()
    found = faults(replace(family, fits=(*family.fits, fit)))
    assert any(said in fault for fault in found), found


@pytest.mark.parametrize(
    ("links", "said"),
    [
        ((a_link("r", SUP, "hob:W100", "hob:W100"),), "hob:W100 stands for itself"),
        ((a_link("r", SUP, "hob:W100", "hob:W999"),), "column new: there is no part 'hob:W999'"),
        ((a_link("r", SUP, "hob:W100", "hob:W101", needs=("hob:X",)),), "column needs: there"),
        ((a_link("r", LinkKind.WITH_WORK, "hob:W100", "hob:W101"),), "no work is named"),
        ((a_link("r", SUP, "hob:W100", "hob:W101", with_grade="-011"),), "no grade '-011'"),
        ((a_link("r", SUP, "hob:W100", "hob:W101", variants=("mark-9",)),), "no variant 'mark-9'"),
        ((a_link("r", SUP, "hob:W100", "hob:W101", since=_LATER, until=_DAY),),
         "it ends on 1970-01-01, before it begins on 1970-01-02"),
        ((a_link("r", SUP, "hob:W100", "hob:W101"), a_link("r", SUP, "hob:W200", "hob:W202")),
         "it shares the record r with links 0, yet neither number"),
        ((a_link("r", SUP, "hob:W100", "hob:W101"),
          a_link("r", LinkKind.ONE_WAY, "hob:W100", "hob:W102")),
         "'one way' beside 'superseded' in links 0; one kind a record"),
        ((a_link("a", SUP, "hob:W100", "hob:W101"), a_link("b", SUP, "hob:W100", "hob:W102")),
         "hob:W100 is superseded by hob:W102 here and by hob:W101 in links 0"),
        ((a_link("a", SUP, "hob:W100", "hob:W101"), a_link("b", SUP, "hob:W101", "hob:W102"),
          a_link("c", SUP, "hob:W102", "hob:W100")),
         "supersessions in a circle: hob:W"),
    ],
)  # fmt: skip
def test_a_link_that_cannot_be_is_caught(links: tuple[Link, ...], said: str) -> None:
    found = faults(linked(*links))
    assert any(said in fault for fault in found), found


def test_a_split_and_a_merge_are_no_contradiction() -> None:
    assert not faults(
        linked(
            a_link("split", SUP, "hob:W100", "hob:W101"),
            a_link("split", SUP, "hob:W100", "hob:W102"),
            a_link("merge", SUP, "hob:W110", "hob:W130"),
            a_link("merge", SUP, "hob:W120", "hob:W130"),
        )
    )


def test_two_changes_that_never_hold_together_are_neither_a_contradiction_nor_a_circle() -> None:
    assert not faults(
        linked(
            a_link("a", SUP, "hob:W100", "hob:W101", variants=("mark-1",)),
            a_link("b", SUP, "hob:W100", "hob:W102", variants=("mark-2",)),
            a_link("c", SUP, "hob:W102", "hob:W100", variants=("mark-1",)),
            a_link("d", SUP, "hob:W200", "hob:W202", last=600),
            a_link("e", SUP, "hob:W202", "hob:W200", first=601),
            a_link("f", SUP, "hob:W301", "hob:W302", with_grade="-010"),
            a_link("g", SUP, "hob:W301", "hob:W304", with_grade="-020"),
            a_link("h", SUP, "hob:W310", "hob:W210", until=date(1969, 12, 31)),
            a_link("i", SUP, "hob:W310", "hob:W320", since=_DAY),
        )
    )


def test_a_set_of_an_unknown_part_and_a_set_within_itself_are_caught() -> None:
    family = tiny_family()
    item = family.set_items[0]
    odd = (replace(item, part=number("hob:W310X")), SetItem(item.part, item.set, 1))
    found = faults(replace(family, set_items=(*family.set_items, *odd)))
    assert any("there is no part 'hob:W310X'; did you mean 'hob:W310'?" in f for f in found)
    assert any("the set hob:W900 is within itself" in f for f in found)


def test_gaps_are_warned_of_and_stop_nothing() -> None:
    family = tiny_family()
    more = replace(
        family,
        positions=(*family.positions, a_position("cap", "top-end", "cap")),
        parts=(*family.parts, a_part("hob:W777", "cap")),
        fits=tuple(fit for fit in family.fits if fit.grade != "-020"),
        links=(*family.links, a_link("g", SUP, "hob:W310", "hob:W320")),
    )
    assert warnings(more) == [
        "grades crankpin/-020: no part for shells is of this grade; add a row to fits.csv, or "
        "take the grade out",
        "positions cap: no part fits cap; add a row to fits.csv",
        "parts hob:W120, column part: hob:W120 fits nothing, and no link or set has it; add a row "
        "to fits.csv",
        "parts hob:W777, column part: hob:W777 fits nothing, and no link or set has it; add a row "
        "to fits.csv",
        "sets 0, column part: the set hob:W900 holds hob:W310, which hob:W320 supersedes; does the "
        "set hold the new number by now?",
    ]


def test_a_housing_goes_with_a_journal_and_shims_with_a_float() -> None:
    eye = a_feature("eye", "rod", "bore", ("1.6250", "1.6255"), goes_with="crankpin-diameter")
    shims = a_feature("shims", "rod", "thickness", goes_with="pump-float")
    family = tiny_family()
    sound = replace(family, features=(*family.features, eye, shims))
    assert faults(sound) == []


def test_a_guide_goes_with_its_stem_and_a_new_stem_in_hand_with_the_guide() -> None:
    assert faults(with_a_guide()) == []


@pytest.mark.parametrize(
    ("stem", "play", "says"),
    [
        (("", "0.3105"), ("0.0015", "0.0025"), "nothing tells the clearance of stem in it"),
        (("0.3100", "0.3105"), ("0.0015", "0.0030"), "hole less stem comes to 0.0015 in to 0.0025"),
        (("0.3100", "0.3130"), ("0.0015", "0.0025"), "stem has no size table, and at -0.0010 in"),
    ],
)
def test_a_guide_whose_clearance_does_not_close_is_a_fault(
    stem: tuple[str, str], play: tuple[str, str], says: str
) -> None:
    assert says in " ".join(faults(with_a_guide(stem, play)))


def with_a_guide(
    stem: tuple[str, str] = ("0.3100", "0.3105"), play: tuple[str, str] = ("0.0015", "0.0025")
) -> Family:
    family = tiny_family()
    return replace(
        family,
        features=(
            *family.features,
            a_feature("stem", "crank", "diameter", stem),
            a_feature("new-stem", "crank", "diameter", goes_with="hole"),
            a_feature("hole", "rod", "bore", ("0.3120", "0.3125"), goes_with="stem"),
            a_feature("play", "rod", "clearance", play),
        ),
    )


@pytest.mark.parametrize(
    ("goes_with", "kind", "says"),
    [
        ("crankpn-diameter", "bore", "crankpn-diameter"),
        ("pump-float", "bore", "a bore goes with a diameter"),
        ("crankpin-diameter", "height", "a height serves no other figure's sum"),
        ("nose", "bore", "nose has no size table"),
    ],
)
def test_a_figure_that_goes_with_the_wrong_thing_is_named(
    goes_with: str, kind: str, says: str
) -> None:
    family = tiny_family()
    nose = a_feature("nose", "crank", "diameter", ("0.9990", "1.0000"))
    lost = a_feature("lost", "rod", kind, ("1.6250", "1.6255"), goes_with=goes_with)
    found = faults(replace(family, features=(*family.features, nose, lost)))
    assert any("goes_with" in each and says in each for each in found)


@pytest.mark.parametrize(
    ("variants", "first", "last", "said"),
    [
        (("mark-1",), 600, None, "no engine of mark-1 has a running number from 600 to the last"),
        (("mark-2",), None, 499, "no engine of mark-2 has a running number from the first to 499"),
        ((), 1000, 1200, "no engine has a running number from 1000 to 1200"),
    ],
)
def test_a_link_or_a_fit_for_engines_that_were_never_made_is_caught(
    variants: tuple[str, ...], first: int | None, last: int | None, said: str
) -> None:
    link = a_link("r1", SUP, "hob:W200", "hob:W202", variants=variants, first=first, last=last)
    assert [said in fault for fault in faults(linked(link))] == [True]
    family = tiny_family()
    fit = replace(a_fit("oil-pump", "hob:W202"), variants=variants, first=first, last=last)
    told = faults(replace(family, fits=(*family.fits, fit)))
    assert [f"{said}, so this never holds" in fault for fault in told] == [True]


def test_a_running_number_that_one_of_the_variants_has_is_right() -> None:
    for variants, first, last in ((("mark-1", "mark-2"), 600, None), ((), 499, 499), ((), 1, 100)):
        link = a_link("r1", SUP, "hob:W200", "hob:W202", variants=variants, first=first, last=last)
        assert faults(linked(link)) == []
