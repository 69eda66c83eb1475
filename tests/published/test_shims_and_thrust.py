"""Printed shim sets, shim sums and thrust washer tables; each names its source."""

import pytest

from kitting.engineering.band import Band
from kitting.engineering.shims import ShimsDo, ShimStock, ShimTask, choose_shims
from kitting.engineering.thrust import WasherRow, choose_washer, find_gaps, thrust_gap
from kitting.measure import Quantity


def inch(text: str) -> Quantity:
    return Quantity.of(text, "in")


def mm(text: str) -> Quantity:
    return Quantity.of(text, "mm")


@pytest.mark.parametrize(
    ("measured", "stack", "gives"),
    [
        ("-0.0050", "1 × 0.0080 in", "0.0030"),
        ("-0.0115", "1 × 0.0150 in", "0.0035"),
        ("-0.0225", "1 × 0.0100 in + 2 × 0.0080 in", "0.0035"),
        ("0.0030", "no shim", "0.0030"),
    ],
)
def test_generator_projection_by_its_shim_set(measured: str, stack: str, gives: str) -> None:
    """TM 5-6115-400-35: shims .005 .008 .010 .015 .020, target projection .0020 to .0050."""
    stock = tuple(ShimStock(inch(size)) for size in (".005", ".008", ".010", ".015", ".020"))
    choice = choose_shims(
        ShimTask(
            inch(measured), inch("0"), Band(inch("0.0020"), inch("0.0050")), stock, ShimsDo.OPEN
        )
    )
    assert choice.met
    assert choice.best.gives == inch(gives)
    assert str(choice.best) == stack


@pytest.mark.parametrize(
    ("in_place", "end_float", "preload", "required"),
    [
        ("1.00", "0.32", "-0.05", "1.27"),
        ("1.00", "0.33", "0.13", "1.46"),
        ("1.10", "0.36", "0.33", "1.79"),
    ],
)
def test_gearbox_shim_sum(in_place: str, end_float: str, preload: str, required: str) -> None:
    """Mercury Cougar 2.5, 2002, shim selection: measuring shim + end float + preload figure."""
    wanted = mm("0") - mm(preload)
    choice = choose_shims(
        ShimTask(mm(end_float), mm(in_place), Band(wanted, wanted), (ShimStock(mm(required), 1),))
    )
    assert choice.ideal == mm(required)
    assert choice.met


def test_gearbox_differential_takes_the_nearest_stock_shim() -> None:
    """The same: 1.79 wanted, shims from 1.40 to 2.20 in steps of 0.05."""
    stock = tuple(ShimStock(mm("1.40") + mm("0.05") * step, 1) for step in range(17))
    band = Band(mm("-0.36"), mm("-0.30"))
    choice = choose_shims(ShimTask(mm("0.36"), mm("1.10"), band, stock))
    assert str(choice.best) == "1 × 1.800 mm"


ROWS = (
    WasherRow("standard", high=inch("0.016"), high_itself=False,
              thickness=Band(inch("0.119"), inch("0.122"))),
    WasherRow("0.005 oversize", inch("0.017"), inch("0.026"),
              thickness=Band(inch("0.124"), inch("0.127"))),
    WasherRow("0.010 oversize", inch("0.027"), inch("0.036"),
              thickness=Band(inch("0.129"), inch("0.132"))),
    WasherRow("replace crankshaft", low=inch("0.036"), low_itself=False),
)  # fmt: skip


@pytest.mark.parametrize(
    ("end_play", "washers", "row"),
    [
        ("0.015", ("0.122", "0.122"), "standard"),
        ("0.020", ("0.122", "0.122"), "0.005 oversize"),
        ("0.030", ("0.122", "0.121"), "0.010 oversize"),
        ("0.040", ("0.122", "0.122"), "replace crankshaft"),
        ("0.016", ("0.122", "0.122"), None),
        ("0.018", ("0.121", "0.1215"), None),
    ],
)
def test_fire_engine_thrust_washers(
    end_play: str, washers: tuple[str, str], row: str | None
) -> None:
    """TM 5-4210-233-14&P-2, p. 6-152, table c and steps 16 to 19."""
    value = thrust_gap(inch(end_play), inch("0.244"), [inch(washer) for washer in washers])
    found = choose_washer(value, ROWS, step=inch("0.001")).row
    assert (found.name if found else None) == row


def test_fire_engine_table_is_open_between_16_and_17_thousandths() -> None:
    """The same: the table leaves .016 to .017 open."""
    real = [gap for gap in find_gaps(ROWS, inch("0.001")) if gap.on_step]
    assert [(gap.low, gap.high) for gap in real] == [(inch("0.016"), inch("0.017"))]
