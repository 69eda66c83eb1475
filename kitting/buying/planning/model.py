"""The plan as a program in whole numbers.

Columns: each way a line may take, each option of each article, each set opened, pieces off the
shelf, each supplier used and each whose carriage is free. Rows: a line takes one way; a pool is
covered (a set that is opened needs the set, and covers its contents), and what critical lines take
of it again without what is of poor quality; an offer is bought at one option; a supplier's terms
hold; a matched group has one maker. What an option brings beyond the most that could be of use is
cut off, which changes no plan and makes the proof much shorter.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from kitting.buying.planning.cover import Cover, Opened, write_levels
from kitting.buying.planning.solver import Program
from kitting.buying.planning.tables import Pool, opened_at_most
from kitting.buying.planning.trim import write_trim

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from kitting.buying.planning.demand import PlanSet
    from kitting.buying.planning.options import Option, Terms
    from kitting.buying.planning.tables import Article, Choice, Tables


@dataclass(frozen=True, slots=True)
class Decision:
    """What a solution says, in the tables' terms."""

    choices: tuple[Choice, ...]
    bought: tuple[tuple[Article, Option], ...]
    opened: tuple[tuple[PlanSet, int], ...]


@dataclass
class Model:
    """A program and the meaning of its columns.

    Its objective is the cost in minor units times `scale`, and one for each way that takes work: so
    of plans that cost the same the one with the least such ways is best.
    """

    tables: Tables
    program: Program
    scale: int
    ways: list[tuple[int, Choice]] = field(default_factory=list)
    options: list[tuple[int, Article, Option]] = field(default_factory=list)
    opened: list[tuple[tuple[int, ...], PlanSet]] = field(default_factory=list)
    shelf: dict[Pool, int] = field(default_factory=dict)
    used: dict[str, int] = field(default_factory=dict)
    free: dict[str, int] = field(default_factory=dict)
    made_up: dict[str, int] = field(default_factory=dict)
    makers: list[int] = field(default_factory=list)

    def decision(self, values: Sequence[int]) -> Decision:
        """Read a solution."""
        return Decision(
            choices=tuple(choice for column, choice in self.ways if values[column]),
            bought=tuple((a, option) for column, a, option in self.options if values[column]),
            opened=tuple(
                (each, sum(values[column] for column in columns))
                for columns, each in self.opened
                if values[columns[0]]
            ),
        )

    def with_objective(self, costs: Mapping[int, int]) -> Program:
        """The same program with another objective."""
        every = [costs.get(column, 0) for column in range(len(self.program.costs))]
        return Program(every, list(self.program.highs), list(self.program.rows))

    def limit_parcels(self, most: int) -> None:
        """Allow no more than so many parcels."""
        self.program.at_most(most, dict.fromkeys(self.used.values(), 1))


def model_of(tables: Tables) -> Model:
    """Write the program for the cheapest plan."""
    working = {choice.line for choice in tables.choices if choice.way.with_work}
    model = Model(tables, Program(), scale=1 + len(working))
    cover = {pool: Cover(most) for pool, most in tables.most.items()}
    sound = {pool: Cover(most) for pool, most in tables.careful.items()}
    _lines(model, cover, sound)
    _suppliers(model)
    _articles(model, cover, sound)
    _shelf(model, cover, sound)
    _openings(model, cover, sound)
    for each in (*cover.values(), *sound.values()):
        each.write(model.program)
    _matched(model)
    for terms in tables.terms:
        if terms.supplier.key in model.used:
            _terms(model, terms)
    if not tables.problem.policy.top_up:
        write_trim(model)
    return model


def _lines(model: Model, cover: dict[Pool, Cover], sound: dict[Pool, Cover]) -> None:
    by_line: dict[int, dict[int, int]] = {index: {} for index in range(len(model.tables.lines))}
    for choice in model.tables.choices:
        column = model.program.column(choice.work * model.scale + choice.way.with_work)
        model.ways.append((column, choice))
        by_line[choice.line][column] = 1
        for pool, quantity in choice.takes:
            cover[pool].taken[column] = quantity
            if pool in sound and model.tables.lines[choice.line].critical:
                sound[pool].taken[column] = quantity
    for index, columns in by_line.items():
        if index in model.tables.spare:
            model.program.at_most(1, columns)
            continue
        model.program.exactly(1, columns)
        if len(columns) == 1:
            for each in (*cover.values(), *sound.values()):
                each.surely |= each.taken.keys() & columns.keys()


