"""Published size tables written as catalogue files: they load and close; printed slips are caught.

Sources, by the letter used below:
A  US Army TM 5-4320-302-14, pp. 6-149 and 6-181 (pump-set engine, mm)
B  TM 5-4320-300-14, pp. 6-83 and 6-103; TM 5-3895-346-14 (pump-set engine)
C  TM 55-1930-209-14&P-9-4, sections B.4 and H.8 (marine diesel)
E  TM 5-3805-262-34, pp. 4-23 and 4-24 (loader engine)
H  maker's universal service manual, 1953, D-41 to D-43 (light-truck engine)
N  TM 5-6115-465-34, Table 1-1 (generator set)
S  TM 5-3805-262-34, p. 3-485 (small compressor)
Slips: TM 5-4320-300-14 (inches beside millimetres), TM 9-2815-225-34&P (the full undersize added to
the wall), TM 5-3805-262-34 (ovality .005 where the twin has .0005).
"""

from pathlib import Path

import pytest

from kitting.catalog.check import check_family
from kitting.catalog.check_notes import CheckReport
from kitting.catalog.columns import FAMILY_FILES
from kitting.catalog.files import read_family_with_sources
from kitting.catalog.writing import write_family
from kitting.errors import BadInput
from tests.wren import tiny_family

TABLES = "pins,pins,shaft,{unit},yes,0.001 in,regrind,,,,,,,as printed"

PRINTED = {
    # metric; shells, lined bores and clearances at every grade
    "A": (
        "mm",
        """pins,std,std,0,0,59.971,59.990,,2.973,2.985,60.040,60.083,0.050,0.112,,
pins,first,1st,1,0.5,59.471,59.490,,3.223,3.235,59.540,59.583,0.050,0.112,,
pins,second,2nd,2,1.0,58.971,58.990,,3.473,3.485,59.040,59.083,0.050,0.112,,
pins,third,3rd,3,1.5,58.471,58.490,,3.723,3.735,58.540,58.583,0.050,0.112,,""",
    ),
    # the .002 shells take up slight wear and nothing is ground to them
    "B": (
        "in",
        """pins,std,std,0,0,2.499,2.500,,.1245,.1250,2.5015,2.5035,.0015,.0045,,
pins,-002,.002,1,.002,2.497,2.498,,.1255,.1260,,,,,std,.002
pins,-010,.010,2,.010,2.489,2.490,,.1295,.1300,,,,,,
pins,-020,.020,3,.020,2.479,2.480,,.1345,.1350,,,,,,
pins,-030,.030,4,.030,2.469,2.470,,.1395,.1400,,,,,,""",
    ),
    "C main": (
        "in",
        """pins,std,std,0,0,2.9984,2.9992,,,,,,,,,
pins,-010,.010,1,.010,2.9884,2.9892,,,,,,,,,
pins,-020,.020,2,.020,2.9784,2.9792,,,,,,,,,
pins,-030,.030,3,.030,2.9684,2.9692,,,,,,,,,""",
    ),
    "C pin": (
        "in",
        """pins,std,std,0,0,2.4988,2.4996,,,,,,,,,
pins,-010,.010,1,.010,2.4888,2.4896,,,,,,,,,
pins,-020,.020,2,.020,2.4788,2.4796,,,,,,,,,
pins,-030,.030,3,.030,2.4688,2.4696,,,,,,,,,""",
    ),
    # standard worked back from the .010 row; below 2.748 the .002 shells
    "E": (
        "in",
        """pins,std,std,0,0,2.748,2.749,2.746,,,,,,,,
pins,-002,.002,1,.002,,,,,,,,,,std,.002
pins,-010,.010,2,.010,2.738,2.739,,,,,,,,,
pins,-020,.020,3,.020,2.728,2.729,,,,,,,,,
pins,-030,.030,4,.030,2.718,2.719,,,,,,,,,""",
    ),
    # .001 and .002 for worn standard pins, .012 for worn .010 pins; grades by the step
    "H": (
        "in",
        """pins,std,std,0,0,1.9375,1.9383,,,,,,,,,
pins,-001,.001,1,.001,,,,,,,,,,std,.001
pins,-002,.002,2,.002,,,,,,,,,,std,.002
pins,-010,.010,3,.010,1.9275,1.9283,,,,,,,,,
pins,-012,.012,4,.012,,,,,,,,,,-010,.002
pins,-020,.020,5,.020,1.9175,1.9183,,,,,,,,,
pins,-030,.030,6,.030,1.9075,1.9083,,,,,,,,,""",
    ),
    # one grade; worn by .0030
    "N main": ("in", "pins,std,std,0,0,2.8734,2.8744,2.8704,,,,,.0009,.0034,,"),
    "N rod": ("in", "pins,std,std,0,0,2.3730,2.3740,2.3710,,,,,.0010,.0030,,"),
    "S": (
        "in",
        """pins,std,std,0,0,1.1230,1.1235,,,,,,,,,
pins,-010,.010,1,.010,1.1130,1.1135,,,,,,,,,
pins,-020,.020,2,.020,1.1030,1.1035,,,,,,,,,
pins,-030,.030,3,.030,1.0930,1.0935,,,,,,,,,""",
    ),
}


