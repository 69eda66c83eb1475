"""`kitting calc thread`: sizes of a thread, which thread a measured one is, do two fit."""

from decimal import Decimal
from fractions import Fraction

import click

from kitting.cli.calc.brief import Number, few, read_at, short
from kitting.cli.calc.common import Answer, Given, Length, Strict, figure, given_options, sum_door
from kitting.cli.calc.layout import facts, page, points, table, title
from kitting.cli.calc.sizes import NOTHING
from kitting.engineering.nuts import nut_bands, nut_height
from kitting.engineering.thread import (
    ThreadSpec,
    compare_threads,
    effective_diameter,
    minor_diameter,
    nut_bore,
    threads_fit,
    threads_per_inch,
)
from kitting.engineering.thread_forms import Hand
from kitting.engineering.thread_identify import MeasuredThread, identify_thread, look_alikes
from kitting.engineering.thread_text import is_standard, parse_thread
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Unit


class MeasuredIn(Strict):
    """A thread as measured: a bolt's crests or a nut's bore, its pitch, and what else is known."""

    major: Length | None = None
    bore: Length | None = None
    threads_per_inch: Number | None = None
    pitch: Length | None = None
    angle: Number | None = None
    hand: Hand = Hand.RIGHT


class ThreadIn(Given):
    """A thread by name, another to compare it with, a nut's height, or a measured thread."""

    thread: str | None = None
    against: str | None = None
    nut_height: Length | None = None
    uncertainty: Length | None = None
    measured: MeasuredIn | None = None


class ThreadOut(Strict):
    """A thread's sizes."""

    name: str
    form: str
    angle: str
    hand: str
    threads_per_inch: str
    pitch: str
    major: str
    effective: str
    minor: str
    nut_bore: str
    standard: bool
    source: str


class DifferenceOut(Strict):
    """One thing in which two threads differ."""

    what: str
    left: str
    right: str


class AlikeOut(Strict):
    """A thread easily taken for this one, and what truly differs."""

    name: str
    differs: tuple[DifferenceOut, ...]


class CompareOut(Strict):
    """Two threads together."""

    against: ThreadOut
    fits: str
    differs: tuple[DifferenceOut, ...]


class NutOut(Strict):
    """What a nut's height makes it, with the bands."""

    height: str
    regular: str
    thin: str
    source: str


class GuessOut(Strict):
    """A thread that the measured one may be."""

    name: str
    off: str
    because: str
    look_alikes: tuple[str, ...]


class ThreadAnswer(Answer):
    """All that was asked of the thread."""

    thread: ThreadOut | None
    look_alikes: tuple[AlikeOut, ...]
    comparison: CompareOut | None
    nut: NutOut | None
    guesses: tuple[GuessOut, ...]
    notes: tuple[str, ...]


def answer(given: ThreadIn, unit: Unit) -> ThreadAnswer:
    """Read, compare and recognise."""
    problems = Problems()
    if given.thread is None and given.measured is None:
        problems.add("", "no thread is given", "name one (thread) or measure one (measured)")
    if given.thread is None and (given.against is not None or given.nut_height is not None):
        problems.add("thread", "there is none to compare with", "name it, such as 3/8 BSF")
    problems.raise_if_any()
    thread = _named(problems, "thread", given.thread)
    other = _named(problems, "against", given.against)
    problems.raise_if_any()
    guesses = () if given.measured is None else _guesses(given.measured, unit)
    return ThreadAnswer(
        unit=str(unit),
        thread=None if thread is None else _sizes(thread, unit),
        look_alikes=() if thread is None else _alike(thread),
        comparison=None if thread is None or other is None else _compared(thread, other, unit),
        nut=None if thread is None else _nut(thread, given),
        guesses=guesses,
        notes=_notes(thread, given.measured is not None and not guesses),
    )


def _named(problems: Problems, place: str, text: str | None) -> ThreadSpec | None:
    return None if text is None else read_at(problems, place, lambda: parse_thread(text))


def _sizes(thread: ThreadSpec, unit: Unit) -> ThreadOut:
    per_inch = thread.threads_per_inch
    return ThreadOut(
        name=thread.name,
        form=str(thread.form),
        angle=few(thread.form.angle),
        hand=str(thread.hand),
        threads_per_inch=few(Decimal(per_inch.numerator) / Decimal(per_inch.denominator)),
        pitch=figure(thread.pitch, unit),
        major=figure(thread.major, unit),
        effective=figure(effective_diameter(thread), unit),
        minor=figure(minor_diameter(thread), unit),
        nut_bore=figure(nut_bore(thread), unit),
        standard=is_standard(thread),
        source=thread.form.source,
    )


def _differs(left: ThreadSpec, right: ThreadSpec) -> tuple[DifferenceOut, ...]:
    return tuple(
        DifferenceOut(what=one.what, left=one.left, right=one.right)
        for one in compare_threads(left, right)
    )


def _alike(thread: ThreadSpec) -> tuple[AlikeOut, ...]:
    return tuple(
        AlikeOut(name=other.name, differs=_differs(thread, other))
        for other, _ in look_alikes(thread)
    )


def _compared(thread: ThreadSpec, other: ThreadSpec, unit: Unit) -> CompareOut:
    return CompareOut(
        against=_sizes(other, unit),
        fits=threads_fit(thread, other).value,
        differs=_differs(thread, other),
    )


