"""After the bush is in: the size to ream or hone it to, and the clearance cold and hot.

The bore is sized to the journal as finished: journal + clearance. Hot, the bush's bore grows with
its own metal and springs back by the closure that the housing lets go; the journal grows too.
"""

from dataclasses import dataclass
from decimal import Decimal

from kitting.engineering.band import Band
from kitting.engineering.bush import ROOM, BushJob, interference_at, press
from kitting.engineering.materials import Material
from kitting.engineering.working import amount, worked
from kitting.errors import BadInput, Problem
from kitting.measure import Limits, Quantity


@dataclass(frozen=True, slots=True)
class Ream:
    """The band to ream to, the bore as pressed (least, greatest), and the least left to cut."""

    band: Limits
    pressed_bore: Limits
    stock: Quantity

    @property
    def can_be_reamed(self) -> bool:
        """Whether every bush of the band still has metal to cut after pressing."""
        return self.stock.base > 0


def ream_band(journal: Limits, clearance: Limits) -> Band:
    """Return the bore that gives a clearance on a journal: least + most, most + least.

    bore from journal greatest + clearance least, to journal least + clearance greatest.

    Raises:
        BadInput: open limits; a journal whose spread is more than the clearance allows.
    """
    smallest, largest = _ends(journal, "journal")
    least, greatest = _ends(clearance, "clearance")
    low, high = largest + least, smallest + greatest
    if low > high:
        raise BadInput(
            Problem(
                "clearance",
                f"a journal of {journal} cannot have a clearance of {clearance} throughout",
                f"measure the journal: its spread must be under {greatest - least}",
            )
        )
    return Band(low, high)


def ream(job: BushJob, journal: Limits, clearance: Limits) -> Ream:
    """Return the size to ream to after pressing, and whether the pressed bore leaves any to cut.

    The pressed bore is the bore as made less the closure at the least and greatest interference.
    """
    band = ream_band(journal, clearance)
    loose, tight = _ends(job.interference, "interference")
    largest = job.bush_bore - press(job, loose).closure
    smallest = job.bush_bore - press(job, tight).closure
    return Ream(Limits(band.low, band.high), Limits(smallest, largest), band.low - largest)


@dataclass(frozen=True, slots=True)
class HotRunning:
    """One state at running temperature: what holds the bush, and the clearance on the journal."""

    temperature: Decimal
    interference: Limits
    tight: bool
    pressure: Limits
    clearance: Limits | None


@worked
def hot_running(
    job: BushJob,
    temperature: Decimal,
    bore: Limits | None = None,
    journal: Limits | None = None,
    shaft: Material | None = None,
) -> HotRunning:
    """Return interference, pressure and running clearance with all parts at `temperature`, °C.

    `bore` is the reamed bore and `journal` the journal, both cold. Hot bore = bore (1 + α ΔT) +
    closure cold − closure hot (Lamé); hot journal = journal (1 + α ΔT). With no bore or journal
    only the hold on the bush is told.
    """
    cold = _ends(job.interference, "interference")
    hot = [interference_at(job, each, temperature) for each in cold]
    pressures = [press(job, each).pressure for each in hot]
    clearance = None
    if bore is not None and journal is not None and shaft is not None:
        # Least let go goes with the least clearance.
        lets_go = sorted(
            (press(job, before).closure - press(job, after).closure)
            for before, after in zip(cold, hot, strict=True)
        )
        bores, shafts = _ends(bore, "bore"), _ends(journal, "journal")
        rise = temperature - ROOM
        clearance = Limits(
            _grown(bores[0], job.bush, rise) + lets_go[0] - _grown(shafts[1], shaft, rise),
            _grown(bores[1], job.bush, rise) + lets_go[1] - _grown(shafts[0], shaft, rise),
        )
    return HotRunning(
        temperature=temperature,
        interference=Limits(hot[0], hot[1]),
        tight=hot[0].base > 0,
        pressure=Limits(pressures[0], pressures[1]),
        clearance=clearance,
    )


def _grown(size: Quantity, material: Material, rise: Decimal) -> Quantity:
    return amount(size.value_in("mm") * (1 + material.expansion * rise), "mm", size.unit.symbol)


def _ends(band: Limits, place: str) -> tuple[Quantity, Quantity]:
    if band.low is None or band.high is None:
        raise BadInput(Problem(place, f"'{band}' has an open end", "give both limits"))
    return band.low, band.high
