"""What a new price list changes: new, gone, dearer or cheaper, other quality, superseded, unknown.

Everything is counted; only the most telling few of each kind are kept, so that a list of any
length takes little memory. Prices are compared as whole numbers, never as binary fractions, and
by their days: what holds on the day of the list with what held then; later prices stand apart.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from decimal import Decimal
from functools import partial

from kitting.buying.price_lists.doubles import (
    FROM_MORE,
    MOST_TOGETHER,
    TOO_OFTEN,
    Settled,
    mark_of,
    settle,
)
from kitting.buying.price_lists.greatest import Greatest
from kitting.buying.price_lists.in_force import held_on, in_other_pack, no_more
from kitting.buying.price_lists.matching import (
    Held,
    Key,
    Known,
    match,
    match_number,
    plain_match,
)
from kitting.buying.price_lists.quantities import AtQuantity, changes_at
from kitting.buying.price_lists.remarks import (
    by_itself,
    by_no_number,
    dearer_steps,
    hundred_times,
    of_unknown,
    other_count,
)
from kitting.buying.price_lists.report import (
    ChangeReport,
    OfferRow,
    PriceChange,
    QualityChange,
    QuantityChange,
    Stray,
    Supersession,
    change_of,
    gone_of,
    offer_of,
    pack_change_of,
    percent_of,
)
from kitting.buying.price_lists.rows import PriceRow, money_of
from kitting.buying.price_lists.succession import names_no_number
from kitting.buying.price_lists.wording import described
from kitting.catalog.model import normal_number

_MOST_WATCHED = 3_000_000


class Comparison:
    """Compares a list with the one that holds, some thousands of rows at a time.

    Args:
        dearer_by: per cent above which a price counts as dearer, not as a little dearer.
        most: how many of each kind are kept by example.
        last_line: the greatest line of the list that holds; 0 without one.
        day: the day for which prices are compared, ISO 8601.
        doubles: marks of rows that stand more than once, as `doubles` has them once a list was
            gone through: such rows are left to `together`.
    """

    def __init__(
        self,
        dearer_by: Decimal,
        most: int,
        last_line: int,
        day: str,
        doubles: Collection[int] = (),
    ) -> None:
        self.report = ChangeReport()
        self._day = day
        self.doubles: set[int] = set()
        self._kept_back: list[tuple[int, Key, PriceRow]] = []
        self._settled_later = Counter(dict.fromkeys(doubles, 0))
        self._least = 100 + dearer_by
        self._most = most
        self.seen = bytearray(last_line + 1)
        self._watched: set[int] = set()
        self._dearer = Greatest[PriceChange](most)
        self._cheaper = Greatest[PriceChange](most)
        self._dearer_for_more = Greatest[QuantityChange](most)
        self._cheaper_for_more = Greatest[QuantityChange](most)
        self._compared = last_line > 0

    def add(self, rows: Sequence[PriceRow], known: Known) -> tuple[list[OfferRow], list[Stray]]:
        """Take some rows of the new list; returns its offers, and the rows for a person."""
        offers: list[OfferRow] = []
        strays: list[Stray] = []
        matched = [plain_match(row, known) for row in rows]
        worded = described([row.text for row in rows])
        for at, (row, at_once) in enumerate(zip(rows, matched, strict=True)):
            part, unknown = at_once, ""
            if part is None:
                part, unknown, not_ours = match(row, known)
                if not_ours:
                    self.report.counts["not ours"] += 1
                    continue
            if part is not None and (row.superseded_by or row.supersedes):
                self._supersede(row, part, known)
            why = row.why or unknown
            if not why and part is not None:
                if worded.get(at, row.pack) != row.pack:
                    self._remark("described for another count", other_count(row, worded[at]))
                mark = mark_of(row, part)
                if mark in self._settled_later:
                    self._settled_later[mark] += 1
                    if self._settled_later[mark] <= MOST_TOGETHER:
                        self._kept_back.append((mark, part, row))
                        continue
                    why = TOO_OFTEN
                elif row.least > 1:
                    why = FROM_MORE
                self._watch(mark)
            if why or part is None:
                self._not_gone(row, part, known)
                strays.append(self._stray(row, part, why))
                continue
            self._compare((row,), part, known)
            offers.append(offer_of(row, part))
        return self._counted(offers, strays)

    def take_kept_back(self) -> list[tuple[int, Key, PriceRow]]:
        """Hand over the rows that were left to `together`, each with its mark and part."""
        taken, self._kept_back = self._kept_back, []
        return taken

    def together(
        self, groups: Iterable[tuple[int, Key, Sequence[PriceRow]]], known: Known
    ) -> tuple[list[OfferRow], list[Stray]]:
        """Settle rows that stand more than once, each group of one mark; as `add` otherwise."""
        offers: list[OfferRow] = []
        strays: list[Stray] = []
        for mark, part, rows in groups:
            too_often = self._settled_later[mark] > MOST_TOGETHER
            settled = Settled((), (), TOO_OFTEN) if too_often else settle(rows)
            for row in settled.again:
                self._note_twice(row)
            if settled.why:
                self._not_gone(rows[0], part, known)
                strays += [self._stray(row, part, settled.why) for row in rows]
            if settled.offers:
                self._compare(settled.offers, part, known)
                offers += [offer_of(offer, part) for offer in settled.offers]
        return self._counted(offers, strays)

    def _counted(
        self, offers: list[OfferRow], strays: list[Stray]
    ) -> tuple[list[OfferRow], list[Stray]]:
        self.report.counts["offers"] += len(offers)
        self.report.counts["strays"] += len(strays)
        return offers, strays

    def finish(self) -> ChangeReport:
        """Put the examples in order, the greatest change first."""
        report = self.report
        report.dearer, report.cheaper = self._dearer.in_order(), self._cheaper.in_order()
        report.for_more = self._dearer_for_more.in_order() + self._cheaper_for_more.in_order()
        return report

    def gone(self, offers: Iterable[tuple[Held, str]], count: int) -> None:
        """Note how many offers of the list that holds are not in the new one, and some of them."""
        self.report.counts["gone"] = count
        self.report.gone += [gone_of(held, their_number) for held, their_number in offers]

    def _not_gone(self, row: PriceRow, part: Key | None, known: Known) -> None:
        """A part that stands in the list without one price is no longer offered, yet not gone."""
        if part is None or not self._compared:
            return
        for each in (*known.held.get(row.normal, ()), *known.held_of.get(part, ())):
            if each.part == part and each.pack == row.pack and not self.seen[each.line]:
                self.seen[each.line] = 1
                self.report.counts["unpriced"] += 1

    def _compare(self, offers: Sequence[PriceRow], part: Key, known: Known) -> None:
        """Compare what one number is offered for, a price for each first day it has."""
        day = self._day
        held = self._held_like(offers[0], part, known) if self._compared else ()
        if held and any(row.valid_until >= day for row in offers):
            for each in held:
                self.seen[each.line] = 1
        now = later = False
        for row in offers:
            if row.breaks:
                self._remark("dearer for more", dearer_steps(row))
            if row.valid_until < day:
                self._note("over", self.report.over, row, part, None)
            elif row.valid_from > day:
                later = self._compare_later(row, part, held) or later
            else:
                now = True
                before = held_on(held, day, row.quality)
                self._compare_now(row, part, before)
                if before is None and (row.normal in known.held or part in known.held_of):
                    self._look_at_packs(row, part, known)
        if not now:
            firsts = [row.valid_from for row in offers if row.valid_from > day]
            if firsts and (later or any(each.since <= day <= each.until for each in held)):
                self._note_not_yet(offers[0], min(firsts))
        if len(held) > 1:
            self._note_later_gone(offers, held)

    def _note_not_yet(self, row: PriceRow, day: str) -> None:
        self.report.counts["not yet"] += 1
        if len(self.report.not_yet) < self._most:
            self.report.not_yet.append(f"{row.number} (until {day})")

    def _note_later_gone(self, offers: Sequence[PriceRow], held: Sequence[Held]) -> None:
        firsts = {row.valid_from for row in offers}
        for each in no_more(held, self._day, offers[0].quality, firsts):
            self.report.counts["later gone"] += 1
            if len(self.report.later) < self._most:
                self.report.later.append(gone_of(each, offers[0].number))

    def _look_at_packs(self, row: PriceRow, part: Key, known: Known) -> None:
        """Put what is new beside the same part in the other pack in which the last list had it."""
        held = [each for each in known.held.get(row.normal, ()) if each.part == part]
        before = in_other_pack(held or known.held_of.get(part, ()), row.pack, self._day)
        if before is not None:
            self.report.counts["other pack"] += 1
            if len(self.report.other_pack) < self._most:
                self.report.other_pack.append(pack_change_of(row, part, before))

    def _held_like(self, row: PriceRow, part: Key, known: Known) -> Sequence[Held]:
        """What the list that holds has of a part in such packs, by this number or another."""
        maker, number = part
        held = [
            each
            for each in known.held.get(row.normal, ())
            if each.pack == row.pack and each.number == number and each.maker == maker
        ]
        if not held and part in known.held_of:
            held = [each for each in known.held_of[part] if each.pack == row.pack]
        return held

    def _compare_now(self, row: PriceRow, part: Key, before: Held | None) -> None:
        if before is None:
            self._note("new", self.report.new, row, part, None)
            return
        if before.quality != row.quality:
            self._note_quality(row, part, before)
        if before.currency != row.currency:
            self._note("other money", self.report.other_money, row, part, before)
            return
        other = before.breaks != row.breaks
        if other:
            self._compare_steps(row, part, before)
        if before.price != row.price:
            self._dearer_or_cheaper(row, part, before)
        else:
            self.report.counts["other for more" if other else "same"] += 1

    def _compare_later(self, row: PriceRow, part: Key, held: Sequence[Held]) -> bool:
        """Note a price that begins on a later day; returns whether it was not known before."""
        before = held_on(held, row.valid_from, row.quality)
        if before is not None and before.since > self._day and _alike(before, row):
            self.report.counts["same"] += 1
            return False
        self._note("later", self.report.later, row, part, before)
        return True

    def _compare_steps(self, row: PriceRow, part: Key, before: Held) -> None:
        """Note what became of each price for more packs; the greatest changes are kept."""
        for each in changes_at(before.price, before.breaks, row.price, row.breaks):
            kind = each.what
            if kind == "dearer" and each.after * 100 <= each.before * self._least:
                kind = "a little dearer"
            self.report.counts[f"for more: {kind}"] += 1
            if kind != "a little dearer":
                kept = self._dearer_for_more if each.after > each.before else self._cheaper_for_more
                kept.offer(each.before, each.after, partial(_at_quantity, row, part, each))

    def _dearer_or_cheaper(self, row: PriceRow, part: Key, before: Held) -> None:
        self._remark("a hundred times the price", hundred_times(row, before))
        if row.price < before.price:
            kind, kept = "cheaper", self._cheaper
        elif row.price * 100 > before.price * self._least:
            kind, kept = "dearer", self._dearer
        else:
            self.report.counts["a little dearer"] += 1
            return
        self.report.counts[kind] += 1
        kept.offer(before.price, row.price, partial(change_of, row, part, before))

    def _note(
        self, kind: str, kept: list[PriceChange], row: PriceRow, part: Key, before: Held | None
    ) -> None:
        self.report.counts[kind] += 1
        if len(kept) < self._most:
            kept.append(change_of(row, part, before))

    def _remark(self, kind: str, says: str) -> None:
        if not says:
            return
        self.report.counts[kind] += 1
        if len(self.report.remarks) < self._most:
            self.report.remarks.append(says)

    def _note_quality(self, row: PriceRow, part: Key, before: Held) -> None:
        self.report.counts["other quality"] += 1
        if len(self.report.other_quality) < self._most:
            named = f"{part[0]}:{part[1]}"
            self.report.other_quality.append(
                QualityChange(named, row.number, before.quality, row.quality, row.place)
            )

    def _watch(self, mark: int) -> None:
        """Notice a mark that was met before."""
        if mark in self._watched:
            self.doubles.add(mark)
        elif len(self._watched) < _MOST_WATCHED:
            self._watched.add(mark)

    def _note_twice(self, row: PriceRow) -> None:
        self.report.counts["twice"] += 1
        if len(self.report.twice) < self._most:
            self.report.twice.append(f"{row.place}: {row.number}")

    def _stray(self, row: PriceRow, part: Key | None, why: str) -> Stray:
        price = f"{row.currency} {money_of(row.price)}" if row.price else ""
        ours = f"our {part[0]}:{part[1]}" if part else ""
        later = f"superseded by {row.superseded_by}" if row.superseded_by else ""
        former = f"in place of {row.supersedes}" if row.supersedes else ""
        says = " · ".join(filter(None, (row.part, ours, row.text, price, later, former)))
        stray = Stray(row.place, row.number, row.normal, says, why)
        self.report.reasons[why if len(why) < 30 else f"{why[:24]} …"] += 1
        if len(self.report.strays) < self._most:
            self.report.strays.append(stray)
        return stray

    def _supersede(self, row: PriceRow, part: Key, known: Known) -> None:
        said = row.supersedes or row.superseded_by
        normal = normal_number(said)
        other = match_number(said, normal, row.maker, known).part
        if row.supersedes:
            self._take_place(row, part, other)
        elif other == part or normal == row.normal:
            self._remark("superseded by itself", by_itself(row))
        elif other is None and names_no_number(said):
            self._remark("superseded by no number", by_no_number(row))
        elif normal:
            self.report.superseded.append(Supersession(row.place, part, said, normal, other))

    def _take_place(self, row: PriceRow, part: Key, old: Key | None) -> None:
        """Note that a row's number takes the place of another; that it always was is no news."""
        if old is None:
            self._remark("in place of an unknown number", of_unknown(row))
        elif old != part:
            found = Supersession(row.place, old, row.number, row.normal, part)
            self.report.superseded.append(found)


def _alike(held: Held, row: PriceRow) -> bool:
    return (held.price, held.currency, held.breaks) == (row.price, row.currency, row.breaks)


def _at_quantity(row: PriceRow, part: Key, each: AtQuantity) -> QuantityChange:
    return QuantityChange(
        f"{part[0]}:{part[1]}", row.number, row.pack, each.packs, each.what,
        money_of(each.before), money_of(each.after), row.currency,
        percent_of(each.before, each.after), row.place,
    )  # fmt: skip
