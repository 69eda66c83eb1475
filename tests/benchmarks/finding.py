"""Finding among a million parts: by number, by a number mistyped, by words, by figures."""

import random
import string
from collections.abc import Iterator

from kitting.catalog.find import Found
from kitting.store.search import Search
from tests.benchmarks.rows import Row, least, middle_and_tail, milliseconds
from tests.benchmarks.trade import big_trade, plain_numbers

_MARKS = string.digits + string.ascii_uppercase
_WORDS = (
    "timing bush", "timing bush 20", "main bearing left", "exhaust valve guide", "clutch plate",
    "oil pump", "gudgeon pin", "layshaft gear early", "primary chain", "magneto gear bronze",
    "idler sleeve .010", "sump filter", "kickstart spring", "inlet valve seat right", "bush",
    "rocker", "crankcase stud steel", "dynamo chain late", "camshaft bush white metal", "gaskt",
    "timng bsh", "selector lever outer", "breather cov", "head bolt 8",
    "timing bush 77", "seal spring gasket", "oil seal for the gearbox", "bush 20 thou",
)  # fmt: skip
_IN_A_FAMILY = (
    ("bush", 1000), ("seal", 1500), ("washer", 1200), ("main bush early", 1000), ("gaskt", 1300),
    ("bush id 1.248..1.250", 1000), ("seal 30x47x7", 1500), ("timing bush 77", 1700),
)  # fmt: skip
_FIGURES = (
    "bush bore 1.248..1.250", "seal 30x7", "bore=25 mm", "bush 20..21mm", "ring 100x12",
    "spring width=12", "bush bore 0.5..2in", "shim bore 1.2000..1.2004in",
)  # fmt: skip


def rows(parts: int, typos: int = 2000) -> Iterator[Row]:
    """Find in a trade of so many parts, within one unit of work, caches warm."""
    trade = big_trade(parts)
    database = trade.database
    chance = random.Random(7)
    try:
        with database.read() as work:
            search, families = work.search, work.catalogue.families()
            known = plain_numbers(trade)
            some = chance.sample(known, min(1000, len(known)))
            warm = [search.find(number) for number in (*some[:50], *_WORDS)]
            yield Row(
                "parts that can be found", len(known), "", note=f"{len(warm)} asked to warm up"
            )
            yield from _by_number(search, some)
            yield from _by_typo(search, known, chance, typos)
            yield from _by_words(search)
            yield from _in_a_family(search, sorted({each.family for each in families}))
    finally:
        database.close()


def _by_number(search: Search, some: list[str]) -> Iterator[Row]:
    for name, typed in (
        ("find by number", some),
        ("find by number in another spelling", [_respelled(number) for number in some]),
    ):
        median, tail = middle_and_tail(milliseconds(search.find, typed))
        yield Row(f"{name}, median", median, "ms", 0.5, f"1,000 numbers; 95 % within {tail:.2f} ms")


def _respelled(number: str) -> str:
    return f"{number[:3].lower()} {number[3:6]}-{number[6:].lower()}"


def _by_typo(search: Search, known: list[str], chance: random.Random, typos: int) -> Iterator[Row]:
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    every = set(known)
    slips: list[tuple[str, str]] = []
    others = 0
    while len(slips) < typos:
        right = chance.choice(known)
        typed = _slip(right, chance)
        if typed in every:
            others += 1
        elif any(mark.isdigit() for mark in typed):
            slips.append((typed, right))
    answers: list[Found] = []
    taken = milliseconds(lambda slip: answers.append(search.find(slip[0])), slips)
    median, tail = middle_and_tail(taken)
    yield Row(
        "find by a number with one slip, median", median, "ms", 5, f"95 % within {tail:.2f} ms"
    )
    hits = sum(right in _offered(answer) for answer, (_, right) in zip(answers, slips, strict=True))
    note = f"of {typos:,}, by chance; {others} more were another part's number and are left out"
    yield Row("the right part among the first five", 100 * hits / typos, "%", 99.9, note, True)

    def scan(slip: tuple[str, str]) -> object:
        return process.extract(slip[0], known, scorer=OSA.distance, score_cutoff=1, limit=5)

    whole, _ = middle_and_tail(milliseconds(scan, slips[:20]))
    note = f"{whole:.0f} ms over a list that is in memory already; reading it is not counted"
    yield Row("rapidfuzz over the whole list / this", whole / median, "×", 50, note, True)


def _offered(answer: Found) -> set[str]:
    """The plain numbers of the first five questions, and of the first five answers.

    A number with a mark left out may begin another, which is then the answer beside the question.
    """
    matches = [match.part.number.normal for match in answer.matches[:5]]
    return {*matches, *(near.part.number.normal for near in answer.near[:5])}


def _slip(right: str, chance: random.Random) -> str:
    at, mark = chance.randrange(len(right) - 1), chance.choice(_MARKS)
    start, end = right[:at], right[at:]
    slips = (start + mark + end[1:], start + end[1:], start + mark + end,
             start + end[1] + end[0] + end[2:])  # fmt: skip
    typed = chance.choice(slips)
    return typed if typed != right else _slip(right, chance)


def _by_words(search: Search) -> Iterator[Row]:
    for name, queries, limit in (("words", _WORDS, 40.0), ("figures", _FIGURES, None)):
        taken = {query: least(search.find, query) for query in queries}
        slowest = max(taken, key=lambda query: taken[query])
        median, _ = middle_and_tail(sorted(taken.values()))
        note = f"{len(queries)} queries, each the least of 5"
        yield Row(f"find by {name}, median", median, "ms", limit, note)
        yield Row(f"find by {name}, the slowest", taken[slowest], "ms", limit, f"'{slowest}'")


def _in_a_family(search: Search, families: list[str]) -> Iterator[Row]:
    asked = [(words, families[at % len(families)]) for words, at in _IN_A_FAMILY]
    taken = {each: least(lambda one: search.find(one[0], family=one[1]), each) for each in asked}
    slowest = max(taken, key=lambda each: taken[each])
    median, _ = middle_and_tail(sorted(taken.values()))
    note = f"{len(asked)} queries, each the least of 5"
    yield Row("find words within a family, median", median, "ms", 40.0, note)
    says = f"'{slowest[0]}' in {slowest[1]}"
    yield Row("find words within a family, the slowest", taken[slowest], "ms", 40.0, says)
