"""Reading a thread as a person writes it: 1/2 x 20 BSF, 5/8-20 cycle, M8x1.25, 2 BA, left hand."""

import re
import unicodedata
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from kitting.engineering.thread import ThreadSpec, threads_per_inch
from kitting.engineering.thread_forms import Form, Hand
from kitting.engineering.thread_series import size_in_inches, standard_threads, threads_of
from kitting.errors import BadInput, Problem
from kitting.measure import Quantity

_EXAMPLES = "write it such as 1/2 x 16 BSF, 5/8-20 cycle, M8 x 1.25, 2 BA; add 'left hand' if so"
_LONGEST = 60
_LEFT = re.compile(r"\b(?:left[\s-]*hand(?:ed)?|l\.?\s?h\.?(?=\W|$)|left)(?=\W|$)", re.IGNORECASE)
_RIGHT = re.compile(r"\b(?:right[\s-]*hand(?:ed)?|r\.?\s?h\.?(?=\W|$)|right)(?=\W|$)", re.I)
_METRIC = re.compile(
    r"^m\s*(?P<size>\d+(?:\.\d+)?)(?:\s*[x×*-]\s*(?P<pitch>\d*\.?\d+))?(?:\s*mm)?$", re.IGNORECASE
)
_BA = re.compile(r"^(?:no\.?\s*)?(?:(?P<a>\d{1,2})\s*b\.?a\.?|b\.?a\.?\s*(?P<b>\d{1,2}))$", re.I)
_INCH = re.compile(
    r"""^(?P<g>g\s*)?
        (?P<size>(?:\d+[\s-]+)?\d+/\d+|(?:\#|no\.?\s*)\d{1,2}|\d*\.\d+|\d+)
        \s*(?:"|″|in\b\.?|inch\b)?
        (?:\s*(?:[x×*-]|\s)\s*(?P<tpi>\d{1,3}(?:\.\d+)?)\s*(?:t\.?p\.?i\.?|threads\ per\ inch)?)?
        \s*(?P<series>[a-z.\s]*?)
        (?:\s*[x×-]?\s*(?P<late>\d{1,3}(?:\.\d+)?)\s*(?:t\.?p\.?i\.?)?)?\s*$""",
    re.IGNORECASE | re.VERBOSE,
)
_SERIES_WORDS = {
    "bsw": "BSW", "whit": "BSW", "whitworth": "BSW", "w": "BSW", "bsf": "BSF",
    "bsc": "BSC", "cycle": "BSC", "cei": "BSC", "cycle thread": "BSC",
    "brass": "brass", "bsb": "brass", "bsp": "BSP", "bspp": "BSP", "gas": "BSP",
    "unc": "UNC", "nc": "UNC", "unf": "UNF", "nf": "UNF", "unef": "UNEF", "un": "UN", "uns": "UN",
}  # fmt: skip
_FORM_OF = {"BSW": Form.WHITWORTH, "BSF": Form.WHITWORTH, "brass": Form.WHITWORTH,
            "BSP": Form.WHITWORTH, "BSC": Form.CYCLE}  # fmt: skip


def parse_thread(text: str) -> ThreadSpec:
    """Return the thread that `text` names.

    The pitch may be left out where the series has but one for the size. A pitch that the series
    does not list is taken as said (specials exist): `is_standard` tells.

    Raises:
        BadInput: no size, no series, a size that the series has not, or no thread at all.
    """
    typed = " ".join(_plain_fractions(text).split())
    if not typed or len(typed) > _LONGEST:
        raise BadInput(Problem("thread", f"'{typed[:30]}' is no thread", _EXAMPLES))
    bare, hand = _take_hand(typed)
    thread = _metric(bare) or _ba(bare) or _inch(bare)
    if thread is None:
        raise BadInput(Problem("thread", f"'{typed}' is no thread", _EXAMPLES))
    return replace(thread, hand=hand)


def _plain_fractions(text: str) -> str:
    """Write ½ as 1/2 (3½ as 3 1/2), and close the gaps in 7 / 16."""
    spelled = unicodedata.normalize("NFKC", re.sub(r"([¼-¾⅐-⅞])", r" \1", text))
    return re.sub(r"\s*/\s*", "/", spelled.replace("⁄", "/"))


def is_standard(thread: ThreadSpec) -> bool:
    """Whether the thread is one of its own series' list, either hand."""
    return replace(thread, hand=Hand.RIGHT) in threads_of(thread.series)


