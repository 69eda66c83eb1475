"""A fitted spring judged whole: tired, another, or the right one."""

from dataclasses import replace

from kitting.catalog.family import Family
from kitting.catalog.model import Verdict
from kitting.job.findings import Fitted
from kitting.job.settings import Settings
from kitting.job.verdicts import PositionVerdict, judge
from tests.builders import a_feature, a_part, q
from tests.job.benches import a_bench, a_finding, read
from tests.wren import tiny_family

SETTINGS = Settings({"micrometer": q("0.001 in"), "micrometer stiffness": q("0.2 lbf/in")})
_TINY = tiny_family()
FAMILY = replace(
    _TINY,
    features=(
        *_TINY.features,
        a_feature("spring-length", "relief-spring", "length", ("1.600", "1.620"), ("1.580", "")),
    ),
    parts=(*_TINY.parts, a_part("hob:W299", "spring", {"rate": "33.5 lbf/in"})),
)


def verdict(
    length: str = "", rate: str = "", family: Family = FAMILY, fitted: Fitted | None = None
) -> PositionVerdict:
    readings = (
        *(read("spring-length", length) if length else ()),
        *(read("spring-rate", rate, unit="lbf/in") if rate else ()),
    )
    finding = a_finding("relief-spring", *readings, fitted=fitted)
    return judge(family, a_bench(finding), SETTINGS).by_position["relief-spring"]


def says(found: PositionVerdict) -> str:
    return " ".join(str(reason) for reason in found.because)


def test_a_short_spring_of_the_right_rate_is_tired() -> None:
    found = verdict("1.570", "22")
    assert found.verdict is Verdict.RENEW
    assert "is tired" in says(found)
    assert "taken a set" in says(found)


def test_a_spring_of_another_rate_is_another_and_the_family_is_searched_for_it() -> None:
    found = verdict("1.610", "33.0")
    assert found.verdict is Verdict.WRONG_PART
    assert "by its rate it may be spring W299 (hob:W299)" in says(found)


def test_no_spring_grows_with_wear() -> None:
    found = verdict("1.650", "22")
    assert found.verdict is Verdict.WRONG_PART
    assert "no spring grows with wear" in says(found)


def test_a_tension_spring_that_has_stretched_is_worn_and_not_another() -> None:
    length = a_feature(
        "spring-length", "relief-spring", "length", ("1.600", "1.620"), ("", "1.640")
    )
    family = replace(
        FAMILY, features=(*(f for f in FAMILY.features if f.key != "spring-length"), length)
    )
    assert verdict("1.650", "22", family).verdict is Verdict.RENEW


def test_the_right_spring_goes_back() -> None:
    assert verdict("1.610", "22").verdict is Verdict.REUSE


def test_coils_counted_tell_another_spring() -> None:
    parts = tuple(
        replace(part, attributes={**part.attributes, "total coils": "9"})
        if part.kind == "spring"
        else part
        for part in FAMILY.parts
    )
    family = replace(FAMILY, parts=parts)
    fitted = Fitted(attributes={"total coils": "8"})
    assert "8 coils counted" in says(verdict("1.610", "22", family, fitted))