def _suppliers(model: Model) -> None:
    selling = {article.offer.supplier for article in model.tables.articles}
    for terms in model.tables.terms:
        key = terms.supplier.key
        if key in selling:
            model.used[key] = model.program.column(terms.carriage * model.scale)
            if terms.carriage and terms.free_over is not None:
                model.free[key] = model.program.column(-terms.carriage * model.scale)
            if terms.made_up:
                model.made_up[key] = model.program.column(model.scale, terms.made_up)


def _articles(model: Model, cover: dict[Pool, Cover], sound: dict[Pool, Cover]) -> None:
    program = model.program
    packs: dict[int, dict[int, int]] = defaultdict(dict)
    bounds: dict[int, int] = {}
    for article in model.tables.articles:
        one_option: dict[int, int] = {}
        for option in article.options:
            column = program.column(option.weighed * model.scale)
            model.options.append((column, article, option))
            one_option[column] = 1
            pieces = min(article.pieces(option), model.tables.most[article.pool])
            cover[article.pool].brought[column] = pieces
            if article.pool in sound and not article.poor:
                sound[article.pool].brought[column] = pieces
            packs[article.index][column] = option.packs
        program.at_most(0, one_option | {model.used[article.offer.supplier]: -1})
        if article.bound is not None:
            bounds[article.index] = article.bound
    pools = [article.index for article in model.tables.articles]
    for index, bound in bounds.items():
        if pools.count(index) > 1:
            program.at_most(bound, packs[index])


def _openings(model: Model, cover: dict[Pool, Cover], sound: dict[Pool, Cover]) -> None:
    most = model.tables.most
    for opening in model.tables.openings:
        levels = opened_at_most(opening, most)
        if not levels:
            continue
        columns = tuple(model.program.column() for _ in range(levels))
        model.opened.append((columns, opening))
        for part, count in opening.contents:
            pool = Pool(part, held=False)
            if pool in most:
                cover[pool].opened.append(Opened(count, columns))
            if pool in sound:
                sound[pool].opened.append(Opened(count, columns))
        write_levels(model.program, Opened(1, columns), cover[Pool(opening.number, held=False)])


def _shelf(model: Model, cover: dict[Pool, Cover], sound: dict[Pool, Cover]) -> None:
    by_part: dict[object, dict[int, int]] = defaultdict(dict)
    for pool, (quantity, cost) in model.tables.shelf.items():
        column = model.program.column(cost * model.scale, quantity)
        model.shelf[pool] = column
        cover[pool].brought[column] = 1
        if pool in sound:
            sound[pool].brought[column] = 1
        by_part[pool.part][column] = 1
    for stock in model.tables.problem.shelf:
        if len(by_part[stock.part]) > 1:
            model.program.at_most(stock.quantity, by_part[stock.part])


def _matched(model: Model) -> None:
    for job, group in sorted(model.tables.matched):
        lines = [
            index
            for index, line in enumerate(model.tables.lines)
            if (line.job, line.match) == (job, group)
        ]
        by_maker: dict[str, dict[int, dict[int, int]]] = defaultdict(dict)
        for column, choice in model.ways:
            if choice.line in lines:
                by_maker[choice.way.made_by].setdefault(choice.line, {})[column] = 1
        of_group = {model.program.column(): maker for maker in sorted(by_maker)}
        model.makers.extend(of_group)
        model.program.exactly(1, dict.fromkeys(of_group, 1))
        for column, maker in of_group.items():
            for line in lines:
                row = by_maker[maker].get(line, {}) | {column: -1}
                if line in model.tables.spare:
                    model.program.at_most(0, row)
                else:
                    model.program.exactly(0, row)


def _terms(model: Model, terms: Terms) -> None:
    """Thresholds. What an option counts beyond one is cut off, which changes no plan."""
    key = terms.supplier.key
    mine = [(column, each) for column, a, each in model.options if a.offer.supplier == key]
    counted = {column: option.counted for column, option in mine}
    if key in model.free:
        free_over = terms.free_over or 0
        enough = {column: min(each, free_over) for column, each in counted.items()}
        model.program.at_least(0, enough | {model.free[key]: -free_over})
        model.program.at_most(0, {model.free[key]: 1, model.used[key]: -1})
    if terms.barred:
        enough = {column: min(each, terms.barred) for column, each in counted.items()}
        model.program.at_least(0, enough | {model.used[key]: -terms.barred})
    if key in model.made_up:
        home = {column: min(option.home, terms.made_up) for column, option in mine}
        made_up = {model.made_up[key]: 1, model.used[key]: -terms.made_up}
        model.program.at_least(0, home | made_up)
