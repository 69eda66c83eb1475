"""What lists leave for a person: his word on numbers and on successions, with his name."""

from dataclasses import replace
from pathlib import Path

import pytest

from kitting.catalog.model import Link, LinkKind
from kitting.errors import BadInput, NotFound
from kitting.store.database import Database, UnitOfWork
from kitting.store.tables.prices import ProposalState
from tests.builders import a_link, number
from tests.store.price_lists import load
from tests.store.samples import WREN, with_catalogue
from tests.store.test_price_lists import NUT, STUD, brooks, row

GASKET, WASHER = number("hob:W310"), number("hob:W150")


@pytest.fixture
def shop(database: Database, tmp_path: Path) -> Database:
    """A shop with a list of two successions, one of them to a number nobody knows."""
    with_catalogue(database)
    load(
        database,
        tmp_path / "may.csv",
        row("B-1", "W320", by="W321"),
        row("B-3", "W310", by="W 999"),
        row("B-9"),
    )
    return database


def accepted(work: UnitOfWork) -> tuple[Link, ...]:
    """The links from price lists that whoever follows links is given."""
    links = work.links.subgraphs([NUT, STUD, GASKET]).values()
    found = {link for graph in links for link in graph.links if link.record.startswith("list-")}
    return tuple(sorted(found, key=lambda link: link.record))


def accept(database: Database, key: int, part: str = "") -> None:
    with database.work() as work:
        work.price_review.accept(key, "Joan", number(part) if part else None)
        work.commit()


def keys(database: Database, state: ProposalState = ProposalState.OPEN) -> dict[str, int]:
    with database.read() as work:
        return {str(each.old): each.id for each in work.price_review.proposals(state=state)[0]}


def test_a_succession_that_a_list_names_waits_for_a_person(shop: Database) -> None:
    with shop.read() as work:
        proposals, many = work.price_review.proposals("brook")
        assert accepted(work) == ()
        assert work.price_review.proposals("ashby") == ((), 0)
    assert many == 2
    assert [(p.old, p.new_said, p.new, p.place, p.origin) for p in proposals] == [
        (NUT, "W321", STUD, "row 2", "may.csv"),
        (GASKET, "W 999", None, "row 3", "may.csv"),
    ]


def test_an_accepted_succession_is_a_link_with_its_source(shop: Database) -> None:
    key = keys(shop)["hob:W320"]
    accept(shop, key)
    with shop.read() as work:
        (link,) = accepted(work)
        assert link in work.links.subgraph(STUD).links
        assert link not in work.links.subgraph(GASKET).links
    assert (link.kind, link.old, link.new) == (LinkKind.SUPERSEDED, NUT, STUD)
    assert link.source.startswith("price list may.csv of brook, row 2; accepted by Joan on ")


def test_a_number_that_nobody_knows_must_be_named_first(shop: Database) -> None:
    key = keys(shop)["hob:W310"]
    with pytest.raises(BadInput, match="nobody knows the number W 999; say which part it is"):
        accept(shop, key)
    with pytest.raises(NotFound, match="no part 'hob:W-150'; did you mean hob:W150"):
        accept(shop, key, "hob:W-150")
    accept(shop, key, "hob:W150")
    with shop.read() as work:
        assert accepted(work)[0].new == WASHER


def test_several_numbers_must_be_one_before_they_are_a_link(
    database: Database, tmp_path: Path
) -> None:
    with_catalogue(database)
    load(database, tmp_path / "may.csv", row("B-1", "W320", by="W321 / W310"))
    key = keys(database)["hob:W320"]
    with pytest.raises(BadInput, match="'W321 / W310' is more than one number"):
        accept(database, key)
    accept(database, key, "hob:W321")
    with database.read() as work:
        assert accepted(work)[0].new == STUD


def test_a_decision_is_taken_once(shop: Database) -> None:
    key = keys(shop)["hob:W320"]
    with shop.work() as work:
        refused = work.price_review.refuse(key, "Joan", "a misprint")
        work.commit()
    assert (refused.state, refused.who, refused.why) == (
        ProposalState.REFUSED, "Joan", "a misprint",
    )  # fmt: skip
    with pytest.raises(BadInput, match="it was refused by Joan"):
        accept(shop, key)
    with pytest.raises(NotFound, match="no proposal '4711'"):
        accept(shop, 4711)


def test_a_succession_is_not_proposed_again_once_it_was_refused(
    shop: Database, tmp_path: Path
) -> None:
    key = keys(shop)["hob:W320"]
    with shop.work() as work:
        work.price_review.refuse(key, "Joan", "")
        work.commit()
    load(shop, tmp_path / "june.csv", row("B-1", "W320", by="W-321"))
    assert "hob:W320" not in keys(shop)
    assert keys(shop, ProposalState.REFUSED) == {"hob:W320": key}


