"""That every rule names what is there, can fire, and says what its columns ask."""

from kitting.catalog.check_notes import Notes
from kitting.catalog.family import Family
from kitting.catalog.model import Verdict
from kitting.catalog.nearest import did_you_mean
from kitting.catalog.reach import operations_of, reached
from kitting.catalog.rules import Consequence, Judgement, Observation, Target, Then, Weight, When


def check_rules(family: Family, notes: Notes) -> None:
    """Note every judgement, consequence and labour row that cannot be right or can never fire."""
    asked = {rule.observation for rule in family.judgements}
    asked |= {rule.observation for rule in family.consequences}
    for observation in family.observations:
        _check_observation(family, observation, notes)
        if observation.key not in asked:
            notes.warn(
                ("observations", observation.key),
                "",
                f"nothing follows from {observation.key}, however bad it is",
                "add a row to judgements.csv, or take the question out",
            )
    for judgement in family.judgements:
        _check_judgement(family, judgement, notes)
    for rule in family.consequences:
        _check_consequence(family, rule, notes)
    seen: set[tuple[str, str]] = set()
    for at, labour in enumerate(family.labour):
        row = ("labour", str(at))
        check_target(family, notes, row, "of", labour.of)
        if (labour.action, str(labour.of)) in seen:
            notes.fault(
                row, "of", f"hours to {labour.action} {labour.of} are there twice", "keep one"
            )
        seen.add((labour.action, str(labour.of)))


def check_target(
    family: Family, notes: Notes, row: tuple[str, str], column: str, target: Target
) -> bool:
    """Whether a target names something that is there and reaches a position or an operation."""
    before = len(notes.faults)
    if target.sort == "position":
        notes.known(row, column, "position", target.key, family.position_by_key)
    elif target.sort == "assembly":
        notes.known(row, column, "assembly", target.key, family.assembly_by_key)
    elif target.sort == "table":
        notes.known(row, column, "size table", target.key, family.table_by_key)
    elif target.sort == "kind":
        kinds = frozenset(position.kind for position in family.positions)
        notes.known(row, column, "position of kind", target.key, kinds)
        if target.within:
            notes.known(row, column, "assembly", target.within, family.assembly_by_key)
    elif target.key not in operations_of(family):
        notes.fault(
            row,
            column,
            f"nothing demands the operation '{target.key}', so this can never fire",
            did_you_mean(target.key, operations_of(family)),
        )
    if len(notes.faults) > before:
        return False
    if target.sort != "operation" and not reached(family, target):
        notes.fault(
            row,
            column,
            f"{target} reaches no position, so this can never fire",
            "look at the kind, the assembly and what the size table measures",
        )
        return False
    return True


def _check_observation(family: Family, observation: Observation, notes: Notes) -> None:
    row = ("observations", observation.key)
    if len(observation.grades) < 2:
        notes.fault(row, "grades", "one grade alone says nothing", "from none to the worst")
    kinds = frozenset(position.kind for position in family.positions)
    for kind in observation.kinds:
        notes.known(row, "kinds", "position of kind", kind, kinds)


def _check_judgement(family: Family, rule: Judgement, notes: Notes) -> None:
    row = ("judgements", rule.key)
    aimed = check_target(family, notes, row, "of", rule.of)
    if rule.of.sort == "operation":
        notes.fault(row, "of", "nothing is seen of an operation", "name what it is seen on")
    _check_seen(family, notes, row, rule, aimed)
    if rule.verdict is Verdict.REWORK and not rule.operation:
        notes.fault(row, "operation", "rework without an operation", "name the work")


