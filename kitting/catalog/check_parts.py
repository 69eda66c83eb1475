"""That what a part says of itself, and the sums read, can be read."""

from kitting.catalog.check_notes import Notes
from kitting.catalog.family import Family
from kitting.catalog.model import Part
from kitting.errors import BadInput
from kitting.measure import Quantity, parse_quantity


def check_parts(family: Family, notes: Notes) -> None:
    """Note every part whose allowed difference says nothing of its thickness."""
    for part in family.parts:
        if "within" in part.attributes:
            _check_within(part, notes)


def _check_within(part: Part, notes: Notes) -> None:
    row = ("parts", str(part.number))
    within, thickness = (_length(part, name) for name in ("within", "thickness"))
    if thickness is None:
        wrong = "within says how near the thickness is, and there is no thickness that is a length"
        notes.fault(row, "attributes", wrong, "thickness=0.005 in; within=0.0003 in")
    elif within is None:
        wrong = f"within={part.attributes['within']} is no length"
        notes.fault(row, "attributes", wrong, "within=0.0003 in")
    elif not 0 < within.base < thickness.base:
        wrong = f"within {within} of a thickness of {thickness} says nothing"
        notes.fault(row, "attributes", wrong, "how far a new one may be from its thickness")


def _length(part: Part, name: str) -> Quantity | None:
    try:
        figure = parse_quantity(part.attributes.get(name, ""))
    except BadInput:
        return None
    return figure if figure.is_length else None
