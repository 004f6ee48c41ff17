"""Writes the function that tells the outcome of one check from floats, and makes it.

A number is carried as four: its float, what that may be out by, and how errors may move it, as in `clear.Scatter`.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from contextlib import contextmanager

from checker.car.scene import Scene
from checker.kinds.clearing import arithmetic
from checker.kinds.clearing.car_in_floats import CarInFloats
from checker.kinds.clearing.code import CodeLines
from checker.kinds.clearing.formulas import FormulaWriter
from checker.kinds.contract.check import Check
from checker.kinds.contract.writing import (
    BROKEN,
    MET,
    OPEN,
    VERDICTS,
    Assess,
    NotInFloats,
    Writing,
    WrittenNumber,
)
from checker.kinds.judging.assessment import Verdict
from checker.kinds.judging.exact_rule import EXACTLY
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.problem import FormulaError
from checker.quantities.formula.scope import Scope

MOST_REMEMBERED = 2000
"""Outcomes of a check on words that are remembered."""

Judge = Callable[[CarInFloats, Scene], int]
"""From a car and a scene to one of the outcomes of `checker.kinds.contract.writing`."""


class Writer(CodeLines, Writing):
    """Writes one function."""

    def number(self, expression: Expression, *, bound: bool = False) -> WrittenNumber:
        found = FormulaWriter(self, expression).whole()
        if found.unlimited and not bound:
            self.give_up_if(found.unlimited)
        return found

    @contextmanager
    def numbers(self, expression: Expression) -> Iterator[WrittenNumber]:
        several = FormulaWriter(self, expression).several()
        with arithmetic.each(self, several) as one:
            yield one

    def mean(self, expression: Expression) -> WrittenNumber:
        several = FormulaWriter(self, expression).several()
        total = arithmetic.begin(self)
        with arithmetic.each(self, several) as one:
            arithmetic.grow(self, total, one)
        return arithmetic.shared_out(self, total, f"len({several})")

    def added(self, one: WrittenNumber, other: WrittenNumber) -> WrittenNumber:
        return arithmetic.added(self, one, other)

    def lessened(self, one: WrittenNumber, other: WrittenNumber) -> WrittenNumber:
        return arithmetic.lessened(self, one, other)

    def magnitude(self, one: WrittenNumber) -> WrittenNumber:
        return arithmetic.magnitude(self, one)

    def truth(self, expression: Expression) -> str:
        return FormulaWriter(self, expression).is_true()

    # --- outcomes ----------------------------------------------------------------------------------------------

    def by_margin(self, margin: WrittenNumber, *, inclusive: bool) -> str:
        outcome = self.name()
        with self.block(f"if {arithmetic.clear(margin)}:"):
            self.line(f"{outcome} = {MET} if {margin.value} > 0 else {BROKEN}")
        still = " and ".join(f"{part} == 0" for part in margin[:4] if part != "0.0")
        self.line(f"elif {still or 'True'}: {outcome} = {MET if inclusive else BROKEN}")
        self.line(f"else: {outcome} = {OPEN}")
        return outcome

    def exactly(self, assess: Assess, uses: frozenset[str]) -> str:
        names, outcome = self.constant(uses), self.name()
        self.give_up_if(f"car.moves_any({names})")
        told = self.constant(lambda scene: _BY_VERDICT.get(assess(scene, EXACTLY).outcome, OPEN))
        self.line(f"{outcome} = {told}({self.scene})")
        return outcome

    def remembered(self, assess: Assess, uses: frozenset[str], rests_on: Callable[[Scene], Hashable]) -> str:
        names, outcome = self.constant(uses), self.name()
        self.give_up_if(f"car.moves_any({names})")
        known: dict[Hashable, int] = {}

        def told(scene: Scene) -> int:
            key = rests_on(scene)
            if not key:
                return OPEN
            if key not in known:
                if len(known) > MOST_REMEMBERED:
                    known.clear()
                known[key] = _BY_VERDICT.get(assess(scene, EXACTLY).outcome, OPEN)
            return known[key]

        self.line(f"{outcome} = {self.constant(told)}({self.scene})")
        return outcome

    def all_hold(self, outcomes: Sequence[str]) -> str:
        return self.put(f"max({', '.join(outcomes)})") if len(outcomes) > 1 else outcomes[0]


_BY_VERDICT: Mapping[Verdict, int] = {verdict: told for told, verdict in VERDICTS.items()}


def judge_of(check: Check, scope: Scope) -> Judge | None:
    """The function that tells the outcome of a check from floats; None where it declines.

    Args:
        check: Compiled.
        scope: What it was read in.
    """
    writer = Writer(scope)
    try:
        judge: Judge = writer.compiled(check.write_outcome(writer))  # type: ignore[assignment]
        return judge
    except (NotInFloats, FormulaError, RecursionError):  # names that rest on names that rest on names
        return None
