"""One edition of an engine family, whole, with the look-ups that the stages need.

Whatever read it has already checked that every key it names is there (`kitting.catalog.check`).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeVar

from kitting.catalog.model import normal_number

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kitting.catalog.model import (
        Assembly,
        Feature,
        Fit,
        Link,
        Part,
        PartNumber,
        Position,
        SetItem,
        Variant,
    )
    from kitting.catalog.rules import Consequence, Judgement, Labour, Observation, Target
    from kitting.catalog.size_tables import SizeTable
    from kitting.measure import Unit

_T = TypeVar("_T")


@dataclass(frozen=True)
class Family:
    """One edition of one engine family, whole."""

    key: str
    name: str
    maker: str
    years: str
    edition: str
    unit: Unit
    summary: str
    variants: tuple[Variant, ...]
    assemblies: tuple[Assembly, ...]
    positions: tuple[Position, ...]
    features: tuple[Feature, ...]
    size_tables: tuple[SizeTable, ...]
    observations: tuple[Observation, ...]
    judgements: tuple[Judgement, ...]
    consequences: tuple[Consequence, ...]
    parts: tuple[Part, ...]
    fits: tuple[Fit, ...]
    links: tuple[Link, ...]
    set_items: tuple[SetItem, ...]
    labour: tuple[Labour, ...]

    @cached_property
    def variant_by_key(self) -> Mapping[str, Variant]:
        """Variants by key."""
        return MappingProxyType({variant.key: variant for variant in self.variants})

    @cached_property
    def assembly_by_key(self) -> Mapping[str, Assembly]:
        """Assemblies by key."""
        return MappingProxyType({assembly.key: assembly for assembly in self.assemblies})

    @cached_property
    def position_by_key(self) -> Mapping[str, Position]:
        """Positions by key."""
        return MappingProxyType({position.key: position for position in self.positions})

    @cached_property
    def feature_by_key(self) -> Mapping[str, Feature]:
        """Features by key."""
        return MappingProxyType({feature.key: feature for feature in self.features})

    @cached_property
    def features_of(self) -> Mapping[str, tuple[Feature, ...]]:
        """The features of each position that has any."""
        return _grouped((feature.position, feature) for feature in self.features)

    @cached_property
    def table_by_key(self) -> Mapping[str, SizeTable]:
        """Size tables by key."""
        return MappingProxyType({table.key: table for table in self.size_tables})

    @cached_property
    def observation_by_key(self) -> Mapping[str, Observation]:
        """Observations by key."""
        return MappingProxyType({seen.key: seen for seen in self.observations})

    @cached_property
    def part_by_number(self) -> Mapping[PartNumber, Part]:
        """Parts by number."""
        return MappingProxyType({part.number: part for part in self.parts})

    @cached_property
    def fits_of(self) -> Mapping[str, tuple[Fit, ...]]:
        """The fits of each position that has any."""
        return _grouped((fit.position, fit) for fit in self.fits)

    @cached_property
    def links_at(self) -> Mapping[PartNumber, tuple[Link, ...]]:
        """The links at each number that has any, by either end."""
        ends: dict[PartNumber, list[Link]] = {}
        for link in self.links:
            for number in dict.fromkeys((link.old, link.new)):
                ends.setdefault(number, []).append(link)
        return MappingProxyType({number: tuple(links) for number, links in ends.items()})

    @cached_property
    def matched_with(self) -> Mapping[str, tuple[Position, ...]]:
        """The positions of each matched group."""
        return _grouped((p.matched, p) for p in self.positions if p.matched)

    @cached_property
    def _on_each_variant(self) -> Mapping[str, tuple[Position, ...]]:
        """The rules ask for them thousands of times a job."""
        return MappingProxyType({v.key: self._in_order(v.key) for v in self.variants})

    def positions_on(self, variant: str) -> tuple[Position, ...]:
        """The positions that a variant has, in the order an engine comes apart."""
        known = self._on_each_variant.get(variant)
        return self._in_order(variant) if known is None else known

    def _in_order(self, variant: str) -> tuple[Position, ...]:
        order = {assembly.key: assembly.sequence for assembly in self.assemblies}
        here = (p for p in self.positions if not p.variants or variant in p.variants)
        return tuple(sorted(here, key=lambda p: (order[p.assembly], p.sequence)))

    def aimed_at(self, target: Target, variant: str) -> tuple[Position, ...]:
        """The positions of a variant that a rule's target means."""
        here = self.positions_on(variant)
        if target.sort == "position":
            return tuple(p for p in here if p.key == target.key)
        if target.sort == "assembly":
            return tuple(p for p in here if p.assembly == target.key)
        if target.sort == "table":
            owners = {f.position for f in self.features if f.size_table == target.key}
            return tuple(p for p in here if p.key in owners)
        return tuple(p for p in here if p.kind == target.key and target.within in {"", p.assembly})

    def variant_of_engine(self, engine_number: str) -> Variant | None:
        """The variant that an engine number belongs to, or None when it is outside them all."""
        typed = normal_number(engine_number)
        for variant in self.variants:
            prefix = normal_number(variant.prefix)
            running = typed.removeprefix(prefix)
            if (
                typed.startswith(prefix)
                and running.isdigit()
                and variant.first <= int(running) <= variant.last
            ):
                return variant
        return None

    def running_number(self, engine_number: str) -> int | None:
        """The running number within an engine number, or None when there is none."""
        digits = re.search(r"(\d+)\D*$", engine_number)
        return int(digits[1]) if digits else None


def _grouped(pairs: Iterable[tuple[str, _T]]) -> Mapping[str, tuple[_T, ...]]:
    groups: dict[str, list[_T]] = {}
    for key, value in pairs:
        groups.setdefault(key, []).append(value)
    return MappingProxyType({key: tuple(values) for key, values in groups.items()})
