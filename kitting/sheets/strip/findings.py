"""The finding that the rows of one position's block make."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.job.bench_words import (
    fitted,
    hear_attributes,
    hear_grade,
    hear_number,
    hear_reading,
    hear_tick,
)
from kitting.job.findings import Finding
from kitting.job.strip_differences import amiss
from kitting.measure import parse_quantity
from kitting.sheets.cells import figure_in, number_in, words_in
from kitting.sheets.strip.keys import RowKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from datetime import date

    from kitting.catalog.family import Family
    from kitting.catalog.model import Position
    from kitting.errors import Problems
    from kitting.job.findings import Fitted, Reading, Seen
    from kitting.sheets.strip.rows import KeyedRow


@dataclass(frozen=True, slots=True)
class Signed:
    """Who wrote, and on which day."""

    who: str = ""
    when: date | None = None


def finding_of(
    position: Position,
    rows: Sequence[KeyedRow],
    signed: Signed,
    family: Family,
    file: str,
    problems: Problems,
    warnings: list[str],
) -> Finding | None:
    """Return what the rows of a position say, None when they say nothing.

    Every problem is noted at its cell; a number that the catalogue has not, among the warnings.
    """
    used = [row for row in rows if row.filled]
    if not used:
        return None
    block = _Block(position, rows, family, problems, warnings)
    finding = Finding(
        position=position.key,
        readings=tuple(block.readings()),
        seen=tuple(block.seen()),
        fitted=block.fitted(),
        sound=block.sound(),
        note=block.note(),
        who=signed.who,
        when=signed.when,
        place=f'{file}, sheet "{used[0].sheet}", {_span([row.row for row in used])}',
    )
    block.check_sound(finding)
    return finding if finding.says_something or finding.note else None


class _Block:
    """The rows of one position."""

    def __init__(
        self,
        position: Position,
        rows: Sequence[KeyedRow],
        family: Family,
        problems: Problems,
        warnings: list[str],
    ) -> None:
        self.position = position
        self.rows = rows
        self.family = family
        self.problems = problems
        self.warnings = warnings

    def of(self, kind: RowKind) -> Iterator[KeyedRow]:
        """The rows of one kind that are there."""
        return (row for row in self.rows if row.key.kind is kind)

    def readings(self) -> Iterator[Reading]:
        """Every reading that can be taken."""
        instruments = self._instruments()
        for row in self.of(RowKind.READ):
            feature = self.family.feature_by_key[row.key.name]
            station, *directions = row.key.parts
            for direction in directions:
                with self.problems.at(row.place(direction)):
                    text = figure_in(row.box(direction))
                    if text:
                        yield hear_reading(
                            text,
                            feature,
                            self.family,
                            (station, direction),
                            instruments.get(feature.key, ""),
                        )

    def _instruments(self) -> Mapping[str, str]:
        """The instrument of each feature, as far as one is written."""
        found = {}
        for row in self.rows:
            if "instrument" in row.key.boxes:
                with self.problems.at(row.place("instrument")):
                    found[row.key.name] = words_in(row.box("instrument"))
        return found

    def seen(self) -> Iterator[Seen]:
        """Every observation that has a grade."""
        for row in self.of(RowKind.SEEN):
            observation = self.family.observation_by_key[row.key.parts[0]]
            amount = ""
            with self.problems.at(row.place("amount")):
                typed = figure_in(row.box("amount"))
                if typed:
                    parse_quantity(typed)
                amount = typed
            with self.problems.at(row.place("grade")):
                grade = words_in(row.box("grade"))
                if grade or amount:
                    yield hear_grade(grade, observation, amount)

    def fitted(self) -> Fitted | None:
        """The number read off the part and what was measured off it."""
        number, attributes = "", None
        for row in self.of(RowKind.FITTED):
            with self.problems.at(row.place("fitted")):
                typed = number_in(row.box("fitted"))
                if typed:
                    heard = hear_number(typed, self.position, self.family)
                    number = heard.number
                    if heard.warning:
                        self.warnings.append(f"{row.place('fitted')}: {heard.warning}")
        for row in self.of(RowKind.MEASURED):
            with self.problems.at(row.place("measured")):
                attributes = hear_attributes(_run_text(row), self.position, self.family)
        return fitted(number, attributes)

    def sound(self) -> bool:
        """Whether the part is ticked as sound."""
        ticked = False
        for row in self.of(RowKind.POSITION):
            with self.problems.at(row.place("sound")):
                # A tick box of some programs leaves a plain FALSE when it is cleared.
                if row.box("sound").value is not False:
                    ticked = hear_tick(words_in(row.box("sound")))
        return ticked

    def note(self) -> str:
        """The notes, as written."""
        notes = []
        for row in self.of(RowKind.NOTE):
            with self.problems.at(row.place("note")):
                notes.append(_run_text(row))
        return " ".join(filter(None, notes))

    def check_sound(self, finding: Finding) -> None:
        """Refuse a part that is ticked as sound and seen damaged."""
        damage = amiss(finding, self.family)
        if not finding.sound or not damage:
            return
        named = self.family.observation_by_key[damage[0].observation].name
        for row in self.of(RowKind.POSITION):
            self.problems.add(
                row.place("sound"),
                f"ticked as sound, and yet {named.lower()} is '{damage[0].grade}'",
                "take out one of the two",
            )


def _run_text(row: KeyedRow) -> str:
    """What stands in a long box, all its cells together."""
    return " ".join(filter(None, (words_in(cell) for cell in row.run)))


def _span(rows: Sequence[int]) -> str:
    first, last = min(rows), max(rows)
    return f"row {first}" if first == last else f"rows {first} to {last}"
