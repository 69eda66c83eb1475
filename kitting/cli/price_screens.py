"""The screens of price lists: what a list changes, the lists kept, what awaits a person."""

from __future__ import annotations

from decimal import ROUND_HALF_UP
from typing import TYPE_CHECKING

from kitting.buying.price_lists.rows import PRICE_PLACES, money_of
from kitting.buying.price_lists.succession import several_in
from kitting.cli.screen import heading, paragraph, table
from kitting.sheets.price_lists.fields import MEANINGS

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from decimal import Decimal

    from kitting.buying.price_lists.report import (
        PackChange,
        PriceChange,
        QualityChange,
        QuantityChange,
    )
    from kitting.catalog.answers import AnswerChange, Bought
    from kitting.cli.price_loading import Look
    from kitting.sheets.price_lists.fields import Mapping as Columns
    from kitting.store.offers import PastOffer
    from kitting.store.price_lists import KeptList
    from kitting.store.price_review import KeptStray, Proposal


def look_text(look: Look, dearer_by: Decimal) -> str:
    """The report of a list: its columns, what changes, what a person must look at."""
    parts = [
        heading(f"{look.name} · price list of {look.supplier.name}"),
        _columns(look),
        _counts(look, dearer_by),
        _changed("Dearer, the most first", look.report.dearer),
        _changed("Cheaper, the most first", look.report.cheaper),
        _for_more(look.report.for_more),
        _changed("Prices of later days", look.report.later, day="since"),
        _not_yet(look),
        _changed("Over already", look.report.over, day="until"),
        _changed("In other money than before", look.report.other_money),
        _other_quality(look.report.other_quality),
        _changed("New", look.report.new),
        _other_pack(look.report.other_pack),
        _changed("Gone", look.report.gone),
        _superseded(look),
        _strays(look),
        _twice(look.report.twice),
        _problems(look),
        "\n".join(paragraph(f"• look at {each}", hang=2) for each in look.report.remarks),
        "\n".join(paragraph(f"• {note}", hang=2) for note in look.notes),
    ]
    return "\n\n".join(part for part in parts if part)


def _columns(look: Look) -> str:
    """The columns of the list; where its sheets have not the same, those of each."""
    if len(look.sheets) == 1:
        return _columns_of(look.columns)
    parts = []
    for sheets, columns in look.sheets:
        few = ", ".join(sheets[:6]) + (f" and {len(sheets) - 6} more" if len(sheets) > 6 else "")
        parts.append(f"{'Sheet' if len(sheets) == 1 else 'Sheets'} {few}\n{_columns_of(columns)}")
    return "\n\n".join(parts)


def _columns_of(columns: Columns) -> str:
    rows = [
        (MEANINGS[column.field], column.letter, column.heading, column.how)
        for column in columns.shown
    ]
    left = ", ".join(columns.left)
    parts = [table(("what it is", "column", "heading", "how"), rows)]
    if left:
        parts.append(paragraph(f"Not taken: {left}"))
    return "\n".join(parts)


def _counts(look: Look, dearer_by: Decimal) -> str:
    counts = look.report.counts
    names = {
        "offers": "offers in all",
        "new": "new",
        "other pack": "of these new, in another pack before",
        "gone": "gone",
        "dearer": f"dearer by more than {dearer_by:f} %",
        "a little dearer": f"dearer by {dearer_by:f} % or less",
        "cheaper": "cheaper",
        "other money": "in other money than before",
        "other quality": "of another quality than before",
        "other for more": "as before, but not for more packs",
        "same": "as before",
        "for more: dearer": f"prices for more packs dearer by more than {dearer_by:f} %",
        "for more: a little dearer": f"prices for more packs dearer by {dearer_by:f} % or less",
        "for more: cheaper": "prices for more packs cheaper",
        "for more: new": "prices for more packs new",
        "for more: gone": "prices for more packs gone",
        "dearer for more": "dearer for more packs than for fewer",
        "superseded by itself": "superseded by themselves, as the list says",
        "a hundred times the price": "about a hundred times dearer or cheaper",
        "described for another count": "whose words speak of another count than their price",
        "superseded by no number": "superseded by words that name no number",
        "in place of an unknown number": "in place of a number that nobody knows",
        "later": "that begin on a later day",
        "not yet": "of these without a price until then",
        "later gone": "prices of later days gone",
        "over": "over already",
        "unpriced": "in the list as before, yet without one price",
        "twice": "rows that say the same again",
        "strays": "rows for a person to look at",
        "not ours": "rows that are none of ours, as decided",
    }
    rows = [(says, f"{counts[kind]:,}") for kind, says in names.items() if counts[kind]]
    superseded = len(look.report.superseded)
    if superseded:
        rows.append(("superseded, as the list says", f"{superseded:,}"))
    since = f"against {look.before.origin or 'the catalogue'}" if look.before else "the first list"
    since += f", as on {look.day:%-d %b %Y}"
    return table((f"Rows read: {look.tally.rows:,}; {since}", "count"), rows, right="1")


