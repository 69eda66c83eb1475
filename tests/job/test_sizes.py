from collections.abc import Callable
from dataclasses import replace

from kitting.catalog.family import Family
from kitting.catalog.model import Verdict
from kitting.catalog.size_tables import Grade, SizeTable
from kitting.job.consequences import follow
from kitting.job.findings import Finding, SizeDecision
from kitting.job.settings import Settings
from kitting.job.sizes import Basis, SizeChoice, choose_sizes
from kitting.job.verdicts import judge
from tests.builders import a_feature, q
from tests.job.benches import DAY, a_bench, a_finding, read
from tests.wren import tiny_family

FAMILY = tiny_family()
SETTINGS = Settings({"micrometer": q("0.0001 in"), "bore gauge": q("0.0002 in")})


def anything(_table: SizeTable, _grade: Grade) -> bool:
    return True


def size_of(
    table: str,
    *findings: Finding,
    obtainable: Callable[[SizeTable, Grade], bool] = anything,
    family: Family = FAMILY,
) -> SizeChoice:
    verdicts = judge(family, a_bench(*findings), SETTINGS)
    demands = follow(family, verdicts)
    sizes = choose_sizes(family, verdicts, demands, SETTINGS, obtainable)
    return sizes.by_table[table]


def key(grade: Grade | None) -> str:
    return grade.key if grade else ""


def pin(*texts: str) -> Finding:
    return a_finding("crank", *read("crankpin-diameter", *texts))


def test_an_oval_pin_goes_to_the_largest_grade_that_cleans_up_in_each_case() -> None:
    """Least 1.4925, stock .001, U .0001: even 1.4914 does for 0.010; one-sided 1.4847 for 0.020."""
    choice = size_of("crankpin", pin("1.4992", "1.4925", "1.4991", "1.4990"))
    assert choice.basis is Basis.MACHINED
    assert (key(choice.likely), key(choice.worst)) == ("-010", "-020")
    assert choice.hold
    assert "1.4914 in evenly worn" in " ".join(b.says for b in choice.because)


def test_a_pin_that_cleans_up_either_way_is_not_held() -> None:
    choice = size_of("crankpin", pin("1.4992", "1.4979", "1.4991", "1.4990"))
    assert choice.likely == choice.worst
    assert not choice.hold


def test_a_grade_without_shells_is_no_choice() -> None:
    choice = size_of(
        "crankpin",
        pin("1.4992", "1.4979", "1.4991", "1.4990"),
        obtainable=lambda _table, grade: grade.key != "-010",
    )
    assert key(choice.likely) == "-020"


def test_a_pin_past_the_last_grade_says_reclaim_and_keeps_the_job_open() -> None:
    choice = size_of("crankpin", pin("1.4992", "1.4700", "1.4991", "1.4990"))
    assert choice.likely is None
    assert any("built up" in reason.says for reason in choice.unsettled)


def test_a_pin_worn_a_little_takes_half_step_shells_and_is_not_ground() -> None:
    scored = a_finding("shells", seen=(("scoring", "deep"),))
    choice = size_of("crankpin", pin("1.4986", "1.4985", "1.4985", "1.4986"), scored)
    assert choice.basis is Basis.AS_IT_IS
    assert key(choice.parts_likely) == "-002"


def test_a_pin_as_new_keeps_the_shells_of_its_grade() -> None:
    scored = a_finding("shells", seen=(("scoring", "deep"),))
    choice = size_of("crankpin", pin("1.4992", "1.4991", "1.4992", "1.4991"), scored)
    assert key(choice.parts_likely) == "std"


def test_shells_cannot_be_sized_before_the_crank_is_measured() -> None:
    choice = size_of("crankpin", a_finding("shells", seen=(("scoring", "deep"),)))
    assert choice.basis is Basis.NOT_MEASURED
    assert "crankpin diameter" in choice.unsettled[0].says


def test_a_bore_rusted_past_the_first_oversize_goes_to_the_next() -> None:
    family = replace(
        FAMILY,
        features=(
            *FAMILY.features,
            replace(
                a_feature(
                    "bore-pits",
                    "barrel",
                    "depth",
                    wear=("", "0.001"),
                    if_out=Verdict.REWORK,
                    operation="rebore",
                ),
                scores="barrel-bore",
            ),
        ),
    )
    pits = read("bore-pits", "0.009")
    bore = read("barrel-bore", "2.5030", "2.5028", "2.5012", "2.5008")
    choice = size_of("bore", a_finding("barrel", *bore, *pits), family=family)
    assert key(choice.likely) == "+040"


def test_a_named_persons_size_stands_and_the_sum_is_kept_among_its_reasons() -> None:
    """The grinder clocked the crank: the hold is over."""
    finding = pin("1.4992", "1.4925", "1.4991", "1.4990")
    decided = SizeDecision("crankpin", "-020", "K. Grinder", "clocked: all on one side", DAY)
    bench = replace(a_bench(finding), size_decisions=(decided,))
    verdicts = judge(FAMILY, bench, SETTINGS)
    demands = follow(FAMILY, verdicts)
    choice = choose_sizes(FAMILY, verdicts, demands, SETTINGS, anything).by_table["crankpin"]
    assert (key(choice.likely), key(choice.worst), choice.hold) == ("-020", "-020", False)
    steps = [step.says for reason in choice.because for _, step in reason.steps()]
    assert "K. Grinder" in steps[0]
    assert any("1.4914 in evenly worn" in says for says in steps)
