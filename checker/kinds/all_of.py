"""Kind `all_of`: every branch is met.

For clauses with several demands. The worst branch speaks for the whole; all are shown. A branch that is not
applicable drops out; if all do, the clause does not apply.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checker.car.scene import Scene
from checker.kinds.combining.branches import compare_branches, joined, list_schema, no_expressions
from checker.kinds.judging.assessment import FAIL, PASS, Assessment, DecisionRule
from checker.kinds.judging.check import Check, Comparison
from checker.kinds.judging.examples import Example
from checker.kinds.judging.ranking import all_hold
from checker.kinds.reading.reader import CheckReader
from checker.quantities.formula.expression import Expression

KEY = "all_of"
SCHEMA = list_schema(KEY, "Every one of these must be met.")
_FACTS = "{floor.fixings: {type: count}, floor.thickness: {unit: mm}}"
_CHECK = "{all_of: [{limit: floor.fixings, at_least: 12}, {limit: floor.thickness, at_least: 3 mm}]}"
EXAMPLES = (
    Example(
        "both met; the nearer speaks",
        check=_CHECK,
        facts=_FACTS,
        car={"floor": {"fixings": 16, "thickness": "3.1 mm"}},
        outcome=PASS,
        margin="+0.1 mm",
    ),
    Example(
        "one fails",
        check=_CHECK,
        facts=_FACTS,
        car={"floor": {"fixings": 16, "thickness": "2.9 mm"}},
        outcome=FAIL,
        margin="-0.1 mm",
    ),
)


@dataclass(frozen=True, slots=True)
class AllOf:
    """Compiled branches that must all be met."""

    checks: tuple[Check, ...]
    kind: str = KEY

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        return all_hold([check.assess(scene, rule) for check in self.checks])

    def sentence(self) -> str:
        return joined(self.checks, "and")

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        return no_expressions()

    def branches(self) -> tuple[Check, ...]:
        return self.checks

    def compared_with(self, older: Check) -> Comparison:
        if not isinstance(older, AllOf):
            return Comparison("changed", (f"{older.sentence()} becomes {self.sentence()}",))
        return compare_branches(older.checks, self.checks, more_is_tighter=True)


def compile(reader: CheckReader) -> AllOf | None:
    """Read the branches; None when any cannot be used (the problems are noted)."""
    checks = reader.branch_list(KEY)
    return None if checks is None else AllOf(checks)
