"""The customer's estimate: what the job comes to, likely and at worst, and what is still open.

The customer sees what he is asked; never what the shop pays, nor where it buys.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from kitting.catalog.rules import Weight
from kitting.job.approval import items_of
from kitting.job.estimate import NOTHING, LineKind
from kitting.sheets.cautions import CUSTOMER
from kitting.sheets.files import save_workbook
from kitting.sheets.money import (
    added,
    added_where,
    half_up,
    money_format,
    percent_format,
    price_format,
    times,
)
from kitting.sheets.outgoing import Formula, OutgoingWorkbook
from kitting.sheets.page import Column, Kind, Page, strong_line
from kitting.sheets.style import BAND_FILL, FAINT
from kitting.sheets.words import (
    day_text,
    engine_facts,
    held_reasons,
    open_point_text,
    sentence,
    shown_grade,
    telling,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from decimal import Decimal
    from pathlib import Path

    from kitting.job.estimate import EstimateLine
    from kitting.job.path import JobPath

_QUANTITY, _PRICE, _VAT, _LIKELY, _MORE, _WORST = "C", "E", "F", "G", "H", "I"
_VAT_NAMES = {"S": "standard rate", "Z": "zero rate", "E": "exempt"}
_HEADS = {
    LineKind.PART: "Parts: {}",
    LineKind.SET: "Sets of parts",
    LineKind.WORK: "Machining, outside the shop",
    LineKind.LABOUR: "Our labour",
    LineKind.CARRIAGE: "Carriage of parts",
}


def write_customer_estimate(path: JobPath, file: Path) -> None:
    """Write the estimate that the customer gets, over any that is there.

    Raises:
        BadInput: the file cannot be written.
    """
    shop, job = path.trade.shop, path.bench.job
    book = OutgoingWorkbook(f"Estimate {job.number}", shop.name, path.day)
    page = Page(book, "Estimate", _columns(path.estimate.currency), landscape=True)
    _Writing(path, page).write()
    foot = f"{shop.name} · estimate {job.number} · {day_text(path.day)}"
    page.finish(foot)
    notes = Page(book, "What is open", (Column("", 130),), landscape=True)
    _notes(notes, path)
    notes.finish(foot)
    save_workbook(book, file, replace=True)


def _columns(currency: str) -> tuple[Column, ...]:
    money = money_format(currency)
    return (
        Column("Item", 33),
        Column("Why, and remarks", 38),
        Column("Quantity", 8, Kind.AMOUNT, "General"),
        Column("Unit", 11, Kind.MARK),
        Column("Price of one", 11, Kind.AMOUNT, money),
        Column("VAT", 5, Kind.MARK),
        Column("Likely", 12, Kind.AMOUNT, money),
        Column("More at worst", 11, Kind.AMOUNT, money),
        Column("Worst case", 12, Kind.AMOUNT, money),
        Column("Your word", 15),
    )


class _Writing:
    """One estimate on its way to the page."""

    def __init__(self, path: JobPath, page: Page) -> None:
        self.path = path
        self.page = page
        self.currency = path.estimate.currency
        self.items = {item.key: item for item in items_of(path)}

    def write(self) -> None:
        self._head()
        first, last = self._lines()
        with self.page.together():
            self._totals(first, last)
        self.page.cautions(CUSTOMER)

    def _head(self) -> None:
        shop, job = self.path.trade.shop, self.path.bench.job
        page = self.page
        page.title(f"Estimate for {job.customer}", f"{shop.name}, {shop.address}")
        page.facts(
            (
                ("Job", job.number),
                *engine_facts(self.path),
                ("Date", f"{day_text(self.path.day)}, all amounts in {self.currency}"),
            )
        )
        readiness = self.path.kit.readiness
        strong_line(page, readiness.sentence, good=readiness.ready)
        page.line("What is held, what is still open and why: see the sheet 'What is open'.", FAINT)
        page.line(
            "In the last column: needed, because soundness rests on it; advised or optional, where "
            "you may say yes or no.",
            FAINT,
        )
        page.gap()

    def _lines(self) -> tuple[int, int]:
        """Write every line under its head; returns the first and the last row of them."""
        page = self.page
        page.headings()
        first = page.row + 1
        for head, lines in self._sections().items():
            begin, end = page.row + 2, page.row + 1 + len(lines)
            likely, worst = (
                Formula(added(f"{letter}{begin}:{letter}{end}", self.currency), sum(nets, NOTHING))
                for letter, nets in (
                    (_LIKELY, [line.net for line in lines]),
                    (_WORST, [line.worst_net for line in lines]),
                )
            )
            contents = (head, None, None, None, None, None, likely, None, worst, None)
            page.put(contents, strong=True, fill=BAND_FILL)
            for line in lines:
                self._line(line)
        return first, page.row

    def _sections(self) -> Mapping[str, list[EstimateLine]]:
        sections: dict[str, list[EstimateLine]] = defaultdict(list)
        for kind, head in _HEADS.items():
            for line in self.path.estimate.of(kind):
                sections[head.format(line.stage)].append(line)
        return sections

    def _line(self, line: EstimateLine) -> None:
        row = self.page.row + 1
        values = (line.quantity, line.unit_net)
        extension = times(f"{_QUANTITY}{row}", f"{_PRICE}{row}", values, self.currency)
        more = line.worst_net - line.net
        worst = added(f"{_LIKELY}{row}:{_MORE}{row}", self.currency)
        self.page.put(
            (
                self._item(line),
                "\n".join(filter(None, (self._why(line), *line.flags))),
                line.quantity,
                line.unit,
                line.unit_net,
                line.vat,
                Formula(extension, line.net),
                more or None,
                Formula(worst, line.worst_net),
                self._asked(line),
            )
        )
        self.page.cell(4).number_format = price_format(self.currency, line.unit_net)

    def _asked(self, line: EstimateLine) -> str:
        """What the customer may say of a line: its key, and yes or no where it is not needed."""
        item = self.items.get(line.kit_line)
        if item is None:
            return ""
        if item.weight is Weight.NEEDED:
            return f"{item.key}: {item.weight}"
        return f"{item.key}: {item.weight}\n☐ yes   ☐ no"

    def _item(self, line: EstimateLine) -> str:
        if line.kind is LineKind.SET and line.part is not None:
            return self.path.family.part_by_number[line.part].name
        parcels = self.path.estimate.of(LineKind.CARRIAGE)
        if line in parcels and len(parcels) > 1:
            return f"{line.text}, parcel {parcels.index(line) + 1}"
        return line.text

    def _why(self, line: EstimateLine) -> str:
        """The nearest reason; of the shop's buying nothing is said here."""
        if line.kind is LineKind.PART:
            needed = self.path.kit.by_key[line.kit_line].needed
            return sentence(telling(needed[0])) if needed else ""
        if line.kind is LineKind.SET:
            covers = next(c.covers for c in self.path.kit.sets if c.set == line.part)
            return f"One set in place of {len(covers)} parts of the list bought singly"
        if line.kind is LineKind.WORK:
            return self._why_work(line.kit_line)
        return ""

    def _why_work(self, operation: str) -> str:
        family = self.path.family
        work = next(work for work in self.path.kit.work if work.operation == operation)
        names = ", ".join(family.position_by_key[key].name for key in work.positions)
        demanded = self.path.demands.operations
        reasons = [
            telling(demanded[(operation, key)].reasons[0])
            for key in work.positions
            if (operation, key) in demanded
        ]
        why = reasons[0] if reasons else "the part that can be had takes this work"
        return f"{names}: {sentence(why)}"

    def _totals(self, first: int, last: int) -> None:
        """The sums by VAT category, then VAT on each, then the whole; likely and worst."""
        page, likely, worst = self.page, self.path.estimate.likely, self.path.estimate.worst
        keys = f"{_VAT}${first}:{_VAT}${last}"
        pairs = tuple(zip(likely.vat, worst.vat, strict=True))
        page.gap()
        bases = []
        for at_likely, at_worst in pairs:
            key = f"{_VAT}{page.row + 1}"
            formulas = (
                Formula(
                    added_where(keys, key, f"{letter}${first}:{letter}${last}", self.currency),
                    base,
                )
                for letter, base in ((_LIKELY, at_likely.base), (_WORST, at_worst.base))
            )
            name = _VAT_NAMES.get(at_likely.category, f"category {at_likely.category}")
            bases.append(self._total(f"Lines at the {name}", formulas, mark=at_likely.category))
        rows = [self._sum_of(bases, "Total without VAT", (likely.net, worst.net), strong=True)]
        for base, (at_likely, at_worst) in zip(bases, pairs, strict=True):
            rate = f"{_PRICE}{page.row + 1}"
            formulas = (
                Formula(half_up(f"{letter}{base}*{rate}/100", self.currency), amount)
                for letter, amount in ((_LIKELY, at_likely.amount), (_WORST, at_worst.amount))
            )
            rows.append(
                self._total("VAT on them", formulas, mark=at_likely.category, rate=at_likely.rate)
            )
        self._sum_of(rows, "TOTAL WITH VAT", (likely.gross, worst.gross), strong=True)

    def _sum_of(
        self, rows: list[int], name: str, results: tuple[Decimal, Decimal], *, strong: bool
    ) -> int:
        formulas = (
            Formula(added(",".join(f"{letter}{row}" for row in rows), self.currency), result)
            for letter, result in zip((_LIKELY, _WORST), results, strict=True)
        )
        return self._total(name, formulas, strong=strong)

    def _total(
        self,
        name: str,
        formulas: Iterable[Formula],
        *,
        mark: str | None = None,
        rate: Decimal | None = None,
        strong: bool = False,
    ) -> int:
        likely, worst = formulas
        row = self.page.put(
            (name, None, None, None, rate, mark, likely, None, worst, None),
            strong=strong,
            fill=BAND_FILL if strong else "",
        )
        if rate is not None:
            self.page.cell(4).number_format = percent_format(rate)
        return row


def _notes(page: Page, path: JobPath) -> None:
    """What is held and why, what is still open, and what must be known of the prices."""
    kit, job = path.kit, path.bench.job
    page.title(f"What is open, job {job.number}")
    strong_line(page, kit.readiness.sentence, good=kit.readiness.ready)
    held = [line for line in kit.lines if line.hold]
    if held:
        page.gap()
        page.band("Held until the machinist has looked")
        page.line(
            "These parts are not bought before the metal has been clocked. The likely column "
            "prices the first size, the worst case the dearer of the two."
        )
        page.lines(f"{line.name}: {shown_grade(line)}" for line in held)
        page.lines(dict.fromkeys(held_reasons(path)))
    if not kit.readiness.ready:
        page.gap()
        page.band("Still open: the estimate may change")
        page.lines(open_point_text(point) for point in kit.readiness.points)
    warnings = [each for each in path.estimate.warnings if each != kit.readiness.sentence]
    if warnings:
        page.gap()
        page.band("Of the prices")
        page.lines(sentence(warning) for warning in warnings)
    page.cautions(CUSTOMER)
