"""Every command has help with an example, every reading one a shape that its answer keeps to."""

import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import click
import pytest
from pydantic import TypeAdapter

from kitting.cli.main import COMMANDS, main
from tests.journeys.shop import DAY, Shop

JOB = "26-041"
README = Path(__file__).resolve().parents[2] / "README.md"


def commands(group: click.Group, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        assert command is not None
        if isinstance(command, click.Group):
            yield from commands(command, (*path, name))
        else:
            yield (*path, name)


EVERY = tuple(commands(main))


def command_at(path: tuple[str, ...]) -> click.Command:
    found: click.Command = main
    for name in path:
        assert isinstance(found, click.Group)
        inner = found.get_command(click.Context(found), name)
        assert inner is not None
        found = inner
    return found


@pytest.mark.parametrize("path", EVERY, ids=" ".join)
def test_every_command_has_help_that_says_what_it_does_with_an_example(
    path: tuple[str, ...],
) -> None:
    command = command_at(path)
    text = command.get_help(click.Context(command, info_name=" ".join(path)))
    assert len(command.get_short_help_str(200)) > 15
    assert "Example" in text or path[0] == "calc", text
    assert max(len(line) for line in text.splitlines()) <= 80


@pytest.mark.parametrize("name", [name for name in COMMANDS if name != "calc"])
def test_every_command_stands_in_the_readme(name: str) -> None:
    assert re.search(rf"`kitting {name}\b", README.read_text(encoding="utf-8")), name


# Of a job whose estimate is kept.
READING = (
    (("doctor",), "doctor:DoctorShape"),
    (("catalog", "show"), "catalog:ShownShape"),
    (("catalog", "show", "corvane-650"), "catalog:ShownShape"),
    (("catalog", "find", "timing", "bush"), "catalog:FoundShape"),
    (("catalog", "find", "C61-1076"), "catalog:FoundShape"),
    (("catalog", "check"), "catalog:CheckShape"),
    (("catalog", "trace", "C61-1067/010", "--engine", "CV23417"), "links:TraceShape"),
    (("catalog", "where-used", "C61-3019"), "links:WhereUsedShape"),
    (("catalog", "fits", "camshaft", "--family", "corvane-650"), "links:FitsShape"),
    (("catalog", "compare", "C61-3052", "C66-3052"), "links:CompareShape"),
    (("job", "list"), "job:JobsShape"),
    (("job", "show", JOB, "--on", DAY), "job:JobSummaryShape"),
    (("strip", "show", JOB), "job:StripShape"),
    (("verdicts", JOB, "--on", DAY), "stages:VerdictsShape"),
    (("sizes", JOB, "--on", DAY), "sizes:SizesShape"),
    (("kit", JOB, "--on", DAY), "stages:KitShape"),
    (("order", "list"), "order:OrdersShape"),
    (("shelf", "show"), "shelf:ShelfShape"),
    (("bags", JOB, "--on", DAY), "bags:BagsShape"),
    (("build", "show", JOB), "build:BuildShape"),
    (("estimate", JOB, "--on", DAY), "money:EstimateShape"),
    (("estimate", JOB, "--against-actual"), "actual:ActualShape"),
    (("approve", JOB), "approval:ApprovalShape"),
)


def test_what_a_reading_command_answers_keeps_to_its_documented_shape(loaded: Shop) -> None:
    loaded.types("estimate", JOB, "--keep", "--on", DAY)
    for words, shape in READING:
        module, _, name = shape.partition(":")
        adapter = TypeAdapter(getattr(import_module(f"kitting.cli.shapes.{module}"), name))
        answer = loaded.types(*words, "--json")
        adapter.validate_json(answer, strict=True)
        schema = loaded.types(*words, "--schema")
        assert name in schema or "properties" in schema


def test_every_reading_command_is_among_those_tried() -> None:
    tried = {tuple(word for word in words if word != JOB)[:2] for words, _ in READING}
    tried |= {words[:1] for words, _ in READING}
    for path in EVERY:
        options = {option.name for option in command_at(path).params}
        if "as_json" in options and path[0] not in {"calc", "order", "prices", "shelf", "build"}:
            assert path in tried, path


def test_screens_fit_eighty_columns(loaded: Shop) -> None:
    loaded.types("estimate", JOB, "--keep", "--on", DAY)
    for words, _ in READING:
        if words[0] not in {"doctor", "catalog"}:
            lines = loaded.types(*words).splitlines()
            assert max(map(len, lines)) <= 80, words
