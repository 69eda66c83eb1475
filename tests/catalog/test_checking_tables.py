"""A size table must close: what a printed slip breaks is named at its row."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.catalog.check import check_family
from kitting.catalog.check_notes import CheckReport
from kitting.catalog.size_tables import Grade, SizeKind, SizeTable
from kitting.measure import Quantity
from tests.builders import a_feature, a_grade, a_table, q
from tests.wren import tiny_family

_PRINTED = ("finish", "wall", "lined", "clearance")


def checked(table: SizeTable) -> CheckReport:
    family = tiny_family()
    others = tuple(each for each in family.size_tables if each.key != table.key)
    return check_family(replace(family, size_tables=(*others, table)), {})


def crankpin(**changes: Grade) -> SizeTable:
    """The Wren's crankpin table with some grades changed, by key with _ for the dash."""
    table = tiny_family().table_by_key["crankpin"]
    by_key = {key.replace("_", "-"): grade for key, grade in changes.items()}
    return replace(table, grades=tuple(by_key.get(g.key, g) for g in table.grades))


def grade(key: str) -> Grade:
    return tiny_family().table_by_key["crankpin"].grade(key)


def faults(report: CheckReport) -> list[str]:
    return [str(problem) for problem in report.faults]


def test_the_wren_passes_without_a_word() -> None:
    assert check_family(tiny_family(), {}) == CheckReport((), ())


def test_a_wall_that_grows_by_the_full_step_is_caught() -> None:
    report = checked(
        crankpin(_010=replace(grade("-010"), wall_low=q("0.0720"), wall_high=q("0.0725")))
    )
    assert (
        "grades crankpin/-010, column wall_low: the wall grows by 0.0100 in, the full step, there "
        "being a wall on either side; 0.0670 in to 0.0675 in would be half the step"
    ) in faults(report)


@pytest.mark.parametrize(
    ("key", "change", "said"),
    [
        ("-010", {"finish_low": "1.4790", "finish_high": "1.4795"}, "is not standard and the step"),
        ("-010", {"finish_low": "1.4895", "finish_high": "1.4890"}, "the wrong way round"),
        ("-010", {"finish_high": None}, "one limit of finish alone"),
        ("-010", {"finish_low": None, "finish_high": None}, "the finished size is missing"),
        ("-020", {"finish_low": "1.4990", "finish_high": "1.4995"}, "is not smaller than 1.4890"),
        ("-020", {"step": "0.010"}, "is not beyond 0.0100 in of '-010'"),
        ("-010", {"worn": "1.4892"}, "is above the least finished size 1.4890 in"),
        ("-010", {"lined_low": "1.4910"}, "is not the housing less two walls; 1.4900 in to 1.4915"),
        ("-010", {"clearance_high": "0.0052"}, "is not the lined bore less the journal; 0.0005 in"),
        ("std", {"finish_high": "1.5005"}, "does not go into the least lined bore: -0.0005 in"),
        ("-002", {"wall_low": "0.0640", "wall_high": "0.0645"}, "the full step"),
        ("-002", {"takes_up": None}, "it takes up no wear"),
        ("-010", {"takes_up": "0.002"}, "only a half step takes up wear"),
        ("std", {"step": "0.001"}, "there is no standard grade in crankpin"),
    ],
)  # fmt: skip
def test_a_printed_slip_in_a_row_is_named(
    key: str, change: dict[str, str | None], said: str
) -> None:
    amounts: dict[str, Quantity | None] = {
        name: None if text is None else q(text) for name, text in change.items()
    }
    slipped = _with(grade(key), amounts)
    table = crankpin(**{key.replace("-", "_"): slipped})
    assert any(said in fault for fault in faults(checked(table))), faults(checked(table))


def _with(row: Grade, amounts: dict[str, Quantity | None]) -> Grade:
    fields = {name: getattr(row, name) for name in Grade.__slots__}
    return Grade(**{**fields, **amounts})


def test_a_half_step_of_no_grade_is_caught() -> None:
    report = checked(crankpin(_002=replace(grade("-002"), half_step_of="-003")))
    assert any("there is no machined grade of crankpin '-003'" in fault for fault in faults(report))


