"""Accepting a list's link: which answers it changes, and that it takes none away unasked."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from kitting.catalog.answers import AnswerChange
from kitting.catalog.model import LinkKind
from kitting.errors import BadInput
from kitting.store.database import Database
from kitting.store.tables.prices import ProposalState
from tests.builders import a_link
from tests.store.price_lists import load
from tests.store.samples import WREN, with_catalogue
from tests.store.test_links import owl
from tests.store.test_price_lists import GASKET, NUT, STUD, row
from tests.store.test_price_review import keys

TODAY = datetime.now(UTC).date()
OTHERWISE = a_link("owl", LinkKind.SUPERSEDED, str(NUT), str(GASKET))


def a_shop(database: Database, folder: Path, *other: LinkKind) -> int:
    """A list says that the nut is superseded by the stud; returns the proposal's number."""
    with_catalogue(database)
    with database.work() as work:
        work.catalogue.load_family(replace(WREN, edition="later", links=()))
        work.catalogue.load_family(owl(*(replace(OTHERWISE, kind=kind) for kind in other)))
        work.commit()
    load(database, folder / "may.csv", row("B-1", "W320", by="W321"))
    return keys(database)[str(NUT)]


def accept(database: Database, key: int, *, anyhow: bool = False) -> tuple[AnswerChange, ...]:
    with database.work() as work:
        proposal, changes = work.price_accepting.accept(key, "Joan", TODAY, anyhow=anyhow)
        work.commit()
    assert proposal.state is ProposalState.ACCEPTED
    return changes


def test_an_accepted_link_tells_what_it_changes_and_families_that_see_alike_together(
    database: Database, tmp_path: Path
) -> None:
    key = a_shop(database, tmp_path)
    (change,) = accept(database, key)
    assert change == AnswerChange(NUT, ("owl-twin", WREN.key), ((NUT, 1),), ((STUD, 1),))


def test_a_link_that_takes_the_answer_of_another_family_is_refused_until_it_is_meant(
    database: Database, tmp_path: Path
) -> None:
    key = a_shop(database, tmp_path, LinkKind.SUPERSEDED)
    with pytest.raises(BadInput) as refused:
        accept(database, key)
    assert str(refused.value) == (
        f"proposal {key}: nothing could be bought any more for hob:W320 (wren-single): "
        "hob:W320 is superseded by hob:W310 already; refuse it with --refuse, mend the catalogue, "
        "or accept it all the same with --confirm"
    )
    assert keys(database) == {str(NUT): key}  # nothing was kept
    (change,) = accept(database, key, anyhow=True)
    assert (change.is_lost, change.before, change.after) == (True, ((GASKET, 1),), ())


def test_families_that_differ_are_told_each_for_itself(database: Database, tmp_path: Path) -> None:
    key = a_shop(database, tmp_path, LinkKind.EITHER_WAY)
    changes = {change.families: (change.before, change.after) for change in accept(database, key)}
    assert set().union(*changes) == {"owl-twin", WREN.key}
    assert all(before != after for before, after in changes.values())


def test_what_leads_to_the_old_number_is_told_too(database: Database, tmp_path: Path) -> None:
    with_catalogue(database)
    older = a_link("older", LinkKind.SUPERSEDED, str(GASKET), str(NUT))
    with database.work() as work:
        work.catalogue.load_family(replace(WREN, edition="later", links=(older,)))
        work.commit()
    load(database, tmp_path / "may.csv", row("B-1", "W320", by="W321"))
    changes = accept(database, keys(database)[str(NUT)])
    assert {(change.part, change.after) for change in changes} == {
        (NUT, ((STUD, 1),)), (GASKET, ((STUD, 1),)),
    }  # fmt: skip
