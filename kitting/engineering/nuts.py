"""Nut heights: is this nut a regular one or a thin one for its thread.

Sources: metric ISO 4032 (regular, style 1) and ISO 4035 (thin); BSW and BSF BS 1083 (ordinary and
lock-nut, both printed editions of the lock-nut column); unified ASME B18.2.2 (hex and jam).
Cycle and other threads have no sheet here: there the proportion of height to diameter speaks.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from kitting.engineering.thread import ThreadSpec
from kitting.engineering.thread_forms import Form
from kitting.errors import Problems
from kitting.measure import Limits, Quantity


class NutHeight(StrEnum):
    """What a nut's height makes it."""

    REGULAR = "regular"
    THIN = "thin"
    NEITHER = "neither regular nor thin"


@dataclass(frozen=True, slots=True)
class NutBands:
    """The height bands of a thread's nuts, and where they come from."""

    regular: Limits
    thin: Limits
    source: str


# size: regular min-max, thin min-max (mm, ISO 4032 and ISO 4035)
_METRIC = (
    "M3:2.15-2.4:1.55-1.8 M4:2.9-3.2:1.95-2.2 M5:4.4-4.7:2.45-2.7 M6:4.9-5.2:2.9-3.2 "
    "M8:6.44-6.8:3.7-4.0 M10:8.04-8.4:4.7-5.0 M12:10.37-10.8:5.7-6.0 M14:12.1-12.8:6.42-7.0 "
    "M16:14.1-14.8:7.42-8.0 M18:15.1-15.8:8.42-9.0 M20:16.9-18.0:9.1-10.0 "
    "M22:18.1-19.4:9.9-11.0 M24:20.2-21.5:10.9-12.0 M27:22.5-23.8:12.4-13.5 "
    "M30:24.3-25.6:13.9-15.0"
)
# inches, BS 1083; the thin band spans the lock-nut columns of both editions
_WHITWORTH = (
    "1/4:.190-.200:.123-.185 5/16:.240-.250:.156-.210 3/8:.302-.312:.198-.260 "
    "7/16:.365-.375:.240-.275 1/2:.427-.437:.281-.300 9/16:.490-.500:.323-.333 "
    "5/8:.552-.562:.365-.375 3/4:.677-.687:.448-.458 7/8:.740-.750:.490-.500 1:.865-.875:.573-.583"
)
# inches, ASME B18.2.2
_UNIFIED = (
    "1/4:.212-.226:.150-.163 5/16:.258-.273:.180-.195 3/8:.320-.337:.210-.227 "
    "7/16:.365-.385:.240-.260 1/2:.427-.448:.302-.323 9/16:.473-.496:.301-.324 "
    "5/8:.535-.559:.363-.387 3/4:.617-.665:.398-.446 7/8:.724-.776:.458-.510 1:.831-.887:.519-.575"
)
_TABLES = {
    Form.METRIC: (_METRIC, "mm", "ISO 4032, ISO 4035"),
    Form.WHITWORTH: (_WHITWORTH, "in", "BS 1083"),
    Form.UNIFIED: (_UNIFIED, "in", "ASME B18.2.2"),
}
# Where no sheet serves: full nuts stand about 0.75 to 1 diameter, thin ones 0.45 to 0.65.
_REGULAR_SHARE = (Decimal("0.75"), Decimal("1.05"))
_THIN_SHARE = (Decimal("0.4"), Decimal("0.67"))
_PROPORTION = "proportion of height to diameter: common practice, no source"


def nut_bands(thread: ThreadSpec) -> NutBands:
    """Return the height bands of regular and thin nuts for this thread."""
    if thread.form in _TABLES and thread.series not in {"BSP", "brass"}:
        text, unit, source = _TABLES[thread.form]
        for entry in text.split():
            size, regular, thin = entry.split(":")
            if size == thread.size:
                return NutBands(_band(regular, unit), _band(thin, unit), source)
    return NutBands(
        Limits(thread.major * _REGULAR_SHARE[0], thread.major * _REGULAR_SHARE[1]),
        Limits(thread.major * _THIN_SHARE[0], thread.major * _THIN_SHARE[1]),
        _PROPORTION,
    )


def nut_height(thread: ThreadSpec, height: Quantity, uncertainty: Quantity) -> NutHeight:
    """Return whether a nut of that height is regular, thin or neither; edges widened by U.

    Raises:
        BadInput: a height that is not a length above zero.
    """
    problems = Problems()
    if not height.is_length or height.base <= 0:
        problems.add("height", f"{height} is no height of a nut", "measure face to face")
    problems.raise_if_any()
    bands = nut_bands(thread)
    regular, thin = (_within(height, band, uncertainty) for band in (bands.regular, bands.thin))
    if regular and thin:
        # Two bands that touch (1/4 in): the nearer middle speaks.
        regular = _to_middle(height, bands.regular) <= _to_middle(height, bands.thin)
    if regular:
        return NutHeight.REGULAR
    return NutHeight.THIN if thin else NutHeight.NEITHER


def _band(text: str, unit: str) -> Limits:
    low, high = text.split("-")
    return Limits(Quantity.of(low, unit), Quantity.of(high, unit))


def _ends(band: Limits) -> tuple[Quantity, Quantity]:
    if band.low is None or band.high is None:
        raise ValueError("a nut's band has two ends")
    return band.low, band.high


def _within(height: Quantity, band: Limits, uncertainty: Quantity) -> bool:
    low, high = _ends(band)
    return low - uncertainty <= height <= high + uncertainty


def _to_middle(height: Quantity, band: Limits) -> Quantity:
    low, high = _ends(band)
    return abs(height - (low + high).half())