def _changed(title: str, changes: Sequence[PriceChange], day: str = "") -> str:
    """Prices before and now; with the `day` on which each begins (since) or ended (until)."""
    if not changes:
        return ""
    rows = [
        (
            each.part,
            each.their_number,
            str(each.pack),
            "" if each.before is None else f"{each.before:,}",
            "" if each.after is None else f"{each.after:,}",
            each.currency,
            "" if each.percent is None else f"{each.percent:+} %",
            _steps(each.breaks),
            {"since": each.since, "until": each.until}.get(day, ""),
        )
        for each in changes
    ]
    now = {"since": "then", "until": "price"}.get(day, "now")
    names = [title, "their number", "pack", "before", now, "in", "change", "for more"]
    names.append("from" if day == "since" else day)
    filled = [at for at in range(len(names)) if any(row[at] for row in rows)]
    right = "".join(str(place) for place, at in enumerate(filled) if at in {2, 3, 4, 6})
    shown = [[row[at] for at in filled] for row in rows]
    return table([names[at] for at in filled], shown, right=right)


def _steps(breaks: Iterable[tuple[int, Decimal]]) -> str:
    """Prices for more packs in a few words."""
    return ", ".join(f"{packs:,}: {price:,}" for packs, price in breaks)


def _for_more(changes: Sequence[QuantityChange]) -> str:
    if not changes:
        return ""
    rows = [
        (
            each.part,
            each.their_number,
            str(each.pack),
            f"{each.packs:,}",
            f"{each.before:,}",
            f"{each.after:,}",
            each.currency,
            f"{each.percent:+} %",
            each.what,
        )
        for each in changes
    ]
    names = ("For more packs", "their number", "pack", "packs", "before", "now", "in", "change", "")
    return table(names, rows, right="23457")


def _other_pack(changes: Sequence[PackChange]) -> str:
    if not changes:
        return ""
    rows = [
        (
            each.part,
            each.their_number,
            f"{each.pack_before} at {each.before:,} {each.currency_before}",
            f"{each.pack} at {each.after:,} {each.currency}",
            "" if each.percent is None else f"{each.percent:+} %",
        )
        for each in changes
    ]
    names = ("In another pack", "their number", "before", "now", "each")
    return table(names, rows, right="234")


def _not_yet(look: Look) -> str:
    count, few = look.report.counts["not yet"], look.report.not_yet
    if not few:
        return ""
    more = f" and {count - len(few):,} more" if count > len(few) else ""
    return paragraph(f"Without a price until a later day: {', '.join(few)}{more}", hang=2)


def _other_quality(changes: Sequence[QualityChange]) -> str:
    if not changes:
        return ""
    rows = [
        (each.part, each.their_number, each.before or "not stated", each.after or "not stated")
        for each in changes
    ]
    return table(("Of another quality than before", "their number", "before", "now"), rows)


def _superseded(look: Look) -> str:
    if not look.report.superseded:
        return ""
    few = look.report.superseded[:20]
    rows = [
        (":".join(each.old), ":".join(each.new) if each.new else _unknown(each.new_said),
         each.place)
        for each in few
    ]  # fmt: skip
    return table(("Superseded, as the list says", "by", "where"), rows)


def _unknown(new_said: str) -> str:
    """A number that no one part has: a question where several are named."""
    several = several_in(new_said)
    return f"{' or '.join(several)}: which?" if several else f"{new_said} (unknown)"


def _strays(look: Look) -> str:
    if not look.report.strays:
        return ""
    rows = [(each.place, each.number[:30], each.says[:60], each.why) for each in look.report.strays]
    return table(("To be looked at", "number", "what it says", "why"), rows)


def _twice(places: Sequence[str]) -> str:
    if not places:
        return ""
    return paragraph(f"Saying the same again, taken once: {'; '.join(places)}", hang=2)


def _problems(look: Look) -> str:
    return "\n".join(paragraph(f"• {problem}", hang=2) for problem in look.tally.problems[:20])


def outcome_text(look: Look, stored: bool) -> str:
    """What became of the list."""
    if look.same:
        return "It is the list that holds; nothing was stored."
    if stored:
        count = look.report.counts["offers"]
        offers = "1 offer" if count == 1 else f"{count:,} offers"
        return f"Stored: {offers} of {look.supplier.name}; the list before is kept."
    return "Nothing was stored."


