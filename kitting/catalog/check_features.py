"""That the limits of what can be measured make sense: the right way round, one in the other."""

from collections.abc import Iterator
from fractions import Fraction
from statistics import median

from kitting.catalog.check_notes import Notes
from kitting.catalog.family import Family
from kitting.catalog.model import Feature, Verdict
from kitting.catalog.size_tables import SizeKind
from kitting.measure import Quantity

_HAS_FORM = ("diameter", "bore")
# What a figure may go with: its own kind, and the kinds of what it serves.
_GOES_WITH = {
    "bore": ("diameter",),
    "thickness": ("diameter", "end float"),
    "diameter": ("diameter", "bore"),
}
_FAR_OFF = 8
# The play of what runs in a bore is less than this part of it.
_NEAR_A_BORE = 20
_A_DECIMAL_PLACE = (Fraction(10), Fraction(1, 10), Fraction(100), Fraction(1, 100))


def check_features(family: Family, notes: Notes) -> None:
    """Note every feature whose references or limits cannot be right."""
    for feature in family.features:
        row = ("features", feature.key)
        notes.known(row, "position", "position", feature.position, family.position_by_key)
        if feature.if_out is Verdict.REWORK and not feature.operation:
            notes.fault(row, "operation", "rework without an operation", "name the work")
        _check_limits(feature, notes, row)
        _check_plan(feature, notes, row)
        _check_table(family, feature, notes, row)
        _check_scores(family, feature, notes, row)
        _check_goes_with(family, feature, notes, row)
    _check_form_limits(family, notes)


def _check_limits(feature: Feature, notes: Notes, row: tuple[str, str]) -> None:
    low, high = feature.low, feature.high
    for name, small, large in (
        ("high", low, high),
        ("wear_high", feature.wear_low, feature.wear_high),
    ):
        if small is not None and large is not None and small > large:
            notes.fault(
                row,
                name,
                f"the limits {small} to {large} are the wrong way round",
                "low first, then high",
            )
    for name, worn, new, outside in (
        ("wear_low", feature.wear_low, low, "above"),
        ("wear_high", feature.wear_high, high, "below"),
    ):
        if worn is None or new is None:
            continue
        if (outside == "above" and worn > new) or (outside == "below" and worn < new):
            notes.fault(
                row,
                name,
                f"the limit of use {worn} is {outside} the limit when new {new}",
                "what is new would be worn out already: look at both",
            )


def _check_plan(feature: Feature, notes: Notes, row: tuple[str, str]) -> None:
    for name, limit in (("ovality", feature.ovality), ("taper", feature.taper)):
        if limit is None:
            continue
        if feature.kind not in _HAS_FORM:
            notes.fault(row, name, f"a {feature.kind} has no {name}", "leave the cell empty")
        elif limit.base <= 0:
            notes.fault(row, name, f"the {name} {limit} is not above zero", "leave it empty")
    if feature.ovality is not None and len(feature.directions) < 2:
        notes.warn(row, "directions", "ovality needs two directions", "such as 0 | 90")
    if feature.taper is not None and len(feature.stations) < 2:
        notes.warn(row, "stations", "taper needs two stations", "such as front | rear")


def _check_table(family: Family, feature: Feature, notes: Notes, row: tuple[str, str]) -> None:
    limits = (feature.low, feature.high, feature.wear_low, feature.wear_high)
    has_limits = any(limit is not None for limit in limits)
    if not feature.size_table:
        if feature.part_tells and feature.low is None and feature.high is None:
            notes.fault(
                row, "part_tells", "a part is told by limits, and there is none", "add them"
            )
        elif not has_limits and not feature.scores and not feature.is_in_hand:
            notes.warn(row, "low", "there is nothing to compare a reading with", "add its limits")
        return
    if not notes.known(row, "size_table", "size table", feature.size_table, family.table_by_key):
        return
    if has_limits and not feature.scores:
        notes.fault(
            row, "size_table", "it has limits of its own beside a size table", "leave one of both"
        )
    table = family.table_by_key[feature.size_table]
    right = "diameter" if table.kind is SizeKind.SHAFT else "bore"
    if feature.kind in _HAS_FORM and feature.kind != right and not feature.scores:
        notes.fault(
            row,
            "kind",
            f"a {feature.kind} is measured by {table.key}, a size table of a {table.kind}",
            f"a {right} belongs to it",
        )
    if feature.unit.dimension is not table.unit.dimension:
        notes.fault(
            row, "unit", f"{feature.unit} is no unit for {table.key}", f"such as {table.unit}"
        )


