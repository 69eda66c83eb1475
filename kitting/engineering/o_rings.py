"""O-rings of the inch series: sizes by dash number, compared, and the nearest to a measured ring.

AS568 (the same sizes as ISO 3601-1): inside diameter and section, in inches to three places. The
table is kept as runs of a first diameter and a step, as it was built; metric sizes follow.
"""

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from functools import cache

from kitting.engineering.sizes import SizeComparison, compare_sizes
from kitting.errors import BadInput, NotFound, Problem, Problems
from kitting.measure import Quantity, parse_quantity, unit_named

SOURCE = "AS568, ISO 3601-1"
# dash number, inside diameter, section
_SINGLE = (
    "001:.029:.040 002:.042:.050 003:.056:.060 004:.070:.070 005:.101:.070 006:.114:.070 "
    "007:.145:.070 008:.176:.070 009:.208:.070 010:.239:.070 102:.049:.103 103:.081:.103 "
    "104:.112:.103 105:.143:.103 106:.174:.103 107:.206:.103 108:.237:.103 151:2.987:.103 "
    "201:.171:.139"
)
# first and last dash number, first inside diameter, step, section
_RUNS = (
    "011:028:.301:.0625:.070 029:041:1.489:.125:.070 042:050:3.239:.25:.070 "
    "109:134:.299:.0625:.103 135:150:1.9248:.0625:.103 152:178:3.237:.25:.103 "
    "202:222:.2338:.0625:.139 223:258:1.609:.125:.139 259:274:6.234:.25:.139 "
    "275:278:10.484:.5:.139 279:281:12.984:1:.139 282:284:15.955:1:.139 "
    "309:324:.412:.0625:.210 325:361:1.475:.125:.210 362:377:6.225:.25:.210 "
    "378:381:10.475:.5:.210 382:384:12.975:1:.210 385:391:15.955:1:.210 392:395:22.940:1:.210 "
    "425:437:4.475:.125:.275 438:445:6.225:.25:.275 446:460:8.475:.5:.275 461:469:15.955:.5:.275 "
    "470:471:20.955:1:.275 472:475:22.940:1:.275"
)
_DASH = re.compile(r"^(?:as\s*568\s*[a-z]?)?\s*-?\s*(\d{1,3})$", re.IGNORECASE)
_THOUSANDTH = Decimal("0.001")


@dataclass(frozen=True, slots=True)
class ORing:
    """An O-ring by inside diameter and section; `dash` is its number when it is a standard one."""

    inside: Quantity
    section: Quantity
    dash: str = ""

    def __post_init__(self) -> None:
        problems = Problems()
        for place, size in self.dimensions.items():
            if not size.is_length or size.base <= 0:
                problems.add(place, f"{size} is no size", "give a length above zero")
        problems.raise_if_any()

    @property
    def dimensions(self) -> dict[str, Quantity]:
        """Both sizes by name."""
        return {"inside diameter": self.inside, "section": self.section}

    @property
    def millimetres(self) -> tuple[Decimal, Decimal]:
        """Inside diameter and section in mm to two places, half up, as lists print them."""
        inside, section = (
            size.value_in("mm").quantize(Decimal("0.01"), ROUND_HALF_UP)
            for size in (self.inside, self.section)
        )
        return inside, section


@cache
def standard_o_rings() -> tuple[ORing, ...]:
    """Every O-ring of the inch series, by dash number."""
    found: dict[str, ORing] = {}
    for entry in _SINGLE.split():
        dash, inside, section = entry.split(":")
        found[dash] = _ring(dash, Decimal(inside), section)
    for run in _RUNS.split():
        first, last, inside, step, section = run.split(":")
        for place, number in enumerate(range(int(first), int(last) + 1)):
            dash = f"{number:03d}"
            found[dash] = _ring(dash, Decimal(inside) + Decimal(step) * place, section)
    return tuple(found[dash] for dash in sorted(found))


def _ring(dash: str, inside: Decimal, section: str) -> ORing:
    # The list prints thousandths of sixteenths rounded up at the half.
    rounded = inside.quantize(_THOUSANDTH, ROUND_HALF_UP)
    return ORing(Quantity.of(rounded, "in"), Quantity.of(section, "in"), dash)


def parse_o_ring(text: str) -> ORing:
    """Return the O-ring that `text` names: 214, AS568-214, or sizes: 24.99 x 3.53 mm.

    Raises:
        BadInput: neither a dash number nor two sizes.
        NotFound: a dash number that the list has not.
    """
    typed = text.strip()
    match = _DASH.match(typed)
    if match:
        dash = match.group(1).zfill(3)
        for ring in standard_o_rings():
            if ring.dash == dash:
                return ring
        raise NotFound("O-ring", typed, _near_dashes(dash))
    parts = re.split(r"\s*[x×*]\s*", typed, flags=re.IGNORECASE)
    if len(parts) != 2:
        raise BadInput(
            Problem("O-ring", f"'{text}' is no O-ring", "AS568-214, or inside x section: 25 x 3.5")
        )
    said = re.search(r"[a-z\"″µ]+\.?\s*$", parts[1], re.IGNORECASE)
    bare = unit_named(said.group().strip(" .")) if said else unit_named("mm")
    return ORing(parse_quantity(parts[0], bare), parse_quantity(parts[1], bare))


def _near_dashes(dash: str) -> list[str]:
    numbers = sorted(standard_o_rings(), key=lambda ring: abs(int(ring.dash) - int(dash)))
    return [ring.dash for ring in numbers[:3]]


def compare_o_rings(
    fitted: ORing, wanted: ORing, within: Quantity | None = None
) -> tuple[SizeComparison, ...]:
    """Return inside diameter and section of `fitted` against `wanted`; 0.08 mm is no difference.

    That is the tolerance of the sections (AS568); the inside diameters' are wider.
    """
    limit = within if within is not None else Quantity.of("0.08", "mm")
    return compare_sizes(fitted.dimensions, wanted.dimensions, limit)


def nearest_o_rings(ring: ORing, at_most: int = 3) -> tuple[ORing, ...]:
    """Return the nearest standard rings: the section counts ten times the inside diameter."""

    def distance(other: ORing) -> Decimal:
        off = abs(other.section - ring.section) * 10 + abs(other.inside - ring.inside)
        return off.base.quantize(Decimal("1e-9"), ROUND_HALF_EVEN)

    return tuple(sorted(standard_o_rings(), key=distance)[:at_most])
