"""Kind `all_of`: every branch is met.

For clauses with several demands. The worst branch speaks for the whole; all are shown. A branch that is not
applicable drops out; if all do, the clause does not apply.
"""

from __future__ import annotations

from functools import partial
from typing import ClassVar, Self

from checker.car.scene import Scene
from checker.kinds.combining.combination import Combination, list_schema
from checker.kinds.comparing.comparison import Comparison
from checker.kinds.contract.check import Combining
from checker.kinds.contract.example import Example
from checker.kinds.contract.writing import Writing
from checker.kinds.judging.assessment import FAIL, PASS, Assessment, DecisionRule
from checker.kinds.judging.ranking import all_hold
from checker.kinds.reading.reader import CheckReader
from checker.reading.quick_dataclasses import dataclass

KEY = "all_of"
SCHEMA = list_schema(KEY, "Every one of these must be met.")
_FACTS = "{floor.fixings: {type: count}, floor.thickness: {unit: mm}}"
_CHECK = "{all_of: [{limit: floor.fixings, at_least: 12}, {limit: floor.thickness, at_least: 3 mm}]}"
_example = partial(Example, check=_CHECK, facts=_FACTS)
EXAMPLES = (
    _example(
        "both met; the nearer speaks",
        car={"floor": {"fixings": 16, "thickness": "3.1 mm"}},
        outcome=PASS,
        margin="+0.1 mm",
    ),
    _example(
        "one fails", car={"floor": {"fixings": 16, "thickness": "2.9 mm"}}, outcome=FAIL, margin="-0.1 mm"
    ),
)


@dataclass(frozen=True, slots=True)
class AllOf(Combination):
    kind: ClassVar[str] = KEY
    combines: ClassVar[Combining] = Combining.ALL

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        return all_hold([check.assess(scene, rule) for check in self.checks])

    def write_outcome(self, write: Writing) -> str:
        return write.all_hold([check.write_outcome(write) for check in self.checks])

    def sentence(self) -> str:
        return self.joined("and")

    def heading(self) -> str:
        return "all of these"

    def compared_with(self, older: Self) -> Comparison:
        from checker.kinds.combining.comparing import compare_branches

        return compare_branches(older.checks, self.checks, more_is_tighter=True)


def compile(reader: CheckReader) -> AllOf | None:
    checks = reader.branch_list(KEY)
    return None if checks is None else AllOf(checks)
