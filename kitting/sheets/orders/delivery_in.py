"""Reading a filled delivery sheet back: counts and figures, all of it or nothing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from kitting.buying.arrivals import placed_reading
from kitting.buying.deliveries import Delivery, DeliveryLine, check_delivery
from kitting.buying.replies import counted
from kitting.errors import BadInput, Problem
from kitting.sheets.cells import figure_in, is_blank
from kitting.sheets.orders.keys import COUNTED_BY, DELIVERY_NOTE, Apart, Count, Form
from kitting.sheets.orders.rows import Layout, raise_named, returned, short_words
from kitting.sheets.orders.twice import Singled, in_boxes

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date
    from pathlib import Path

    from kitting.buying.drawings import Check
    from kitting.buying.orders import Order
    from kitting.buying.standing import OrderRecord
    from kitting.errors import Problems
    from kitting.job.findings import Reading
    from kitting.sheets.orders.rows import LineRow

_LAYOUT = Layout(Form.DELIVERY, tuple(Count), (DELIVERY_NOTE, COUNTED_BY), apart=Apart.WHAT)
_MOST_DIGITS = 6


def read_delivery(
    path: Path,
    order: Order,
    checks: Mapping[str, Iterable[Check]],
    day: date,
    record: OrderRecord | None = None,
) -> Delivery:
    """Return what a filled delivery sheet says came; the file is only read.

    `checks` are what is measured of each line, by its id. `who` is '' where the sheet names nobody.
    With `record`, counts that the order as it stands cannot have are told at their cells.

    Raises:
        BadInput: with every problem, each with its sheet and cell and what would be right.
    """
    back = returned(path, _LAYOUT, order)
    problems = back.problems
    rows, _ = Singled(in_boxes, problems).of(back.rows)
    filled = {row.line: row for row in rows if not row.extra}
    measured: dict[str, list[LineRow]] = {}
    for row in rows:
        if row.extra:
            measured.setdefault(row.line, []).append(row)
    lines = []
    for line in order.lines:
        figures = measured.get(line.id, [])
        known = tuple(checks.get(line.id, ()))
        found = filled.get(line.id)
        if found is not None and found.filled:
            came = _line(found, problems)
            readings = _readings(figures, known, came.good or line.pieces, problems)
            lines.append(replace(came, readings=readings))
            continue
        readings = _readings(figures, known, line.pieces, problems)
        if not readings:
            continue
        problems.add(
            figures[0].place(Count.FIGURE),
            f"line {line.id} is measured and not counted",
            "count what came of it",
        )
    note, who = back.fields.get(DELIVERY_NOTE, ""), back.fields.get(COUNTED_BY, "")
    if record is not None and not _booked(record, note):
        _check_counts(record, [(filled[each.line], each) for each in lines], problems)
    raise_named(problems, path)
    if not lines:
        raise BadInput(Problem(path.name, "nothing is filled in", "count what came"))
    return Delivery(order.number, day, who, tuple(lines), note)


def _booked(record: OrderRecord, note: str) -> bool:
    """Whether that note was booked before: the store says whether it is the same parcel."""
    return bool(note) and any(each.their_note == note for each in record.deliveries)


def _check_counts(
    record: OrderRecord, lines: Iterable[tuple[LineRow, DeliveryLine]], problems: Problems
) -> None:
    """Hold each line's counts against what of it is still to come."""
    for row, came in lines:
        standing = record.by_line[came.line]
        one = Delivery(record.order.number, record.order.day, "", (came,))
        try:
            check_delivery(record.order, one, {came.line: standing.coming + standing.late})
        except BadInput as error:
            for each in error.problems:
                problems.add(f"{row.place(Count.GOOD)}, line {came.line}", each.wrong, each.right)


def _line(row: LineRow, problems: Problems) -> DeliveryLine:
    counts = {}
    for count in (Count.GOOD, Count.DAMAGED, Count.WRONG, Count.FOLLOWS):
        counts[count] = 0
        if count in row.boxes:
            with problems.at(row.place(count)):
                counts[count] = _pieces(figure_in(row.boxes[count]))
    note = ""
    if Count.NOTE in row.boxes:
        with problems.at(row.place(Count.NOTE)):
            note = short_words(row.boxes[Count.NOTE])
    return DeliveryLine(
        line=row.line,
        good=counts[Count.GOOD],
        damaged=counts[Count.DAMAGED],
        wrong=counts[Count.WRONG],
        to_follow=counts[Count.FOLLOWS],
        note=note,
    )


def _pieces(text: str) -> int:
    if text and (not text.isdecimal() or len(text) > _MOST_DIGITS):
        right = f"a whole number of at most {_MOST_DIGITS} digits, or nothing"
        raise BadInput(Problem("", f"'{text[:20]}' is no number of pieces", right))
    return int(text or 0)


def _readings(
    rows: Iterable[LineRow], checks: tuple[Check, ...], pieces: int, problems: Problems
) -> tuple[Reading, ...]:
    """The figures of one line; a row whose figure nobody asked for is refused.

    The sheet has a row for each piece that was to come; as many figures are taken as pieces came.
    """
    places = {
        " ".join(filter(None, (check.key, *place))): (check, " ".join(filter(None, place)))
        for check in (each.of_pieces(pieces) for each in checks)
        for place in check.places
    }
    readings = []
    for row in rows:
        cell = row.boxes.get(Count.FIGURE)
        if cell is None or is_blank(cell):
            continue
        with problems.at(row.place(Count.FIGURE)):
            if row.extra not in places:
                wanted = f"its figures: {', '.join(places)}" if places else "leave it as it was"
                wrong = f"'{row.extra}' is not measured of the {counted(pieces, 'piece')} that came"
                raise BadInput(Problem("", wrong, wanted))
            check, place = places[row.extra]
            readings.append(placed_reading(check, place, figure_in(cell)))
    return tuple(readings)
