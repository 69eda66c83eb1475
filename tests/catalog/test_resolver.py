"""What a number is today: supersession and interchange, followed with their reasons."""

from dataclasses import replace
from datetime import date

from kitting.catalog.model import Fit, Link, LinkKind
from kitting.catalog.resolver import resolve, subgraph_about
from kitting.catalog.ways import Need, Resolution, Subgraph, WayKind
from tests.builders import A_DAY, a_fit, a_link, number
from tests.wren import tiny_family

OLD, SUP, EITHER = WayKind.OLD_STOCK, LinkKind.SUPERSEDED, LinkKind.EITHER_WAY


def answer(
    links: tuple[Link, ...], need: Need, fits: tuple[Fit, ...] = (), day: date = A_DAY
) -> Resolution:
    return resolve(need, Subgraph(links, fits), day)


def bought(resolution: Resolution) -> list[str]:
    """Each way as '2 × hob:A + 1 × hob:B'."""
    return [
        " + ".join(f"{quantity} × {part}" for part, quantity in way.parts)
        for way in resolution.ways
    ]


def need(text: str, quantity: int = 1) -> Need:
    return Need(number(text), quantity)


def whys(resolution: Resolution) -> set[tuple[str, str]]:
    return {(str(each.part), each.why) for each in resolution.not_taken}


def test_a_number_with_no_links_is_bought_as_named() -> None:
    found = answer((), need("hob:A", 3))
    assert bought(found) == ["3 × hob:A"]
    assert found.ways[0].kind is WayKind.AS_NAMED
    assert found.ways[0].current


def test_a_chain_of_supersessions_ends_at_the_current_number_with_every_step_shown() -> None:
    found = answer(
        (a_link("r1", SUP, "hob:A", "hob:B"), a_link("r2", SUP, "hob:B", "hob:C")), need("hob:A")
    )
    assert bought(found) == ["1 × hob:C"]
    assert [str(step) for step in found.ways[0].because] == [
        "hob:A is superseded by hob:B",
        "hob:B is superseded by hob:C",
    ]
    assert ("hob:A", "superseded by hob:B") in whys(found)


def test_a_split_is_answered_by_all_its_parts_each_as_it_is_today() -> None:
    links = (
        a_link("split", SUP, "hob:A", "hob:B"),
        a_link("split", SUP, "hob:A", "hob:C", new_quantity=2),
        a_link("later", SUP, "hob:C", "hob:D"),
    )
    assert bought(answer(links, need("hob:A", 3))) == ["3 × hob:B + 6 × hob:D"]


def test_a_split_with_a_part_that_nothing_answers_is_no_way() -> None:
    links = (
        a_link("split", SUP, "hob:A", "hob:B"),
        a_link("split", SUP, "hob:A", "hob:C"),
        a_link("r1", SUP, "hob:C", "hob:D"),
        a_link("r2", SUP, "hob:D", "hob:C"),
    )
    found = answer(links, need("hob:A"))
    assert found.ways == ()
    assert ("hob:A", "of the split, nothing answers hob:C") in whys(found)


def test_a_merge_says_which_other_numbers_the_new_one_answers() -> None:
    links = (a_link("merge", SUP, "hob:A", "hob:C"), a_link("merge", SUP, "hob:B", "hob:C"))
    (way,) = answer(links, need("hob:A")).ways
    assert way.parts == ((number("hob:C"), 1),)
    assert way.also_answers == (number("hob:B"),)


def test_quantity_factors_multiply_along_the_chain_and_round_up_once_at_its_end() -> None:
    links = (
        a_link("pairs", SUP, "hob:A", "hob:B", old_quantity=2),
        a_link("singles", SUP, "hob:B", "hob:C", new_quantity=2),
    )
    assert bought(answer(links, need("hob:A", 3))) == ["3 × hob:C"]
    assert bought(answer(links[:1], need("hob:A", 3))) == ["2 × hob:B"]


def test_either_way_serves_both_ways_and_turns_its_quantities_round() -> None:
    links = (a_link("r1", EITHER, "hob:A", "dal:B", new_quantity=2),)
    assert bought(answer(links, need("hob:A"))) == ["1 × hob:A", "2 × dal:B"]
    back = answer(links, need("dal:B", 4))
    assert bought(back) == ["4 × dal:B", "2 × hob:A"]
    assert str(back.ways[1].because[0]) == "1 × hob:A may stand for 2 × dal:B, either way"


def test_one_way_is_never_taken_backwards() -> None:
    links = (a_link("r1", LinkKind.ONE_WAY, "hob:A", "hob:B"),)
    assert bought(answer(links, need("hob:A"))) == ["1 × hob:A", "1 × hob:B"]
    back = answer(links, need("hob:B"))
    assert bought(back) == ["1 × hob:B"]
    assert whys(back) == {("hob:A", "one way only: hob:B may stand for hob:A, not the reverse")}


