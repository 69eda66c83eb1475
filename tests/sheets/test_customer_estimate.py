"""The estimate as the customer reads it."""

from pathlib import Path

from kitting.job.path import JobPath
from kitting.sheets.jobs.customer_estimate import write_customer_estimate
from tests.sheets.opened import everything_in, text_of, the_sheet
from tests.sheets.values import CUSTOMER, a_job, a_ready_job


def written(path: JobPath, folder: Path) -> Path:
    file = folder / "estimate.xlsx"
    write_customer_estimate(path, file)
    return file


def test_it_names_the_customer_the_job_and_the_engine(tmp_path: Path) -> None:
    text = text_of(written(a_job(), tmp_path))
    for said in (CUSTOMER, "24-001", "Wren single, Wren Mark 2", "WS620", "2 May 2024"):
        assert said in text


def test_the_customer_never_sees_what_the_shop_pays_nor_where_it_buys(tmp_path: Path) -> None:
    path = a_job()
    found = everything_in(written(path, tmp_path)).casefold()
    for supplier in path.trade.suppliers:
        assert supplier.name.casefold() not in found
    for line in path.estimate.lines:
        if line.quote is not None:
            assert f">{line.quote.offer.their_number.casefold()}<" not in found
            assert line.cost < line.net
    asked = {line.unit_net for line in path.estimate.lines} | {
        line.net for line in path.estimate.lines
    }
    for cost in {line.cost for line in path.estimate.lines} - asked:
        assert f">{cost}<" not in found
    for set_ in path.kit.sets:
        assert set_.because.says.casefold() not in found


def test_not_ready_is_said_at_the_head_and_each_open_point_is_listed(tmp_path: Path) -> None:
    text = text_of(written(a_job(), tmp_path))
    assert text.count("NOT ready to order: 2 points open.") == 2
    assert "relief spring: not looked at." in text
    assert "oil pump: check asked for." in text


def test_ready_is_said_too(tmp_path: Path) -> None:
    text = text_of(written(a_ready_job(), tmp_path))
    assert "Ready to order." in text
    assert "NOT" not in text


def test_what_is_held_is_named_with_both_sizes_and_the_reason(tmp_path: Path) -> None:
    text = text_of(written(a_job(), tmp_path))
    assert "shell W110: -010 grade, or at worst -020 grade" in text
    assert "hold until the machinist has looked" in text


def test_a_lapsed_price_is_flagged_on_its_line(tmp_path: Path) -> None:
    sheet = the_sheet(written(a_job(), tmp_path))
    bolt = next(row for row in sheet.iter_rows() if row[0].value == "bolt W140")
    assert "price lapsed on 2024-03-31: confirm" in str(bolt[1].value)


def test_the_worst_case_stands_beside_the_likely_one_with_the_difference(tmp_path: Path) -> None:
    path = a_job()
    sheet = the_sheet(written(path, tmp_path))
    shell = next(row for row in sheet.iter_rows() if row[0].value == "shell W110, -010 grade")
    line = next(each for each in path.estimate.lines if each.text == "shell W110, -010 grade")
    assert str(shell[7].value) == str(line.worst_net - line.net)
    assert str(shell[8].value) == f"=ROUND(SUM(G{shell[0].row}:H{shell[0].row}),2)"


def test_a_customer_whose_name_begins_like_a_formula_is_written_as_a_name(tmp_path: Path) -> None:
    sheet = the_sheet(written(a_job(customer="=1+1"), tmp_path))
    assert sheet["A1"].value == "Estimate for =1+1"
    assert sheet["A1"].data_type == "s"


def test_only_sums_are_formulas(tmp_path: Path) -> None:
    sheet = the_sheet(written(a_job(), tmp_path))
    formulas = [cell for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]
    assert formulas
    assert {cell.coordinate[0] for cell in formulas} == {"G", "I"}
