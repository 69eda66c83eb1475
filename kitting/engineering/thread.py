"""Screw threads: one thread as a value, its diameters, and whether two of them fit.

The forms and their sources stand in `thread_forms`, the standard sizes in `thread_series`.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from kitting.engineering.sizes import Difference
from kitting.engineering.thread_forms import Form, Hand
from kitting.engineering.working import amount, worked
from kitting.errors import Problems
from kitting.measure import Quantity

_INCH = Fraction(127, 5)
_METRIC_FORMS = frozenset({Form.METRIC, Form.BA})


@dataclass(frozen=True, slots=True)
class ThreadSpec:
    """One thread: form, major diameter, exact pitch in millimetres, hand; and its name.

    `series` and `size` are the words that it goes by (BSF, 1/2; BA, 2); both may be empty for a
    thread that is only measured.
    """

    form: Form
    major: Quantity
    pitch_mm: Fraction
    hand: Hand = Hand.RIGHT
    series: str = ""
    size: str = ""

    def __post_init__(self) -> None:
        problems = Problems()
        if not self.major.is_length:
            problems.add("diameter", f"{self.major} is no diameter", "give a length")
        elif self.major.base <= 0:
            problems.add("diameter", f"{self.major} is not above zero", "measure over the crests")
        if self.pitch_mm <= 0:
            problems.add("pitch", "the pitch is not above zero", "count the threads in an inch")
        elif not problems and Fraction(self.major.base) <= 2 * self.pitch_mm:
            problems.add(
                "pitch",
                f"a pitch of {_short(self.pitch_mm)} mm leaves no core in {self.major}",
                "check that pitch and threads per inch were not exchanged",
            )
        problems.raise_if_any()

    @property
    def pitch(self) -> Quantity:
        """The pitch, shown in inches for a thread counted by the inch."""
        millimetres = Decimal(self.pitch_mm.numerator) / Decimal(self.pitch_mm.denominator)
        return amount(millimetres, "mm", "mm" if self.form in _METRIC_FORMS else "in")

    @property
    def threads_per_inch(self) -> Fraction:
        """Threads in an inch, exact."""
        return _INCH / self.pitch_mm

    @property
    def name(self) -> str:
        """What the trade calls it: 1/2 × 16 BSF, M8 × 1.25, 2 BA, with 'left hand' when it is."""
        hand = f" {self.hand}" if self.hand is Hand.LEFT else ""
        if self.form is Form.BA and self.size:
            return f"{self.size} BA{hand}"
        size = self.size or self.major.show()
        if self.form is Form.METRIC:
            return f"{size} × {_short(self.pitch_mm)}{hand}"
        series = self.series or f"{self.form} form"
        return f"{size} × {_short(self.threads_per_inch)} {series}{hand}"

    def __str__(self) -> str:
        return self.name


def threads_per_inch(count: Decimal | int | str) -> Fraction:
    """Return the exact pitch in millimetres of so many threads to the inch.

    Raises:
        BadInput: a count that is not above zero.
    """
    number = Fraction(Decimal(count))
    if number <= 0:
        problems = Problems()
        problems.add("threads per inch", f"{count} is not above zero", "count them against a rule")
        problems.raise_if_any()
    return _INCH / number


def effective_diameter(thread: ThreadSpec) -> Quantity:
    """Return the effective (pitch) diameter of the basic form: major − factor × pitch."""
    return _less(thread, thread.form.effective_factor)


def minor_diameter(thread: ThreadSpec) -> Quantity:
    """Return the minor (core) diameter of the bolt: major − factor × pitch."""
    return _less(thread, thread.form.minor_factor)


def nut_bore(thread: ThreadSpec) -> Quantity:
    """Return the minor diameter of the nut, the bore before tapping: major − factor × pitch."""
    return _less(thread, thread.form.bore_factor)


@worked
def _less(thread: ThreadSpec, factor: Decimal) -> Quantity:
    pitch = Decimal(thread.pitch_mm.numerator) / Decimal(thread.pitch_mm.denominator)
    return amount(thread.major.value_in("mm") - factor * pitch, "mm", thread.major.unit.symbol)


def compare_threads(a: ThreadSpec, b: ThreadSpec) -> tuple[Difference, ...]:
    """Return what differs, in the order that a bench would look: hand, diameter, pitch, form.

    Forms of one flank angle still differ in depth (cycle against unified) and are told apart as
    'depth of thread'. Empty when the two are the same thread, whatever they are called.
    """
    found: list[Difference] = []
    if a.hand is not b.hand:
        found.append(Difference("hand", str(a.hand), str(b.hand)))
    if a.major != b.major:
        found.append(Difference("diameter", _both(a.major), _both(b.major)))
    if a.pitch_mm != b.pitch_mm:
        found.append(Difference("pitch", pitch_words(a), pitch_words(b)))
    if a.form.angle != b.form.angle:
        found.append(Difference("form angle", _angle(a), _angle(b)))
    elif (a.form.minor_factor, a.form.bore_factor) != (b.form.minor_factor, b.form.bore_factor):
        found.append(Difference("depth of thread", f"{a.form}", f"{b.form}"))
    return tuple(found)


class Fits(StrEnum):
    """Whether two threads go together."""

    YES = "fit"
    DOUBTFUL = "same flanks, diameter and pitch, other depth: try by hand, never force"
    NO = "do not fit"


def threads_fit(a: ThreadSpec, b: ThreadSpec) -> Fits:
    """Return whether a bolt of one thread takes a nut of the other.

    A matter of form angle, diameter, pitch and hand; where only the depth differs (cycle and
    unified) crests may meet roots, and the answer is doubtful.
    """
    differs = {difference.what for difference in compare_threads(a, b)}
    if not differs:
        return Fits.YES
    return Fits.DOUBTFUL if differs == {"depth of thread"} else Fits.NO


def pitch_words(thread: ThreadSpec) -> str:
    """The pitch as its trade states it: 26 threads per inch, or 1.25 mm."""
    if thread.form in _METRIC_FORMS:
        return f"{_short(thread.pitch_mm)} mm"
    return f"{_short(thread.threads_per_inch)} threads per inch"


def _angle(thread: ThreadSpec) -> str:
    return f"{thread.form.angle}° ({thread.form})"


def _both(length: Quantity) -> str:
    other = length.to("mm" if length.unit.symbol == "in" else "in")
    return f"{length} ({other.show(other.unit.places)})"


def _short(number: Fraction) -> str:
    """A ratio as a person writes it: 26, 4.5, 1.25, 0.977."""
    if number.denominator == 1:
        return str(number.numerator)
    value = (Decimal(number.numerator) / Decimal(number.denominator)).quantize(Decimal("0.001"))
    return format(value.normalize(), "f")
