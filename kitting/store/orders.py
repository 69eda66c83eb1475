"""Orders in the database: revisions of what was asked, and what happened to them since.

Every writer holds the order first and looks at it as it then stands, so that of two benches doing
the same thing at the same moment one is refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import UTC, datetime
from types import MappingProxyType
from typing import Any

from sqlalchemy import Connection, func, insert, select, update

from kitting.buying import steps
from kitting.buying.deliveries import Delivery, Return, Why, check_delivery, check_return
from kitting.buying.orders import HeldItem, LineFor, Order, OrderLine, OrderState, numbered
from kitting.buying.proven import Settled
from kitting.buying.replies import Answer, Reply, check_reply
from kitting.buying.sharing import Place
from kitting.buying.standing import OrderRecord, Step
from kitting.catalog.trade import Supplier
from kitting.errors import NotFound
from kitting.store.holding import hold_even_closed, hold_job
from kitting.store.kits import Kits
from kitting.store.order_history import History
from kitting.store.parts import keep_parts, table_of
from kitting.store.rows import RowMap, insert_rows
from kitting.store.sought import with_sought
from kitting.store.tables import orders as tables

_HEADS = RowMap(Order, tables.OrderRevisionRow, apart=("supplier", "lines", "held"))
_TERMS = RowMap(
    Supplier,
    tables.OrderRevisionRow,
    named={
        name: f"supplier_{name}"
        for name in (
            "key", "name", "address", "currency", "carriage", "free_over", "least_order", "days",
            "note",
        )
    },
)  # fmt: skip
_LINES = RowMap(OrderLine, tables.OrderLineRow, named={"id": "line_id"}, apart=("needed_by",))
_NEEDS = RowMap(LineFor, tables.OrderNeedRow)
_HELD = RowMap(HeldItem, tables.OrderHeldRow)
_ORDERS = table_of(tables.OrderRow)
_REVISIONS = table_of(tables.OrderRevisionRow)
_COUNTERS = table_of(tables.OrderCounterRow)
_NOBODYS: Mapping[Place, int] = MappingProxyType({})


class Orders:
    """Reads and writes orders within one unit of work."""

    def __init__(self, connection: Connection, kits: Kits) -> None:
        self._connection = connection
        self._kits = kits
        self._history = History(connection)

    def make_order(self, order: Order) -> Order:
        """Store a draft under the next number, as its first revision, and return it as stored.

        Raises:
            BadInput: a job that it is for is closed.
        """
        self._hold_jobs(order)
        running = self._next_running()
        made = numbered(order, f"P{running}", 1)
        row = {"number": made.number, "running": running, "entered_at": datetime.now(UTC)}
        with self._connection.begin_nested():
            self._connection.execute(insert(_ORDERS).values(row))
            self._insert(made)
        return made

    def remake_order(self, number: str, order: Order) -> Order:
        """Store a draft made anew as its next revision; the same content is no new revision.

        Raises:
            BadInput: it is no draft any more, or a job that it is for is closed.
        """
        record = self._hold(number)
        steps.check_may_change(record)
        self._hold_jobs(order)
        made = numbered(order, number, record.order.revision)
        if replace(made, day=record.order.day) == record.order:
            return record.order
        made = replace(made, revision=record.order.revision + 1)
        with self._connection.begin_nested():
            self._insert(made)
        return made

    def record(self, number: str) -> OrderRecord:
        """Return an order's last revision with all that happened to it, or raise NotFound."""
        (found,) = with_sought(self._connection, [self._record(number)], self._record, self._kits)
        return found

    def _record(self, number: str) -> OrderRecord:
        """The same by itself, whatever others bring to its places."""
        return self._history.of(self._last(number))

    def _last(self, number: str) -> Order:
        """An order's last revision, or raise NotFound."""
        revision = self._connection.execute(
            select(func.max(_REVISIONS.c.revision)).where(_REVISIONS.c.number == number)
        ).scalar()
        if revision is None:
            known = self._connection.execute(select(_ORDERS.c.number).order_by(_ORDERS.c.running))
            raise NotFound("order", number, list(known.scalars())[-3:])
        return self.order(number, revision)

    def order(self, number: str, revision: int) -> Order:
        """Return one revision as it was, or raise NotFound."""
        at = (_REVISIONS.c.number == number, _REVISIONS.c.revision == revision)
        heads = _HEADS.select(self._connection, *at, keys=("number",))
        if not heads:
            raise NotFound("order", f"{number} revision {revision}")
        (terms,) = _TERMS.select(self._connection, *at, keys=("number",))
        needs = _NEEDS.under(
            self._connection,
            _NEEDS.table.c.number == number,
            _NEEDS.table.c.revision == revision,
        )
        where = (_LINES.table.c.number == number, _LINES.table.c.revision == revision)
        lines = tuple(
            _LINES.read(row[1:], needed_by=tuple(needs.get(row[0], ())))
            for row in _LINES.select(self._connection, *where)
        )
        held = _HELD.all(
            self._connection, _HELD.table.c.number == number, _HELD.table.c.revision == revision
        )
        supplier = _TERMS.read(terms[1:])
        return _HEADS.read(heads[0][1:], supplier=supplier, lines=lines, held=held)

    def records(self) -> tuple[OrderRecord, ...]:
        """Return every order, by number."""
        query = select(_ORDERS.c.number).order_by(_ORDERS.c.running)
        found = [self._record(each) for each in self._connection.execute(query).scalars()]
        return with_sought(self._connection, found, self._record, self._kits)

    def records_for(self, *jobs: str) -> tuple[OrderRecord, ...]:
        """Return the orders that anything of these jobs is in, by number, looking at no other."""
        needs = _NEEDS.table.c
        query = (
            select(_ORDERS.c.number)
            .where(_ORDERS.c.number.in_(select(needs.number).where(needs.job.in_(jobs))))
            .order_by(_ORDERS.c.running)
        )
        found = (self._record(number) for number in self._connection.execute(query).scalars())
        mine = [record for record in found if set(jobs) & set(record.order.jobs)]
        return with_sought(self._connection, mine, self._record, self._kits)

    def hold(self, number: str) -> OrderRecord:
        """Lock an order and its jobs, closed ones too, until the end of the unit of work, before
        what is added depends on a look; returns the order as it stands then, or raises NotFound.
        """
        # The jobs first and in one order, as whoever drafts or approves: neither waits for the
        # other then.
        for job in sorted(self._last(number).jobs):
            hold_even_closed(self._connection, job)
        return self._hold(number)

    def approve_order(self, number: str, revision: int, step: Step) -> OrderRecord:
        """Freeze a draft, approved by a named person; `revision` is the one that was looked at.

        Raises:
            BadInput: it was approved before, cancelled, or made anew meanwhile, or a job that it
                is for is closed.
        """
        record = self._hold(number)
        steps.check_may_approve(record)
        steps.check_revision(record, revision)
        self._hold_jobs(record.order)
        self._connection.execute(
            _REVISIONS.update()
            .where(_REVISIONS.c.number == number, _REVISIONS.c.revision == revision)
            .values(approved_by=step.who, approved_on=step.day)
        )
        self._history.add_step(number, step)
        return self.record(number)

    def add_step(self, number: str, step: Step) -> OrderRecord:
        """Note that it was sent, or cancel it.

        Raises:
            BadInput: that may not be done as it stands.
        """
        record = self._hold(number)
        if step.state is OrderState.SENT:
            steps.check_may_send(record)
        else:
            steps.check_may_cancel(record)
        self._history.add_step(number, step)
        return self.record(number)

    def add_reply(self, reply: Reply) -> int:
        """Add a reply and return its number; 0 when it says what the last one said.

        Words of no line that are new then are kept with the last one.
        What a supplier said before and has come back to is news: his last word counts.

        Raises:
            BadInput: it is no reply to this order as it stands.
        """
        record = self._hold(reply.order)
        if record.replies and reply.same_as(record.replies[-1]):
            self._history.add_words(record.replies[-1], len(record.replies), reply.beside)
            return 0
        steps.check_may_answer(record)
        check_reply(record.order, reply)
        keep_parts(self._connection, (line.part for line in reply.lines if line.part))
        return self._history.add_reply(reply, len(record.replies) + 1)

    def add_answer(self, number: str, answer: Answer) -> OrderRecord:
        """Add a named person's word on a line of the last reply.

        Raises:
            BadInput: nothing is asked there that is still open.
        """
        record = self._hold(number)
        steps.check_may_answer(record)
        steps.check_answers(record, answer)
        self._history.add_answer(number, answer)
        return self.record(number)

    def add_delivery(self, delivery: Delivery) -> int:
        """Add a delivery and return its number; 0 when that note was booked before, alike.

        Raises:
            BadInput: it cannot be a delivery of this order as it stands.
        """
        record = self._hold(delivery.order)
        if any(delivery.same_as(earlier) for earlier in record.deliveries):
            return 0
        steps.check_may_receive(record)
        coming = {each.line.id: each.coming + each.late for each in record.lines}
        check_delivery(record.order, delivery, coming)
        return self._history.add_delivery(delivery, len(record.deliveries) + 1)

    def add_measured(self, number: str, line_id: str, measured: steps.Measured) -> OrderRecord:
        """Add figures measured later, and the verdict that all of a delivery's figures come to.

        Raises:
            BadInput: nothing of that line has come, or it changed meanwhile.
        """
        record = self._hold(number)
        steps.check_measured(record, line_id, measured)
        self._history.add_measured(number, line_id, measured)
        return self.record(number)

    def add_settled(self, number: str, word: Settled) -> OrderRecord:
        """Add a named person's word on what came of a line and no figure proves.

        Raises:
            BadInput: nothing of it has come, its figures prove it, or it was said before.
        """
        record = self._hold(number)
        steps.check_settles(record, word)
        self._history.add_settled(number, word)
        return self.record(number)

    def add_return(
        self, number: str, back: Return, unwanted: int = 0, whose: Mapping[Place, int] = _NOBODYS
    ) -> OrderRecord:
        """Note that pieces went back; hold the order before reckoning what of it is unwanted.

        Args:
            number: the order.
            back: what goes back, and why.
            unwanted: pieces of the line that no kit asks for; they are surplus too.
            whose: pieces of the line, here and wanted no more, by job and position; those go
                first.

        Raises:
            BadInput: more than there is to send back for that reason.
        """
        record = self._hold(number)
        standing = steps.line_of(record, back.line)
        here = min(unwanted, standing.good + standing.unproven)
        may_go = {**standing.may_go, Why.SURPLUS: standing.may_go[Why.SURPLUS] + here}
        check_return(f"order {number}, line {back.line}", back, may_go)
        left = back.pieces
        if back.why is Why.SURPLUS:
            left -= (nobodys := min(left, standing.may_go[Why.SURPLUS]))
            self._add_return(number, replace(back, pieces=nobodys))
        elif back.why is not Why.SALE_OR_RETURN:
            whose = _NOBODYS
        for (job, position), count in whose.items():
            pieces = min(left, count)
            self._add_return(number, replace(back, pieces=pieces, job=job, position=position))
            left -= min(left, count)
        self._add_return(number, replace(back, pieces=left))
        return self.record(number)

    def _add_return(self, number: str, back: Return) -> None:
        if back.pieces:
            self._history.add_return(number, back)

    def _hold(self, number: str) -> OrderRecord:
        """Keep the order for this unit of work, and say how it stands then."""
        hold = select(_ORDERS.c.number).where(_ORDERS.c.number == number).with_for_update()
        self._connection.execute(hold)
        return self.record(number)

    def _hold_jobs(self, order: Order) -> None:
        """Nothing more is bought for a job once it is closed; what was bought may still come."""
        for job in sorted(order.jobs):
            hold_job(self._connection, job)

    def _next_running(self) -> int:
        """The next number; another bench that asks waits until this work is kept or dropped."""
        mine = _COUNTERS.c.name == "orders"
        self._connection.execute(update(_COUNTERS).where(mine).values(last=_COUNTERS.c.last + 1))
        last: int = self._connection.execute(select(_COUNTERS.c.last).where(mine)).scalar_one()
        return last

    def _insert(self, order: Order) -> None:
        keep_parts(self._connection, _parts(order))
        owner: dict[str, Any] = {"number": order.number, "revision": order.revision}
        row = _HEADS.row(order, **_TERMS.row(order.supplier), entered_at=datetime.now(UTC))
        self._connection.execute(insert(_HEADS.table).values(row))
        _LINES.insert(self._connection, order.lines, **owner)
        _NEEDS.insert_under(self._connection, [line.needed_by for line in order.lines], **owner)
        insert_rows(self._connection, _HELD.table, _HELD.rows(order.held, **owner))


def _parts(order: Order) -> Iterable[Any]:
    for line in order.lines:
        yield line.part
        yield from (need.stands_for for need in line.needed_by if need.stands_for)
    yield from (item.part for item in order.held)
