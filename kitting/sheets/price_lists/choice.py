"""Which of several columns is the price that the shop pays; a question where nothing decides."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.sheets.price_lists.fields import SIZES, Column, Field, Step
from kitting.sheets.price_lists.kinds import Kind, Says, is_money_alone, said_by
from kitting.sheets.price_lists.nones import as_told
from kitting.sheets.price_lists.priced_for import per_alone, per_of

if TYPE_CHECKING:
    from kitting.sheets.price_lists.fields import Mapping as Columns
    from kitting.sheets.price_lists.terms import Line


@dataclass(frozen=True, slots=True)
class Choice:
    """The column taken for the price, those that might be it too, prices for more at a time."""

    price: Column | None
    rivals: tuple[Column, ...] = ()
    steps: tuple[Step, ...] = ()


def choose_price(candidates: Sequence[Column]) -> Choice:
    """Choose among columns that hold prices, the best guess first."""
    said = [(column, _said(column)) for column in candidates]
    prices = [(column, says) for column, says in said if says.kind is not None]
    if not prices:
        return Choice(None)
    best = min(says.kind for _, says in prices if says.kind is not None)
    first = [(column, says) for column, says in prices if says.kind is best]
    sized = _by_size([column for column, _ in first])
    if sized:
        return sized
    winner, said_of_it = first[0]
    rivals = [column for column, _ in first[1:]]
    if best >= Kind.LIST:  # a poor sign: any column of money without a word is as good
        rivals += [
            c for c, says in prices if says.kind is Kind.UNSAID and c not in [winner, *rivals]
        ]
    if best is Kind.UNSAID:
        rivals += [c for c, says in prices if says.kind in {Kind.WITH_VAT, Kind.OLD}]
    if not said_of_it.new:  # a net price beside a new price: nobody can say which holds
        rivals += [
            c for c, says in prices if says.new and _beside(says.kind, best) and c not in rivals
        ]
    return Choice(winner, tuple(rivals))


def _beside(kind: Kind | None, best: Kind) -> bool:
    return kind is not None and best < kind <= Kind.PRICE


def _said(column: Column) -> Says:
    says = said_by(column.heading)
    unsaid = says.kind is Kind.UNSAID and not is_money_alone(column.heading)
    if unsaid and "heading" in column.how:
        return Says(Kind.PRICE, says.new)  # misspelt, yet like one of the words for a price
    return says


def _by_size(columns: Sequence[Column]) -> Choice | None:
    """Of 'each', 'per 10' and 'per 100' the first is the price, the others prices for more."""
    sizes = [per_of(column.heading) for column in columns]
    if len(columns) == 1 or 0 in sizes or len(set(sizes)) < len(sizes):
        return None
    smallest, *more = sorted(zip(sizes, columns, strict=True), key=lambda each: each[0])
    steps = tuple(
        Step(
            size // smallest[0],
            replace(column, field=Field.BREAKS, how=f"the price of {size}", per=size),
        )
        for size, column in more
    )
    return Choice(smallest[1], (), steps)


def sizes_beside(price: Column, candidates: Sequence[Column]) -> tuple[Step, ...]:
    """Columns of the same price 'per 10' and 'per 100', beside one that was told or remembered."""
    kind = _said(price).kind
    same = [column for column in candidates if _said(column).kind is kind]
    found = _by_size([price, *same])
    return found.steps if found and found.price == price else ()


def refuse_rivals(columns: Columns, of: str = "") -> None:
    """Ask rather than guess between columns that may each be the price, or the number.

    `of` follows a field in what is told of one sheet alone, as '@More'.

    Raises:
        BadInput: there are several, or the only price is an old one.
    """
    problems = list(columns.asked)
    for field, what in ((Field.NUMBER, "the supplier's number"), (Field.PRICE, "the price")):
        taken = columns.column(field)
        rivals = [column for column in columns.rivals if column.field is field]
        if taken is not None and rivals:
            problems.append(_which(taken, rivals, what, of))
    price = columns.column(Field.PRICE)
    sure = problems == list(columns.asked)
    guessed = price is not None and "guess" in price.how and sure
    if price is not None and guessed and said_by(price.heading).kind is Kind.OLD:
        problems.append(
            Problem(
                f"column {price.letter}",
                f"'{price.heading}' is the only price found, and it is an old one",
                f'if it is to be taken, say so: --map "price{of}={price.heading}"',
            )
        )
    if problems:
        raise BadInput(problems)


def refuse_lost_size(
    columns: Columns, last: Mapping[Field, str], told: Collection[Field], per: int, of: str = ""
) -> None:
    """Ask where the last list said for how many a price is, and this one does not.

    Args:
        columns: those that were taken.
        last: the headings of the last list, by field.
        told: the fields of which a person said what they are.
        per: for how many a person said that a price is; 0 where he did not.
        of: what follows a field in what is told of one sheet alone, as '@More'.

    Raises:
        BadInput: nobody can say whether a price is for one now.
    """
    price = columns.column(Field.PRICE)
    if price is None or price.per or per or any(columns.column(size) for size in SIZES):
        return
    lost = [(size, last[size]) for size in SIZES if size in last and size not in told]
    if lost and Field.PACK not in told:
        size, heading = lost[0]
        wrong = f"last time '{heading}' said for how many a price is, and it is not here"
        right = f"say which column does now, as {as_told(size, of, '…')}, or --per 1 for one"
        raise BadInput(Problem(f"column {price.letter}", wrong, right))
    many = per_alone(0, [last.get(Field.PRICE, "")])
    if many > 1 and Field.PACK not in told:
        wrong = f"last time the price was headed '{last[Field.PRICE]}', now '{price.heading}'"
        right = f"say --per {many}, or --per 1 where each price is for one"
        raise BadInput(Problem(f"column {price.letter}", wrong, right))


def _which(taken: Column, rivals: Sequence[Column], what: str, of: str) -> Problem:
    every = sorted([taken, *rivals], key=lambda column: column.index)
    letters = ", ".join(column.letter for column in every[:-1])
    names = ", ".join(f"'{column.heading}'" for column in every if column.heading)
    same = len({column.heading.casefold() for column in every}) < len(every)
    name = f"column {taken.letter}" if same or not taken.heading else taken.heading
    return Problem(
        f"columns {letters} and {every[-1].letter}",
        f"any of them{f' ({names})' if names else ''} may be {what}",
        f'say which, such as --map "{taken.field}{of}={name}"',
    )


def agreed_lines(lines: Sequence[Line], columns: Columns, told: int) -> Iterator[str]:
    """Say what becomes of lines that say for how many prices are; ask where nothing else does.

    Raises:
        BadInput: no heading, column or word of a person says it, or they say otherwise.
    """
    price = columns.column(Field.PRICE)
    headed = price.per if price else 0
    by_row = columns.column(Field.UNIT) or columns.column(Field.PER)
    packs = columns.column(Field.PACK)
    problems = []
    for place, text, many in lines:
        if many == 1 and (headed or by_row or not packs):
            continue  # it says what is taken anyway
        if by_row:
            yield f"{place}: '{text}'; each row's own unit is taken, and one where it has none"
        elif told:
            yield f"{place}: '{text}'; prices are taken for {headed or told:,}, as was said"
        elif headed and headed != many:
            wrong = f"'{text}' stands there, yet the price is headed '{price and price.heading}'"
            problems.append(Problem(place, wrong, "make them agree"))
        elif not headed:
            wrong = f"'{text}' stands there, and no column says for how many a price is"
            right = f"say --per {many}, or --per 1 where each price is for one"
            if many == 1:
                wrong = f"'{text}' stands there, and {packs} says how many are in a pack"
                right = 'say --per 1; where a price is for the pack, --map "per={}"'.format(
                    packs and (packs.heading or f"column {packs.letter}")
                )
            problems.append(Problem(place, wrong, right))
    if problems:
        raise BadInput(problems)
