"""A family written out and read back is the same family."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.catalog.family import Family
from kitting.catalog.files import read_family
from kitting.catalog.model import Fit, Link, LinkKind, Part, PartNumber, SetItem, Variant
from kitting.catalog.rules import Labour, Observation, Target
from kitting.catalog.writing import quantity_text, write_family
from kitting.errors import BadInput
from kitting.measure import UNITS, Quantity, parse_quantity
from tests.builders import a_feature, a_part, q
from tests.wren import tiny_family

_KEYS = st.from_regex(r"[a-z0-9]+(-[a-z0-9]+){0,2}", fullmatch=True)
_MARKS = st.characters(blacklist_categories=("Cs", "Cc"), blacklist_characters="|;=")
_TEXTS = st.text(_MARKS, max_size=24).map(str.strip)
_NAMES = _TEXTS.filter(bool)
_PARTS = st.builds(
    PartNumber, _KEYS, st.from_regex(r"[A-Z0-9][A-Z0-9 ./-]{0,9}[A-Z0-9]", fullmatch=True)
)
_DAYS = st.none() | st.dates(date(1900, 1, 1), date(2100, 1, 1))
_COUNTS = st.none() | st.integers(0, 99_999)
_TARGETS = st.one_of(
    st.builds(Target, st.sampled_from(("position", "assembly", "operation", "table")), _KEYS),
    st.builds(Target, st.just("kind"), _KEYS, st.just("") | _KEYS),
)


def quantities(unit: str) -> st.SearchStrategy[Quantity]:
    amounts = st.decimals(-999, 999, allow_nan=False, places=5)
    return amounts.map(lambda amount: Quantity.of(amount, unit))


def several(values: st.SearchStrategy[object], by: str) -> st.SearchStrategy[tuple[object, ...]]:
    """A few values, no two with the same key."""
    return st.lists(values, max_size=5, unique_by=lambda value: str(getattr(value, by))).map(tuple)


_VARIANTS = st.builds(
    Variant, _KEYS, _NAMES, _TEXTS, st.integers(0, 99), st.integers(0, 9999), _TEXTS, _TEXTS
)
_OBSERVATIONS = st.builds(
    Observation,
    _KEYS,
    _NAMES,
    st.lists(_NAMES, min_size=1, max_size=4, unique=True).map(tuple),
    st.lists(_KEYS, max_size=3, unique=True).map(tuple),
    _TEXTS,
)
_ATTRIBUTES = st.dictionaries(_NAMES, _NAMES, max_size=3)
_EVERY_PART = st.builds(
    Part, _PARTS, _NAMES, _KEYS, _ATTRIBUTES, st.sampled_from(("S", "Z", "E")), _TEXTS
)
_FITS = st.builds(
    Fit,
    _KEYS,
    _PARTS,
    st.lists(_KEYS, max_size=2, unique=True).map(tuple),
    _COUNTS,
    _COUNTS,
    st.sampled_from(("", "std", "-010", "+0.25")),
    st.none() | st.integers(1, 99),
    _TEXTS,
)
_LINKS = st.builds(
    Link,
    record=_KEYS,
    kind=st.sampled_from(LinkKind),
    old=_PARTS,
    old_quantity=st.integers(1, 9),
    new=_PARTS,
    new_quantity=st.integers(1, 9),
    variants=st.lists(_KEYS, max_size=2, unique=True).map(tuple),
    first=_COUNTS,
    last=_COUNTS,
    with_grade=st.sampled_from(("", "-010")),
    since=_DAYS,
    until=_DAYS,
    operation=st.just("") | _KEYS,
    needs=st.lists(_PARTS, max_size=2, unique=True).map(tuple),
    use_up=st.booleans(),
    note=_TEXTS,
    source=_TEXTS,
)
_LABOUR = st.builds(
    Labour,
    st.sampled_from(("strip", "renew", "check")),
    _TARGETS,
    st.decimals(Decimal("0.01"), Decimal(99), places=2),
    _TEXTS,
)


def plain(parts: Iterable[Part]) -> tuple[Part, ...]:
    """No two parts whose numbers are one number."""
    by_normal = {(part.number.maker, part.number.normal): part for part in parts}
    return tuple(by_normal.values())


def written_and_read(family: Family) -> Family:
    with TemporaryDirectory() as folder:
        place = Path(folder) / family.key
        write_family(family, place)
        return read_family(place)


def test_the_wren_comes_back_the_same() -> None:
    assert written_and_read(tiny_family()) == tiny_family()


def a_random_family() -> st.SearchStrategy[Family]:
    """The Wren with anything at all in the tables that can hold it."""
    return st.builds(
        replace,
        st.just(tiny_family()),
        name=_NAMES,
        summary=_NAMES,
        variants=several(_VARIANTS, "key"),
        observations=several(_OBSERVATIONS, "key"),
        parts=st.lists(_EVERY_PART, max_size=5).map(plain),
        fits=st.lists(_FITS, max_size=4).map(tuple),
        links=st.lists(_LINKS, max_size=4).map(tuple),
        labour=st.lists(_LABOUR, max_size=4).map(tuple),
        set_items=st.lists(st.builds(SetItem, _PARTS, _PARTS, st.integers(1, 99)), max_size=4).map(
            tuple
        ),
    )


@settings(max_examples=60, deadline=None)
@given(a_random_family())
def test_whatever_a_family_holds_reads_back_as_it_was_written(family: Family) -> None:
    assert written_and_read(family) == family


@settings(max_examples=200, deadline=None)
@given(st.sampled_from(sorted(UNITS)).flatmap(quantities))
def test_a_figure_reads_back_exactly_in_its_own_unit(figure: Quantity) -> None:
    back = parse_quantity(quantity_text(figure), figure.unit)
    assert (back, back.unit) == (figure, figure.unit)


def test_a_figure_that_does_not_end_in_its_unit_is_written_in_one_where_it_does() -> None:
    assert quantity_text(q("42.85 mm").to("in")) == "42.85 mm"


@pytest.mark.parametrize(
    "family",
    [
        replace(tiny_family(), parts=(a_part("hob:W1", "nut", {"height": "thick; very"}),)),
        replace(tiny_family(), observations=(Observation("o", "O", ("none | few", "many")),)),
        replace(tiny_family(), features=(replace(a_feature("f", "rod", "gap"), note="a\nb"),)),
    ],
)
def test_what_no_cell_can_say_is_refused_and_nothing_is_written(
    family: Family, tmp_path: Path
) -> None:
    with pytest.raises(BadInput, match="cannot stand in a cell"):
        write_family(family, tmp_path / "wren-single")
    assert not (tmp_path / "wren-single").exists()
