"""LibreOffice for tests: another program to save and show what ours writes.

Without it such tests are passed over with the reason said; KITTING_REQUIRE_LIBREOFFICE=1, which
CI sets, makes its absence a failure.
"""

import atexit
import os
import shutil
import subprocess
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import pytest

_REQUIRED = "KITTING_REQUIRE_LIBREOFFICE"
_SECONDS = 180
# Left alone, LibreOffice shows the results that it finds beside another program's formulas.
_RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop>
</item>
</oor:items>
"""


def soffice() -> str:
    """Return the program, or pass the test over."""
    found = shutil.which("soffice") or shutil.which("libreoffice")
    if found is not None:
        return found
    if os.environ.get(_REQUIRED) == "1":
        pytest.fail(f"LibreOffice is not installed, and {_REQUIRED}=1 asks for it")
    pytest.skip("LibreOffice is not installed (soffice is not on the path)")


def convert(source: Path, to: str, folder: Path) -> Path:
    """Return `source` as LibreOffice saves it in `folder`, in the format `to` ('xlsx', 'pdf').

    Every formula is worked out again. The file must be there afterwards: LibreOffice ends well
    when it wrote nothing.
    """
    return convert_all([source], to, folder)[0]


def convert_all(sources: Sequence[Path], to: str, folder: Path) -> list[Path]:
    """Convert several files in one run, which costs little more than one file does."""
    folder.mkdir(parents=True, exist_ok=True)
    ran = subprocess.run(
        [
            soffice(),
            "--headless",
            f"-env:UserInstallation={profile().as_uri()}",
            "--convert-to",
            to,
            "--outdir",
            str(folder),
            *(str(source) for source in sources),
        ],
        capture_output=True,
        text=True,
        timeout=_SECONDS,
        check=False,
    )
    made = [folder / f"{source.stem}.{to.partition(':')[0]}" for source in sources]
    missing = [file.name for file in made if not file.exists()]
    assert not missing, f"LibreOffice wrote no {missing}: {ran.stdout} {ran.stderr}"
    return made


@cache
def profile() -> Path:
    """A profile for this process: two runs on one profile write nothing."""
    folder = Path(mkdtemp(prefix="kitting-libreoffice-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    settings = folder / "user" / "registrymodifications.xcu"
    settings.parent.mkdir()
    settings.write_text(_RECALCULATE, encoding="utf-8")
    return folder
