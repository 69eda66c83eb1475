"""The machinist's works sheet: sizes as found and to finish to, and every other operation.

He gets the job's number and the engine's, no customer. For each size the sheet holds what he would
otherwise ring up about: what was read where, what the metal is expected to clean up at, the limits
to finish to and the clearance they give, and what is still his to say before we buy.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.catalog.size_tables import SizeKind
from kitting.job.estimate import LineKind
from kitting.job.sizes import Basis
from kitting.sheets.cautions import MACHINIST
from kitting.sheets.files import save_workbook
from kitting.sheets.jobs.works_sizes import (
    clearance_facts,
    figures_for,
    form_facts,
    reading_rows,
)
from kitting.sheets.jobs.works_suits import finish_rows, order_of_work, rests_facts, without_order
from kitting.sheets.outgoing import OutgoingWorkbook
from kitting.sheets.page import Column, Page, strong_line
from kitting.sheets.pictures.album import Album
from kitting.sheets.style import BAND_FILL, CAUTION, FAINT, STRONG
from kitting.sheets.words import (
    day_text,
    engine_facts,
    names_customer,
    position_names,
    sentence,
    supplier_name,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from kitting.job.kit import KitWork
    from kitting.job.machining import MachinedFeature
    from kitting.job.path import JobPath
    from kitting.job.sizes import SizeChoice
    from kitting.sheets.page import Row

_WIDTHS = (30, 17, 12, 12, 14, 12)
_ALIKE = ("All alike", "every one of them is finished to the same grade")
_HOLD = {
    SizeKind.SHAFT: (
        "HOLD: clock it between centres first, and tell us the size it will clean up at before "
        "you grind. We buy what goes with it only then."
    ),
    SizeKind.BORE: (
        "HOLD: set it up first, and tell us the size it will clean up at before you bore. "
        "We buy what goes with it only then."
    ),
}


def machinists_of(path: JobPath) -> tuple[str, ...]:
    """The keys of the machinists that the job's work is priced with; '' where there is none."""
    lines = path.estimate.of(LineKind.WORK)
    keys = (line.work_quote.price.machinist if line.work_quote else "" for line in lines)
    return tuple(dict.fromkeys(keys))


def write_works_sheet(
    path: JobPath, machinist: str, file: Path, album: Album | None = None
) -> None:
    """Write the works sheet of one machinist (a key of `machinists_of`), over any that is there.

    `album` holds the job's pictures where they are drawn for other sheets too.

    Raises:
        BadInput: the file cannot be written.
    """
    shop, job = path.trade.shop, path.bench.job
    book = OutgoingWorkbook(f"Works sheet {job.number}", shop.name, path.day)
    work = tuple(_work_of(path, machinist))
    sized = tuple(_sized(path, work))
    page = Page(book, "Works sheet", _columns(path, sized))
    page.title(f"Works sheet, job {job.number}", f"{shop.name}, {shop.address}")
    to = supplier_name(path, machinist) if machinist else "no machinist's price known: ask"
    page.facts((("To", to), *engine_facts(path), ("Date", day_text(path.day))))
    readiness = path.kit.readiness
    if not readiness.ready:
        strong_line(page, f"{readiness.sentence} Ask us before you begin.", good=False)
    pictures = album or Album(path)
    for choice in sized:
        _size(page, path, choice, pictures.of_size(choice))
    _operations(page, path, work)
    page.cautions(MACHINIST)
    page.finish(f"{shop.name} · works sheet, job {job.number} · {day_text(path.day)}")
    save_workbook(book, file, replace=True)


def _columns(path: JobPath, sized: tuple[SizeChoice, ...]) -> tuple[Column, ...]:
    """The usual columns, and more where a feature is read in more directions than they hold."""
    features = [f for choice in sized if choice.machined for f in choice.machined.features]
    most = max((len(reading_rows(path, feature)[0]) for feature in features), default=0)
    widths = _WIDTHS + (_WIDTHS[-1],) * max(0, most + 1 - len(_WIDTHS))
    return tuple(Column("", width) for width in widths)


def _work_of(path: JobPath, machinist: str) -> Iterator[KitWork]:
    operations = {
        line.kit_line
        for line in path.estimate.of(LineKind.WORK)
        if (line.work_quote.price.machinist if line.work_quote else "") == machinist
    }
    return (work for work in path.kit.work if work.operation in operations)