def as_files(folder: Path, unit: str, grades: str, features: str = "") -> Path:
    """The Wren's files with its size tables replaced by a printed one, and nothing sized by it."""
    family = folder / "printed"
    write_family(tiny_family(), family)
    texts = {
        "size_tables": TABLES.format(unit=unit),
        "grades": grades,
        "features": features,
        "positions": "crank,bottom-end,1,crank,crank,1,,,,,,",
        "observations": "",
        "judgements": "",
        "consequences": "",
        "fits": "crank,hob:W130,,,,,,",
        "labour": "",
    }
    for file, text in texts.items():
        heading = ",".join(FAMILY_FILES[file])
        (family / f"{file}.csv").write_text(f"{heading}\n{text}\n", encoding="utf-8")
    return family


def checked(folder: Path) -> CheckReport:
    return check_family(*read_family_with_sources(folder))


@pytest.mark.parametrize("letter", PRINTED)
def test_a_published_table_loads_as_catalogue_rows_and_closes(letter: str, tmp_path: Path) -> None:
    report = checked(as_files(tmp_path, *PRINTED[letter]))
    assert report.faults == ()
    assert not [w for w in report.warnings if "grades" in w.place or "size_tables" in w.place]


def test_generator_set_limits_load_as_features(tmp_path: Path) -> None:
    """N: limits when new and limits of use, by the wear that the table allows."""
    features = """\
bush,crank,small-end bush,bore,in,1.2503,1.2508,,1.2523,,,,,,bore gauge,renew,,,,,,,N,
barrel,crank,bore,bore,in,3.7490,3.7510,,3.7560,,,,,,bore gauge,renew,,,,,,,N,
thrust,crank,thrust,end float,in,.0050,.0100,,.0150,,,,,,feeler,renew,,,,,,,N,
main,crank,main clearance,clearance,in,.0009,.0034,,.0070,,,,,,gauging strip,renew,,,,,,,N,
rod,crank,rod clearance,clearance,in,.0010,.0030,,.0050,,,,,,gauging strip,renew,,,,,,,N,
pin,crank,main journal,diameter,in,,,,,.0020,.0015,pins,a | b,0 | 90,micrometer,recheck,,,,,,,N,"""
    assert checked(as_files(tmp_path, *PRINTED["N main"], features)).faults == ()


@pytest.mark.parametrize("letter", ["A", "B"])
def test_the_full_undersize_added_to_the_wall_is_caught(letter: str, tmp_path: Path) -> None:
    unit, grades = PRINTED[letter]
    slipped = grades.replace("3.223,3.235", "3.473,3.485").replace(".1295,.1300", ".1345,.1350")
    report = checked(as_files(tmp_path, unit, slipped))
    assert any("the full step, there being a wall on either side" in f.wrong for f in report.faults)


@pytest.mark.parametrize(
    ("letter", "row", "slip"),
    [
        ("A", "59.471,59.490", "59.741,59.490"),
        ("A", "59.540,59.583", "59.540,59.538"),
        ("A", "0.050,0.112,,\npins,second", "0.050,0.121,,\npins,second"),
        ("C pin", "2.4788,2.4796", "2.4888,2.4896"),
        ("C main", "2.9784,2.9792", "2.9748,2.9756"),
        ("S", "1.1030,1.1035", "1.1035,1.1030"),
        ("H", "-012,.012,4,.012,,,,,,,,,,-010", "-012,.012,4,.012,,,,,,,,,,-011"),
    ],
)
def test_a_digit_misprinted_in_a_published_table_is_caught(
    letter: str, row: str, slip: str, tmp_path: Path
) -> None:
    unit, grades = PRINTED[letter]
    assert grades.count(row) == 1
    assert checked(as_files(tmp_path, unit, grades.replace(row, slip))).faults


def test_inches_beside_millimetres_that_are_another_size_are_caught(tmp_path: Path) -> None:
    """2.996 to 2.998 in printed beside 76.124 to 76.149 mm: the first pair disagrees."""
    slip = "pins,std,std,0,0,2.996 in (76.124 mm),2.998 in (76.149 mm),,,,,,,,,"
    with pytest.raises(BadInput) as caught:
        read_family_with_sources(as_files(tmp_path, "in", slip))
    (problem,) = caught.value.problems
    assert problem.place == "grades.csv line 2, column finish_low"
    assert problem.wrong == "2.996 in and 76.124 mm disagree: 2.9960 in is 76.0984 mm"


def test_an_ovality_ten_times_its_twins_is_caught(tmp_path: Path) -> None:
    """.005 for the front pin where the rear pin of the same table has .0005."""
    pin = "pin-{0},crank,pin,diameter,in,,,,,{1},,pins,a,0 | 90,micrometer,recheck,,,,,,,E,"
    features = "\n".join((pin.format("front", ".005"), pin.format("rear", ".0005")))
    report = checked(as_files(tmp_path, *PRINTED["E"], features))
    assert [str(fault) for fault in report.faults] == [
        "features.csv line 2, column ovality: ovality 0.0050 in where its neighbours have "
        "0.0005 in: a decimal place off; look at the printed figure"
    ]
