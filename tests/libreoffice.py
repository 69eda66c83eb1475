"""LibreOffice for tests: another program to save and show what ours writes.

Without it such tests are passed over with the reason said; KITTING_REQUIRE_LIBREOFFICE=1, which
CI sets, makes its absence a failure.
"""

import atexit
import os
import shutil
import subprocess
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import pytest

_REQUIRED = "KITTING_REQUIRE_LIBREOFFICE"
_SECONDS = 120


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

    The file must be there afterwards: LibreOffice ends well when it wrote nothing.
    """
    folder.mkdir(parents=True, exist_ok=True)
    ran = subprocess.run(
        [
            soffice(),
            "--headless",
            f"-env:UserInstallation={_profile().as_uri()}",
            "--convert-to",
            to,
            "--outdir",
            str(folder),
            str(source),
        ],
        capture_output=True,
        text=True,
        timeout=_SECONDS,
        check=False,
    )
    made = folder / f"{source.stem}.{to.partition(':')[0]}"
    assert made.exists(), f"LibreOffice wrote nothing: {ran.stdout} {ran.stderr}"
    return made


@cache
def _profile() -> Path:
    """A profile for this process: two runs on one profile write nothing."""
    folder = Path(mkdtemp(prefix="kitting-libreoffice-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder
