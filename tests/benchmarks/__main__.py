"""Run the timings: `python -m tests.benchmarks`, with `--only NAME` for some, `--small` to try.

The table is printed, and kept in RESULTS.md with the machine's size when it was run at full size;
what was not run keeps the figures that it had.
"""

import argparse
import os
import platform
import re
import sqlite3
import sys
from collections.abc import Callable, Iterable, Mapping
from datetime import UTC, datetime
from pathlib import Path
from types import MappingProxyType

from rich.console import Console
from rich.table import Table

from tests.benchmarks import buying_plan, finding, jobs, price_lists, resolving, starting
from tests.benchmarks.rows import Row

RESULTS = Path(__file__).with_name("RESULTS.md")
_HEADINGS = ("what", "figure", "limit", "met", "note")
_PRICE_LIMITS = MappingProxyType({"load / floor": 3.0, "memory at most": 500.0})
_TOP = """# Timings

Made by `make bench` (`python -m tests.benchmarks`), each part when it was last run at full size.
The trades are invented and the same each time. A ratio is taken within one run. Where
it says 'the least of' so many turns, the time is the processor's; else the clock's. The load is
how many programs wanted the cores in the minute before.
"""


def _told(
    cells: Iterable[tuple[str, str, str, str]], limits: Mapping[str, float] = MappingProxyType({})
) -> list[Row]:
    """Rows of text as rows, with what they must not exceed by their names."""
    return [
        Row(name, float(figure), unit, limits.get(name), note) for name, figure, unit, note in cells
    ]


def _parts(small: bool) -> Mapping[str, Callable[[], Iterable[Row]]]:
    """Each part of the timings by its name."""
    parts, few, rows = (20_000, 2_000, 20_000) if small else (1_000_000, 10_000, 1_000_000)
    return {
        "starting": starting.rows,
        "jobs": lambda: jobs.rows(parts),
        "resolving": lambda: resolving.rows(parts, few),
        "finding": lambda: finding.rows(parts, 200 if small else 2000),
        "price lists": lambda: _told(price_lists.measure(rows), _PRICE_LIMITS),
        "buying plan": lambda: _told(
            buying_plan.measure(2, 10) if small else buying_plan.measure()
        ),
    }


def main(arguments: list[str]) -> int:
    """Run, print, keep; 1 where a limit is not met."""
    known = _parts(small=False)
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("--only", action="append", choices=sorted(known), default=[])
    parser.add_argument("--small", action="store_true", help="little trades; nothing is kept")
    asked = parser.parse_args(arguments)
    kept = _kept()
    missed = 0
    for name, measure in _parts(asked.small).items():
        if asked.only and name not in asked.only:
            continue
        rows = list(measure())
        missed += sum(not row.is_met for row in rows)
        _print(name, rows)
        if not asked.small:
            kept[name] = _section(name, rows)
            RESULTS.write_text("\n".join([_TOP, *(kept[each] for each in known if each in kept)]))
    return 1 if missed else 0


def _print(name: str, rows: list[Row]) -> None:
    table = Table(*_HEADINGS, title=name, title_justify="left")
    for row in rows:
        table.add_row(*row.cells)
    Console().print(table)


def _section(name: str, rows: list[Row]) -> str:
    lines = [f"| {' | '.join(cell.replace('|', '/') for cell in row.cells)} |" for row in rows]
    head = [f"| {' | '.join(_HEADINGS)} |", "| --- | ---: | ---: | --- | --- |"]
    return "\n".join((f"## {name}", "", _machine(), "", *head, *lines, ""))


def _kept() -> dict[str, str]:
    """The sections of the table as it was kept."""
    if not RESULTS.exists():
        return {}
    sections = re.split(r"^## ", RESULTS.read_text(), flags=re.MULTILINE)[1:]
    return {section.split("\n")[0]: f"## {section.rstrip()}\n" for section in sections}


def _machine() -> str:
    cores = re.findall(r"^model name\s*: (.*)$", _read("/proc/cpuinfo"), flags=re.MULTILINE)
    memory = re.search(r"^MemTotal:\s*(\d+) kB", _read("/proc/meminfo"), flags=re.MULTILINE)
    gigabytes = int(memory[1]) / 2**20 if memory else 0
    return (
        f"{datetime.now(UTC):%d %b %Y}; {len(cores)} cores {cores[0] if cores else ''}, "
        f"{gigabytes:.0f} GB; Python {platform.python_version()}, SQLite {sqlite3.sqlite_version}, "
        f"{platform.system()} {platform.machine()}; load {os.getloadavg()[0]:.1f}"
    )


def _read(file: str) -> str:
    place = Path(file)
    return place.read_text() if place.exists() else ""


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
