"""The job book's sheet of what is made to suit: bands to finish to, bushes to ream, shims."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.sheets.jobs.works_suits import bush_figures, pin_figures
from kitting.sheets.page import Column, Row
from kitting.sheets.tables import Table
from kitting.sheets.words import chain_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.job.path import JobPath


def suit_table(path: JobPath) -> Table:
    """Every band, bore and stack that follows from what was measured, with its reasons."""
    columns = (
        Column("What", 30),
        Column("At", 16),
        Column("Do", 46),
        Column("Which gives", 24),
        Column("Worked from", 24),
        Column("Because", 84),
    )
    rows = (*_targets(path), *_bushes(path), *_pins(path), *_shims(path), *_washers(path))
    return Table(
        "Made to suit",
        "Bands to finish to, bushes and guides to ream, shims and washers",
        columns,
        rows,
    )


def _targets(path: JobPath) -> Iterator[Row]:
    for target in path.sizes.targets:
        notes = "".join(f"\n{note}" for note in target.notes)
        yield (
            target.feature.name,
            target.grade.name,
            f"finish to {target.band}{notes}",
            str(target.gives) if target.gives is not None else "",
            str(target.rests_on),
            chain_text((target.because,)),
        )


def _bushes(path: JobPath) -> Iterator[Row]:
    for bush in path.sizes.bushes:
        reasons = (bush.because, *((bush.fit.because,) if bush.fit else ()))
        yield (
            bush.position.name,
            bush.grade.name,
            "\n".join(bush_figures(bush)),
            str(bush.wanted),
            "journal measured" if bush.measured else "drawings, until it is cut",
            chain_text(reasons),
        )


def _pins(path: JobPath) -> Iterator[Row]:
    for each in path.sizes.pin_bores:
        yield (
            each.position.name,
            "",
            "\n".join(pin_figures(each)),
            str(each.wanted),
            "pin or stem measured" if each.measured else "drawings, until it is measured",
            chain_text((each.because,)),
        )


def _shims(path: JobPath) -> Iterator[Row]:
    for found in path.sizes.shims:
        best = found.choice.best if found.choice else None
        yield (
            found.feature.name,
            "",
            "leave as it is" if found.as_it_is else str(best) if best else "measure the shims",
            str(best.gives) if best and not found.as_it_is else str(found.measured),
            "measured with shims in place" if found.in_place is not None else "float alone",
            chain_text((found.because,)),
        )


def _washers(path: JobPath) -> Iterator[Row]:
    for washer in path.sizes.washers:
        yield (
            washer.position.name,
            "",
            f"fit {washer.part}" if washer.part else "open: see the reason",
            str(washer.value) if washer.value is not None else "",
            "end float" if washer.value is not None else "nothing measured",
            chain_text((washer.because,)),
        )
