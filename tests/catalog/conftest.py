"""Folders of catalogue files to read, change and read again."""

from collections.abc import Callable
from pathlib import Path

import pytest

from kitting.catalog.writing import write_family
from tests.wren import tiny_family

TRADE_FILES = {
    "shop.csv": """key,value
name,Lane End Engines
address,"1 Lane End, Overby"
currency,GBP
labour rate,42.00
labour vat,S
parts markup,15
work markup,10 %
lean,recheck
vat S,20
vat Z,0
uncertainty micrometer,0.0001 in
""",
    "makers.csv": "key,name\nhob,Hobday\ndal,Dale Pattern Parts\n",
    "suppliers.csv": """key,name,address,currency,carriage,free_over,least_order,days,note
ashby,Ashby Spares,Overby,GBP,6.50,100.00,0,3,
grindwell,Grindwell Works,Overby,GBP,,,,5,
""",
    "offers-ashby.csv": """\
their_number,part,pack,price,breaks,currency,valid_from,valid_until,days,stock
A1,hob:W100,1,12.40,10: 11.20 | 50: 10.00,,2024-01-01,2024-12-31,,4
A2,hob:W310,5,3.00,,EUR,2024-01-01,2024-12-31,9,
""",
    "operations.csv": "key,name,instruction,caution\nregrind,Regrind,To size,Stand clear\n",
    "work_prices.csv": """\
machinist,operation,per,price,currency,valid_from,valid_until,days
grindwell,regrind,each,48.00,GBP,2024-01-01,2024-12-31,10
""",
    "rates.csv": "currency,worth,on\nEUR,0.86,2024-04-30\n",
}


@pytest.fixture
def wren_folder(tmp_path: Path) -> Path:
    """The Wren single as text files."""
    folder = tmp_path / "wren-single"
    write_family(tiny_family(), folder)
    return folder


@pytest.fixture
def trade_folder(tmp_path: Path) -> Path:
    """A small trade as text files."""
    folder = tmp_path / "trade"
    folder.mkdir()
    for name, text in TRADE_FILES.items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder


@pytest.fixture
def changed() -> Callable[[Path, str, str], Path]:
    """Replace one text in a file, which must be there just once; return the folder."""

    def change(path: Path, old: str, new: str) -> Path:
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1, f"{old!r} is {text.count(old)} times in {path.name}"
        path.write_text(text.replace(old, new), encoding="utf-8")
        return path.parent

    return change
