"""The standard sizes of each thread series, as (size, threads per inch) or (diameter, pitch) in mm.

Sources: BSW, BSF: BS 84. Cycle: BS 811. BA: BS 93. BSP: ISO 228-1. UNC, UNF, UNEF: ASME B1.1.
Metric: ISO 261, ISO 262. Brass (26 threads at every size, Whitworth form): common practice.
"""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from functools import cache

from kitting.engineering.thread import ThreadSpec, threads_per_inch
from kitting.engineering.thread_forms import Form
from kitting.measure import Quantity

_INCH_SERIES: dict[str, tuple[Form, str]] = {
    "BSW": (
        Form.WHITWORTH,
        "1/16:60 3/32:48 1/8:40 5/32:32 3/16:24 7/32:24 1/4:20 5/16:18 3/8:16 7/16:14 1/2:12 "
        "9/16:12 5/8:11 11/16:11 3/4:10 7/8:9 1:8 1+1/8:7 1+1/4:7 1+1/2:6 1+3/4:5 2:4.5",
    ),
    "BSF": (
        Form.WHITWORTH,
        "3/16:32 7/32:28 1/4:26 9/32:26 5/16:22 3/8:20 7/16:18 1/2:16 9/16:16 5/8:14 11/16:14 "
        "3/4:12 13/16:12 7/8:11 1:10 1+1/8:9 1+1/4:9 1+3/8:8 1+1/2:8 1+5/8:8 1+3/4:7 2:7",
    ),
    "brass": (
        Form.WHITWORTH,
        "1/8:26 3/16:26 1/4:26 5/16:26 3/8:26 7/16:26 1/2:26 9/16:26 5/8:26 3/4:26 7/8:26 1:26",
    ),
    "BSC": (
        Form.CYCLE,
        "1/8:40 5/32:32 3/16:32 7/32:26 1/4:26 9/32:26 5/16:26 3/8:26 7/16:26 1/2:26 9/16:26 "
        "5/8:26 11/16:26 3/4:26 7/16:20 1/2:20 9/16:20 5/8:20 11/16:20 3/4:20",
    ),
    "UNC": (
        Form.UNIFIED,
        "#1:64 #2:56 #3:48 #4:40 #5:40 #6:32 #8:32 #10:24 #12:24 1/4:20 5/16:18 3/8:16 7/16:14 "
        "1/2:13 9/16:12 5/8:11 3/4:10 7/8:9 1:8 1+1/8:7 1+1/4:7 1+3/8:6 1+1/2:6 1+3/4:5 2:4.5",
    ),
    "UNF": (
        Form.UNIFIED,
        "#0:80 #1:72 #2:64 #3:56 #4:48 #5:44 #6:40 #8:36 #10:32 #12:28 1/4:28 5/16:24 3/8:24 "
        "7/16:20 1/2:20 9/16:18 5/8:18 3/4:16 7/8:14 1:12 1+1/8:12 1+1/4:12 1+3/8:12 1+1/2:12",
    ),
    "UNEF": (
        Form.UNIFIED,
        "#12:32 1/4:32 5/16:32 3/8:32 7/16:28 1/2:28 9/16:24 5/8:24 11/16:24 3/4:20 13/16:20 "
        "7/8:20 15/16:20 1:20",
    ),
}
# Pipe threads go by the bore of the pipe, not by the diameter over the crests (mm, ISO 228-1).
_PIPE = (
    "1/8:9.728:28 1/4:13.157:19 3/8:16.662:19 1/2:20.955:14 5/8:22.911:14 3/4:26.441:14 "
    "7/8:30.201:14 1:33.249:11 1+1/4:41.91:11 1+1/2:47.803:11 2:59.614:11"
)
_BA = (
    "0:6.0:1.00 1:5.3:0.90 2:4.7:0.81 3:4.1:0.73 4:3.6:0.66 5:3.2:0.59 6:2.8:0.53 7:2.5:0.48 "
    "8:2.2:0.43 9:1.9:0.39 10:1.7:0.35 11:1.5:0.31 12:1.3:0.28 13:1.2:0.25 14:1.0:0.23 "
    "15:0.9:0.21 16:0.79:0.19"
)
# The first pitch of a diameter is its coarse one.
_METRIC = (
    "1:0.25 1.2:0.25 1.6:0.35 2:0.4 2.5:0.45 3:0.5,0.35 3.5:0.6 4:0.7,0.5 5:0.8,0.5 6:1,0.75 7:1 "
    "8:1.25,1 10:1.5,1.25,1 12:1.75,1.5,1.25 14:2,1.5,1.25 16:2,1.5 18:2.5,2,1.5 20:2.5,2,1.5 "
    "22:2.5,2,1.5 24:3,2,1.5 27:3,2 30:3.5,2,1.5 33:3.5,2 36:4,3 39:4,3"
)
SERIES = (*_INCH_SERIES, "BSP", "BA", "metric")


def size_in_inches(size: str) -> Decimal:
    """Return the inches of a size as a series writes it: 1/2, 1 1/8, #10."""
    if size.startswith("#"):
        # Numbered sizes: 0.060 in and 0.013 in a number (ASME B1.1).
        return Decimal("0.060") + Decimal("0.013") * int(size[1:])
    whole, _, part = size.rpartition(" ")
    value = Fraction(part) + (Fraction(whole) if whole else 0)
    return Decimal(value.numerator) / Decimal(value.denominator)


@cache
def standard_threads() -> tuple[ThreadSpec, ...]:
    """Every standard right-hand thread of every series, in the order of the series."""
    return (*_inch_threads(), *_pipe_threads(), *_ba_threads(), *_metric_threads())


def threads_of(series: str) -> tuple[ThreadSpec, ...]:
    """The standard threads of one series, smallest first."""
    return tuple(thread for thread in standard_threads() if thread.series == series)


def _inch_threads() -> Iterator[ThreadSpec]:
    for series, (form, text) in _INCH_SERIES.items():
        for entry in text.split():
            size, count = entry.replace("+", " ").split(":")
            major = Quantity.of(size_in_inches(size), "in")
            yield ThreadSpec(form, major, threads_per_inch(count), series=series, size=size)


def _pipe_threads() -> Iterator[ThreadSpec]:
    for entry in _PIPE.split():
        size, major, count = entry.replace("+", " ").split(":")
        pitch = threads_per_inch(count)
        yield ThreadSpec(Form.WHITWORTH, Quantity.of(major, "mm"), pitch, series="BSP", size=size)


def _ba_threads() -> Iterator[ThreadSpec]:
    for entry in _BA.split():
        size, major, pitch = entry.split(":")
        yield ThreadSpec(Form.BA, Quantity.of(major, "mm"), Fraction(pitch), series="BA", size=size)


def _metric_threads() -> Iterator[ThreadSpec]:
    for entry in _METRIC.split():
        size, pitches = entry.split(":")
        for pitch in pitches.split(","):
            major = Quantity.of(size, "mm")
            yield ThreadSpec(Form.METRIC, major, Fraction(pitch), series="metric", size=f"M{size}")
