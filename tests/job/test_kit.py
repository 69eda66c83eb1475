from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.catalog.family import Family
from kitting.catalog.model import LinkKind, SetItem, Verdict
from kitting.catalog.trade import Quality, Trade
from kitting.job.estimate import LineKind
from kitting.job.findings import Finding, Fitted
from kitting.job.kit import KitLine
from kitting.job.path import JobPath, walk
from kitting.job.pricing import Market
from kitting.job.readiness import Open
from kitting.job.sets import SetChoice, choose_sets
from tests.builders import a_fit, a_judgement, a_link, a_part, a_position, an_offer, number
from tests.job.benches import a_bench, a_finding, read
from tests.wren import tiny_family, tiny_trade

FAMILY, TRADE, DAY = tiny_family(), tiny_trade(), date(2024, 5, 2)
SCORED = a_finding("shells", seen=(("scoring", "deep"),))


def pin(*texts: str) -> Finding:
    return a_finding("crank", *read("crankpin-diameter", *texts))


GOOD_PIN = pin("1.4992", "1.4991", "1.4992", "1.4991")
UNEVEN_PIN = pin("1.4992", "1.4925", "1.4991", "1.4990")


def path_of(*findings: Finding, family: Family = FAMILY, trade: Trade = TRADE) -> JobPath:
    return walk(family, trade, a_bench(*findings), DAY)


def line_for(path: JobPath, position: str) -> KitLine:
    return next(line for line in path.kit.lines if position in line.positions)


def test_shells_follow_the_grade_the_crank_is_at() -> None:
    path = path_of(SCORED, GOOD_PIN)
    assert line_for(path, "shells").grade == "std grade"


def test_a_superseded_number_is_answered_by_its_successor_with_the_chain() -> None:
    line = line_for(path_of(SCORED, GOOD_PIN), "shells")
    assert (line.named, line.part) == (number("hob:W100"), number("hob:W101"))
    assert any("superseded by" in step.says for step in line.chosen)


def test_a_pair_sold_as_one_number_is_bought_once() -> None:
    assert line_for(path_of(SCORED, GOOD_PIN), "shells").quantity == 1


def test_shells_of_an_uneven_pin_are_held_and_both_grades_are_priced() -> None:
    path = path_of(UNEVEN_PIN)
    line = line_for(path, "shells")
    assert (line.part, line.worst_part) == (number("hob:W110"), number("hob:W120"))
    assert (line.hold, line.hold_until) == (True, "ground")
    priced = next(each for each in path.estimate.lines if each.kit_line == line.key)
    assert priced.worst_net >= priced.net


def test_what_nobody_sells_keeps_the_job_from_ready() -> None:
    trade = replace(TRADE, offers=tuple(o for o in TRADE.offers if o.part != number("hob:W140")))
    path = path_of(SCORED, GOOD_PIN, trade=trade)
    line = line_for(path, "rod-bolts")
    assert line.part is None
    assert "to be had" in line.problem
    assert any(point.why is Open.NO_PART for point in path.kit.readiness.points)


def test_a_part_that_two_rules_ask_for_is_bought_once() -> None:
    """The shells are scored and the pin is oval: one pair all the same."""
    path = path_of(SCORED, pin("1.4992", "1.4979", "1.4991", "1.4990"))
    assert len([line for line in path.kit.lines if "shells" in line.positions]) == 1
    assert len(line_for(path, "shells").needed) == 2


def test_the_same_part_in_two_places_is_one_line_with_both_quantities() -> None:
    family = replace(
        FAMILY,
        positions=(*FAMILY.positions, a_position("end-cover-gasket", "bottom-end", "gasket", 2)),
        fits=(*FAMILY.fits, a_fit("end-cover-gasket", "hob:W210")),
    )
    line = line_for(path_of(family=family), "case-gasket")
    assert line.positions == ("case-gasket", "end-cover-gasket")
    assert line.quantity == 3


def test_two_old_numbers_merged_into_one_new_part_buy_it_once() -> None:
    family = replace(
        FAMILY,
        positions=(
            *FAMILY.positions,
            a_position("outer-gasket", "bottom-end", "gasket", 2),
            a_position("inner-gasket", "bottom-end", "gasket", 2),
        ),
        parts=(*FAMILY.parts, *(a_part(f"hob:W21{n}", "gasket") for n in (1, 2, 3))),
        fits=(
            *FAMILY.fits,
            a_fit("outer-gasket", "hob:W211"),
            a_fit("inner-gasket", "hob:W212"),
        ),
        links=(
            *FAMILY.links,
            a_link("as-a-pair", LinkKind.SUPERSEDED, "hob:W211", "hob:W213"),
            a_link("as-a-pair", LinkKind.SUPERSEDED, "hob:W212", "hob:W213"),
        ),
    )
    trade = replace(TRADE, offers=(*TRADE.offers, an_offer("ashby", "hob:W213", "2.00")))
    line = line_for(path_of(family=family, trade=trade), "outer-gasket")
    assert line.part == number("hob:W213")
    assert line.positions == ("outer-gasket", "inner-gasket")
    assert line.quantity == 2


