"""What may be done to an order as it stands; what may not is refused with a sentence."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.buying.deliveries import Why
from kitting.buying.orders import OrderState
from kitting.buying.proven import Proof, left_open, parcels_of
from kitting.buying.replies import Word, counted
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.buying.deliveries import Delivery, DeliveryLine
    from kitting.buying.proven import Settled
    from kitting.buying.replies import Answer, Question
    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.job.findings import Reading


@dataclass(frozen=True, slots=True)
class Measured:
    """Figures of one delivery's line, measured later, and what its pieces are with all it had.

    `by_figures` are the pieces inside, outside and too near to call. `before` are the figures that
    it had then, so that none of these rests on others.
    """

    delivery: int
    before: tuple[Reading, ...]
    readings: tuple[Reading, ...]
    by_figures: tuple[int, int, int]
    who: str


def check_name(who: str) -> str:
    """The name of whoever does something to an order; never empty."""
    if not who.strip():
        raise BadInput(Problem("--who", "no name is given", "name who does it"))
    return who.strip()


def check_may_change(record: OrderRecord) -> None:
    """Only a draft may be made anew."""
    if record.state is not OrderState.DRAFT:
        raise _refused(record, "what was approved stays as it was", "order the rest anew")


def check_may_approve(record: OrderRecord) -> None:
    """A draft is approved once."""
    if record.cancelled:
        raise _refused(record, "it cannot be approved", "make the order again")
    if not record.order.draft:
        order = record.order
        when = f" on {order.approved_on:%d %b %Y}" if order.approved_on else ""
        raise BadInput(
            Problem(
                f"order {order.number}",
                f"it was approved already, by {order.approved_by}{when}",
                "an order is approved once",
            )
        )


def check_revision(record: OrderRecord, revision: int) -> None:
    """What is approved is what was looked at."""
    if record.order.revision != revision:
        raise BadInput(
            Problem(
                f"order {record.order.number}",
                f"it was made anew meanwhile: it is at revision {record.order.revision}",
                "look at it again",
            )
        )


def check_may_send(record: OrderRecord) -> None:
    """What is approved may be sent, and said so once."""
    if record.order.draft or record.cancelled:
        raise _refused(record, "it cannot be sent", "approve it first")
    if any(step.state is OrderState.SENT for step in record.steps):
        raise _refused(record, "it was sent already", "an order is sent once")


def check_may_cancel(record: OrderRecord) -> None:
    """What was cancelled, or has come wholly, is not cancelled."""
    if record.cancelled:
        raise _refused(record, "it was cancelled already", "nothing more need be done")
    if record.state is OrderState.DELIVERED:
        raise _refused(record, "nothing of it is still to come", "send back what is not wanted")


def check_may_answer(record: OrderRecord) -> None:
    """A supplier answers an order that was approved."""
    if record.cancelled:
        raise _refused(record, "it cannot be answered", "order anew what is still wanted")
    if record.order.draft:
        raise _refused(
            record,
            "it cannot be answered",
            "approve it, and send the supplier the sheet that 'kitting order sheet' writes then",
        )


def check_may_receive(record: OrderRecord) -> None:
    """Something comes of an order that was approved and not cancelled."""
    if record.cancelled:
        raise _refused(
            record, "nothing of it was to come", "send the parcel back, or order them anew"
        )
    if record.order.draft:
        raise _refused(record, "nothing of it was ordered", "approve it first")


def line_of(record: OrderRecord, line_id: str) -> LineStanding:
    """How a line stands, by its id.

    Raises:
        BadInput: the order has no such line.
    """
    found = record.by_line.get(line_id.strip().upper())
    if found is None:
        raise BadInput(
            Problem(
                f"order {record.order.number}",
                f"it has no line '{line_id}'",
                f"its lines: {', '.join(record.by_line)}",
            )
        )
    return found


def question_at(record: OrderRecord, line_id: str) -> Question:
    """The open question of a line.

    Raises:
        BadInput: no such line, or nothing is asked of it.
    """
    found = line_of(record, line_id)
    if found.told is not None:
        raise BadInput(
            Problem(
                f"order {record.order.number}, line {found.line.id}",
                "what was to come of it is here: the reply asks nothing of it",
                "count, measure or send back what came",
            )
        )
    if found.question is None:
        raise BadInput(
            Problem(
                f"order {record.order.number}, line {found.line.id}",
                "the supplier's reply asks nothing of it that is still open",
                "`kitting order show` lists what is asked",
            )
        )
    return found.question


def check_answers(record: OrderRecord, answer: Answer) -> None:
    """The word is on what the last reply asks, and nobody has given one.

    Another number is accepted for the whole of a line: not where some of it is here by the first.
    """
    asked = question_at(record, answer.line)
    place = f"order {record.order.number}, line {answer.line}"
    if asked.reply != answer.reply:
        raise BadInput(Problem(place, "a newer reply speaks of it", "look at the order again"))
    standing = line_of(record, answer.line)
    here = standing.good + standing.unproven
    offered = asked.said.substitute
    if answer.word is Word.ACCEPT and here and offered not in {"", standing.their_number}:
        wrong = f"{here} of {standing.part} are here, and {offered} is offered for all"
        right = "refuse it: what is missing is open again, to be ordered by that number"
        raise BadInput(Problem(place, wrong, right))


def parcel_to_prove(
    record: OrderRecord, line_id: str, delivery: int | None = None
) -> tuple[int, DeliveryLine]:
    """The delivery whose pieces of a line are measured or settled, with its number.

    Without `delivery` the first of which nothing is proven, else the last that brought any.

    Raises:
        BadInput: nothing of it has come, or not by that delivery.
    """
    place = f"order {record.order.number}, line {line_id}"
    found = parcels_of(record.deliveries, record.settled, line_id)
    brought = [each for each in found if each.came.good]
    if not brought:
        raise BadInput(Problem(place, "nothing of it has come", "`kitting order receive` first"))
    if delivery is not None:
        chosen = next((each for each in brought if each.delivery == delivery), None)
        if chosen is None:
            numbers = ", ".join(str(each.delivery) for each in brought)
            raise BadInput(
                Problem(place, f"delivery {delivery} brought none of it", f"one of {numbers}")
            )
    else:
        chosen = next((each for each in brought if each.is_open), brought[-1])
    return chosen.delivery, chosen.came


def check_measured(record: OrderRecord, line_id: str, measured: Measured) -> None:
    """What was measured is of that delivery, nobody else has measured it meanwhile, and what went
    back as the wrong part stays the wrong part."""
    _, came = parcel_to_prove(record, line_id, measured.delivery)
    if came.readings != measured.before:
        raise BadInput(
            Problem(
                f"order {record.order.number}, line {line_id}",
                "somebody else has measured it meanwhile",
                "look at the order again",
            )
        )
    inside, outside, near = measured.by_figures
    now = replace(came, inside=inside, outside=outside, near=near, to_measure=True)
    _check_gone(replace(record, deliveries=tuple(_with(record, measured.delivery, now))), line_id)


def _with(record: OrderRecord, delivery: int, came: DeliveryLine) -> Iterator[Delivery]:
    """The deliveries, with what came by one of them of a line as it is judged now."""
    for number, each in enumerate(record.deliveries, start=1):
        lines = (came if line.line == came.line else line for line in each.lines)
        yield replace(each, lines=tuple(lines)) if number == delivery else each


def _check_gone(after: OrderRecord, line_id: str) -> None:
    """What went back as the wrong part cannot be found sound afterwards."""
    gone = sum(e.pieces for e in after.returns if (e.line, e.why) == (line_id, Why.WRONG))
    parcels = parcels_of(after.deliveries, after.settled, line_id)
    wrong = sum(each.came.wrong + each.proofs[Proof.WRONG] for each in parcels)
    if wrong < gone:
        raise BadInput(
            Problem(
                f"order {after.order.number}, line {line_id}",
                f"{counted(gone, 'piece')} went back as the wrong part, and by this only {wrong} "
                "would have been wrong",
                "what is gone keeps its figure and its word; measure those that lie here",
            )
        )


def check_settles(record: OrderRecord, word: Settled) -> None:
    """A word settles only what no figure proves, and only once what it says is new."""
    parcel_to_prove(record, word.line, word.delivery)
    place = f"order {record.order.number}, line {word.line}"
    for parcel in parcels_of(record.deliveries, record.settled, word.line):
        if parcel.delivery != word.delivery or parcel.is_open:
            continue
        earlier = [s for s in record.settled if (s.line, s.delivery) == (word.line, word.delivery)]
        if not (left_open(parcel.came) and earlier):
            wrong = f"it is {parcel.says}: nothing is open"
            raise BadInput(Problem(place, wrong, "measure it again if that is so"))
        if earlier[-1].word is word.word:
            said = f"{earlier[-1].who} said so already, on {earlier[-1].day:%d %b %Y}"
            raise BadInput(Problem(place, said, "nothing more need be done"))
    _check_gone(replace(record, settled=(*record.settled, word)), word.line)


def _refused(record: OrderRecord, wrong: str, right: str) -> BadInput:
    place = f"order {record.order.number}"
    return BadInput(Problem(place, f"it is {record.state}: {wrong}", right))