def test_a_full_set_serves_only_when_every_one_of_the_position_is_renewed() -> None:
    links = (a_link("r1", LinkKind.FULL_SET, "hob:A", "hob:B"),)
    some = answer(links, need("hob:A", 4))
    assert bought(some) == ["4 × hob:A"]
    assert ("hob:B", "only when every one of the position is renewed") in whys(some)
    every = answer(links, replace(need("hob:A", 4), whole=True))
    assert bought(every) == ["4 × hob:A", "4 × hob:B"]
    assert every.ways[1].conditions == ("only when every one of the position is renewed",)


def test_work_and_companions_come_with_the_way_that_needs_them() -> None:
    links = (
        a_link("r1", LinkKind.WITH_WORK, "hob:A", "hob:B", operation="line-ream", needs=("hob:S",)),
    )
    way = answer(links, need("hob:A", 2)).ways[1]
    assert (way.kind, way.operations) == (WayKind.WITH_WORK, ("line-ream",))
    assert way.companions == ((number("hob:S"), 2),)


def test_the_simplest_way_comes_first() -> None:
    links = (
        a_link("r1", LinkKind.WITH_WORK, "hob:A", "hob:W", operation="skim"),
        a_link("r2", LinkKind.ONE_WAY, "hob:A", "hob:O"),
        a_link("r3", EITHER, "hob:A", "hob:E"),
        a_link("r4", SUP, "hob:A", "hob:S"),
        a_link("r5", SUP, "hob:E", "hob:F"),
    )
    assert bought(answer(links, need("hob:A"))) == [
        "1 × hob:S",
        "1 × hob:F",
        "1 × hob:O",
        "1 × hob:W",
    ]


def test_old_stock_may_be_used_up_but_comes_after_what_is_current() -> None:
    found = answer((a_link("r1", SUP, "hob:A", "hob:B", use_up=True),), need("hob:A"))
    assert [(way.kind, way.current) for way in found.ways] == [
        (WayKind.SUPERSEDED, True),
        (OLD, False),
    ]


def test_a_supersession_holds_from_its_day_to_its_end_inclusive() -> None:
    links = (a_link("r1", SUP, "hob:A", "hob:B", since=date(2024, 5, 1), until=date(2024, 6, 1)),)
    by_day = {
        day: bought(answer(links, need("hob:A"), day=date(2024, *day)))
        for day in ((4, 30), (5, 1), (6, 1), (6, 2))
    }
    assert by_day == {
        (4, 30): ["1 × hob:A"],
        (5, 1): ["1 × hob:B"],
        (6, 1): ["1 × hob:B"],
        (6, 2): ["1 × hob:A"],
    }


def test_a_link_holds_on_its_variants_engines_and_grade_only() -> None:
    link = a_link("r1", SUP, "hob:A", "hob:B", variants=("mark-2",), first=600, last=700)
    here = replace(need("hob:A"), variant="mark-2", running=600)
    assert bought(answer((link,), here)) == ["1 × hob:B"]
    assert answer((link,), here).ways[0].conditions == (
        "only on mark-2",
        "only engines 600 to 700",
    )
    for elsewhere in (
        replace(here, variant="mark-1"),
        replace(here, running=701),
        replace(here, running=None),
    ):
        assert bought(answer((link,), elsewhere)) == ["1 × hob:A"]
    graded = replace(link, variants=(), first=None, last=None, with_grade="-010")
    assert bought(answer((graded,), need("hob:A"))) == ["1 × hob:A"]
    assert bought(answer((graded,), replace(need("hob:A"), grade="-010"))) == ["1 × hob:B"]


def test_a_number_that_does_not_fit_the_engine_is_no_way_though_its_chain_goes_on() -> None:
    links = (a_link("r1", EITHER, "hob:A", "hob:B"), a_link("r2", EITHER, "hob:B", "hob:C"))
    fits = (a_fit("rod", "hob:A"), replace(a_fit("rod", "hob:B"), variants=("mark-1",)))
    here = replace(need("hob:A"), position="rod", variant="mark-2")
    found = answer(links, here, fits)
    assert bought(found) == ["1 × hob:A", "1 × hob:C"]
    assert ("hob:B", "it does not fit this engine") in whys(found)


def test_a_number_of_another_grade_is_no_way() -> None:
    links = (a_link("r1", EITHER, "hob:A", "hob:B"),)
    fits = (a_fit("shells", "hob:A", "-010"), a_fit("shells", "hob:B", "-020"))
    found = answer(links, replace(need("hob:A"), position="shells", grade="-010"), fits)
    assert bought(found) == ["1 × hob:A"]
    assert ("hob:B", "it is of grade -020") in whys(found)


def test_a_circle_of_supersessions_is_told_once_with_its_chain_and_not_followed() -> None:
    numbers = [f"hob:L{at}" for at in range(9)]
    ring = tuple(
        a_link(f"r{at}", SUP, old, new)
        for at, (old, new) in enumerate(zip(numbers, numbers[1:] + numbers[:1], strict=True))
    )
    found = answer((*ring, a_link("in", SUP, "hob:A", "hob:L4")), need("hob:A"))
    assert found.ways == ()
    (problem,) = found.problems
    assert problem.wrong == "supersessions in a circle: " + " → ".join([*numbers, "hob:L0"])


