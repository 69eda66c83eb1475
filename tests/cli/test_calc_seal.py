"""`kitting calc seal`."""

import pytest

from tests.cli.calc_runs import answered, refused, shown


def test_a_wrong_seal_is_named_by_its_dimension() -> None:
    found = answered("seal", {"seal": "30x52x7", "against": "30x47x7"})
    assert found["same"] is False
    assert [(one["what"], one["size"]) for one in found["differs"]] == [
        ("shaft", "the same"),
        ("housing", "larger"),
        ("width", "the same"),
    ]
    assert found["shaft_limits"] == "29.870 to 30.000"


def test_an_o_ring_by_number_and_by_size() -> None:
    found = answered("seal", {"o_ring": "25 x 3.5 mm", "against": "214"})
    assert found["same"] is True
    assert found["nearest"][0]["name"] == "214 (24.99 × 3.53 mm)"


def test_the_sheets() -> None:
    assert "housing larger by 5.000 mm" in shown(
        "seal", "--seal", "30x52x7", "--against", "30x47x7"
    )
    assert "same size, confirm" in shown("seal", "--o-ring", "214", "--against", "25 x 3.5")


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ({"seal": "hello"}, "seal: 'hello' is not three sizes"),
        ({"seal": "47x30x7"}, "does not go round"),
        ({"seal": "30x47x7", "against": "30x47"}, "against: '30x47'"),
        ({"o_ring": "300"}, "did you mean 309"),
        ({"seal": "30x47x7", "o_ring": "214"}, "one part is needed"),
        ({}, "one part is needed"),
    ],
)
def test_a_seal_that_is_none_is_refused(given: object, sentence: str) -> None:
    assert sentence in refused("seal", given)
