"""Interchange means what the open standards say it means.

Sources, as to the meaning of the words only:
FS-1037C, 'interchangeability'; MIL-HDBK-505, 'substitute item'; EIA-649, form, fit and function;
UN/EDIFACT code list 4347 (product id function): 3 substituted by, 4 substituted for, 6 successor,
7 predecessor, 8 expired and replaced, 12 alternate.
"""

from datetime import date

from kitting.catalog.model import Link, LinkKind
from kitting.catalog.resolver import resolve
from kitting.catalog.ways import Need, Resolution, Subgraph, WayKind
from tests.builders import A_DAY, a_link, number

OLD, NEW = "hob:OLD", "hob:NEW"


def answer(link: Link, wanted: str = OLD, variant: str = "", day: date = A_DAY) -> Resolution:
    return resolve(Need(number(wanted), variant=variant), Subgraph((link,)), day)


def serving(resolution: Resolution) -> dict[str, WayKind]:
    return {str(way.parts[0][0]): way.kind for way in resolution.ways}


def test_interchangeable_items_exchange_for_one_another_without_work_on_either_or_neighbours() -> (
    None
):
    """FS-1037C: exchanged without altering the items themselves or adjoining items."""
    link = a_link("r", LinkKind.EITHER_WAY, OLD, NEW)
    for wanted in (OLD, NEW):
        found = answer(link, wanted)
        assert set(serving(found)) == {OLD, NEW}
        assert not any(way.operations or way.companions for way in found.ways)


def test_an_item_that_needs_work_is_not_interchangeable_but_offered_with_its_work() -> None:
    """FS-1037C, the other side of the same line."""
    found = answer(a_link("r", LinkKind.WITH_WORK, OLD, NEW, operation="skim"))
    assert serving(found)[NEW] is WayKind.WITH_WORK
    assert found.ways[-1].operations == ("skim",)
    assert NEW not in serving(answer(a_link("r", LinkKind.WITH_WORK, NEW, OLD, operation="skim")))


def test_a_substitute_serves_only_under_the_conditions_stated() -> None:
    """MIL-HDBK-505: a substitute item replaces another only under specified conditions."""
    link = a_link("r", LinkKind.ONE_WAY, OLD, NEW, variants=("mark-2",))
    assert NEW in serving(answer(link, variant="mark-2"))
    assert NEW not in serving(answer(link, variant="mark-1"))
    assert NEW not in serving(answer(link))


def test_an_item_of_another_number_never_stands_in_without_its_link_being_shown() -> None:
    """EIA-649: a number stays the same only while form, fit and function do."""
    for kind in (LinkKind.SUPERSEDED, LinkKind.EITHER_WAY, LinkKind.ONE_WAY):
        for way in answer(a_link("r", kind, OLD, NEW)).ways:
            assert bool(way.because) == (str(way.parts[0][0]) != OLD)


def test_4347_3_and_4_substituted_by_serves_forward_and_substituted_for_never_back() -> None:
    link = a_link("r", LinkKind.ONE_WAY, OLD, NEW)
    assert set(serving(answer(link, OLD))) == {OLD, NEW}
    assert set(serving(answer(link, NEW))) == {NEW}


def test_4347_6_and_7_the_successor_answers_for_its_predecessor_and_not_the_reverse() -> None:
    link = a_link("r", LinkKind.SUPERSEDED, OLD, NEW, use_up=True)
    assert serving(answer(link, OLD)) == {NEW: WayKind.SUPERSEDED, OLD: WayKind.OLD_STOCK}
    assert serving(answer(link, NEW)) == {NEW: WayKind.AS_NAMED}


def test_4347_8_what_expired_and_is_replaced_is_no_longer_bought() -> None:
    link = a_link("r", LinkKind.SUPERSEDED, OLD, NEW, since=date(2024, 1, 1))
    assert serving(answer(link)) == {NEW: WayKind.SUPERSEDED}
    assert serving(answer(link, day=date(2023, 12, 31))) == {OLD: WayKind.AS_NAMED}


def test_4347_12_an_alternate_may_be_taken_while_the_item_named_comes_first() -> None:
    found = answer(a_link("r", LinkKind.EITHER_WAY, OLD, NEW))
    assert [str(way.parts[0][0]) for way in found.ways] == [OLD, NEW]
