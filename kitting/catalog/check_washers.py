"""That a position's thrust washers make one table, entered with a float that is measured there."""

from collections.abc import Iterator, Mapping

from kitting.catalog.attributes import FOR_FLOAT
from kitting.catalog.check_notes import Notes
from kitting.catalog.family import Family
from kitting.catalog.model import Fit, PartNumber, Position
from kitting.engineering.thrust import WasherRow, check_rows, find_overlaps, in_order, row_said
from kitting.errors import BadInput


def check_washers(family: Family, notes: Notes) -> None:
    """Note every washer whose float cannot be read, and tables that contradict themselves."""
    rows = _rows(family, notes)
    said = {part.number for part in family.parts if FOR_FLOAT in part.attributes}
    for position in family.positions:
        fits = family.fits_of.get(position.key, ())
        if not any(fit.part in said for fit in fits):
            continue
        row = ("positions", position.key)
        features = family.features_of.get(position.key, ())
        if not any(feature.kind == "end float" for feature in features):
            wrong = f"a float chooses the parts of {position.key}, and none is measured there"
            notes.fault(row, "", wrong, "give the position a feature of kind end float")
        for fit in fits:
            if fit.part not in said:
                wrong = f"{fit.part} fits {position.key} too, and no float ever chooses it"
                notes.warn(row, "", wrong, f"say '{FOR_FLOAT}' of it, or take its fit out")
        for wrong in dict.fromkeys(_contradictions(family, position, fits, rows)):
            notes.fault(row, "", f"the washers of {position.key}: {wrong}", "one washer a float")


def _rows(family: Family, notes: Notes) -> dict[PartNumber, WasherRow]:
    """The range of float that each washer serves; a fault for each that cannot be read."""
    found = {}
    for part in family.parts:
        if FOR_FLOAT in part.attributes:
            try:
                found[part.number] = row_said(str(part.number), part.attributes[FOR_FLOAT])
            except BadInput as error:
                for problem in error.problems:
                    row = ("parts", str(part.number))
                    notes.fault(row, "attributes", problem.wrong, problem.right)
    return found


def _contradictions(
    family: Family,
    position: Position,
    fits: tuple[Fit, ...],
    rows: Mapping[PartNumber, WasherRow],
) -> Iterator[str]:
    """What two rows of one table both answer for; engine numbers may part two tables."""
    always = [fit for fit in fits if fit.part in rows and fit.first is None and fit.last is None]
    for variant in position.variants or tuple(family.variant_by_key):
        here = [rows[fit.part] for fit in always if not fit.variants or variant in fit.variants]
        if not here:
            continue
        table = in_order(here)
        try:
            check_rows(table)
        except BadInput as error:
            yield from (
                f"{problem.place}: {problem.wrong}; {problem.right}" for problem in error.problems
            )
        else:
            yield from find_overlaps(table)
