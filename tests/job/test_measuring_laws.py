"""What units and uncertainty may never do to a verdict, in the job as in the sums."""

from hypothesis import given
from hypothesis import strategies as st

from kitting.job.assess import Assessment, State, assess
from kitting.job.findings import Reading
from kitting.job.settings import Settings
from tests.builders import a_feature, q
from tests.wren import tiny_family

FAMILY = tiny_family()
# A new spindle is .5000 to .5005, and worn out below .4985.
SPINDLE = a_feature("spindle", "oil-pump", "diameter", ("0.5000", "0.5005"), ("0.4985", ""))
TENTHS = st.integers(4975, 5015).map(lambda n: f"{n / 10000:.4f} in")
DOUBT = st.integers(0, 30).map(lambda n: f"{n / 20000:.5f} in")


def judged(text: str, uncertainty: str, unit: str = "in") -> Assessment:
    reading = Reading("spindle", "", "", text, q(text).to(unit), uncertainty=q(uncertainty))
    return assess(FAMILY, SPINDLE, (reading,), Settings({}))


@given(text=TENTHS, uncertainty=DOUBT, unit=st.sampled_from(("mm", "thou", "µm")))
def test_converting_units_never_changes_a_verdict(text: str, uncertainty: str, unit: str) -> None:
    assert judged(text, uncertainty, unit).state is judged(text, uncertainty).state
    assert judged(text, uncertainty, unit).verdict is judged(text, uncertainty).verdict


@given(text=TENTHS, doubts=st.tuples(DOUBT, DOUBT))
def test_more_uncertainty_never_turns_bad_into_good(text: str, doubts: tuple[str, str]) -> None:
    less, more = sorted(doubts, key=q)
    before, after = judged(text, less).state, judged(text, more).state
    assert after in {before, State.UNDECIDED}


@given(text=TENTHS, uncertainty=DOUBT)
def test_what_is_undecided_always_says_what_would_decide_it(text: str, uncertainty: str) -> None:
    found = judged(text, uncertainty)
    if found.state is State.UNDECIDED:
        says = found.telling[0].because().says
        assert any(word in says for word in ("would decide", "finer"))
