"""What the shop pays is known by every usual word for it, in a text file and in a workbook."""

from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest

from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import csv_file, fields, list_of, prices, refused, workbook

RETAIL = (
    "RRP|Retail|UVP|VK|SRP|MSRP|Listenpreis|Listino|PVP|Prix public|List|Catalogue price|Brutto"
    "|Retail price|Price inc VAT|Prix TTC|Preis inkl.|Adviesprijs"
)
GROSS_AND_NET = (
    "Price|Nett;List|Nett £;List Price|Nett;Retail price|Your nett;Retail|Dealer;RRP|Your cost"
    ";Catalogue price|Wholesale;VK-Preis|EK;Prijs|Inkoop;Prezzo listino|Netto;Prix public|PU HT"
    ";Listenpreis|EK;Listenpreis|EK netto;UVP|Netto;Bruttopreis|Netto;VK netto €|EK netto €"
    ";PVP|Neto;Adviesprijs|Netto EUR"
)
ALONE = (
    "Netto|Nett|£|€|GBP|EUR|EK|EK netto|Netto EUR|Your nett|PU HT|Tarif|Betrag|Importo|Montant|UVP"
    "|VK|Dealer|Wholesale|SRP|Amount|Inkoop|Цена"
)
AMOUNTS = ((1.25, 2), (2.5, 3), (3, 4), (4, 5), (100, 120.5))


def book(path: Path, rows: list[list[object]]) -> Path:
    made = openpyxl.Workbook()
    sheet = made.active
    assert sheet is not None
    for row in rows:
        sheet.append(row)
    made.save(path)
    return path


def rows_of(*headings: str) -> list[list[object]]:
    rows = [[f"K-{at}", "Stud", *amounts] for at, amounts in enumerate(AMOUNTS, 101)]
    return [["Part No", "Description", *headings], *(row[: 2 + len(headings)] for row in rows)]


@pytest.mark.parametrize("said", GROSS_AND_NET.split(";"))
def test_the_net_price_goes_before_a_gross_one_whatever_it_is_called(
    tmp_path: Path, said: str
) -> None:
    gross, net = said.split("|")
    for headings in ((gross, net), (net, gross)):
        rows = rows_of(*headings)
        for path in (csv_file(tmp_path / "l.csv", rows), book(tmp_path / "l.xlsx", rows)):
            assert fields(list_of(path)[0])[Field.PRICE] == net


@pytest.mark.parametrize("heading", ALONE.split("|"))
def test_a_price_alone_is_found_by_every_usual_heading(tmp_path: Path, heading: str) -> None:
    rows = rows_of(heading)
    for path in (csv_file(tmp_path / "l.csv", rows), book(tmp_path / "l.xlsx", rows)):
        reader, found = list_of(path)
        assert fields(reader)[Field.PRICE] == heading
        assert prices(found)[:2] == [("K-101", 12500), ("K-102", 25000)]


@pytest.mark.parametrize("beside", ["£", "EUR", "Amount", "Tarif"])
def test_money_that_nothing_is_said_of_beside_a_retail_price_is_asked_about(
    tmp_path: Path, beside: str
) -> None:
    assert "columns C and D: any of them" in refused(
        csv_file(tmp_path / "l.csv", rows_of("RRP", beside))
    )
    path = csv_file(tmp_path / "l.csv", rows_of("Price", beside))
    assert fields(list_of(path)[0])[Field.PRICE] == "Price"


@pytest.mark.parametrize(
    "beside", ["Net weight", "Your ref", "Trade group", "List page", "Dealer no", "Netto kg", "RG"]
)
def test_what_is_no_price_is_not_taken_for_what_the_shop_pays(tmp_path: Path, beside: str) -> None:
    path = csv_file(tmp_path / "l.csv", rows_of("Price", beside))
    assert fields(list_of(path)[0])[Field.PRICE] == "Price"


@pytest.mark.parametrize(
    ("headings", "what"),
    [
        (["Blurb", "Price"], "no column of numbers"),
        (["Part No", "Blurb"], "no column of prices"),
        (["Blurb", "Other"], "no column of numbers and none of prices"),
    ],
)
def test_what_a_list_lacks_is_said(tmp_path: Path, headings: list[str], what: str) -> None:
    path = csv_file(tmp_path / "l.csv", [headings, ["good", "odd"], ["fair", "even"]])
    said, _, seen = refused(path).partition("; seen: ")
    assert said in {f"l.csv: {what} was found", f"l.csv: {what} were found"}
    assert seen.startswith(", ".join(f"'{heading}'" for heading in headings))


@pytest.mark.parametrize("cells", [("1,25", "2,25"), ("12", "22")])
def test_pu_is_a_price_for_one_and_no_size_of_a_pack(
    tmp_path: Path, cells: tuple[str, str]
) -> None:
    rows = [["Réf", "PU", "Colisage"], ["K-1", cells[0], "10"], ["K-2", cells[1], "1"]]
    reader, found = list_of(csv_file(tmp_path / "list.csv", rows, ";"))
    assert fields(reader)[Field.PRICE] == "PU"
    assert [row.pack for row in found] == [10, 1]
    assert found[0].price == 100_000 * Decimal(cells[0].replace(",", "."))


def test_pu_beside_another_price_is_asked_about(tmp_path: Path) -> None:
    rows = [["Réf", "PU", "Prix"], ["K-1", "12", "24"], ["K-2", "22", "44"]]
    said = refused(csv_file(tmp_path / "list.csv", rows))
    assert "any of them ('PU', 'Prix') may be the price" in said


@pytest.mark.parametrize(
    "heading",
    RETAIL.split("|"),
)
def test_a_price_that_customers_pay_is_told_where_it_is_the_only_one(
    tmp_path: Path, heading: str
) -> None:
    rows: list[list[object]] = [["Code", heading], ["K-1", 2.5], ["K-2", 3.5]]
    reader, found = list_of(workbook(tmp_path / "list.xlsx", List=rows))
    assert prices(found) == [("K-1", 25000), ("K-2", 35000)]
    assert f"'{heading}' sounds like more than what the shop pays" in reader.notes


@pytest.mark.parametrize("heading", ["Net price", "EK", "Price ex VAT", "PU HT", "Price", "£"])
def test_a_price_that_the_shop_pays_is_told_nothing_of(tmp_path: Path, heading: str) -> None:
    rows: list[list[object]] = [["Code", heading], ["K-1", 2.5], ["K-2", 3.5]]
    assert list_of(workbook(tmp_path / "list.xlsx", List=rows))[0].notes == []
