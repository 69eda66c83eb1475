"""One picture: two axes side by side on white paper, saved as SVG or PNG with fixed bytes."""

from __future__ import annotations

from contextlib import AbstractContextManager
from io import BytesIO
from typing import TYPE_CHECKING, Any

import matplotlib as mpl
from matplotlib.figure import Figure

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from kitting.measure import Quantity, Unit

WIDTH, HEIGHT = 7.4, 2.7  # inches
DOTS = 110
INK, FAINT, PALE = "#1f2933", "#5b6770", "#dde5ec"
# Lines and marks that differ in shape, so that a grey copy tells them apart as well.
STROKES = ("-", "--", "-.", ":", (0, (5, 1, 1, 1, 1, 1)))
MARKS = ("o", "s", "^", "D", "v", "P", "X")
HATCHES = ("////", "\\\\\\\\", "....", "xxxx", "----", "++++")
_LOOK: dict[Any, Any] = {
    "font.family": ["DejaVu Sans"],
    "font.size": 7.5,
    "axes.edgecolor": FAINT,
    "axes.titlesize": 8.5,
    "axes.titleweight": "bold",
    "axes.labelsize": 7.5,
    "axes.linewidth": 0.8,
    "hatch.linewidth": 0.5,
    "lines.linewidth": 1.1,
    "lines.markersize": 4.0,
    "legend.fontsize": 6.5,
    "legend.frameon": False,
    "xtick.labelsize": 7.0,
    "ytick.labelsize": 7.0,
    "text.color": INK,
    "axes.labelcolor": INK,
    "xtick.color": INK,
    "ytick.color": INK,
    # Names inside the file are made from this and not from chance.
    "svg.hashsalt": "kitting",
    "svg.fonttype": "none",
}


class Picture:
    """A sheet of paper with a title; `axes` puts a place to draw on it. Drawn inside `our_look`."""

    def __init__(self, title: str, height: float = HEIGHT) -> None:
        self.title = title
        self._figure = Figure(figsize=(WIDTH, height), dpi=DOTS, facecolor="white")
        self._figure.text(0.012, 0.965, title, va="top", fontsize=9.5, weight="bold")

    def axes(
        self, left: float, bottom: float, width: float, height: float, *, polar: bool = False
    ) -> Axes:
        """A place to draw on, in parts of the paper."""
        where = (left, bottom, width, height)
        made: Axes = self._figure.add_axes(where, projection="polar" if polar else None)
        return made

    def heading(self, left: float, text: str) -> None:
        """A heading over one of the axes."""
        self._figure.text(left, 0.875, text, va="top", fontsize=8.5, weight="bold")

    def note(self, text: str) -> None:
        """A line of small print at the foot."""
        self._figure.text(0.012, 0.012, text, va="bottom", fontsize=6.5, color=FAINT)

    def svg(self) -> bytes:
        """The picture as SVG; its texts stay texts."""
        return self._saved("svg")

    def png(self) -> bytes:
        """The picture as PNG."""
        return self._saved("png")

    def _saved(self, kind: str) -> bytes:
        file = BytesIO()
        # No date and no version: the same job gives the same bytes.
        stamp = "Date" if kind == "svg" else "Software"
        with our_look():
            self._figure.savefig(file, format=kind, metadata={stamp: None})
        return file.getvalue()


def our_look() -> AbstractContextManager[None]:
    """The look in which everything is drawn; entered once a picture, for it takes its time."""
    return mpl.rc_context(_LOOK)


def drawn(size: Quantity, unit: Unit) -> float:
    """A size as the drawing takes it; never to be compared with a limit again."""
    return float(size.value_in(unit))
