"""`kitting catalog where-used` and `fits`: from a part to its positions, and the other way."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from kitting.cli.answer import Answer, reads
from kitting.cli.opened import Day, today

if TYPE_CHECKING:
    from datetime import date

    from kitting.catalog.family import Family
    from kitting.catalog.model import Fit, Part, PartNumber, Position, SetItem
    from kitting.catalog.ways import Way
    from kitting.catalog.where_used import NeededWith, Served, Use

_ON = click.option("--on", "day", type=Day(), default=None, help="As of this day [today].")


@click.command("where-used")
@click.argument("part")
@click.option("--family", "key", default="", help="Only this family [all].")
@_ON
@reads("links:WhereUsedShape")
def where_used(part: str, key: str, day: date | None) -> Answer:
    """Show every position that PART serves, by its own number or in place of another's.

    A number that the parts list no longer names, or never did, is found by what it answers for.
    An old number is told with what answers in its place today. The sets that hold PART are shown
    too, and what it is bought with.

    \b
    Examples:
      kitting catalog where-used C61-3019
      kitting catalog where-used "AS 35-52-7 D"
    """
    from kitting.catalog.where_used import needed_with, sets_with, uses
    from kitting.cli.catalog_parts import meant

    asked = meant(part, key=key)
    (one,), having = asked.parts, asked.families
    on_day = day or today()
    found = [use for family in having for use in uses(family, one.number, on_day)]
    held = [(family, item) for family in having for item in sets_with(family, one.number)]
    beside = [each for family in having for each in needed_with(family, one.number, on_day)]

    def shape() -> object:
        from kitting.cli.shapes.links import (
            SetShape,
            WhereUsedShape,
            needed_shape,
            use_shape,
        )

        return WhereUsedShape(
            part=str(one.number),
            name=one.name,
            day=on_day.isoformat(),
            uses=[use_shape(use) for use in found],
            sets=[SetShape(family.key, str(each.set), each.quantity) for family, each in held],
            needed_with=[needed_shape(each) for each in beside],
        )

    return shape, lambda: _uses_text(one, found, held, beside, on_day)


@click.command()
@click.argument("position")
@click.option("--family", "key", required=True, help="The family that the position is of.")
@click.option("--engine", default="", help="On the engine of this number [all].")
@_ON
@reads("links:FitsShape")
def fits(position: str, key: str, engine: str, day: date | None) -> Answer:
    """Show every number that fits POSITION, and what answers it today.

    Without --engine what answers on some engines only stands beside, with its condition.

    \b
    Examples:
      kitting catalog fits camshaft --family corvane-650
      kitting catalog fits main-bush --family corvane-650 --engine CV23417
    """
    from kitting.catalog.where_used import served
    from kitting.cli.catalog_parts import engine_of, position_of
    from kitting.cli.opened import family_within
    from kitting.store import Database

    with Database().read() as work:
        place = position_of(work.catalogue.family(key, about=()), position)
        family = family_within(work, key, about=work.catalogue.fitting(key, place.key))
    variant, running = engine_of(family, engine)
    on_day = day or today()
    found = served(family, place, on_day, variant, running)

    def shape() -> object:
        from kitting.cli.shapes.links import FitsShape, served_shape

        return FitsShape(
            family=family.key,
            edition=family.edition,
            position=place.key,
            name=place.name,
            quantity=place.quantity,
            day=on_day.isoformat(),
            engine_named=bool(engine),
            parts=[served_shape(family, place, each) for each in found],
        )

    return shape, lambda: _fits_text(family, place, found, on_day, named=bool(engine))


def _uses_text(
    part: Part,
    found: list[Use],
    held: list[tuple[Family, SetItem]],
    beside: list[NeededWith],
    on_day: date,
) -> str:
    from kitting.cli.screen import heading, paragraph, table

    parts = [heading(f"{part.number} · {part.name}")]
    if found:
        rows = [
            (
                f"{use.family.key}: {use.position.key}",
                str(use.fit.quantity or use.position.quantity),
                fit_words(use.fit),
                _in_place(use, part.number),
            )
            for use in found
        ]
        parts.append(table(("position", "qty", "where", "how"), rows, right="1"))
    else:
        itself = " itself" if beside else ""
        parts.append(paragraph(f"It serves no position{itself} as of {on_day}."))
    if beside:
        companions = [
            (f"{each.family.key}: {each.link.new}", str(each.link.old), ", ".join(each.positions))
            for each in beside
        ]
        parts.append(table(("bought with", "which stands for", "position"), companions))
    if held:
        sets = [(f"{family.key}: {item.set}", str(item.quantity)) for family, item in held]
        parts.append(table(("set that holds it", "qty"), sets, right="1"))
    return "\n\n".join(parts)


def _in_place(use: Use, part: PartNumber) -> str:
    from kitting.cli.trace_screen import way_terms

    if use.is_old:
        instead = "" if use.fit.part == part else f", the list names {use.fit.part}"
        if use.today is None:
            return f"superseded{instead}; nothing answers it today"
        today = "; ".join((_bought(use.today), *way_terms(use.today)))
        return f"superseded{instead}; today {today}"
    if use.way is None:
        return "fits"
    terms = way_terms(use.way)
    return f"in place of {use.fit.part}: {use.way.kind}" + "".join(f"; {each}" for each in terms)


def fit_words(fit: Fit) -> str:
    """On which variants and engines, and at which grade, a part fits."""
    words = [*fit.variants]
    if fit.first is not None or fit.last is not None:
        start = "the first" if fit.first is None else str(fit.first)
        end = "the last" if fit.last is None else str(fit.last)
        words.append(f"engines {start} to {end}")
    if fit.grade:
        words.append(f"grade {fit.grade}")
    if fit.note:
        words.append(fit.note)
    return ", ".join(words) or "any"


def _fits_text(
    family: Family, position: Position, found: tuple[Served, ...], on_day: date, *, named: bool
) -> str:
    from kitting.cli.screen import heading, paragraph, table

    head = heading(f"{position.name} · {family.name}")
    if not found:
        return f"{head}\n\n{paragraph('No part fits it.')}"
    rows = [
        (str(each.fit.part), _name(family, each.fit), fit_words(each.fit), _answer(each))
        for each in found
    ]
    says = (
        f"{position.quantity} to an engine. Today is {on_day}; every one of the position changed."
    )
    if not named:
        says += " No engine is named: what asks for one stands with what it asks for."
    listed = table(("part", "what", "where", "today"), rows)
    more = paragraph("Why, and every other way: kitting catalog trace PART --position POSITION")
    problems = dict.fromkeys(problem for each in found for problem in each.problems)
    told = [paragraph(f"• {problem}", 2, 2) for problem in problems]
    wrong = ["\n".join(("Wrong in the data:", *told))] if told else []
    return "\n\n".join((head, paragraph(says), listed, *wrong, more))


def _name(family: Family, fit: Fit) -> str:
    part = family.part_by_number.get(fit.part)
    return part.name if part else ""


def _answer(each: Served) -> str:
    from kitting.cli.trace_screen import way_terms

    best = each.resolution.best
    if best is None:
        said = "nothing answers it"
    else:
        itself = dict(best.parts).keys() == {each.fit.part}
        said = "; ".join(("itself" if itself else _bought(best), *way_terms(best)))
    others = (f"{_bought(way)}: {'; '.join(way_terms(way))}" for way in each.on_some)
    return ". Or ".join((said, *others))


def _bought(way: Way) -> str:
    return " and ".join(f"{count} × {number}" for number, count in way.parts)
