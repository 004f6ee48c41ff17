"""In which conditions a check must hold, and whether it can be judged in all of them.

Over a range (fuel from unusable to full) a check is exact at the corners only when what it compares is
linear, or linear over linear, in the weights (`checker.quantities.formula.form`). A pack that asks for more
over a range, or for a single wheel anywhere but as weighed, is refused: problem 505.
"""

from __future__ import annotations

from checker.car.described.vocabulary import AS_WEIGHED, Condition
from checker.kinds.contract.check import Check, follows_condition
from checker.kinds.frame.divisors import is_range, open_expressions
from checker.kinds.frame.framed import Framed
from checker.kinds.judging.spread import is_weight
from checker.kinds.reading.reader import CheckReader
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import replace

SINGLE = (
    *("front_left", "front_right", "rear_left", "rear_right"),
    *("front_inside", "front_outside", "rear_inside", "rear_outside"),
    "cross",
)
"""Names of single wheels and the diagonal: measured, never predicted."""


def settle_conditions(reader: CheckReader) -> tuple[Condition, ...] | None:
    """The conditions named beside this check; () where none is; None when one is unknown (problem 504 noted)."""
    if not reader.has("condition"):
        return ()
    given = reader.get("condition")
    names = given if isinstance(given, list) else [given]
    found: list[Condition] = []
    for place, name in enumerate(names):
        keys = ("condition", place) if isinstance(given, list) else ("condition",)
        condition = AS_WEIGHED if name == AS_WEIGHED.name else None
        if isinstance(name, str) and condition is None:
            condition = reader.around.conditions.get(name)
        if condition is None:
            known = tuple(reader.around.conditions)
            hint = did_you_mean(str(name), known) or f"conditions: {', '.join(known)}"
            reader.problem(504, f"'{name}' is no condition of this pack", *keys, hint=hint)
            return None
        found.append(condition)
    if not found:
        reader.problem(504, "`condition` is an empty list", "condition")
        return None
    return tuple(found)


def refuse_unjudgeable(reader: CheckReader, check: Check, conditions: tuple[Condition, ...]) -> Check | None:
    """Put the conditions round the check, or note why it cannot be judged in them (504 or 505)."""
    own = follows_condition(check) if conditions else _follows_here(check)
    if not own:
        return check
    if not conditions:
        if reader.around.frame_condition:
            return check
        conditions = reader.around.default_condition
        if not conditions:
            message = "the check depends on weights but names no condition"
            hint = f"say condition: any, or one of {', '.join(reader.around.conditions)}"
            reader.problem(504, message, *_place(reader, check), hint=hint)
            return None
    sound = [_judgeable(reader, check, condition) for condition in conditions]
    if not all(sound):
        return None
    framed = check if isinstance(check, Framed) else Framed(check)
    return replace(framed, conditions=conditions)


def _follows_here(check: Check) -> bool:
    """Whether the check itself, not a branch that has settled its own conditions, depends on the condition."""
    if check.conditions:
        return False
    if any(e.follows_condition for _, e in check.expressions()):
        return True
    return any(_follows_here(branch) for branch in check.branches() if isinstance(check, Framed))


def _place(reader: CheckReader, check: Check) -> tuple[str, ...]:
    """The key whose formula depends on the condition."""
    parts = (check, *check.branches()) if isinstance(check, Framed) else (check,)
    for part in parts:
        for role, expression in part.expressions():
            if expression.follows_condition and reader.has(role):
                return (role,)
    return ("condition",) if reader.has("condition") else ()


def _judgeable(reader: CheckReader, check: Check, condition: Condition) -> bool:
    if condition.is_as_weighed:
        return True
    used = frozenset[str]().union(*(expression.uses for expression in open_expressions(check)))
    single = min((n for n in used if is_weight(n) and n.partition(".")[2] in SINGLE), default="")
    if single:
        message = (
            f"{single} is measured, never predicted: it is known as weighed only, not in '{condition.name}'"
        )
        hint = "condition: as_weighed"
    elif is_range(condition) and (reason := check.obstacle(turned=False)):
        message = f"in the range of conditions '{condition.name}' this cannot be judged exactly: {reason}"
        hint = "name single conditions, where everything is allowed"
    else:
        return True
    reader.problem(505, message, *_place(reader, check), hint=hint)
    return False
