"""What stands where on a strip sheet, as plain values: the writer draws it, the filler knows it.

An assembly is a run of blocks, one a position. A block is never parted over two printed pages. No
cells are joined: joined cells go astray when rows are inserted.
"""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.job.measuring_plan import attributes_at, observations_at
from kitting.sheets.strip.keys import PRINTED, READINGS, Column, RowKey, RowKind
from kitting.sheets.strip.limits import limit_lines

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from kitting.catalog.family import Family
    from kitting.catalog.model import Assembly, Feature, Position, Variant
    from kitting.catalog.rules import Observation

TICK = "✓"
# Row heights in points: a box must take a finger on a tablet and a pencil on paper.
BOX_HEIGHT = 19
TEXT_HEIGHT = 13
LINE_HEIGHT = 13
SMALL_LINE = 12.5
GAP_HEIGHT = 6
# How many letters go on a line: small print across the page, a label, a hint.
_ACROSS = 118
_IN_WHAT = 30
_IN_HINT = 52


class Look(StrEnum):
    """How a cell looks; the writer has a style for each."""

    BAND = "band"
    BAND_FAINT = "band, faint"
    LABEL = "label"
    STATION = "station"
    DIRECTION = "direction"
    FAINT = "faint"
    LIMITS = "limits"
    FAINT_RIGHT = "faint, to the right"
    UNIT = "unit"
    CAUTION = "caution"
    BOX = "box"
    WIDE = "wide box"
    DAY = "box for a day"
    RUN_FIRST = "long box, its first cell"
    RUN_INNER = "long box, inside"
    RUN_LAST = "long box, its last cell"


@dataclass(frozen=True, slots=True)
class Shown:
    """One cell: its text, its look, and for a box the list to choose from.

    `choices` name a list: an observation's key, or one of the lists below.
    """

    text: str = ""
    look: Look = Look.LABEL
    choices: str = ""


TICKS = "tick"
INSTRUMENTS = "instruments"
YES_NO = "yes or no"


@dataclass(frozen=True, slots=True)
class Line:
    """One row of the sheet."""

    key: RowKey
    cells: Mapping[Column, Shown]
    height: float = BOX_HEIGHT


Block = tuple[Line, ...]


def choice_lists(family: Family) -> Mapping[str, tuple[str, ...]]:
    """Every list to choose from, by name."""
    instruments = dict.fromkeys(f.instrument for f in family.features if f.instrument)
    return MappingProxyType(
        {
            TICKS: (TICK,),
            YES_NO: ("yes", "no"),
            INSTRUMENTS: tuple(instruments),
            **{seen.key: seen.grades for seen in family.observations},
        }
    )


def assembly_blocks(family: Family, variant: Variant, assembly: Assembly) -> tuple[Block, ...]:
    """The blocks of an assembly's sheet, in the order in which it comes apart."""
    here = [p for p in family.positions_on(variant.key) if p.assembly == assembly.key]
    return (
        _assembly_block(assembly),
        *(_position_block(position, at, family) for at, position in enumerate(here, start=1)),
    )


def assemblies_on(family: Family, variant: Variant) -> tuple[Assembly, ...]:
    """The assemblies that a variant has anything in, in the order an engine comes apart."""
    used = {position.assembly for position in family.positions_on(variant.key)}
    ordered = sorted(family.assemblies, key=lambda assembly: assembly.sequence)
    return tuple(assembly for assembly in ordered if assembly.key in used)


def wrapped(text: str, look: Look, width: int = _ACROSS) -> Iterator[Line]:
    """Text over as many rows as it needs."""
    for line in textwrap.wrap(text, width):
        yield Line(PRINTED, {Column.WHAT: Shown(line, look)}, TEXT_HEIGHT)


def _assembly_block(assembly: Assembly) -> Block:
    return (
        *wrapped(assembly.caution, Look.CAUTION, 100),
        Line(
            RowKey(RowKind.STRIPPED, assembly.key),
            {
                Column.WHAT: Shown(f"{assembly.name}: taken apart?"),
                Column.LIMITS: Shown("", Look.BOX, YES_NO),
                Column.SECOND: Shown("by, on", Look.FAINT_RIGHT),
                Column.THIRD: Shown("", Look.WIDE),
                Column.TOOL: Shown("", Look.DAY),
            },
        ),
    )


def _position_block(position: Position, at: int, family: Family) -> Block:
    lines = [_head(position, at)]
    if position.caution:
        lines.extend(wrapped(f"Caution: {position.caution}", Look.CAUTION, 100))
    lines.extend(wrapped(position.note, Look.FAINT))
    for feature in family.features_of.get(position.key, ()):
        lines.extend(feature_lines(feature, limit_lines(feature, family)))
    for observation in observations_at(position, family).values():
        lines.extend(_seen_lines(position, observation))
    lines.extend(_fitted_lines(position, family))
    lines.append(
        Line(
            RowKey(RowKind.NOTE, position.key),
            {Column.WHAT: Shown("Notes"), **_run_on_boxes()},
        )
    )
    return tuple(lines)


