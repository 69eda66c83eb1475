"""`kitting catalog show` and `find`: a family as it is kept, and the parts that answer a query."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from kitting.catalog.nearest import nearest
from kitting.cli.answer import Answer, reads
from kitting.cli.screen import heading, paragraph, table
from kitting.errors import NotFound

if TYPE_CHECKING:
    from kitting.catalog.family import Family
    from kitting.store import KeptEdition


@click.command()
@click.argument("family", required=False)
@click.option("--edition", default=None, help="Another edition than the one in force.")
@click.option("--assembly", default="", help="Only this assembly's positions.")
@click.option("--find", "words", default="", help="Only positions with this in any column.")
@reads("catalog:ShownShape")
def show(family: str | None, edition: str | None, assembly: str, words: str) -> Answer:
    """Show a family: how much it describes, and its positions; without FAMILY, the families.

    \b
    Examples:
      kitting catalog show
      kitting catalog show corvane-650 --assembly bottom-end
    """
    from kitting.store import Database

    with Database().read() as work:
        kept = work.catalogue.families()
        found = work.catalogue.family(family, edition) if family else None

    def shape() -> object:
        from kitting.cli.shapes.catalog import EditionShape, ShownShape, family_shape

        editions = [EditionShape(k.family, k.name, k.edition, k.years, k.latest) for k in kept]
        return ShownShape(editions, family_shape(found) if found else None)

    if found is None:
        return shape, lambda: _families_text(kept)
    return shape, lambda: _family_text(found, assembly, words)


def _families_text(kept: tuple[KeptEdition, ...]) -> str:
    if not kept:
        return "No engine family is loaded yet: kitting catalog load"
    rows = [(k.family, k.name, k.edition, k.years, "in force" if k.latest else "") for k in kept]
    return table(("family", "name", "edition", "years", ""), rows)


def _family_text(family: Family, assembly: str, words: str) -> str:
    from kitting.cli.shapes.catalog import family_counts

    if assembly and assembly not in family.assembly_by_key:
        raise NotFound("assembly", assembly, nearest(assembly, family.assembly_by_key, 3))
    counts = ", ".join(f"{count} {name}" for name, count in family_counts(family).items())
    variants = [
        (v.key, v.name, f"{v.prefix}{v.first} to {v.prefix}{v.last}", v.years)
        for v in family.variants
    ]
    rows = [
        (p.key, p.name, p.kind, str(p.quantity), p.assembly)
        for p in family.positions
        if assembly in {"", p.assembly}
        and words.casefold() in f"{p.key} {p.name} {p.kind}".casefold()
    ]
    return "\n\n".join(
        (
            heading(f"{family.name} · edition {family.edition}"),
            paragraph(family.summary),
            paragraph(counts + "."),
            table(("variant", "name", "engine numbers", "years"), variants),
            table(("position", "name", "kind", "qty", "assembly"), rows, right="3"),
        )
    )


@click.command()
@click.argument("words", nargs=-1, required=True)
@click.option("--family", "key", default="", help="Only parts of this family [all].")
@reads("catalog:FoundShape")
def find(words: tuple[str, ...], key: str) -> Answer:
    """Find parts: by number in any spelling, by words, or by attributes.

    A number that is not there is answered with near ones as a question; none is ever taken.

    \b
    Examples:
      kitting catalog find C61-1067
      kitting catalog find timing bush
      kitting catalog find seal 30x47x7
    """
    from kitting.cli.finding import find_answer

    return find_answer(" ".join(words), key)
