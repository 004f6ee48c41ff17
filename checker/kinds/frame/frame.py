"""What stands round a check: guards, the list it goes through, the conditions it must hold in."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterator

from checker.car.described.vocabulary import Condition
from checker.car.scene import Scene
from checker.kinds.contract.wrapped import Wrapped
from checker.kinds.frame.days import DAYS, BindingDays
from checker.kinds.frame.entries import Many
from checker.kinds.judging.assessment import Assessment, DecisionRule
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Unknown
from checker.reading.quick_dataclasses import KW_ONLY, dataclass

ORDER = "by"
"""The role of a field that puts entries in order: it has no value of its own to be shown."""


@dataclass(frozen=True, slots=True)
class Frame(Wrapped):
    """A check and what stands round it; how it is judged with that says `Framed`."""

    when: Expression | None = None
    unless: Expression | None = None
    where: Expression | None = None
    many: Many | None = None
    _: KW_ONLY
    names: tuple[tuple[str, Expression], ...] = ()
    conditions: tuple[Condition, ...] = ()
    days: BindingDays | None = None
    act: str = ""
    """What to do where it is not met, in the pack's own words."""

    @property
    def has_frame(self) -> bool:
        guards = (self.when, self.unless, self.where, self.days)
        return any((*guards, self.many, self.conditions, self.names, self.act))

    @abstractmethod
    def in_one_state(self, scene: Scene, rule: DecisionRule) -> Assessment:
        """The assessment in the state that the scene is in already."""

    def guards(self, *, once: bool) -> Iterator[tuple[Expression, bool]]:
        """Guards that are asked once, or of each entry, with the answer that makes the check applicable."""
        for guard, needed in ((self.when, True), (self.unless, False)):
            if guard is not None and once == (self.many is None or not guard.locals):
                yield guard, needed

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        for role, expression in (("when", self.when), ("unless", self.unless), ("where", self.where)):
            if expression is not None:
                yield role, expression
        yield from self.names
        if self.days is not None:
            yield DAYS, self.days.test
        if self.many is not None and (order := self.many.order) is not None:
            yield ORDER, Expression(order.kind, lambda _: Unknown(), text=self.many.by, uses=order.uses)