def _nut(thread: ThreadSpec, given: ThreadIn) -> NutOut | None:
    if given.nut_height is None:
        return None
    bands = nut_bands(thread)
    return NutOut(
        height=nut_height(thread, given.nut_height, given.uncertainty or NOTHING).value,
        regular=str(bands.regular),
        thin=str(bands.thin),
        source=bands.source,
    )


def _guesses(measured: MeasuredIn, unit: Unit) -> tuple[GuessOut, ...]:
    problems = Problems()
    with problems.at("measured"):
        found = identify_thread(
            MeasuredThread(
                _pitch(measured), measured.major, measured.bore, measured.angle, measured.hand
            )
        )
        return tuple(
            GuessOut(
                name=guess.thread.name,
                off=figure(guess.off, unit),
                because=guess.because,
                look_alikes=tuple(other.name for other in guess.look_alikes),
            )
            for guess in found
        )
    raise BadInput(list(problems))


def _pitch(measured: MeasuredIn) -> Fraction:
    if (measured.threads_per_inch is None) == (measured.pitch is None):
        raise BadInput(
            Problem("pitch", "one pitch is needed", "give threads_per_inch or pitch, not both")
        )
    if measured.pitch is not None:
        return Fraction(measured.pitch.base)
    return threads_per_inch(measured.threads_per_inch or Decimal(0))


def _notes(thread: ThreadSpec | None, unknown: bool) -> tuple[str, ...]:
    found: list[str] = []
    if thread is not None and not is_standard(thread):
        found.append(f"{thread.name} is in no standard series here: a special, or a slip.")
    if thread is not None and thread.hand is Hand.LEFT:
        found.append("Left-hand thread: mark it before anyone reaches for a bar.")
    if unknown:
        found.append("No standard thread comes near: measure pitch and diameter again.")
    found.append("Diameters are those of the basic form; made threads lie within their tolerance.")
    return tuple(found)


def sheet(found: ThreadAnswer) -> str:
    """The answer as a sheet of text."""
    rows = [(guess.name, guess.because) for guess in found.guesses]
    return page(
        title(found.thread.name if found.thread else "Thread"),
        facts(_lines(found.thread, found.unit)) if found.thread else "",
        _comparison(found.comparison),
        facts(
            (
                ("Nut of that height", found.nut.height),
                ("Regular nuts", found.nut.regular),
                ("Thin nuts", found.nut.thin),
                ("By", found.nut.source),
            )
        )
        if found.nut
        else "",
        table(("It may be", "Because"), rows) if rows else "",
        points(
            "Easily taken for it",
            [f"{one.name}: {_words(one.differs)}" for one in found.look_alikes],
        ),
        points("Mind", found.notes),
    )


def _lines(thread: ThreadOut, unit: str) -> list[tuple[str, str]]:
    return [
        ("Form", f"{thread.form}, {thread.angle}° ({thread.source})"),
        ("Threads per inch", thread.threads_per_inch),
        ("Pitch", f"{short(thread.pitch)} {unit}"),
        ("Major diameter", f"{short(thread.major)} {unit}"),
        ("Effective diameter", f"{short(thread.effective)} {unit}"),
        ("Minor diameter, bolt", f"{short(thread.minor)} {unit}"),
        ("Minor diameter, nut", f"{short(thread.nut_bore)} {unit}"),
    ]


def _comparison(found: CompareOut | None) -> str:
    if found is None:
        return ""
    lines = [f"{one.what}: {one.left} against {one.right}" for one in found.differs]
    return points(f"With {found.against.name}: {found.fits}", lines or ["nothing differs"])


def _words(differs: tuple[DifferenceOut, ...]) -> str:
    said_of = [f"{one.what} {one.left} against {one.right}" for one in differs]
    return "; ".join(said_of) or "the same thread by another name"


@sum_door(ThreadIn, ThreadAnswer, answer, sheet)
@click.option("--thread", help="A thread: '3/8 BSF', '5/8-20 cycle', 'M8x1.25', '2 BA'.")
@click.option("--against", help="Another thread, to see whether the two fit.")
@click.option("--nut-height", help="Height of a nut of that thread.")
@click.option("--uncertainty", help="Uncertainty of the height.")
@click.option("--major", help="Measured over the crests of a bolt.")
@click.option("--bore", help="Measured in the bore of a nut.")
@click.option("--tpi", help="Threads counted in an inch.")
@click.option("--pitch", help="Pitch, instead of threads to the inch.")
@click.option("--angle", help="Flank angle by a profile gauge: 55, 60 or 47.5.")
@click.option("--left-hand", is_flag=True, help="The measured thread is left-handed.")
def command(
    *,
    thread: str | None,
    against: str | None,
    nut_height: str | None,
    uncertainty: str | None,
    tpi: str | None,
    left_hand: bool,
    **measured: str | None,
) -> dict[str, object]:
    """Sizes of a thread; do two fit; is a nut thin; which thread a measured one most likely is.

    Examples: kitting calc thread --thread "1/4 BSF" --against "1/4 x 26 cycle"

    kitting calc thread --major "0.248 in" --tpi 26
    """
    hand = str(Hand.LEFT) if left_hand else None
    return given_options(
        thread=thread,
        against=against,
        nut_height=nut_height,
        uncertainty=uncertainty,
        measured=given_options(threads_per_inch=tpi, hand=hand, **measured),
    )