def _check_seen(
    family: Family,
    notes: Notes,
    row: tuple[str, str],
    rule: Judgement | Consequence,
    aimed: bool,
) -> None:
    """That what is seen is on the list, in that grade, and can be seen on what the rule means."""
    if not notes.known(
        row, "observation", "observation", rule.observation, family.observation_by_key
    ):
        return
    observation = family.observation_by_key[rule.observation]
    if rule.at_least not in observation.grades:
        notes.fault(
            row,
            "at_least",
            f"'{rule.at_least}' is no grade of {observation.key}",
            did_you_mean(rule.at_least, observation.grades),
        )
    elif rule.at_least == observation.grades[0]:
        notes.warn(
            row, "at_least", f"'{rule.at_least}' is the best grade, so this fires always", ""
        )
    kinds = {position.kind for position in reached(family, rule.of)}
    if aimed and observation.kinds and not kinds & set(observation.kinds):
        notes.fault(
            row,
            "observation",
            f"{observation.key} is looked for on {', '.join(observation.kinds)}, and {rule.of} is "
            "none of these, so this can never fire",
            "add the kind to the observation, or aim the rule elsewhere",
        )


def _check_consequence(family: Family, rule: Consequence, notes: Notes) -> None:
    row = ("consequences", rule.key)
    aimed = check_target(family, notes, row, "of", rule.of)
    if check_target(family, notes, row, "to", rule.to) and aimed:
        _check_on_one_engine(family, rule, notes, row)
    if rule.when is When.SEEN:
        _check_seen(family, notes, row, rule, aimed)
    elif rule.observation or rule.at_least:
        notes.fault(
            row,
            "observation",
            f"nothing is seen when {rule.when}",
            "leave it empty, or when is seen",
        )
    wanted = {When.STRIPPED: "assembly", When.OPERATION: "operation"}.get(rule.when, "")
    if wanted and rule.of.sort != wanted:
        notes.fault(
            row,
            "of",
            f"when {rule.when} speaks of an {wanted}, and '{rule.of}' is none, so this can never "
            "fire",
            f"write {wanted}:{rule.of.key}",
        )
    elif rule.of.sort == "operation" and wanted != "operation":
        notes.fault(row, "of", f"an operation is not {rule.when}", "when belongs to be operation")
    _check_demand(rule, notes, row)
    if rule.when is When.REWORK and aimed and not _can_be_reworked(family, rule.of):
        notes.warn(
            row, "of", f"no finding leads to rework of {rule.of}", "only a person's decision"
        )


def _check_on_one_engine(
    family: Family, rule: Consequence, notes: Notes, row: tuple[str, str]
) -> None:
    """That some variant has both what the rule waits for and what it falls on."""
    if "operation" in {rule.of.sort, rule.to.sort}:
        return
    if not any(
        reached(family, rule.of, variant) and reached(family, rule.to, variant)
        for variant in family.variant_by_key
    ):
        notes.fault(
            row,
            "to",
            f"no variant has both {rule.of} and {rule.to}, so this can never fire",
            "look at the variants of their positions",
        )


def _check_demand(rule: Consequence, notes: Notes, row: tuple[str, str]) -> None:
    names_work = rule.to.sort == "operation"
    if rule.then is Then.OPERATION and not rule.operation and not names_work:
        notes.fault(row, "operation", "an operation is demanded and not named", "name the work")
    if rule.then is not Then.OPERATION and names_work:
        notes.fault(
            row,
            "to",
            f"{rule.then} falls on a position, and '{rule.to}' is work",
            "name a position",
        )
    if rule.then is not Then.OPERATION and rule.operation:
        notes.fault(
            row,
            "operation",
            f"{rule.then} needs no operation",
            "leave it empty, or then is operation",
        )
    if rule.weight is not Weight.NEEDED and rule.then not in {Then.RENEW, Then.OPERATION}:
        notes.fault(
            row,
            "weight",
            f"nobody is charged for {rule.then}, so it cannot be {rule.weight}",
            "leave it empty",
        )


def _can_be_reworked(family: Family, target: Target) -> bool:
    keys = {position.key for position in reached(family, target)}
    judged = (
        position.key
        for rule in family.judgements
        if rule.verdict is Verdict.REWORK
        for position in reached(family, rule.of)
    )
    measured = (f.position for f in family.features if f.if_out is Verdict.REWORK)
    return bool(keys & ({*judged} | {*measured}))
