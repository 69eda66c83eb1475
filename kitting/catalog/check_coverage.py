"""What lacks its other half: parts that fit nothing, sets that hold what is superseded."""

from kitting.catalog.check_links import superseded
from kitting.catalog.check_notes import Notes
from kitting.catalog.family import Family
from kitting.catalog.model import PartNumber

_NAMED = 5


def check_coverage(family: Family, notes: Notes) -> None:
    """Warn of every part that leads to no position; none stops a loading, for a catalogue grows."""
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


def _check_parts(family: Family, notes: Notes) -> None:
    beside = _joined(family)
    seen = {fit.part for fit in family.fits}
    _with_all_beside(seen, list(seen), beside)
    for part in family.parts:
        if part.number in seen:
            continue
        group = {part.number}
        _with_all_beside(group, [part.number], beside)
        seen |= group
        key = f"{part.number.maker}:{part.number.normal}"
        notes.warn(("parts", key), "part", _astray(part.number, group), "add a row to fits.csv")


def _joined(family: Family) -> dict[PartNumber, list[PartNumber]]:
    """The numbers that links and sets put beside each one."""
    beside: dict[PartNumber, list[PartNumber]] = {}
    pairs = [(link.old, other) for link in family.links for other in (link.new, *link.needs)]
    pairs += [(item.set, item.part) for item in family.set_items]
    for one, other in pairs:
        beside.setdefault(one, []).append(other)
        beside.setdefault(other, []).append(one)
    return beside


def _with_all_beside(
    found: set[PartNumber], waiting: list[PartNumber], beside: dict[PartNumber, list[PartNumber]]
) -> None:
    """Add all that is joined with what waits, however far."""
    while waiting:
        for each in beside.get(waiting.pop(), ()):
            if each not in found:
                found.add(each)
                waiting.append(each)


def _astray(part: PartNumber, group: set[PartNumber]) -> str:
    others = sorted(group - {part})
    if not others:
        return f"{part} fits nothing, and no link or set has it"
    named = ", ".join(map(str, others[:_NAMED]))
    more = f" and {len(others) - _NAMED} more" if len(others) > _NAMED else ""
    return f"{part} fits nothing, nor does what links and sets join it with: {named}{more}"
