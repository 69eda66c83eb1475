"""How long `kitting --help` takes beside a bare import of click, in turns, compiled beforehand."""

import compileall
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median

import kitting
from tests.benchmarks.rows import Row

_TURNS = 25


def rows() -> Iterator[Row]:
    """Start both in turns."""
    compileall.compile_dir(Path(kitting.__file__).parent, quiet=1)
    command = Path(sys.executable).with_name("kitting")
    helps, clicks = [], []
    for _ in range(_TURNS):
        helps.append(_seconds([str(command), "--help"]))
        clicks.append(_seconds([sys.executable, "-c", "import click"]))
    ours, bare = median(helps), median(clicks)
    note = f"{1000 * ours:.0f} ms and {1000 * bare:.0f} ms, medians of {_TURNS} in turns"
    yield Row("kitting --help / import click", ours / bare, "×", 2.5, note)


def _seconds(command: list[str]) -> float:
    start = time.perf_counter()
    subprocess.run(command, stdout=subprocess.DEVNULL, check=True)
    return time.perf_counter() - start
