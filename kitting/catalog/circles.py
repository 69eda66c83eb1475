"""Circles in what points from one thing to another, each found once, with its chain."""

from collections.abc import Callable, Hashable, Iterator, Mapping
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from typing import TypeVar

_N = TypeVar("_N", bound=Hashable)
_L = TypeVar("_L", bound=Hashable)


def circles(
    edges: Mapping[tuple[_N, _N], frozenset[_L]],
    holds: Callable[[tuple[_L, ...]], bool] = lambda _labels: True,
) -> Iterator[tuple[tuple[_N, ...], tuple[_L, ...]]]:
    """Yield each circle as its nodes, first and last alike, and the labels of its steps.

    After each, the label of its last step is cut everywhere, so that it ends: every circle shares a
    step with one that was told, or was told itself.

    Args:
        edges: the labels (rules, links) that lead from one node to another.
        holds: whether the steps of a circle can be so together; one that cannot is not yielded.
    """
    left = dict(edges)
    while True:
        before: dict[_N, set[_N]] = {}
        for start, end in left:
            before.setdefault(end, set()).add(start)
        try:
            TopologicalSorter(before).prepare()
        except CycleError as error:
            nodes: tuple[_N, ...] = tuple(error.args[1])
        else:
            return
        steps = list(pairwise(nodes))
        labels = tuple(min(left[step], key=str) for step in steps)
        if holds(labels):
            yield nodes, labels
        _cut(left, labels[-1])


def _cut(edges: dict[tuple[_N, _N], frozenset[_L]], label: _L) -> None:
    for step, labels in list(edges.items()):
        rest = labels - {label}
        if rest:
            edges[step] = rest
        else:
            del edges[step]
