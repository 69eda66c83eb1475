"""What the doctor shows of a catalogue: each family in force, and of very many a count."""

from datetime import UTC, datetime

from kitting.cli.doctor import families_words
from kitting.store import Health
from kitting.store.catalogue import KeptEdition


def shown(count: int) -> str:
    now = datetime(2026, 11, 28, tzinfo=UTC)
    kept = [
        KeptEdition(f"family-{at}", edition, "", "", now, edition == "2")
        for at in range(count)
        for edition in ("2", "1")
    ]
    return families_words(Health("shop.sqlite", "sqlite", True, "1", "1", tuple(kept)))


def test_a_few_families_are_named_each_with_the_edition_in_force() -> None:
    assert shown(0) == "none"
    assert shown(2) == "family-0 2, family-1 2"


def test_of_very_many_families_how_many_there_are_is_told_and_the_first_few() -> None:
    assert shown(1001) == (
        "1,001: family-0 2, family-1 2, family-2 2, family-3 2, family-4 2, family-5 2 and more "
        "(kitting catalog show)"
    )
