"""The fingerprint of what was loaded: equal content, equal fingerprint, and nothing else."""

from dataclasses import dataclass, replace
from decimal import Decimal

import pytest

from kitting.store.fingerprint import fingerprint
from tests.builders import a_part, q
from tests.store.samples import WREN
from tests.wren import tiny_family


def test_the_same_family_made_twice_has_one_fingerprint() -> None:
    assert fingerprint(tiny_family()) == fingerprint(WREN)


def test_the_order_of_a_parts_attributes_does_not_matter() -> None:
    one = a_part("hob:W320", "nut", {"thread": "3/8 x 26", "height": "0.250 in"})
    other = a_part("hob:W320", "nut", {"height": "0.250 in", "thread": "3/8 x 26"})
    assert fingerprint(one) == fingerprint(other)


@pytest.mark.parametrize(
    "changed",
    [
        replace(WREN, summary=WREN.summary + "."),
        replace(WREN, parts=WREN.parts[::-1]),
        replace(WREN, fits=WREN.fits[1:]),
        replace(WREN, features=(replace(WREN.features[0], note="twice"), *WREN.features[1:])),
    ],
)
def test_any_change_of_content_changes_it(changed: object) -> None:
    assert fingerprint(changed) != fingerprint(WREN)


def test_a_figure_counts_as_it_is_printed() -> None:
    assert fingerprint(q("1.50 in")) == fingerprint(q("1.5 in"))
    assert fingerprint(q("1 in")) != fingerprint(q("25.4 mm"))
    assert fingerprint(Decimal("120")) == fingerprint(Decimal("1.2E+2"))


def test_a_column_added_later_does_not_make_old_content_look_new() -> None:
    @dataclass
    class Before:
        name: str

    @dataclass
    class After:
        name: str
        torque: str = ""

    assert fingerprint(Before("nut")) == fingerprint(After("nut"))
    assert fingerprint(After("nut")) != fingerprint(After("nut", "18 lbf ft"))


def test_what_has_no_exact_text_has_no_fingerprint() -> None:
    with pytest.raises(TypeError, match=r"0\.1 has no fingerprint"):
        fingerprint(0.1)


def test_where_a_rule_was_read_is_no_content() -> None:
    moved = tuple(replace(rule, line=rule.line + 7) for rule in WREN.judgements)
    assert fingerprint(replace(WREN, judgements=moved)) == fingerprint(WREN)
    said = (replace(WREN.judgements[0], because="another reason"), *WREN.judgements[1:])
    assert fingerprint(replace(WREN, judgements=said)) != fingerprint(WREN)