def test_metal_that_is_renewed_is_not_machined() -> None:
    """A cracked crank is bought new: no regrind, and shells at standard."""
    cracked = a_judgement("chipped-crank", "chipped", "yes", "crank", Verdict.RENEW)
    family = replace(FAMILY, judgements=(*FAMILY.judgements, cracked))
    trade = replace(TRADE, offers=(*TRADE.offers, an_offer("ashby", "hob:W130", "240.00")))
    finding = replace(UNEVEN_PIN, seen=a_finding("crank", seen=(("chipped", "yes"),)).seen)
    path = path_of(finding, SCORED, family=family, trade=trade)
    assert line_for(path, "crank").part == number("hob:W130")
    assert line_for(path, "shells").grade == "std grade"
    assert "regrind" not in {work.operation for work in path.kit.work}


def test_work_on_a_sized_journal_counts_the_journals() -> None:
    path = path_of(UNEVEN_PIN)
    regrind = next(work for work in path.kit.work if work.operation == "regrind")
    assert regrind.times == 1


def test_a_doubtful_reading_adds_its_part_to_the_worst_case_only() -> None:
    doubtful = a_finding("oil-pump", *read("pump-float", "0.0050", instrument="micrometer"))
    path = path_of(doubtful)
    assert [line.positions for line in path.kit.possible] == [("oil-pump",)]
    line = next(each for each in path.estimate.lines if "pump" in each.text)
    assert (line.net, line.quantity) == (Decimal(0), Decimal(0))
    assert line.worst_net > 0
    assert path.estimate.worst.gross > path.estimate.likely.gross


def test_a_wrong_part_is_renewed_by_the_right_one() -> None:
    nut = a_finding("barrel-nuts", fitted=Fitted(attributes={"height": "0.310 in"}))
    line = line_for(path_of(nut), "barrel-nuts")
    assert line.part in {number("hob:W320"), number("dal:R320")}
    assert line.quantity == 4


def any_quality(_: Iterable[str]) -> frozenset[Quality]:
    """No quality is barred."""
    return frozenset()


