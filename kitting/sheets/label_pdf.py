"""Labels drawn to a PDF at full size: plain text on the left, the same as a QR code on the right.

The same labels give the same bytes. Loads reportlab and segno, so import it where it is used.
"""

from __future__ import annotations

import os
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

import segno
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from kitting.errors import BadInput, Problem
from kitting.sheets.labels import PAGE_HEIGHT, PAGE_WIDTH, placed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kitting.sheets.labels import Label, LabelSheet, Placed

_PLAIN, _BOLD = "bag-plain", "bag-bold"
_FONTS = {_PLAIN: "DejaVuSans.ttf", _BOLD: "DejaVuSans-Bold.ttf"}
# Millimetres kept clear at the edge: printers shift a sheet by one or two.
_EDGE = 4.5
# A code is read from four modules of white all round (ISO/IEC 18004, 6.3.8: the quiet zone).
_QUIET = 4
_LARGEST_CODE, _SHARE_OF_WIDTH = 30.0, 0.45
# Type sizes in points for a label 37 mm high; the first lines are the ones read across a bench.
_SIZES = (13.0, 10.0, 12.0, 8.0, 8.0)
_FULL_HEIGHT = 37.0
_SMALLEST, _LEADING = 5.0, 1.28


def write_labels(
    labels: Sequence[Label], sheet: LabelSheet, file: Path, title: str, skip: int = 0
) -> int:
    """Write labels to a PDF, over any that is there; returns how many sheets it takes.

    Raises:
        BadInput: no label, too many skipped, a name that is no PDF's, or it cannot be written.
    """
    if file.suffix.lower() != ".pdf":
        raise BadInput(
            Problem(
                str(file), "labels are written to a PDF", f"name it {file.stem or 'labels'}.pdf"
            )
        )
    spots = placed(labels, sheet, skip)
    drawn = _drawn(spots, sheet, title)
    unfinished = file.with_name(f".{file.name}.part")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        unfinished.write_bytes(drawn)
        os.replace(unfinished, file)
    except OSError as error:
        raise BadInput(
            Problem(file.name, f"cannot be written ({error.strerror})", "choose another folder")
        ) from None
    return spots[-1].page + 1


def _drawn(spots: Sequence[Placed], sheet: LabelSheet, title: str) -> bytes:
    _register_fonts()
    held = BytesIO()
    canvas = Canvas(held, pagesize=(PAGE_WIDTH * mm, PAGE_HEIGHT * mm), invariant=1)
    canvas.setTitle(title)
    canvas.setCreator("kitting")
    page = 0
    for spot in spots:
        if spot.page != page:
            canvas.showPage()
            page = spot.page
        _draw(canvas, spot, sheet)
    canvas.save()
    return held.getvalue()


def _register_fonts() -> None:
    """Make the fonts known: they hold Greek and Cyrillic too, for whatever a stage is called."""
    found = find_spec("matplotlib")
    if found is None or found.origin is None:
        raise FileNotFoundError("the fonts of matplotlib")
    folder = Path(found.origin).parent / "mpl-data" / "fonts" / "ttf"
    for name, file in _FONTS.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(folder / file)))


def _draw(canvas: Canvas, spot: Placed, sheet: LabelSheet) -> None:
    code = min(sheet.height - 2 * _EDGE, sheet.width * _SHARE_OF_WIDTH, _LARGEST_CODE)
    x = spot.x + sheet.width - _EDGE - code
    _draw_code(canvas, spot.label.code, x, spot.y + (sheet.height - code) / 2, code)
    _draw_lines(canvas, spot, sheet, room=sheet.width - code - 2.6 * _EDGE)


def _draw_code(canvas: Canvas, text: str, x: float, y: float, side: float) -> None:
    """Draw the code with its white round it into a square, each row's runs of dark in one piece."""
    rows = [bytes(row) for row in segno.make(text, error="m", micro=False).matrix]
    module = side / (len(rows) + _QUIET)
    # half of the quiet zone lies in the white of the label
    inset = module * _QUIET / 2
    for at, row in enumerate(rows):
        begin = 0
        while begin < len(row):
            end = begin + 1
            while end < len(row) and row[end] == row[begin]:
                end += 1
            if row[begin]:
                canvas.rect(
                    (x + inset + begin * module) * mm,
                    (y + side - inset - (at + 1) * module) * mm,
                    (end - begin) * module * mm,
                    module * mm,
                    stroke=0,
                    fill=1,
                )
            begin = end


def _draw_lines(canvas: Canvas, spot: Placed, sheet: LabelSheet, room: float) -> None:
    scale = min(sheet.height / _FULL_HEIGHT, 1.4)
    fitted = [
        _fitted(text, _BOLD if at in {0, 2} else _PLAIN, size * scale, room * mm)
        for at, (text, size) in enumerate(zip(spot.label.lines, _SIZES, strict=False))
    ]
    height = sum(size * _LEADING for _, _, size in fitted)
    y = (spot.y + sheet.height / 2) * mm + height / 2
    for text, font, size in fitted:
        y -= size * _LEADING
        canvas.setFont(font, size)
        canvas.drawString((spot.x + _EDGE) * mm, y + size * 0.28, text)


def _fitted(text: str, font: str, size: float, room: float) -> tuple[str, str, float]:
    """The text at the largest size at which it fits, cut short where even the smallest is not."""
    width = float(pdfmetrics.stringWidth(text, font, size))
    if width <= room:
        return text, font, size
    smaller = max(_SMALLEST, size * room / width)
    while float(pdfmetrics.stringWidth(text, font, smaller)) > room * 1.001 and len(text) > 2:
        text = f"{text[:-2].rstrip()}…"
    return text, font, smaller
