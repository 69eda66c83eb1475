"""What a new price list changes: new, gone, dearer or cheaper, other quality, superseded, unknown.

Everything is counted; only the most telling few of each kind are kept, so that a list of any
length takes little memory. Prices are compared as whole numbers, never as binary fractions.
"""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from typing import NamedTuple

from kitting.buying.price_lists.doubles import (
    FROM_MORE,
    MOST_TOGETHER,
    TOO_OFTEN,
    Settled,
    mark_of,
    settle,
)
from kitting.buying.price_lists.matching import Held, Key, Known, Match, match, match_number
from kitting.buying.price_lists.rows import PriceRow, money_of
from kitting.catalog.model import normal_number

_MOST_WATCHED = 3_000_000
_CHANGES = (
    "new", "gone", "unpriced", "dearer", "a little dearer", "cheaper", "other money",
    "other quality",
)  # fmt: skip


class PriceChange(NamedTuple):
    """One part's price, before and after; None where there was or is none."""

    part: str
    their_number: str
    pack: int
    before: Decimal | None
    after: Decimal | None
    currency: str
    percent: Decimal | None
    place: str


class QualityChange(NamedTuple):
    """One part's quality, before and after; empty where none was or is stated."""

    part: str
    their_number: str
    before: str
    after: str
    place: str


class Stray(NamedTuple):
    """A row that offers nothing as it stands, and why; kept for a person to look at."""

    place: str
    number: str
    normal: str
    says: str
    why: str


class Supersession(NamedTuple):
    """That the list says one number is superseded by another; `new` is None when unknown."""

    place: str
    old: Key
    new_said: str
    new_normal: str
    new: Key | None


OfferRow = tuple[str, str, str, str, int, int, str, str, str, int | None, int | None, str, object]
"""Their number, as compared, maker, number, pack, price, currency, from, until, days, stock,
quality and the prices for more packs: as the store takes it."""


@dataclass(slots=True)
class ChangeReport:
    """The changes in figures (`counts`) and by example."""

    counts: Counter[str] = field(default_factory=Counter)
    reasons: Counter[str] = field(default_factory=Counter)
    new: list[PriceChange] = field(default_factory=list)
    gone: list[PriceChange] = field(default_factory=list)
    dearer: list[PriceChange] = field(default_factory=list)
    cheaper: list[PriceChange] = field(default_factory=list)
    other_money: list[PriceChange] = field(default_factory=list)
    other_quality: list[QualityChange] = field(default_factory=list)
    strays: list[Stray] = field(default_factory=list)
    superseded: list[Supersession] = field(default_factory=list)
    twice: list[str] = field(default_factory=list)

    @property
    def changes(self) -> bool:
        """Whether anything differs from the list that holds."""
        return any(self.counts[kind] for kind in _CHANGES)


