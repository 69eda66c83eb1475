"""`calc regrind` and `calc crank`: the JSON that others rely on."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings

from kitting.engineering.regrind import RegrindRequest
from tests.cli.calc_runner import answer, refused, run
from tests.engineering.regrind_cases import requests, work_again

LOADER: dict[str, Any] = {
    "unit": "in",
    "grades": [
        {"name": "standard", "finish_min": "2.7480", "finish_max": "2.7490"},
        {"name": "0.010 undersize", "finish_min": "2.7380", "finish_max": "2.7390"},
        {"name": "0.020 undersize", "finish_min": "2.7280", "finish_max": "2.7290"},
    ],
    "present": "standard",
    "readings": [
        {"station": "A", "direction": "0", "value": "2.7461"},
        {"station": "A", "direction": "90", "value": "2.7464"},
        {"station": "B", "direction": "0", "value": "2.7463"},
    ],
    "score_depth": "0",
    "stock": "0.0005",
    "uncertainty": "0.0001",
    "limits": {"ovality": "0.0005", "taper": "0.0005", "wear_min": "2.7460"},
    "half_steps": [{"name": "0.002 undersize", "for_grade": "standard", "takes_up": "0.002"}],
}


def changed(**changes: object) -> dict[str, Any]:
    return LOADER | changes


def test_the_answer_has_every_figure_of_the_agreed_shape() -> None:
    found = answer("regrind", given=LOADER)
    assert found["needed"] is False
    assert found["reasons"] == []
    assert (found["least"], found["greatest"]) == ("2.7461", "2.7464")
    assert (found["ovality"], found["taper"]) == ("0.0003", "0.0002")
    assert found["clean_up"] == {"even": "2.7455", "one_sided": "2.7436"}
    assert found["likely"] == found["worst"] == {"grade": "0.010 undersize"}
    assert found["not_ground"] == {"shell": "0.002 undersize"}
    assert [(row["name"], row["cleans_up"]) for row in found["grades"]] == [
        ("standard", "no"),
        ("0.010 undersize", "one_sided"),
        ("0.020 undersize", "one_sided"),
    ]
    assert all(row["because"] for row in found["grades"])


def test_a_scored_journal_may_clean_up_at_no_grade() -> None:
    found = answer("regrind", given=changed(score_depth="0.010"))
    assert found["needed"] is True
    assert found["likely"] is None
    assert found["worst"] is None
    assert found["not_ground"] is None


def test_an_array_of_inputs_gives_an_array_of_results_in_order() -> None:
    found = answer("regrind", given=[LOADER, changed(score_depth="0.003"), LOADER])
    assert [one["needed"] for one in found] == [False, True, False]
    assert answer("regrind", given=[]) == []


def test_the_present_grade_may_be_left_out() -> None:
    without = {key: value for key, value in LOADER.items() if key != "present"}
    assert answer("regrind", given=without)["present"] == "standard"


def test_numbers_keep_the_digits_that_were_typed() -> None:
    readings = [
        {"station": "A", "direction": 0, "value": 2.7461},
        {"station": "A", "direction": 90, "value": 2.74640000},
    ]
    found = answer("regrind", given=changed(readings=readings, stock=0.0005))
    assert found["least"] == "2.7461"
    assert found["clean_up"]["even"] == "2.7455"


def test_lengths_may_carry_their_own_unit_and_the_answer_keeps_to_one() -> None:
    found = answer(
        "regrind", given=changed(uncertainty="0.1 thou", score_depth="25.4 µm", stock="0.0127 mm")
    )
    assert found["clean_up"]["even"] == "2.7435"
    assert found["unit"] == "in"


def in_json(request: RegrindRequest) -> dict[str, Any]:
    def bare(amount: Any) -> str | None:
        return None if amount is None else str(amount.value_in("in"))

    return {
        "unit": "in",
        "grades": [
            {"name": g.name, "finish_min": bare(g.finish_min), "finish_max": bare(g.finish_max)}
            for g in request.grades
        ],
        "present": request.present,
        "readings": [
            {"station": r.station, "direction": r.direction, "value": bare(r.value)}
            for r in request.readings
        ],
        "score_depth": bare(request.score_depth),
        "stock": bare(request.stock),
        "uncertainty": bare(request.uncertainty),
        "limits": {
            "ovality": bare(request.limits.ovality),
            "taper": bare(request.limits.taper),
            "wear_min": bare(request.limits.wear_min),
        },
        "half_steps": [
            {"name": h.name, "for_grade": h.for_grade, "takes_up": bare(h.takes_up)}
            for h in request.half_steps
        ],
    }


@settings(max_examples=40, deadline=None)
@given(requests())
def test_the_door_agrees_with_a_second_working(request: RegrindRequest) -> None:
    found, again = answer("regrind", given=in_json(request)), work_again(request)
    assert found["needed"] == again.needed
    assert Decimal(found["clean_up"]["even"]) * Decimal("25.4") == again.even
    assert Decimal(found["clean_up"]["one_sided"]) * Decimal("25.4") == again.one_sided
    for key, field, name in (
        ("likely", "grade", again.likely),
        ("worst", "grade", again.worst),
        ("not_ground", "shell", again.not_ground),
    ):
        assert found[key] == (None if name is None else {field: name})


def test_options_do_what_the_json_does() -> None:
    by_options = answer(
        "regrind",
        *("--unit", "in", "--present", "standard", "--stock", "0.0005", "--uncertainty", "0.0001"),
        *("--grade", "standard,2.7480,2.7490", "--grade", "0.010 undersize,2.7380,2.7390"),
        *("--grade", "0.020 undersize,2.7280,2.7290", "--ovality", "0.0005", "--taper", "0.0005"),
        *("--reading", "A,0,2.7461", "--reading", "A,90,2.7464", "--reading", "B,0,2.7463"),
        *("--wear-min", "2.7460", "--half-step", "0.002 undersize,standard,0.002"),
    )
    assert by_options == answer("regrind", given=LOADER)


def test_the_sheet_fits_eighty_columns_and_says_what_to_do() -> None:
    result = run("regrind", given=changed(score_depth="0.003"))
    assert result.exit_code == 0
    assert max(len(line) for line in result.stdout.splitlines()) <= 80
    assert "Must it be ground?    yes" in result.stdout
    assert "scoring: scored 0.0030 in deep" in result.stdout
    assert "Crack-test what rotates" in result.stdout


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"readings": LOADER["readings"][:1]}, "one reading only"),
        (
            {"readings": [{"station": "A", "direction": "0", "value": "-2.7461"}] * 2},
            "without a minus sign",
        ),
        (
            {
                "readings": [
                    *LOADER["readings"],
                    {"station": "B", "direction": "90", "value": "69.75"},
                ]
            },
            "station B, direction 90: 69.7500 in stands far from the other readings",
        ),
        (
            {"grades": [{"name": "standard", "finish_min": "2.749", "finish_max": "2.748"}]},
            "grades, grade 'standard': its limits 2.7490 in to 2.7480 in are the wrong way round",
        ),
        ({"grades": [LOADER["grades"][0]] * 2}, "'standard' is there twice"),
        ({"grades": [LOADER["grades"][0], LOADER["grades"][2], LOADER["grades"][1]]}, "step"),
        ({"grades": []}, "the table is empty"),
        ({"present": "standerd"}, "did you mean standard"),
        ({"stock": "-0.0005"}, "stock: -0.0005 in is below zero"),
        ({"stock": "half a thou"}, "stock: 'half a thou' is not a figure"),
        ({"stock": None}, "stock: this is not a figure"),
        ({"stock": "2 lbf"}, "stock: '2 lbf' is a force"),
        ({"scoredepth": "0"}, "did you mean score_depth?"),
        ({"unit": "furlong"}, "'furlong' is no unit known here"),
        ({"unit": "N"}, "'N' is a force"),
        ({"unit": None}, "has no unit"),
        ({"readings": "2.7461"}, "readings: this is not a list"),
    ],
)
def test_bad_input_is_refused_in_a_sentence(changes: dict[str, Any], said: str) -> None:
    assert said in refused("regrind", given=changed(**changes))


def test_all_that_is_wrong_comes_in_one_go_with_its_place() -> None:
    said = refused(
        "regrind",
        given=[LOADER, changed(stock="x", readings=[{"station": "A", "value": "2.7"}])],
    )
    assert "input 2, stock: 'x' is not a figure" in said
    assert "input 2, readings, number 1, direction: it is missing; give it" in said


def test_a_shaft_past_the_last_grade_gets_an_answer_that_says_so() -> None:
    worn = [
        {"station": "A", "direction": "0", "value": "2.7200"},
        {"station": "A", "direction": "90", "value": "2.7190"},
    ]
    without = {key: value for key, value in LOADER.items() if key != "present"}
    found = answer("regrind", given=without | {"readings": worn})
    assert found["present"] == "0.020 undersize"
    assert found["likely"] is None
    assert "another crank" in found["advice"][0]


CRANK: dict[str, Any] = {
    "unit": "in",
    "grades": LOADER["grades"],
    "journals": [
        {"name": "left", "readings": LOADER["readings"]},
        {"name": "right", "readings": LOADER["readings"], "score_depth": "0.004"},
    ],
    "limits": {"wear_min": "2.7460"},
}


def test_a_crank_takes_the_deepest_grade_of_its_journals() -> None:
    found = answer("crank", given=CRANK)
    assert found["needed"] is True
    assert found["likely"] == {"grade": "0.020 undersize"}
    assert found["likely_set_by"] == ["right"]
    assert [one["choice"]["needed"] for one in found["journals"]] == [False, True]
    sheet = run("crank", given=CRANK).stdout
    assert "one ground means all ground" in " ".join(sheet.split())


def test_a_crank_by_options() -> None:
    found = answer(
        "crank",
        *("--unit", "in", "--grade", "standard,2.748,2.749", "--grade", ".010,2.738,2.739"),
        *("--reading", "left,A,0,2.7485", "--reading", "left,A,90,2.7484"),
        *("--reading", "right,A,0,2.7465", "--reading", "right,A,90,2.7464"),
        *("--wear-min", "2.747"),
    )
    assert [one["name"] for one in found["journals"]] == ["left", "right"]
    assert found["likely"] == {"grade": ".010"}


def test_an_option_with_a_part_missing_is_refused() -> None:
    assert "'left,A,2.7485' has 3 parts, not 4" in refused("crank", "--reading", "left,A,2.7485")
