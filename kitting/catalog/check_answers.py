"""That something is to be had for each position: on every engine, and at every grade of its table.

Days are not told apart: it is asked whether anything answers once all that is said is in force.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date

from kitting.catalog.check_notes import Notes
from kitting.catalog.conditions import holds_for
from kitting.catalog.family import Family
from kitting.catalog.model import Fit, Link, LinkKind, PartNumber, Position, Variant
from kitting.catalog.resolver import links_about, resolve
from kitting.catalog.ways import Need, Subgraph

_REASONS = 3
_ADD_A_ROW = "add a row to fits.csv"


def check_answers(family: Family, notes: Notes) -> None:
    """Warn of every gap; none of them stops a loading, for a catalogue grows."""
    old = {link.old for link in family.links if link.kind is LinkKind.SUPERSEDED}
    for position in family.positions:
        fits = family.fits_of.get(position.key, ())
        if fits:
            _check_place(_Place(family, position, fits, old), notes)
        else:
            row = ("positions", position.key)
            notes.warn(row, "", f"no part fits {position.key}", _ADD_A_ROW)


@dataclass(frozen=True, slots=True)
class _Engines:
    """The engines of a variant from one running number to another."""

    variant: Variant
    first: int
    last: int

    @property
    def are_all(self) -> bool:
        """Whether the variant has no other engine."""
        return (self.first, self.last) == (self.variant.first, self.variant.last)

    def __str__(self) -> str:
        numbers = "" if self.are_all else f", engines {self.first} to {self.last}"
        return f"{self.variant.key}{numbers}"


@dataclass(slots=True)
class _Gaps:
    """On which engines nothing fits, nothing is of a grade, or nothing answers for what is."""

    bare: list[_Engines] = field(default_factory=list)
    of_grade: dict[str, list[_Engines]] = field(default_factory=dict)
    unanswered: dict[tuple[str, str], list[_Engines]] = field(default_factory=dict)


def _check_place(place: "_Place", notes: Notes) -> None:
    gaps, key = place.gaps(), place.position.key
    row = ("positions", key)
    for engines in _joined(gaps.bare):
        notes.warn(row, "", f"no part fits {key} on {engines}", _ADD_A_ROW)
    for grade, where in gaps.of_grade.items():
        on, taken = _on(place, where), ", ".join(sorted({str(fit.part) for fit in place.of_any}))
        instead = f"; {taken}, whose row has no grade, is taken for it" if taken else ""
        notes.warn(
            ("grades", f"{place.position.sized_by}/{grade}"),
            "",
            f"no part for {key} is of this grade{on}{instead}",
            f"{_ADD_A_ROW}, or take the grade out" if not on else _ADD_A_ROW,
        )
    for (grade, why), where in gaps.unanswered.items():
        at = f" at grade {grade}" if grade else ""
        notes.warn(
            row,
            "",
            f"nothing answers for what fits {key}{at}{_on(place, where)}: {why}",
            "give the number that is current a row in fits.csv, or bound the link to its engines",
        )


def _on(place: "_Place", where: list[_Engines]) -> str:
    """On which engines, in words; empty where it is on all that the position is on."""
    joined = _joined(where)
    if {each.variant.key for each in joined if each.are_all} == set(place.variants):
        return ""
    return f" on {' and on '.join(map(str, joined))}"


def _joined(where: Iterable[_Engines]) -> list[_Engines]:
    """The same engines, what follows on each other joined."""
    found: list[_Engines] = []
    for each in where:
        before = found[-1] if found else None
        if before and before.variant == each.variant and before.last + 1 == each.first:
            found[-1] = replace(before, last=each.last)
        else:
            found.append(each)
    return found


class _Place:
    """A position with the rows that fit it."""

    def __init__(
        self, family: Family, position: Position, fits: tuple[Fit, ...], old: set[PartNumber]
    ) -> None:
        self.position = position
        self.variants = [
            key
            for key in position.variants or tuple(family.variant_by_key)
            if key in family.variant_by_key
        ]
        self.of_any = [fit for fit in fits if position.sized_by and not fit.grade]
        self._family = family
        self._fits = fits
        self._old = old
        table = family.table_by_key.get(position.sized_by)
        graded = table is not None and any(fit.grade for fit in fits)
        self._grades = [grade.key for grade in table.grades] if table and graded else [""]
        self._graphs: dict[PartNumber, Subgraph] = {
            fit.part: Subgraph(links_about(family, fit.part), fits)
            for fit in fits
            if fit.part in old
        }

    def gaps(self) -> _Gaps:
        """What is missing, engine by engine and grade by grade."""
        found = _Gaps()
        for engines in self._engines():
            here = [fit for fit in self._fits if holds_for(fit, engines.variant.key, engines.first)]
            if not here:
                found.bare.append(engines)
                continue
            for grade in self._grades:
                serving = [fit for fit in here if fit.grade in {"", grade}]
                if grade and not any(fit.grade for fit in serving):
                    found.of_grade.setdefault(grade, []).append(engines)
                why = self._why_unanswered(serving, engines, grade)
                if why:
                    found.unanswered.setdefault((grade, why), []).append(engines)
        return found

    def _why_unanswered(self, serving: list[Fit], engines: _Engines, grade: str) -> str:
        """Why nothing answers for any of some rows; empty where something does, or none is."""
        if any(fit.part not in self._old for fit in serving):
            return ""
        reasons: dict[str, None] = {}
        for fit in serving:
            need = Need(
                part=fit.part,
                quantity=fit.quantity or self.position.quantity,
                position=self.position.key,
                variant=engines.variant.key,
                running=engines.first,
                grade=grade,
                whole=True,
            )
            answer = resolve(need, self._graphs[fit.part], date.max)
            if answer.ways or answer.problems:
                return ""
            told = (each for each in answer.not_taken if not each.barred)
            reasons |= dict.fromkeys(f"{each.part}: {each.why}" for each in told)
        return "; ".join(list(reasons)[:_REASONS])

    def _engines(self) -> Iterator[_Engines]:
        """Each variant, cut wherever another row of fits or links begins or ends to hold."""
        links = {link for graph in self._graphs.values() for link in graph.links}
        cuts = _cuts((*self._fits, *links))
        for key in self.variants:
            variant = self._family.variant_by_key[key]
            starts = [variant.first, *(at for at in cuts if variant.first < at <= variant.last)]
            ends = [*(at - 1 for at in starts[1:]), variant.last]
            for first, last in zip(starts, ends, strict=True):
                yield _Engines(variant, first, last)


def _cuts(rows: Iterable[Fit | Link]) -> list[int]:
    """The running numbers at which a row begins to hold, or holds no more."""
    starts = {row.first for row in rows if row.first is not None}
    return sorted(starts | {row.last + 1 for row in rows if row.last is not None})
