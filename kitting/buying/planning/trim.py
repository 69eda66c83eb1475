"""That nothing is bought only to fill an order up: the rows of a plan without topping up.

Of each offer that is bought, going down to the next number of packs that costs less (or to none)
must leave its pool short; of each set that is opened, opening one fewer must leave one of its parts
short. So whole packs, price breaks and sets may still bring more than is
needed, and free carriage or a least order may not.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from kitting.buying.planning.tables import Pool

if TYPE_CHECKING:
    from kitting.buying.planning.model import Model
    from kitting.buying.planning.options import Option
    from kitting.buying.planning.tables import Article


def write_trim(model: Model) -> None:
    """Write the rows, once all that brings or takes pieces has its columns."""
    over = _surplus(model)
    most = {pool: sum(count for count in row.values() if count > 0) for pool, row in over.items()}
    for pool, column in model.shelf.items():
        most[pool] += model.program.highs[column]
    for column, article, option in model.options:
        row = dict(over[article.pool])
        row[column] += most[article.pool]
        spare = _spare(article, option)
        model.program.at_most(most[article.pool] + spare - 1, row)
    for columns, opening in model.opened:
        needed = {}
        for part, count in opening.contents:
            pool = Pool(part, held=False)
            if pool in model.tables.most:
                short = model.program.column()
                needed[short] = 1
                model.program.at_most(most[pool] + count - 1, over[pool] | {short: most[pool]})
        model.program.at_least(0, needed | {columns[0]: -1})


def _surplus(model: Model) -> dict[Pool, dict[int, int]]:
    """What each column brings to each pool, or takes from it."""
    over: dict[Pool, dict[int, int]] = defaultdict(lambda: defaultdict(int))
    for column, article, option in model.options:
        over[article.pool][column] += article.pieces(option)
    for pool, column in model.shelf.items():
        over[pool][column] += 1
    for columns, opening in model.opened:
        for column in columns:
            over[Pool(opening.number, held=False)][column] -= 1
            for part, count in opening.contents:
                over[Pool(part, held=False)][column] += count
    for column, choice in model.ways:
        for pool, count in choice.takes:
            over[pool][column] -= count
    return over


def _spare(article: Article, option: Option) -> int:
    """How many pieces fewer the next less costly number of packs brings."""
    less = [
        each.packs
        for each in article.options
        if each.packs < option.packs and each.weighed < option.weighed
    ]
    return (option.packs - max(less, default=0)) * article.offer.pack
