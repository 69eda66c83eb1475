"""What would decide a figure that is too near its limit: an instrument by name, or repeats."""

from dataclasses import replace

from kitting.job.assess import State, assess
from kitting.job.settings import Settings
from tests.builders import a_feature, q
from tests.job.benches import read
from tests.wren import tiny_family

_TINY = tiny_family()
# Worn from 1.5010 up; the shop reads bores with two gauges.
COARSE = replace(
    a_feature("worn-bore", "rod", "bore", ("1.5000", "1.5005"), ("", "1.5010")),
    instrument="bore gauge",
)
FINE = replace(COARSE, key="other-bore", instrument="air gauge")
FAMILY = replace(_TINY, features=(*_TINY.features, COARSE, FINE))


def said(figure: str, uncertainty: dict[str, str]) -> str:
    settings = Settings({name: q(value) for name, value in uncertainty.items()})
    found = assess(FAMILY, COARSE, read("worn-bore", figure), settings)
    assert found.state is State.UNDECIDED
    return found.telling[0].because().says


def test_the_shops_finer_gauge_is_named_where_it_would_decide() -> None:
    says = said("1.5009", {"bore gauge": "0.0004 in", "air gauge": "0.00005 in"})
    assert "the shop's air gauge (U 0.00005 in) does" in says
    assert "the mean of at least 16 readings" in says


def test_a_gauge_that_is_still_too_coarse_is_not_named() -> None:
    says = said("1.5009", {"bore gauge": "0.0004 in", "air gauge": "0.0003 in"})
    assert "air gauge" not in says
    assert "an instrument good to 0.0001 in" in says


def test_far_too_many_repeats_are_not_asked_for() -> None:
    says = said("1.50095", {"bore gauge": "0.0004 in"})
    assert "repeating the reading would not" in says


def test_on_the_limit_itself_only_a_finer_gauge_tells() -> None:
    says = said("1.5010", {"bore gauge": "0.0004 in", "air gauge": "0.0001 in"})
    assert "the shop's air gauge (U 0.0001 in) is finer" in says


def test_on_the_limit_with_nothing_finer_a_person_decides() -> None:
    says = said("1.5010", {"bore gauge": "0.0004 in"})
    assert "the shop has none finer for a bore" in says
    assert "'kitting decide'" in says


def test_an_instrument_for_another_kind_of_figure_is_not_offered() -> None:
    says = said("1.5009", {"bore gauge": "0.0004 in", "micrometer": "0.00001 in"})
    assert "micrometer" not in says
