"""Short ways to say what the bench found on the Wren single."""

from datetime import date

from kitting.job.findings import Bench, Finding, Fitted, Job, Override, Reading, Seen
from tests.builders import q

JOB = Job("24-001", "wren-single", "2024-1", "mark-2", "WS620", "A. Customer", date(2024, 5, 1))
DAY = date(2024, 5, 2)


def a_bench(
    *findings: Finding,
    stripped: tuple[str, ...] = ("bottom-end",),
    overrides: tuple[Override, ...] = (),
) -> Bench:
    """A bench with these findings."""
    return Bench(JOB, stripped, findings, overrides)


def read(feature: str, *texts: str, unit: str = "in", instrument: str = "") -> tuple[Reading, ...]:
    """Readings of a feature: one plain, or four at front and rear, 0 and 90."""
    plan = [("front", "0"), ("front", "90"), ("rear", "0"), ("rear", "90")]
    places = plan if len(texts) > 1 else [("", "")]
    return tuple(
        Reading(feature, station, direction, text, q(text, unit), instrument)
        for text, (station, direction) in zip(texts, places, strict=True)
    )


def a_finding(
    position: str,
    *readings: Reading,
    seen: tuple[tuple[str, str], ...] = (),
    fitted: Fitted | None = None,
    sound: bool = False,
) -> Finding:
    """A finding by the bench."""
    observations = tuple(Seen(observation, grade) for observation, grade in seen)
    return Finding(position, readings, observations, fitted, sound, who="J. Fitter", when=DAY)
