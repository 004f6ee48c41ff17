"""Kind `none_of`: no branch is met.

For clauses that forbid a state of affairs. A branch that is not applicable is not met. The margin is minus
the number of branches that are met.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checker.car.scene import Scene
from checker.kinds.combining.branches import (
    at_most_met,
    compare_branches,
    joined,
    list_schema,
    no_expressions,
    reversed_comparison,
)
from checker.kinds.judging.assessment import FAIL, PASS, Assessment, DecisionRule
from checker.kinds.judging.check import Check, Comparison
from checker.kinds.judging.examples import Example
from checker.kinds.reading.reader import CheckReader
from checker.quantities.formula.expression import Expression

KEY = "none_of"
SCHEMA = list_schema(KEY, "None of these may be met.")
_FACTS = "{engine.boosted: {type: truth}, engine.capacity: {unit: cc}}"
_CHECK = "{none_of: [{holds: engine.boosted}, {limit: engine.capacity, above: 1725 cc}]}"
EXAMPLES = (
    Example(
        "none is met",
        check=_CHECK,
        facts=_FACTS,
        car={"engine": {"boosted": False, "capacity": "1725 cc"}},
        outcome=PASS,
        margin="0",
    ),
    Example(
        "one is met",
        check=_CHECK,
        facts=_FACTS,
        car={"engine": {"boosted": False, "capacity": "1726 cc"}},
        outcome=FAIL,
        margin="-1",
    ),
)


@dataclass(frozen=True, slots=True)
class NoneOf:
    """Compiled branches of which none may be met."""

    checks: tuple[Check, ...]
    kind: str = KEY

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        return at_most_met([check.assess(scene, rule) for check in self.checks], 0, "none may be met")

    def sentence(self) -> str:
        return f"none of: {joined(self.checks, 'or')}"

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        return no_expressions()

    def branches(self) -> tuple[Check, ...]:
        return self.checks

    def compared_with(self, older: Check) -> Comparison:
        if not isinstance(older, NoneOf):
            return Comparison("changed", (f"{older.sentence()} becomes {self.sentence()}",))
        return reversed_comparison(compare_branches(older.checks, self.checks, more_is_tighter=False))


def compile(reader: CheckReader) -> NoneOf | None:
    """Read the branches; None when any cannot be used (the problems are noted)."""
    checks = reader.branch_list(KEY)
    return None if checks is None else NoneOf(checks)
