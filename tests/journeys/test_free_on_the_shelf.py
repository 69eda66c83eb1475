"""What lies free is told with a command that works as it is typed, and nothing that is no use."""

import re
import shlex

from tests.journeys.shop import DAY, Shop
from tests.journeys.test_counted_in_pairs import HALF, JOB, PAIR, WHO, bagged, collets, make

SET = "amb:AS 650 SET"


def told(shop: Shop) -> list[str]:
    """The commands that plain `order make` gives for what lies on the shelf, as they stand."""
    said = " ".join(shop.types("order", "make", JOB, "--on", DAY).split())
    return re.findall(r"left there: kitting (shelf .+?), then", said)


def typed(shop: Shop) -> list[str]:
    """The same, each typed as it is printed."""
    commands = told(shop)
    for command in commands:
        shop.types(*shlex.split(command))
    return commands


def lay(shop: Shop, part: str, pieces: int) -> None:
    shop.types("shelf", "in", part, str(pieces), "--where", "bin 4")


def test_the_number_that_covers_the_line_is_told_before_one_that_is_too_few(ready: Shop) -> None:
    lay(ready, HALF, 2)
    lay(ready, PAIR, 4)
    assert typed(ready) == [f"shelf take {JOB} {bagged(ready)['line']}"]
    assert bagged(ready)["in_hand"] == 4
    assert not told(ready)
    assert not collets(ready)


def test_another_number_that_covers_it_is_told_where_its_own_is_not_there(ready: Shop) -> None:
    lay(ready, HALF, 9)
    assert typed(ready) == [f"shelf take {JOB} {bagged(ready)['line']} --part {HALF!r}"]
    assert bagged(ready)["in_hand"] == 4


def test_two_pairs_and_the_halves_for_the_rest_are_both_told(ready: Shop) -> None:
    lay(ready, HALF, 5)
    lay(ready, PAIR, 2)
    take = f"shelf take {JOB} {bagged(ready)['line']}"
    assert typed(ready) == [f"{take} --quantity 2", f"{take} --part {HALF!r}"]
    assert bagged(ready)["in_hand"] == 4
    assert not told(ready)
    assert not collets(ready)


def test_a_part_of_the_line_is_told_by_its_own_number_alone(ready: Shop) -> None:
    lay(ready, HALF, 7)
    assert not told(ready)
    ready.types("shelf", "out", HALF, "6")
    lay(ready, PAIR, 3)
    assert typed(ready) == [f"shelf take {JOB} {bagged(ready)['line']} --quantity 3"]
    assert not told(ready)
    ready.types("order", "make", JOB, "--on", DAY)
    assert [line["quantity"] for _, line in collets(ready)] == [1]


def test_what_an_approved_order_brings_is_not_missing_on_the_shelf(ready: Shop) -> None:
    ((number, _),) = collets(ready)
    ready.types("order", "approve", number, *WHO, "--on", DAY)
    lay(ready, PAIR, 4)
    assert not told(ready)


def test_a_set_is_told_after_what_lies_there_singly(ready: Shop) -> None:
    lay(ready, SET, 2)
    lay(ready, "cor:C68-4015", 1)
    take, opened = told(ready)
    assert take == f"shelf take {JOB} 4.02"
    assert opened == f"shelf open {SET!r} 1"
    said = " ".join(ready.types("order", "make", JOB, "--on", DAY).split())
    (holds,) = re.findall(r"holds what line (.+?) of job", said)
    assert "4.02" not in holds.split(", ")
    typed(ready)
    assert {each.split()[3] for each in typed(ready)} == set(holds.split(", "))
    assert "shelf" not in make(ready)
