"""OpenDocument sheets written by hand for tests: a file's own words, and nothing else."""

import zipfile
from collections.abc import Iterable
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

KIND = "application/vnd.oasis.opendocument.spreadsheet"
_SPACE = "urn:oasis:names:tc:opendocument:xmlns"
_HEAD = (
    f'<office:document-content xmlns:office="{_SPACE}:office:1.0" '
    f'xmlns:table="{_SPACE}:table:1.0" xmlns:text="{_SPACE}:text:1.0" office:version="1.3">'
    "<office:body><office:spreadsheet>"
)
_TAIL = "</office:spreadsheet></office:body></office:document-content>"


def text_cell(text: str, more: str = "") -> str:
    """A cell of plain text."""
    return (
        f'<table:table-cell office:value-type="string"{more}>'
        f"<text:p>{escape(text)}</text:p></table:table-cell>"
    )


def number_cell(value: str, shown: str = "") -> str:
    """A cell with a number, shown as the program shows it."""
    return (
        f'<table:table-cell office:value-type="float" office:value={quoteattr(value)}>'
        f"<text:p>{escape(shown or value)}</text:p></table:table-cell>"
    )


def row_of(cells: Iterable[str], more: str = "") -> str:
    """A row."""
    return f"<table:table-row{more}>{''.join(cells)}</table:table-row>"


def sheet_of(rows: Iterable[str], name: str = "Sheet") -> str:
    """A sheet."""
    return f"<table:table table:name={quoteattr(name)}>{''.join(rows)}</table:table>"


def write_ods(file: Path, content: str, kind: str = KIND, **parts: str) -> Path:
    """Write a file of these sheets; `parts` are further files in it, dots written as __."""
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("mimetype", kind)
        packed.writestr("content.xml", _HEAD + content + _TAIL)
        for name, text in parts.items():
            packed.writestr(name.replace("__", "."), text)
    return file
