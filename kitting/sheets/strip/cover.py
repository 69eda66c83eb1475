"""The cover of a strip sheet and its sheet of sizes, as plain values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.sheets.strip.keys import Field
from kitting.sheets.strip.limits import band, figure, worn_limit

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.catalog.family import Family
    from kitting.catalog.model import Variant
    from kitting.catalog.size_tables import SizeTable
    from kitting.job.findings import Job

CAUTIONS = (
    "LEFT-HAND THREADS FIRST. Find every one below and mark it before anyone reaches for a bar.",
    "Used engine oil harms the skin and can cause cancer: gloves, no oily rag in a pocket.",
    "Old joints, clutch and brake linings may hold asbestos: never blow, brush or sand them dry. "
    "Wet them, lift them whole, bag them, and follow the local rules.",
    "Springs, presses and hot cases bite: eye protection, gloves, nobody in line with them.",
    "Keep what comes out of the filter, the sump and the sludge trap: it tells what to look for.",
    "The figures here are aids. The maker's manual, local rules and a competent engineer come "
    "first. What turns is crack-tested before money is spent on it.",
)
HOW_TO = (
    "Write in the yellow boxes only. Leave a box empty where nothing was measured.",
    "A figure is taken in the unit that stands before its box. Another unit may be written with "
    'it: 42.85 mm, 1.5 thou, 1.6872", 1 11/16 in. A point for the decimals, never a comma.',
    "One reading a box, at the place and in the direction shown: '0' and '90' are across one "
    "another. Change the instrument where it was another one.",
    "What was seen is chosen from the list; 'size' takes how deep or how long, with its unit: "
    "2 thou.",
    "Tick 'sound' where a part was looked at and nothing is amiss. A part without a word counts "
    "as not looked at.",
    "Fitted: write the number on the part, or what was measured off it: height=0.31 in.",
    "A reading that looks impossible and is right gets an exclamation mark: 0.060 in !",
    "Names and days on the single sheets are needed only where they differ from this page.",
    "Sheets may be renamed and rows put in; no column may be taken out. Save it as .xlsx.",
)


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the cover that is filled in."""

    field: Field
    label: str
    text: str = ""
    hint: str = ""


def entries(variant: Variant, job: Job | None) -> tuple[Entry, ...]:
    """What the cover asks for, filled in as far as the job says it."""
    numbers = f"{variant.prefix} {variant.first} to {variant.last}, {variant.years}"
    return (
        Entry(Field.JOB, "Job number", job.number if job else ""),
        Entry(Field.ENGINE, "Engine number", job.engine_number if job else "", numbers),
        Entry(Field.WHO, "Who strips and measures", "", "a name: it stands with every finding"),
        Entry(Field.WHEN, "Day", "", "such as 2024-05-01"),
        Entry(Field.NOTES, "Notes on the whole engine"),
    )


def cautions_of(family: Family, variant: Variant) -> Iterator[str]:
    """What the catalogue itself cautions of, in the order in which the engine comes apart."""
    told = set()
    for position in family.positions_on(variant.key):
        assembly = family.assembly_by_key[position.assembly]
        if assembly.caution and assembly.key not in told:
            yield f"{assembly.name}: {assembly.caution}"
        told.add(assembly.key)
        if position.caution:
            yield f"{assembly.name}, {position.name}: {position.caution}"


SIZE_HEADINGS = ("Grade", "Finished size", "Limit of use", "Shell's wall", "Takes up wear of")


def size_rows(table: SizeTable) -> Iterator[tuple[str, ...]]:
    """The grades of a size table, a row each under `SIZE_HEADINGS`."""
    for grade in table.grades:
        yield (
            grade.name or grade.key,
            band(grade.finish_low, grade.finish_high, table.unit),
            worn_limit(table, grade),
            band(grade.wall_low, grade.wall_high, table.unit),
            figure(grade.takes_up, table.unit) if grade.takes_up is not None else "",
        )
