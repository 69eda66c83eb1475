"""What a job would take of what lies free: every piece once, matched parts of one maker."""

from collections import Counter
from dataclasses import replace

from kitting.buying.drafting import Before
from kitting.buying.taking import Taking
from kitting.catalog.model import PartNumber, SetItem
from kitting.job.hand import Hand, InHand, Source
from kitting.job.kit import KitLine
from kitting.job.path import JobPath
from tests.builders import number
from tests.sheets.values import a_ready_job

NUT, BOX, SET = number("hob:N1"), number("hob:NBOX"), number("hob:W900")
OTHER = number("oth:N7")


def a_path(*lines: KitLine, matched: bool = False, hand: Hand | None = None) -> JobPath:
    """A job whose kit asks for these lines, in a family whose set holds two nuts."""
    path = a_ready_job()
    positions = tuple(
        replace(each, kind="nut", matched="pair" if matched else "")
        for each in path.family.positions
    )
    family = replace(path.family, positions=positions, set_items=(SetItem(SET, NUT, 2),))
    kit = replace(path.kit, lines=lines, possible=())
    return replace(path, family=family, kit=kit, hand=hand or Hand())


def a_line(key: str, position: str, quantity: int, **counts: int) -> KitLine:
    """A line that asks for nuts; a box or the other maker's nut serves as well."""
    known = a_ready_job().kit.lines[0]
    return replace(
        known, key=key, positions=(position,), part=NUT, named=NUT, quantity=quantity, hold=False,
        serves=frozenset({NUT, BOX, OTHER}), counts=((BOX, counts.get("boxes", quantity)),),
    )  # fmt: skip


FIRST, SECOND = a_line("1.01", "piston", 6, boxes=3), a_line("2.01", "rod", 4, boxes=2)


def taken(path: JobPath, lying: dict[PartNumber, int]) -> list[tuple[str, PartNumber, int, bool]]:
    taking = Taking(path, Before(), Before(), Counter(lying))
    return [(each.line.key, each.part, each.pieces, each.rest) for each in taking.takes()]


def test_a_piece_is_given_to_one_line_only() -> None:
    path = a_path(FIRST, SECOND)
    assert taken(path, {NUT: 8}) == [("1.01", NUT, 6, True), ("2.01", NUT, 2, False)]
    assert taken(path, {NUT: 1}) == [("1.01", NUT, 1, False)]


def test_no_more_of_its_own_is_taken_than_spares_a_box() -> None:
    path = a_path(FIRST, SECOND)
    assert taken(path, {NUT: 1, BOX: 5}) == [("1.01", BOX, 3, True), ("2.01", BOX, 2, True)]
    assert taken(path, {NUT: 3, BOX: 2}) == [
        ("1.01", NUT, 2, False), ("1.01", BOX, 2, True), ("2.01", NUT, 1, False),
    ]  # fmt: skip


def test_boxes_that_do_not_make_the_line_whole_are_left() -> None:
    assert taken(a_path(FIRST), {BOX: 2}) == []


def test_matched_lines_take_nothing_of_another_maker_than_is_asked_for_or_in_hand() -> None:
    assert taken(a_path(FIRST, SECOND), {OTHER: 10}) == [
        ("1.01", OTHER, 6, True), ("2.01", OTHER, 4, True),
    ]  # fmt: skip
    assert taken(a_path(FIRST, SECOND, matched=True), {OTHER: 10}) == []
    path = a_path(FIRST)
    here = Hand((InHand("rod", OTHER, 4, Source.BY_HAND, "Joan", path.day),))
    matched = a_path(FIRST, SECOND, matched=True, hand=here)
    assert taken(matched, {OTHER: 10, NUT: 10}) == [("1.01", OTHER, 6, True)]


def test_a_set_names_every_line_that_it_could_serve_and_how_many_to_open() -> None:
    lines = (a_line("1.01", "piston", 2), a_line("2.01", "rod", 2))

    def opened(sets: int, singly: int) -> list[tuple[PartNumber, int, list[str]]]:
        lying = Counter({SET: sets, NUT: singly})
        taking = Taking(a_path(*lines), Before(), Before(), lying)
        taking.takes()
        return [
            (each.number, each.sets, [line.key for line in each.lines])
            for each in taking.openings()
        ]

    assert opened(3, 0) == [(SET, 2, ["1.01", "2.01"])]
    assert opened(1, 0) == [(SET, 1, ["1.01"])]
    assert opened(3, 2) == [(SET, 1, ["2.01"])]
    assert opened(3, 4) == []


def test_a_matched_part_is_not_taken_out_of_another_makers_set() -> None:
    pair = (a_line("1.01", "piston", 2), a_line("2.01", "rod", 2))
    path = a_path(*pair, matched=True)
    foreign = number("oth:S9")
    family = replace(path.family, set_items=(SetItem(foreign, NUT, 2),))
    for each, lines in ((path, 1), (replace(path, family=family), 0)):
        taking = Taking(each, Before(), Before(), Counter({SET: 1, foreign: 1}))
        assert len(list(taking.openings())) == lines
