"""The fingerprint of a value: equal content, equal text, whatever program wrote or read it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from kitting.catalog.model import PartNumber
from kitting.measure import Quantity


def fingerprint(value: Any) -> str:
    """Return the SHA-256 of a value's content, as hexadecimal text.

    A field that holds its default is left out, so that a column added later does not make old
    content look new; so is one that is not compared, such as the line a row was read from. Figures
    count as written, without idle zeros: 1.0 in is not 25.4 mm.
    """
    text = json.dumps(_plain(value), ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _plain(value: Any) -> Any:
    if value is None or isinstance(value, str | int):
        return value
    if isinstance(value, Decimal):
        return format(value.normalize() if value else Decimal(0), "f")
    if isinstance(value, Quantity):
        return f"{_plain(value.value)} {value.unit}"
    if isinstance(value, date):
        return value.isoformat()
    return _several(value)


def _several(value: Any) -> Any:
    if isinstance(value, PartNumber):
        value = value._asdict()
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if is_dataclass(value) and not isinstance(value, type):
        return _fields(value)
    if isinstance(value, Iterable):
        return [_plain(item) for item in value]
    raise TypeError(f"{value!r} has no fingerprint")


def _fields(value: Any) -> dict[str, Any]:
    held = ((each, getattr(value, each.name)) for each in fields(value) if each.compare)
    return {
        field.name: _plain(item)
        for field, item in held
        if field.default is MISSING or item != field.default
    }
