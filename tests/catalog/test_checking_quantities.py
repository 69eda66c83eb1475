"""Links that contradict each other on how many are found, with both chains and their rows."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.catalog.check import check_family
from kitting.catalog.check_notes import CheckReport, Notes
from kitting.catalog.check_quantities import check_quantities
from kitting.catalog.model import Link, LinkKind, PartNumber
from kitting.catalog.resolver import resolve
from kitting.catalog.ways import Need, Subgraph
from tests.builders import A_DAY, a_link
from tests.wren import tiny_family

FAMILY = tiny_family()
SUP, EITHER, ONE_WAY = LinkKind.SUPERSEDED, LinkKind.EITHER_WAY, LinkKind.ONE_WAY
RIGHT = "one of these quantities is wrong; else give each row its engines, grade or days"


def checked(links: Iterable[Link]) -> CheckReport:
    notes = Notes({})
    check_quantities(replace(FAMILY, links=tuple(links)), notes)
    return notes.report()


def test_two_rows_of_one_pair_with_other_quantities_are_a_fault_that_names_both() -> None:
    rows = (
        a_link("r1", EITHER, "hob:A", "hob:B", new_quantity=2),
        a_link("r2", EITHER, "hob:B", "hob:A", old_quantity=3),
    )
    report = checked(rows)
    assert [str(each) for each in report.faults] == [
        "links 1, column new_quantity: for 1 × hob:A it takes 2 × hob:B by hob:A → hob:B (links "
        f"0), and 3 × hob:B by hob:A → hob:B (links 1); {RIGHT}"
    ]
    assert report.warnings == ()


def check_whole(rows: tuple[Link, ...]) -> CheckReport:
    return check_family(replace(FAMILY, links=(*FAMILY.links, *rows)), {})


def test_the_whole_check_of_a_family_looks_at_quantities() -> None:
    assert check_whole(()) == CheckReport((), ())
    rows = (
        a_link("r1", ONE_WAY, "hob:W130", "hob:W131"),
        a_link("r2", ONE_WAY, "hob:W130", "hob:W131", new_quantity=2),
    )
    (fault,) = check_whole(rows).faults
    assert "for 1 × hob:W130 it takes 1 × hob:W131" in fault.wrong


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ((a_link("r1", SUP, "hob:A", "hob:B", new_quantity=2),
          a_link("r2", ONE_WAY, "hob:B", "hob:C", old_quantity=4),
          a_link("r3", ONE_WAY, "hob:A", "hob:C")),
         "for 2 × hob:A it takes 2 × hob:C by hob:A → hob:C (links 2), and 1 × hob:C by "
         "hob:A → hob:B → hob:C (links 0, links 1)"),
        ((a_link("r1", ONE_WAY, "hob:A", "hob:B", new_quantity=2),
          a_link("r2", ONE_WAY, "hob:B", "hob:A")),
         "for 1 × hob:A it takes 1 × hob:A itself, and 2 × hob:A by hob:A → hob:B → hob:A "
         "(links 0, links 1)"),
        ((a_link("r1", EITHER, "hob:A", "hob:B"),
          a_link("r2", LinkKind.WITH_WORK, "hob:A", "hob:B", new_quantity=2, operation="bore")),
         "for 1 × hob:A it takes 1 × hob:B by hob:A → hob:B (links 0), and 2 × hob:B by "
         "hob:A → hob:B (links 1)"),
    ],
)  # fmt: skip
def test_longer_chains_and_work_that_disagree_are_warned_of(
    rows: tuple[Link, ...], said: str
) -> None:
    report = checked(rows)
    assert report.faults == ()
    assert [(each.wrong, each.right) for each in report.warnings] == [(said, RIGHT)]


@pytest.mark.parametrize(
    "rows",
    [
        (a_link("r1", EITHER, "hob:A", "hob:B", new_quantity=2),
         a_link("r2", EITHER, "hob:B", "hob:A", old_quantity=4, new_quantity=2)),
        (a_link("r1", EITHER, "hob:A", "hob:B", variants=("mark-1",)),
         a_link("r2", EITHER, "hob:A", "hob:B", new_quantity=2, variants=("mark-2",))),
        (a_link("r1", EITHER, "hob:A", "hob:B", until=date(1970, 1, 1)),
         a_link("r2", EITHER, "hob:A", "hob:B", new_quantity=2, since=date(1970, 1, 2))),
        (a_link("r1", ONE_WAY, "hob:A", "hob:C"),
         a_link("r2", ONE_WAY, "hob:B", "hob:C", new_quantity=2),
         a_link("r3", ONE_WAY, "hob:A", "hob:D"),
         a_link("r4", ONE_WAY, "hob:B", "hob:D")),
        (a_link("split", SUP, "hob:A", "hob:B", new_quantity=2),
         a_link("split", SUP, "hob:A", "hob:C"),
         a_link("whole", EITHER, "hob:B", "hob:C")),
    ],
)  # fmt: skip
def test_rows_that_agree_or_never_meet_are_no_contradiction(rows: tuple[Link, ...]) -> None:
    assert checked(rows) == CheckReport((), ())


_NUMBERS = [PartNumber("hob", f"N{at}") for at in range(5)]
_DAYS = [A_DAY + timedelta(days=at) for at in range(4)]


@st.composite
def some_links(draw: st.DrawFn) -> list[Link]:
    """Links without splits and circles of supersessions: those go no chain, or are faults."""
    found: list[Link] = []
    for at in range(draw(st.integers(2, 6))):
        one, other = draw(st.lists(st.sampled_from(range(5)), min_size=2, max_size=2, unique=True))
        kind = draw(st.sampled_from((SUP, EITHER, ONE_WAY, LinkKind.FULL_SET)))
        if kind is SUP:
            one, other = sorted((one, other))
            if any(each.kind is SUP and each.old == _NUMBERS[one] for each in found):
                continue
        found.append(
            Link(
                record=f"r{at}",
                kind=kind,
                old=_NUMBERS[one],
                old_quantity=draw(st.integers(1, 2)),
                new=_NUMBERS[other],
                new_quantity=draw(st.integers(1, 2)),
                variants=draw(st.sampled_from(((), (), ("mark-1",), ("mark-2",)))),
                first=draw(st.none() | st.sampled_from((200, 600))),
                last=draw(st.none() | st.sampled_from((650, 900))),
                with_grade=draw(st.sampled_from(("", "", "-010"))),
                since=draw(st.none() | st.sampled_from(_DAYS)),
                until=None,
            )
        )
    return found


@settings(max_examples=40, deadline=None)
@given(some_links())
def test_the_check_finds_a_contradiction_just_where_the_resolver_meets_one(
    links: list[Link],
) -> None:
    runs = {"mark-1": (100, 300), "mark-2": (500, 620, 700, 950)}
    engines = [(variant, running) for variant, some in runs.items() for running in some]
    days = [date.min, *_DAYS]
    graph = Subgraph(tuple(links))
    asked = product(_NUMBERS, engines, ("", "-010"), days)
    met = any(
        resolve(Need(part, 1, "", *engine, grade, whole=True), graph, day).problems
        for part, engine, grade, day in asked
    )
    report = checked(links)
    assert bool(report.faults or report.warnings) is met
