"""What the commands of an order share: its jobs' families and paths, and what to measure of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING

from kitting.buying.again import Again, ordered_again, ordered_again_each, still_missing
from kitting.cli.opened import path_within

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import date

    from kitting.buying.again import Missing
    from kitting.buying.arrivals import Arrival
    from kitting.buying.choices import Choice
    from kitting.buying.drawings import Check
    from kitting.buying.going_back import Use, Wanted
    from kitting.buying.lateness import DateEffect
    from kitting.buying.orders import Order
    from kitting.buying.sharing import Place
    from kitting.buying.standing import OrderRecord
    from kitting.buying.substitutes import FitEffect
    from kitting.catalog.family import Family
    from kitting.job.findings import Reading
    from kitting.job.path import JobPath
    from kitting.store import UnitOfWork


def families_of(work: UnitOfWork, order: Order) -> Mapping[str, Family]:
    """The edition of each of an order's jobs, by job number."""
    jobs = [work.jobs.job(number) for number in order.jobs]
    return {job.number: work.catalogue.family(job.family, job.edition) for job in jobs}


def paths_of(work: UnitOfWork, order: Order, day: date | None) -> Mapping[str, JobPath]:
    """The path of each of an order's jobs, as of a day."""
    return {number: path_within(work, number, day) for number in order.jobs}


def checks_within(
    work: UnitOfWork, record: OrderRecord, idle: frozenset[str] = frozenset()
) -> Mapping[str, tuple[Check, ...]]:
    """What is measured of each line as it arrives, by its id; nothing of those that are idle."""
    from kitting.buying.drawings import checks_of

    families = families_of(work, record.order)
    return {
        each.line.id: () if each.line.id in idle else checks_of(families, each.as_agreed)
        for each in record.lines
    }


def judged(
    work: UnitOfWork, order: Order, checks: Iterable[Check], readings: Iterable[Reading]
) -> Arrival:
    """What figures prove of one line, by the shop's own instruments."""
    from kitting.buying.arrivals import judge_arrival
    from kitting.job.settings import Settings

    families = families_of(work, order)
    settings = Settings.of_shop(work.trade.trade(()).shop)
    return judge_arrival(next(iter(families.values())), checks, readings, settings)


@dataclass(frozen=True, slots=True)
class Beside:
    """What follows for an order from the others and from its jobs as they are today.

    `again` is what became of the lines that it left open; `idle` are the lines on sale or return
    that go back unused, and are not measured. `unwanted` are the pieces of a line that no kit asks
    for any more; a list of orders asks where anything is still to come, and of what is here while
    one of its jobs is open or was not built.
    """

    again: Again = field(default_factory=Again)
    idle: frozenset[str] = frozenset()
    unwanted: Mapping[str, int] = field(default_factory=dict)


