"""Kind `any_of`: at least one branch is met.

For clauses worded "or". The best branch that is met speaks; if none is, the one nearest to being met, and
the acts of the others are given as alternatives. A branch that is not applicable is not open to the car;
with none open the clause fails.
"""

from __future__ import annotations

from functools import partial
from typing import ClassVar, Self

from checker.car.scene import Scene
from checker.kinds.combining.choosing import open_to_choice
from checker.kinds.combining.combination import Combination, list_schema
from checker.kinds.comparing.comparison import Comparison
from checker.kinds.contract.check import Combining
from checker.kinds.contract.example import Example
from checker.kinds.contract.writing import BROKEN, MET, OPEN, Writing
from checker.kinds.judging.acts import any_of
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, NOT_SHOWN, PASS, Assessment, DecisionRule
from checker.kinds.judging.findings import NoneOpen
from checker.kinds.judging.ranking import ANY_ORDER, first_of, ranked
from checker.kinds.reading.reader import CheckReader
from checker.quantities.kind import unite
from checker.reading.quick_dataclasses import dataclass, replace

KEY = "any_of"
SCHEMA = list_schema(KEY, "At least one of these must be met.")
_FACTS = "{floor.fixings: {type: count}, floor.overlap: {unit: mm}}"
_CHECK = "{any_of: [{limit: floor.fixings, at_least: 12}, {limit: floor.overlap, at_least: 45 mm}]}"
_example = partial(Example, check=_CHECK, facts=_FACTS)
EXAMPLES = (
    _example(
        "the second way is met",
        car={"floor": {"fixings": 8, "overlap": "50 mm"}},
        outcome=PASS,
        margin="+5 mm",
    ),
    _example(
        "neither; the nearer speaks",
        car={"floor": {"fixings": 8, "overlap": "44 mm"}},
        outcome=FAIL,
        margin="-1 mm",
    ),
    _example("met, though the other is not stated", car={"floor": {"fixings": 12}}, outcome=PASS, margin="0"),
    _example("neither is met for certain", car={"floor": {"fixings": 8}}, outcome=NOT_SHOWN),
)


@dataclass(frozen=True, slots=True)
class AnyOf(Combination):
    kind: ClassVar[str] = KEY
    combines: ClassVar[Combining] = Combining.ANY

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        found = open_to_choice([check.assess(scene, rule) for check in self.checks])
        open_ = [a for a in found if a.outcome != NOT_APPLICABLE]
        outcome = first_of(open_, ANY_ORDER)
        if outcome is None:
            return Assessment(FAIL, branches=tuple(found), finding=NoneOpen(tuple(a.finding for a in found)))
        speakers = ranked([a for a in open_ if a.outcome == outcome], best=True)
        speaker = speakers[0]
        if outcome == PASS:
            return replace(speaker, branches=tuple(found))
        return replace(
            speaker,
            branches=tuple(found),
            act=any_of(a.act for a in (*speakers, *ranked(open_, best=True))),
            unknown=unite(a.unknown for a in open_ if a.outcome == NOT_SHOWN),
        )

    def write_outcome(self, write: Writing) -> str:
        found, outcome = ", ".join(check.write_outcome(write) for check in self.checks), write.name()
        write.line(f"{outcome} = ({found},)")
        write.line(
            f"{outcome} = {MET} if {MET} in {outcome} else {OPEN} if {OPEN} in {outcome} else {BROKEN}"
        )
        return outcome

    def sentence(self) -> str:
        return self.joined("or")

    def heading(self) -> str:
        return "at least one of these"

    def compared_with(self, older: Self) -> Comparison:
        from checker.kinds.combining.comparing import compare_branches

        return compare_branches(older.checks, self.checks, more_is_tighter=False)


def compile(reader: CheckReader) -> AnyOf | None:
    checks = reader.branch_list(KEY)
    return None if checks is None else AnyOf(checks)
