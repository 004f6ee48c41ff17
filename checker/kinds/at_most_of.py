"""Kind `at_most_of`: at most a count of the branches are met.

For clauses worded "not more than one of". A branch that is not applicable is not met. The margin is the
count minus the branches known to be met.
"""

from __future__ import annotations

from functools import partial
from typing import ClassVar, Self

from checker.car.scene import Scene
from checker.kinds.combining.choosing import at_most_met
from checker.kinds.combining.combination import CountedCombination, count_schema, read_counted
from checker.kinds.combining.comparing import compare_branches, compare_counts, reversed_comparison
from checker.kinds.comparing.comparison import Comparison, together
from checker.kinds.contract.check import Combining
from checker.kinds.contract.example import Example
from checker.kinds.contract.values import Occurring
from checker.kinds.judging.assessment import FAIL, PASS, Assessment, DecisionRule
from checker.kinds.reading.reader import CheckReader
from checker.quantities.kind import NUMBER, Kind
from checker.quantities.sense import Sense
from checker.reading.quick_dataclasses import dataclass

KEY = "at_most_of"
SCHEMA = count_schema(KEY, "At most `count` of these may be met.")
_FACTS = "{aids.traction: {type: truth}, aids.launch: {type: truth}}"
_CHECK = "{at_most_of: {count: 1, of: [{holds: aids.traction}, {holds: aids.launch}]}}"
_example = partial(Example, check=_CHECK, facts=_FACTS)
EXAMPLES = (
    _example("one of two", car={"aids": {"traction": True, "launch": False}}, outcome=PASS, margin="0"),
    _example("both", car={"aids": {"traction": True, "launch": True}}, outcome=FAIL, margin="-1"),
)


@dataclass(frozen=True, slots=True)
class AtMostOf(CountedCombination):
    kind: ClassVar[str] = KEY
    combines: ClassVar[Combining] = Combining.COUNT
    turns_margin: ClassVar[bool] = True

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        found = [check.assess(scene, rule) for check in self.checks]
        return at_most_met(found, self.count)

    def sentence(self) -> str:
        return f"at most {self.count} of: {self.joined('or')}"

    def heading(self) -> str:
        return f"at most {self.count} of these"

    def margin_kinds(self) -> frozenset[Kind]:
        return frozenset({NUMBER})

    def always_or_never(self, occurring: Occurring) -> tuple[str, str] | None:  # noqa: ARG002 (no value counts)
        few, many = len(self.checks), self.count
        return (f"at most {many} of {few} are always met", KEY) if many >= few else None

    def compared_with(self, older: Self) -> Comparison:
        branches = reversed_comparison(compare_branches(older.checks, self.checks, more_is_tighter=False))
        return together([*compare_counts(older.count, self.count, Sense.AT_MOST), branches])


def compile(reader: CheckReader) -> AtMostOf | None:
    read = read_counted(reader, KEY)
    return None if read is None else AtMostOf(*read)
