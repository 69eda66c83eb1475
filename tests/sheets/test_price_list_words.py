"""Words that say for how many a price is: asked about in a title, told in a description."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.price_lists.matching import Known
from kitting.buying.price_lists.wording import described, many_described, many_priced
from kitting.errors import BadInput
from tests.buying.test_price_changes import SEAL, a_row, compare, parts
from tests.sheets.price_lists import TERMS, csv_file, list_of, prices, refused

HEAD = ["Part no", "Description", "Price"]
ROWS = [["K-1", "stud", "15.00"], ["K-2", "nut", "25.00"]]


@pytest.mark.parametrize(
    "line", ["All prices per 100", "Preise je 100 Stück", "Prices are for 100 pieces.", "(per 100)",
             "Prix par 100", "£ per hundred", "Preiseinheit: 100", "All prices in GBP per 100 off"]
)  # fmt: skip
@pytest.mark.parametrize("at", ["above", "below"])
def test_a_unit_in_a_line_of_the_list_is_asked_about(tmp_path: Path, line: str, at: str) -> None:
    rows = [[line], HEAD, *ROWS] if at == "above" else [HEAD, *ROWS, [line]]
    path = csv_file(tmp_path / "list.csv", rows)
    row = 1 if at == "above" else 4
    assert refused(path) == (
        f"list.csv, row {row}: '{line}' stands there, and no column says for how many a price is; "
        "say --per 100, or --per 1 where each price is for one"
    )
    reader, read = list_of(path, terms=replace(TERMS, per=100))
    assert [(each.pack, each.price) for each in read] == [(100, 150000), (100, 250000)]
    assert f"list.csv, row {row}: '{line}'; prices are taken for 100, as was said" in reader.notes
    _, read = list_of(path, terms=replace(TERMS, per=1))
    assert [(each.pack, each.price) for each in read] == [(1, 150000), (1, 250000)]


@pytest.mark.parametrize(
    "line", ["Price list 2027", "All prices each", "Carriage per 100 kg", "Prices for 2027",
             "Price per litre", "Prices plus VAT at 20 %", "Tel. 01632 960 100",
             "Prices held for 30 days", "Prices valid for 90 days", "Prices fixed for 12 months",
             "Prices held for 30-60 days", "Prices firm for 30 (thirty) calendar days",
             "Preise gültig für 30 Tage", "Prix valables pour 30 jours",
             "Prezzi validi per 30 giorni", "Prijzen geldig voor 30 dagen",
             "Orders under £50 carry £5 handling; discount 2.5% for 30 days",
             "Prezzi validi fino al 31 dicembre 2026", "Prices for 15 January 2027",
             "Precios válidos del 1 de enero al 31 de marzo de 2027", "Prijzen per 15 januari 2027",
             "Precios al 15 de diciembre de 2026", "Prezzi dal 1 gennaio al 31 marzo 2027",
             "Tariffa prezzi al 15 gen 2027", "Prices for 31st March"]
)  # fmt: skip
def test_a_line_that_says_nothing_of_the_unit_asks_nothing(tmp_path: Path, line: str) -> None:
    assert many_priced(line) == 0
    assert len(prices(list_of(csv_file(tmp_path / "list.csv", [[line], HEAD, *ROWS]))[1])) == 2


@pytest.mark.parametrize(
    "line", ["Prices held for 30 days, per 100", "Prices per 100, 30 days net",
             "Prices for 15 January 2027 per 100", "Prices per 100 marked studs",
             "Prices per 100 - 30 days net", "Prezzi per 100 a 30 giorni"]
)  # fmt: skip
def test_a_time_beside_a_count_does_not_hide_it(line: str) -> None:
    assert many_priced(line) == 100


def test_a_line_and_a_heading_must_agree(tmp_path: Path) -> None:
    head = ["Part no", "Description", "Price per 100"]
    path = csv_file(tmp_path / "list.csv", [["All prices per 100"], head, *ROWS])
    assert [row.pack for row in list_of(path)[1]] == [100, 100]
    path = csv_file(tmp_path / "other.csv", [["All prices per 10"], head, *ROWS])
    assert "yet the price is headed 'Price per 100'; make them agree" in refused(path)


def test_beside_a_column_of_units_a_line_is_told(tmp_path: Path) -> None:
    rows = [["All prices per 100"], [*HEAD, "Unit"], ["K-1", "stud", "15.00", "100"],
            ["K-2", "nut", "25.00", "each"]]  # fmt: skip
    reader, read = list_of(csv_file(tmp_path / "list.csv", rows))
    assert [row.pack for row in read] == [100, 1]
    (note,) = reader.notes
    assert note.startswith("list.csv, row 1: 'All prices per 100'; each row's own unit is taken")
    with pytest.raises(BadInput):  # the same of a line below the rows
        list_of(csv_file(tmp_path / "list.csv", [HEAD, *ROWS, ["per 100"]]))


@pytest.mark.parametrize(
    ("text", "many"),
    [
        ("Stud per 100", 100), ("Stud (pack of 10)", 10), ("pkt of 10", 10), ("shells (pair)", 2),
        ("shells, pair", 2), ("Dichtung je 100 Stück", 100), ("nuts, box of 50", 50),
        ("sold in pairs", 2), ("nut, 10 off", 10), ("studs (doz.)", 12), ("stud", 0),
        ("piston rings, set of 4", 0), ("oil per 5 l", 0), ("hose per 100 mm", 0),
        ("upper gasket", 0), ("gearbox 4 speed", 0), ("bush 20 off-set", 20), ("price per 1", 0),
    ],
)  # fmt: skip
def test_a_count_in_a_description_is_told_beside_the_row(text: str, many: int) -> None:
    assert many_described(text) == many
    assert described([text, "stud"]) == ({0: many} if many else {})
    known = Known(parts=parts(SEAL))
    report = compare([a_row("W320", 1500, text=text)], known)
    says = f"row 7: W320 is described as '{text}', which speaks of {many}, and GBP 15.00 is taken "
    assert report.remarks == ([f"{says}as the price of 1"] if many else [])
    assert compare([a_row("W320", 1500, text=text, pack=many or 1)], known).remarks == []


WORDS = st.sampled_from(
    """
    stud per je pro pack packs packet pkt pk packung box boxes bag carton bundle lot beutel boîte
    paquet confezione caja of de à x von da with mit 1 2 10 100 pair pairs (pair) (a pr) , pr par)
    (doz.) (paia) (cent) (gross) dozen dutzend hundred tausend in by the pcs off Stück stk upper
    pieces pièces (sold as
    """.split()  # noqa: SIM905 — so many words are read as words
)


@given(st.lists(st.lists(WORDS, max_size=5).map(" ".join), max_size=4))
def test_looking_at_many_descriptions_quickly_finds_what_looking_at_each_does(
    texts: list[str],
) -> None:
    each = {at: many for at, text in enumerate(texts) if (many := many_described(text))}
    assert described(texts) == each
