"""Wear of one journal or bore: round it, magnified, and along it, against what it should be."""

from __future__ import annotations

import textwrap
from itertools import pairwise
from math import cos, pi, radians
from typing import TYPE_CHECKING

from kitting.catalog.size_tables import SizeKind
from kitting.sheets.pictures.canvas import (
    FAINT,
    INK,
    MARKS,
    PALE,
    STROKES,
    Picture,
    drawn,
    our_look,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from matplotlib.axes import Axes

    from kitting.job.findings import Reading
    from kitting.job.machining import MachinedFeature
    from kitting.job.settings import Settings
    from kitting.job.size_choice import SizeChoice
    from kitting.measure import Quantity

_STEPS = 72


def wear_picture(
    choice: SizeChoice, found: MachinedFeature, readings: Sequence[Reading], settings: Settings
) -> Picture:
    """Draw one journal or bore as it was found."""
    wear = _Wear(choice, found, readings, settings)
    with our_look():
        picture = Picture(f"{found.feature.name}, as found")
        picture.heading(0.012, "round it")
        wear.round(picture.axes(0.05, 0.16, 0.32, 0.62, polar=True))
        picture.heading(0.48, wear.along_heading)
        wear.along(picture.axes(0.48, 0.16, 0.50, 0.65))
        picture.note(
            "Diameters, much magnified. Points are readings; the lines between them are drawn, "
            f"not measured. Bars: U (k = 2). Unit: {wear.unit}."
        )
    return picture


class _Wear:
    """What the two axes share."""

    def __init__(
        self,
        choice: SizeChoice,
        found: MachinedFeature,
        readings: Sequence[Reading],
        settings: Settings,
    ) -> None:
        self.choice, self.found, self.settings = choice, found, settings
        self.feature, self.unit = found.feature, found.feature.unit
        self.readings = tuple(readings)
        self.stations = tuple(dict.fromkeys(r.station for r in readings))
        self.directions = tuple(dict.fromkeys(r.direction for r in readings))
        self.values = {(r.station, r.direction): self._of(r.value) for r in readings}

    def _of(self, size: Quantity) -> float:
        return drawn(size, self.unit)

    def _marks(self) -> list[tuple[str, float, str]]:
        """The sizes that the readings are held against: name, size, stroke."""
        grade = self.choice.present
        marks = []
        if grade is not None:
            for name, size, stroke in (
                ("", grade.finish_low, "-"),
                (grade.name, grade.finish_high, "-"),
                ("worn", grade.worn, ":"),
            ):
                if size is not None:
                    marks.append((name, self._of(size), stroke))
        return marks

    def _span(self, extra: Sequence[float] = ()) -> tuple[float, float]:
        sizes = [*self.values.values(), *(size for _, size, _ in self._marks()), *extra]
        room = (max(sizes) - min(sizes)) * 0.12 or 0.001
        return min(sizes) - room, max(sizes) + room

    def round(self, axes: Axes) -> None:
        """The diameters by direction: a ring for each station inside the rings of the limits."""
        low, high = self._span()
        floor = low - (high - low) * 0.6
        turn = [step * 2 * pi / _STEPS for step in range(_STEPS + 1)]
        for name, size, stroke in self._marks():
            axes.plot(turn, [size] * len(turn), color=FAINT, linestyle=stroke, linewidth=0.8)
            if name:
                axes.text(radians(40), size, f" {name}", fontsize=6, color=FAINT, va="center")
        for at, station in enumerate(self.stations):
            self._ring(axes, station, at, turn)
        axes.set_ylim(floor, high)
        axes.set_yticks([low, (low + high) / 2, high])
        axes.set_yticklabels([])
        axes.set_xticks([self._angle(direction) for direction in self.directions])
        axes.set_xticklabels([_folded(direction) for direction in self.directions])
        axes.tick_params(axis="x", pad=1)
        axes.grid(color=PALE, linewidth=0.6)
        axes.legend(loc="upper center", bbox_to_anchor=(0.5, 0.02), ncols=3, columnspacing=0.8)

    def _ring(self, axes: Axes, station: str, at: int, turn: list[float]) -> None:
        at_angle = {
            self._angle(direction): self.values[station, direction]
            for direction in self.directions
            if (station, direction) in self.values
        }
        if not at_angle:
            return
        angles = [angle + half for half in (0, pi) for angle in at_angle]
        sizes = [size for _ in (0, 1) for size in at_angle.values()]
        axes.plot(
            angles, sizes, linestyle="none", marker=MARKS[at % len(MARKS)], color=INK,
            markerfacecolor="white", label=station or "reading",
        )  # fmt: skip
        if len(at_angle) > 1:
            shape = _outline(at_angle)
            stroke = STROKES[at % len(STROKES)]
            axes.plot(turn, [shape(t) for t in turn], color=INK, linestyle=stroke, linewidth=0.9)

    def _angle(self, direction: str) -> float:
        """Where a direction lies: its degrees, else an even share of the half turn."""
        try:
            return radians(float(direction))
        except ValueError:
            return pi * self.directions.index(direction) / len(self.directions)

    @property
    def along_heading(self) -> str:
        """What the picture along it shows."""
        grade = self.choice.present
        return f"along it; hatched: {grade.name} as finished" if grade else "along it"

    def along(self, axes: Axes) -> None:
        """The diameters by station, with U, the present grade, the wear limit and the clean-up."""
        even, one_sided = (
            self._of(self.found.clean_up_even),
            self._of(self.found.clean_up_one_sided),
        )
        places = range(len(self.stations))
        grade = self.choice.present
        if grade is not None and grade.finish_low is not None and grade.finish_high is not None:
            low, high = self._of(grade.finish_low), self._of(grade.finish_high)
            axes.axhspan(low, high, facecolor=PALE, edgecolor=FAINT, hatch="////", linewidth=0.4)
        if grade is not None and grade.worn is not None:
            _level(axes, f"worn limit, {grade.name}", self._of(grade.worn), ":", left=True)
        _level(axes, "cleans up, worn evenly", even, "--")
        _level(axes, "cleans up, one side", one_sided, "-.")
        for at, direction in enumerate(self.directions):
            self._line(axes, direction, at)
        bottom, top = self._span((even, one_sided))
        # Room beyond the furthest line for the legend.
        below, above = (0.0, 0.14) if self.choice.table.kind is SizeKind.BORE else (0.14, 0.0)
        axes.set_ylim(bottom - (top - bottom) * below, top + (top - bottom) * above)
        axes.set_xlim(-0.4, max(len(self.stations) - 0.1, 0.9))
        axes.set_xticks(list(places))
        axes.set_xticklabels([station or "reading" for station in self.stations])
        digits = self.unit.places
        axes.yaxis.set_major_formatter(lambda value, _: f"{value:.{digits}f}")
        upper = self.choice.table.kind is SizeKind.BORE
        axes.legend(loc="upper left" if upper else "lower left", ncols=len(self.directions))

    def _line(self, axes: Axes, direction: str, at: int) -> None:
        mine = [r for r in self.readings if r.direction == direction]
        shift = (at - (len(self.directions) - 1) / 2) * 0.08
        axes.errorbar(
            [self.stations.index(r.station) + shift for r in mine],
            [self._of(r.value) for r in mine],
            yerr=[self._of(self.settings.uncertainty_of(r, self.feature)) for r in mine],
            color=INK,
            linestyle=STROKES[at % len(STROKES)],
            marker=MARKS[at % len(MARKS)],
            markerfacecolor="white",
            capsize=2,
            label=f"at {direction}" if direction else "reading",
        )


def _level(axes: Axes, name: str, size: float, stroke: str, *, left: bool = False) -> None:
    """A line across at one size, named at one end."""
    axes.axhline(size, color=FAINT, linestyle=stroke, linewidth=0.9)
    axes.annotate(
        name,
        (0.0 if left else 1.0, size),
        xycoords=("axes fraction", "data"),
        xytext=(2 if left else -2, 1.5),
        textcoords="offset points",
        fontsize=6,
        ha="left" if left else "right",
        va="bottom",
        color=FAINT,
    )


def _folded(direction: str) -> str:
    """A direction as it stands beside the ring, on short lines."""
    return textwrap.fill(direction or "0", 8)


def _outline(at_angle: dict[float, float]) -> Callable[[float], float]:
    """An outline through the readings that comes round again after half a turn.

    Between two neighbours it goes over by half a cosine wave: for two directions at right angles
    that is the plain oval.
    """
    places = sorted(at_angle)
    places.append(places[0] + pi)

    def size_at(angle: float) -> float:
        turned = (angle - places[0]) % pi + places[0]
        for before, after in pairwise(places):
            if turned <= after:
                share = (1 - cos(pi * (turned - before) / (after - before))) / 2
                ahead = at_angle[after if after in at_angle else places[0]]
                return at_angle[before] * (1 - share) + ahead * share
        return at_angle[places[0]]

    return size_at