def test_a_succession_that_would_close_a_loop_is_refused_with_its_chain(
    shop: Database, tmp_path: Path
) -> None:
    accept(shop, keys(shop)["hob:W320"])
    load(
        shop,
        tmp_path / "june.csv",
        row("B-2", "W321", by="W310"),
        row("B-3", "W310", by="W320"),
    )
    accept(shop, keys(shop)["hob:W321"])
    with shop.read() as work:
        proposals, _ = work.price_review.proposals()
    loop = next(each.id for each in proposals if each.new == NUT)
    with pytest.raises(BadInput) as refused:
        accept(shop, loop)
    assert str(refused.value) == (
        "hob:W310: this would close a loop: hob:W310 → hob:W320 → hob:W321 → hob:W310; "
        "refuse one of the two"
    )


def test_what_only_an_older_edition_says_closes_no_loop(shop: Database) -> None:
    back = a_link("back", LinkKind.SUPERSEDED, str(STUD), str(NUT))
    with shop.work() as work:
        work.catalogue.load_family(replace(WREN, edition="older", links=(back,)))
        work.commit()
    key = keys(shop)["hob:W320"]
    with pytest.raises(BadInput, match="this would close a loop"):
        accept(shop, key)
    with shop.work() as work:
        work.catalogue.load_family(replace(WREN, edition="newer", links=()))
        work.commit()
    accept(shop, key)
    assert keys(shop, ProposalState.ACCEPTED) == {"hob:W320": key}


def test_a_matched_number_is_known_the_next_time(shop: Database, tmp_path: Path) -> None:
    with shop.work() as work:
        work.price_review.decide_number("brook", "b9", STUD, "Joan")
        work.commit()
    with shop.read() as work:
        assert work.price_review.strays() == ((), 0)
    look = load(
        shop,
        tmp_path / "may.csv",
        row("B-1", "W320", by="W321"),
        row("B-3", "W310", by="W 999"),
        row("B-9"),
    )
    assert not look.same
    assert [each.part for each in brooks(shop)] == [NUT, GASKET, STUD]


def test_a_number_that_is_none_of_ours_does_not_come_back(shop: Database, tmp_path: Path) -> None:
    with shop.work() as work:
        work.price_review.decide_number("brook", "B-9", None, "Joan", "for tractors")
        work.commit()
    look = load(shop, tmp_path / "june.csv", row("B-1", "W320"), row("B 9"))
    assert look.report.counts["not ours"] == 1
    with shop.read() as work:
        assert work.price_review.strays() == ((), 0)
    with shop.work() as work:
        work.price_review.decide_number("brook", "B-9", STUD, "Joan", "for ours too")
        work.commit()
    load(shop, tmp_path / "july.csv", row("B-9"))
    assert brooks(shop)[0].part == STUD


def test_a_word_on_what_is_not_there_is_refused(shop: Database) -> None:
    with shop.work() as work:
        with pytest.raises(NotFound, match="no supplier 'broke'; did you mean"):
            work.price_review.decide_number("broke", "B-9", None, "Joan")
        with pytest.raises(NotFound, match="no part 'hob:X'"):
            work.price_review.decide_number("brook", "B-9", number("hob:X"), "Joan")
        with pytest.raises(BadInput, match="a number without letter or figure"):
            work.price_review.decide_number("brook", "--", None, "Joan")


@pytest.mark.parametrize("text", ["hob:W320", "W320", "w-320", "hob:w 320"])
def test_a_part_is_named_in_any_spelling(shop: Database, text: str) -> None:
    with shop.read() as work:
        assert work.price_review.part(text) == NUT


def test_another_makers_part_of_that_number_is_offered_and_not_taken(shop: Database) -> None:
    with shop.read() as work, pytest.raises(NotFound, match="no part 'kes:W320'; did you mean hob"):
        work.price_review.part("kes:W320")


def test_a_link_that_was_accepted_can_be_taken_back_and_is_followed_no_longer(
    shop: Database,
) -> None:
    accept(shop, keys(shop)[str(NUT)])
    with shop.work() as work:
        assert accepted(work)
        taken = work.price_review.refuse(keys(shop, ProposalState.ACCEPTED)[str(NUT)], "Ann", "")
        assert (taken.state, taken.who) == (ProposalState.REFUSED, "Ann")
        assert accepted(work) == ()
        with pytest.raises(BadInput, match="it was refused by Ann"):
            work.price_review.refuse(taken.id, "Ann", "")
