"""`kitting calc clearance`: oil clearance, the band to grind to, shells to choose."""

import click

from kitting.cli.calc.clearance_shapes import (
    ClearanceIn,
    ClearanceOut,
    GrindOut,
    PairOut,
    SampleOut,
    TargetIn,
)
from kitting.cli.calc.common import estimate, figure, given_options, sum_door
from kitting.cli.calc.layout import CAUTION, facts, page, points, table, title
from kitting.cli.calc.sizes import BandOut, band_of, band_out, size_from, split_option
from kitting.engineering.band import Band
from kitting.engineering.clearance import (
    ShellBearing,
    ShellPair,
    ShellStock,
    band_to_grind,
    choose_shells,
    felt_by_hand,
    oil_clearance,
    rule_of_thumb,
)
from kitting.engineering.clearance_spread import Spread, likely_clearance, sample_clearance
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Limits, Unit


def answer(given: ClearanceIn, unit: Unit) -> ClearanceOut:
    """Work the clearance out from what is given."""
    housing, wall = (
        band_of(given.housing, "housing", unit),
        band_of(given.wall, "wall", unit),
    )
    lower = band_of(given.wall_lower, "wall_lower", unit) if given.wall_lower else wall
    bearing = ShellBearing(housing, wall, lower)
    journal = band_of(given.journal, "journal", unit) if given.journal else None
    target = _target(given.target, unit)
    clearance = oil_clearance(bearing, journal) if journal else None
    return ClearanceOut(
        unit=str(unit),
        basis=_basis(given),
        lined=band_out(bearing.lined, unit),
        clearance=band_out(clearance, unit) if clearance else None,
        likely=_likely(bearing, journal, unit),
        sample=_sample(given, bearing, journal, target, unit),
        verdict=_verdict(clearance, target, given.target, unit),
        grind_to=_grind_to(given, bearing, target, unit),
        shells=_pairs(given, housing, journal, target, unit),
        rule_of_thumb=_thumb(given, bearing, journal, unit),
        felt=_felt(clearance),
        notes=_notes(clearance),
    )


def _target(target: TargetIn | None, unit: Unit) -> Band | None:
    if target is None:
        return None
    problems = Problems()
    band = None
    with problems.at("target"):
        band = Band(target.low.to(unit), target.high.to(unit))
    problems.raise_if_any()
    return band


def _basis(given: ClearanceIn) -> str:
    sizes = {
        "housing": given.housing,
        "shells": given.wall,
        "lower shell": given.wall_lower,
        "journal": given.journal,
    }
    said = [
        f"{name} {'as measured' if size.measured is not None else 'by drawing'}"
        for name, size in sizes.items()
        if size is not None
    ]
    return ", ".join(said)


def _likely(bearing: ShellBearing, journal: Band | None, unit: Unit) -> BandOut | None:
    if journal is None:
        return None
    band = likely_clearance(bearing, journal)
    return BandOut(low=estimate(band.low, unit), high=estimate(band.high, unit))


def _sample(
    given: ClearanceIn,
    bearing: ShellBearing,
    journal: Band | None,
    target: Band | None,
    unit: Unit,
) -> SampleOut | None:
    asked = given.sample
    if asked is None:
        return None
    if journal is None or target is None:
        raise BadInput(
            Problem("sample", "there is nothing to sample against", "give journal and target")
        )
    found = sample_clearance(
        bearing,
        journal,
        target,
        seed=asked.seed,
        trials=asked.trials,
        spread=Spread(asked.spread),
    )
    return SampleOut(
        trials=found.trials,
        seed=found.seed,
        mean=estimate(found.mean, unit),
        low=estimate(found.low, unit),
        high=estimate(found.high, unit),
        outside=str(found.outside),
    )


def _verdict(
    clearance: Band | None, target: Band | None, stated: TargetIn | None, unit: Unit
) -> str | None:
    if clearance is None or target is None:
        return None
    if target.holds(clearance):
        return f"all of {clearance} lies in the target {target}"
    limit = stated.limit if stated else None
    if limit is not None and clearance.low > limit:
        return f"all of {clearance} is over the limit {limit.to(unit)}: worn out"
    outside = Limits(target.low, target.high)
    if clearance.low > target.high or clearance.high < target.low:
        return f"all of {clearance} lies outside the target {outside}"
    return f"part of {clearance} lies outside the target {outside}: measure, or fit selectively"


def _grind_to(
    given: ClearanceIn, bearing: ShellBearing, target: Band | None, unit: Unit
) -> GrindOut | None:
    if target is None:
        return None
    finished = band_of(given.finished, "finished", unit) if given.finished else None
    try:
        found = band_to_grind(bearing, target, finished)
    except BadInput as error:
        said = "; ".join(str(problem) for problem in error.problems)
        return GrindOut(low=None, high=None, because=said, notes=())
    return GrindOut(
        low=figure(found.band.low, unit),
        high=figure(found.band.high, unit),
        because=f"gives {target} in a lined bore of {bearing.lined}",
        notes=found.notes,
    )


