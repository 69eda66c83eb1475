"""Running `kitting calc` as a bench does, for the tests of the sums' doors."""

import json
from typing import Any

from click.testing import CliRunner, Result

from kitting.cli.calc import calc


def run(*words: str, given: str | None = None) -> Result:
    """Run `kitting calc` with these words, and `given` on standard input."""
    return CliRunner().invoke(calc, list(words), input=given)


def answered(name: str, given: object) -> Any:
    """The JSON answer of a sum to a JSON input."""
    result = run(name, "--input", "-", "--json", given=json.dumps(given))
    assert result.exit_code == 0, result.stderr
    return json.loads(result.stdout)


def refused(name: str, given: object) -> str:
    """What a sum says to an input it cannot take."""
    result = run(name, "--input", "-", "--json", given=json.dumps(given))
    assert result.exit_code == 2, result.output
    assert "Traceback" not in result.output
    assert result.stdout == ""
    return result.stderr


def shown(*words: str) -> str:
    """The sheet that options give: it must fit 80 columns."""
    result = run(*words)
    assert result.exit_code == 0, result.stderr
    wide = [line for line in result.stdout.splitlines() if len(line) > 80]
    assert not wide
    return result.stdout


def shapes_of(name: str) -> Any:
    """The JSON shapes that a sum prints of itself."""
    result = run(name, "--schema")
    assert result.exit_code == 0, result.stderr
    return json.loads(result.stdout)
