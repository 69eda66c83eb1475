import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from kitting.catalog.files import read_family, read_trade
from kitting.catalog.shipped import catalogue_folders, shipped_folder
from kitting.cli.main import guarded
from kitting.store import Database
from tests.journeys.measured import make_measured
from tests.journeys.shop import DAY, Shop


@pytest.fixture
def shop(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Shop:
    """A shop with no database yet."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("KITTING_DATABASE", f"sqlite:///{tmp_path / 'shop.sqlite'}")
    return Shop(tmp_path, capsys)


@pytest.fixture(scope="session")
def loaded_database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database with the catalogue that comes with the program, made once for all tests."""
    file = tmp_path_factory.mktemp("loaded") / "loaded.sqlite"
    database = Database(f"sqlite:///{file}")
    families, trades = catalogue_folders(shipped_folder())
    with database.work() as work:
        for folder in families:
            work.catalogue.load_family(read_family(folder))
        for folder in trades:
            work.trade.load_trade(read_trade(folder))
        work.commit()
    database.close()
    return file


@pytest.fixture
def stocked_shop(shop: Shop, loaded_database: Path) -> Shop:
    """A shop with the catalogue loaded."""
    shutil.copy(loaded_database, shop.folder / "shop.sqlite")
    return shop


@pytest.fixture
def open_shop(stocked_shop: Shop) -> Shop:
    """A shop with the catalogue loaded and one twin on the bench."""
    stocked_shop.types(
        "job", "open", "26-041", "--family", "corvane-650", "--engine", "CV23417",
        "--customer", "R. Aldous",
    )  # fmt: skip
    return stocked_shop


@pytest.fixture(scope="session")
def measured_database(tmp_path_factory: pytest.TempPathFactory, loaded_database: Path) -> Path:
    """The same with the demo's findings on job 26-041, read from its filled strip sheet."""
    return make_measured(tmp_path_factory.mktemp("measured"), loaded_database)


@pytest.fixture
def loaded(shop: Shop, measured_database: Path) -> Shop:
    """A shop with the twin on the bench and the demo's findings on it."""
    shutil.copy(measured_database, shop.folder / "shop.sqlite")
    return shop


@pytest.fixture(scope="session")
def ready_database(tmp_path_factory: pytest.TempPathFactory, measured_database: Path) -> Path:
    """The same with every question answered, and an order to each supplier drafted."""
    return _after(
        tmp_path_factory.mktemp("ready"),
        measured_database,
        ("strip", "add", "26-041", "timing-cover", "sound", "--who", "J. Marlowe"),
        ("strip", "add", "26-041", "idler-spindle", "outer 0 = .6237", "--who", "J. Marlowe"),
        (
            "decide", "verdict", "26-041", "valve-exhaust-left", "renew",
            "--who", "K. Ferris", "--reason", "on its limit",
        ),
        ("order", "make", "26-041", "--on", DAY),
    )  # fmt: skip


@pytest.fixture(scope="session")
def ordered_database(tmp_path_factory: pytest.TempPathFactory, ready_database: Path) -> Path:
    """The same with the first order approved."""
    approve = ("order", "approve", "P1001", "--who", "K. Ferris", "--on", DAY)
    return _after(tmp_path_factory.mktemp("ordered"), ready_database, approve)


def _after(folder: Path, before: Path, *commands: tuple[str, ...]) -> Path:
    """A copy of a database after some commands."""
    file = folder / "shop.sqlite"
    shutil.copy(before, file)
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        patch.setenv("KITTING_DATABASE", f"sqlite:///{file}")
        for words in commands:
            assert guarded(list(words)) == 0, words
    with closing(sqlite3.connect(file)) as connection:
        # What the commands wrote may still lie in the file beside it.
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return file


@pytest.fixture
def ready(shop: Shop, ready_database: Path) -> Shop:
    """A shop with every question of the twin answered, and an order to each supplier drafted."""
    shutil.copy(ready_database, shop.folder / "shop.sqlite")
    return shop


@pytest.fixture
def ordered(shop: Shop, ordered_database: Path) -> Shop:
    """The same with the first order approved."""
    shutil.copy(ordered_database, shop.folder / "shop.sqlite")
    return shop