def _pairs(
    given: ClearanceIn,
    housing: Band,
    journal: Band | None,
    target: Band | None,
    unit: Unit,
) -> tuple[PairOut, ...]:
    if not given.shells:
        return ()
    if journal is None or target is None:
        raise BadInput(
            Problem("shells", "there is nothing to choose by", "give journal and target")
        )
    stock = [
        ShellStock(shell.name, band_of(shell.wall, f"shells, '{shell.name}'", unit), shell.halves)
        for shell in given.shells
    ]
    return tuple(_pair_out(pair, unit) for pair in choose_shells(housing, journal, target, stock))


def _pair_out(pair: ShellPair, unit: Unit) -> PairOut:
    return PairOut(
        loaded=pair.loaded.name,
        other=pair.other.name,
        clearance=band_out(pair.clearance, unit),
        within=pair.within,
    )


def _thumb(
    given: ClearanceIn, bearing: ShellBearing, journal: Band | None, unit: Unit
) -> str | None:
    size = journal.middle if journal else bearing.lined.middle
    return estimate(rule_of_thumb(size, rod=given.rod), unit)


def _felt(clearance: Band | None) -> str | None:
    if clearance is None:
        return None
    tightest, loosest = felt_by_hand(clearance.low), felt_by_hand(clearance.high)
    if tightest == loosest:
        return tightest
    return f"at the tightest, {tightest}; at the loosest, {loosest}"


def _notes(clearance: Band | None) -> tuple[str, ...]:
    if clearance is not None and clearance.low.base < 0:
        return ("at the tightest the journal is nipped: check every size and its unit",)
    return ()


def sheet(found: ClearanceOut) -> str:
    """The answer as a sheet of text."""
    unit, sample, grind = found.unit, found.sample, found.grind_to
    return page(
        title("Oil clearance"),
        facts(
            (
                ("Sizes", found.basis),
                ("Bore over the shells", _said(found.lined, unit)),
                ("Clearance, worst case", _said(found.clearance, unit)),
                ("Clearance, nearly all", _said(found.likely, unit)),
                ("Verdict", found.verdict),
                ("Grind the journal to", _grind_said(grind, unit)),
                ("for", grind.because if grind else None),
                ("Rule of thumb", f"{found.rule_of_thumb} {unit}"),
                ("By hand", found.felt),
                ("Sample", _sampled(sample, unit)),
            )
        ),
        _shell_table(found.shells),
        points("Mind", (*(grind.notes if grind else ()), *found.notes, CAUTION)),
    )


def _said(band: BandOut | None, unit: str) -> str | None:
    return f"{band.low} to {band.high} {unit}" if band else None


def _grind_said(grind: GrindOut | None, unit: str) -> str | None:
    if grind is None:
        return None
    return f"{grind.low} to {grind.high} {unit}" if grind.low else "no journal will do"


def _sampled(sample: SampleOut | None, unit: str) -> str | None:
    if sample is None:
        return None
    return (
        f"{sample.trials} trials, seed {sample.seed}: mean {sample.mean}, "
        f"{sample.low} to {sample.high} {unit}; {sample.outside} outside the target"
    )


def _shell_table(pairs: tuple[PairOut, ...]) -> str:
    if not pairs:
        return ""
    return table(
        ("Loaded half", "Other half", "Clearance", "In target"),
        [
            (
                pair.loaded,
                pair.other,
                f"{pair.clearance.low} to {pair.clearance.high}",
                "yes" if pair.within else "no",
            )
            for pair in pairs
        ],
    )


@sum_door(ClearanceIn, ClearanceOut, answer, sheet)
@click.option("--housing", help="LOW,HIGH or one measured size: the bore bolted up.")
@click.option("--wall", help="LOW,HIGH or measured: one half shell at the crown.")
@click.option("--journal", help="LOW,HIGH or measured.")
@click.option("--target", help="LOW,HIGH: the clearance wanted.")
@click.option("--finished", help="LOW,HIGH: the finished limits of the grade.")
@click.option("--shell", multiple=True, help="NAME,LOW,HIGH: a step of shells, thin to thick.")
@click.option("--rod", is_flag=True, default=None, help="A rod's bearing, for the rule of thumb.")
@click.option("--seed", help="Sample the clearance at random, with this seed.")
def command(
    *,
    housing: str | None,
    wall: str | None,
    journal: str | None,
    target: str | None,
    finished: str | None,
    shell: tuple[str, ...],
    rod: bool | None,
    seed: str | None,
) -> dict[str, object]:
    """Oil clearance from the sizes, worst case and likely; the band to grind to; shells to mix."""
    return given_options(
        housing=size_from(housing, "--housing"),
        wall=size_from(wall, "--wall"),
        journal=size_from(journal, "--journal"),
        target=_target_from(target),
        finished=size_from(finished, "--finished"),
        shells=[_shell_from(text) for text in shell],
        rod=rod,
        sample={"seed": seed} if seed else None,
    )


def _target_from(text: str | None) -> dict[str, str] | None:
    if text is None:
        return None
    return dict(zip(("low", "high"), split_option(text, 2, "--target"), strict=True))


def _shell_from(text: str) -> dict[str, object]:
    name, low, high = split_option(text, 3, "--shell")
    return {"name": name, "wall": {"low": low, "high": high}}
