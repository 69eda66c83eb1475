from pathlib import Path

import pytest

from tests.journeys.shop import Shop


@pytest.fixture
def shop(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Shop:
    """A shop with an empty database and the catalogue that comes with the program, not loaded."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("KITTING_DATABASE", f"sqlite:///{tmp_path / 'shop.sqlite'}")
    return Shop(tmp_path, capsys)


@pytest.fixture
def open_shop(shop: Shop) -> Shop:
    """A shop with the catalogue loaded and one twin on the bench."""
    shop.types("catalog", "load")
    shop.types(
        "job", "open", "26-041", "--family", "corvane-650", "--engine", "CV23417",
        "--customer", "R. Aldous",
    )  # fmt: skip
    return shop
