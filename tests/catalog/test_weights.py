"""How much a consequence is wanted, as the files say it."""

from dataclasses import replace
from pathlib import Path

from kitting.catalog.check import check_catalogue
from kitting.catalog.files import read_family
from kitting.catalog.rules import Then, Weight, When
from kitting.catalog.writing import write_family
from tests.builders import a_consequence
from tests.wren import tiny_family


def written(folder: Path, weight: Weight) -> Path:
    family = tiny_family()
    bottom = "assembly:bottom-end"
    rule = a_consequence("spare", When.STRIPPED, bottom, Then.RENEW, "rod-bolts", weight=weight)
    place = folder / family.key
    write_family(replace(family, consequences=(*family.consequences, rule)), place)
    return place


def test_a_weight_is_read_as_it_is_written(tmp_path: Path) -> None:
    family = read_family(written(tmp_path, Weight.OPTIONAL))
    assert family.consequences[-1].weight is Weight.OPTIONAL
    assert {rule.weight for rule in family.consequences[:-1]} == {Weight.NEEDED}


def test_a_file_without_the_column_says_that_everything_is_needed(tmp_path: Path) -> None:
    place = written(tmp_path, Weight.NEEDED)
    file = place / "consequences.csv"
    rows = [line.rsplit(",", 1)[0] for line in file.read_text(encoding="utf-8").splitlines()]
    assert rows[0].endswith("source")
    file.write_text("\n".join(rows) + "\n", encoding="utf-8")
    assert {rule.weight for rule in read_family(place).consequences} == {Weight.NEEDED}


def test_a_row_may_end_before_its_weight(tmp_path: Path) -> None:
    place = written(tmp_path, Weight.OPTIONAL)
    with (place / "consequences.csv").open("a", encoding="utf-8") as file:
        file.write("short,stripped,assembly:bottom-end,,,renew,oil-pump,,one,common practice\n")
    rules = {rule.key: rule for rule in read_family(place).consequences}
    assert (rules["short"].weight, rules["spare"].weight) == (Weight.NEEDED, Weight.OPTIONAL)


def test_what_nobody_is_charged_for_has_no_weight(tmp_path: Path) -> None:
    place = written(tmp_path, Weight.NEEDED)
    with (place / "consequences.csv").open("a", encoding="utf-8") as file:
        file.write("look,renew,shells,,,check,sump-filter,,one,common practice,optional\n")
    problems = [str(each) for each in check_catalogue(tmp_path).faults]
    assert any("nobody is charged for check, so it cannot be optional" in p for p in problems)