def _take_hand(typed: str) -> tuple[str, Hand]:
    left, right = _LEFT.search(typed), _RIGHT.search(typed)
    if left and right:
        raise BadInput(Problem("thread", f"'{typed}' is of both hands", "say left hand or right"))
    found = left or right
    if found is None:
        return typed, Hand.RIGHT
    rest = f"{typed[: found.start()]} {typed[found.end() :]}"
    return " ".join(rest.split()).strip(" ,;()"), Hand.LEFT if left else Hand.RIGHT


def _metric(bare: str) -> ThreadSpec | None:
    match = _METRIC.match(bare)
    if match is None:
        return None
    size = match["size"].rstrip("0").rstrip(".") if "." in match["size"] else match["size"]
    listed = [thread for thread in threads_of("metric") if thread.size == f"M{size}"]
    if match["pitch"] is None:
        if not listed:
            raise BadInput(
                Problem("thread", f"M{size} has no standard pitch", "state it, such as M9 x 1")
            )
        return listed[0]
    pitch = Fraction(Decimal(match["pitch"]))
    return ThreadSpec(Form.METRIC, Quantity.of(size, "mm"), pitch, series="metric", size=f"M{size}")


def _ba(bare: str) -> ThreadSpec | None:
    match = _BA.match(bare)
    if match is None:
        return None
    number = str(int(match["a"] or match["b"]))
    for thread in threads_of("BA"):
        if thread.size == number:
            return thread
    raise BadInput(Problem("thread", f"there is no {number} BA here", "0 BA to 16 BA are known"))


def _inch(bare: str) -> ThreadSpec | None:
    match = _INCH.match(bare)
    if match is None:
        return None
    word = match["series"].replace(".", "").strip().lower()
    series = "BSP" if match["g"] else _SERIES_WORDS.get(word)
    size = _tidy_size(match["size"], bare)
    count = match["tpi"] or match["late"]
    if series is None:
        raise BadInput(_no_series(bare, word, size, count))
    size = _numbered(series, size, count)
    listed = [thread for thread in threads_of(series) if _same_size(thread, size)]
    if count is not None:
        return _stated(series, size, count, listed)
    if len(listed) == 1:
        return listed[0]
    if listed:
        pitches = " or ".join(str(thread.threads_per_inch) for thread in listed)
        raise BadInput(
            Problem("thread", f"{size} {series} has more than one pitch", f"say {pitches} per inch")
        )
    raise BadInput(
        Problem("thread", f"{size} is no size of {series}", "state the threads per inch as counted")
    )


def _stated(series: str, size: str, count: str, listed: list[ThreadSpec]) -> ThreadSpec:
    pitch = threads_per_inch(count)
    for thread in listed:
        if thread.pitch_mm == pitch:
            return thread
    if series == "BSP":
        known = listed[0].name if listed else "1/8 to 2"
        raise BadInput(
            Problem("thread", f"{size} BSP has not {count} threads", f"pipe sizes are {known}")
        )
    form = _FORM_OF.get(series, Form.UNIFIED)
    major = Quantity.of(_inches(size), "in")
    return ThreadSpec(form, major, pitch, series=series, size=size)


def _tidy_size(size: str, bare: str) -> str:
    lowered = size.lower().replace("no.", "#").replace("no", "#").replace(" #", "#")
    tidy = " ".join(lowered.replace("-", " ").split()).replace("# ", "#")
    try:
        if _inches(tidy) <= 0:
            raise ZeroDivisionError
    except ZeroDivisionError:
        raise BadInput(Problem("thread", f"'{bare}' has no diameter", _EXAMPLES)) from None
    return tidy


def _numbered(series: str, size: str, count: str | None) -> str:
    """10-32 UNF is number 10, not ten inches: read a whole number so when the series has it."""
    numbers = {(thread.size, thread.threads_per_inch) for thread in threads_of(series)}
    if count is not None and (f"#{size}", Fraction(Decimal(count))) in numbers:
        return f"#{size}"
    return size


def _inches(size: str) -> Decimal:
    return Decimal(size) if "." in size else size_in_inches(size)


def _same_size(thread: ThreadSpec, size: str) -> bool:
    if thread.series == "BSP":
        return size_in_inches(thread.size) == _inches(size)
    return thread.major == Quantity.of(_inches(size), "in")


def _no_series(bare: str, word: str, size: str, count: str | None) -> Problem:
    major = Quantity.of(_inches(size), "in")
    pitch = threads_per_inch(count) if count else None
    alike = [
        thread.name
        for thread in standard_threads()
        if thread.major == major and (pitch is None or thread.pitch_mm == pitch)
    ]
    offered = f"it may be {', '.join(alike[:6])}" if alike else _EXAMPLES
    wrong = f"'{word}' is no thread series" if word else f"'{bare}' does not say which thread"
    return Problem("thread", wrong, offered)
