"""A line that says that prices are with VAT, or retail, is told as a heading that says so is."""

from pathlib import Path

import pytest

from tests.sheets.price_lists import csv_file, list_of, workbook

ROWS: list[list[object]] = [["K-1", "Stud", 1.25], ["K-2", "Nut", 2.5]]
TAXED = (
    "Prices include VAT at 20%|Preise inkl. 19% MwSt.|Prix TTC|Prezzi IVA inclusa"
    "|Precios con IVA incluido|Prijzen inclusief btw|Priser inkl. moms|Alle Preise inklusive der "
    "gesetzlichen MwSt.|Les prix comprennent la TVA|Ceny z VAT|Bruttopreise"
    "|VAT included|incl. VAT|(inc. VAT)|All incl. VAT|inkl. MwSt.|VAT @ 20% included"
    "|Bruttopreisliste|Prices ex works, VAT included"
)
RETAIL = (
    "All prices are retail - trade less 30%|Trade list 2027 - all prices subject to 20% trade "
    "discount|Recommended retail prices|All prices less 35%|Alle Preise abzgl. 20 % Rabatt"
    "|UVP-Preisliste|Prix publics conseillés|Prezzi di listino|Adviesprijzen|Prices before discount"
    "|Discount 35% off all prices|Your terms: 35% discount off these prices|20% off list"
    "|All prices attract 20% discount|35% Rabatt auf alle Preise|Remise de 35% sur tous les prix"
    "|Your discount off these prices is 35%"
)
SILENT = (
    "Prices exclude VAT|Prices do not include VAT|Alle Preise zzgl. 19% MwSt.|Prix HT|Prezzi IVA "
    "esclusa|Precios IVA no incluido|Prices plus VAT|Prices subject to VAT|Prices less 2% for cash"
    "|Prices after 20% trade discount|Trade price list 2027|Prices subject to change|Price list "
    "prices from 1/1/27|Our prices include carriage"
    "|Prices ex. VAT incl. carriage|Preise zzgl. 19% MwSt. inkl. Verpackung"
    "|Prices + VAT incl carriage|Carriage incl. VAT|VAT not included"
    "|2% discount on all prices for payment in 10 days"
    "|5% discount off all prices for orders over £500|20% VAT on all prices"
    "|5% surcharge on all prices|Prices after 35% discount off list|10% off your next order"
)


def notes(tmp_path: Path, line: str, heading: str = "Price") -> list[str]:
    """What is told of a line above a list and below it."""
    rows: list[list[object]] = [["Code", "Item", heading], *ROWS]
    above, _ = list_of(csv_file(tmp_path / "l.csv", [[line], [], *rows]))
    below, _ = list_of(workbook(tmp_path / "l.xlsx", Prices=[*rows, [], [line]]))
    return [note for note in (*above.notes, *below.notes) if "stands there" in note]


@pytest.mark.parametrize("line", (TAXED + "|" + RETAIL).split("|"))
def test_a_line_that_prices_are_more_than_what_is_paid_is_told(tmp_path: Path, line: str) -> None:
    says = f"'{line[:60]}' stands there: that sounds like more than what the shop pays"
    told = [f"l.csv, row 1: {says}", f"l.xlsx, sheet Prices, row 5: {says}"]
    assert notes(tmp_path, line) == told


@pytest.mark.parametrize("line", SILENT.split("|"))
def test_prices_before_tax_or_after_their_discount_need_no_word(tmp_path: Path, line: str) -> None:
    assert notes(tmp_path, line) == []


def test_a_price_whose_own_heading_answers_the_line_needs_no_word(tmp_path: Path) -> None:
    assert notes(tmp_path, "Trade and retail price list", "Trade") == []
    assert notes(tmp_path, "Retail prices include VAT", "Net") == []
    assert notes(tmp_path, "Prices include VAT", "Price ex VAT") == []
    assert len(notes(tmp_path, "Prices include VAT", "Trade")) == 2
