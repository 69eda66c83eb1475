import shutil
from pathlib import Path

import pytest

from kitting.catalog.files import read_family, read_trade
from kitting.catalog.shipped import catalogue_folders, shipped_folder
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


@pytest.fixture
def ready(loaded: Shop) -> Shop:
    """The same with every question answered, and an order to each supplier drafted."""
    loaded.types("strip", "add", "26-041", "timing-cover", "sound", "--who", "J. Marlowe")
    loaded.types(
        "strip", "add", "26-041", "idler-spindle", "outer 0 = .6237", "--who", "J. Marlowe"
    )
    loaded.types(
        "decide", "verdict", "26-041", "valve-exhaust-left", "renew",
        "--who", "K. Ferris", "--reason", "on its limit",
    )  # fmt: skip
    loaded.types("order", "make", "26-041", "--on", DAY)
    return loaded


@pytest.fixture
def ordered(ready: Shop) -> Shop:
    """The first order approved."""
    ready.types("order", "approve", "P1001", "--who", "K. Ferris", "--on", DAY)
    return ready
