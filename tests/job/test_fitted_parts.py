"""Fitted parts against the parts list, by the attributes that the bench measured."""

from dataclasses import replace

import pytest

from kitting.job.bench_words import hear_attributes
from kitting.job.fitted import differences
from tests.builders import a_fit, a_part, a_position
from tests.wren import tiny_family


def told(fitted: dict[str, str], *right: dict[str, str]) -> str:
    parts = [a_part(f"hob:W{at}", "part", attributes) for at, attributes in enumerate(right)]
    return "; ".join(differences(fitted, parts))


@pytest.mark.parametrize(
    ("fitted", "right"),
    [
        ({"thread": "1/2x20 Cycle"}, {"thread": "1/2 x 20 cycle"}),
        ({"thread": "½-20 UNF"}, {"thread": "1/2 x 20 UNF"}),
        ({"thread": "M10x1.25"}, {"thread": "M10 x 1.25"}),
        ({"thread": "7/8 x 20"}, {"thread": "7/8 x 20 cycle"}),
        ({"thread": "7/8 x 20 cycle left hand"}, {"thread": "7/8 x 20 cycle", "hand": "left"}),
        ({"thread": "7/8 x 20 cycle"}, {"thread": "7/8 x 20 cycle", "hand": "left"}),
        ({"size": "30x47x7"}, {"size": "30 x 47 x 7 mm"}),
        ({"designation": "6308C3"}, {"designation": "6308 C3"}),
        ({"designation": "NU306", "clearance": "C3"}, {"designation": "NU 306", "clearance": "C3"}),
        ({"height": "6.35 mm"}, {"height": "0.250 in"}),
        ({"lining": "White  Metal"}, {"lining": "white metal"}),
        ({"outside": ".5020 in"}, {"outside": "0.50225 in", "within": "0.00025 in"}),
        ({"outside": ".5025"}, {"outside": "0.50225 in", "within": "0.00025 in"}),
    ],
)
def test_the_same_part_by_another_spelling_is_the_same(
    fitted: dict[str, str], right: dict[str, str]
) -> None:
    assert told(fitted, right) == ""


@pytest.mark.parametrize(
    ("fitted", "right", "says"),
    [
        ({"thread": "1/4 x 26 BSF"}, {"thread": "1/4 x 26 cycle"}, "form angle: 55°"),
        ({"thread": "1/2-20 UNF"}, {"thread": "1/2 x 20 cycle"}, "depth of thread"),
        (
            {"thread": "3/8 x 24 UNF"},
            {"thread": "3/8 x 26 cycle"},
            "24 threads per inch against 26",
        ),
        (
            {"thread": "7/8 x 20 cycle left hand"},
            {"thread": "7/8 x 20 cycle", "hand": "right"},
            "hand: left hand against right hand",
        ),
        ({"size": "30x47x8"}, {"size": "30 x 47 x 7 mm"}, "width larger by 1.000 mm"),
        ({"designation": "6308"}, {"designation": "6308 C3"}, "internal clearance: CN against C3"),
        ({"designation": "N 306"}, {"designation": "NU 306"}, "ribs: N against NU"),
        ({"designation": "6207"}, {"designation": "6206"}, "bore larger by 5.000 mm"),
        ({"height": "0.375 in"}, {"height": "0.250 in"}, "height 0.375 in where 0.250 in belongs"),
        (
            {"outside": ".5026 in"},
            {"outside": "0.50225 in", "within": "0.00025 in"},
            "outside .5026 in where 0.50225 in belongs",
        ),
        (
            {"outside": "3 lbf"},
            {"outside": "0.50225 in", "within": "0.00025 in"},
            "outside 3 lbf where 0.50225 in belongs",
        ),
        (
            {"bore": ".3125 in"},
            {"bore": "0.3123 in", "outside": "0.50225 in", "within": "0.00025 in"},
            "bore .3125 in where 0.3123 in belongs",
        ),
    ],
)
def test_another_part_is_told_by_what_differs(
    fitted: dict[str, str], right: dict[str, str], says: str
) -> None:
    assert says in told(fitted, right)


def test_a_part_that_agrees_with_one_of_two_right_ones_is_right() -> None:
    right = {"thread": "3/8 x 26 cycle"}, {"thread": "3/8 x 24 UNF"}
    assert told({"thread": "3/8-24 UNF"}, *right) == ""
    assert "3/8 x 24 UNF or 3/8 x 26 cycle belongs" in told({"thread": "3/8-16 UNC"}, *right)


def test_what_the_parts_list_does_not_state_is_not_judged() -> None:
    assert told({"colour": "green"}, {"thread": "3/8 x 26 cycle"}) == ""


def test_a_seal_may_be_written_as_one_size_at_the_bench() -> None:
    family = tiny_family()
    seal = a_part("hob:W500", "seal", {"shaft": "30 mm", "housing": "47 mm", "width": "7 mm"})
    position = a_position("seal", "bottom-end", "seal")
    family = replace(
        family,
        positions=(*family.positions, position),
        parts=(*family.parts, seal),
        fits=(*family.fits, a_fit("seal", "hob:W500")),
    )
    heard = hear_attributes("size=30x47x7", position, family)
    assert differences(heard, [seal]) == ()
    assert differences(hear_attributes("size=30x47x8", position, family), [seal]) != ()
