"""A price for each, for a dozen or for a hundred as the price of a pack."""

from __future__ import annotations

from typing import NamedTuple


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

    def packs_of(self, quantity: int) -> int:
        """How many packs are at least so many pieces, where the price says what it is for.

        >>> Size(100, 0).packs_of(500), Size(0, 10).packs_of(5)
        (5, 5)
        """
        return -(-quantity // self.pack) if self.per and not self.said else quantity
