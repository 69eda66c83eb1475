"""Where a part goes: the positions that it fits, itself or in place of another number; its sets."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.catalog.links_in_force import LinksInForce
from kitting.catalog.resolver import links_about, resolve
from kitting.catalog.ways import Need, Subgraph

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from datetime import date

    from kitting.catalog.family import Family
    from kitting.catalog.model import Fit, Link, PartNumber, Position, SetItem
    from kitting.catalog.ways import Resolution, Way
    from kitting.errors import Problem


@dataclass(frozen=True, slots=True)
class Use:
    """One position that a part serves, or served before it was superseded.

    `way` is how it comes there in place of the number that the parts list names, None where it is
    that number. `is_old` says that the part itself is no longer to be bought for it; `today` is
    then what is, None where nothing answers.
    """

    family: Family
    position: Position
    fit: Fit
    way: Way | None = None
    is_old: bool = False
    today: Way | None = None


@dataclass(frozen=True, slots=True)
class NeededWith:
    """That a part is bought with another, where that one stands for an older number.

    `positions` are those at which it does.
    """

    family: Family
    link: Link
    positions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Served:
    """One number that the parts list gives a position, and what answers it on a day.

    `on_some` are other answers, those of some engines only; none where an engine is named.
    `problems` are loops and contradictions that were met, on whichever engine.
    """

    fit: Fit
    resolution: Resolution
    on_some: tuple[Way, ...] = ()
    problems: tuple[Problem, ...] = ()


def uses(family: Family, part: PartNumber, on_day: date) -> tuple[Use, ...]:
    """Return every position of a family that a part serves on a day, by its own number or another.

    A position that it served before it was superseded is given too, with what answers there.
    Conditions on the engine and the grade are those of each row of fits.csv itself; links that hold
    for some engines only are followed where such an engine may be.
    """
    links = links_about(family, part)
    joined = {part, *(link.old for link in links), *(link.new for link in links)}
    graph = Subgraph(links, family.fits, family.part_by_number)
    found: list[Use] = []
    for fit in family.fits:
        position = family.position_by_key.get(fit.position)
        if fit.part not in joined or position is None:
            continue
        need = need_of(family, fit)
        way = _way_on_any(family, need, part, graph, on_day, fit)
        if way is not None:
            found.append(Use(family, position, fit, None if fit.part == part else way))
            continue
        if fit.part == part or _is_older(family, need, part, graph, on_day, fit):
            today = _today(family, need, part, graph, on_day, fit)
            found.append(Use(family, position, fit, None, is_old=True, today=today))
    return tuple(found)


def needed_with(family: Family, part: PartNumber, on_day: date) -> tuple[NeededWith, ...]:
    """The links that ask for a part beside their new number, and where they lead to it."""
    found: list[NeededWith] = []
    for link in family.links:
        if part in link.needs:
            places = dict.fromkeys(use.position.key for use in uses(family, link.old, on_day))
            found.append(NeededWith(family, link, tuple(places)))
    return tuple(found)


def sets_with(family: Family, part: PartNumber) -> tuple[SetItem, ...]:
    """The sets that hold a part."""
    return tuple(item for item in family.set_items if item.part == part)


def served(
    family: Family, position: Position, on_day: date, variant: str = "", running: int | None = None
) -> tuple[Served, ...]:
    """Return each number that fits a position, with its ways on a day.

    With a variant, only the fits that hold on it; with a running number, only for that engine.
    """
    found: list[Served] = []
    for fit in family.fits_of.get(position.key, ()):
        if variant and fit.variants and variant not in fit.variants:
            continue
        if running is not None and not (
            (fit.first is None or running >= fit.first)
            and (fit.last is None or running <= fit.last)
        ):
            continue
        need = _need_on(family, fit, variant, running)
        graph = Subgraph(links_about(family, fit.part), family.fits, family.part_by_number)
        answer = resolve(need, graph, on_day)
        some = () if variant else _on_some(family, fit, graph, on_day)
        every = (answer, *some)
        problems = dict.fromkeys(problem for each in every for problem in each.problems)
        others = _other_ways(answer, some)
        found.append(Served(fit, answer, others, tuple(problems)))
    return tuple(found)


def _on_some(family: Family, fit: Fit, graph: Subgraph, on_day: date) -> tuple[Resolution, ...]:
    """What is found on an engine of every sort."""
    needs = _on_each_engine(family, need_of(family, fit), fit, graph)
    return tuple(resolve(asked, graph, on_day) for asked in needs)


def _other_ways(answer: Resolution, some: Iterable[Resolution]) -> tuple[Way, ...]:
    """The answers of some engines that are other ones than where no engine is named."""
    found: dict[object, Way] = {}
    general = answer.best.parts if answer.best else ()
    for best in (each.best for each in some):
        if best is not None and best.parts != general and best.conditions:
            found.setdefault((best.parts, best.conditions), best)
    return tuple(found.values())


def need_of(family: Family, fit: Fit, variant: str = "", running: int | None = None) -> Need:
    """The need that a row of fits.csv speaks of: so many, at its grade, the whole position."""
    position = family.position_by_key[fit.position]
    return Need(
        part=fit.part,
        quantity=fit.quantity or position.quantity,
        position=fit.position,
        variant=variant,
        running=running,
        grade=fit.grade,
        whole=True,
    )


def _need_on(family: Family, fit: Fit, variant: str, running: int | None) -> Need:
    """The need on an engine; where none is named, on one that the row is for."""
    need = need_of(family, fit, variant or "".join(fit.variants[:1]), running)
    first = fit.first if fit.first is not None else fit.last
    return need if running is not None else replace(need, running=first)


def way_between(
    family: Family, wanted: PartNumber, offered: PartNumber, on_day: date
) -> Way | None:
    """Return the best way by which one number may stand for another, on any engine; or None."""
    graph = Subgraph(links_about(family, wanted), family.fits, family.part_by_number)
    joined = {wanted, *(link.old for link in graph.links), *(link.new for link in graph.links)}
    if offered not in joined:
        return None
    grades = {link.with_grade for link in graph.links} | {""}
    for grade in sorted(grades):
        need = Need(part=wanted, grade=grade, whole=True)
        way = _way_on_any(family, need, offered, graph, on_day)
        if way is not None:
            return way
    return None


def _is_older(
    family: Family, need: Need, part: PartNumber, graph: Subgraph, on_day: date, fit: Fit
) -> bool:
    """Whether a part is superseded and stands on a chain with the number of a fit."""
    for asked in _on_each_engine(family, need, fit, graph):
        links = LinksInForce(asked, graph, on_day)
        if links.superseding(part) and part in links.standing_for([need.part]):
            return True
    return False


def _today(
    family: Family, need: Need, part: PartNumber, graph: Subgraph, on_day: date, fit: Fit
) -> Way | None:
    """What is to be bought for a need where a part no longer is."""
    for asked in _on_each_engine(family, need, fit, graph):
        ways = resolve(replace(asked, part=part), graph, on_day).ways
        if ways:
            return ways[0]
    return None


def _way_on_any(
    family: Family,
    need: Need,
    part: PartNumber,
    graph: Subgraph,
    on_day: date,
    fit: Fit | None = None,
) -> Way | None:
    for asked in _on_each_engine(family, need, fit, graph):
        for way in resolve(asked, graph, on_day).ways:
            if part in dict(way.parts):
                return way
    return None


def _on_each_engine(family: Family, need: Need, fit: Fit | None, graph: Subgraph) -> Iterator[Need]:
    """The need on an engine of every sort that the links tell apart; first on none in particular.

    A row that asks for nothing holds for an engine that is not known too, so that what is found
    there says no more than it must.
    """
    bounds = {fit.first, fit.last} if fit else set()
    for link in graph.links:
        bounds |= {link.first, link.last}
    runs = sorted(bound for bound in bounds if bound is not None)
    variants = (fit.variants if fit else ()) or ("", *family.variant_by_key)
    for variant in variants:
        known = family.variant_by_key.get(variant)
        for running in (None, *runs):
            if running is None or known is None or known.first <= running <= known.last:
                yield replace(need, variant=variant, running=running)
