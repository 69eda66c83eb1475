"""What a measured thread most likely is, ranked, with the look-alikes named.

A bolt's crests wear and are cut under size: its major diameter measures a little below the
nominal, never much above. A pitch gauge told by eye is good to about one part in fifty; a
thread angle needs a profile gauge, and without one the 55° and 60° threads of one size and
pitch cannot be told apart (common practice, no source).
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from kitting.engineering.sizes import Difference
from kitting.engineering.thread import (
    ThreadSpec,
    compare_threads,
    nut_bore,
    pitch_words,
)
from kitting.engineering.thread_forms import Hand
from kitting.engineering.thread_series import standard_threads
from kitting.errors import Problems
from kitting.measure import Quantity

# As shares of the pitch: how far under, and over, a bolt's crests or a nut's bore may measure.
_UNDER, _OVER = Fraction(1, 4), Fraction(1, 20)
_PITCH_SHARE = Fraction(1, 50)
_ANGLE_NEAR = Decimal("1.5")


@dataclass(frozen=True, slots=True)
class MeasuredThread:
    """What was measured: over the crests of a bolt, or in the bore of a nut; pitch; maybe angle."""

    pitch_mm: Fraction
    major: Quantity | None = None
    bore: Quantity | None = None
    angle: Decimal | None = None
    hand: Hand = Hand.RIGHT

    def __post_init__(self) -> None:
        problems = Problems()
        if (self.major is None) == (self.bore is None):
            problems.add("diameter", "one diameter is needed", "a bolt's crests or a nut's bore")
        for size in (self.major, self.bore):
            if size is not None and (not size.is_length or size.base <= 0):
                problems.add("diameter", f"{size} is no diameter", "give a length above zero")
        if self.pitch_mm <= 0:
            problems.add("pitch", "the pitch is not above zero", "count the threads in an inch")
        if self.angle is not None and not 20 <= self.angle <= 90:
            problems.add(
                "angle", f"{self.angle}° is no thread angle", "threads have 47½°, 55°, 60°"
            )
        problems.raise_if_any()


@dataclass(frozen=True, slots=True)
class ThreadGuess:
    """A standard thread that the figures may be: how it sits, and what else looks like it."""

    thread: ThreadSpec
    off: Quantity
    angle_told: bool
    because: str
    look_alikes: tuple[ThreadSpec, ...]


def identify_thread(measured: MeasuredThread, at_most: int = 6) -> tuple[ThreadGuess, ...]:
    """Return the likeliest standard threads, best first; empty when none comes near.

    Ranked by pitch first (a different pitch never goes in), then by the diameter's distance from
    the nominal, then by how common the series is on old engines.
    """
    found = [thread for thread in standard_threads() if _may_be(measured, thread)]
    found.sort(key=lambda thread: _rank(measured, thread))
    return tuple(_guess(measured, thread, found) for thread in found[:at_most])


def look_alikes(thread: ThreadSpec) -> tuple[tuple[ThreadSpec, tuple[Difference, ...]], ...]:
    """Return the standard threads easily taken for this one, each with what truly differs.

    Those within a fiftieth of its pitch and a sixth of a pitch of its diameter, of another name:
    1/4 BSF and 1/4 cycle both have 26 threads, and flanks of 55° and 60°.
    """
    near = (
        replace(other, hand=thread.hand)
        for other in standard_threads()
        if (other.series, other.size, other.pitch_mm)
        != (thread.series, thread.size, thread.pitch_mm)
        and _pitch_off(thread.pitch_mm, other) <= _PITCH_SHARE
        and abs(Fraction((thread.major - other.major).base)) <= thread.pitch_mm / 6
    )
    return tuple((other, compare_threads(thread, other)) for other in near)


def _may_be(measured: MeasuredThread, thread: ThreadSpec) -> bool:
    if _pitch_off(measured.pitch_mm, thread) > _PITCH_SHARE:
        return False
    if measured.angle is not None and abs(measured.angle - thread.form.angle) > _ANGLE_NEAR:
        return False
    above = Fraction(_off(measured, thread).base)
    if measured.major is not None:
        return -_UNDER * thread.pitch_mm <= above <= _OVER * thread.pitch_mm
    return -_OVER * thread.pitch_mm <= above <= _UNDER * thread.pitch_mm


def _off(measured: MeasuredThread, thread: ThreadSpec) -> Quantity:
    if measured.major is not None:
        return measured.major - thread.major
    nominal = nut_bore(thread)
    return (measured.bore or nominal) - nominal


def _pitch_off(pitch_mm: Fraction, thread: ThreadSpec) -> Fraction:
    return abs(pitch_mm - thread.pitch_mm) / thread.pitch_mm


def _rank(measured: MeasuredThread, thread: ThreadSpec) -> tuple[Fraction, Fraction, int]:
    share = abs(Fraction(_off(measured, thread).base)) / thread.pitch_mm
    order = ("BSC", "BSF", "BSW", "UNF", "UNC", "metric", "BA", "BSP", "UNEF", "brass")
    # A gauge tells pitches in steps: agreement to a two-hundredth is all one.
    pitch = Fraction(int(_pitch_off(measured.pitch_mm, thread) * 200))
    return pitch, share, order.index(thread.series)


def _guess(
    measured: MeasuredThread, thread: ThreadSpec, found: Iterable[ThreadSpec]
) -> ThreadGuess:
    off = _off(measured, thread)
    where = "over the crests" if measured.major is not None else "in the bore"
    side = "on" if not off.base else ("under" if off.base < 0 else "over")
    amount_off = "its nominal" if not off.base else f"its nominal by {abs(off)}"
    because = f"{pitch_words(thread)}; {where} {side} {amount_off}"
    others = tuple(replace(other, hand=measured.hand) for other in found if other is not thread)
    told = measured.angle is not None
    if not told and any(other.form.angle != thread.form.angle for other in others):
        because += f"; only a profile gauge tells {thread.form.angle}° from its look-alikes"
    named = replace(thread, hand=measured.hand)
    return ThreadGuess(named, off, told, because, others)
