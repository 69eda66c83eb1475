"""What the works sheet says of fits: the bands to finish to, what they rest on, bushes to ream."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.job.known_sizes import outward
from kitting.job.targets import RestsOn

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from kitting.catalog.size_tables import Grade
    from kitting.engineering.band import Band
    from kitting.job.bush_sizes import BushSize
    from kitting.job.pin_bores import PinBore
    from kitting.job.size_choice import SizeChoice
    from kitting.job.targets import FinishTarget
    from kitting.sheets.page import Row

_ORDER = "order of work:"


def finish_rows(choice: SizeChoice, targets: Sequence[FinishTarget]) -> Iterator[Row]:
    """The bands to finish to, likely and at worst: case, grade, limits, clearance they give.

    Where one band suits them all it stands once; else each journal or bore has its own row.
    """
    alike = choice.likely == choice.worst
    first = "whichever way it is worn" if alike else "worn evenly"
    yield from _rows(choice.likely, targets, first)
    if not alike:
        yield from _rows(choice.worst, targets, "worn all on one side")


def _rows(grade: Grade | None, targets: Sequence[FinishTarget], case: str) -> Iterator[Row]:
    mine = [target for target in targets if target.grade == grade]
    if grade is None or not mine:
        yield (case, "none: ask us", "", "", "", "")
    elif len({(target.band, target.gives) for target in mine}) == 1:
        yield _row(case, mine[0])
    else:
        yield from (_row(f"{case}: {target.feature.name}", target) for target in mine)


def _row(case: str, target: FinishTarget) -> Row:
    gives = _ends(target.gives)
    return (case, target.grade.name, *_ends(target.band), *gives)


def _ends(band: Band | None) -> tuple[str, str]:
    return (str(band.low), str(band.high)) if band is not None else ("", "")


def rests_facts(choice: SizeChoice, targets: Sequence[FinishTarget]) -> Iterator[tuple[str, str]]:
    """What the bands were worked from, and what to mind about them."""
    mine = [target for target in targets if target.grade == choice.likely] or list(targets)
    kinds = dict.fromkeys(target.rests_on for target in mine)
    if set(kinds) == {RestsOn.DRAWING}:
        yield "Worked from", "drawings alone: nothing that goes with it has been measured yet"
    elif kinds:
        yield "Worked from", "; ".join(str(kind) for kind in kinds)
        for says in dict.fromkeys(step.says for each in mine for step in each.because.after):
            yield "", says
    for note in dict.fromkeys(note for target in targets for note in target.notes):
        yield "Mind", note


def order_of_work(notes: Sequence[str]) -> tuple[str, ...]:
    """The steps, in order, of the note that lists them."""
    for note in notes:
        if note.lower().startswith(_ORDER):
            listed = note[len(_ORDER) :].rstrip(".").split(",")
            return tuple(step.strip() for step in listed if step.strip())
    return ()


def without_order(notes: Sequence[str]) -> tuple[str, ...]:
    """The other notes."""
    return tuple(note for note in notes if not note.lower().startswith(_ORDER))


def bush_figures(bush: BushSize) -> Iterator[str]:
    """What a bush is reamed to on its journal, and how it goes in."""
    state = "as measured" if bush.measured else f"at {bush.grade.name}, by drawing until it is cut"
    yield f"{bush.journal.name}: {outward(bush.journal_band, bush.journal.unit)}, {state}"
    if bush.bore is None:
        yield f"no one bore gives {bush.wanted} all over this journal: ask us"
    else:
        yield f"ream to {bush.bore} after fitting, for a clearance of {bush.wanted}"
        if not bush.measured:
            yield "once it is cut, ream to the journal as measured plus that clearance"
    if bush.fit is None:
        return
    yield f"goes in tight by {bush.fit.interference} ({bush.fit.metals})"
    if bush.fit.heat is not None and bush.fit.chilled is not None:
        yield (
            f"to drop in, housing at {bush.fit.heat} °C; or at {bush.fit.chilled} °C with the bush "
            "at −18 °C. Even heat, no flame; the maker's manual comes before these"
        )
    if not bush.fit.tight:
        yield "not held by its fit when the engine is hot: peg it"


def pin_figures(found: PinBore) -> Iterator[str]:
    """What a bush or guide is reamed to on the pin or stem that runs in it."""
    state = "as measured" if found.measured else "by drawing until it is measured"
    yield f"{found.pin.name}: {outward(found.pin_band, found.pin.unit)}, {state}"
    if found.bore is None:
        yield f"no one bore gives {found.wanted} all along it: ask us"
        return
    yield f"ream to {found.bore} after fitting, for a clearance of {found.wanted}"
    if not found.measured:
        yield "once it is in hand, ream to it as measured plus that clearance"
