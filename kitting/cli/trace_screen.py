"""The tree about a part as text of 80 columns.

A number with one branch has it straight below, so that a long chain stays at the left; several
branches are drawn as a tree. What a number is worth today is always said in words.
"""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from kitting.catalog.links_in_force import condition_words
from kitting.cli.screen import WIDTH, heading, paragraph

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.catalog.family import Family
    from kitting.catalog.model import Link, PartNumber
    from kitting.catalog.trace import Trace, TraceRow
    from kitting.catalog.ways import Way

# Further branches are drawn no deeper than this; they say where they hang instead.
_DEEPEST = 33


def trace_text(family: Family, found: Trace) -> str:
    """Today's answer, the tree, the other ways, and what is wrong in the data."""
    parts = [heading(f"{found.need.part} · {_name(family, found.need.part)}"), _asked(found)]
    parts.append(_answer(family, found))
    parts.append("\n".join(_tree(family, found)))
    others = found.resolution.ways[1:]
    if others:
        listed = (
            paragraph(f"{at}. {way_words(way)}", 2, 3) for at, way in enumerate(others, start=2)
        )
        parts.append("\n".join(("Other ways, the soundest first:", *listed)))
    if found.problems:
        told = (paragraph(f"• {problem}", 2, 2) for problem in found.problems)
        parts.append("\n".join(("Wrong in the data, and not followed:", *told)))
    if found.odd:
        told = (paragraph(f"• {problem}", 2, 2) for problem in found.odd)
        parts.append("\n".join(("Odd in the data, though followed:", *told)))
    return "\n\n".join(parts)


def asked_words(found: Trace) -> str:
    """What was asked, in words: the day, the engine, the position, the grade."""
    need = found.need
    words = [f"as of {found.day}"]
    if need.variant:
        words.append(f"on {need.variant}")
    if need.running is not None:
        words.append(f"engine {need.running}")
    words.append(f"for {need.position}" if need.position else "for any position")
    if need.grade:
        words.append(f"at grade {need.grade}")
    if not (need.variant or need.running is not None):
        words.append("no engine named, so what asks for one does not hold")
    return ", ".join(words)


def way_words(way: Way) -> str:
    """One way in a sentence: what to buy, what sort of way it is, and on what terms."""
    buy = " and ".join(f"{count} × {number}" for number, count in way.parts)
    return "; ".join((f"{buy} ({way.kind})", *way_terms(way)))


def way_terms(way: Way) -> tuple[str, ...]:
    """What a way asks for: work, companions, engines, days; and what else it answers."""
    words = []
    if way.operations:
        words.append(f"needs the work {', '.join(way.operations)}")
    if way.companions:
        with_it = ", ".join(f"{count} × {number}" for number, count in way.companions)
        words.append(f"buy with it {with_it}")
    words += way.conditions
    if way.also_answers:
        words.append(f"it answers {', '.join(map(str, way.also_answers))} too")
    return tuple(words)


def row_words(found: Trace, row: TraceRow) -> str:
    """What a number of the tree is worth today."""
    if row.place:
        beside = len(found.resolution.ways[row.place - 1].parts) > 1
        with_others = ", together with others" if beside else ""
        stands = "TODAY'S ANSWER" if row.place == 1 else f"also a way, no. {row.place}"
        return f"{stands}{with_others}"
    reasons = [why for why in row.not_taken if why != row.why_not] or list(row.not_taken)
    return f"not taken: {'; '.join(reasons)}"


def link_words(row: TraceRow, link: Link) -> str:
    """How a number hangs from the one above, on what terms, and whether that holds here."""
    words = [row.joined.removesuffix(",")]
    counts = (link.old_quantity, link.new_quantity)
    if counts != (1, 1):
        words[0] += f" ({counts[0]} of the old make {counts[1]} of the new)"
    if link.operation:
        words.append(f"work: {link.operation}")
    if link.needs:
        words.append(f"with {', '.join(map(str, link.needs))}")
    words += condition_words(link)
    if link.use_up:
        words.append("old stock may be used up")
    if row.why_not:
        words.append("DOES NOT HOLD HERE")
    if row.circle:
        words.append("PART OF A CIRCLE")
    return "; ".join(words)


def _asked(found: Trace) -> str:
    return paragraph(f"{found.need.quantity} wanted, {asked_words(found)}.")


def _answer(family: Family, found: Trace) -> str:
    if found.answer is None:
        lead = "Today's answer: nothing. No number here can be bought for it."
        return paragraph(" ".join((lead, *_elsewhere(family, found))))
    return paragraph(f"Today's answer: {way_words(found.answer)}.")


def _elsewhere(family: Family, found: Trace) -> Iterator[str]:
    """Where the part fits, where it is not the position asked for."""
    need = found.need
    places = dict.fromkeys(fit.position for fit in family.fits if fit.part == need.part)
    if need.position and places and need.position not in places:
        yield f"{need.part} fits {', '.join(places)}, not {need.position}."


def _tree(family: Family, found: Trace) -> Iterator[str]:
    children = found.children()
    margin = {0: ""}
    for row in found.rows:
        beside = children.get(row.parent, []) if row.link else []
        lead = before = margin[row.parent] if row.link else ""
        if len(beside) == 1:
            lead, margin[row.at] = f"{before}↓ ", before
        elif beside:
            last = beside[-1].at == row.at
            lead = f"{before}{'└─' if last else '├─'} "
            deep = len(before) >= _DEEPEST
            margin[row.at] = before if deep else f"{before}{'   ' if last else '│  '}"
        yield from _row(family, found, row, (lead, margin[row.at]), bool(children.get(row.at)))


def _row(
    family: Family, found: Trace, row: TraceRow, margins: tuple[str, str], goes_on: bool
) -> Iterator[str]:
    lead, own = margins
    if row.link is not None:
        from_far = len(own) >= _DEEPEST
        hangs = f"(from {found.rows[row.parent].part}) " if from_far else ""
        yield from _wrapped(f"{hangs}{link_words(row, row.link)}", lead, f"{own}  ")
        source = "; ".join(each for each in (row.link.note, row.link.source) if each)
        if source:
            yield from _wrapped(f"[{row.link.record}: {source}]", f"{own}  ", f"{own}  ")
    if row.is_again:
        yield from _wrapped(f"{row.part}, which stands elsewhere in this tree", own, own)
        return
    name = _name(family, row.part)
    yield from _wrapped(f"{row.part}  {name}".rstrip(), own, f"{own}    ")
    under = f"{own}│   " if goes_on else f"{own}    "
    yield from _wrapped(row_words(found, row), under, under)


def _wrapped(text: str, first: str, rest: str) -> list[str]:
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=first,
        subsequent_indent=rest,
        break_on_hyphens=False,
        drop_whitespace=True,
    )


def _name(family: Family, number: PartNumber) -> str:
    part = family.part_by_number.get(number)
    return part.name if part else "(not in the parts list)"
