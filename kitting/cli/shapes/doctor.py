"""The shape of `kitting doctor`."""

from dataclasses import dataclass

from kitting.cli.shapes.catalog import ProblemShape


@dataclass(frozen=True, slots=True)
class DoctorShape:
    """What the doctor found; `fit` when nothing is missing."""

    fit: bool
    program: str
    database: str
    kind: str
    reachable: bool
    tables_version: str | None
    tables_wanted: str
    families: list[dict[str, str]]
    trade_loaded: bool
    jobs: int
    spreadsheet_program: str | None
    sheets_folder: str
    problems: list[ProblemShape]
