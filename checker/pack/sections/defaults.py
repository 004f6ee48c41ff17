"""`defaults:` the tolerances and the condition of checks that say nothing else."""

from __future__ import annotations

from collections.abc import Mapping

from checker.car.described.vocabulary import AS_WEIGHED, Condition
from checker.pack.reading.source import PackSource
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import Scope
from checker.reading.nearest import did_you_mean


def read_tolerances(source: PackSource, scope: Scope) -> tuple[Expression, ...]:
    """The default tolerances, one for each dimension."""
    source.mapping("defaults")
    source.known_keys(("condition", "tolerance"), "defaults", what="`defaults`")
    found: list[Expression] = []
    for path in source.one_or_several("defaults", "tolerance"):
        expression = source.formula(scope, *path)
        if expression is None:
            continue
        if not expression.kind.is_measure:
            source.problem(302, "a tolerance is an amount", *path)
        elif any(t.kind.same_measure(expression.kind) for t in found):
            source.problem(202, f"two tolerances for {expression.kind}; one for each dimension", *path)
        else:
            found.append(expression)
    return tuple(found)


def read_default_condition(source: PackSource, conditions: Mapping[str, Condition]) -> tuple[Condition, ...]:
    """The default condition, or conditions."""
    known = {**conditions, AS_WEIGHED.name: AS_WEIGHED}
    found: list[Condition] = []
    for path in source.one_or_several("defaults", "condition"):
        name = source.get(*path)
        if isinstance(name, str) and name in known:
            found.append(known[name])
        elif name is not None:
            hint = did_you_mean(str(name), conditions)
            source.problem(504, f"'{name}' is no condition of this pack", *path, hint=hint)
    return tuple(found)
