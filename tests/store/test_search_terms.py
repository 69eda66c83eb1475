"""Terms of the word index: each database takes them as they stand, and a beginning stays one."""

import re
from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from kitting.catalog.search_words import Described, Weights
from kitting.store.search_attributes import millionths
from kitting.store.search_terms import (
    as_tsquery,
    coded,
    of_size,
    terms_of,
    uncoded,
    whole_word,
    words_of_terms,
)
from tests.builders import a_part

_WORDS = st.text(st.characters(codec="utf-8"), min_size=1, max_size=12)


@given(_WORDS)
def test_a_term_has_no_mark_that_a_database_would_read_otherwise(word: str) -> None:
    assert re.fullmatch("[a-z0-9]+", coded(word))
    assert uncoded(coded(word)) == word


@given(_WORDS, _WORDS)
def test_one_term_begins_another_just_where_the_words_do(word: str, other: str) -> None:
    assert coded(other).startswith(coded(word)) == other.startswith(word)


def test_a_parts_words_come_back_with_their_weights() -> None:
    described = Described(a_part("hob:S-1", "q ring", {"bore": "1/2 in"}), ("idler shaft",))
    terms = terms_of(described)
    assert words_of_terms(terms) == described.words
    assert terms.words.split()[-3:] == ["qns1", "qv0q2eq5", "qv12q2eq7"]


@given(
    st.lists(st.text("abq/é-1", min_size=1, max_size=4), max_size=6).map(" ".join),
    st.lists(st.text("abq/é-1", min_size=1, max_size=4), max_size=6),
    st.text("abqv1/é-", min_size=1, max_size=4),
)
def test_terms_weigh_a_word_as_the_part_itself_does(
    name: str, places: list[str], word: str
) -> None:
    described = Described(
        replace(a_part("hob:QV-1", "pin", {"bore": "1 in"}), name=name), tuple(places)
    )
    terms, weights = terms_of(described), Weights(described.words)
    for each in (word, *described.words):
        assert terms.whole(each) == weights.whole(each)
        assert terms.begun(each) == weights.begun(each)


def test_an_expression_is_the_same_in_both_tongues() -> None:
    expression = f"({whole_word('cam-shaft')} AND {of_size('30x47')})"
    assert expression == ("((camq2dqshaft OR (cam AND shaft)) AND (30x47* OR (qv30 AND qv47)))")
    assert as_tsquery(expression) == (
        "((camq2dqshaft | (cam & shaft)) & (30x47:* | (qv30 & qv47)))"
    )


_FIGURES = st.decimals(-(10**20), 10**20, allow_nan=False, places=9)


@given(_FIGURES, _FIGURES)
def test_whole_millionths_never_change_the_order_of_two_figures(
    one: Decimal, other: Decimal
) -> None:
    if one <= other:
        assert millionths(one) <= millionths(other)
    assert -(2**63) <= millionths(one) < 2**63
