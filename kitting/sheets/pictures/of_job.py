"""The pictures of a job: wear of all that is machined, its grades, tolerances and clearances."""

from __future__ import annotations

import os
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.job.settings import Settings
from kitting.sheets.pictures.tolerances import tolerance_picture
from kitting.sheets.pictures.wear import wear_picture
from kitting.sheets.words import file_word

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from kitting.job.findings import Reading
    from kitting.job.path import JobPath
    from kitting.job.size_choice import SizeChoice
    from kitting.sheets.pictures.canvas import Picture


@dataclass(frozen=True, slots=True)
class JobPicture:
    """A picture under the name of its file; `feature` is empty for one of a whole table."""

    name: str
    table: str
    feature: str
    picture: Picture


def pictures_of(path: JobPath) -> tuple[JobPicture, ...]:
    """Every picture of a job, table by table: its grades first, then each journal or bore."""
    return tuple(found for choice in path.sizes.choices for found in pictures_of_size(path, choice))


def pictures_of_size(path: JobPath, choice: SizeChoice) -> Iterator[JobPicture]:
    """The pictures of one size; none where nothing is machined."""
    if choice.machined is None or not choice.machined.features:
        return
    settings = Settings.of_shop(path.trade.shop)
    table = choice.table.key
    features = [machined.feature for machined in choice.machined.features]
    readings = {each.key: _readings(path, each.position, each.key) for each in features}
    targets = path.sizes.targets_of(table)
    overall = tolerance_picture(choice, readings, targets, settings)
    yield JobPicture(f"sizes-{file_word(table)}", table, "", overall)
    for machined in choice.machined.features:
        key = machined.feature.key
        drawn = wear_picture(choice, machined, readings[key], settings)
        yield JobPicture(f"wear-{file_word(key)}", table, key, drawn)


def write_pictures(path: JobPath, folder: Path) -> tuple[Path, ...]:
    """Write every picture of a job into `folder` as SVG, over older ones.

    Raises:
        BadInput: a file cannot be written.
    """
    written = []
    for found in pictures_of(path):
        file = folder / f"{file_word(path.bench.job.number)}-{found.name}.svg"
        unfinished = file.with_name(f".{file.name}.part")
        try:
            folder.mkdir(parents=True, exist_ok=True)
            unfinished.write_bytes(found.picture.svg())
            os.replace(unfinished, file)
        except OSError as error:
            wrong = f"cannot be written ({error.strerror})"
            raise BadInput(Problem(str(file), wrong, "choose another folder")) from None
        written.append(file)
    return tuple(written)


def _readings(path: JobPath, position: str, feature: str) -> tuple[Reading, ...]:
    finding = path.verdicts.findings.get(position)
    found = finding.readings if finding else ()
    return tuple(reading for reading in found if reading.feature == feature)
