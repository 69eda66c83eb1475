"""What of an order line is measured as it arrives, and the limits of a new part for it.

Shells, bushes, springs, shims, rings, pistons: whatever position follows a size table, or has a
wall, a thickness, a rate, a length or a figure that tells parts apart. The limits are those of the
drawing, never those of wear. Where the drawing leaves a figure to the grade it is worked out: a
piston's skirt is its bore as finished less the clearance. A ring's gap holds in the bore as
finished, or in a ring gauge of that size. A shim's thickness, or the outside of a bush or guide
that is pressed in, is what its number says, within what its maker allows, whatever the position's
usual part has.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.catalog.attributes import nearness
from kitting.catalog.model import Feature, Verdict
from kitting.measure import Limits

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from kitting.buying.orders import OrderLine
    from kitting.catalog.family import Family
    from kitting.catalog.model import Part, Position
    from kitting.catalog.size_tables import Grade, SizeTable
    from kitting.measure import Unit

_TELLING = frozenset({"wall", "thickness", "rate", "length", "width", "load"})
# Of many alike, so many are measured while all of those are good.
_MOST_PIECES = 8
_MOST_NAMED = 12
_PIECE = re.compile(r"(?P<number>[1-9][0-9]{0,6})(?: (?P<place>.*))?")
_GAUGE = "in the bore as finished or a ring gauge"


@dataclass(frozen=True, slots=True)
class Check:
    """One thing to measure of an order line as it arrives; `feature` holds the drawing's limits.

    `inner` are the places on one piece. Where the line is for several pieces (`apart`) a figure of
    each of the first `sample` is wanted, under its number; any of `pieces` may be measured.
    """

    key: str
    feature: Feature
    inner: tuple[str, ...] = ()
    apart: bool = False
    pieces: int = 1

    @property
    def places(self) -> tuple[tuple[str, str], ...]:
        """Station and direction of each figure that is wanted."""
        return tuple(
            (station, direction)
            for station in self.feature.stations or ("",)
            for direction in self.feature.directions or ("",)
        )

    @property
    def limits_text(self) -> str:
        """The drawing's limits in words."""
        low, high = self.feature.low, self.feature.high
        if low is None:
            return f"at most {high}"
        return f"{low} to {high}" if high is not None else f"at least {low}"

    @property
    def places_text(self) -> str:
        """Where a figure is wanted, in words; nothing where there is one place only."""
        names = [" ".join(filter(None, each)) for each in self.places]
        if len(names) > _MOST_NAMED:
            names = [*names[: _MOST_NAMED - 1], f"… {names[-1]}"]
        return f" at {', '.join(names)}" if names[0] else ""

    @property
    def sample(self) -> int:
        """Of how many pieces a figure is wanted, while none of them is found outside."""
        return min(self.pieces, _MOST_PIECES) if self.apart else 1

    @property
    def of_one(self) -> Feature:
        """What is measured of one piece, at its own places."""
        return replace(self.feature, stations=self.inner)

    def of_pieces(self, pieces: int) -> Check:
        """The same for so many pieces: as many figures are wanted as came."""
        check = replace(self, pieces=max(pieces, 1))
        stations = self.inner
        if self.apart:
            stations = tuple(
                f"{each} {place}".strip()
                for each in range(1, check.sample + 1)
                for place in self.inner or ("",)
            )
        return replace(check, feature=replace(self.feature, stations=stations))

    def place(self, text: str) -> tuple[str, str] | None:
        """Station and direction of a place as typed; a piece beyond the sample has its own."""
        wanted = {" ".join(filter(None, each)): each for each in self.places}
        if text in wanted or not self.apart:
            return wanted.get(text)
        piece = _PIECE.fullmatch(text)
        if piece is None or int(piece["number"]) > self.pieces:
            return None
        first = wanted.get(f"1 {piece['place'] or ''}".strip())
        return (f"{piece['number']}{first[0][1:]}", first[1]) if first is not None else None

    def piece(self, station: str) -> int:
        """Which piece a figure at that station is of."""
        return int(station.partition(" ")[0]) if self.apart else 1


def checks_of(families: Mapping[str, Family], line: OrderLine) -> tuple[Check, ...]:
    """What to measure of a line; `families` are the editions of its jobs, by job number.

    Positions of one size have one drawing between them.
    """
    found: dict[tuple[object, ...], Check] = {}
    for need in line.needed_by:
        family = families.get(need.job)
        for key in need.positions if family else ():
            position = family.position_by_key.get(key) if family else None
            if family and position:
                here: list[tuple[object, ...]] = []
                for feature in _drawing(family, position, need.grade, line):
                    same = (feature.kind, feature.low, feature.high, feature.unit.symbol)
                    again = here.count(same)
                    here.append(same)
                    found.setdefault((*same, again), _check(feature, position, line))
    kinds = [check.feature.kind for check in found.values()]
    return tuple(
        replace(check, key=check.feature.kind)
        if kinds.count(check.feature.kind) == 1
        else replace(check, key=check.feature.key)
        for check in found.values()
    )


