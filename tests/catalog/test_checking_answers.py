"""That something answers for every position is looked at engine by engine and grade by grade."""

from collections.abc import Iterable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.catalog.check import check_family
from kitting.catalog.conditions import holds_for
from kitting.catalog.family import Family
from kitting.catalog.model import Fit, Link, LinkKind
from tests.builders import a_fit, a_link, a_part
from tests.wren import tiny_family

SUP = LinkKind.SUPERSEDED
FAMILY = tiny_family()


def warnings(family: Family) -> list[str]:
    return [str(problem) for problem in check_family(family, {}).warnings]


def only_with(old: Fit, *instead: Fit) -> Family:
    """The family with other rows in place of one row of fits.csv."""
    others = tuple(fit for fit in FAMILY.fits if fit != old)
    assert len(others) == len(FAMILY.fits) - 1
    return replace(FAMILY, fits=(*others, *instead))


TWENTY = a_fit("shells", "hob:W120", "-020", 1)
FILTER = a_fit("sump-filter", "hob:W201")


def bounded(
    fit: Fit, variants: tuple[str, ...] = (), first: int | None = None, last: int | None = None
) -> Fit:
    return replace(fit, variants=variants, first=first, last=last)


def test_the_tiny_family_has_no_gap() -> None:
    assert warnings(FAMILY) == []


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ([bounded(TWENTY, ("mark-1",))], " on mark-2"),
        ([bounded(TWENTY, (), 450, 600)],
         " on mark-1, engines 100 to 449 and on mark-2, engines 601 to 999"),
        ([bounded(TWENTY, (), 450), bounded(TWENTY, ("mark-1",), None, 300)],
         " on mark-1, engines 301 to 449"),
        ([bounded(TWENTY, (), None, 99)], ""),
    ],
)  # fmt: skip
def test_a_grade_without_shells_on_some_engines_is_told_with_the_engines(
    rows: list[Fit], said: str
) -> None:
    advice = "add a row to fits.csv" + ("" if said else ", or take the grade out")
    told = f"grades crankpin/-020: no part for shells is of this grade{said}; {advice}"
    assert told in warnings(only_with(TWENTY, *rows))


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ([bounded(FILTER, ("mark-1",))], ["mark-2"]),
        ([bounded(FILTER, ("mark-2",), 600, 700)],
         ["mark-1", "mark-2, engines 500 to 599", "mark-2, engines 701 to 999"]),
        ([bounded(FILTER, (), None, 449), bounded(FILTER, (), 450)], []),
    ],
)  # fmt: skip
def test_engines_that_no_part_of_a_position_fits_are_told(rows: list[Fit], said: list[str]) -> None:
    told = [
        f"positions sump-filter: no part fits sump-filter on {engines}; add a row to fits.csv"
        for engines in said
    ]
    assert warnings(only_with(FILTER, *rows)) == told


def test_a_row_without_a_grade_does_not_hide_the_grades_that_no_row_names() -> None:
    told = warnings(only_with(TWENTY, a_fit("shells", "hob:W120", "", 1)))
    assert len(told) == 2
    assert "this part has no grade: it is taken at every one; say which grade it is for" in told[0]
    assert told[1] == (
        "grades crankpin/-020: no part for shells is of this grade; hob:W120, whose row has no "
        "grade, is taken for it; add a row to fits.csv, or take the grade out"
    )


def superseded_filter(*instead: Fit, link: Link) -> Family:
    family = only_with(FILTER, *instead)
    newer = a_part("hob:W207", "filter")
    return replace(family, parts=(*family.parts, newer), links=(*family.links, link))


NEWER = a_link("finer", SUP, "hob:W201", "hob:W207")
NEW_FILTER = a_fit("sump-filter", "hob:W207")


def test_a_part_whose_successor_fits_another_variant_only_leaves_a_gap_that_is_told() -> None:
    family = superseded_filter(FILTER, bounded(NEW_FILTER, ("mark-1",)), link=NEWER)
    assert warnings(family) == [
        "positions sump-filter: nothing answers for what fits sump-filter on mark-2: hob:W201: "
        "superseded by hob:W207; hob:W207: it does not fit this engine; give the number that is "
        "current a row in fits.csv, or bound the link to its engines"
    ]


@pytest.mark.parametrize(
    ("rows", "link"),
    [
        ([FILTER], NEWER),
        ([FILTER, bounded(NEW_FILTER, ("mark-1",))], replace(NEWER, variants=("mark-1",))),
        ([FILTER, bounded(NEW_FILTER, ("mark-1",))], replace(NEWER, use_up=True)),
        ([bounded(FILTER, (), None, 449), bounded(NEW_FILTER, (), 450)],
         replace(NEWER, first=450)),
        ([FILTER, bounded(a_fit("sump-filter", "hob:W200"), ("mark-2",)),
          bounded(NEW_FILTER, ("mark-1",))], NEWER),
    ],
)  # fmt: skip
def test_a_part_whose_successor_serves_wherever_it_must_is_no_gap(
    rows: list[Fit], link: Link
) -> None:
    assert warnings(superseded_filter(*rows, link=link)) == []


def test_two_linked_parts_neither_of_which_fits_anything_are_told_once() -> None:
    more = (a_part("hob:W801", "dowel"), a_part("hob:W800", "dowel"))
    link = a_link("dowel", SUP, "hob:W800", "hob:W801")
    family = replace(FAMILY, parts=(*FAMILY.parts, *more), links=(*FAMILY.links, link))
    assert warnings(family) == [
        "parts hob:W801, column part: hob:W801 fits nothing, nor does what links and sets join it "
        "with: hob:W800; add a row to fits.csv"
    ]
    served = replace(family, fits=(*family.fits, a_fit("sump-filter", "hob:W800")))
    assert warnings(served) == []


_BOUNDS = st.tuples(
    st.sampled_from([(), ("mark-1",), ("mark-2",)]),
    st.none() | st.integers(90, 1010),
    st.none() | st.integers(90, 1010),
)


@given(st.lists(_BOUNDS, min_size=1, max_size=4))
def test_the_engines_told_are_just_those_without_a_part(
    bounds: list[tuple[tuple[str, ...], int | None, int | None]],
) -> None:
    rows = [bounded(FILTER, *each) for each in bounds]
    without = {
        (variant.key, running)
        for variant in FAMILY.variants
        for running in range(variant.first, variant.last + 1)
        if not any(holds_for(row, variant.key, running) for row in rows)
    }
    assert set(_told(warnings(only_with(FILTER, *rows)))) == without


def _told(said: Iterable[str]) -> Iterable[tuple[str, int]]:
    """Every engine that the warnings name."""
    whole = {variant.key: (variant.first, variant.last) for variant in FAMILY.variants}
    for each in said:
        engines = each.partition("no part fits sump-filter on ")[2].partition(";")[0]
        if engines:
            variant, _, numbers = engines.partition(", engines ")
            first, last = map(int, numbers.split(" to ")) if numbers else whole[variant]
            yield from ((variant, at) for at in range(first, last + 1))