def test_two_changes_of_one_number_at_once_are_a_contradiction_and_not_followed() -> None:
    links = (a_link("r1", SUP, "hob:A", "hob:B"), a_link("r2", SUP, "hob:A", "hob:C"))
    found = answer(links, need("hob:A"))
    assert found.ways == ()
    assert [str(problem) for problem in found.problems] == [
        "hob:A: hob:A is superseded by hob:B (r1) and hob:C (r2) at once; "
        "the catalogue must say which, by engine, grade or day"
    ]


def test_two_chains_that_disagree_on_the_quantity_are_told() -> None:
    links = (
        a_link("r1", EITHER, "hob:A", "hob:B"),
        a_link("r2", LinkKind.ONE_WAY, "hob:A", "hob:B", new_quantity=2),
    )
    found = answer(links, need("hob:A"))
    assert bought(found) == ["1 × hob:A", "1 × hob:B"]
    assert "it takes 2 of it, by another chain 1" in found.problems[0].wrong


def test_the_wren_springs_resolve_from_the_family_itself() -> None:
    family = tiny_family()
    part = number("hob:W205")
    mark_2 = Need(part, 1, "relief-spring", "mark-2", 612)
    found = resolve(mark_2, subgraph_about(family, part), A_DAY)
    assert bought(found) == ["1 × hob:W205", "1 × dal:R205", "1 × hob:W206"]
    mark_1 = replace(mark_2, variant="mark-1", running=120)
    assert ("hob:W206", "only on mark-2") in whys(
        resolve(mark_1, subgraph_about(family, part), A_DAY)
    )


def test_a_number_that_the_catalogue_lacks_is_no_way() -> None:
    found = resolve(need("hob:W999"), subgraph_about(tiny_family(), number("hob:W999")), A_DAY)
    assert found.best is None
    assert whys(found) == {("hob:W999", "the catalogue has no part of that number")}


def test_a_part_of_another_position_does_not_answer_there() -> None:
    fits = (a_fit("seal", "hob:H1"), a_fit("pump", "hob:P1"))
    found = answer((), Need(number("hob:H1"), position="pump"), fits)
    assert found.ways == ()
    (why,) = found.not_taken
    assert why.why.startswith("it does not fit pump")
    assert bought(answer((), Need(number("hob:H1"), position="seal"), fits)) == ["1 × hob:H1"]


def test_a_part_that_links_lead_to_from_one_that_fits_answers_there() -> None:
    fits = (a_fit("pump", "hob:P1"), a_fit("seal", "hob:H1"))
    links = (a_link("r1", SUP, "hob:P0", "hob:P1"), a_link("r2", EITHER, "hob:P1", "hob:P2"))
    for part in ("hob:P0", "hob:P1", "hob:P2"):
        found = answer(links, Need(number(part), position="pump"), fits)
        assert bought(found)[0] in {"1 × hob:P1", "1 × hob:P2"}, part
    one_way = (a_link("r1", LinkKind.ONE_WAY, "hob:H1", "hob:P1"),)
    found = answer(one_way, Need(number("hob:H1"), position="pump"), fits)
    assert bought(found) == ["1 × hob:P1"]
    assert ("hob:H1", "it does not fit pump, and no link that holds leads to it from a number "
            "that does") in whys(found)  # fmt: skip


def test_of_several_days_only_the_one_that_tells_is_a_condition() -> None:
    links = (
        a_link("r1", SUP, "hob:A", "hob:B", since=date(1951, 1, 1)),
        a_link("r2", SUP, "hob:B", "hob:C", since=date(1956, 1, 1), variants=("mark-1",)),
        a_link("r3", SUP, "hob:C", "hob:D", since=date(1952, 1, 1), until=date(2090, 1, 1)),
    )
    (way,) = answer(links, Need(number("hob:A"), variant="mark-1")).ways
    assert way.conditions == ("only on mark-1", "only from 1956-01-01", "only until 2090-01-01")


def test_a_split_with_more_ways_than_are_put_together_says_how_many_are_left_out() -> None:
    links = (
        a_link("split", SUP, "hob:A", "hob:B"),
        a_link("split", SUP, "hob:A", "hob:C"),
        *(
            a_link(f"{part}{at}", LinkKind.EITHER_WAY, f"hob:{part}", f"hob:{part}{at}")
            for part in "BC"
            for at in range(5)
        ),
    )
    found = answer(links, need("hob:A"))
    assert len(found.ways) == 16
    left_out = "of the split, 20 more ways to put it together are left out"
    assert ("hob:A", left_out) in whys(found)
    fewer = answer(links[:5], need("hob:A"))
    assert not any("left out" in why for _, why in whys(fewer))
