"""The grades of one size table with the readings on them, and the clearance at each grade."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.engineering.band import Band
from kitting.engineering.clearance import ShellBearing, oil_clearance
from kitting.job.targets import RestsOn, clearance_wanted
from kitting.sheets.pictures.canvas import FAINT, HATCHES, INK, PALE, Picture, drawn, our_look

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from matplotlib.axes import Axes

    from kitting.catalog.size_tables import Grade, SizeTable
    from kitting.job.findings import Reading
    from kitting.job.settings import Settings
    from kitting.job.size_choice import SizeChoice
    from kitting.job.targets import FinishTarget

_BAR = 0.32


def tolerance_picture(
    choice: SizeChoice,
    readings: Mapping[str, Sequence[Reading]],
    targets: Sequence[FinishTarget],
    settings: Settings,
) -> Picture:
    """Draw a table's grades with the readings of each feature, and the clearance at every grade.

    `readings` by the key of their feature.
    """
    rows = _clearances(choice.table, targets)
    with our_look():
        picture = Picture(f"{choice.table.name}: sizes and clearances")
        wide = 0.42 if rows else 0.87
        picture.heading(0.10, "grades, readings and what to finish to")
        _sizes(picture.axes(0.10, 0.26, wide, 0.55), choice, readings, targets, settings)
        if rows:
            picture.heading(0.69, "clearance at every grade")
            _bars(picture.axes(0.69, 0.26, 0.29, 0.55), choice.table, rows)
        picture.note(
            "Hatched: by drawing. Open boxes: worked from what was measured. Shaded: the "
            f"clearance wanted. Points: readings with U (k = 2). Unit: {choice.table.unit}."
        )
    return picture


def _sizes(
    axes: Axes,
    choice: SizeChoice,
    readings: Mapping[str, Sequence[Reading]],
    targets: Sequence[FinishTarget],
    settings: Settings,
) -> None:
    unit = choice.table.unit
    features = [each.feature for each in choice.machined.features] if choice.machined else []
    for at, grade in enumerate(choice.table.machined):
        if grade.finish_low is None or grade.finish_high is None:
            continue
        low, high = drawn(grade.finish_low, unit), drawn(grade.finish_high, unit)
        axes.axhspan(
            low, high, facecolor=PALE, edgecolor=FAINT, hatch=HATCHES[at % 2], linewidth=0.4
        )
        axes.annotate(
            grade.name, (0.0, high), xycoords=("axes fraction", "data"), xytext=(2, 1),
            textcoords="offset points", fontsize=6.5, color=INK, va="bottom",
        )  # fmt: skip
    for at, each in enumerate(choice.machined.features if choice.machined else ()):
        mine = readings.get(each.feature.key, ())
        spread = [at + (n - (len(mine) - 1) / 2) * 0.05 for n in range(len(mine))]
        axes.errorbar(
            spread,
            [drawn(reading.value, unit) for reading in mine],
            yerr=[drawn(settings.uncertainty_of(reading, each.feature), unit) for reading in mine],
            color=INK, linestyle="none", marker="o", markerfacecolor="white", markersize=3,
            capsize=1.5, label="readings" if at == 0 else None,
        )  # fmt: skip
        for mark, size, name in (
            ("_", each.clean_up_even, "cleans up, worn evenly"),
            ("x", each.clean_up_one_sided, "cleans up, one side"),
        ):
            axes.plot(
                at + 0.3, drawn(size, unit), linestyle="none", marker=mark, markersize=8,
                color=INK, label=name if at == 0 else None,
            )  # fmt: skip
        for target in targets:
            if target.feature.key == each.feature.key:
                low, high = drawn(target.band.low, unit), drawn(target.band.high, unit)
                axes.bar(
                    at, high - low, width=0.5, bottom=low, facecolor="none", edgecolor=INK,
                    linewidth=1.3, label="finish to" if at == 0 and target == targets[0] else None,
                )  # fmt: skip
    axes.set_xlim(-0.7, len(features) - 0.3)
    axes.set_xticks(range(len(features)))
    axes.set_xticklabels([feature.name for feature in features])
    digits = unit.places
    axes.yaxis.set_major_formatter(lambda value, _: f"{value:.{digits}f}")
    axes.margins(y=0.10)
    axes.legend(loc="upper center", bbox_to_anchor=(0.5, -0.12), ncols=4, columnspacing=1.0)


def _clearances(
    table: SizeTable, targets: Sequence[FinishTarget]
) -> list[tuple[Grade, Band, tuple[FinishTarget, ...]]]:
    """Each grade whose clearance is known: by drawing, and the targets worked for it."""
    rows = []
    for grade in table.machined:
        by_drawing = _by_drawing(table, grade)
        if by_drawing is not None:
            mine = tuple(
                target
                for target in targets
                if target.grade == grade and target.rests_on is not RestsOn.DRAWING
            )
            rows.append((grade, by_drawing, mine))
    return rows


def _by_drawing(table: SizeTable, grade: Grade) -> Band | None:
    if grade.finish_low is None or grade.finish_high is None:
        return None
    journal = Band(grade.finish_low, grade.finish_high)
    if grade.wall_low is not None and grade.wall_high is not None:
        if table.housing_low is None or table.housing_high is None:
            return None
        housing = Band(table.housing_low, table.housing_high)
        walls = Band(grade.wall_low, grade.wall_high)
        return oil_clearance(ShellBearing.alike(housing, walls), journal)
    if table.kind == "shaft" and grade.lined_low is not None and grade.lined_high is not None:
        return clearance_wanted(table, grade)
    return None


def _bars(
    axes: Axes, table: SizeTable, rows: Sequence[tuple[Grade, Band, tuple[FinishTarget, ...]]]
) -> None:
    unit = table.unit
    wanted = clearance_wanted(table, rows[0][0])
    if wanted is not None:
        low, high = drawn(wanted.low, unit), drawn(wanted.high, unit)
        axes.axvspan(low, high, facecolor=PALE, edgecolor="none")
        for edge in (low, high):
            axes.axvline(edge, color=FAINT, linewidth=0.8)
    for at, (_, band, targets) in enumerate(rows):
        low, high = drawn(band.low, unit), drawn(band.high, unit)
        axes.barh(
            at - _BAR / 2, high - low, height=_BAR, left=low, facecolor="white", edgecolor=FAINT,
            hatch="////", linewidth=0.8,
        )  # fmt: skip
        gives = [target.gives for target in targets if target.gives is not None]
        if gives:
            low = min(drawn(each.low, unit) for each in gives)
            high = max(drawn(each.high, unit) for each in gives)
            axes.barh(
                at + _BAR / 2, high - low, height=_BAR, left=low, facecolor="white",
                edgecolor=INK, linewidth=1.3,
            )  # fmt: skip
    if table.clearance_limit is not None:
        limit = drawn(table.clearance_limit, unit)
        axes.axvline(limit, color=INK, linestyle="-.", linewidth=1.1)
        axes.annotate(
            "limit of use", (limit, 0.98), xycoords=("data", "axes fraction"), xytext=(-2, 0),
            textcoords="offset points", fontsize=6, rotation=90, ha="right", va="top",
        )  # fmt: skip
    most = [band.high for _, band, _ in rows]
    if table.clearance_limit is not None:
        most.append(table.clearance_limit)
    axes.set_xlim(min(0.0, *(drawn(band.low, unit) for _, band, _ in rows)), None)
    axes.set_xlim(right=drawn(max(most), unit) * 1.06)
    axes.set_yticks(range(len(rows)))
    axes.set_yticklabels([grade.name for grade, _, _ in rows])
    axes.invert_yaxis()
    digits = unit.places
    axes.xaxis.set_major_formatter(lambda value, _: f"{value:.{digits}f}")
    axes.tick_params(axis="x", rotation=30)