class JobsNow:
    """The jobs of orders as they are today, each walked once, and none that nobody asks about."""

    def __init__(self, work: UnitOfWork, every: Sequence[OrderRecord]) -> None:
        """`every` are the orders of those jobs, in the order in which they were made."""
        self._work = work
        self._every = every
        self._paths: dict[str, JobPath] = {}
        self._missing: dict[str, tuple[Missing, ...]] = {}
        self._are_closed: dict[str, bool] = {}

    def beside(self, record: OrderRecord) -> Beside:
        """What follows for an order; of jobs that were built and closed nothing may go back."""
        return self._beside(record, self.again(record))

    def beside_each(self, records: Sequence[OrderRecord]) -> tuple[Beside, ...]:
        """What follows for each of several orders; what is missing is told at one of them."""
        left_open = [each for each in records if any(line.left_open for line in each.lines)]
        jobs = dict.fromkeys(job for record in left_open for job in record.order.jobs)
        missing = (each for job in jobs for each in self._missing_for(job))
        again = ordered_again_each(left_open, self._every, missing)
        return tuple(self._beside(each, again.get(each.order.number, Again())) for each in records)

    def _beside(self, record: OrderRecord, again: Again) -> Beside:
        unwanted = self.unwanted(record) if self._may_go_back(record) else {}
        return Beside(again, self.idle(record), unwanted)

    def _may_go_back(self, record: OrderRecord) -> bool:
        """Whether to look for what no kit asks for: of engines that are built and gone a list
        would have to walk every job that ever was."""
        if any(each.coming for each in record.lines):
            return True
        if not any(each.secured for each in record.lines):
            return False
        jobs = record.order.jobs
        return any((job, "") in record.given_up or not self._closed(job) for job in jobs)

    def _closed(self, job: str) -> bool:
        if job not in self._are_closed:
            self._are_closed[job] = bool(self._work.jobs.job(job).closed)
        return self._are_closed[job]

    def unwanted(self, record: OrderRecord) -> Mapping[str, int]:
        """How many pieces of a line no kit asks for any more; of an order that stands.

        Asked of a list that knows every order of the order's jobs.
        """
        from kitting.buying.going_back import unwanted_of

        if record.order.draft or record.cancelled:
            return {}
        paths = {job: self._path(job) for job in record.order.jobs}
        return unwanted_of(record, paths, self._of_its_jobs(record))

    def again(self, record: OrderRecord) -> Again:
        """What became of the lines that an order left open."""
        if not any(each.left_open for each in record.lines):
            return Again()
        missing = (each for job in record.order.jobs for each in self._missing_for(job))
        return ordered_again(record, self._every, missing)

    def idle(self, record: OrderRecord) -> frozenset[str]:
        """The lines on sale or return that go back unused."""
        from kitting.buying.going_back import idle_of, may_be_idle

        if not any(may_be_idle(each) for each in record.lines):
            return frozenset()
        return idle_of(record, {job: self._path(job) for job in record.order.jobs})

    def uses(self, record: OrderRecord) -> Mapping[str, Mapping[Use, int]]:
        """What of the goods on sale or return is needed, by the line's id."""
        from kitting.buying.deliveries import Why
        from kitting.buying.going_back import uses_of

        if not any(each.may_go[Why.SALE_OR_RETURN] for each in record.lines):
            return {}
        return uses_of(record, {job: self._path(job) for job in record.order.jobs})

    def unused(self, record: OrderRecord, line_id: str) -> Mapping[Place, int]:
        """Whose the pieces of a line are that are here and wanted no more, by job and position."""
        from kitting.buying.going_back import whose_unused

        paths = {job: self._path(job) for job in record.order.jobs}
        return whose_unused(record, line_id, paths, self._of_its_jobs(record))

    def wanted(self) -> Wanted:
        """What the jobs still ask for of what the orders bring; one that was closed before it was
        kept what its engine has in it, all that came for it."""
        from kitting.buying.going_back import Wanted

        return Wanted(lambda job: None if self._closed(job) else self._path(job), self._every)

    def idle_here(self, record: OrderRecord, line_id: str) -> int:
        """How many pieces of a line that are here no kit asks for, beside the surplus of packs."""
        from kitting.buying.going_back import Wanted

        each = record.by_line[line_id]
        wanted = Wanted(self._path, self._every)
        return wanted.idle(record.order.number, each, each.good + each.unproven)

    def _of_its_jobs(self, record: OrderRecord) -> tuple[OrderRecord, ...]:
        """The orders that anything of an order's jobs is in: the others bring nothing to them."""
        jobs = set(record.order.jobs)
        return tuple(each for each in self._every if jobs.intersection(each.order.jobs))

    def _missing_for(self, job: str) -> tuple[Missing, ...]:
        """Nothing for a job that is closed: nothing more is bought for it."""
        if job not in self._missing:
            mine = [each for each in self._every if job in each.order.jobs]
            self._missing[job] = () if self._closed(job) else still_missing(self._path(job), mine)
        return self._missing[job]

    def _path(self, job: str) -> JobPath:
        if job not in self._paths:
            self._paths[job] = path_within(self._work, job)
        return self._paths[job]


def idle_within(work: UnitOfWork, record: OrderRecord) -> frozenset[str]:
    """The lines on sale or return that go back unused, as the jobs are today."""
    return JobsNow(work, ()).idle(record)


@dataclass(frozen=True, slots=True)
class Effects:
    """What a reply's line would mean: whether what is offered fits, for the dates, and in money."""

    fits: tuple[FitEffect, ...] = ()
    dates: tuple[DateEffect, ...] = ()
    choices: tuple[Choice, ...] = ()


def others_of(work: UnitOfWork, order: Order) -> tuple[OrderRecord, ...]:
    """The other orders that anything of an order's jobs is in."""
    found = work.orders.records_for(*order.jobs)
    return tuple(each for each in found if each.order.number != order.number)


def effects_of(work: UnitOfWork, record: OrderRecord, day: date) -> Mapping[str, Effects]:
    """For each line that a reply asks about, by its id: what accepting or refusing it means."""
    from kitting.buying.choices import choices_of
    from kitting.buying.lateness import effects_on_date
    from kitting.buying.other_numbers import numbers_for
    from kitting.buying.substitutes import effect_on_fit
    from kitting.buying.turned_up import missed_of
    from kitting.job.pricing import Market

    if not record.questions:
        return {}
    order = record.order
    families = families_of(work, order)
    others = others_of(work, order)
    records = (*others, record)
    paths = paths_of(work, order, day)
    jobs = [work.jobs.job(number) for number in families]
    numbers = {e.line.id: numbers_for(e.line, families, jobs, day) for e in record.questions}
    market = Market(work.trade.trade({n.part for may in numbers.values() for n in may}), day)
    effects = {}
    for question in record.questions:
        fits = tuple(
            effect_on_fit(
                families[need.job],
                work.jobs.job(need.job),
                need,
                question.line.part,
                question.said.part,
                day,
            )
            for need in (question.line.needed_by if question.said.substitute else ())
        )
        dates = effects_on_date(question, order.number, records)
        may = numbers[question.line.id]
        missed = partial(missed_of, line=question.line, paths=paths, others=others)
        choices = choices_of(question, record, market, families, records, may, missed)
        effects[question.line.id] = Effects(fits, dates, choices)
    return effects
