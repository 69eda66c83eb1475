"""Which positions a rule's target reaches, on any variant or on one."""

from kitting.catalog.family import Family
from kitting.catalog.model import Position
from kitting.catalog.rules import Target, Then


def reached(family: Family, target: Target, variant: str = "") -> tuple[Position, ...]:
    """The positions that `target` means; on all variants when none is named.

    Unlike `Family.aimed_at` it needs no order, and so serves before the references are checked.
    """
    here = [p for p in family.positions if not variant or not p.variants or variant in p.variants]
    if target.sort == "position":
        return tuple(p for p in here if p.key == target.key)
    if target.sort == "assembly":
        return tuple(p for p in here if p.assembly == target.key)
    if target.sort == "table":
        owners = {f.position for f in family.features if f.size_table == target.key}
        return tuple(p for p in here if p.key in owners)
    if target.sort == "kind":
        return tuple(p for p in here if p.kind == target.key and target.within in {"", p.assembly})
    return ()


def operations_of(family: Family) -> frozenset[str]:
    """Every operation that something in the family can demand."""
    demanded = {feature.operation for feature in family.features}
    demanded |= {table.operation for table in family.size_tables}
    demanded |= {judgement.operation for judgement in family.judgements}
    demanded |= {link.operation for link in family.links}
    for rule in family.consequences:
        if rule.then is Then.OPERATION:
            demanded |= {rule.to.key if rule.to.sort == "operation" else rule.operation}
    return frozenset(demanded - {""})
