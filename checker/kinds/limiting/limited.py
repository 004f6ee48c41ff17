"""What a limit holds to its bounds: the quantity, the bounds, what widens them, and how several values are taken."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from checker.car.scene import Scene
from checker.kinds.judging.assessment import Working
from checker.kinds.judging.bounds import BoundExpression, phrase
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import WordTree
from checker.quantities.kind import Kind, Unknown
from checker.quantities.sense import Sense
from checker.reading.quick_dataclasses import dataclass

TO_BOTH_SIDES = (Sense.EXACTLY, Sense.OTHER_THAN)
"""Bounds whose margin falls off to both sides."""


@dataclass(frozen=True, slots=True)
class Limited:
    limit: Expression
    bounds: tuple[BoundExpression, ...]
    tolerance: Expression | None
    rounding: tuple[Expression, str] | None
    of_several: str
    """"", "worst" or "mean"."""
    role: str
    """The key that the quantity stands under."""
    tree: WordTree | None = None
    """The tree that its words stand in."""

    def value(self, scene: Scene, given: int | None) -> Any:
        """The value held to the bounds: of several, the one at `given`, or their mean."""
        value = self.limit.evaluate(scene)
        if isinstance(value, Unknown) or not self.of_several or self.limit.kind.name != "list":
            return value
        return sum(value, Fraction(0)) / len(value) if given is None else value[given]

    @property
    def value_kind(self) -> Kind:
        """Of the one value that is held to the bounds."""
        kind = self.limit.kind
        return kind.element or kind if self.of_several else kind

    @property
    def irrational(self) -> bool:
        """Whether roots or angles go into it, which are rounded."""
        return self.limit.irrational or any(b.expression.irrational for b in self.bounds)

    @property
    def stands_still(self) -> bool:
        """Whether each margin follows the value alone, one for one: no bound and no tolerance asks the car."""
        if not self.value_kind.is_measure or any(b.sense in TO_BOTH_SIDES for b in self.bounds):
            return False
        return all(expression.constant for _, expression in self.held_to())

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        yield self.role, self.limit
        yield from self.held_to()
        if self.rounding is not None:
            yield "rounded", self.rounding[0]

    def held_to(self) -> Iterator[tuple[str, Expression]]:
        """The bounds, and what widens them."""
        for bound in self.bounds:
            yield bound.sense, bound.expression
        if self.tolerance is not None:
            yield "tolerance", self.tolerance

    def workings(self, scene: Scene) -> tuple[Working, ...]:
        """Its formulas, to be printed with numbers in place."""
        return tuple(Working(role, expression, scene) for role, expression in self.expressions())

    def sentence(self) -> str:
        """The limit in words."""
        bounds = " and ".join(
            phrase(b.sense, b.expression.text) for b in self.bounds if not b.sense.is_spread
        )
        band = {b.sense: b.expression.text for b in self.bounds}
        if Sense.PLUS in band or Sense.MINUS in band:
            plus, minus = band.get(Sense.PLUS, "0"), band.get(Sense.MINUS, "0")
            bounds += f" plus or minus {plus}" if plus == minus else f" plus {plus} minus {minus}"
        widened = self.tolerance is not None and not (self.tolerance.constant and self.tolerance.value == 0)
        extra = f", tolerance {self.tolerance.text}" if self.tolerance is not None and widened else ""
        if self.rounding is not None:
            extra += f", rounded {self.rounding[1].replace('_', ' ')} to {self.rounding[0].text}"
        several = f" (the {self.of_several} of several)" if self.of_several else ""
        return f"{self.limit.text}{several} {bounds}{extra}"
