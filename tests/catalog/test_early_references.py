"""References to nothing come with the cells that cannot be taken, where these leave no doubt."""

from collections.abc import Callable
from pathlib import Path

import pytest

from kitting.catalog.check import check_family
from kitting.catalog.files import read_family, read_family_with_sources
from kitting.errors import BadInput

Change = Callable[[Path, str, str], Path]
QUANTITY = ("positions", "barrel nuts,nut,4", "barrel nuts,nut,four")
PART_KEY = ("parts", "hob:W131,rod W131", "W131,rod W131")
NUMBERS = ("variants", "WS,100,499", "WS,hundred,499")
ASTRAY = {
    "position": ("fits", "oil-pump,hob:W200", "oil-pmp,hob:W200"),
    "part": ("fits", "crank,hob:W130", "crank,hob:W13O"),
    "engine": ("fits", "rod-bolts,hob:W140,,,", "rod-bolts,hob:W140,,5000,"),
}


def problems_of(folder: Path) -> list[str]:
    with pytest.raises(BadInput) as caught:
        read_family(folder)
    return [str(problem) for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("cell", "told"),
    [
        (QUANTITY, {"position", "part", "engine"}),
        (PART_KEY, {"position", "engine"}),
        (NUMBERS, {"position", "part"}),
    ],
)
def test_what_is_named_and_is_not_there_is_told_where_no_bad_cell_leaves_it_in_doubt(
    wren_folder: Path, changed: Change, cell: tuple[str, str, str], told: set[str]
) -> None:
    expected = set()
    for what, (file, old, new) in ASTRAY.items():
        changed(wren_folder / f"{file}.csv", old, new)
        family, sources = read_family_with_sources(wren_folder)
        faults = {str(fault) for fault in check_family(family, sources).faults}
        expected |= faults if what in told else set()
        changed(wren_folder / f"{file}.csv", new, old)
    assert expected
    for file, old, new in (cell, *ASTRAY.values()):
        changed(wren_folder / f"{file}.csv", old, new)
    first, *rest = problems_of(wren_folder)
    assert first.startswith(f"{cell[0]}.csv line ")
    assert set(rest) <= expected
    assert len(rest) == len(told)


def test_a_row_with_a_bad_cell_and_a_sheet_with_a_bad_heading_are_not_looked_into(
    wren_folder: Path, changed: Change
) -> None:
    file, old, new = ASTRAY["position"]
    changed(wren_folder / f"{file}.csv", f"{old},,,,,,", f"{new},,,,,some,")
    assert len(problems_of(wren_folder)) == 1
    changed(wren_folder / "positions.csv", "must_look", "must_lok")
    assert not any("there is no position" in told for told in problems_of(wren_folder))
