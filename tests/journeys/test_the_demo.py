"""The worked job: its page, its files, and the points of its story."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.journeys.shop import Shop


def test_the_demo_tells_its_job_on_a_page_and_writes_every_workbook(shop: Shop) -> None:
    page = shop.types("demo", "--to", "out")
    for point in (
        "83 findings",
        "2 wrong part",
        "NOT ready to order: 3 points open",
        "After a second look and the owner's word on the valve: Ready to order.",
        "hold until ground",
        "hold until bored",
        "cor:C61-1067/010 is answered today by cor:C66-1067/010",
        "cor:C61-1552 is answered today by amb:AS 35-52-7 D",
        "covers",
        "To pay",
    ):
        assert point in page, point
    listed = [line.strip() for line in page.splitlines() if line.strip().endswith(".xlsx")]
    assert len(listed) >= 10
    assert all(Path(file).is_file() for file in listed)


def test_the_demo_leaves_the_users_own_database_alone(shop: Shop) -> None:
    shop.types("demo", "--to", "out")
    assert not (shop.folder / "shop.sqlite").exists()


def test_the_demo_may_be_run_again_over_its_own_files_and_writes_the_same(shop: Shop) -> None:
    shop.types("demo", "--to", "out")
    first = {f.name: f.read_bytes() for f in Path("out").glob("*.xlsx") if "strip" not in f.name}
    shop.types("demo", "--to", "out")
    again = {f.name: f.read_bytes() for f in Path("out").glob("*.xlsx") if "strip" not in f.name}
    assert first == again


def test_help_loads_nothing_heavy() -> None:
    """The doors' own modules alone: no database, no workbook, no model library."""
    heavy = ("sqlalchemy", "openpyxl", "pydantic", "matplotlib", "rapidfuzz", "alembic", "rich")
    code = (
        "import sys; from kitting.cli.main import guarded; guarded(['--help']); "
        f"print([m for m in {heavy!r} if m in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stderr.strip() == "[]"
    assert "Commands" in done.stdout


def test_a_fault_of_ours_exits_with_one_and_no_trace(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("kitting.cli.stages.path_of", None)
    said = shop.tries("kit", "26-041")
    assert said.status == 1
    assert "A fault of the program, not of yours" in said.err
