"""Whether what was read hangs together: one family, or every folder of the catalogue."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from kitting.catalog.check_answers import check_answers
from kitting.catalog.check_circles import check_circles
from kitting.catalog.check_coverage import check_coverage
from kitting.catalog.check_features import check_features
from kitting.catalog.check_links import check_links
from kitting.catalog.check_notes import CheckReport, Notes
from kitting.catalog.check_parts import check_parts
from kitting.catalog.check_quantities import check_quantities
from kitting.catalog.check_references import check_references
from kitting.catalog.check_rules import check_rules
from kitting.catalog.check_tables import check_tables
from kitting.catalog.check_trade import check_trade
from kitting.catalog.check_washers import check_washers
from kitting.catalog.circles_across import Said, circles_across
from kitting.catalog.family import Family
from kitting.catalog.files import read_family_with_sources, read_trade_with_sources
from kitting.catalog.rows import Sources
from kitting.errors import BadInput, Problem, Problems

TRADE = "trade"

_CHECKS = (
    check_references,
    check_features,
    check_parts,
    check_washers,
    check_tables,
    check_rules,
    check_circles,
    check_links,
    check_quantities,
    check_answers,
    check_coverage,
)


def check_family(family: Family, sources: Sources) -> CheckReport:
    """Return the faults and warnings of one family.

    Args:
        family: as read, or made otherwise.
        sources: where its rows stand (see `kitting.catalog.rows.Sources`); may be empty.
    """
    notes = Notes(sources)
    for check in _CHECKS:
        check(family, notes)
    return notes.report()


def check_catalogue(root: Path) -> CheckReport:
    """Read and check every folder of a catalogue; each place says its folder and file.

    The trade is checked beside the families only when all of them could be read.
    """
    folders = sorted(each for each in root.iterdir() if each.is_dir()) if root.is_dir() else []
    if not folders:
        problem = Problem(str(root), "there is no catalogue here", "name the folder that holds it")
        return CheckReport((problem,), ())
    report = CheckReport((), ())
    families: list[Family] = []
    places: dict[str, Sources] = {}
    all_read = True
    for folder in folders:
        if folder.name == TRADE or folder.name.startswith("."):
            continue
        try:
            family, sources = read_family_with_sources(folder)
        except BadInput as error:
            report += CheckReport(error.problems, ()).within(folder.name)
            all_read = False
        else:
            families.append(family)
            places[family.key] = sources
            report += check_family(family, sources).within(folder.name)
    report += _check_across(families, places)
    return report + _check_trade_in(root / TRADE, families if all_read else None)


def _check_across(families: Sequence[Family], places: Mapping[str, Sources]) -> CheckReport:
    """The circles of supersessions that no family has alone, each told at its first step."""
    problems = Problems()
    rows = {
        id(link): ("links", str(at)) for family in families for at, link in enumerate(family.links)
    }
    for circle in circles_across(Said(f.key, link) for f in families for link in f.links):
        first = circle.steps[0]
        line = places[first.family].get(rows[id(first.link)], "links")
        problems.add(
            f"{first.family}/{line}, column new",
            f"supersessions in a circle: {circle.chain}",
            f"{circle.whose}; one of them must go",
        )
    return CheckReport(tuple(problems), ())


def _check_trade_in(folder: Path, families: list[Family] | None) -> CheckReport:
    try:
        trade, sources = read_trade_with_sources(folder)
    except BadInput as error:
        return CheckReport(error.problems, ()).within(folder.name)
    if families is None:
        return CheckReport((), ())
    return check_trade(trade, families, sources).within(folder.name)
