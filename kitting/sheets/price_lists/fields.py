"""What the columns of a price list may hold, and the words by which suppliers head them.

The words are the trade's own, in the languages that lists come in. Earlier words are the better
sign: where a list has a net and a retail price, the net price is what the shop pays.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kitting.errors import Problem


_PLACE = re.compile(r"column ([A-Za-z]{1,3})", re.IGNORECASE)


class Field(StrEnum):
    """What a column holds."""

    NUMBER = "number"
    PART = "part"
    MAKER = "maker"
    PRICE = "price"
    CURRENCY = "currency"
    PER = "per"
    UNIT = "unit"
    PACK = "pack"
    QUANTITY = "quantity"
    BREAKS = "breaks"
    VALID_FROM = "valid_from"
    VALID_UNTIL = "valid_until"
    DAYS = "days"
    STOCK = "stock"
    QUALITY = "quality"
    SUPERSEDED_BY = "superseded_by"
    TEXT = "text"


SIZES = (Field.PACK, Field.PER, Field.UNIT)
"""The fields that say for how many a price is."""

MEANINGS = MappingProxyType(
    {
        Field.NUMBER: "the supplier's number",
        Field.PART: "the maker's number, or maker:number",
        Field.MAKER: "the maker",
        Field.PRICE: "the price of one pack, without VAT",
        Field.CURRENCY: "the currency",
        Field.PER: "how many the price is for",
        Field.UNIT: "what the price is for: each, a pair, a set of 4, a pack, 100",
        Field.PACK: "how many in a pack",
        Field.QUANTITY: "from how many packs the price holds",
        Field.BREAKS: "prices for more packs, as 10: 4.20 | 50: 3.90",
        Field.VALID_FROM: "first day of the price",
        Field.VALID_UNTIL: "last day of the price",
        Field.DAYS: "days to deliver",
        Field.STOCK: "packs in stock",
        Field.QUALITY: "maker's own, new old stock, pattern or used",
        Field.SUPERSEDED_BY: "the number that replaces it",
        Field.TEXT: "what it is, in words",
    }
)

HEADINGS = MappingProxyType(
    {
        Field.NUMBER: (
            "part number", "part no", "number", "our number", "our ref", "stock code", "stock no",
            "stock number", "item code",
            "code", "product code", "item number", "item no", "sku", "article number", "article",
            "artikelnummer", "artikel nr", "art nr", "bestellnummer", "teilenummer", "best nr",
            "catalogue number", "cat no", "reference", "ref", "référence", "part", "item",
            "teile nr", "teilenr", "artikelnr", "código", "codigo", "referencia", "codice",
            "codice articolo", "onderdeelnummer", "bestelnummer", "artikelnummer", "varenummer",
            "varenr", "numer katalogowy", "indeks", "tuotenumero", "réf", "cod", "bestelnr",
        ),
        Field.PART: (
            "maker's number", "makers number", "manufacturer part number", "manufacturer number",
            "oem number", "oem no", "oem", "oe number", "original number", "original part number",
            "originalnummer", "herstellernummer", "mpn", "maker and number",
        ),
        Field.MAKER: (
            "maker", "make", "manufacturer", "brand", "hersteller", "fabricant", "mfr", "mfg",
            "marke", "marque", "constructeur", "merk", "fabrikant", "marca", "produttore",
            "costruttore", "fabricante",
        ),
        Field.PRICE: (
            "net price", "net", "your price", "trade price", "trade", "nettopreis", "ek preis",
            "prix net", "prix ht", "price ex vat", "cost price", "cost", "unit price", "price",
            "preis", "prix", "each", "precio", "prezzo", "prijs", "pris", "cena", "preço", "hinta",
            "einzelpreis", "stückpreis", "list price", "list", "retail price", "retail", "rrp",
        ),
        Field.CURRENCY: ("currency", "ccy", "curr", "währung", "devise"),
        Field.PER: (
            "price per", "per", "price unit", "price basis", "priced per", "preiseinheit", "pe",
            "price is for", "price is per", "price for", "price qty", "per qty", "je", "pro",
            "preis je", "preis pro", "preis für", "prix par", "prix pour", "prijs per",
            "prezzo per", "precio por", "pris per",
        ),
        Field.UNIT: (
            "unit", "units", "uom", "u o m", "unit of measure", "unit of measurement", "um", "u m",
            "unit of issue", "uoi", "sold by", "sold per", "sold as", "selling unit", "sales unit",
            "sale unit", "selling uom", "sales uom", "price uom", "measure", "mengeneinheit",
            "sell unit", "sell uom", "u i", "uos", "pricing unit", "pricing uom",
            "einheit", "me", "verkaufseinheit", "unité", "unité de vente", "unidad", "unità",
            "unita", "eenheid", "enhet", "enhed", "jednostka", "yksikkö",
        ),
        Field.PACK: (
            "pack", "pack size", "pack qty", "pack quantity", "packed in", "qty per pack",
            "sold in", "unit of sale", "vpe", "verpackungseinheit", "conditionnement", "confezione",
            "verpakking", "förpackning",
        ),
        Field.QUANTITY: (
            "quantity from", "from quantity", "from qty", "qty from", "min qty", "minimum quantity",
            "break quantity", "break qty", "qty break", "quantity", "qty", "ab menge",
            "staffelmenge", "menge", "quantité", "qté", "anzahl", "cant",
            "cantidad", "quantità", "aantal", "antal", "ilość",
        ),
        Field.BREAKS: ("breaks", "price breaks", "quantity breaks", "quantity prices", "staffel"),
        Field.VALID_FROM: (
            "valid from", "effective from", "effective date", "effective", "price from",
            "eff date", "eff dt", "eff from", "price date", "new price from", "date d'effet",
            "decorrenza", "valido dal", "ingangsdatum", "geldig vanaf", "vigencia",
            "válido desde", "gäller från", "gælder fra", "gjelder fra", "obowiązuje od", "ważne od",
            "gyldig fra", "giltig från", "válido a partir de",
            "gültig ab", "gültig von", "valable du", "à partir du", "start date",
            "with effect from", "from date", "date from", "from",
        ),
        Field.VALID_UNTIL: (
            "valid until", "valid to", "valid till", "expires", "expiry", "expiry date",
            "price until", "valido fino al", "geldig tot", "válido hasta", "gäller till",
            "gyldig til", "giltig till", "válido até", "ważne do",
            "gültig bis", "valable au", "end date", "ends", "to date", "date to", "to",
        ),
        Field.DAYS: (
            "days", "delivery days", "lead time", "lead time days", "days to deliver", "lieferzeit",
            "lieferzeit tage", "délai",
        ),
        Field.STOCK: (
            "stock", "in stock", "stock qty", "qty available", "available", "on hand",
            "free stock", "bestand", "lagerbestand", "quantity in stock", "existencias", "giacenza",
            "voorraad", "stan", "stan magazynowy", "lagersaldo", "i lager", "på lager",
            "disponibilità", "disponible", "dispo",
        ),
        Field.QUALITY: (
            "quality", "condition", "origin", "part quality", "quality mark", "genuine or pattern",
            "genuine pattern", "original or pattern", "original or copy", "new or used", "new used",
            "qualität", "zustand", "herkunft", "qualité", "état", "origine",
        ),
        Field.SUPERSEDED_BY: (
            "superseded by", "replaced by", "supersession", "superseded", "replacement",
            "replacement number", "new number", "new part number", "use instead", "successor",
            "ersetzt durch", "nachfolger", "neue nummer", "remplacé par", "sustituido por",
            "sostituito da", "vervangen door", "ersatt av", "sost da",
            "rempl par", "nieuw nummer", "nuovo codice", "vervanger", "ersatznummer",
        ),
        Field.TEXT: (
            "description", "desc", "part description", "item description", "name", "details",
            "bezeichnung", "beschreibung", "benennung", "désignation", "libellé", "descripción",
            "descrizione", "omschrijving", "beskrivning", "beskrivelse", "opis", "descrição",
            "descr", "omschr", "benämning",
        ),
    }
)  # fmt: skip

HEADINGS_TOO = MappingProxyType(
    {
        Field.UNIT: ("unit of sale", "sold in", "price unit", "preiseinheit", "price basis"),
        Field.PACK: (
            "box",
            "box qty",
            "qty per box",
            "qty box",
            "pk",
            "pk qty",
            "packing",
            "case",
            "case qty",
            "carton",
            "carton qty",
            "bag qty",
            "inner qty",
            "pack of",
            "packs of",
            "packed",
            "packung",
            "packungsgröße",
            "packmenge",
            "verpackung",
            "verpackungsmenge",
            "stk vpe",
            "stück vpe",
            "uds caja",
            "unidades caja",
            "unidades por caja",
            "uds por caja",
            "conf",
            "conf da",
            "confezione da",
            "pz conf",
            "colisage",
            "boîte de",
            "qté par boîte",
            "quantité par boîte",
            "aantal per doos",
            "per doos",
            "per box",
            "per pack",
            "pcs per box",
            "pieces per box",
            "pcs per pack",
            "pieces per pack",
            "units per pack",
            "units per box",
            "pcs box",
            "pcs pack",
            "no in pack",
            "number in pack",
        ),
        Field.SUPERSEDED_BY: ("ersatz",),
    }
)
"""Words that must be all of a heading: of another field too, or too short to be a part of one."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column taken for a field: its place from 0, its heading, and how it came to be taken.

    `per` is for how many its price is, where its heading says so; 0 where it is for a pack.
    """

    field: Field
    index: int
    heading: str
    how: str
    per: int = 0

    @property
    def letter(self) -> str:
        """The column as a spreadsheet names it."""
        return letter_of(self.index)

    def __str__(self) -> str:
        return f"column {self.letter} ({self.heading})" if self.heading else f"column {self.letter}"


@dataclass(frozen=True, slots=True)
class Step:
    """A column of its own for the price of one pack when so many are bought.

    `counted` is the column that says of each row from how many on; `packs` is then 0.
    """

    packs: int
    column: Column
    counted: Column | None = None

    @property
    def columns(self) -> tuple[Column, ...]:
        """The column of the prices, and that of the quantities where there is one."""
        return (self.counted, self.column) if self.counted else (self.column,)


@dataclass(frozen=True, slots=True)
class Mapping:
    """Which column holds what; `left` are the headings of the columns that are not taken.

    `steps` are the columns of quantity prices, the fewest packs first. `rivals` are columns that
    might hold the number or the price as well, and nothing decides: a person is asked. `hidden`
    are headed columns that the sheet hides and that were therefore left alone. `asked` are the
    questions without whose answer the list is not taken. `nones` are headings of which a person
    said that they are none of a field, each with that field. `own` says that the supplier's numbers
    are his own and the makers' stand beside them. `letters` says whether C and M among the units
    are a hundred and a thousand; None where nobody said. `remarks` tell of columns that were left.
    """

    columns: tuple[Column, ...]
    left: tuple[str, ...] = ()
    steps: tuple[Step, ...] = ()
    rivals: tuple[Column, ...] = ()
    hidden: tuple[str, ...] = ()
    asked: tuple[Problem, ...] = ()
    nones: tuple[tuple[Field, str], ...] = ()
    own: bool = False
    letters: bool | None = None
    remarks: tuple[str, ...] = ()

    def column(self, field: Field) -> Column | None:
        """The column of a field, or None."""
        return next((column for column in self.columns if column.field is field), None)

    @property
    def shown(self) -> tuple[Column, ...]:
        """Every column that is taken, in the order of the fields."""
        order = list(Field)
        every = (*self.columns, *(column for step in self.steps for column in step.columns))
        return tuple(sorted(every, key=lambda column: order.index(column.field)))


def letter_of(index: int) -> str:
    """Return a column, counted from 0, as spreadsheets name it.

    >>> letter_of(27)
    'AB'
    """
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def index_of(letters: str) -> int:
    """Return a column's place from 0 of its letters.

    >>> index_of("AB")
    27
    """
    place = 0
    for letter in letters.upper():
        place = place * 26 + ord(letter) - ord("A") + 1
    return place - 1


def place_of(text: str) -> int | None:
    """Return the place from 0 of a column that is named by its letters; None for a heading.

    >>> place_of("column C"), place_of("Net price")
    (2, None)
    """
    found = _PLACE.fullmatch(text)
    return index_of(found[1]) if found else None
