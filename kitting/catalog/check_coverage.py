"""What lacks its other half: positions and grades with no part, parts that fit nothing."""

from kitting.catalog.check_links import superseded
from kitting.catalog.check_notes import Notes
from kitting.catalog.family import Family
from kitting.catalog.model import PartNumber


def check_coverage(family: Family, notes: Notes) -> None:
    """Warn of every gap; none of them stops a loading, for a catalogue grows."""
    _check_positions(family, notes)
    _check_parts(family, notes)
    gone = superseded(family)
    for at, item in enumerate(family.set_items):
        if item.part in gone:
            notes.warn(
                ("sets", str(at)),
                "part",
                f"the set {item.set} holds {item.part}, which {gone[item.part].new} supersedes",
                "does the set hold the new number by now?",
            )


def _check_positions(family: Family, notes: Notes) -> None:
    for position in family.positions:
        row = ("positions", position.key)
        fits = family.fits_of.get(position.key, ())
        if not fits:
            notes.warn(row, "", f"no part fits {position.key}", "add a row to fits.csv")
            continue
        for variant in position.variants or tuple(family.variant_by_key):
            if not any(not fit.variants or variant in fit.variants for fit in fits):
                notes.warn(
                    row, "", f"no part fits {position.key} on {variant}", "add a row to fits.csv"
                )
        table = family.table_by_key.get(position.sized_by)
        if table is None or any(not fit.grade for fit in fits):
            continue
        stocked = {fit.grade for fit in fits}
        for grade in table.grades:
            if grade.key not in stocked:
                notes.warn(
                    ("grades", f"{table.key}/{grade.key}"),
                    "",
                    f"no part for {position.key} is of this grade",
                    "add a row to fits.csv, or take the grade out",
                )


def _check_parts(family: Family, notes: Notes) -> None:
    used: set[PartNumber] = {fit.part for fit in family.fits}
    for link in family.links:
        used |= {link.old, link.new, *link.needs}
    for item in family.set_items:
        used |= {item.set, item.part}
    for part in family.parts:
        if part.number not in used:
            key = f"{part.number.maker}:{part.number.normal}"
            notes.warn(
                ("parts", key),
                "part",
                f"{part.number} fits nothing, and no link or set has it",
                "add a row to fits.csv",
            )
