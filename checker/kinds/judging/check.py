"""What every compiled check can do, whatever its kind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol

from checker.car.scene import Scene
from checker.kinds.judging.assessment import Assessment, DecisionRule
from checker.quantities.formula.expression import Expression


class Check(Protocol):
    """A compiled check."""

    @property
    def kind(self) -> str:
        """The name of its kind."""

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        """Judge one car in one scene. Never raises for anything a car's file may say."""

    def sentence(self) -> str:
        """The check in words, without a car."""

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        """Its own formulas by role, without those of its branches."""

    def branches(self) -> tuple[Check, ...]:
        """The checks it combines."""

    def compared_with(self, older: Check) -> Comparison:
        """How it differs from an older check of the same kind."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """What a change of a check means for a car."""

    change: str
    """same, tightened, relaxed or changed."""
    words: tuple[str, ...] = ()
    """What changed, each in a phrase: "at most 53.0 % becomes 52.4 %"."""
    by: str = ""
    """By how much, with unit, where it can be told."""


SAME = Comparison("same")


def together(comparisons: list[Comparison]) -> Comparison:
    """Several changes of one check as one."""
    real = [c for c in comparisons if c.change != "same"]
    if not real:
        return SAME
    kinds = {c.change for c in real}
    change = kinds.pop() if len(kinds) == 1 else "changed"
    by = "; ".join(dict.fromkeys(c.by for c in real if c.by))
    return Comparison(change, tuple(w for c in real for w in c.words), by)


def walk(check: Check) -> Iterator[Check]:
    """A check and every check inside it."""
    yield check
    for branch in check.branches():
        yield from walk(branch)


def uses(check: Check) -> frozenset[str]:
    """Full names of every fact, list and table that a check looks at."""
    names: frozenset[str] = frozenset()
    for part in walk(check):
        for _, expression in part.expressions():
            names |= expression.uses
    return names


def follows_condition(check: Check) -> bool:
    """Whether anything in the check depends on the condition the car is in."""
    return any(e.follows_condition for part in walk(check) for _, e in part.expressions())
