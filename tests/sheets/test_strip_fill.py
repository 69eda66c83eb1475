"""Filling a strip sheet from a list, as the demo does."""

from pathlib import Path

import pytest

from kitting.errors import BadInput
from kitting.sheets.strip.fill import Entry, fill_strip_sheet, read_entries
from tests.sheets.bench import blank_sheet, read

LIST = """\
# what Ann found
position,what,station,direction,text
cover,who,,,Ann Marsh

crank,crankpin-diameter,front,90,1.4930
shells,scoring,,,deep
rod,note,,,"bent, and blue"
"""


def test_a_list_fills_the_sheet(tmp_path: Path) -> None:
    (tmp_path / "bench.csv").write_text(LIST, encoding="utf-8")
    out = tmp_path / "filled.xlsx"
    fill_strip_sheet(blank_sheet(tmp_path), read_entries(tmp_path / "bench.csv"), out)
    found = {finding.position: finding for finding in read(out).findings}
    assert found["crank"].readings[0].direction == "90"
    assert found["shells"].seen[0].grade == "deep"
    assert found["rod"].note == "bent, and blue"
    assert {finding.who for finding in found.values()} == {"Ann Marsh"}


def test_an_entry_without_a_box_offers_near_ones(tmp_path: Path) -> None:
    wrong = Entry("crank", "crankpin-diametre", "front", "0", "1.4930")
    with pytest.raises(BadInput, match="did you mean crank crankpin-diameter front 0"):
        fill_strip_sheet(blank_sheet(tmp_path), [wrong], tmp_path / "filled.xlsx")
    assert not (tmp_path / "filled.xlsx").exists()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no heading row"),
        ("where,what\n", "begin with position,what,station,direction,text"),
        (LIST + "rod,note,,,bent, blue\n", "line 8: 6 cells where 5 belong"),
    ],
)
def test_a_list_that_is_none_is_refused_at_its_line(tmp_path: Path, text: str, said: str) -> None:
    (tmp_path / "bench.csv").write_text(text, encoding="utf-8")
    with pytest.raises(BadInput, match=said):
        read_entries(tmp_path / "bench.csv")