def lists_text(lists: Iterable[KeptList], history: bool) -> str:
    """The lists that hold, or all there ever were."""
    rows = [
        (
            kept.supplier,
            kept.origin or "the catalogue",
            f"{kept.loaded_at:%d %b %Y %H:%M}",
            *((_until(kept),) if history else ()),
            f"{kept.offers:,}",
            f"{kept.strays:,}",
        )
        for kept in lists
    ]
    if not rows:
        return "No price list is loaded yet: kitting prices load FILE --supplier SUPPLIER"
    until = ("until",) if history else ()
    names = ("supplier", "list", "loaded", *until, "offers", "to look at")
    return table(names, rows, right="45" if history else "34")


def _until(kept: KeptList) -> str:
    return f"{kept.ended_at:%d %b %Y}" if kept.ended_at else "holds"


def offers_text(part: str, offers: Sequence[PastOffer], history: bool) -> str:
    """The offers of a part."""
    if not offers:
        return f"Nobody offers {part}."
    packs = len({past.offer.pack for past in offers}) > 1
    rows = [row for past in offers for row in _offer_rows(past, history, packs)]
    each = ("each",) if packs else ()
    names = ("supplier", "their number", "pack", "price", *each, "quality", "from", "until")
    ended = ("list ended",) if history else ()
    shown = table((*names, *ended), rows, right="234" if packs else "23")
    return "\n\n".join((heading(f"Offers of {part}"), shown))


def _offer_rows(past: PastOffer, history: bool, packs: bool) -> Iterator[tuple[str, ...]]:
    """An offer, and under it what a pack costs when more are bought.

    `packs` says that there are packs of several sizes, and the price of one is shown too.
    """
    offer = past.offer
    ended = (f"{past.ended_at:%Y-%m-%d}" if past.ended_at else "holds",) if history else ()
    yield (
        offer.supplier,
        offer.their_number,
        str(offer.pack),
        f"{offer.price:,} {offer.currency}",
        *((_each(offer.price, offer.pack),) if packs else ()),
        offer.quality,
        f"{offer.valid_from}",
        f"{offer.valid_until}",
        *ended,
    )
    for step in offer.breaks:
        price = f"{step.price:,} {offer.currency}"
        each = (_each(step.price, offer.pack),) if packs else ()
        yield "", f"from {step.packs:,} packs", "", price, *each, "", "", "", *("" for _ in ended)


def _each(price: Decimal, pack: int) -> str:
    """What one piece of a pack comes to, to four decimals."""
    return (
        f"{money_of(int((price / pack).scaleb(PRICE_PLACES).to_integral_value(ROUND_HALF_UP))):,}"
    )


def review_text(
    strays: tuple[tuple[KeptStray, ...], int],
    links: tuple[tuple[Proposal, ...], int],
    decided: Sequence[Proposal] = (),
    changes: Sequence[AnswerChange] = (),
) -> str:
    """What was decided just now, what that changes, and what awaits a person."""
    rows, row_count = strays
    proposals, link_count = links
    parts = ["\n".join(map(_decided, decided))] if decided else []
    if changes:
        parts.append(_answers(changes))
    if not (row_count or link_count):
        return "\n\n".join((*parts, "Nothing awaits anybody."))
    if proposals:
        says = f"{link_count:,} proposed link{'' if link_count == 1 else 's'}"
        parts.append(_more(says, len(proposals), link_count))
        parts.append(table(("no.", "old", "superseded by", "where", "also"), map(_link, proposals)))
    if rows:
        says = f"{row_count:,} row{'' if row_count == 1 else 's'} of price lists"
        parts.append(_more(says, len(rows), row_count))
        cells = [(k.supplier, k.place, k.number[:30], k.says[:60], k.why) for k in rows]
        parts.append(table(("supplier", "where", "number", "what it says", "why"), cells))
    return "\n\n".join(parts)


def _answers(changes: Sequence[AnswerChange]) -> str:
    from kitting.store.price_accepting import family_words

    rows = [
        (str(each.part), family_words(each.families), _bought(each.before), _bought(each.after))
        for each in changes
    ]
    return table(("Another answer from today on", "family", "before", "now"), rows)


def _bought(bought: Bought) -> str:
    """What is bought for one of a number."""
    return " and ".join(f"{count} × {part}" for part, count in bought) or "nothing can be bought"


def _decided(each: Proposal) -> str:
    new = each.new or each.new_said
    return paragraph(
        f"{each.state} by {each.who}: {each.old} is superseded by {new} "
        f"({each.origin} of {each.supplier}, {each.place})."
    )


def _more(says: str, shown: int, count: int) -> str:
    return says if shown == count else f"{says}, the first {shown}"


def _link(each: Proposal) -> tuple[str, str, str, str, str]:
    new = str(each.new) if each.new else _unknown(each.new_said)
    beside = ", ".join(map(str, each.beside))
    also = f"superseded already by {beside}" if beside else ""
    return str(each.id), str(each.old), new, f"{each.origin}, {each.place}", also
