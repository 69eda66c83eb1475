"""What the works sheet says of fits: one band or one a journal, what it rests on, bushes."""

from dataclasses import replace
from pathlib import Path

from kitting.catalog.trade import Operation
from kitting.engineering.band import Band
from kitting.job.because import Because
from kitting.job.findings import Finding
from kitting.job.path import JobPath, walk
from kitting.job.pin_bores import PinBore
from kitting.sheets.jobs.works_sheet import write_works_sheet
from kitting.sheets.jobs.works_suits import order_of_work, pin_figures, without_order
from tests.builders import a_feature, a_position, q
from tests.job.benches import DAY, a_bench
from tests.job.fitting_bench import FAMILY, crank, rod, shells
from tests.sheets.opened import rows_of, the_sheet
from tests.wren import tiny_trade


def a_path(*findings: Finding) -> JobPath:
    trade = tiny_trade()
    more = Operation("regrind-main", "Regrind main journal", "Grind to the size on the sheet")
    price = replace(trade.work_prices[0], operation="regrind-main")
    wider = replace(
        trade,
        operations=(*trade.operations, more),
        work_prices=(*trade.work_prices, price),
    )
    return walk(FAMILY, wider, a_bench(*findings), DAY)


def rows(path: JobPath, folder: Path) -> list[list[str]]:
    file = folder / "works.xlsx"
    write_works_sheet(path, "grindwell", file)
    return rows_of(the_sheet(file))


def test_the_band_to_grind_to_follows_the_rod_and_says_so(tmp_path: Path) -> None:
    found = rows(a_path(crank(), rod("1.6252")), tmp_path)
    band = ["whichever way it is worn", "-010 grade", "1.4889 in", "1.4895 in"]
    assert any(row[:4] == band for row in found)
    assert ["Worked from", "partly measured, the rest by drawing"] in found
    assert ["eye: measured 1.6252 in, U 0.0002 in"] in [row[-1:] for row in found]


def test_with_nothing_measured_it_says_drawings_alone(tmp_path: Path) -> None:
    found = rows(a_path(crank()), tmp_path)
    assert any(row[0] == "Worked from" and "drawings alone" in row[1] for row in found)


def test_shells_of_another_grade_are_pointed_out(tmp_path: Path) -> None:
    found = rows(a_path(crank(), rod("1.6252"), shells("0.0623", "0.0623")), tmp_path)
    assert any(row[0] == "Mind" and "not counted" in row[1] for row in found)


def test_the_order_of_work_is_a_list_to_tick() -> None:
    notes = ("Grind on the original centre.", "Order of work: crack test, trap out, grind.")
    assert order_of_work(notes) == ("crack test", "trap out", "grind")
    assert without_order(notes) == ("Grind on the original centre.",)


def test_a_note_without_an_order_has_none() -> None:
    assert order_of_work(("Keep the fillets.",)) == ()


def test_a_metric_pin_is_told_in_whole_micrometres_rounded_outward() -> None:
    """21.990 and 21.992 mm by a micrometer good to .0001 in, which is 2.54 µm."""
    pin = a_feature("pin", "rod", "diameter", unit="mm")
    band = Band(q("21.98746 mm"), q("21.99454 mm"))
    wanted, bore = Band(q("0.012 mm"), q("0.034 mm")), Band(q("22.007 mm"), q("22.021 mm"))
    bush = a_position("bush", "top-end", "bush")
    found = PinBore(bush, pin, band, measured=True, wanted=wanted, bore=bore, because=Because(""))
    assert list(pin_figures(found)) == [
        "pin: 21.987 mm to 21.995 mm, as measured",
        "ream to 22.007 mm to 22.021 mm after fitting, for a clearance of 0.012 mm to 0.034 mm",
    ]
    nothing = replace(found, bore=None, measured=False)
    assert "no one bore gives 0.012 mm to 0.034 mm all along it: ask us" in pin_figures(nothing)
