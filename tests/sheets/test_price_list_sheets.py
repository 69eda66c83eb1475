"""A workbook of several sheets: the columns of each are shown, remembered, and given by hand."""

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from kitting.sheets.price_lists.by_sheet import by_columns, by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Column, Field
from kitting.sheets.price_lists.fields import Mapping as Columns
from tests.sheets.price_lists import list_of, prices, refused, workbook

TRADE: list[list[object]] = [["Part no", "Trade price"], ["K-1", 3], ["K-2", 4]]
MORE: list[list[object]] = [["Code", "What", "Cost"], ["K-8", "stud", 3.6], ["K-9", "nut", 4.8]]
RETAIL: list[list[object]] = [["Part no", "RRP inc VAT"], ["K-8", 3.6], ["K-9", 4.8]]


def test_the_columns_of_a_further_sheet_are_shown_where_they_differ(tmp_path: Path) -> None:
    path = workbook(tmp_path / "list.xlsx", Trade=TRADE, More=MORE, Again=TRADE)
    reader, rows = list_of(path)
    assert len(prices(rows)) == 6
    first, other = by_columns(reader.sheets)
    assert (first.sheets, other.sheets) == (("Trade", "Again"), ("More",))
    assert [(c.field, c.letter, c.heading) for c in other.columns.shown] == [
        (Field.NUMBER, "A", "Code"), (Field.PRICE, "C", "Cost"),
    ]  # fmt: skip
    assert other.columns.left == ("What",)


def test_each_sheet_is_remembered_by_its_name(tmp_path: Path) -> None:
    blue: list[list[object]] = [["Part no", "Red", "Blue"], ["K-8", 3.6, 3.1], ["K-9", 4.8, 4.1]]
    path = workbook(tmp_path / "list.xlsx", Trade=TRADE, More=blue)
    reader, rows = list_of(path, "price@more=Blue")
    assert prices(rows)[2:] == [("K-8", 31000), ("K-9", 41000)]
    remembered = remembered_by_sheet(reader.sheets)
    assert remembered["price"] == "Trade price"
    assert remembered["price@More"] == "Blue"
    first, others = by_sheet(remembered)
    again, same = list_of(path, remembered=first, remembered_of=others)
    assert prices(same) == prices(rows)
    assert {c.how for _, columns in again.sheets for c in columns.columns} == {"as last time"}


def test_a_worse_price_on_a_further_sheet_is_asked_about(tmp_path: Path) -> None:
    path = workbook(tmp_path / "list.xlsx", Trade=TRADE, More=RETAIL)
    assert refused(path) == (
        "list.xlsx, sheet More, column B: 'RRP inc VAT' is the only price found, where the first "
        "sheet has 'Trade price'; if it is to be taken: --map \"price@More=RRP inc VAT\"; to leave "
        'the sheet out: --map "price@More=none"'
    )
    assert len(prices(list_of(path, "price@More=RRP inc VAT")[1])) == 4
    reader, rows = list_of(path, "price@More=none")
    assert prices(rows) == [("K-1", 30000), ("K-2", 40000)]
    assert "sheet More: left out, as --map says" in reader.notes


def test_a_mapping_by_hand_that_does_not_fit_a_sheet_is_told_with_that_sheet(
    tmp_path: Path,
) -> None:
    path = workbook(tmp_path / "list.xlsx", Trade=TRADE, More=MORE)
    assert refused(path, "price=Trade price") == (
        "list.xlsx, sheet More, --map: no column is headed 'Trade price'; use one of Code, What, "
        'Cost; for this sheet alone write --map "price@More=…" or "price@More=none"'
    )
    assert len(prices(list_of(path, "price=Trade price, price@More=Cost")[1])) == 4
    assert "there is no sheet 'Mor'; did you mean 'More'?" in refused(path, "price@Mor=Cost")


def test_a_question_about_a_further_sheet_is_answered_for_that_sheet_alone(tmp_path: Path) -> None:
    packs: list[list[object]] = [["Part no", "Pack", "Price"], ["K-1", 10, 3], ["K-2", 1, 4]]
    counts: list[list[object]] = [["Code", "Qty", "Price"], ["K-8", 10, 3.6], ["K-9", 1, 4.8]]
    path = workbook(tmp_path / "list.xlsx", Trade=packs, More=counts)
    assert refused(path) == (
        "list.xlsx, sheet More, column B: are the prices for so many as 'Qty' says?; say so: "
        '--map "pack@More=Qty" if they are, --map "quantity@More=Qty" if they hold from so many '
        'on, --map "pack@More=none" if each is for one'
    )
    assert [row.pack for row in list_of(path, "pack@More=Qty")[1]] == [10, 1, 10, 1]
    reader, rows = list_of(path, "pack@More=none")
    assert [row.pack for row in rows] == [10, 1, 1, 1]
    first, others = by_sheet(remembered_by_sheet(reader.sheets))
    assert others["More"][Field.PACK] == "none: Qty"
    again = list_of(path, remembered=first, remembered_of=others)[1]
    assert [row.pack for row in again] == [10, 1, 1, 1]


def test_a_question_about_the_first_of_several_sheets_is_of_that_sheet_alone(
    tmp_path: Path,
) -> None:
    counts: list[list[object]] = [["Code", "Qty", "Price"], ["K-8", 10, 3.6], ["K-9", 1, 4.8]]
    packs: list[list[object]] = [["Part no", "Pack", "Price"], ["K-1", 10, 3], ["K-2", 1, 4]]
    path = workbook(tmp_path / "list.xlsx", Trade=counts, More=packs)
    assert '--map "pack@Trade=none" if each is for one' in refused(path)
    assert [row.pack for row in list_of(path, "pack@Trade=none")[1]] == [1, 1, 10, 1]
    alone = workbook(tmp_path / "one.xlsx", Trade=counts)
    assert "--map pack=none if each is for one" in refused(alone)


def test_whose_numbers_a_further_sheet_has_is_answered_for_that_sheet_alone(tmp_path: Path) -> None:
    blue: list[list[object]] = [["Code", "Blue", "Cost"], ["N1", "K-1", 3.6], ["N2", "K-2", 4.8]]
    path = workbook(tmp_path / "list.xlsx", Trade=TRADE, More=blue)
    known = ("K1", "K2")
    said = refused(path, known=known)
    assert "sheet More, column B: " in said
    assert '--map "part@More=Blue" if they are' in said
    assert '--map "part@More=none" if they say nothing' in said
    assert len(list_of(path, "part@More=none", known=known)[1]) == 4


HEADINGS = st.dictionaries(st.sampled_from(Field), st.text(min_size=1, max_size=6), max_size=4)


@given(st.dictionaries(st.text(max_size=5), HEADINGS, min_size=1, max_size=4))
def test_what_is_remembered_of_every_sheet_comes_back(sheets: dict[str, dict[Field, str]]) -> None:
    read = [
        (name, Columns(tuple(Column(f, at, text, "") for at, (f, text) in enumerate(said.items()))))
        for name, said in sheets.items()
    ]
    first, others = by_sheet(remembered_by_sheet(read))
    names = [*sheets]
    assert first == sheets[names[0]]
    for name in names[1:]:
        assert others.get(name, first) == sheets[name] or not sheets[name]