def _check_scores(family: Family, feature: Feature, notes: Notes, row: tuple[str, str]) -> None:
    if not feature.scores:
        return
    if feature.kind != "depth":
        notes.fault(row, "scores", f"a {feature.kind} is no depth of score", "its kind is depth")
    if notes.known(row, "scores", "feature", feature.scores, family.feature_by_key):
        scored = family.feature_by_key[feature.scores]
        if scored.kind not in _HAS_FORM:
            notes.fault(
                row, "scores", f"{scored.key} is a {scored.kind}", "name a diameter or a bore"
            )


def _check_goes_with(family: Family, feature: Feature, notes: Notes, row: tuple[str, str]) -> None:
    if not feature.goes_with:
        return
    if feature.kind not in _GOES_WITH:
        right = f"it is for a {' or '.join(_GOES_WITH)}"
        notes.fault(row, "goes_with", f"a {feature.kind} serves no other figure's sum", right)
        return
    if not notes.known(row, "goes_with", "feature", feature.goes_with, family.feature_by_key):
        return
    served = family.feature_by_key[feature.goes_with]
    kinds = _GOES_WITH[feature.kind]
    if served.kind not in kinds:
        wrong = f"{served.key} is a {served.kind}"
        notes.fault(row, "goes_with", wrong, f"a {feature.kind} goes with a {' or '.join(kinds)}")
    elif feature.kind == "bore" and not served.size_table:
        _check_runs_in(family, feature, served, notes)
    elif served.kind == "bore" and served.goes_with and not served.size_table:
        return  # the new pin of a bore that is finished to suit it
    elif served.kind != "end float" and not served.size_table:
        notes.fault(row, "goes_with", f"{served.key} has no size table", "give it one, or leave it")


def _check_runs_in(family: Family, bore: Feature, pin: Feature, notes: Notes) -> None:
    """A bore that is finished to a pin or stem: both have limits, and the clearance closes."""
    row = ("features", bore.key)
    if bore.low is None or bore.high is None or pin.low is None or pin.high is None:
        wrong = f"nothing tells the clearance of {pin.key} in it"
        notes.fault(row, "goes_with", wrong, "give both their limits when new")
        return
    least, most = bore.low - pin.high, bore.high - pin.low
    if least.base < 0 or most * _NEAR_A_BORE > bore.low:
        wrong = f"{pin.key} has no size table, and at {least} to {most} of play does not run in it"
        notes.fault(row, "goes_with", wrong, "name what runs in it, or a journal with a size table")
        return
    for feature in family.features_of.get(bore.position, ()):
        if feature.kind != "clearance" or feature.low is None or feature.high is None:
            continue
        if (feature.low, feature.high) != (least, most):
            wrong = f"it is printed {feature.low} to {feature.high}, and {bore.key} less {pin.key}"
            notes.fault(
                ("features", feature.key),
                "low",
                f"{wrong} comes to {least} to {most}",
                "look at the printed figures",
            )


def _check_form_limits(family: Family, notes: Notes) -> None:
    """A limit of form ten times its neighbour's is a decimal point misplaced."""
    for feature, name, limit in _forms(family):
        close = _neighbours(family, feature, name)
        own = feature.taper if name == "ovality" else feature.ovality
        beside = close or ([own] if own is not None else [])
        if not beside or limit.base <= 0 or min(beside).base <= 0:
            continue
        row = ("features", feature.key)
        times = Fraction(limit.base) / median(Fraction(other.base) for other in beside)
        where = "its neighbours have" if close else "its other form has"
        shown = f"{name} {limit} where {where} {beside[0]}"
        if times < 1 and len(beside) == 1:
            continue  # of two, the greater is named
        if times in _A_DECIMAL_PLACE and close:
            notes.fault(row, name, f"{shown}: a decimal place off", "look at the printed figure")
        elif times >= _FAR_OFF or times <= Fraction(1, _FAR_OFF):
            notes.warn(row, name, f"{shown}: far off", "look at the printed figure")


def _forms(family: Family) -> Iterator[tuple[Feature, str, Quantity]]:
    for feature in family.features:
        for name, limit in (("ovality", feature.ovality), ("taper", feature.taper)):
            if limit is not None:
                yield feature, name, limit


def _neighbours(family: Family, feature: Feature, name: str) -> list[Quantity]:
    """The limits of the same form on like metal: the same size table or kind of position."""
    kind_of = {position.key: position.kind for position in family.positions}
    limits = [
        other.ovality if name == "ovality" else other.taper
        for other in family.features
        if other is not feature
        and other.kind == feature.kind
        and (
            feature.size_table == other.size_table != ""
            or kind_of.get(other.position) == kind_of.get(feature.position)
        )
    ]
    return [limit for limit in limits if limit is not None]
