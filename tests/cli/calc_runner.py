"""Running a sum through its door."""

import json
from typing import Any

from click.testing import CliRunner, Result

from kitting.cli.calc import calc


def run(name: str, *options: str, given: object = None, text: str | None = None) -> Result:
    """Run `calc NAME`, with JSON on standard input where `given` or `text` is there."""
    typed = text if text is not None else None if given is None else json.dumps(given)
    source = () if typed is None else ("--input", "-")
    result = CliRunner().invoke(calc, [name, *source, *options], input=typed)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def answer(name: str, *options: str, given: object = None) -> Any:
    """The answer in JSON, which must have come without complaint."""
    result = run(name, *options, "--json", given=given)
    assert (result.exit_code, result.stderr) == (0, "")
    return json.loads(result.stdout)


def refused(name: str, *options: str, given: object = None, text: str | None = None) -> str:
    """What is said of bad input, which must be sentences on standard error and status 2."""
    result = run(name, *options, given=given, text=text)
    assert (result.exit_code, result.stdout) == (2, "")
    assert "Traceback" not in result.stderr
    return result.stderr
