"""The files of the catalogue and their columns, as `catalog/README.md` lists them."""

from collections.abc import Mapping
from types import MappingProxyType


def _columns(listed: str) -> tuple[str, ...]:
    return tuple(name.strip() for name in listed.split(","))


FAMILY_FILES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "family": _columns("key, value"),
        "variants": _columns("key, name, prefix, first, last, years, note"),
        "assemblies": _columns("key, name, sequence, stage, caution"),
        "positions": _columns(
            "key, assembly, sequence, name, kind, quantity, variants, must_look, sized_by, "
            "matched, caution, note"
        ),
        "features": _columns(
            "key, position, name, kind, unit, low, high, wear_low, wear_high, ovality, taper, "
            "size_table, stations, directions, instrument, if_out, operation, part_tells, "
            "critical, at_build, scores, goes_with, source, note"
        ),
        "size_tables": _columns(
            "key, name, kind, unit, together, stock, operation, housing_low, housing_high, "
            "clearance_low, clearance_high, clearance_limit, finish_note, source"
        ),
        "grades": _columns(
            "table, key, name, sequence, step, finish_low, finish_high, worn, wall_low, "
            "wall_high, lined_low, lined_high, clearance_low, clearance_high, half_step_of, "
            "takes_up"
        ),
        "observations": _columns("key, name, grades, kinds, question"),
        "judgements": _columns(
            "key, observation, at_least, of, verdict, operation, because, source"
        ),
        "consequences": _columns(
            "key, when, of, observation, at_least, then, to, operation, because, source, weight"
        ),
        "parts": _columns("part, name, kind, attributes, vat, note"),
        "fits": _columns("position, part, variants, first, last, grade, quantity, note"),
        "links": _columns(
            "record, kind, old, old_quantity, new, new_quantity, variants, first, last, "
            "with_grade, since, until, operation, needs, use_up, note, source"
        ),
        "sets": _columns("set, part, quantity"),
        "labour": _columns("action, of, hours, note"),
    }
)

# Columns that a file may leave out; its cells then count as empty.
MAY_BE_LEFT_OUT: Mapping[str, frozenset[str]] = MappingProxyType(
    {
        "consequences": frozenset({"weight"}),
        "features": frozenset({"goes_with"}),
        "offers": frozenset({"quality"}),
    }
)

TRADE_FILES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "shop": _columns("key, value"),
        "makers": _columns("key, name"),
        "suppliers": _columns(
            "key, name, address, currency, carriage, free_over, least_order, days, note"
        ),
        "operations": _columns("key, name, instruction, caution"),
        "work_prices": _columns(
            "machinist, operation, per, price, currency, valid_from, valid_until, days"
        ),
        "rates": _columns("currency, worth, on"),
    }
)

OFFER_COLUMNS = _columns(
    "their_number, part, pack, price, breaks, currency, valid_from, valid_until, days, stock, "
    "quality"
)

FAMILY_KEYS = ("name", "maker", "years", "edition", "unit", "summary")
SHOP_KEYS = (
    "name",
    "address",
    "currency",
    "labour rate",
    "labour vat",
    "parts markup",
    "work markup",
    "lean",
)
LABOUR_ACTIONS = ("strip", "clean", "renew", "rework", "build", "check")
FEATURE_KINDS = (
    "diameter",
    "bore",
    "width",
    "length",
    "height",
    "thickness",
    "clearance",
    "end float",
    "gap",
    "run-out",
    "depth",
    "load",
    "pressure",
    "rate",
    "torque",
    "volume",
)
VAT_CATEGORIES = ("S", "Z", "E")
