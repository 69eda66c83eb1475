"""The values of the sizes stage: the size chosen for each table, and what is made to suit it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.catalog.size_tables import SizeKind

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.size_tables import Grade, SizeTable
    from kitting.job.because import Because
    from kitting.job.bush_sizes import BushSize
    from kitting.job.float_shims import FloatShims
    from kitting.job.machining import Machined
    from kitting.job.pin_bores import PinBore
    from kitting.job.targets import FinishTarget
    from kitting.job.thrust_washers import ThrustWasher


class Basis(StrEnum):
    """What a size rests on."""

    MACHINED = "machined to it"
    NEW = "new part"
    AS_IT_IS = "as it is"
    NOT_MEASURED = "not measured"


@dataclass(frozen=True, slots=True)
class SizeChoice:
    """The grade decided for a size table, with its sum and its worst case.

    `likely` and `worst` are the grades of the metal when the work is done, None where there is
    none to choose; `half_step` is the shell for metal worn a little and not machined. `hold` says
    that parts of this size wait for the machinist's word. `unsettled` keeps the job from ready.
    """

    table: SizeTable
    basis: Basis
    present: Grade | None
    likely: Grade | None
    worst: Grade | None
    half_step: Grade | None
    hold: bool
    because: tuple[Because, ...]
    unsettled: tuple[Because, ...] = ()
    machined: Machined | None = None

    @property
    def hold_until(self) -> str:
        """What parts of a held size wait for."""
        return "ground" if self.table.kind is SizeKind.SHAFT else "bored"

    @property
    def parts_likely(self) -> Grade | None:
        """The grade of the parts that go with it, if all goes well."""
        return self.half_step or self.likely

    @property
    def parts_worst(self) -> Grade | None:
        """The grade of the parts that go with it, in the worst case."""
        return self.half_step or self.worst


@dataclass(frozen=True)
class Sizes:
    """The size choices of a job, one for each table that matters to it, and what suits them.

    `targets` are the bands to finish each machined journal or bore to, `bushes` the sizes of new
    bushes on the journals that run in them, `shims` the stacks for the end floats measured,
    `unmeasured` the positions whose shims nobody can name before their float is measured,
    `washers` the thrust washers that a float chooses, `pin_bores` the bores of new bushes and
    guides on the pins and stems that run in them.
    """

    choices: tuple[SizeChoice, ...]
    targets: tuple[FinishTarget, ...] = ()
    bushes: tuple[BushSize, ...] = ()
    shims: tuple[FloatShims, ...] = ()
    unmeasured: frozenset[str] = frozenset()
    washers: tuple[ThrustWasher, ...] = ()
    pin_bores: tuple[PinBore, ...] = ()

    @cached_property
    def by_table(self) -> Mapping[str, SizeChoice]:
        """Choices by the key of their table."""
        return MappingProxyType({choice.table.key: choice for choice in self.choices})

    def washer_of(self, position: str) -> ThrustWasher | None:
        """The washer of a position whose washers are chosen by a float."""
        return next((each for each in self.washers if each.position.key == position), None)

    def stack_of(self, position: str) -> FloatShims | None:
        """The shims of a position whose end float was measured."""
        return next((each for each in self.shims if each.position.key == position), None)

    def targets_of(self, table: str) -> tuple[FinishTarget, ...]:
        """The bands to finish to, of one table."""
        return tuple(target for target in self.targets if target.table.key == table)