class TestSets:
    """A set is taken where it costs less than what it covers, and nothing is bought twice."""

    LINES = tuple(
        KitLine(
            key=f"1.0{n}", stage="1", positions=(f"p{n}",), named=None, part=number(f"hob:S{n}"),
            name=f"gasket {n}", quantity=1, grade="", needed=(), chosen=(),
        )
        for n in range(1, 5)
    )  # fmt: skip
    ITEMS = tuple(SetItem(number("hob:SET"), number(f"hob:S{n}"), 1) for n in (1, 2, 3))

    def chosen(
        self,
        set_price: str,
        prices: tuple[str, ...],
        lines: tuple[KitLine, ...] = LINES,
        items: tuple[SetItem, ...] = ITEMS,
    ) -> tuple[SetChoice, ...]:
        offers = [an_offer("ashby", f"hob:S{n}", p) for n, p in enumerate(prices, start=1)]
        offers.append(an_offer("ashby", "hob:SET", set_price))
        market = Market(replace(TRADE, offers=tuple(offers)), DAY)
        return choose_sets(lines, items, market, any_quality)

    def test_a_cheaper_set_is_taken_and_says_what_it_saves(self) -> None:
        (choice,) = self.chosen("5.00", ("2.00", "2.00", "2.00", "2.00"))
        assert {key for key, _ in choice.covers} == {"1.01", "1.02", "1.03"}
        assert choice.saves == Decimal("1.00")

    def test_a_dearer_set_is_left(self) -> None:
        assert self.chosen("6.01", ("2.00", "2.00", "2.00", "2.00")) == ()

    @pytest.mark.parametrize("critical", [True, False])
    def test_a_critical_line_is_weighed_at_a_quality_that_it_may_be_bought_at(
        self, critical: bool
    ) -> None:
        """Used at 0.50 a line that is critical takes none of it: new it costs more than the set."""
        offers = (
            replace(an_offer("ashby", "hob:S1", "0.50"), quality=Quality.USED),
            an_offer("ashby", "hob:S1", "3.00"),
            an_offer("ashby", "hob:SET", "2.50"),
        )
        market = Market(replace(TRADE, offers=offers), DAY)
        used = frozenset({Quality.USED}) if critical else frozenset()
        found = choose_sets(self.LINES[:1], self.ITEMS, market, lambda _: used)
        assert [each.saves for each in found] == [Decimal("0.50")] * critical

    def test_a_held_line_is_never_covered(self) -> None:
        lines = tuple(replace(line, hold=True) for line in self.LINES)
        assert self.chosen("0.50", ("2.00", "2.00", "2.00", "2.00"), lines) == ()

    def test_what_the_set_brings_beyond_the_need_is_surplus(self) -> None:
        (choice,) = self.chosen("3.00", ("2.00", "2.00", "2.00", "2.00"), self.LINES[:2])
        assert choice.surplus == ((number("hob:S3"), 1),)

    @pytest.mark.parametrize(("brings", "covered"), [(1, ()), (2, ("1.01",)), (3, ("1.01",))])
    def test_a_set_that_lists_halves_covers_a_pair_with_two_of_them(
        self, brings: int, covered: tuple[str, ...]
    ) -> None:
        half = number("hob:HALF")
        pair = replace(self.LINES[0], serves=frozenset({half}), counts=((half, 2),))
        items = (SetItem(number("hob:SET"), half, brings),)
        chosen = self.chosen("1.00", ("2.00",), (pair,), items)
        assert tuple(key for each in chosen for key, _ in each.covers) == covered
        assert [each.surplus for each in chosen if brings == 3] == [((half, 1),)] * (brings == 3)

    @settings(max_examples=60)
    @given(
        prices=st.lists(st.integers(50, 900), min_size=4, max_size=4),
        sets=st.lists(
            st.tuples(st.sets(st.integers(1, 4), min_size=1), st.integers(60, 2000)), max_size=4
        ),
    )
    def test_no_choice_of_sets_is_cheaper_than_the_one_taken(
        self, prices: list[int], sets: list[tuple[set[int], int]]
    ) -> None:
        """Brute force over every combination."""
        offers = [
            an_offer("ashby", f"hob:S{n}", str(Decimal(p) / 100)) for n, p in enumerate(prices, 1)
        ]
        items = []
        for index, (members, price) in enumerate(sets):
            offers.append(an_offer("ashby", f"hob:SET{index}", str(Decimal(price) / 100)))
            items += [
                SetItem(number(f"hob:SET{index}"), number(f"hob:S{n}"), 1) for n in sorted(members)
            ]
        market = Market(replace(TRADE, offers=tuple(offers)), DAY)
        taken = choose_sets(self.LINES, items, market, any_quality)
        covered = {key for choice in taken for key, _ in choice.covers}
        singly = {f"1.0{n}": p for n, p in enumerate(prices, 1)}
        bought = {str(choice.set): choice for choice in taken}
        ours = sum(p for key, p in singly.items() if key not in covered)
        ours += sum(price for i, (_, price) in enumerate(sets) if f"hob:SET{i}" in bought)
        best = min(
            sum(price for i, (_, price) in enumerate(sets) if mask >> i & 1)
            + sum(
                p
                for n, p in enumerate(prices, 1)
                if not any(mask >> i & 1 and n in members for i, (members, _) in enumerate(sets))
            )
            for mask in range(2 ** len(sets))
        )
        assert ours == best


def test_every_line_can_say_why_back_to_what_was_found() -> None:
    path = path_of(SCORED, UNEVEN_PIN)
    for line in path.kit.lines:
        assert line.needed
        assert line.part is None or line.chosen
        roots = {reason.root.says for reason in line.needed}
        assert all(roots)


def test_lines_are_numbered_by_bag() -> None:
    path = path_of(SCORED, UNEVEN_PIN)
    assert len({line.key for line in path.kit.lines}) == len(path.kit.lines)


def test_the_estimate_prices_each_bought_line_once_and_every_operation() -> None:
    path = path_of(SCORED, UNEVEN_PIN)
    priced = [line.kit_line for line in path.estimate.of(LineKind.PART)]
    assert sorted(priced) == sorted(line.key for line in path.kit.bought)
    works = {line.kit_line for line in path.estimate.of(LineKind.WORK)}
    assert works == {work.operation for work in path.kit.work}


@pytest.mark.parametrize("kind", list(LineKind))
def test_a_line_is_its_quantity_times_its_price(kind: LineKind) -> None:
    for line in path_of(SCORED, UNEVEN_PIN).estimate.of(kind):
        assert line.net == (line.quantity * line.unit_net).quantize(Decimal("0.01"))
