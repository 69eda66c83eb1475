"""Money in sheets: formats by currency, and halves that round up in every program."""

from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

from kitting.sheets.files import save_workbook
from kitting.sheets.money import half_up, money_format, percent_format, price_format, times
from kitting.sheets.outgoing import Formula, OutgoingWorkbook
from kitting.sheets.page import Column, Kind, Page
from tests.builders import A_DAY
from tests.sheets.reckoners import RECKONERS, our_results

_PENNY = Decimal("0.01")


def _halves() -> list[tuple[Decimal, Decimal]]:
    """Hours and rates whose product falls just on half a penny."""
    hours = [Decimal(n).scaleb(-2) for n in range(5, 400, 35)]
    rates = [Decimal(n).scaleb(-2) for n in range(1010, 9000, 130)]
    return [(h, r) for h in hours for r in rates if h * r * 1000 % 10 == 5]


@pytest.mark.parametrize("reckoner", sorted(RECKONERS))
def test_half_a_penny_rounds_up_in_every_program(reckoner: str, tmp_path: Path) -> None:
    book = OutgoingWorkbook("halves", "the shop", A_DAY)
    page = Page(book, "Halves", (Column("a", 9, Kind.AMOUNT),) * 4)
    for hours, rate in _halves():
        net = (hours * rate).quantize(_PENNY, ROUND_HALF_UP)
        row = page.row + 1
        sums = times(f"A{row}", f"B{row}", (hours, rate), "GBP"), half_up(f"A{row}*B{row}", "GBP")
        page.put((hours, rate, *(Formula(each, net) for each in sums)))
    page.finish("")
    file = tmp_path / "halves.xlsx"
    save_workbook(book, file)
    ours = our_results(file)
    assert len(ours) > 200
    assert RECKONERS[reckoner]([file], tmp_path)[0] == ours


def test_an_amount_shows_the_sign_and_the_decimals_of_its_currency() -> None:
    assert money_format("GBP") == '"£"#,##0.00'
    assert money_format("JPY") == '"JPY "#,##0'
    assert money_format("KWD") == '"KWD "#,##0.000'


def test_a_price_shows_all_its_decimals() -> None:
    assert price_format("GBP", Decimal("0.1250")) == '"£"#,##0.000'
    assert price_format("GBP", Decimal("12")) == '"£"#,##0.00'
    assert price_format("JPY", Decimal("1.5")) == '"JPY "#,##0.0'


def test_a_rate_of_vat_shows_as_it_is_said() -> None:
    assert percent_format(Decimal("20.00")) == '0" %"'
    assert percent_format(Decimal("17.5")) == '0.0" %"'