def _sized(path: JobPath, work: tuple[KitWork, ...]) -> Iterator[SizeChoice]:
    """The sizes that this work machines to."""
    operations = {each.operation for each in work}
    for choice in path.sizes.choices:
        if choice.basis is Basis.MACHINED and choice.table.operation in operations:
            yield choice


def _size(page: Page, path: JobPath, choice: SizeChoice, pictures: Mapping[str, bytes]) -> None:
    with page.together():
        _to_finish(page, path, choice)
    for feature in choice.machined.features if choice.machined else ():
        with page.together():
            _as_found(page, path, feature)
            if feature.feature.key in pictures:
                page.picture(pictures[feature.feature.key])
    if "" in pictures:
        with page.together():
            page.gap()
            page.picture(pictures[""])


def _to_finish(page: Page, path: JobPath, choice: SizeChoice) -> None:
    table = choice.table
    operation = path.trade.operation_by_key[table.operation]
    page.gap()
    page.band(f"{operation.name}: {table.name}")
    if choice.likely is None:
        strong_line(page, "No size can be chosen: talk to us before anything is done.", good=False)
    elif choice.hold:
        strong_line(page, _HOLD[table.kind], good=False)
    if choice.machined is None:
        return
    several = table.together and len(choice.machined.features) > 1
    _row(page, ("Finish to", "Grade", "from", "to", "Clearance from", "to"), head=True)
    targets = path.sizes.targets_of(table.key)
    for row in finish_rows(choice, targets):
        _row(page, row, strong=True)
    page.facts(
        (
            *clearance_facts(choice),
            *rests_facts(choice, targets),
            *((_ALIKE,) if several else ()),
        )
    )
    notes = _finish_notes(table.finish_note)
    page.facts(("" if at else "How to finish", n) for at, n in enumerate(without_order(notes)))
    page.facts(
        ("" if at > 1 else "Order of work", f"☐ {at}. {sentence(step)}")
        for at, step in enumerate(order_of_work(notes), start=1)
    )
    if choice.because:
        page.line(sentence(choice.because[-1].says), FAINT)


def _as_found(page: Page, path: JobPath, feature: MachinedFeature) -> None:
    page.gap()
    directions, rows = reading_rows(path, feature)
    _row(page, (f"As found: {feature.feature.name}", *directions), head=True)
    for row in rows:
        _row(page, row)
    page.facts((*form_facts(feature), *_seen(path, feature.feature.position)))


def _row(page: Page, texts: Row, *, head: bool = False, strong: bool = False) -> None:
    """A row of the small tables; what a table does not use of the page's columns stays bare."""
    page.put_some(texts, strong=head or strong, fill=BAND_FILL if head else "")


def _finish_notes(note: str) -> tuple[str, ...]:
    """The note's sentences, a line each, as a list is ticked off."""
    ended = note.replace("; ", ". ").split(". ")
    return tuple(sentence(part.strip()) for part in ended if part.strip())


def _seen(path: JobPath, position: str) -> Iterator[tuple[str, str]]:
    """What the eye saw there; a note that names the customer stays at home."""
    finding = path.verdicts.findings.get(position)
    for seen in finding.seen if finding else ():
        observation = path.family.observation_by_key[seen.observation]
        if seen.grade == observation.grades[0]:
            continue
        amount = f", {seen.amount}" if seen.amount is not None else ""
        yield "Seen", sentence(f"{observation.name}: {seen.grade}{amount}")
    if finding and finding.note and not names_customer(finding.note, path.bench.job):
        yield "Bench's note", sentence(finding.note)


def _operations(page: Page, path: JobPath, work: tuple[KitWork, ...]) -> None:
    page.gap()
    page.band("All the work wanted")
    page.line("Not in the order of work: for that see the notes of each size, or ask.", FAINT)
    for each in work:
        with page.together():
            _operation(page, path, each)


def _operation(page: Page, path: JobPath, work: KitWork) -> None:
    operation = path.trade.operation_by_key[work.operation]
    pieces = f"{work.times} piece{'s' if work.times > 1 else ''}"
    page.line(f"☐ {operation.name}, {pieces}: {position_names(path, work.positions)}", STRONG)
    page.line(sentence(operation.instruction))
    if operation.caution:
        page.line(f"Caution: {sentence(operation.caution)}", CAUTION)
    # Where the catalogue's words promise a figure "on the sheet", the sheet gives what it has.
    if "sheet" in operation.instruction.lower():
        page.facts(figures_for(path, work))
