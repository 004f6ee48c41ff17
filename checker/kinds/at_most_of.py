"""Kind `at_most_of`: at most a count of the branches are met.

For clauses worded "not more than one of". A branch that is not applicable is not met. The margin is the
count minus the branches known to be met.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checker.car.scene import Scene
from checker.kinds.combining.branches import (
    at_most_met,
    compare_branches,
    count_schema,
    joined,
    no_expressions,
    reversed_comparison,
)
from checker.kinds.combining.counting import compare_counts, read_count
from checker.kinds.judging.assessment import FAIL, PASS, Assessment, DecisionRule
from checker.kinds.judging.check import Check, Comparison, together
from checker.kinds.judging.examples import Example
from checker.kinds.reading.reader import CheckReader
from checker.quantities.formula.expression import Expression

KEY = "at_most_of"
SCHEMA = count_schema(KEY, "At most `count` of these may be met.")
_FACTS = "{aids.traction: {type: truth}, aids.launch: {type: truth}}"
_CHECK = "{at_most_of: {count: 1, of: [{holds: aids.traction}, {holds: aids.launch}]}}"
EXAMPLES = (
    Example(
        "one of two",
        check=_CHECK,
        facts=_FACTS,
        car={"aids": {"traction": True, "launch": False}},
        outcome=PASS,
        margin="0",
    ),
    Example(
        "both",
        check=_CHECK,
        facts=_FACTS,
        car={"aids": {"traction": True, "launch": True}},
        outcome=FAIL,
        margin="-1",
    ),
)


@dataclass(frozen=True, slots=True)
class AtMostOf:
    """Compiled branches of which only so many may be met."""

    count: int
    checks: tuple[Check, ...]
    kind: str = KEY

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        found = [check.assess(scene, rule) for check in self.checks]
        return at_most_met(found, self.count, f"at most {self.count} may be met")

    def sentence(self) -> str:
        return f"at most {self.count} of: {joined(self.checks, 'or')}"

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        return no_expressions()

    def branches(self) -> tuple[Check, ...]:
        return self.checks

    def compared_with(self, older: Check) -> Comparison:
        if not isinstance(older, AtMostOf):
            return Comparison("changed", (f"{older.sentence()} becomes {self.sentence()}",))
        branches = reversed_comparison(compare_branches(older.checks, self.checks, more_is_tighter=False))
        return together([*compare_counts(older.count, self.count, "at_most"), branches])


def compile(reader: CheckReader) -> AtMostOf | None:
    """Read count and branches; None when they cannot be used (the problems are noted)."""
    count = read_count(reader, KEY)
    checks = reader.branch_list(KEY, "of") if count is not None else None
    return None if count is None or checks is None else AtMostOf(count, checks)
