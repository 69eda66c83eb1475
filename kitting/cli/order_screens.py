"""Orders as text for the office."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.orders import OrderState
from kitting.buying.replies import Word, counted
from kitting.cli.order_common import Beside
from kitting.cli.order_said import IF, said_of
from kitting.cli.screen import heading, paragraph, table

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from kitting.buying.again import Again
    from kitting.buying.choices import Choice
    from kitting.buying.drawings import Check
    from kitting.buying.going_back import Use
    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.cli.order_common import Effects

_PAST = {Word.ACCEPT: "accepted", Word.REFUSE: "refused"}


def needs_somebody(record: OrderRecord, again: Again) -> bool:
    """Whether anything of an order waits for the shop."""
    waiting = any(
        each.coming or each.unproven or each.damaged or each.wrong for each in record.lines
    )
    waiting = waiting or bool(again.lines)
    return bool(record.questions) or (waiting and not record.cancelled)


def orders_text(records: Iterable[tuple[OrderRecord, Beside]]) -> str:
    """The orders, a line each, with what follows for each from others and from its jobs."""
    rows = [
        (
            record.order.number,
            record.order.supplier.name,
            str(record.state),
            f"{record.order.currency} {record.order.total:,}",
            str(len(record.order.lines)),
            _asks(record, beside),
        )
        for record, beside in records
    ]
    if not rows:
        return "No orders. Draft what a job needs: kitting order make JOB"
    headings = ("order", "supplier", "state", "without VAT", "lines", "asks for")
    return table(headings, rows, right="34")


def nothing_comes(record: OrderRecord) -> bool:
    """Whether an order stands of which every line was answered none, or refused."""
    if record.order.draft or record.cancelled or record.deliveries:
        return False
    return not (record.questions or any(each.packs for each in record.lines))


def _asks(record: OrderRecord, beside: Beside) -> str:
    said = []
    if record.state is OrderState.DRAFT:
        said.append("approval")
    if record.questions:
        said.append(counted(len(record.questions), "answer"))
    if record.unanswered:
        said.append(f"no answer to {counted(len(record.unanswered), 'line')}")
    if nothing_comes(record):
        said.append("nothing of it comes")
    said += _of_again(beside.again)
    wanted = [each for each in record.lines if each.line.id not in beside.idle]
    unmeasured = sum(1 for each in wanted if each.unmeasured)
    if unmeasured:
        said.append(f"{counted(unmeasured, 'line')} to measure")
    doubtful = sum(1 for each in wanted if each.doubtful)
    if doubtful:
        said.append(f"{counted(doubtful, 'line')} to measure again")
    back = sum(each.damaged + each.wrong for each in record.lines)
    if back:
        said.append(f"{counted(back, 'piece')} to send back")
    unused = sum(1 for e in record.lines if e.unproven and e.line.id in beside.idle)
    if unused:
        said.append(f"{counted(unused, 'line')} to send back unused")
    if beside.unwanted:
        said.append(f"{counted(sum(beside.unwanted.values()), 'piece')} that no kit asks for")
    return ", ".join(said)


def _of_again(again: Again) -> list[str]:
    """What is still to be ordered again, and where the rest was bought."""
    said = [f"{counted(again.lines, 'line')} to order again"] if again.lines else []
    said += [f"bought again in {number}" for number in again.bought]
    return said + [f"drafted again in {number}" for number in again.drafts]


def _open(again: Again) -> str:
    said = _of_again(again)
    return paragraph(f"Of what is open: {', '.join(said)}.") if said else ""


def order_text(
    record: OrderRecord,
    effects: Mapping[str, Effects],
    checks: Mapping[str, Iterable[Check]],
    uses: Mapping[str, Mapping[Use, int]],
    beside: Beside,
) -> str:
    """One order whole."""
    order, totals = record.order, record.order.with_vat
    title = f"Order {order.number} · revision {order.revision} · {record.state}"
    facts = [
        heading(title),
        f"Supplier   {order.supplier.name}",
        f"Made       {order.day:%d %b %Y}, for job {', '.join(order.jobs)}",
    ]
    facts += [
        f"{str(step.state).capitalize():<10} {step.day:%d %b %Y}, {step.who}"
        f"{f': {step.note}' if step.note else ''}"
        for step in record.steps
    ]
    if record.unanswered:
        ids = ", ".join(line.id for line in record.unanswered)
        facts.append(paragraph(f"No answer  {ids}", 0, 11))
    proving = any(each.unproven for each in record.lines)
    rows = [_row(each, proving=proving) for each in record.lines]
    headings = ["line", "part", "what", "asked", "price", "due", "need", "here", "to come", "open"]
    if proving:
        headings[6:8] = ["good", "prove"]
    sums = paragraph(
        f"Goods {order.currency} {order.goods:,}, carriage {order.carriage:,}, without VAT "
        f"{order.total:,}; VAT {totals.gross - totals.net:,}. As agreed by now {record.agreed:,}."
    )
    if nothing_comes(record):
        closes = f"'kitting order cancel {order.number}' closes it"
        sums += f"\nNothing of it comes, by what was answered: {closes}."
    parts = [
        "\n".join(facts),
        table(headings, rows, right="346789"),
        _block("In place of another number:", _in_place(record)),
        sums,
        _open(beside.again),
        _block("The supplier's reply asks:", _questions(record, effects)),
        _block("Said of what is here already, and asks nothing:", _told(record)),
        _block("What was said:", said_of(record)),
        _block("On arrival:", _arrived(record, checks, beside.idle)),
        _block("Settled:", _settled(record)),
        _block("May go back:", _may_go(record, uses)),
        _block("Asked for by no kit any more:", _unwanted(record, beside.unwanted)),
    ]
    return "\n\n".join(part for part in parts if part)


def _row(each: LineStanding, *, proving: bool) -> tuple[str, ...]:
    """How a line stands: packs as agreed at the price of one, then pieces as they are agreed."""
    line = each.line
    need = each.needed if line.needed_by else 0
    here = (str(each.good), str(each.unproven)) if proving else (str(need), str(each.good))
    words = (line.name, line.quality.value, "on sale or return" if line.on_return else "")
    name = ", ".join(filter(None, words))
    opened = -(-each.reopened * each.per // each.makes)
    return (
        line.id,
        each.part.number,
        name if each.part == line.part else f"for {line.part.number}, {name}",
        str(each.packs) if line.pack == 1 else f"{each.packs}×{line.pack}",
        f"{each.pack_price}",
        f"{each.due:%d %b}",
        *here,
        str(each.coming),
        str(opened),
    )


def _in_place(record: OrderRecord) -> Iterator[str]:
    """What is bought in another measure than the kit's own, or together with something else."""
    for each in record.lines:
        for need in each.needed_by:
            if (need.per, need.makes) == (1, 1) and len(need.goes_in) < 2:
                continue
            beside = f", with {' and '.join(need.goes_in[1:])}" if need.goes_in[1:] else ""
            it = "it" if each.part == each.line.part else each.part
            says = f"{need.per} of {it}{beside} for {need.makes} of {need.stands_for}"
            yield paragraph(f"- {each.line.id} {each.line.name}: job {need.job} takes {says}", 2, 2)


