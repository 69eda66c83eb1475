"""The maker's number beside the supplier's own: known by its heading, else asked, never guessed."""

from pathlib import Path

import pytest

from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.likeness import likeness_of
from tests.sheets.price_lists import csv_file, fields, list_of, refused

KNOWN = {f"K{at}" for at in range(100, 200)}
BY_LANGUAGE = {
    "English": "Maker's No.|Makers No|Makers' No|Mfr No|Mfr. Part No|Mfg P/N|Manufacturer's No."
    "|Manufacturers Number|Maker's part number|Makers Ref|Original No|Orig. No.|OE|OE No.|O.E. No"
    "|OE Ref|OEM ref|OEM #|Genuine No|Genuine part no|Factory part number|MPN|Manuf. code"
    "|Manufacturer Item No|Man. Part No.|Maker No|Part No (maker)"
    "|Number of the maker|OE/OEM number",
    "German": "Hersteller-Nr.|Herstellernr|Herst.-Nr.|Herst. Teile-Nr.|Herstellerteilenummer"
    "|Hersteller Artikelnummer|Orig. Nr.|Original-Nr.|Originalnummer|Originalteilenummer"
    "|Original-Teilenr.|OE-Nr.|OEM-Nummer|OE-Nummern|Werksnummer|Nummer des Herstellers"
    "|Original-Ersatzteilnummer",
    "French": "Réf. constructeur|Référence fabricant|N° constructeur|Réf. d'origine|Réf origine"
    "|Numéro d'origine|N° d'origine|Code fabricant|Réf. OE|Numéro OEM|Référence d’usine|Réf. fab."
    "|No de pièce du fabricant",
    "Dutch": "Fabrikantnummer|Fabrikantnr.|Nummer fabrikant|Artikelnr. fabrikant|Fabrieksnummer"
    "|Origineel nummer|Originele nr.|Orig. nr|OE-nummer|OEM nr|Onderdeelnummer fabrikant",
    "Italian": "Codice originale|Cod. originale|Codice costruttore|Cod. produttore|N. originale"
    "|Rif. originale|Riferimento originale|Numero originale|Codice OE|Codice casa madre"
    "|Cod. fabbricante",
    "Spanish": "Ref. original|Referencia original|Ref. fabricante|Referencia del fabricante"
    "|Nº fabricante|N.º original|Número de fabricante|Código original|Cód. fabricante|Nº OE"
    "|Referencia OEM|Código del fabricante",
}
HEADINGS = [heading for headings in BY_LANGUAGE.values() for heading in headings.split("|")]


def listed(path: Path, heading: str, own: str = "Our Ref") -> Path:
    rows = [[f"N-{at}", f"K-{at}", "Stud", f"{at}.25"] for at in range(101, 120)]
    return csv_file(path / "list.csv", [[own, heading, "Description", "Trade"], *rows])


@pytest.mark.parametrize("heading", HEADINGS)
def test_a_makers_number_is_known_by_every_usual_heading(heading: str) -> None:
    for said in (heading, heading.upper()):
        likeness = {field: likeness_of(said, field) for field in Field}
        assert max(Field, key=likeness.__getitem__) is Field.PART, said
        assert likeness[Field.PART] >= 100, said


@pytest.mark.parametrize(
    "heading",
    ["Part No", "Our original", "Engine No.", "Manufacturer", "Original price", "OE price",
     "Maker", "Factory", "Works order", "Article no", "Order code", "Old maker's no", "Old OE no",
     "New maker's number", "Replaces OE no", "Manufacturer's list price", "Hersteller",
     "Ursprungsland", "Fabricant", "Prezzo originale", "Réf.", "Ref. interna", "Made in",
     "Manual no", "Quality", "Original or pattern"],
)  # fmt: skip
def test_other_headings_are_not_taken_for_a_makers_number(heading: str) -> None:
    assert likeness_of(heading, Field.PART) < 100


def test_the_makers_number_is_taken_beside_the_suppliers_own(tmp_path: Path) -> None:
    reader, rows = list_of(listed(tmp_path, "Mfr. Part No"), known=KNOWN)
    assert fields(reader)[Field.NUMBER] == "Our Ref"
    assert fields(reader)[Field.PART] == "Mfr. Part No"
    assert (rows[0].number, rows[0].part) == ("N-101", "K-101")


def test_a_makers_code_without_figures_is_his_name(tmp_path: Path) -> None:
    rows = [[f"N-{at}", "HOB" if at % 2 else "KES", f"{at}.25"] for at in range(101, 120)]
    path = csv_file(tmp_path / "list.csv", [["Our Ref", "Mfr code", "Trade"], *rows])
    assert fields(list_of(path)[0])[Field.MAKER] == "Mfr code"


