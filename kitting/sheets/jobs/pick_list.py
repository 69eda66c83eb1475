"""The storeman's pick list: what goes into each bag, in the order the engine is built."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from kitting.job.bags import WaitsFor, bags_of
from kitting.job.hand import Source
from kitting.sheets.cautions import STORES
from kitting.sheets.files import save_workbook
from kitting.sheets.outgoing import OutgoingWorkbook
from kitting.sheets.page import Column, Kind, Page, strong_line, tick_box
from kitting.sheets.style import BAND
from kitting.sheets.words import (
    day_text,
    engine_facts,
    position_names,
    shown_grade,
    supplier_name,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from kitting.job.estimate import EstimateLine
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath
    from kitting.sheets.page import Row

_COLUMNS = (
    Column("", 4.5, Kind.TICK),
    Column("Line", 6, Kind.NUMBER),
    Column("Quantity", 8, Kind.COUNT),
    Column("Number", 19, Kind.NUMBER),
    Column("Part", 31),
    Column("Size", 18),
    Column("Goes to", 32),
    Column("Comes from", 22),
    Column("Remark", 24),
)


# What a line waits for stands in its own row.
_TOLD_BY_BAG = frozenset({WaitsFor.MACHINING, WaitsFor.QUESTION})


def write_pick_list(path: JobPath, file: Path) -> None:
    """Write the pick list, a bag a page, over any that is there.

    Raises:
        BadInput: the file cannot be written.
    """
    shop, job = path.trade.shop, path.bench.job
    book = OutgoingWorkbook(f"Pick list {job.number}", shop.name, path.day)
    page = Page(book, "Pick list", _COLUMNS, landscape=True)
    page.title(f"Pick list, job {job.number}", shop.name)
    page.facts((*engine_facts(path), ("Date", day_text(path.day))), label_columns=3)
    readiness = path.kit.readiness
    strong_line(page, readiness.sentence, good=readiness.ready)
    page.headings(frozen=True)
    sources = _sources(path)
    _sets(path, page, sources)
    for bag in bags_of(path):
        if bag.number > 1:
            page.break_here()
        page.band(f"Bag {bag.number} of {bag.total}: {bag.stage}", replace(BAND, size=12))
        strong_line(
            page,
            f"{_capital(bag.sentence)}. {bag.count_text}, check {bag.check}.",
            good=bag.can_start,
        )
        page.lines(
            f"{wait.because.says} ({wait.why})" for wait in bag.waits if wait.why in _TOLD_BY_BAG
        )
        for line in bag.lines:
            page.put(_row(path, line, sources))
    page.cautions(STORES)
    page.finish(f"Job {job.number} · pick list · {readiness.sentence}")
    save_workbook(book, file, replace=True)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _sources(path: JobPath) -> Mapping[str, EstimateLine]:
    """The priced line of each kit line, and of each set by its number."""
    sources: dict[str, EstimateLine] = {}
    for line in path.estimate.lines:
        if line.quote is not None:
            sources[line.kit_line or str(line.part)] = line
    return sources


def _sets(path: JobPath, page: Page, sources: Mapping[str, EstimateLine]) -> None:
    """The sets, first of all: they are opened and shared out among the bags."""
    if not path.kit.sets:
        return
    page.band("Sets: open them and share them out among the bags", replace(BAND, size=12))
    for chosen in path.kit.sets:
        names = ", ".join(key for key, _ in chosen.covers)
        over = ", ".join(f"{count} × {part.number}" for part, count in chosen.surplus)
        contents = (
            tick_box(),
            "",
            1,
            str(chosen.set),
            path.family.part_by_number[chosen.set].name,
            "",
            f"lines {names}",
            _supplier(path, sources.get(str(chosen.set))),
            f"Left over, to stock: {over}" if over else "",
        )
        page.put(contents)


def _row(path: JobPath, line: KitLine, sources: Mapping[str, EstimateLine]) -> Row:
    source = sources.get(line.key)
    if line.part is not None and not path.hand.missing(line):
        comes_from = _in_hand(path, line)
    elif line.covered_by is not None:
        comes_from = f"the set {line.covered_by}"
    elif line.part is None:
        comes_from = ""
    elif path.hand.on_order(line):
        comes_from = _on_order(path, line)
    else:
        comes_from = _supplier(path, source)
    return (
        tick_box(),
        line.key,
        line.quantity,
        str(line.part) if line.part else "none",
        line.name,
        shown_grade(line),
        position_names(path, line.positions),
        comes_from,
        "\n".join(_remarks(path, line, source)),
    )


def _in_hand(path: JobPath, line: KitLine) -> str:
    """Where a line that is all in hand came from: the place on the shelf, else that it is here."""
    pieces = path.hand.of(line)
    if all(each.source is Source.SHELF for each in pieces):
        places = dict.fromkeys(each.place for each in pieces)
        return f"our shelf: {', '.join(places)}"
    return "in hand"


def _on_order(path: JobPath, line: KitLine) -> str:
    coming = path.hand.on_order(line)
    return "\n".join(dict.fromkeys(f"{each.place}, {day_text(each.when)}" for each in coming))


def _supplier(path: JobPath, source: EstimateLine | None) -> str:
    if source is None or source.quote is None:
        return "nobody offers it: ask"
    offer, packs = source.quote.offer, source.quote.packs
    name = supplier_name(path, offer.supplier)
    if offer.pack == 1:
        return name
    return f"{name}, {packs} pack{'s' if packs > 1 else ''} of {offer.pack}"


def _remarks(path: JobPath, line: KitLine, source: EstimateLine | None) -> Iterator[str]:
    shelf = path.hand.count(line, Source.SHELF)
    have = path.hand.count(line)
    if have and path.hand.missing(line):
        yield f"{have} of {line.quantity} in hand"
    unproven = sum(each.quantity for each in path.hand.to_prove(line))
    if unproven:
        yield f"{unproven} here, to be measured"
    if path.hand.on_order(line) and (to_order := path.hand.to_order(line)):
        yield f"{to_order} of {line.quantity} to be ordered"
    if shelf:
        parts = {str(each.part) for each in path.hand.of(line, Source.SHELF)} - {str(line.part)}
        yield f"{shelf} from the shelf" + (f", as {', '.join(sorted(parts))}" if parts else "")
    if line.hold:
        yield "HELD: buy and fit nothing until the machinist has spoken"
    if line.problem:
        yield f"NO PART: {line.problem}"
    if line.wrong_in_data:
        yield "WRONG IN THE CATALOGUE: its links contradict each other, see the kit"
    if source is not None and source.quote is not None and source.quote.surplus:
        yield f"{source.quote.surplus} over, to stock"
