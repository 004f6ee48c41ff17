"""Kind `none_of`: no branch is met.

For clauses that forbid a state of affairs. A branch that is not applicable is not met. The margin is minus
the number of branches that are met.
"""

from __future__ import annotations

from functools import partial
from typing import ClassVar, Self

from checker.car.scene import Scene
from checker.kinds.combining.choosing import at_most_met
from checker.kinds.combining.combination import Combination, list_schema
from checker.kinds.combining.comparing import compare_branches, reversed_comparison
from checker.kinds.comparing.comparison import Comparison
from checker.kinds.contract.check import Combining
from checker.kinds.contract.example import Example
from checker.kinds.judging.assessment import FAIL, PASS, Assessment, DecisionRule
from checker.kinds.reading.reader import CheckReader
from checker.quantities.kind import NUMBER, Kind
from checker.reading.quick_dataclasses import dataclass

KEY = "none_of"
SCHEMA = list_schema(KEY, "None of these may be met.")
_FACTS = "{engine.boosted: {type: truth}, engine.capacity: {unit: cc}}"
_CHECK = "{none_of: [{holds: engine.boosted}, {limit: engine.capacity, above: 1725 cc}]}"
_example = partial(Example, check=_CHECK, facts=_FACTS)
EXAMPLES = (
    _example(
        "none is met", car={"engine": {"boosted": False, "capacity": "1725 cc"}}, outcome=PASS, margin="0"
    ),
    _example(
        "one is met", car={"engine": {"boosted": False, "capacity": "1726 cc"}}, outcome=FAIL, margin="-1"
    ),
)


@dataclass(frozen=True, slots=True)
class NoneOf(Combination):
    kind: ClassVar[str] = KEY
    combines: ClassVar[Combining] = Combining.NONE
    turns_margin: ClassVar[bool] = True

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        return at_most_met([check.assess(scene, rule) for check in self.checks], 0)

    def sentence(self) -> str:
        return f"none of: {self.joined('or')}"

    def heading(self) -> str:
        return "none of these"

    def margin_kinds(self) -> frozenset[Kind]:
        return frozenset({NUMBER})

    def compared_with(self, older: Self) -> Comparison:
        return reversed_comparison(compare_branches(older.checks, self.checks, more_is_tighter=False))


def compile(reader: CheckReader) -> NoneOf | None:
    checks = reader.branch_list(KEY)
    return None if checks is None else NoneOf(checks)
