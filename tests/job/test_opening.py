"""What the pieces of an opened set cost: together what the set cost, and as even as money goes."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from kitting.job.opening import shared_cost
from kitting.job.pricing import minor_unit
from tests.builders import number

SEAL, RING, CLIP = number("hob:W310"), number("hob:W210"), number("hob:W320")


def test_what_does_not_go_up_makes_the_first_pieces_a_penny_dearer() -> None:
    assert shared_cost(Decimal(24), {SEAL: 4, RING: 2}, "EUR") == (
        (SEAL, 4, Decimal(4)),
        (RING, 2, Decimal(4)),
    )
    assert shared_cost(Decimal("1.00"), {SEAL: 4, RING: 2}, "EUR") == (
        (SEAL, 4, Decimal("0.17")),
        (RING, 2, Decimal("0.16")),
    )
    assert shared_cost(Decimal("0.03"), {SEAL: 4, RING: 2}, "EUR") == (
        (SEAL, 3, Decimal("0.01")),
        (SEAL, 1, Decimal(0)),
        (RING, 2, Decimal(0)),
    )
    assert shared_cost(Decimal(100), {SEAL: 3}, "JPY") == (
        (SEAL, 1, Decimal(34)),
        (SEAL, 2, Decimal(33)),
    )


@given(
    cost=st.decimals(0, 10**9, places=4),
    counts=st.lists(st.integers(1, 40), min_size=1, max_size=3),
    currency=st.sampled_from(["EUR", "JPY", "KWD"]),
)
def test_nothing_of_the_cost_is_lost_and_no_piece_is_dearer_than_another_by_more_than_a_penny(
    cost: Decimal, counts: list[int], currency: str
) -> None:
    contents = dict(zip((SEAL, RING, CLIP), counts, strict=False))
    shares = shared_cost(cost, contents, currency)
    assert sum(pieces * each for _, pieces, each in shares) == cost
    for part, count in contents.items():
        assert sum(pieces for share, pieces, _ in shares if share == part) == count
    costs = [each for *_, each in shares]
    assert max(costs) - min(costs) <= minor_unit(currency)
    assert min(costs) >= 0
