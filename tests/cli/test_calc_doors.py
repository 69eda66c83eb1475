"""What every sum's door does alike: help, shapes, files, and what cannot be read."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from kitting.cli.calc import SUMS, calc
from tests.cli.calc_runner import answer, refused, run

SHIMS: dict[str, Any] = {
    "unit": "in",
    "measured": "0.032",
    "in_place": "0.010",
    "low": "0.002",
    "high": "0.005",
    "stock": [{"thickness": "0.015"}, {"thickness": "0.008", "count": 2}],
}
MINE = ("journal", "bore", "decide", "regrind", "crank", "clearance", "shims", "thrust")


def test_help_names_every_sum() -> None:
    said = CliRunner().invoke(calc, ["--help"]).output
    for name, (_, about) in SUMS.items():
        assert name in said
        assert about.split(";")[0].split(",")[0] in said


def test_help_loads_nothing_heavy() -> None:
    code = (
        "import sys; from click.testing import CliRunner; from kitting.cli.calc import calc; "
        "CliRunner().invoke(calc, ['--help']); print('pydantic' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    assert done.stdout.strip() == "False"


def test_a_name_that_is_no_sum_is_refused() -> None:
    result = CliRunner().invoke(calc, ["shim"])
    assert result.exit_code == 2
    assert "No such command 'shim'" in result.output


@pytest.mark.parametrize("name", MINE)
def test_every_sum_prints_both_its_shapes(name: str) -> None:
    shapes = json.loads(run(name, "--schema").stdout)
    assert shapes["input"]["additionalProperties"] is False
    assert "unit" in shapes["input"]["properties"]
    assert "unit" in shapes["output"]["required"]


@pytest.mark.parametrize("name", MINE)
def test_every_sum_has_help(name: str) -> None:
    result = run(name, "--help")
    for option in ("--input", "--json", "--schema", "--unit"):
        assert option in result.stdout


@pytest.mark.parametrize("name", MINE)
def test_nothing_given_is_refused(name: str) -> None:
    assert "nothing was given to work on" in refused(name)


def test_the_answer_has_the_keys_of_its_shape() -> None:
    shape = json.loads(run("shims", "--schema").stdout)["output"]
    assert list(answer("shims", given=SHIMS)) == list(shape["properties"])


def test_a_file_does_as_well_as_standard_input(tmp_path: Path) -> None:
    file = tmp_path / "shims.json"
    file.write_text(json.dumps(SHIMS), encoding="utf-8-sig")
    result = run("shims", "--input", str(file), "--json")
    assert json.loads(result.stdout) == answer("shims", given=SHIMS)


def test_a_file_that_is_not_there_is_named() -> None:
    assert "no-such.json: it cannot be read: No such file" in refused(
        "shims", "--input", "no-such.json"
    )


def test_a_file_that_is_no_text_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "photo.json"
    file.write_bytes(b"\xff\xfe\x00\x01")
    assert "it is not UTF-8 text" in refused("shims", "--input", str(file))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('{\n  "unit": "in",\n  "measured": }', "standard input, line 3, column 15: this is not"),
        ("", "line 1, column 1: this is not JSON"),
        ('{"low": NaN}', "NaN is not a figure; leave out what was not measured"),
        ('{"low": 1, "low": 2}', "the key 'low' is there twice"),
        ("[" * 100_000, "it is nested too deeply"),
        ("3", "this is not an object"),
        ('"text"', "this is not an object"),
        ('{"unit": 5}', "unit: '5' is no unit known here"),
        ('{"unit": "in"}', "low: it is missing; give it"),
        ('{"low": true}', "low: this is not a figure"),
        ('{"low": [1]}', "low: this is not a figure"),
        ('{"low": "1e-3"}', "write the number in full"),
        ('{"low": 1e-40}', "write the number in full"),
        ('{"low": "1,5 in"}', "use a point for the decimals"),
        (
            '{"stock": [{"thickness": "1 in", "count": "many"}]}',
            "count: this is not a whole number",
        ),
        ('{"shims": "push"}', "shims: 'push' is not one of the choices; write 'close' or 'open'"),
    ],
)
def test_what_is_no_input_is_said_with_its_place(text: str, said: str) -> None:
    assert said in refused("shims", text=text)


def test_a_number_written_by_a_program_keeps_its_value() -> None:
    small = json.dumps(SHIMS | {"in_place": 0.00005})
    assert "5e-05" in small
    result = run("shims", "--json", text=small)
    assert json.loads(result.stdout)["ideal"] == "0.02855"


def test_options_and_a_file_are_not_mixed() -> None:
    assert "--input was given, and options too (low)" in refused(
        "shims", "--low", "0.002", given=SHIMS
    )


def test_the_unit_option_stands_where_the_file_has_none() -> None:
    bare = {key: value for key, value in SHIMS.items() if key != "unit"}
    assert answer("shims", "--unit", "in", given=bare) == answer("shims", given=SHIMS)


def test_without_a_unit_the_first_length_sets_it() -> None:
    found = answer(
        "shims",
        given={
            "measured": "0.80 mm",
            "low": "0.05 mm",
            "high": "5 thou",
            "stock": [{"thickness": "0.70 mm"}],
        },
    )
    assert found["unit"] == "mm"
    assert found["best"]["gives"] == "0.100"


def test_a_stated_unit_holds_whatever_the_lengths_are_written_in() -> None:
    found = answer("shims", given=SHIMS | {"measured": "0.8128 mm"})
    assert found == answer("shims", given=SHIMS)


def test_several_sheets_stand_one_under_another() -> None:
    assert run("shims", given=[SHIMS, SHIMS]).stdout.count("Best stack") == 2