def _block(title: str, lines: Iterable[str]) -> str:
    said = "\n".join(lines)
    return f"{title}\n{said}" if said else ""


def _questions(record: OrderRecord, effects: Mapping[str, Effects]) -> Iterator[str]:
    for question in record.questions:
        words = [*question.sentences(record.order.currency)]
        if question.dearer and record.order.currency != record.order.home_currency:
            home = record.order.at_home(question.dearer)
            words.append(f"that is {record.order.home_currency} {home} at the order's rate")
        effect = effects.get(question.line.id)
        if effect is not None:
            words += [f"fit: {fit.sentence}" for fit in effect.fits]
            words += [f"date: {late.sentence}" for late in effect.dates]
            words += _weighed(effect.choices)
        if question.said.remark:
            words.append(f"he remarks: {question.said.remark}")
        for says in words:
            yield paragraph(f"- {question.line.id} {question.line.name}: {says}", 2, 2)
    if record.questions:
        number = record.order.number
        yield f"  Answer: kitting order answer {number} LINE accept|refuse --who NAME"


def _weighed(choices: Iterable[Choice]) -> Iterator[str]:
    """What each word comes to; said once where both come to the same."""
    said = {IF[each.word]: "; ".join(each.sentences) for each in choices}
    if len(said) > 1 and len(set(said.values())) == 1:
        said = {"either way": next(iter(said.values()))}
    for when, words in said.items():
        yield f"{when}: {words}"


