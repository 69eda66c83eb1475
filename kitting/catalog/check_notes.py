"""What a check of the catalogue found: faults, which stop a loading, and warnings, which do not."""

from collections.abc import Collection
from dataclasses import dataclass, field

from kitting.catalog.nearest import did_you_mean
from kitting.catalog.rows import Sources
from kitting.errors import Problem, Problems


@dataclass(frozen=True, slots=True)
class CheckReport:
    """All that was found: faults first, then what should be looked at."""

    faults: tuple[Problem, ...]
    warnings: tuple[Problem, ...]

    def __add__(self, other: "CheckReport") -> "CheckReport":
        return CheckReport(self.faults + other.faults, self.warnings + other.warnings)

    def within(self, folder: str) -> "CheckReport":
        """The same, each place in a folder of that name."""

        def inside(problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
            return tuple(
                Problem(f"{folder}/{p.place}" if p.place else folder, p.wrong, p.right)
                for p in problems
            )

        return CheckReport(inside(self.faults), inside(self.warnings))


@dataclass(slots=True)
class Notes:
    """Collects faults and warnings, each placed at the row it speaks of."""

    sources: Sources
    faults: Problems = field(default_factory=Problems)
    warnings: Problems = field(default_factory=Problems)

    def place(self, table: str, key: str, column: str = "") -> str:
        """Where a row stands, or its table and key when it was not read from a file."""
        where = self.sources.get((table, key), f"{table} {key}")
        return f"{where}, column {column}" if column else where

    def fault(self, row: tuple[str, str], column: str, wrong: str, right: str = "") -> None:
        """Note what must be put right."""
        self.faults.add(self.place(*row, column), wrong, right)

    def warn(self, row: tuple[str, str], column: str, wrong: str, right: str = "") -> None:
        """Note what should be looked at."""
        self.warnings.add(self.place(*row, column), wrong, right)

    def known(
        self,
        row: tuple[str, str],
        column: str,
        what: str,
        key: str,
        choices: Collection[str],
    ) -> bool:
        """Whether a named key is there; a fault with the nearest right one when it is not."""
        if key in choices:
            return True
        self.fault(row, column, f"there is no {what} '{key}'", did_you_mean(key, choices))
        return False

    def report(self) -> CheckReport:
        """What was found so far."""
        return CheckReport(tuple(self.faults), tuple(self.warnings))
