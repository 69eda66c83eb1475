"""The works sheet as the grinder reads it."""

from dataclasses import replace
from pathlib import Path

from kitting.job.path import JobPath
from kitting.sheets.jobs.works_sheet import machinists_of, write_works_sheet
from tests.job.benches import a_finding, read
from tests.sheets.opened import everything_in, rows_of, text_of, the_sheet
from tests.sheets.values import CUSTOMER, a_job, a_ready_job


def written(path: JobPath, folder: Path, machinist: str = "grindwell") -> Path:
    file = folder / "works.xlsx"
    write_works_sheet(path, machinist, file)
    return file


def rows(path: JobPath, folder: Path) -> list[list[str]]:
    return rows_of(the_sheet(written(path, folder)))


def test_each_size_shows_its_limits_and_clearance_likely_and_at_worst(tmp_path: Path) -> None:
    found = rows(a_job(), tmp_path)
    clearance = ["0.0005 in", "0.0025 in"]
    assert ["worn evenly", "-010 grade", "1.4890 in", "1.4895 in", *clearance] in found
    assert ["worn all on one side", "-020 grade", "1.4790 in", "1.4795 in", *clearance] in found


def test_the_readings_stand_by_station_and_direction_as_found(tmp_path: Path) -> None:
    found = rows(a_job(), tmp_path)
    assert ["As found: crankpin diameter", "at 0", "at 90"] in found
    assert ["front", "1.4937 in", "1.4990 in"] in found
    assert ["rear", "1.4935 in", "1.4992 in"] in found
    assert ["Ovality, taper", "0.0057 in at rear, 0.0002 in along 0"] in found


def test_the_grinder_is_told_to_clock_the_crank_before_we_buy(tmp_path: Path) -> None:
    assert "HOLD: clock it between centres first" in text_of(written(a_job(), tmp_path))


def test_a_pin_that_cleans_up_either_way_needs_no_clocking(tmp_path: Path) -> None:
    path = a_job(pin=("1.4960", "1.4962", "1.4961", "1.4962"))
    found = rows(path, tmp_path)
    assert any(row[:2] == ["whichever way it is worn", "-010 grade"] for row in found)
    assert "HOLD" not in text_of(tmp_path / "works.xlsx")


def test_a_pin_that_no_grade_cleans_up_sends_the_grinder_to_us(tmp_path: Path) -> None:
    path = a_job(pin=("1.4700", "1.4990", "1.4700", "1.4990"))
    assert "No size can be chosen: talk to us" in text_of(written(path, tmp_path))


def test_the_finish_note_and_every_operation_with_its_caution_are_there(tmp_path: Path) -> None:
    text = text_of(written(a_job(), tmp_path))
    assert "Keep the fillets." in text
    for operation in ("Regrind", "Rebore", "Crack test"):
        assert f"☐ {operation}, 1 piece" in text
    assert "Caution: Crack test first." in text


def test_the_machinist_gets_job_and_engine_numbers_and_no_customer(tmp_path: Path) -> None:
    found = everything_in(written(a_job(), tmp_path))
    assert "24-001" in found
    assert "WS620" in found
    assert not any(word in found for word in CUSTOMER.split())


def test_a_note_that_names_the_customer_stays_at_home_and_another_goes_along(
    tmp_path: Path,
) -> None:
    def noting(note: str) -> JobPath:
        crank = replace(
            a_finding("crank", *read("crankpin-diameter", "1.4937", "1.4990", "1.4935", "1.4992")),
            note=note,
        )
        return a_job(crank)

    assert "Pitted by the web." in text_of(written(noting("pitted by the web"), tmp_path))
    found = text_of(written(noting("Mrs THISTLEWOOD wants it back"), tmp_path))
    assert "THISTLEWOOD" not in found


def test_a_job_that_is_not_ready_tells_the_machinist_to_ask(tmp_path: Path) -> None:
    assert "2 points open. Ask us before you begin." in text_of(written(a_job(), tmp_path))
    assert "Ask us before" not in text_of(written(a_ready_job(), tmp_path))


def test_each_machinist_gets_his_own_work_and_no_other(tmp_path: Path) -> None:
    path = a_job()
    prices = tuple(
        replace(price, machinist="brook") if price.operation == "rebore" else price
        for price in path.trade.work_prices
    )
    shared = a_job(trade=replace(path.trade, work_prices=prices))
    assert set(machinists_of(shared)) == {"grindwell", "brook"}
    text = text_of(written(shared, tmp_path, "brook"))
    assert "Rebore" in text
    assert "Regrind" not in text


def test_work_without_a_price_still_has_its_sheet(tmp_path: Path) -> None:
    path = a_job()
    prices = tuple(p for p in path.trade.work_prices if p.operation != "crack-test")
    unpriced = a_job(trade=replace(path.trade, work_prices=prices))
    assert "" in machinists_of(unpriced)
    assert "Crack test" in text_of(written(unpriced, tmp_path, ""))
