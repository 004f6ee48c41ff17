"""Kind `at_least_of`: at least a count of the branches are met.

For clauses worded "two of the following". A branch that is not applicable is not met. When enough are met,
the margin is the least among the best that are needed; when too few are, the least among the nearest still
needed.
"""

from __future__ import annotations

from functools import partial
from typing import ClassVar, Self

from checker.car.scene import Scene
from checker.kinds.combining.choosing import open_to_choice
from checker.kinds.combining.combination import CountedCombination, count_schema, read_counted
from checker.kinds.combining.comparing import compare_branches, compare_counts
from checker.kinds.comparing.comparison import Comparison, together
from checker.kinds.contract.check import Combining
from checker.kinds.contract.example import Example
from checker.kinds.contract.values import Occurring
from checker.kinds.judging.acts import all_of
from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, PASS, TOO_CLOSE, Assessment, DecisionRule
from checker.kinds.judging.findings import MetOf, all_found
from checker.kinds.judging.ranking import ranked
from checker.kinds.reading.reader import CheckReader
from checker.quantities.kind import unite
from checker.quantities.sense import Sense
from checker.reading.quick_dataclasses import dataclass, replace

KEY = "at_least_of"
SCHEMA = count_schema(KEY, "At least `count` of these must be met.")
_FACTS = "{net.fitted: {type: truth}, straps.fitted: {type: truth}, screen.height: {unit: mm}}"
_CHECK = (
    "{at_least_of: {count: 2, of: [{holds: net.fitted}, {holds: straps.fitted}, "
    "{limit: screen.height, at_least: 300 mm}]}}"
)
_example = partial(Example, check=_CHECK, facts=_FACTS)
EXAMPLES = (
    _example(
        "two of three",
        car={"net": {"fitted": True}, "straps": {"fitted": False}, "screen": {"height": "310 mm"}},
        outcome=PASS,
        margin="+10 mm",
    ),
    _example(
        "one of three",
        car={"net": {"fitted": True}, "straps": {"fitted": False}, "screen": {"height": "290 mm"}},
        outcome=FAIL,
        margin="-10 mm",
    ),
)


@dataclass(frozen=True, slots=True)
class AtLeastOf(CountedCombination):
    kind: ClassVar[str] = KEY
    combines: ClassVar[Combining] = Combining.COUNT

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        found = open_to_choice([check.assess(scene, rule) for check in self.checks])
        met = ranked([a for a in found if a.outcome == PASS], best=True)
        undecided = [a for a in found if a.outcome in (NOT_SHOWN, TOO_CLOSE)]
        if len(met) >= self.count:
            if self.count == 0:
                return Assessment(PASS, branches=tuple(found))
            least = ranked(met[: self.count])[0]
            return replace(least, branches=tuple(found))
        if len(met) + len(undecided) < self.count:
            return self._fail(found, len(met))
        close = sum(a.outcome == TOO_CLOSE for a in undecided)
        outcome = TOO_CLOSE if len(met) + close >= self.count else NOT_SHOWN
        return Assessment(outcome, branches=tuple(found), unknown=unite(a.unknown for a in undecided))

    def _fail(self, found: list[Assessment], met: int) -> Assessment:
        needed = self.count - met
        failing = ranked([a for a in found if a.outcome == FAIL], best=True)
        unknown = unite(a.unknown for a in found if a.outcome == NOT_SHOWN)
        if len(failing) < needed:
            return Assessment(FAIL, branches=tuple(found), unknown=unknown, finding=self._told(met))
        nearest = failing[:needed]
        least = ranked(nearest)[0]
        return replace(
            least,
            branches=tuple(found),
            unknown=unknown,
            act=all_of(a.act for a in nearest),
            finding=all_found(self._told(met), least.finding),
        )

    def _told(self, met: int) -> MetOf:
        return MetOf(met, self.count, at_least=True)

    def sentence(self) -> str:
        return f"at least {self.count} of: {self.joined('or')}"

    def heading(self) -> str:
        return f"at least {self.count} of these"

    def always_or_never(self, occurring: Occurring) -> tuple[str, str] | None:  # noqa: ARG002 (no value counts)
        return ("at least 0 are always met", KEY) if self.count == 0 else None

    def compared_with(self, older: Self) -> Comparison:
        branches = compare_branches(older.checks, self.checks, more_is_tighter=False)
        return together([*compare_counts(older.count, self.count, Sense.AT_LEAST), branches])


def compile(reader: CheckReader) -> AtLeastOf | None:
    read = read_counted(reader, KEY)
    if read is None:
        return None
    checks, count = read
    if count > len(checks):
        reader.problem(503, f"{count} of {len(checks)} checks can never be met", KEY, "count")
        return None
    return AtLeastOf(checks, count)
