"""Rows on their way into the database."""

import random

from kitting.store.price_spool import HeldRows
from tests.buying.test_price_changes import a_row


def test_rows_that_stand_several_times_come_in_one_order_whatever_marks_they_have() -> None:
    """A mark is another in each run of the program; the list that is stored is the same."""
    rows = [a_row(f"K-{at % 200}", at + 1) for at in range(400)]
    orders = []
    for seed in (1, 2):
        marks = random.Random(seed).sample(range(10**9), 200)
        with HeldRows() as held:
            held.add([(marks[at % 200], ("hob", "B1"), row) for at, row in enumerate(rows)])
            groups = [row for some in held.groups() for _, _, same in some for row in same]
        assert {*groups} == {*rows}
        orders.append(groups)
    assert orders[0] == orders[1]