def test_a_column_of_the_catalogues_numbers_that_is_left_is_asked_about(tmp_path: Path) -> None:
    path = listed(tmp_path, "Blue")
    both = KNOWN | {f"N{at}" for at in range(100, 200)}
    for known in (KNOWN, both):
        assert refused(path, known=known) == (
            "list.csv, column B: nearly all its cells are numbers of the catalogue, and column A "
            "(Our Ref) is taken for the number; say whose they are: "
            '--map "part=Blue" if they are the makers\', --map part=none if they say nothing'
        )
    _, rows = list_of(path, "part=Blue", known=both)
    assert (rows[0].number, rows[0].part) == ("N-101", "K-101")
    _, rows = list_of(path, "part=none", known=both)
    assert (rows[0].number, rows[0].part) == ("N-101", "")


def test_a_left_column_of_the_catalogues_numbers_is_told_once_the_number_is_given_or_it_was_said(
    tmp_path: Path,
) -> None:
    path = listed(tmp_path, "Blue")
    reader, _ = list_of(path, "number=Our Ref", known=KNOWN)
    assert reader.columns is not None
    assert reader.columns.left == ("Blue (numbers of the catalogue)",)
    said_before = {Field.NUMBER: "Our Ref", Field.PART: "none: Blue"}
    reader, _ = list_of(path, known=KNOWN, remembered=said_before)
    assert reader.columns is not None
    assert reader.columns.left == ("Blue",)


def test_a_makers_column_that_has_another_heading_this_time_is_asked_about(
    tmp_path: Path,
) -> None:
    before = {Field.NUMBER: "Our Ref", Field.PART: "Mfr No"}
    says = refused(listed(tmp_path, "Blue"), known=KNOWN, remembered=before)
    assert "column B: nearly all its cells are numbers of the catalogue" in says


@pytest.mark.parametrize(
    "cells",
    [
        [f"K-{at}" if at % 9 else "x" for at in range(101, 120)],  # some unknown
        [f"K-{at}" if at % 3 else "" for at in range(101, 120)],  # named at times
        [f"N.{at}" for at in range(101, 120)],  # the same again
        ["K-101"] * 19,
    ],
)
def test_a_column_that_names_some_numbers_or_the_same_is_not_asked_about(
    tmp_path: Path, cells: list[str]
) -> None:
    rows = [[f"N-{at}", cell, f"{at}.25"] for at, cell in zip(range(101, 120), cells, strict=True)]
    path = csv_file(tmp_path / "list.csv", [["Our Ref", "Blue", "Trade"], *rows])
    reader, _ = list_of(path, known=KNOWN | {f"N{at}" for at in range(100, 200)})
    assert reader.columns is not None
    assert reader.columns.left == ("Blue",)


def test_makers_numbers_of_which_none_is_known_are_asked_about(tmp_path: Path) -> None:
    path = listed(tmp_path, "OE No.")
    known = {f"N{at}" for at in range(100, 200)}
    assert refused(path, known=known) == (
        "list.csv, column B: 'OE No.' seems to head makers' numbers, yet the catalogue knows none "
        "of them and those of column A (Our Ref); say whose they are: "
        '--map "part=OE No." if they are the makers\', --map part=none if they say nothing'
    )
    _, rows = list_of(path, "part=none", known=known)
    assert (rows[0].number, rows[0].part) == ("N-101", "")
    assert fields(list_of(path, "part=OE No.", known=known)[0])[Field.PART] == "OE No."


@pytest.mark.parametrize(("known", "unsaid"), [((), True), (("K1", "N1", "N2", "N3"), False)])
def test_rows_without_the_makers_number_are_marked_where_the_supplier_has_numbers_of_his_own(
    tmp_path: Path, known: tuple[str, ...], *, unsaid: bool
) -> None:
    rows = [["Code", "Maker's number", "Price"], ["N1", "K1", "1.25"], ["N2", "", "2.25"],
            ["N3", "", "3.25"]]  # fmt: skip
    _, found = list_of(csv_file(tmp_path / "list.csv", rows), known=known)
    assert [row.unsaid for row in found] == [False, unsaid, unsaid]
    rows = [[row[0], row[2]] for row in rows]
    _, found = list_of(csv_file(tmp_path / "list.csv", rows), known=known)
    assert [row.unsaid for row in found] == [False, False, False]
