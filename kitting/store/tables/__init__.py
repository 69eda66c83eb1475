"""The tables, one module a subject; importing this package completes `metadata`."""

from kitting.store.base import Base
from kitting.store.tables import catalogue, estimates, jobs, parts, trade

metadata = Base.metadata

__all__ = ["catalogue", "estimates", "jobs", "metadata", "parts", "trade"]
