"""Findings in the words of the command line."""

from datetime import date

import pytest

from kitting.errors import BadInput, NotFound
from kitting.job.findings import Fitted, Seen
from kitting.job.strip_words import finding_from_words
from tests.builders import q
from tests.wren import tiny_family

WREN = tiny_family()


def refusal(position: str, *pieces: str) -> str:
    with pytest.raises(BadInput) as caught:
        finding_from_words(WREN, position, pieces)
    return str(caught.value)


def test_readings_are_named_by_feature_station_and_direction() -> None:
    pieces = ["crankpin-diameter front 0 = 1.4930", 'Rear 90=1.4927"', "note bruised by the key"]
    finding, warnings = finding_from_words(WREN, "crank", pieces, who="Ann", when=date(2024, 5, 1))
    assert [(r.station, r.direction, r.value) for r in finding.readings] == [
        ("front", "0", q("1.4930 in")),
        ("rear", "90", q("1.4927 in")),
    ]
    assert (finding.note, finding.who, finding.when) == (
        "bruised by the key", "Ann", date(2024, 5, 1),
    )  # fmt: skip
    assert warnings == ()


def test_observations_parts_and_soundness_are_said() -> None:
    shells, _ = finding_from_words(
        WREN, "shells", ["seen scoring=fingernail catches 2 thou", "fitted w-110"]
    )
    assert shells.seen == (Seen("scoring", "fingernail catches", q("0.002 in")),)
    assert shells.fitted == Fitted("W110")
    nuts, _ = finding_from_words(WREN, "barrel-nuts", ["fitted height=0.31", "sound"])
    assert nuts.fitted == Fitted(attributes={"height": "0.31 in"})
    assert nuts.sound


def test_a_number_that_the_catalogue_has_not_is_kept_and_doubted() -> None:
    finding, warnings = finding_from_words(WREN, "shells", ["fitted W118"])
    assert finding.fitted == Fitted("W118")
    assert "near it: W1" in warnings[0]


@pytest.mark.parametrize(
    ("position", "piece", "said"),
    [
        ("crank", "front 0 = ok", "'ok' is not a figure"),
        ("crank", "front 0 = 14.93", "ten times off?"),
        ("crank", "frnt 0 = 1.493", "no place to measure 'frnt 0'; did you mean front 0"),
        ("rod", "front 0 = 1.493", "nothing is measured at rod"),
        ("shells", "seen scoring=dep", "did you mean 'deep'?"),
        ("shells", "seen scoring=deeper", "'deeper' is no grade of scoring"),
        ("shells", "seen scoring", "no grade is given; such as 'seen scoring=deep'"),
        ("shells", "seen scorng=deep", "no observation 'scorng'; did you mean scoring?"),
        ("crank", "seen scoring=deep", "'scoring' is not looked for on crank"),
        ("shells", "fitted ?", "'?' is no part number"),
        ("barrel-nuts", "fitted hight=0.31", "did you mean height?"),
        ("barrel-nuts", "fitted height=0.31 psi", "a length belongs here"),
        ("barrel-nuts", "fitted height=0.31; height=0.32", "'height' stands twice"),
        ("shells", "looks fine", "nothing is said by it; write one of:"),
    ],
)
def test_what_cannot_be_taken_says_what_would_be_right(
    position: str, piece: str, said: str
) -> None:
    refused = refusal(position, piece)
    assert refused.startswith(f"'{piece}': ")
    assert said in refused


def test_all_wrong_pieces_come_in_one_go() -> None:
    assert len(refusal("crank", "front 0 = ok", "front 90 = -", "blah", "sound").splitlines()) == 3


def test_an_unknown_position_and_silence_are_refused() -> None:
    with pytest.raises(NotFound, match="no position 'crnk'; did you mean crank"):
        finding_from_words(WREN, "crnk", ["sound"])
    assert "nothing is said of it" in refusal("crank")


def test_sound_and_damaged_at_once_is_refused() -> None:
    assert "sound and damaged at once" in refusal("shells", "sound", "seen scoring=deep")
