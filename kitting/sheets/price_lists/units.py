"""What a price is for, as the cell of a unit column says it: each, a pair, a set of 4, PK, 100.

Together with the size of a pack and the price's heading it decides for how many the price is.
Where these do not agree nobody can say, and the row waits for a person.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import Enum, auto
from typing import NamedTuple

from kitting.sheets.price_lists.marks import tidy


class Kind(Enum):
    """What a unit is."""

    COUNT = auto()
    """So many pieces, one of them as a rule."""
    LOT = auto()
    """So many that are sold together, as a pair or a set of four."""
    PACK = auto()
    """A pack, of whatever size."""
    ARTICLE = auto()
    """A set, a roll, a metre: one of what is listed."""


class Unit(NamedTuple):
    """A unit; `many` is 0 where it does not say how many."""

    kind: Kind
    many: int = 0


_WORDS = {
    Unit(
        Kind.COUNT, 1
    ): "each|ea|e|piece|pieces|pce|pces|pc|pcs|stk|stück|st|unit|units|un|u|single"
    "|singles|singly|one|nr|no|nos|item|off|stuk|stuks|pezzo|pz|pieza|pza|ud|uds|pièce|szt|ks|db"
    "|kpl|unité|unidad|unità|einheit|enhet",
    Unit(Kind.COUNT, 100): "hundred|hundert|cent",
    Unit(Kind.COUNT, 1000): "thousand|tausend|mille",
    Unit(Kind.LOT, 2): "pair|pairs|pr|prs|paar|paire|paia|par|pára",
    Unit(Kind.LOT, 12): "dozen|doz|dz|dutzend|dtz|douzaine|dozzina|docena|dozijn",
    Unit(Kind.LOT, 144): "gross|grs",
    Unit(Kind.PACK): "pack|packs|pk|pck|packet|packets|pkt|pkg|package|box|boxes|bx|bag|bags|bg"
    "|carton|ctn|case|card|tray|bundle|strip|paket|packung|pak|vpe|boîte|paquet|confezione|caja"
    "|doos|karton|beutel",
    Unit(Kind.ARTICLE): "set|sets|kit|kits|satz|jeu|juego|serie|roll|rolls|rolle|reel|coil|sheet"
    "|tube|tub|bottle|can|tin|cartridge|length|assembly|assy|m|mtr|metre|metres|meter|meters|ft"
    "|foot|yd|cm|mm|kg|g|l|ltr|litre|litres|liter|ml",
}
_UNITS = {word: unit for unit, words in _WORDS.items() for word in words.split("|")}
_LEAD = re.compile(r"^(?:(?:per|by the|a|je|pro|par|the)\s+|/\s*|1\s+(?=[^\W\d]))")
_LOT = "set|kit|satz|jeu|tin|roll|" + _WORDS[Unit(Kind.PACK)]
_OF = re.compile(rf"(?:{_LOT})\.?\s*(?:of|à|x|/|-|von|de)?\s*\(?(\d{{1,6}})(?:\s*(?:pcs?|off))?\)?")
_SIZED = re.compile(rf"(\d{{1,6}})\s*(?:per|/|-|er)?\s*(?:{_LOT})")
_COUNT = re.compile(
    r"(?:x\s*)?(\d{1,6})(?:[.,]0+)?\s*(?:off|pcs?|pieces?|each|ea|stk|stück|st|units?|nos?|'?s)?"
)
_UNIT_PRICE = re.compile(
    r"\b(?:unit|unitaire|unitari[oa]|jedn\w*)\b|\b(?:einheit|enhe[td]|eenheid)", re.IGNORECASE
)
_PACK_PRICE = re.compile(r"\b(?:pack|packet|pkt|box|vpe|packung|paquet)\b", re.IGNORECASE)


def unit_of(text: str) -> Unit | None:
    """What a cell says that the price is for; None when it says nothing known.

    >>> unit_of("EA").many, unit_of("set of 4").many, unit_of("per 100").many, unit_of("PK").many
    (1, 4, 100, 0)
    """
    plain = tidy(text).casefold().rstrip(".")
    return _unit(plain) or _unit(_LEAD.sub("", plain, count=1))


_BY_LETTER = {"C": Unit(Kind.COUNT, 100), "M": Unit(Kind.COUNT, 1000)}


def by_letter(texts: Iterable[str]) -> bool:
    """Whether cells use C for a hundred and M for a thousand: an M alone may be a metre.

    >>> by_letter(["C", "EA", "M"]), by_letter(["M", "EA", "kg"])
    (True, False)
    """
    return set(_BY_LETTER) <= {tidy(text).rstrip(".") for text in texts}


def unit_by_letter(text: str) -> Unit | None:
    """What C or M is where a list uses both; None for anything else.

    >>> unit_by_letter("M"), unit_by_letter("m")
    (Unit(kind=<Kind.COUNT: 1>, many=1000), None)
    """
    return _BY_LETTER.get(tidy(text).rstrip("."))


def _unit(word: str) -> Unit | None:
    unit = _UNITS.get(word)
    if unit is not None:
        return unit
    found = _OF.fullmatch(word) or _SIZED.fullmatch(word)
    kind = Kind.LOT
    if not found:
        found, kind = _COUNT.fullmatch(word), Kind.COUNT
    many = int(found[1]) if found else 0
    return Unit(kind, many) if many else None


def is_article(text: str) -> bool:
    """Whether a cell names one of what is listed, however much that is: a set, a roll, a metre."""
    unit = unit_of(text)
    return unit is not None and unit.kind is Kind.ARTICLE


def of_a_unit(heading: str) -> bool:
    """Whether a price is headed as that of a unit, whatever that is: 'Unit price'."""
    return _UNIT_PRICE.search(heading) is not None


class Sized(NamedTuple):
    """For how many a price is and how many are in the pack, 0 where it is not said; or `wrong`."""

    per: int = 0
    pack: int = 0
    wrong: str = ""


def sized(unit: Unit, heading: str, per: int, pack: int) -> Sized:
    """Decide by a unit, the price's heading, for how many it is said to be and the pack's size.

    >>> sized(Unit(Kind.COUNT, 1), "Price", 0, 10), sized(Unit(Kind.PACK), "Price", 0, 10)
    (Sized(per=1, pack=10, wrong=''), Sized(per=10, pack=10, wrong=''))
    """
    if per == 1 and of_a_unit(heading):
        per = 0  # for one of the unit, whatever that is
    if _PACK_PRICE.search(heading) and pack and unit in {Unit(Kind.COUNT, 1), Unit(Kind.PACK)}:
        return Sized(pack, pack)
    found = _JUDGES[unit.kind](unit.many, per, pack)
    if found is not None:
        return found
    if unit.kind is Kind.PACK and not pack:
        return Sized(wrong="it is sold by the pack, and nothing says how many are in one")
    said = f"its price is said to be for {per}" if per else ""
    packed = f"the pack is of {pack}" if pack else ""
    return Sized(wrong=" and ".join(filter(None, (said, packed))))


def _count(many: int, per: int, pack: int) -> Sized | None:
    return Sized(per or many, pack) if many == 1 or per in {0, many} else None


def _lot(many: int, per: int, pack: int) -> Sized | None:
    return Sized(many, many) if per in {0, many} and pack in {0, many} else None


def _pack(_many: int, per: int, pack: int) -> Sized | None:
    return Sized(per or pack, pack) if pack and (per != 1 or pack == 1) else None


def _article(_many: int, per: int, pack: int) -> Sized | None:
    return Sized(per, pack) if pack <= 1 else None


_JUDGES = {Kind.COUNT: _count, Kind.LOT: _lot, Kind.PACK: _pack, Kind.ARTICLE: _article}
