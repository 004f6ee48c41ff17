"""Kind `both_of`: two branches are met.

Written by the contract of combinations alone, to prove that nothing else needs an entry.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from checker.car.scene import Scene
from checker.kinds.combining.combination import Combination, list_schema
from checker.kinds.contract.check import Combining
from checker.kinds.contract.example import Example
from checker.kinds.judging.assessment import FAIL, PASS, Assessment, DecisionRule
from checker.kinds.judging.ranking import all_hold
from checker.kinds.reading.reader import CheckReader

KEY = "both_of"
SCHEMA = list_schema(KEY, "Both of these must be met.")
_CHECK, _FACTS = "{both_of: [{holds: a.b}, {holds: a.c}]}", "{a.b: {type: truth}, a.c: {type: truth}}"
EXAMPLES = (
    Example("both", check=_CHECK, facts=_FACTS, car={"a": {"b": True, "c": True}}, outcome=PASS),
    Example("one", check=_CHECK, facts=_FACTS, car={"a": {"b": True, "c": False}}, outcome=FAIL),
)


@dataclass(frozen=True, slots=True)
class BothOf(Combination):
    """Two compiled branches."""

    kind: ClassVar[str] = KEY
    combines: ClassVar[Combining] = Combining.ALL

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        return all_hold([check.assess(scene, rule) for check in self.checks])

    def sentence(self) -> str:
        return self.joined("and also")

    def heading(self) -> str:
        return "both of these"


def compile(reader: CheckReader) -> BothOf | None:
    """Read the branches; None when they cannot be used (the problems are noted)."""
    checks = reader.branch_list(KEY)
    if checks is not None and len(checks) != 2:
        reader.problem(503, "`both_of` takes two checks", KEY)
        return None
    return None if checks is None else BothOf(checks)
