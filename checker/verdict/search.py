"""How much is to be done to a car: judged again and again, each time with what the last judgement asked for beside."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from checker.kinds.judging.acts import Act, Acts, Advice
from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, TOO_CLOSE
from checker.quantities.dimension import LENGTH, MASS
from checker.reading.quick_dataclasses import dataclass, field
from checker.verdict.axes import Axis, act_rises, axis_of, done
from checker.verdict.inspection import Inspection, Outcome, inspect_car

_ROUNDS = 16
"""How often a car is judged again for one piece of advice, at most."""
BEYOND = Fraction(1, 10**9)
"""Of an amount: what is added where the amount itself is not enough, or where a guard grows with it."""
_ROUNDED = {MASS: Fraction(1, 10), LENGTH: Fraction(254, 160)}
"""By how much a report may round an amount up, at most: 0.1 kg, 1/16 in."""


def acts_of(advice: Advice | None) -> Iterator[Act]:
    """Every act of what is told."""
    if isinstance(advice, Acts):
        for one in advice.acts:
            yield from acts_of(one)
    elif advice is not None:
        yield advice


@dataclass(slots=True)
class AmountRange:
    """Amounts along one axis, in the way that is needed first, of which it is not known that they do not suffice."""

    rises: bool
    least: Fraction = Fraction(0)
    most: Fraction | None = None


@dataclass(slots=True)
class Search:
    """How much along each axis makes clauses pass."""

    inspection: Inspection
    numbers: tuple[str, ...]
    axes: frozenset[Axis] | None
    """None: whatever is done to the weights."""
    found: dict[Axis, AmountRange] = field(default_factory=dict)
    passes: bool = False
    open: tuple[str, ...] = ()
    """Numbers of the clauses that are not shown then."""

    def learn(self, acts: Sequence[Act]) -> bool:
        """Take in what acts ask for beside what is done already; False where it is nothing new."""
        before = {axis: (one.least, one.most) for axis, one in self.found.items()}
        known = {axis: one.least for axis, one in self.found.items()}
        car = self.inspection.car
        for act in acts:
            axis = axis_of(act, car)
            if axis is None or (
                axis not in self.axes if self.axes is not None else axis[0] not in ("move", "add")
            ):
                continue
            assert act.amount is not None
            rises, needed = act_rises(act, axis, car), act.amount.value
            one = self.found.setdefault(axis, AmountRange(rises))
            done_already = known.get(axis, Fraction(0))
            beyond = max(needed, 1) * BEYOND if act.more or done_already else Fraction(0)
            if rises == one.rises:
                one.least = max(one.least, done_already + needed + beyond)
            else:
                most = done_already - needed - beyond
                one.most = most if one.most is None else min(one.most, most)
        return before != {axis: (one.least, one.most) for axis, one in self.found.items()}

    def run(self) -> None:
        """Judge the car again and again, each time with what the last judgement asked for beside."""
        for _ in range(_ROUNDS):
            if any(self.gap(axis) is not None for axis in self.found):
                return
            broken = self._broken(self.amounts())
            if not broken:
                self.passes = True
                if self._broken(self.amounts(rounded=True)):  # what a report may round up to is too much
                    for one in self.found.values():
                        one.most = one.least
                return
            if not self.learn([act for o in broken for act in acts_of(o.assessment.act)]):
                return

    def gap(self, axis: Axis) -> Fraction | None:
        """By how much the least that is needed is above the most that may be; None where it is not."""
        one = self.found.get(axis)
        if one is None or one.most is None or one.most >= one.least:
            return None
        return one.least - one.most

    def amounts(self, *, rounded: bool = False) -> dict[Axis, Fraction]:
        """What is to be done along each axis, with its sign."""
        more = {axis: self._rounding(axis) if rounded else Fraction(0) for axis in self.found}
        return {axis: (one.least + more[axis]) * (1 if one.rises else -1) for axis, one in self.found.items()}

    def _rounding(self, axis: Axis) -> Fraction:
        """By how much a report may round an amount up."""
        if axis[0] in ("move", "add", "cross"):
            return _ROUNDED[MASS]
        fact = self.inspection.car.vocabulary.facts.get(axis[0])
        return Fraction(0) if fact is None else _ROUNDED.get(fact.kind.dimension, Fraction(0))

    def _broken(self, amounts: Mapping[Axis, Fraction]) -> list[Outcome]:
        it = self.inspection
        car = done(it.car, amounts)
        judged = inspect_car(it.pack, car, it.on, it.audience, only=self.numbers).outcomes
        self.open = tuple(o.clause.number for o in judged if o.outcome == NOT_SHOWN)
        return [o for o in judged if o.outcome in (FAIL, TOO_CLOSE)]
