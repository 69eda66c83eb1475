"""What a row of fits.csv without a grade means, and what the kit says of links that disagree."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

import pytest

from kitting.catalog.check import check_family
from kitting.catalog.family import Family
from kitting.catalog.model import Fit, Link, LinkKind
from kitting.catalog.resolver import resolve, subgraph_about
from kitting.catalog.trade import Trade
from kitting.catalog.ways import Need
from kitting.job.kit import KitLine
from kitting.job.path import JobPath, walk
from kitting.job.pricing import Market
from kitting.job.sourcing import Sourcing
from tests.builders import a_fit, a_link, number
from tests.job.benches import JOB, a_bench, a_finding, read
from tests.wren import tiny_family, tiny_trade

FAMILY, TRADE, DAY = tiny_family(), tiny_trade(), date(2024, 5, 2)
ONE_WAY = LinkKind.ONE_WAY
SCORED = a_finding("shells", seen=(("scoring", "deep"),))
GROUND = a_finding("crank", *read("crankpin-diameter", "1.4892", "1.4891", "1.4892", "1.4891"))


def line_of(family: Family, position: str, trade: Trade = TRADE) -> KitLine:
    path = walk(family, trade, a_bench(SCORED, GROUND), DAY)
    return next(line for line in path.kit.lines if position in line.positions)


def with_shells(*rows: Fit) -> Family:
    others = tuple(fit for fit in FAMILY.fits if fit.position != "shells")
    return replace(FAMILY, fits=(*others, *rows))


def any_size(part: str) -> Fit:
    return a_fit("shells", part, "", 1)


UNEVEN = ("1.4992", "1.4925", "1.4991", "1.4990")


class TestARowWithoutAGrade:
    """It serves at every grade: for the kit, for the resolver and for the catalogue's check."""

    @pytest.mark.parametrize("grade", ["std", "-002", "-010", "-020"])
    def test_kit_resolver_and_check_agree_at_every_grade(self, grade: str) -> None:
        family = with_shells(any_size("hob:W120"))
        position, table = family.position_by_key["shells"], family.table_by_key["crankpin"]
        wanted = next(each for each in table.grades if each.key == grade)
        sourcing = Sourcing(family, JOB, Market(TRADE, DAY))
        supply = sourcing.supply(position, wanted)
        need = Need(number("hob:W120"), 1, "shells", "mark-2", 620, grade, whole=True)
        best = resolve(need, subgraph_about(family, need.part, "shells"), DAY).best
        assert supply is not None
        assert best is not None
        assert supply.parts == best.parts == ((number("hob:W120"), 1),)
        assert sourcing.obtainable(table, wanted)
        told = [each.wrong for each in check_family(family, {}).warnings]
        assert sum("has no grade: it is taken at every one" in each for each in told) == 1
        assert not any("no part for shells" in each for each in told)

    def test_the_kit_line_says_that_its_row_names_no_grade(self) -> None:
        line = line_of(with_shells(any_size("hob:W120")), "shells")
        assert (line.part, line.grade) == (number("hob:W120"), "-010 grade")
        assert any("its row names no grade: at every one" in step.says for step in line.chosen)

    def test_a_part_of_the_grade_itself_is_taken_before_it_though_dearer(self) -> None:
        graded = a_fit("shells", "hob:W110", "-010", 1)
        line = line_of(with_shells(any_size("hob:W102"), graded), "shells")
        assert line.part == number("hob:W110")
        assert {number("hob:W102"), number("hob:W110")} <= line.serves

    def test_where_the_part_of_the_grade_is_not_to_be_had_it_serves(self) -> None:
        graded = a_fit("shells", "hob:W110", "-010", 1)
        trade = replace(TRADE, offers=tuple(o for o in TRADE.offers if o.part != graded.part))
        line = line_of(with_shells(any_size("hob:W102"), graded), "shells", trade)
        assert line.part == number("hob:W102")


def linked(*links: Link) -> Family:
    return replace(FAMILY, links=(*FAMILY.links, *links))


DISAGREEING = (
    a_link("r1", ONE_WAY, "hob:W140", "hob:W320"),
    a_link("r2", ONE_WAY, "hob:W140", "hob:W320", new_quantity=3),
)
CIRCLE = (
    a_link("r1", LinkKind.SUPERSEDED, "hob:W140", "hob:W321"),
    a_link("r2", LinkKind.SUPERSEDED, "hob:W321", "hob:W140"),
)


class TestLinksThatContradictEachOther:
    """The kit says so beside the line, whether a number could be chosen or not."""

    def test_a_line_whose_links_disagree_on_how_many_says_so(self) -> None:
        line = line_of(linked(*DISAGREEING), "rod-bolts")
        assert line.part is not None
        assert line.wrong_in_data == (
            "hob:W320: by hob:W140 → hob:W320 it takes 6 of it, by another chain 2; the quantities "
            "of these links disagree; the shorter chain is given",
        )

    def test_a_line_without_a_part_says_that_its_links_go_in_a_circle(self) -> None:
        line = line_of(linked(*CIRCLE), "rod-bolts")
        assert line.part is None
        (wrong,) = line.wrong_in_data
        assert "supersessions in a circle: hob:W140 → hob:W321 → hob:W140" in wrong

    def test_lines_joined_into_one_keep_what_each_of_them_says(self) -> None:
        more = replace(FAMILY.position_by_key["rod-bolts"], key="cap-bolts", name="cap bolts")
        family = linked(*DISAGREEING)
        family = replace(
            family,
            positions=(*family.positions, more),
            fits=(*family.fits, a_fit("cap-bolts", "hob:W140", "", 1)),
        )
        line = line_of(family, "cap-bolts")
        assert line.positions == ("rod-bolts", "cap-bolts")
        assert [each.partition("it takes ")[2][0] for each in line.wrong_in_data] == ["6", "3"]

    def test_a_held_line_says_what_is_wrong_at_its_worst_size_too(self) -> None:
        at_worst = tuple(
            replace(each, old=number("hob:W120"), with_grade="-020") for each in DISAGREEING
        )
        uneven = a_finding("crank", *read("crankpin-diameter", *UNEVEN))
        path = walk(linked(*at_worst), TRADE, a_bench(uneven), DAY)
        assert list(told(path)) == ["shells"]

    def test_nothing_is_said_of_the_lines_whose_links_agree(self) -> None:
        path = walk(linked(*DISAGREEING), TRADE, a_bench(SCORED, GROUND), DAY)
        assert list(told(path)) == ["rod-bolts"]


def told(path: JobPath) -> Iterable[str]:
    """The positions of the lines beside which something is said."""
    return (key for line in path.kit.lines if line.wrong_in_data for key in line.positions)