def test_a_makers_own_band_is_allowed_where_the_clearance_still_closes() -> None:
    own = replace(
        grade("-010"),
        finish_low=q("1.4885"), finish_high=q("1.4890"), worn=q("1.4875"),
        clearance_low=q("0.0010"), clearance_high=q("0.0030"),
    )  # fmt: skip
    assert checked(crankpin(_010=own)) == CheckReport((), ())


def test_a_makers_own_band_that_nothing_proves_is_a_question_and_a_wild_one_a_fault() -> None:
    def pins(finish: tuple[str, str]) -> CheckReport:
        return checked(
            a_table(
                "crankpin",
                SizeKind.SHAFT,
                (
                    a_grade("crankpin", "std", 0, "0", ("2.4988", "2.4996")),
                    a_grade("crankpin", "-010", 1, "0.010", finish),
                    a_grade("crankpin", "-020", 2, "0.020", ("2.4788", "2.4796")),
                ),
                operation="regrind",
            )
        )

    own = pins(("2.4886", "2.4894"))
    assert not [f for f in faults(own) if "finish" in f]
    assert any("is it the maker's own band?" in str(w) for w in own.warnings)
    assert any("is not standard and the step" in f for f in faults(pins(("2.4858", "2.4866"))))


def test_without_a_housing_the_lined_bore_and_two_walls_make_the_same_one_at_every_grade() -> None:
    free = replace(crankpin(), housing_low=None, housing_high=None)
    assert checked(free) == CheckReport((), ())
    lined = replace(
        grade("-010"), lined_low=q("1.4910"), lined_high=q("1.4925"),
        clearance_low=q("0.0015"), clearance_high=q("0.0035"),
    )  # fmt: skip
    slipped = replace(free, grades=tuple(lined if g.key == "-010" else g for g in free.grades))
    assert any("make a housing of 1.6260 in" in fault for fault in faults(checked(slipped)))


def test_a_bore_steps_up_and_wears_larger() -> None:
    table = tiny_family().table_by_key["bore"]
    first, second, third = table.grades
    worn = replace(table, grades=(first, replace(second, worn=q("2.5205")), third))
    assert any("below the greatest finished size 2.5210" in f for f in faults(checked(worn)))
    swapped = replace(
        table, grades=(first, replace(third, sequence=1), replace(second, sequence=2))
    )
    assert any("is not larger than 2.5400 in" in f for f in faults(checked(swapped)))


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(["std", "-010", "-020"]),
    st.sampled_from([f"{what}_{end}" for what in _PRINTED for end in ("low", "high")]),
    st.integers(-30, 30).filter(bool),
)
def test_no_figure_of_a_closed_row_can_change_unseen(key: str, name: str, tenths: int) -> None:
    row = grade(key)
    amounts = {name: getattr(row, name) + Quantity.of(Decimal(tenths) / 10, "thou")}
    report = checked(crankpin(**{key.replace("-", "_"): _with(row, {**amounts})}))
    assert report.faults


def test_a_limit_of_form_a_decimal_place_off_its_neighbours_is_caught() -> None:
    family = tiny_family()
    pins = tuple(
        a_feature(
            f"pin-{side}", "crank", "diameter", form=(ovality, "0.0005"), size_table="crankpin",
            stations=("front", "rear"), directions=("0", "90"),
        )
        for side, ovality in (("left", "0.0005"), ("middle", "0.0005"), ("right", "0.005"))
    )  # fmt: skip
    report = check_family(replace(family, features=(*family.features, *pins)), {})
    assert faults(report) == [
        "features pin-right, column ovality: ovality 0.0050 in where its neighbours have "
        "0.0005 in: a decimal place off; look at the printed figure"
    ]


@pytest.mark.parametrize(
    ("limits", "wear", "said"),
    [
        (("0.003", "0.001"), ("", ""), "the limits 0.0030 in to 0.0010 in are the wrong way round"),
        (("0.001", "0.003"), ("", "0.002"), "the limit of use 0.0020 in is below the limit when"),
        (("0.002", "0.003"), ("0.0025", ""), "the limit of use 0.0025 in is above the limit when"),
    ],
)
def test_limits_that_cannot_be_are_caught(
    limits: tuple[str, str], wear: tuple[str, str], said: str
) -> None:
    family = tiny_family()
    feature = a_feature("float", "oil-pump", "end float", limits, wear)
    report = check_family(replace(family, features=(*family.features, feature)), {})
    assert any(said in fault for fault in faults(report))
