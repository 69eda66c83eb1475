"""The Wren with all that sizes are made to suit: a rod eye, shells, a main bush, pistons, shims."""

from dataclasses import replace

from kitting.catalog.family import Family
from kitting.catalog.model import Verdict
from kitting.catalog.rules import Then, When
from kitting.catalog.size_tables import SizeKind, SizeTable
from kitting.job.consequences import follow
from kitting.job.findings import Finding, Reading
from kitting.job.settings import Settings
from kitting.job.size_choice import Sizes
from kitting.job.sizes import choose_sizes
from kitting.job.verdicts import judge
from tests.builders import (
    a_consequence,
    a_feature,
    a_fit,
    a_grade,
    a_part,
    a_position,
    a_table,
    q,
)
from tests.job.benches import a_bench, a_finding, read
from tests.wren import tiny_family

SETTINGS = Settings(
    {
        "micrometer": q("0.0001 in"),
        "bore gauge": q("0.0002 in"),
        "small-hole gauge": q("0.0001 in"),
    }
)
# Least 1.4960: cleans up at the -010 grade whichever way it is worn.
PIN = ("1.4962", "1.4960", "1.4962", "1.4961")
WALLS = ("upper", "lower")


def fitted_family() -> Family:
    """The Wren, with what goes with what."""
    family = tiny_family()
    eye = a_feature("eye", "rod", "bore", ("1.6250", "1.6255"), goes_with="crankpin-diameter")
    wall = a_feature("wall", "shells", "thickness", stations=WALLS, goes_with="crankpin-diameter")
    skirt = a_feature("skirt", "piston", "diameter", goes_with="barrel-bore")
    main = a_feature(
        "main", "crank", "diameter", form=("0.0005", "0.0005"), size_table="main",
        if_out=Verdict.REWORK, operation="regrind-main",
    )  # fmt: skip
    hole = a_feature("hole", "case", "bore", ("2.1250", "2.1255"), goes_with="main")
    bush = a_feature("bush-outside", "bush", "diameter", ("2.1275", "2.1280"), goes_with="main")
    end_float = a_feature("float", "shims", "end float", ("0.005", "0.010"))
    in_place = a_feature("in-place", "shims", "thickness", goes_with="float")
    return replace(
        family,
        positions=(
            *family.positions,
            a_position("case", "bottom-end", "case"),
            a_position("bush", "bottom-end", "bush", sized_by="main"),
            a_position("shims", "bottom-end", "shim"),
        ),
        features=(*family.features, eye, wall, skirt, main, hole, bush, end_float, in_place),
        size_tables=(*(_with_clearance(t) for t in family.size_tables), _main()),
        consequences=(
            *family.consequences,
            a_consequence("bush-too", When.STRIPPED, "assembly:bottom-end", Then.RENEW, "bush"),
        ),
        parts=(
            *family.parts,
            a_part("hob:W600", "case", {"material": "aluminium"}),
            a_part("hob:W610", "bush", {"material": "bronze"}),
            a_part("hob:W620", "shim", {"thickness": "0.005 in"}),
            a_part("hob:W621", "shim", {"thickness": "0.003 in"}),
        ),
        fits=(
            *family.fits,
            a_fit("case", "hob:W600"),
            a_fit("bush", "hob:W610", "std"),
            a_fit("bush", "hob:W610", "-010"),
            a_fit("shims", "hob:W620"),
            a_fit("shims", "hob:W621"),
        ),
    )


def _with_clearance(table: SizeTable) -> SizeTable:
    if table.kind is SizeKind.SHAFT:
        return table
    return replace(table, clearance_low=q("0.0030"), clearance_high=q("0.0040"))


def _main() -> SizeTable:
    return a_table(
        "main",
        SizeKind.SHAFT,
        (
            a_grade(
                "main", "std", 0, "0", ("1.7490", "1.7495"), worn="1.7475",
                lined=("1.7510", "1.7515"), clearance=("0.0015", "0.0025"),
            ),
            a_grade(
                "main", "-010", 1, "0.010", ("1.7390", "1.7395"), worn="1.7375",
                lined=("1.7410", "1.7415"), clearance=("0.0015", "0.0025"),
            ),
        ),
        clearance=("0.0015", "0.0025", "0.0045"),
        stock="0.001",
        operation="regrind-main",
    )  # fmt: skip


FAMILY = fitted_family()


def sizes(*findings: Finding, family: Family = FAMILY) -> Sizes:
    """The sizes that follow from what the bench found."""
    verdicts = judge(family, a_bench(*findings), SETTINGS)
    demands = follow(family, verdicts)
    return choose_sizes(family, verdicts, demands, SETTINGS, lambda _table, _grade: True)


def crank(*pin: str, main: tuple[str, ...] = ()) -> Finding:
    """The crank: its pin, and its main journal where that is told."""
    more = read("main", *main) if main else ()
    return a_finding("crank", *read("crankpin-diameter", *(pin or PIN)), *more)


def one(feature: str, text: str, station: str = "") -> Reading:
    """One reading."""
    return Reading(feature, station, "", text, q(text))


def rod(*eye: str) -> Finding:
    """The rod's eye, bolted up."""
    return a_finding("rod", *(one("eye", text) for text in eye))


def shells(upper: str, lower: str) -> Finding:
    """The walls of the shells in hand."""
    return a_finding("shells", one("wall", upper, "upper"), one("wall", lower, "lower"))
