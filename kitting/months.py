"""Days with their month in words, whole or cut short, in the languages that sheets come in."""

from __future__ import annotations

import re
import unicodedata
from datetime import date

_NAMES = (
    "january januar janvier gennaio enero janeiro januari janner jänner",
    "february februar fevrier février febbraio febrero fevereiro februari feber",
    "march marz märz maerz mars marzo marco março maart mrt mrz",
    "april avril aprile abril",
    "may mai maggio mayo maio mei maj",
    "june juni juin giugno junio junho",
    "july juli juillet luglio julio julho",
    "august aout août agosto augustus augusti",
    "september septembre settembre septiembre setembro setiembre",
    "october oktober octobre ottobre octubre outubro",
    "november novembre noviembre novembro",
    "december dezember decembre décembre dicembre diciembre dezembro",
)
_SHORTEST = 3
_BEGINNINGS = {
    name[:end]
    for names in _NAMES
    for name in names.split()
    for end in range(_SHORTEST, len(name) + 1)
}
MONTH = rf"(?:{'|'.join(sorted(_BEGINNINGS, reverse=True))})(?![^\W\d_])"
"""A month's name or its beginning, as an expression for use within one that heeds no case."""

_WORD = rf"(?P<m>{MONTH})\.?"
_YEAR = r"(?P<y>\d{4}|\d{2})(?!\d)"
_DAY_FIRST = (
    rf"(?P<d>\d{{1,2}})(?:st|nd|rd|th|er|[º°.])?[-./ ]?(?:de )?{_WORD}[-./, ]{{0,2}}(?:de )?{_YEAR}"
)
_MONTH_FIRST = rf"{_WORD}[-/ ]?(?P<d>\d{{1,2}})(?:st|nd|rd|th)?(?:,? |[-/]|,){_YEAR}"
_DAYS = [re.compile(each, re.IGNORECASE) for each in (_DAY_FIRST, _MONTH_FIRST)]
IN_WORDS = "|".join(re.sub(r"\?P<\w>", "?:", each) for each in (_DAY_FIRST, _MONTH_FIRST))
"""A day whose month is a word, as an expression for use within a longer one that heeds no case."""

_EARLIEST, _LATEST = 1900, 2199


def month_of(word: str) -> int:
    """Return the number of a month by its name or the beginning of it; 0 for any other word.

    >>> month_of("Sept"), month_of("déc"), month_of("Mrz"), month_of("mark"), month_of("jui")
    (9, 12, 3, 0, 0)
    """
    spread = unicodedata.normalize("NFKD", word.casefold())
    plain = "".join(mark for mark in spread if mark.isalpha())
    found = {
        number
        for number, names in enumerate(_NAMES, 1)
        if len(plain) >= _SHORTEST and any(name.startswith(plain) for name in names.split())
    }
    return found.pop() if len(found) == 1 else 0


def day_in_words(text: str) -> date | None:
    """Return the day of a text whose month is a word; None for any other text.

    >>> str(day_in_words("3rd Sept 2026")), str(day_in_words("Dec 15, 2026"))
    ('2026-09-03', '2026-12-15')
    >>> str(day_in_words("15 de diciembre de 2026")), day_in_words("31 Feb 2026")
    ('2026-12-15', None)
    """
    found = next(filter(None, (each.fullmatch(text) for each in _DAYS)), None)
    month = month_of(found["m"]) if found else 0
    return day_made(found["y"], month, found["d"]) if found and month else None


def day_made(year: str, month: int, day: str) -> date | None:
    """Return the day of figures, a year of two of them in this century; None where there is none,
    or in a year of another age.

    >>> day_made("26", 9, "3"), day_made("2026", 13, "3")
    (datetime.date(2026, 9, 3), None)
    """
    full = int(year) + (2000 if len(year) == 2 else 0)
    try:
        return date(full, month, int(day)) if _EARLIEST <= full <= _LATEST else None
    except ValueError:
        return None