class Comparison:
    """Compares a list with the one that holds, some thousands of rows at a time.

    Args:
        dearer_by: per cent above which a price counts as dearer, not as a little dearer.
        most: how many of each kind are kept by example.
        last_line: the greatest line of the list that holds; 0 without one.
        doubles: marks of rows that stand more than once, as `doubles` has them once a list was
            gone through: such rows are left to `together`.
    """

    def __init__(
        self, dearer_by: Decimal, most: int, last_line: int, doubles: Collection[int] = ()
    ) -> None:
        self.report = ChangeReport()
        self.doubles: set[int] = set()
        self._kept_back: list[tuple[int, Key, PriceRow]] = []
        self._settled_later = Counter(dict.fromkeys(doubles, 0))
        self._least = 100 + dearer_by
        self._most = most
        self.seen = bytearray(last_line + 1)
        self._watched: set[int] = set()
        self._worst: list[tuple[Decimal, int, PriceChange]] = []
        self._best: list[tuple[Decimal, int, PriceChange]] = []
        self._compared = last_line > 0

    def add(self, rows: Sequence[PriceRow], known: Known) -> tuple[list[OfferRow], list[Stray]]:
        """Take some rows of the new list; returns its offers, and the rows for a person."""
        offers: list[OfferRow] = []
        strays: list[Stray] = []
        matched = _in_one_go(rows, known)
        for row, at_once in zip(rows, matched, strict=True):
            found = Match(at_once) if at_once else match(row, known)
            part = found.part
            if found.not_ours:
                self.report.counts["not ours"] += 1
                continue
            if part is not None and row.superseded_by:
                self._supersede(row, part, known)
            why = row.why or found.why
            if not why and part is not None:
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
            self._compare(row, part, known)
            offers.append(_offer(row, part))
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
            for offer in settled.offers:
                self._compare(offer, part, known)
                offers.append(_offer(offer, part))
        return self._counted(offers, strays)

    def _counted(
        self, offers: list[OfferRow], strays: list[Stray]
    ) -> tuple[list[OfferRow], list[Stray]]:
        self.report.counts["offers"] += len(offers)
        self.report.counts["strays"] += len(strays)
        return offers, strays

    def finish(self) -> ChangeReport:
        """Put the examples in order, the greatest change first."""
        self.report.dearer = [each[2] for each in sorted(self._worst, reverse=True)]
        self.report.cheaper = [each[2] for each in sorted(self._best, reverse=True)]
        return self.report

    def gone(self, offers: Iterable[tuple[Held, str]], count: int) -> None:
        """Note how many offers of the list that holds are not in the new one, and some of them."""
        self.report.counts["gone"] = count
        self.report.gone = [
            PriceChange(
                f"{held.maker}:{held.number}", their_number, held.pack, money_of(held.price), None,
                held.currency, None, "",
            )
            for held, their_number in offers
        ]  # fmt: skip

    def _not_gone(self, row: PriceRow, part: Key | None, known: Known) -> None:
        """A part that stands in the list without one price is no longer offered, yet not gone."""
        if part is None or not self._compared:
            return
        for each in (*known.held.get(row.normal, ()), *known.held_of.get(part, ())):
            if each.part == part and each.pack == row.pack and not self.seen[each.line]:
                self.seen[each.line] = 1
                self.report.counts["unpriced"] += 1

    def _compare(self, row: PriceRow, part: Key, known: Known) -> None:
        if not self._compared:
            self._note("new", self.report.new, row, part, None)
            return
        held = known.held.get(row.normal) or known.held_of.get(part, ())
        maker, number = part
        same = [
            each
            for each in held
            if each.pack == row.pack and each.number == number and each.maker == maker
        ]
        if not same:
            others = known.held_of.get(part, ())
            same = [each for each in others if each.pack == row.pack]
        if not same:
            self._note("new", self.report.new, row, part, None)
            return
        for each in same:
            self.seen[each.line] = 1
        # Of a price and a later one each is compared with the one that ends when it does.
        alike = [each for each in same if each.until == row.valid_until] or same
        before = alike[0] if len(alike) == 1 else max(alike, key=lambda e: (e.until, e.price))
        if before.quality != row.quality:
            self._note_quality(row, part, before)
        if before.currency != row.currency:
            self._note("other money", self.report.other_money, row, part, before)
        elif before.price == row.price:
            self.report.counts["same"] += 1
        else:
            self._dearer_or_cheaper(row, part, before)

    def _dearer_or_cheaper(self, row: PriceRow, part: Key, before: Held) -> None:
        if row.price < before.price:
            kind, heap = "cheaper", self._best
        elif row.price * 100 > before.price * self._least:
            kind, heap = "dearer", self._worst
        else:
            self.report.counts["a little dearer"] += 1
            return
        self.report.counts[kind] += 1
        rise = Decimal(abs(row.price - before.price)) * 100 / before.price
        if len(heap) < self._most or rise > heap[0][0]:
            entry = (rise, -self.report.counts[kind], _change(row, part, before))
            (heapq.heappush if len(heap) < self._most else heapq.heapreplace)(heap, entry)

    def _note(
        self, kind: str, kept: list[PriceChange], row: PriceRow, part: Key, before: Held | None
    ) -> None:
        self.report.counts[kind] += 1
        if len(kept) < self._most:
            kept.append(_change(row, part, before))

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
        says = " · ".join(filter(None, (row.part, ours, row.text, price, later)))
        stray = Stray(row.place, row.number, row.normal, says, why)
        self.report.reasons[why if len(why) < 30 else f"{why[:24]} …"] += 1
        if len(self.report.strays) < self._most:
            self.report.strays.append(stray)
        return stray

    def _supersede(self, row: PriceRow, part: Key, known: Known) -> None:
        normal = normal_number(row.superseded_by)
        new = match_number(row.superseded_by, normal, row.maker, known).part
        if normal and new != part and normal != row.normal:
            found = Supersession(row.place, part, row.superseded_by, normal, new)
            self.report.superseded.append(found)


def _offer(row: PriceRow, part: Key) -> OfferRow:
    return (
        row.number, row.normal, part[0], part[1], row.pack, row.price, row.currency,
        row.valid_from, row.valid_until, row.days, row.stock, row.quality, row.breaks,
    )  # fmt: skip


def _in_one_go(rows: Sequence[PriceRow], known: Known) -> list[Key | None]:
    """The parts of the rows whose number the list that holds has for one part, the common case."""
    if known.decided or not known.held:
        return [None] * len(rows)
    held = known.held
    return [
        found[0].part if not row.part and (found := held.get(row.normal)) and len(found) == 1
        else None
        for row in rows
    ]  # fmt: skip


def _change(row: PriceRow, part: Key, before: Held | None) -> PriceChange:
    percent = None
    if before is not None and before.currency == row.currency:
        exact = Decimal(row.price - before.price) * 100 / before.price
        percent = exact.quantize(Decimal("0.1"), ROUND_HALF_UP)
    return PriceChange(
        f"{part[0]}:{part[1]}",
        row.number,
        row.pack,
        money_of(before.price) if before else None,
        money_of(row.price),
        row.currency,
        percent,
        row.place,
    )