def _head(position: Position, at: int) -> Line:
    many = f"{position.quantity} off"
    return Line(
        RowKey(RowKind.POSITION, position.key),
        {
            **{column: Shown("", Look.BAND) for column in Column},
            Column.WHAT: Shown(f"{at}  {position.name}", Look.BAND),
            Column.UNIT: Shown(many, Look.BAND_FAINT),
            Column.FIRST: Shown("must be looked at" if position.must_look else "", Look.BAND_FAINT),
            Column.THIRD: Shown("sound: tick", Look.BAND_FAINT),
            Column.TOOL: Shown("", Look.BOX, TICKS),
        },
    )


def feature_lines(feature: Feature, limits: Sequence[str]) -> Iterator[Line]:
    """The rows of a feature: a box for each reading of its plan, with its limits before them."""
    name = feature.name + (" (critical)" if feature.critical else "")
    tool = Shown(feature.instrument, Look.WIDE, INSTRUMENTS)
    if not feature.stations and not feature.directions:
        yield Line(
            RowKey(RowKind.READ, feature.key, ("", "")),
            {
                Column.WHAT: Shown(name),
                Column.LIMITS: Shown("\n".join(limits), Look.LIMITS),
                Column.UNIT: Shown(str(feature.unit), Look.UNIT),
                Column.FIRST: Shown("", Look.BOX),
                Column.TOOL: tool,
            },
            _height(name, limits),
        )
    else:
        yield from _grid(feature, name, limits, tool)
    yield from wrapped(feature.note, Look.FAINT)


def _grid(feature: Feature, name: str, limits: Sequence[str], tool: Shown) -> Iterator[Line]:
    """A heading row, then a row a station; directions beyond the columns take further rows."""
    directions = feature.directions or ("",)
    runs = [
        directions[start : start + len(READINGS)]
        for start in range(0, len(directions), len(READINGS))
    ]
    rest = list(limits)
    for run in runs:
        first = run is runs[0]
        heads = {
            column: Shown(f"at {direction}" if direction else "", Look.DIRECTION)
            for column, direction in zip(READINGS, run, strict=False)
        }
        yield Line(
            RowKey(RowKind.PLAN, feature.key) if first else PRINTED,
            {
                Column.WHAT: Shown(name if first else f"{name}, continued"),
                Column.LIMITS: Shown(rest.pop(0) if rest else "", Look.FAINT),
                Column.UNIT: Shown(str(feature.unit), Look.UNIT),
                **heads,
                **({Column.TOOL: tool} if first else {}),
            },
            max(TEXT_HEIGHT + 4, _height(name, limits[:1]) if len(name) > _IN_WHAT else 0),
        )
        stations = feature.stations or ("",)
        for station in stations:
            last = run is runs[-1] and station == stations[-1]
            shown = rest if last else rest[:1]
            rest = rest[len(shown) :]
            yield Line(
                RowKey(RowKind.READ, feature.key, (station, *run)),
                {
                    Column.WHAT: Shown(station, Look.STATION),
                    Column.LIMITS: Shown("\n".join(shown), Look.LIMITS),
                    **{
                        column: Shown("", Look.BOX)
                        for column, _ in zip(READINGS, run, strict=False)
                    },
                },
                _height(station, shown),
            )


def _seen_lines(position: Position, observation: Observation) -> Iterator[Line]:
    hint = textwrap.wrap(observation.question, _IN_HINT) or [""]
    yield Line(
        RowKey(RowKind.SEEN, position.key, (observation.key,)),
        {
            Column.WHAT: Shown(observation.name),
            Column.LIMITS: Shown("", Look.WIDE, observation.key),
            Column.UNIT: Shown("size", Look.FAINT_RIGHT),
            Column.FIRST: Shown("", Look.WIDE),
            Column.SECOND: Shown(hint[0], Look.FAINT),
        },
        _height(observation.name),
    )
    for more in hint[1:]:
        yield Line(PRINTED, {Column.SECOND: Shown(more, Look.FAINT)}, TEXT_HEIGHT)


def _fitted_lines(position: Position, family: Family) -> Iterator[Line]:
    yield Line(
        RowKey(RowKind.FITTED, position.key),
        {
            Column.WHAT: Shown("Fitted: number on it"),
            Column.LIMITS: Shown("", Look.WIDE),
            Column.SECOND: Shown("by, on", Look.FAINT_RIGHT),
            Column.THIRD: Shown("", Look.WIDE),
            Column.TOOL: Shown("", Look.DAY),
        },
    )
    attributes = attributes_at(position, family)
    if attributes:
        label = f"Fitted: measured {', '.join(attributes)}"
        yield Line(
            RowKey(RowKind.MEASURED, position.key),
            {Column.WHAT: Shown(label), **_run_on_boxes()},
            _height(label),
        )


def _height(label: str, limits: Sequence[str] = ()) -> float:
    """The height of a row whose label or limits need more than one line."""
    lines = len(textwrap.wrap(label, _IN_WHAT))
    return max(BOX_HEIGHT, LINE_HEIGHT * lines, SMALL_LINE * len(limits))


def _run_on_boxes() -> dict[Column, Shown]:
    """One long box made of the cells from the second column to the last."""
    first, *inner, last = list(Column)[1:]
    return {
        first: Shown("", Look.RUN_FIRST),
        **{column: Shown("", Look.RUN_INNER) for column in inner},
        last: Shown("", Look.RUN_LAST),
    }
