"""That what a part says of itself, and the sums read, can be read."""

from kitting.catalog.attributes import NEAR, WITHIN
from kitting.catalog.check_notes import Notes
from kitting.catalog.family import Family
from kitting.catalog.model import Part
from kitting.errors import BadInput
from kitting.measure import Quantity, parse_quantity


def check_parts(family: Family, notes: Notes) -> None:
    """Note every part whose allowed difference says nothing of its thickness or outside."""
    for part in family.parts:
        if WITHIN in part.attributes:
            _check_within(part, notes)


def _check_within(part: Part, notes: Notes) -> None:
    row = ("parts", str(part.number))
    name = next((name for name in NEAR if name in part.attributes), NEAR[0])
    within, stated = _length(part, WITHIN), _length(part, name)
    if stated is None:
        wrong = f"within says how near the {name} is, and there is no {name} that is a length"
        notes.fault(row, "attributes", wrong, f"{name}=0.005 in; within=0.0003 in")
    elif within is None:
        wrong = f"within={part.attributes[WITHIN]} is no length"
        notes.fault(row, "attributes", wrong, "within=0.0003 in")
    elif not 0 < within.base < stated.base:
        wrong = f"within {within} of {_article(name)} {name} of {stated} says nothing"
        notes.fault(row, "attributes", wrong, f"how far a new one may be from its {name}")


def _article(name: str) -> str:
    return "an" if name[0] in "aeiou" else "a"


def _length(part: Part, name: str) -> Quantity | None:
    try:
        figure = parse_quantity(part.attributes.get(name, ""))
    except BadInput:
        return None
    return figure if figure.is_length else None
