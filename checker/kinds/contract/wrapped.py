"""A check with something round it: what it does not say itself is as the check inside says."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from checker.kinds.comparing.comparison import Comparison
from checker.kinds.comparing.monotonic import Way
from checker.kinds.contract.check import Check, Combining, Depends
from checker.kinds.contract.slips import Slip
from checker.kinds.contract.writing import Writing
from checker.kinds.judging.assessment import Assessment, DecisionRule
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Kind
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass, replace
from checker.reading.values import Plain

if TYPE_CHECKING:
    from checker.car.described.vocabulary import Condition
    from checker.car.scene import Scene
    from checker.kinds.contract.values import Occurring, Passing


@dataclass(frozen=True, slots=True)
class Wrapped(Check):
    """Hands on everything that may be asked of a check to the one inside."""

    check: Check

    @property
    def kind(self) -> str:
        return self.check.kind

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        return self.check.assess(scene, rule)

    def write_outcome(self, write: Writing) -> str:
        return self.check.write_outcome(write)

    @property
    def summed(self) -> bool:
        return self.check.summed

    def margin_kinds(self) -> frozenset[Kind]:
        return self.check.margin_kinds()

    @property
    def conditions(self) -> tuple[Condition, ...]:
        return self.check.conditions

    def obstacle(self, turned: bool) -> str:
        return self.check.obstacle(turned)

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        return self.check.expressions()

    def branches(self) -> tuple[Check, ...]:
        return self.check.branches()

    def places(self) -> tuple[Path, ...]:
        return self.check.places()

    def having(self, branches: tuple[Check, ...]) -> Check:
        return replace(self, check=self.check.having(branches))

    @property
    def combines(self) -> Combining | None:
        return self.check.combines

    @property
    def turns_margin(self) -> bool:
        return self.check.turns_margin

    def sentence(self) -> str:
        return self.check.sentence()

    def heading(self) -> str:
        return self.check.heading()

    def words_named(self) -> tuple[str, ...]:
        return self.check.words_named()

    def subject(self) -> tuple[Expression, ...]:
        return self.check.subject()

    def compared_with(self, older: Check) -> Comparison:
        return self.check.compared_with(older)

    def moves_with(self, depends: Depends) -> Way | None:
        return self.check.moves_with(depends)

    @property
    def longer_list_tightens(self) -> bool | None:
        return self.check.longer_list_tightens

    @property
    def larger_family_tightens(self) -> bool | None:
        return self.check.larger_family_tightens

    def slips(self, key: str, written: Plain) -> Iterator[Slip]:
        return self.check.slips(key, written)

    def one_sided(self, key: str) -> bool | None:
        return self.check.one_sided(key)

    def always_or_never(self, occurring: Occurring) -> tuple[str, str] | None:
        return self.check.always_or_never(occurring)

    def passing(self) -> Passing | None:
        return self.check.passing()
