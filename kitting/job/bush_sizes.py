"""New bushes that follow a journal: the size to ream to, and how each goes into its housing.

The bush is reamed after it is fitted, to the journal as finished and the clearance. How tight it
goes in, and the heat that lets it drop in, follow from housing and bush as measured, else by
drawing, where the family says what they are made of.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from math import ceil
from typing import TYPE_CHECKING

from kitting.catalog.size_tables import SizeKind
from kitting.engineering.band import Band
from kitting.engineering.bush import ROOM, interference_hot, rise_to_open
from kitting.engineering.materials import material_named
from kitting.errors import BadInput, NotFound
from kitting.job.because import Because
from kitting.job.fitted import fits_here
from kitting.job.known_sizes import BenchSizes, KnownSize, bore_for, by_drawing
from kitting.job.size_choice import Basis, SizeChoice
from kitting.job.targets import clearance_wanted

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from kitting.catalog.model import Feature, Position
    from kitting.catalog.size_tables import Grade
    from kitting.engineering.materials import Material
    from kitting.job.consequences import Demands
    from kitting.measure import Quantity

# What a bush needs to drop freely, of its diameter: common practice, no source.
_PLAY = Decimal("0.001")
# A domestic freezer; and how hot an engine's case runs. Common practice, no source.
_FREEZER = Decimal(-18)
RUNNING = Decimal(100)


@dataclass(frozen=True, slots=True)
class BushFit:
    """How a bush goes into its housing: interference, heat in °C, and its hold at `RUNNING`.

    `heat` is the housing's temperature with the bush at 20 °C, `chilled` with it at −18 °C; both
    None where the interference is none at all. `hot` is the interference left at `RUNNING`.
    """

    interference: Band
    heat: Decimal | None
    chilled: Decimal | None
    hot: Band
    metals: str
    because: Because

    @property
    def tight(self) -> bool:
        """Whether every such bush is held, also when the engine is hot."""
        return self.interference.low.base > 0 and self.hot.low.base > 0


@dataclass(frozen=True, slots=True)
class BushSize:
    """The bore of one new bush at one grade of its journal.

    `bore` is None where no bore gives the clearance all over the journal; the `because` says so.
    `measured` tells whether the journal was measured as it will run, or stands by drawing until
    it has been ground.
    """

    position: Position
    journal: Feature
    grade: Grade
    journal_band: Band
    measured: bool
    wanted: Band
    bore: Band | None
    fit: BushFit | None
    because: Because


def size_bushes(
    choices: Iterable[SizeChoice], demands: Demands, bench: BenchSizes
) -> tuple[BushSize, ...]:
    """Return the size of every bush that is renewed and follows a journal, likely and worst."""
    by_table = {choice.table.key: choice for choice in choices}
    found: list[BushSize] = []
    for position in bench.family.positions_on(bench.verdicts.bench.job.variant):
        choice = by_table.get(position.sized_by)
        if choice is None or choice.table.kind is not SizeKind.SHAFT:
            continue
        if position.key in demands.renewed:
            found.extend(_of_position(position, choice, bench))
    return tuple(found)


def _of_position(position: Position, choice: SizeChoice, bench: BenchSizes) -> Iterator[BushSize]:
    fit = None
    for journal in bench.metal_of(choice.table):
        outside = bench.going_with(journal, "diameter")
        if outside is not None and outside.position == position.key:
            fit = _fit(position, journal, outside, bench)
        for grade in dict.fromkeys((choice.likely, choice.worst)):
            if grade is not None and grade.lined_low is not None and grade.wall_low is None:
                size = _size(position, choice, journal, grade, fit, bench)
                if size is not None:
                    yield size


def _size(
    position: Position,
    choice: SizeChoice,
    journal: Feature,
    grade: Grade,
    fit: BushFit | None,
    bench: BenchSizes,
) -> BushSize | None:
    wanted = clearance_wanted(choice.table, grade)
    runs = _journal(choice, journal, grade, bench)
    if wanted is None or runs is None:
        return None
    bore = None
    try:
        bore = bore_for(runs.band, wanted, choice.table.unit)
    except BadInput as error:
        says = f"{position.name}: {error}"
    else:
        then = "" if runs.measured else "; measure the journal as ground, and ream to that"
        says = f"{position.name} at {grade.name}: ream to {bore} for a clearance of {wanted}{then}"
    because = Because(says, choice.table.source, after=(runs.because,))
    return BushSize(position, journal, grade, runs.band, runs.measured, wanted, bore, fit, because)


def _journal(
    choice: SizeChoice, journal: Feature, grade: Grade, bench: BenchSizes
) -> KnownSize | None:
    """The journal as it will run: as measured where it is left alone, else by drawing."""
    if choice.basis is Basis.AS_IT_IS and grade == choice.present:
        measured = bench.measured(journal)
        if measured is not None:
            return measured
    if grade.finish_low is None or grade.finish_high is None:
        return None
    name = f"{journal.name}, {grade.name} as finished"
    return by_drawing(name, grade.finish_low, grade.finish_high, choice.table.source)


def _fit(
    position: Position, journal: Feature, outside: Feature, bench: BenchSizes
) -> BushFit | None:
    housing = bench.going_with(journal, "bore")
    if housing is None:
        return None
    hole, bush = _known(housing, bench), _known(outside, bench)
    metals = _metal(housing.position, bench), _metal(position.key, bench)
    if hole is None or bush is None or metals[0] is None or metals[1] is None:
        return None
    of_housing, of_bush = metals[0], metals[1]
    tight = Band(bush.band.low - hole.band.high, bush.band.high - hole.band.low)
    meeting = hole.band.middle
    past = tight.high + meeting * _PLAY
    hot = Band(
        interference_hot(meeting, tight.low, of_housing, of_bush, RUNNING),
        interference_hot(meeting, tight.high, of_housing, of_bush, RUNNING),
    )
    pressed = tight.high.base > 0
    words = f"{of_bush.name} in {of_housing.name}"
    return BushFit(
        interference=tight,
        heat=_heat(meeting, past, of_housing, of_bush, Decimal(0)) if pressed else None,
        chilled=_heat(meeting, past, of_housing, of_bush, ROOM - _FREEZER) if pressed else None,
        hot=hot,
        metals=words,
        because=Because(
            f"{position.name}, {words}: tight by {tight}",
            outside.source,
            after=(hole.because, bush.because),
        ),
    )


def _heat(
    meeting: Quantity, past: Quantity, housing: Material, bush: Material, chill: Decimal
) -> Decimal:
    """The housing's temperature, rounded up to the next 5 °C."""
    rise = rise_to_open(meeting, past, housing, bush, chill)
    return Decimal(ceil((ROOM + rise) / 5) * 5)


def _known(feature: Feature, bench: BenchSizes) -> KnownSize | None:
    measured = bench.measured(feature)
    if measured is not None:
        return measured
    if feature.low is None or feature.high is None:
        return None
    return by_drawing(feature.name, feature.low, feature.high, feature.source)


def _metal(position: str, bench: BenchSizes) -> Material | None:
    """What the part there is made of: as found, else what every part that fits says."""
    finding = bench.verdicts.findings.get(position)
    fitted = finding.fitted.attributes if finding and finding.fitted else None
    said = {fitted["material"]} if fitted and "material" in fitted else set()
    if not said:
        place = bench.family.position_by_key[position]
        for fit in fits_here(bench.family, place, bench.verdicts.bench.job):
            said.add(bench.family.part_by_number[fit.part].attributes.get("material", ""))
    if len(said) != 1:
        return None
    try:
        return material_named(said.pop())
    except NotFound:
        return None