def _check(feature: Feature, position: Position, line: OrderLine) -> Check:
    a_station_a_piece = len(feature.stations) == position.quantity > 1
    check = Check(
        key="",
        # Without its table: worn limits are none of a new part's, and it may be another family's.
        feature=replace(feature, ovality=None, taper=None, size_table="", part_tells=True),
        inner=() if a_station_a_piece else feature.stations,
        apart=line.pieces > 1,
    )
    return check.of_pieces(line.quantity)


def _drawing(
    family: Family, position: Position, grade_key: str, line: OrderLine
) -> Iterator[Feature]:
    table = family.table_by_key.get(position.sized_by) if position.sized_by else None
    grade = None
    if table is not None and grade_key in {grade.key for grade in table.grades}:
        grade = table.grade(grade_key)
        if grade.wall_low is not None and grade.wall_high is not None:
            yield _wall(table, grade, position)
    part = family.part_by_number.get(line.part)
    numbered = list(_as_numbered(part, position)) if part is not None else []
    own = {each.kind for each in numbered}
    for feature in family.features_of.get(position.key, ()):
        if table is not None and grade is not None and _is_skirt(family, feature):
            yield from _skirt(feature, table, grade)
        elif _on_the_part(feature):
            if not (feature.goes_with and feature.kind in own):
                yield feature
        elif feature.kind == "gap" and _limited(feature) and table and table.kind == "bore":
            yield replace(feature, name=f"{feature.name}, {_GAUGE}", at_build=False)
    yield from numbered


def _limited(feature: Feature) -> bool:
    return feature.low is not None or feature.high is not None


def _on_the_part(feature: Feature) -> bool:
    """Whether it is a figure of the part itself, with limits for a new one.

    The outside of a bush goes with its journal; other diameters and bores are finished when fitted.
    """
    in_hand = feature.kind == "diameter" and bool(feature.goes_with)
    told = feature.kind in _TELLING or in_hand or feature.part_tells
    set_at_build = feature.at_build and not feature.part_tells
    return told and _limited(feature) and not (feature.scores or set_at_build)


def _is_skirt(family: Family, feature: Feature) -> bool:
    """Whether it is the skirt of a piston, which goes with a bore that is machined in steps."""
    other = family.feature_by_key.get(feature.goes_with)
    return (
        feature.kind == "diameter"
        and not _limited(feature)
        and other is not None
        and other.kind == "bore"
        and bool(other.size_table)
    )


def _skirt(feature: Feature, table: SizeTable, grade: Grade) -> Iterator[Feature]:
    """The skirt with the limits that bore and clearance leave it; none where they leave nothing."""
    least = table.clearance_low if grade.clearance_low is None else grade.clearance_low
    most = table.clearance_high if grade.clearance_high is None else grade.clearance_high
    if grade.finish_low is None or grade.finish_high is None or least is None or most is None:
        return
    low, high = grade.finish_high - most, grade.finish_low - least
    if low <= high:
        source = f"{table.source}, {grade.name}: the bore as finished less the clearance"
        yield replace(feature, low=low, high=high, source=source)


def _wall(table: SizeTable, grade: Grade, position: Position) -> Feature:
    """The wall of a shell or bush of this grade, as a thing to measure."""
    return _new_part(
        f"{position.key}-wall",
        f"wall, {grade.name}",
        "wall",
        position,
        table.unit,
        Limits(grade.wall_low, grade.wall_high),
        f"{table.source}, {grade.name}",
    )


def _as_numbered(part: Part, position: Position) -> Iterator[Feature]:
    """What a part's number says of its thickness or outside, where it says how near it is."""
    near = nearness(part.attributes)
    if near is not None:
        name, stated, within = near
        yield _new_part(
            f"{position.key}-as-numbered",
            f"{name} of {part.number.number}",
            "diameter" if name == "outside" else name,
            position,
            stated.unit,
            Limits(stated - within, stated + within),
            f"{part.number}: {stated}, within {within}",
        )


def _new_part(
    key: str,
    name: str,
    kind: str,
    position: Position,
    unit: Unit,
    limits: Limits,
    source: str,
) -> Feature:
    return Feature(
        key=key,
        position=position.key,
        name=name,
        kind=kind,
        unit=unit,
        low=limits.low,
        high=limits.high,
        wear_low=None,
        wear_high=None,
        ovality=None,
        taper=None,
        size_table="",
        stations=(),
        directions=(),
        instrument="micrometer",
        if_out=Verdict.WRONG_PART,
        operation="",
        source=source,
        part_tells=True,
    )
