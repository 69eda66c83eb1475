"""Where a command writes: a folder takes the file by its usual name, and no answer is a fault."""

from pathlib import Path

import pytest

from tests.journeys.shop import Shop

JOB = "26-041"


@pytest.mark.parametrize("folder", [".", "papers", ""])
@pytest.mark.parametrize(
    ("words", "name"),
    [
        (("order", "sheet", "P1001"), "order-P1001.xlsx"),
        (("order", "csv", "P1001"), "order-P1001.csv"),
        (("order", "xml", "P1001", "--as", "ubl"), "ubl-P1001.xml"),
        (("order", "delivery-sheet", "P1001"), "delivery-P1001.xlsx"),
        (("strip", "sheet", JOB), f"{JOB}-strip-sheet.xlsx"),
        (("build", "sheet", JOB), f"{JOB}-build-sheet.xlsx"),
    ],
)
def test_a_folder_takes_the_file_by_its_usual_name(
    ordered: Shop, words: tuple[str, ...], name: str, folder: str
) -> None:
    (ordered.folder / "papers").mkdir()
    said = ordered.types(*words, "--to", folder)
    assert f"written: {Path(folder) / name}" in said
    assert (ordered.folder / folder / name).is_file()
    assert not (ordered.folder / "exports").exists()


@pytest.mark.parametrize("folder", [".", "", "..", "/"])
@pytest.mark.parametrize(
    "words",
    [
        ("bags", JOB, "--labels"),
        ("catalog", "export", "corvane-650", "--to"),
        ("catalog", "export", "corvane-650", "--overwrite", "--to"),
        ("catalog", "trace", "C61-1067", "--svg"),
        ("doctor", "--backup"),
    ],
)
def test_a_folder_is_refused_where_a_file_has_no_usual_name(
    ordered: Shop, words: tuple[str, ...], folder: str
) -> None:
    said = ordered.refuses(*words, folder)
    assert any(
        each in said for each in ("this is a folder", "is a directory", "name it labels.pdf")
    )
    assert {each.name.partition("-")[0] for each in ordered.folder.iterdir()} == {"shop.sqlite"}


@pytest.mark.parametrize("words", [("sheets", JOB), ("strip", "sheet", JOB), ("demo",)])
def test_a_file_where_a_folder_should_be_is_told(ordered: Shop, words: tuple[str, ...]) -> None:
    (ordered.folder / "taken").write_text("a file")
    target = "taken/more/x.xlsx"
    said = ordered.refuses(*words, "--to", target)
    assert "choose another folder" in said
