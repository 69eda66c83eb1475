"""Figures in a heading that count nothing: years, days, percentages, taxes, numbered columns."""

from __future__ import annotations

import re

from kitting.months import MONTH

_MONTH = rf"(?<![^\W\d_]){MONTH}"
_TAX = r"(?:vat|ttc|tax|mwst|ust|t\.?v\.?a|i\.?v\.?a|btw|moms|mva|gst|dph|alv)"
_NO_COUNT = re.compile(
    r"\d+[./-]\d+(?:[./-]\d+)?"  # a day, a season, decimals, from the one to the other
    rf"|\d{{1,2}}(?:st|nd|rd|th|\.)?\s*{_MONTH}\.?(?:\s*\d{{2,4}})?|{_MONTH}\.?\s*['’]?\d{{1,4}}"
    r"|(?<!\d)(?:19|20)\d\d(?!\d)|['’]\d\d|\d+,\d+"
    r"|\d+(?:st|nd|rd|th)\b|\d+\s*(?:%|percent|prozent|per cent|pct|pour cent|por ciento)"
    rf"|{_TAX}\W*\d+|\d+\W*{_TAX}\b"
    r"|(?:\b(?:from|ab|over|above|under|min\w*|max\w*|moq|dès|à partir de|vanaf|da|desde|fra|från"
    r"|orders?|less|minus|off)|>=?|≥)\W*\d+|\d+\s*(?:\+|plus\b|or more|and (?:up|over|more)|& ?up)"
    r"|\d+\s*-?(?:days?|tagen?|tage|jours?|giorni|días|dagen|hours?|hrs?|h|std|weeks?|wochen?"
    r"|months?|monate?|years?|jahre?|yrs?|mm|cm|v|volts?|w|bar|ccm?|hp|ps|inch(?:es)?|bore|cyl\w*)\b"
    r"|(?<![^\W_])(?:level|band|tier|price list|preisliste|group|gruppe|groupe|class|klasse"
    r"|rev|version|v|no|nr|num|account|acc|a/c|customer|edition|issue|week|kw|zone|region|branch|code|phase|grade|stufe|staffel|col|column|spalte"
    r"|page|seite|section|part|option|quarter|q|period|type|typ|series|model|mod|cat\w*)\W*\d+",
    re.IGNORECASE,
)


def without_no_counts(heading: str) -> str:
    """Return a heading without the figures that count nothing, a dot in the place of each.

    >>> without_no_counts("Net 2026 (100)"), without_no_counts("Net, 1.10.2026")
    ('Net  ·  (100)', 'Net,  · ')
    """
    return _NO_COUNT.sub(" · ", heading)
