"""Thrust washers chosen by the float: by the family's own rows, gaps never guessed at."""

from dataclasses import replace
from datetime import date

import pytest

from kitting.catalog.family import Family
from kitting.catalog.rules import Then, When
from kitting.job.findings import Finding
from kitting.job.path import JobPath, walk
from kitting.job.thrust_washers import ThrustWasher
from tests.builders import a_consequence, a_feature, a_fit, a_part, a_position, an_offer
from tests.job.benches import a_bench, a_finding
from tests.job.fitting_bench import one, sizes
from tests.wren import tiny_family, tiny_trade

# As TM 5-4210-233-14&P-2, p. 6-152, has it: the rows leave .016 to .017 open.
ROWS = {
    "hob:T0": ("0.1205 in", "up to 0.016 in"),
    "hob:T5": ("0.1255 in", "0.017 to 0.026 in"),
    "hob:T10": ("0.1305 in", "0.027 to 0.036 in"),
}


def family_with(rows: dict[str, tuple[str, str]] = ROWS) -> Family:
    family = tiny_family()
    parts = tuple(
        a_part(number, "thrust washer", {"thickness": thick, "for float": serves})
        for number, (thick, serves) in rows.items()
    )
    return replace(
        family,
        positions=(*family.positions, a_position("washer", "bottom-end", "thrust washer")),
        features=(
            *family.features,
            a_feature("play", "washer", "end float", ("0.002", "0.009")),
            a_feature("washer-in", "washer", "thickness", goes_with="play"),
        ),
        consequences=(
            *family.consequences,
            a_consequence("apart", When.STRIPPED, "assembly:bottom-end", Then.RENEW, "washer"),
        ),
        parts=(*family.parts, *parts),
        fits=(*family.fits, *(a_fit("washer", number) for number in rows)),
    )


def washer(play: str = "", in_place: str = "", family: Family | None = None) -> ThrustWasher:
    return sizes(*found(play, in_place), family=family or family_with()).washers[0]


def found(play: str, in_place: str = "") -> tuple[Finding, ...]:
    readings = (
        *((one("play", play),) if play else ()),
        *((one("washer-in", in_place),) if in_place else ()),
    )
    return (a_finding("washer", *readings),) if readings else ()


@pytest.mark.parametrize(
    ("play", "part"), [("0.008", "T0"), ("0.016", "T0"), ("0.020", "T5"), ("0.036", "T10")]
)
def test_the_row_of_the_float_names_the_washer(play: str, part: str) -> None:
    chosen = washer(play).part
    assert chosen is not None
    assert chosen.number == part


@pytest.mark.parametrize("play", ["0.0165", "0.040"])
def test_a_float_that_no_row_answers_for_gets_no_washer(play: str) -> None:
    open_one = washer(play)
    assert open_one.part is None
    assert "table" in open_one.because.says


def test_a_worn_washer_is_taken_out_of_the_float() -> None:
    """.024 on a washer of .1155 is .019 on a standard one of .1205."""
    chosen = washer("0.024", "0.1155")
    assert chosen.value == one("play", "0.019").value
    assert chosen.part is not None
    assert chosen.part.number == "T5"


def test_near_the_edge_of_a_row_what_else_it_could_be_is_named() -> None:
    """Read to ± .0001, .01605 may be a .016."""
    assert "within U it could be hob:T0" in washer("0.01605").because.says


def test_a_range_that_is_none_is_said_and_nothing_is_chosen() -> None:
    bad = washer("0.008", family=family_with(ROWS | {"hob:T5": ("0.1255 in", "about so much")}))
    assert bad.part is None
    assert "is no range of float" in bad.because.says


def a_path(*findings: Finding) -> JobPath:
    trade = tiny_trade()
    # The wrong washers are far cheaper.
    offers = tuple(
        an_offer("ashby", number, price)
        for number, price in zip(ROWS, ("1.00", "9.00", "1.10"), strict=True)
    )
    wider = replace(trade, offers=(*trade.offers, *offers))
    return walk(family_with(), wider, a_bench(*findings), date(2024, 5, 2))


def test_the_kit_buys_the_washer_that_the_float_chose_not_the_cheapest() -> None:
    path = a_path(*found("0.020"))
    line = next(line for line in path.kit.lines if "washer" in line.positions)
    assert str(line.part) == "hob:T5"
    assert line.serves == {line.part}


def test_with_no_float_measured_the_job_is_not_ready() -> None:
    path = a_path()
    assert any(
        "which washer follows from the end float" in point.because.says
        for point in path.kit.readiness.points
    )
