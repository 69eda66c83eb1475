"""The best stack of shims, against brute force."""

from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.engineering.band import Band
from kitting.engineering.shims import ShimsDo, ShimStock, ShimTask, choose_shims
from kitting.errors import BadInput
from kitting.measure import Quantity


def inch(text: str) -> Quantity:
    return Quantity.of(text, "in")


def halves(count: int) -> Quantity:
    """So many half thousandths of an inch."""
    return Quantity.of(Decimal(count) * Decimal("0.0005"), "in")


stocks = st.lists(
    st.tuples(st.integers(2, 24), st.integers(0, 3)),
    min_size=1,
    max_size=4,
    unique_by=lambda s: s[0],
)


def task(measured: str, *stock: tuple[str, int | None], opens: bool = False) -> ShimTask:
    return ShimTask(
        measured=inch(measured),
        in_place=inch("0.010"),
        band=Band(inch("0.002"), inch("0.005")),
        stock=tuple(ShimStock(inch(thickness), count) for thickness, count in stock),
        shims_do=ShimsDo.OPEN if opens else ShimsDo.CLOSE,
    )


@given(stocks, st.integers(-10, 90), st.integers(0, 30), st.sampled_from(ShimsDo))
def test_the_best_stack_is_the_best_by_brute_force(
    stock: list[tuple[int, int]], measured: int, in_place: int, shims_do: ShimsDo
) -> None:
    band = Band(inch("0.002"), inch("0.005"))
    choice = choose_shims(
        ShimTask(
            halves(measured),
            halves(in_place),
            band,
            tuple(ShimStock(halves(size), count) for size, count in stock),
            shims_do,
        )
    )
    sign = 1 if shims_do is ShimsDo.OPEN else -1
    best = min(
        (
            abs(halves(measured - sign * in_place + sign * total) - band.middle).base,
            sum(counts),
            total,
        )
        for counts in product(*(range(count + 1) for _, count in stock))
        for total in [sum(n * size for n, (size, _) in zip(counts, stock, strict=True))]
    )
    found = choice.best
    assert (abs(found.gives - band.middle).base, found.count, found.thickness) == (
        best[0],
        best[1],
        halves(best[2]),
    )
    assert choice.met == (found.gives in band) == found.within
    assert sum((t * n for t, n in found.shims), halves(0)) == found.thickness


def test_fewest_shims_come_first_on_ties() -> None:
    choice = choose_shims(task("0.0235", ("0.010", 3), ("0.005", 6), ("0.015", 2)))
    assert choice.ideal == inch("0.030")
    assert str(choice.best) == "2 × 0.0150 in"
    assert choice.best.gives == inch("0.0035")


def test_one_shim_over_is_better_than_two_as_much_under() -> None:
    choice = choose_shims(task("0.0235", ("0.0145", 2), ("0.031", 1)))
    assert str(choice.best) == "1 × 0.0310 in"
    assert [str(stack) for stack in choice.alternatives] == ["2 × 0.0145 in"]


def test_shims_without_a_count_are_plenty() -> None:
    choice = choose_shims(task("0.0435", ("0.010", None)))
    assert choice.best.shims == ((inch("0.010"), 5),)


def test_shims_under_a_housing_open_the_float() -> None:
    choice = choose_shims(task("0.0005", ("0.008", 2), ("0.005", 2), opens=True))
    assert choice.ideal == inch("0.013")
    assert choice.best.gives == inch("0.0035")


def test_other_stacks_in_the_band_are_offered() -> None:
    choice = choose_shims(task("0.0235", ("0.029", 1), ("0.030", 1), ("0.0315", 1)))
    assert [str(stack) for stack in choice.alternatives] == ["1 × 0.0290 in", "1 × 0.0315 in"]
    assert all(stack.within for stack in choice.alternatives)


def test_a_band_out_of_reach_is_said_and_the_nearest_named() -> None:
    choice = choose_shims(task("0.0235", ("0.020", 1)))
    assert not choice.met
    assert choice.because == (
        "the band 0.0020 in to 0.0050 in cannot be met from this stock: the nearest stack, "
        "1 × 0.0200 in, gives 0.0135 in; 0.0300 in of shims is wanted"
    )


def test_a_float_too_small_without_any_shim_calls_for_something_else() -> None:
    choice = choose_shims(task("-0.0150", ("0.005", 2)))
    assert not choice.met
    assert choice.best.count == 0
    assert str(choice.best) == "no shim"
    assert "something else must be machined" in choice.because


def test_stock_that_is_none_is_refused_in_one_go() -> None:
    with pytest.raises(BadInput) as refused:
        choose_shims(task("0.02", ("0", 1), ("0.005", -1), ("0.005", 2)))
    said = str(refused.value)
    for part in ("a shim of 0.0000 in is none", "-1 of 0.0050 in", "0.0050 in is there twice"):
        assert part in said
    with pytest.raises(BadInput, match="no shims to choose from"):
        choose_shims(task("0.02"))


def test_shims_in_place_below_zero_are_refused() -> None:
    wrong = ShimTask(
        inch("0.02"), inch("-0.01"), Band(inch("0"), inch("1")), (ShimStock(inch("0.1")),)
    )
    with pytest.raises(BadInput, match="give the shims that were in"):
        choose_shims(wrong)


def test_stock_that_makes_too_many_stacks_is_refused() -> None:
    fine = tuple(ShimStock(inch(f"0.{n:06}")) for n in (1, 3, 7))
    with pytest.raises(BadInput, match="too many stacks"):
        choose_shims(ShimTask(inch("0.3"), inch("0"), Band(inch("0.002"), inch("0.004")), fine))
