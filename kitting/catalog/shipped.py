"""Where the catalogue that comes with the program lies: in the source tree, or in the wheel."""

from pathlib import Path

from kitting.errors import BadInput, Problem

_PACKAGE = Path(__file__).resolve().parents[1]


def shipped_folder() -> Path:
    """Return the folder of the catalogue that comes with the program.

    Raises:
        BadInput: the installation has none.
    """
    for folder in (_PACKAGE / "_data" / "catalog", _PACKAGE.parent / "catalog"):
        if (folder / "README.md").is_file():
            return folder
    raise BadInput(Problem("catalogue", "none came with this installation", "name a folder"))


def catalogue_folders(root: Path) -> tuple[list[Path], list[Path]]:
    """Return the family folders and the trade folders at or just below `root`.

    Raises:
        BadInput: no such folder, or nothing of a catalogue in it.
    """
    if not root.is_dir():
        raise BadInput(Problem(str(root), "there is no such folder", "name a catalogue's folder"))
    looked = [root, *sorted(child for child in root.iterdir() if child.is_dir())]
    families = [folder for folder in looked if (folder / "family.csv").is_file()]
    trades = [folder for folder in looked if (folder / "shop.csv").is_file()]
    if not (families or trades):
        raise BadInput(
            Problem(
                str(root),
                "there is no catalogue in it",
                "a family's folder holds family.csv, the trade's folder holds shop.csv",
            )
        )
    return families, trades
