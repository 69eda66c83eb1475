"""What supplier and shop said of an order, as its screen tells it."""

from dataclasses import replace
from decimal import Decimal

import pytest

from kitting.buying.replies import Word
from kitting.buying.standing import OrderRecord
from kitting.cli.order_said import said_of
from tests.buying.test_standing import LATER, NUTS, said, word

SHORT = said(packs=1)
AS_ASKED = {"packs": 2, "pack_price": Decimal("3.20")}


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (AS_ASKED, "as asked"),
        ({**AS_ASKED, "day": LATER}, "as asked; on 09 May 2024"),
        ({**AS_ASKED, "remark": "one box found"}, "as asked; he remarks: one box found"),
        ({"packs": 2}, "2 of 2 packs"),
        (
            {"packs": 2, "pack_price": Decimal("3.55")},
            "2 of 2 packs; 3.55 a pack instead of 3.20",
        ),
    ],
)
def test_what_came_after_all_and_was_accepted_is_to_be_seen(
    more: dict[str, object], told: str
) -> None:
    words = (word(Word.ACCEPT), word(Word.ACCEPT, 2))
    record = OrderRecord(NUTS, replies=(SHORT, said(**more)), answers=words)
    text = " ".join(" ".join(said_of(record)).split())
    assert "1 of 2 packs; accepted by K. Ferris" in text
    assert f"part W320: {told}; accepted by K. Ferris, 09 May 2024" in text


def test_a_line_that_comes_as_asked_and_needed_no_word_is_not_told_of() -> None:
    record = OrderRecord(NUTS, replies=(said(**AS_ASKED),))
    (head,) = said_of(record)
    assert head.endswith(": 1 line")
    later = replace(record, replies=(said(day=LATER),))
    assert "part W320: on 09 May 2024" in " ".join(said_of(later))
