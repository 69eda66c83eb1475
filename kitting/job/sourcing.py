"""Which parts satisfy a position today: fits, then supersession and interchange, then offers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kitting.catalog.model import PartNumber
    from kitting.job.because import Because


@dataclass(frozen=True, slots=True)
class Supply:
    """How a position is supplied: the number its parts list names, and what is bought for it."""

    named: PartNumber
    parts: tuple[tuple[PartNumber, int], ...]
    chain: tuple[Because, ...]
    operation: str = ""
