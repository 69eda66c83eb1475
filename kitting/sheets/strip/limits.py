"""The limits of a feature in the few words that stand beside its cell; the unit has its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kitting.catalog.family import Family
    from kitting.catalog.model import Feature
    from kitting.catalog.size_tables import Grade, SizeTable
    from kitting.measure import Quantity, Unit


def limit_lines(feature: Feature, family: Family) -> tuple[str, ...]:
    """What a feature measures when new, where its use ends, and its form, a line each.

    A feature with a size table shows the standard grade; the others stand on the sheet of sizes.
    """
    unit = feature.unit
    if feature.size_table and not feature.scores:
        lines = _grade_lines(family.table_by_key[feature.size_table], unit)
    else:
        lines = [
            band(feature.low, feature.high, unit, "new "),
            _use(feature.wear_low, feature.wear_high, unit),
        ]
    form = [
        f"{name} {figure(limit, unit)}"
        for name, limit in (("ovality", feature.ovality), ("taper", feature.taper))
        if limit is not None
    ]
    return tuple(line for line in (*lines, ", ".join(form)) if line)


def band(low: Quantity | None, high: Quantity | None, unit: Unit, before: str = "") -> str:
    """A band as '1.4990 to 1.4995', 'at most 0.003', or nothing."""
    if low is not None and high is not None:
        return f"{before}{figure(low, unit)} to {figure(high, unit)}"
    if low is not None:
        return f"{before}at least {figure(low, unit)}"
    return f"{before}at most {figure(high, unit)}" if high is not None else ""


def figure(value: Quantity, unit: Unit) -> str:
    """The number alone, in `unit`, with its usual places."""
    return value.to(unit).show().removesuffix(f" {unit}")


def worn_limit(table: SizeTable, grade: Grade) -> str:
    """Where the use of a grade ends: below for a shaft, above for a bore."""
    if grade.worn is None:
        return ""
    side = "under" if table.kind == "shaft" else "over"
    return f"worn {side} {figure(grade.worn, table.unit)}"


def _grade_lines(table: SizeTable, unit: Unit) -> list[str]:
    if not table.machined:
        return []
    standard = table.machined[0]
    return [
        band(standard.finish_low, standard.finish_high, unit, "std "),
        worn_limit(table, standard),
    ]


def _use(low: Quantity | None, high: Quantity | None, unit: Unit) -> str:
    if low is not None and high is not None:
        return f"worn outside {figure(low, unit)} to {figure(high, unit)}"
    if low is not None:
        return f"worn under {figure(low, unit)}"
    return f"worn over {figure(high, unit)}" if high is not None else ""
