"""What happened to an order: read into its record, and added to it row by row."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Table, func, select, update

from kitting.buying.deliveries import Delivery, DeliveryLine, Return
from kitting.buying.proven import Settled
from kitting.buying.replies import Answer, Reply, ReplyLine
from kitting.buying.standing import OrderRecord, Step
from kitting.job.findings import Reading
from kitting.measure import Quantity
from kitting.store.built_in import built_in_of
from kitting.store.given_up import given_up_by
from kitting.store.rows import RowMap
from kitting.store.tables import orders as tables

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kitting.buying.orders import Order
    from kitting.buying.steps import Measured


@dataclass(frozen=True, slots=True)
class _Figure:
    """A reading on arrival, flat, with the line that it was taken of."""

    line_id: str
    feature: str
    station: str
    direction: str
    text: str
    value: Quantity
    instrument: str
    who: str

    @classmethod
    def of(cls, line_id: str, reading: Reading, who: str) -> _Figure:
        """Flatten one."""
        return cls(
            line_id,
            reading.feature,
            reading.station,
            reading.direction,
            reading.text,
            reading.value,
            reading.instrument,
            who,
        )

    @property
    def reading(self) -> Reading:
        """The reading again."""
        return Reading(
            self.feature, self.station, self.direction, self.text, self.value, self.instrument
        )


_STEPS = RowMap(Step, tables.OrderStepRow, named={"day": "on_day"})
_REPLIES = RowMap(
    Reply, tables.OrderReplyRow, named={"order": "number", "day": "on_day"}, apart=("lines",)
)
_REPLY_LINES = RowMap(ReplyLine, tables.ReplyLineRow, named={"line": "line_id"})
_ANSWERS = RowMap(
    Answer,
    tables.OrderAnswerRow,
    named={"line": "line_id", "day": "on_day"},
    apart=("delivered",),
)
_DELIVERIES = RowMap(
    Delivery, tables.DeliveryRow, named={"order": "number", "day": "on_day"}, apart=("lines",)
)
_DELIVERY_LINES = RowMap(
    DeliveryLine, tables.DeliveryLineRow, named={"line": "line_id"}, apart=("readings",)
)
_FIGURES = RowMap(_Figure, tables.DeliveryReadingRow)
_WORDS = RowMap(Settled, tables.DeliveryWordRow, named={"line": "line_id", "day": "on_day"})
_RETURNS = RowMap(Return, tables.OrderReturnRow, named={"line": "line_id", "day": "on_day"})


class History:
    """Reads and writes the history of orders; `kitting.store.orders` says what may be added."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def of(self, order: Order) -> OrderRecord:
        """The record of an order."""
        return OrderRecord(
            order=order,
            steps=_STEPS.all(self._connection, _STEPS.table.c.number == order.number),
            replies=self._replies(order.number),
            answers=self._answers(order.number),
            deliveries=self._deliveries(order.number),
            returns=_RETURNS.all(self._connection, _RETURNS.table.c.number == order.number),
            settled=_WORDS.all(self._connection, _WORDS.table.c.number == order.number),
            given_up=given_up_by(self._connection, order.jobs),
            built_in=built_in_of(self._connection, order.number),
        )

    def add_step(self, number: str, step: Step) -> None:
        """Add a step."""
        self._add(_STEPS, number, step)

    def add_words(self, reply: Reply, number: int, words: Iterable[str]) -> None:
        """Keep words that belong to no line with a reply, those that it has not."""
        every = tuple(dict.fromkeys((*reply.beside, *words)))
        if every != reply.beside:
            table = _REPLIES.table
            at = (table.c.number == reply.order, table.c.line == number)
            self._connection.execute(update(table).where(*at).values(beside=every))

    def add_reply(self, reply: Reply, number: int) -> int:
        """Add a reply as the order's so-and-so-many-th."""
        now = datetime.now(UTC)
        _REPLIES.insert(self._connection, [reply], first=number, entered_at=now)
        _REPLY_LINES.insert_under(self._connection, [reply.lines], first=number, number=reply.order)
        return number

    def add_answer(self, number: str, answer: Answer) -> None:
        """Add a named person's word."""
        self._add(_ANSWERS, number, answer, self._later_than(_DELIVERIES.table, number))

    def add_delivery(self, delivery: Delivery, number: int) -> int:
        """Add a delivery as the order's so-and-so-many-th."""
        now = self._later_than(_ANSWERS.table, delivery.order)
        owner = {"number": delivery.order}
        _DELIVERIES.insert(self._connection, [delivery], first=number, entered_at=now)
        _DELIVERY_LINES.insert_under(self._connection, [delivery.lines], first=number, **owner)
        figures = [
            _Figure.of(came.line, r, delivery.who) for came in delivery.lines for r in came.readings
        ]
        _FIGURES.insert_under(self._connection, [figures], first=number, entered_at=now, **owner)
        return number

    def add_measured(self, number: str, line_id: str, measured: Measured) -> None:
        """Add figures to a delivery's line, and set what its pieces are by them with the rest."""
        rows = _FIGURES.table.c
        before = self._connection.execute(
            select(func.max(rows.rank)).where(rows.number == number, rows.line == measured.delivery)
        ).scalar()
        figures = [_Figure.of(line_id, reading, measured.who) for reading in measured.readings]
        added = _FIGURES.rows(
            figures,
            by="rank",
            first=(before or 0) + 1,
            number=number,
            line=measured.delivery,
            entered_at=datetime.now(UTC),
        )
        for row in added:
            self._connection.execute(_FIGURES.table.insert().values(row))
        lines = _DELIVERY_LINES.table
        self._connection.execute(
            lines.update()
            .where(
                lines.c.number == number,
                lines.c.line == measured.delivery,
                lines.c.line_id == line_id,
            )
            .values(dict(zip(("inside", "outside", "near"), measured.by_figures, strict=True)))
        )

    def add_settled(self, number: str, word: Settled) -> None:
        """Add a named person's word on a delivery's line."""
        self._add(_WORDS, number, word)

    def add_return(self, number: str, back: Return) -> None:
        """Add a return."""
        self._add(_RETURNS, number, back)

    def _add(self, rows: RowMap[Any], number: str, value: Any, now: datetime | None = None) -> None:
        table = rows.table
        last = self._connection.execute(
            select(func.max(table.c.line)).where(table.c.number == number)
        ).scalar()
        rows.insert(
            self._connection,
            [value],
            first=(last or 0) + 1,
            number=number,
            entered_at=now or datetime.now(UTC),
        )

    def _later_than(self, table: Table, number: str) -> datetime:
        """Now, and after all that a table has of an order: two benches' clocks may differ, and the
        order of answers and deliveries counts."""
        last = self._connection.execute(
            select(func.max(table.c.entered_at)).where(table.c.number == number)
        ).scalar()
        now = datetime.now(UTC)
        return now if last is None or last < now else last + timedelta(microseconds=1)

    def _answers(self, number: str) -> tuple[Answer, ...]:
        came = _DELIVERIES.table.c
        booked = [*self._connection.execute(select(came.entered_at).where(came.number == number))]
        rows = _ANSWERS.select(
            self._connection, _ANSWERS.table.c.number == number, keys=("line", "entered_at")
        )
        return tuple(
            _ANSWERS.read(row[2:], delivered=sum(1 for (when,) in booked if when < row[1]))
            for row in rows
        )

    def _replies(self, number: str) -> tuple[Reply, ...]:
        lines = _REPLY_LINES.under(self._connection, _REPLY_LINES.table.c.number == number)
        rows = _REPLIES.select(self._connection, _REPLIES.table.c.number == number)
        return tuple(_REPLIES.read(row[1:], lines=tuple(lines.get(row[0], ()))) for row in rows)

    def _deliveries(self, number: str) -> tuple[Delivery, ...]:
        figures = _FIGURES.under(self._connection, _FIGURES.table.c.number == number)
        lines: dict[int, list[DeliveryLine]] = {}
        where = _DELIVERY_LINES.table.c.number == number
        for row in _DELIVERY_LINES.select(self._connection, where, keys=("line", "rank")):
            came = _DELIVERY_LINES.read(row[2:], readings=())
            mine = [f.reading for f in figures.get(row[0], ()) if f.line_id == came.line]
            lines.setdefault(row[0], []).append(replace(came, readings=_last_of_each(mine)))
        rows = _DELIVERIES.select(self._connection, _DELIVERIES.table.c.number == number)
        return tuple(_DELIVERIES.read(row[1:], lines=tuple(lines.get(row[0], ()))) for row in rows)


def _last_of_each(readings: list[Reading]) -> tuple[Reading, ...]:
    """Of each place the last figure, in the order in which the places were first measured."""
    kept = {}
    for reading in readings:
        kept[(reading.feature, reading.station, reading.direction)] = reading
    return tuple(kept.values())
