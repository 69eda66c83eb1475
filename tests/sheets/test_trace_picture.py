"""The picture of a trace: all of its words, as text, none upon another, and no colour needed."""

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from lxml import etree

from kitting.catalog.family import Family
from kitting.catalog.model import Link, LinkKind
from kitting.catalog.trace import Trace, trace
from kitting.catalog.ways import Need, Subgraph
from kitting.errors import BadInput
from kitting.sheets.trace_layout import BOX_WIDTH, Box, lay_out
from kitting.sheets.trace_picture import picture, write_picture
from tests.builders import A_DAY, a_link, a_part, number
from tests.catalog.test_resolver_laws import links_of, needs
from tests.wren import tiny_family

SVG = "{http://www.w3.org/2000/svg}"


def family_with(*links: Link) -> Family:
    numbers = {str(end) for link in links for end in (link.old, link.new)}
    parts = tuple(a_part(each, "nut") for each in sorted(numbers))
    return replace(tiny_family(), links=links, parts=parts)


def traced(part: str, *links: Link) -> Trace:
    return trace(Need(number(part), 2, whole=True), Subgraph(links), A_DAY)


LINKS = (
    a_link("r1", LinkKind.SUPERSEDED, "hob:A", "hob:B"),
    a_link("r2", LinkKind.WITH_WORK, "hob:B", "hob:C", operation="line-ream", needs=("hob:D",)),
    a_link("r3", LinkKind.ONE_WAY, "hob:B", "hob:E", variants=("mark-1",)),
    a_link("r4", LinkKind.SUPERSEDED, "hob:Z", "hob:B", old_quantity=20),
)


def words(svg: str) -> list[str]:
    root = etree.fromstring(svg.encode())
    return ["".join(node.itertext()) for node in root.iter(f"{SVG}text")]


def test_every_number_what_it_is_worth_and_every_link_stand_as_text() -> None:
    said = words(picture(family_with(*LINKS), traced("hob:A", *LINKS)))
    assert {"hob:A", "hob:B", "hob:C", "hob:E", "hob:Z"} <= set(said)
    assert {"TODAY: buy 2", "WAY 2: buy 2", "ASKED FOR"} <= set(said)
    assert {"superseded", "with work", "line-ream", "one way", "only on mark-1"} <= set(said)
    assert {"DOES NOT HOLD HERE", "superseded, 20 → 1"} <= set(said)
    assert "Today's answer: 2 × hob:B" in said


def test_what_is_not_taken_says_why_in_its_box() -> None:
    said = " ".join(words(picture(family_with(*LINKS), traced("hob:A", *LINKS))))
    assert "Not taken: superseded by hob:B" in said
    assert "Not taken: only on mark-1" in said


def test_the_picture_is_of_one_ink_so_that_no_colour_tells_anything() -> None:
    svg = picture(family_with(*LINKS), traced("hob:A", *LINKS))
    assert set(re.findall(r"#[0-9a-f]{3,6}\b", svg)) == {"#1f2933", "#fff"}


def test_loops_and_contradictions_stand_under_the_picture_with_their_chain() -> None:
    loop = (
        a_link("r1", LinkKind.SUPERSEDED, "hob:A", "hob:B"),
        a_link("r2", LinkKind.SUPERSEDED, "hob:B", "hob:A"),
    )
    said = " ".join(words(picture(family_with(*loop), traced("hob:A", *loop))))
    assert "hob:A → hob:B → hob:A" in said
    assert "PART OF A CIRCLE" in said
    assert "Today's answer: nothing" in said


def test_a_name_with_marks_of_its_own_stays_text() -> None:
    family = replace(
        family_with(*LINKS), parts=(replace(a_part("hob:A", "nut"), name='<b> & "thin"'),)
    )
    said = words(picture(family, traced("hob:A", *LINKS)))
    assert '<b> & "thin"' in said


def overlap(one: Box, other: Box) -> bool:
    apart = abs(one.y - other.y) >= (one.height + other.height) / 2
    return not (apart or one.x + BOX_WIDTH <= other.x or other.x + BOX_WIDTH <= one.x)


@settings(max_examples=200, deadline=None)
@given(links_of(), needs)
def test_no_box_lies_upon_another_and_none_outside_the_picture(
    links: list[Link], need: Need
) -> None:
    found = trace(need, Subgraph(tuple(links)), A_DAY)
    texts = {
        row.at: (str(row.part), "nut\nNot taken: " + "why " * 9, "one way") for row in found.rows
    }
    boxes, bottom = lay_out(found, texts, 100, 24)
    for at, box in enumerate(boxes):
        top = box.y - box.height // 2
        assert top >= 100
        assert top + box.height <= bottom
        assert not any(overlap(box, other) for other in boxes[:at])


def chain_of(kind: LinkKind, count: int, *, ring: bool = False) -> tuple[Link, ...]:
    names = [f"hob:L{at}" for at in range(1, count + 1)]
    steps = pairwise((*names, names[0]) if ring else names)
    return tuple(a_link(f"l{at}", kind, old, new) for at, (old, new) in enumerate(steps))


@pytest.mark.parametrize("asked", ["hob:L1", "hob:L6", "hob:L9"])
@pytest.mark.parametrize("kind", [LinkKind.SUPERSEDED, LinkKind.ONE_WAY, LinkKind.EITHER_WAY])
@pytest.mark.parametrize("ring", [False, True])
def test_a_chain_of_nine_numbers_goes_upon_a_sheet_of_a4(
    asked: str, kind: LinkKind, ring: bool
) -> None:
    links = chain_of(kind, 9, ring=ring)
    root = etree.fromstring(picture(family_with(*links), traced(asked, *links)).encode())
    width, height = int(root.get("width", "")), int(root.get("height", ""))
    # Not more than a third smaller than drawn, so that 11 points stay above 7.
    assert width <= 794
    assert height <= 1.5 * 1123


def test_a_short_tree_still_runs_across_with_the_older_numbers_to_the_left() -> None:
    links = chain_of(LinkKind.SUPERSEDED, 3)
    said = " ".join(words(picture(family_with(*links), traced("hob:L1", *links))))
    assert "Older numbers stand to the left" in said


@settings(max_examples=60, deadline=None)
@given(links_of(), needs)
def test_any_tree_makes_a_picture_that_reads_as_xml(links: list[Link], need: Need) -> None:
    svg = picture(tiny_family(), trace(need, Subgraph(tuple(links)), A_DAY))
    assert str(need.part) in words(svg)


def test_a_picture_that_cannot_be_written_is_told_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file")
    with pytest.raises(BadInput, match="cannot be written"):
        write_picture(family_with(*LINKS), traced("hob:A", *LINKS), tmp_path / "taken" / "tree.svg")
