"""A real attribute catalogue to search: the data package bd-warehouse 0.4.0 (bearings by one
maker's list to ISO 15, nuts to ISO 4032 and 4035, O-rings to ISO 3601-1), as parts."""

import csv
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from importlib.resources import files

import pytest

from kitting.catalog.attributes import same_size
from kitting.catalog.comparing import compare_parts
from kitting.catalog.find import Finder
from kitting.catalog.model import Part, PartNumber
from tests.catalog.in_memory import FamilyCandidates
from tests.wren import tiny_family

_BEARINGS = {
    "deep_groove_ball": "ball bearing",
    "capped_deep_groove_ball": "shielded ball bearing",
    "angular_contact_ball": "angular contact bearing",
    "cylindrical_roller": "roller bearing",
    "tapered_roller": "taper roller bearing",
}
# The package gives the old DIN 439 sizes across flats for these thin nuts.
_OLD_FLATS = {"M10-1.5", "M12-1.75", "M14-2"}


def rows_of(name: str) -> list[dict[str, str]]:
    text = (files("bd_warehouse") / "data" / name).read_text("utf-8")
    return list(csv.DictReader(text.splitlines()))


def part(number: str, name: str, kind: str, **attributes: str) -> Part:
    said = {key.replace("_", " "): value for key, value in attributes.items()}
    return Part(PartNumber("std", number), name, kind, said)


def bearings() -> Iterator[Part]:
    for file, kind in _BEARINGS.items():
        for row in rows_of(f"single_row_{file}_bearing_parameters.csv"):
            designation = row["SKT:Designation"].replace("*", "").replace("E2.", "").strip()
            if designation and designation != "–":
                bore, outside, width = (f"{row[f'SKT:{side}']} mm" for side in "dDB")
                yield part(
                    designation,
                    f"{kind.capitalize()} {designation}",
                    kind,
                    designation=designation,
                    bore=bore,
                    outside=outside,
                    width=width,
                )


def nuts() -> Iterator[Part]:
    for row in rows_of("hex_nut_parameters.csv"):
        size, pitch = row["Size"].split("-")
        for standard, words in (("4032", "Nut"), ("4033", "High nut"), ("4035", "Thin nut")):
            height, flats = row[f"iso{standard}:m"], row[f"iso{standard}:s"]
            if height and not (standard == "4035" and row["Size"] in _OLD_FLATS):
                yield part(
                    f"{standard}-{row['Size']}",
                    f"{words} {size}",
                    "nut",
                    thread=f"{size} x {pitch}",
                    height=f"{height} mm",
                    flats=f"{flats} mm",
                )


def o_rings() -> Iterator[Part]:
    for row in rows_of("o-ring_parameters.csv"):
        yield part(
            f"R-{row['Size']}",
            f"O-ring {row['Size']}",
            "o-ring",
            inside=f"{row['iso3601:id']} mm",
            section=f"{row['iso3601:w']} mm",
        )


@cache
def standard_parts() -> dict[str, Part]:
    every = {each.number.number: each for each in (*bearings(), *nuts(), *o_rings())}
    assert len(every) > 470
    return every


@cache
def finder() -> Finder:
    family = replace(tiny_family(), parts=tuple(standard_parts().values()), fits=())
    return Finder(FamilyCandidates([family]))


def found(query: str) -> set[str]:
    return {match.part.number.number for match in finder().find(query, most=500).matches}


def all_with(kind: str, **figures: str) -> set[str]:
    """The same asked of the table itself, row by row."""
    return {
        number
        for number, each in standard_parts().items()
        if each.kind == kind
        and all(each.attributes[name] == f"{figure} mm" for name, figure in figures.items())
    }


@pytest.mark.parametrize(
    ("query", "expected"),
    [
        ("bearing 25x52x15", {"NU 205 ECP", "30205 J2/Q"}),
        ("roller-bearing 25 x 52 x 15", {"NU 205 ECP", "30205 J2/Q"}),
        ("taper bearing 25x52x15", {"30205 J2/Q"}),
        ("bearing 17 x 40 x 12", {"NJ 203 ECP", "7203 BECBM", "30203 J2"}),
        ("ball bearing 10x30x9", {"6200"}),
        ("bearing bore=25 outside=52", set()),
        ("bearing bore=25; outside=52", {"NU 205 ECP", "30205 J2/Q", "32205 BJ2/Q", "33205/Q"}),
        ("nut M8 height<=4", {"4035-M8-1.25"}),
        ("nut M8 height<=6.8", {"4032-M8-1.25", "4035-M8-1.25"}),
        ("nut M8 height>=7", {"4033-M8-1.25"}),
        ("thin nut M20", {"4035-M20-2.5"}),
        ("o-ring 24.99x3.53", {"R-214"}),
        ("o-ring 25.07 x 2.62", {"R-120"}),
        ("o-ring inside=31.34 mm", {"R-218"}),
        ("o-ring id 24.9..25.1", {"R-120", "R-214"}),
    ],
)
def test_a_size_typed_as_the_trade_says_it_finds_the_standard_part(
    query: str, expected: set[str]
) -> None:
    assert found(query) == expected


def test_every_bearing_is_found_by_its_three_sizes_and_nothing_of_other_sizes_with_it() -> None:
    for each in bearings():
        bore, outside, width = (each.attributes[k][:-3] for k in ("bore", "outside", "width"))
        same = found(f"{each.kind} {bore}x{outside}x{width}")
        assert each.number.number in same
        for number in same:
            other = standard_parts()[number].attributes
            sizes = sorted(other[k][:-3] for k in ("bore", "outside", "width"))
            assert sizes == sorted((bore, outside, width)), number


def test_every_o_ring_is_found_by_inside_and_section_alone() -> None:
    for each in list(o_rings())[::7]:
        inside, section = (each.attributes[name][:-3] for name in ("inside", "section"))
        assert found(f"o-ring {inside}x{section}") == all_with(
            "o-ring", inside=inside, section=section
        )


def test_a_number_in_any_spelling_finds_its_bearing() -> None:
    assert found("nu205ecp") == {"NU 205 ECP"}
    assert found("4035 m8 1.25") == {"4035-M8-1.25"}


def test_a_thin_nut_and_a_full_one_of_a_thread_differ_in_height_alone() -> None:
    parts = standard_parts()
    compared = compare_parts(parts["4032-M8-1.25"], parts["4035-M8-1.25"])
    assert [(line.name, line.means) for line in compared.differs] == [
        ("height", ("the second: smaller by 2.800 mm",))
    ]


def test_a_ring_of_one_size_in_another_kind_of_bearing_is_not_offered_as_the_same() -> None:
    parts = standard_parts()
    others = same_size(parts["NU 205 ECP"], parts.values())
    assert others == ()
    said = compare_parts(parts["NU 205 ECP"], parts["30205 J2/Q"])
    assert [line.name for line in said.differs] == ["designation"]
    assert not said.same_size