def _told(record: OrderRecord) -> Iterator[str]:
    for each in record.lines:
        if each.told is not None:
            said = "; ".join(each.told.told_sentences(record.order.currency))
            yield paragraph(f"- {each.line.id} {each.line.name}: {said}", 2, 2)


def _arrived(
    record: OrderRecord, checks: Mapping[str, Iterable[Check]], idle: frozenset[str]
) -> Iterator[str]:
    number = record.order.number
    for each in record.lines:
        wanted = "; ".join(
            f"{c.key} {c.limits_text}{c.places_text}" for c in checks.get(each.line.id, ())
        )
        named = f"- {each.line.id} {each.line.name}:"
        if each.line.id in idle:
            if each.unproven:
                says = f"{each.unproven} here that no job needs: back unused, and not measured"
                yield paragraph(f"{named} {says}", 2, 2)
            continue
        if each.unmeasured:
            yield paragraph(f"{named} {each.unmeasured} here, to be measured: {wanted}", 2, 2)
        if each.doubtful:
            says = f"{each.doubtful} here, to be measured again, too near the drawing to call"
            yield paragraph(f"{named} {says}: {wanted}", 2, 2)
        if wanted and each.coming and not each.unproven:
            yield paragraph(f"{named} measure {wanted}", 2, 2)
    if any(each.unproven and each.line.id not in idle for each in record.lines):
        yield f"  Measure: kitting order measure {number} LINE FIGURE… --who NAME"
        yield f"  or: kitting order settle {number} LINE accept|refuse --who NAME --reason WHY"


def _settled(record: OrderRecord) -> Iterator[str]:
    for word in record.settled:
        name = record.by_line[word.line].line.name
        says = f"{_PAST[word.word]} by {word.who}, {word.day:%d %b %Y}: {word.reason}"
        yield paragraph(f"- {word.line} {name}, delivery {word.delivery}: {says}", 2, 2)


def _may_go(record: OrderRecord, uses: Mapping[str, Mapping[Use, int]]) -> Iterator[str]:
    for each in record.lines:
        said = [f"{count} {why}" for why, count in each.may_go.items() if count]
        told = ", ".join(f"{count} {use}" for use, count in uses.get(each.line.id, {}).items())
        said += [f"on return: {told}"] if told else []
        if said:
            yield paragraph(f"- {each.line.id} {each.line.name}: {'; '.join(said)}", 2, 2)


def _unwanted(record: OrderRecord, unwanted: Mapping[str, int]) -> Iterator[str]:
    """What was bought outright and is needed no more: to be cancelled in time, or sent back."""
    for line_id, count in unwanted.items():
        each = record.by_line[line_id]
        where = "here or to come" if each.coming else "here"
        says = (
            f"{count} of {counted(each.needed, 'piece')}, {where}: ask whether he takes them back"
        )
        yield paragraph(f"- {line_id} {each.line.name}: {says}", 2, 2)
    if unwanted:
        number = record.order.number
        yield f"  What is here: kitting order return {number} LINE PIECES --why surplus --who NAME"
