"""The package as it is installed elsewhere, and the pins it is installed from."""

import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    return next(folder.glob("*.whl"))


def test_the_wheel_holds_the_catalogue_the_migrations_and_the_demo(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    for wanted in (
        "kitting/_data/catalog/corvane-650/consequences.csv",
        "kitting/_data/catalog/trade/shop.csv",
        "kitting/_data/migrations/env.py",
        "kitting/_data/migrations/versions/0001_catalogue.py",
        "kitting/demo/first-look.csv",
        "kitting/py.typed",
    ):
        assert wanted in names
    assert not [name for name in names if name.startswith("tests/")]


def test_the_wheel_runs_the_demo_away_from_the_source(wheel: Path, tmp_path: Path) -> None:
    zipfile.ZipFile(wheel).extractall(tmp_path / "site")
    code = (
        "import sys; sys.path = [p for p in sys.path if p != sys.argv[1]];"
        f"sys.path.insert(0, {str(tmp_path / 'site')!r});"
        "import kitting; assert 'site' in kitting.__file__, kitting.__file__;"
        "from kitting.cli.main import guarded; sys.exit(guarded(['demo', '--to', 'out']))"
    )
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
    done = subprocess.run(
        [sys.executable, "-c", code, str(ROOT)],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert len(list((tmp_path / "out").glob("*.xlsx"))) >= 10


@pytest.mark.parametrize("name", ["run.txt", "tests.txt", "nodeps.txt"])
def test_pins_name_versions_and_hashes_and_no_address(name: str) -> None:
    text = (ROOT / "requirements" / name).read_text(encoding="utf-8")
    assert "://" not in text
    for requirement in re.split(r"\n(?=\S)", text.strip()):
        assert "==" in requirement
        assert "--hash=sha256:" in requirement
