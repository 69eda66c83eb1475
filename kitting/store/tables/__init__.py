"""The tables, one module a subject; importing this package completes `metadata`."""

from kitting.store.base import Base
from kitting.store.tables import (
    building,
    catalogue,
    estimates,
    jobs,
    orders,
    parts,
    prices,
    search,
    shelf,
    trade,
)

metadata = Base.metadata

__all__ = [
    "building",
    "catalogue",
    "estimates",
    "jobs",
    "metadata",
    "orders",
    "parts",
    "prices",
    "search",
    "shelf",
    "trade",
]
