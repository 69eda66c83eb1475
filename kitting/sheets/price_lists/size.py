"""A price for each, for a dozen or for a hundred as the price of a pack; quantities as packs.

'Ab 500' beside a price for 100 is from 500 pieces on, and so from 5 packs. Where pieces and packs
may both be meant, packs are taken: they are the more, and a price is then never too low.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from typing import NamedTuple


class Counted(StrEnum):
    """What a quantity counts."""

    UNSAID = ""
    PACKS = "packs"
    PIECES = "pieces"
    UNSURE = "packs or pieces"


class Size(NamedTuple):
    """For how many a price is (`per`), and how many are in the pack that is sold; 0: not said.

    A price that names neither is the price of a pack of one. One that names no pack is sold by so
    many as its price is for.
    """

    per: int
    said: int

    @property
    def pack(self) -> int:
        """How many are in a pack."""
        return self.said or self.per or 1

    def of_pack(self, price: int) -> tuple[int, bool]:
        """The price of a pack, rounded half up, and whether that was needed.

        >>> Size(100, 10).of_pack(125000), Size(1, 10).of_pack(1500), Size(3, 1).of_pack(100)
        ((12500, False), (15000, False), (33, True))
        """
        if not self.per or self.per == self.pack:
            return price, False
        whole, rest = divmod(price * self.pack, self.per)
        return whole + (2 * rest >= self.per), rest != 0

    def in_packs(
        self, quantities: Sequence[int], said: Counted = Counted.UNSAID, fewest: int = 2
    ) -> tuple[tuple[int, ...], Counted]:
        """Quantities above one as packs, and what they were taken to count.

        Of pieces there must be at least `fewest` packs: a price from one pack on leaves none for
        fewer.

        >>> Size(100, 0).in_packs((500, 1000))[0], Size(0, 10).in_packs((5, 50))[0]
        ((5, 10), (5, 50))
        >>> Size(1, 10).in_packs((50,)), Size(100, 0).in_packs((250,), Counted.PIECES)[0]
        (((50,), <Counted.UNSURE: 'packs or pieces'>), (3,))
        """
        pack = self.pack
        plain = tuple(quantities)
        if pack == 1 or said is Counted.PACKS or self.per in {0, self.said}:
            return plain, Counted.PACKS
        by_pieces = tuple(-(-quantity // pack) for quantity in plain)
        whole = not self.said and not any(quantity % pack for quantity in plain)
        if min(by_pieces, default=fewest) >= fewest and (said is Counted.PIECES or whole):
            return by_pieces, Counted.PIECES
        return plain, Counted.UNSURE
