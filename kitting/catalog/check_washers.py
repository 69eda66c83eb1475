"""That a position's thrust washers make one table, entered with a float that is measured there."""

from collections.abc import Iterable, Iterator, Mapping

from kitting.catalog.attributes import FOR_FLOAT
from kitting.catalog.check_notes import Notes
from kitting.catalog.conditions import holds_for
from kitting.catalog.family import Family
from kitting.catalog.model import Fit, PartNumber, Position, Variant
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
    """What two rows of one table both answer for, on any engine that there may be."""
    fitted = [fit for fit in fits if fit.part in rows]
    tables: set[tuple[WasherRow, ...]] = set()
    for variant in position.variants or tuple(family.variant_by_key):
        for running in _where_it_changes(family.variant_by_key.get(variant), fitted):
            here = [rows[fit.part] for fit in fitted if holds_for(fit, variant, running)]
            table = tuple(in_order(here)) if here else ()
            if table and table not in tables:
                tables.add(table)
                yield from _wrong_with(table)


def _where_it_changes(variant: Variant | None, fits: Iterable[Fit]) -> list[int | None]:
    """The running numbers of a variant from which on other washers fit; None: not known."""
    if variant is None:
        return [None]
    changes = {variant.first}
    for fit in fits:
        changes |= {fit.first} if fit.first is not None else set()
        changes |= {fit.last + 1} if fit.last is not None else set()
    return [None, *sorted(at for at in changes if variant.first <= at <= variant.last)]


def _wrong_with(table: tuple[WasherRow, ...]) -> Iterator[str]:
    try:
        check_rows(table)
    except BadInput as error:
        yield from (f"{each.place}: {each.wrong}; {each.right}" for each in error.problems)
    else:
        yield from find_overlaps(table)
