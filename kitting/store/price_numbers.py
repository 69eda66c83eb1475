"""What the database knows of the numbers in a price list: some thousands asked for at once."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date
from itertools import chain
from typing import Any

from sqlalchemy import Connection, text

from kitting.buying.price_lists.matching import Held, Key, Known, numbers_in, unmatched
from kitting.buying.price_lists.rows import PriceRow, plain_number

# `+list_id`: of the two keys that a row has, the number finds it; its list is then looked at.
_HELD = (
    "their_normal, line, part_maker, part_number, pack, price, currency, valid_until, quality, "
    "valid_from FROM offers"
)


class PriceNumbers:
    """Asks for what is known of many numbers within one unit of work."""

    def __init__(self, connection: Connection, supplier: str, list_id: int | None) -> None:
        self._connection = connection
        self._supplier = supplier
        self._list = list_id
        self._is_sqlite = connection.dialect.name == "sqlite"
        self._decides = bool(
            connection.execute(
                text("SELECT 1 FROM supplier_numbers WHERE supplier = :supplier LIMIT 1"),
                {"supplier": supplier},
            ).first()
        )

        self._has_breaks = list_id is not None and bool(
            connection.execute(
                text("SELECT 1 FROM price_breaks WHERE list_id = :list LIMIT 1"), {"list": list_id}
            ).first()
        )

    def known(self, rows: Sequence[PriceRow]) -> Known:
        """Return all that is known of the numbers in some rows.

        What settles most rows is asked first, and the rest only for the rows that are left.
        """
        known = Known()
        if self._decides:
            known.decided = self._decided(sorted(numbers_in(rows)))
        if self._list is not None:
            known.held = self._held(sorted({row.normal for row in rows} - {""}))
        named = {plain_number(row.part) for row in rows if row.part and ":" not in row.part}
        known.parts = self._parts(sorted(named - {""})) if named else {}
        rest = sorted(unmatched(rows, known))
        if rest:
            known.past = self._past(rest)
            known.parts |= self._parts([number for number in rest if number not in known.parts])
        if self._list is not None:
            known.held_of = self._held_of(_elsewhere(known))
        return known

    def some_known(self, numbers: Collection[str]) -> set[str]:
        """Return those of some numbers that any supplier or maker uses."""
        wanted = sorted(numbers)
        found = set(self._parts(wanted))
        return found | {
            row[0]
            for row in self._ask("DISTINCT their_normal FROM offers WHERE their_normal", wanted)
        }

    def gone(self, seen: bytearray, day: date, most: int) -> tuple[list[tuple[Held, str]], int]:
        """Return some offers that hold on a day and whose line was not seen, and how many."""
        rows = self._connection.execution_options(yield_per=10_000).execute(
            text(
                "SELECT line, part_maker, part_number, pack, price, currency, valid_until, "
                "their_number, quality, valid_from FROM offers "
                "WHERE list_id = :list AND valid_until >= :day ORDER BY line"
            ),
            {"list": self._list, "day": day.isoformat() if self._is_sqlite else day},
        )
        some: list[tuple[Held, str]] = []
        count = 0
        for row in rows:
            if not seen[row[0]]:
                count += 1
                if len(some) < most:
                    held = _held_in(("", *row[:7], row[8], row[9]), {})
                    some.append((held, row[7]))
        return some, count

    def _decided(self, numbers: Sequence[str]) -> dict[str, Key | None]:
        rows = self._ask(
            "their_normal, part_maker, part_number FROM supplier_numbers "
            "WHERE supplier = :supplier AND their_normal",
            numbers,
        )
        return {row[0]: None if row[1] is None else (row[1], row[2]) for row in rows}

    def _held(self, numbers: Sequence[str]) -> dict[str, list[Held]]:
        rows = [*self._ask(f"{_HELD} WHERE +list_id = :list AND their_normal", numbers)]
        breaks = self._breaks_of(rows)
        found: dict[str, list[Held]] = {}
        for row in rows:
            found.setdefault(row[0], []).append(_held_in(row, breaks))
        return found

    def _held_of(self, parts: Iterable[Key]) -> dict[Key, list[Held]]:
        makers: dict[str, list[str]] = {}
        for maker, number in sorted(parts):
            makers.setdefault(maker, []).append(number)
        found: dict[Key, list[Held]] = {}
        for maker, numbers in makers.items():
            where = "WHERE +list_id = :list AND part_maker = :maker AND part_number"
            rows = [*self._ask(f"{_HELD} {where}", numbers, maker=maker)]
            breaks = self._breaks_of(rows)
            for row in rows:
                held = _held_in(row, breaks)
                found.setdefault(held.part, []).append(held)
        return found

    def _breaks_of(self, rows: Sequence[Any]) -> dict[int, tuple[tuple[int, int], ...]]:
        """The prices for more packs of some offers, by line; asked for where the list has any."""
        if not (rows and self._has_breaks):
            return {}
        found: dict[int, list[tuple[int, int]]] = {}
        what = "line, packs, price FROM price_breaks WHERE list_id = :list AND line"
        for line, packs, price in self._ask(what, [row[1] for row in rows]):
            found.setdefault(line, []).append((packs, price))
        return {line: tuple(sorted(steps)) for line, steps in found.items()}

    def _past(self, numbers: Sequence[str]) -> dict[str, list[Key]]:
        rows = self._ask(
            "DISTINCT their_normal, part_maker, part_number FROM offers "
            "WHERE supplier = :supplier AND their_normal",
            numbers,
        )
        return _grouped(rows)

    def _parts(self, numbers: Sequence[str]) -> dict[str, list[Key]]:
        rows = self._ask("normal, part_maker, part_number FROM parts WHERE normal", numbers)
        return _grouped(rows)

    def _ask(self, what: str, numbers: Sequence[str] | Sequence[int], **more: Any) -> Iterator[Any]:
        """Select `what` IN the numbers, however many: one list, not a mark for each."""
        values: dict[str, Any] = {"supplier": self._supplier, "list": self._list, **more}
        if self._is_sqlite:
            within = "IN (SELECT value FROM json_each(:numbers))"
            values["numbers"] = json.dumps(list(numbers))
        else:
            of = "bigint" if numbers and isinstance(numbers[0], int) else "text"
            within = f"= ANY(CAST(:numbers AS {of}[]))"
            values["numbers"] = list(numbers)
        query = f"SELECT {what} {within}"
        used = {name: value for name, value in values.items() if f":{name}" in query}
        # The driver's own rows: a million of the library's would cost as much as finding them.
        cursor = self._connection.execute(text(query), used).cursor
        return iter(cursor.fetchall() if cursor else ())


def _held_in(row: Any, breaks: Mapping[int, tuple[tuple[int, int], ...]]) -> Held:
    """An offer of the list that holds, of a row of what `_HELD` selects."""
    more = breaks.get(row[1], ()) if breaks else ()
    return Held(
        row[1], row[2], row[3], row[4], row[5], row[6], str(row[7]), row[8], str(row[9]), more
    )


def _elsewhere(known: Known) -> set[Key]:
    """The parts that may be meant and are not held under the numbers of the new list."""
    listed = chain.from_iterable(chain(known.parts.values(), known.past.values()))
    held = {each.part for every in known.held.values() for each in every}
    return {*listed, *filter(None, known.decided.values())} - held


def _grouped(rows: Iterable[Any]) -> dict[str, list[Key]]:
    found: dict[str, list[Key]] = {}
    for row in rows:
        found.setdefault(row[0], []).append((row[1], row[2]))
    for keys in found.values():
        if len(keys) > 1:
            keys.sort()
    return found
