"""Writes the function that tells the outcome of one check from floats, and makes it.

A number is carried as four: its float, what that may be out by, and how errors may move it, as in `clear.Scatter`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from fractions import Fraction
from typing import cast

from checker.car.scene import Scene
from checker.kinds.clearing import arithmetic
from checker.kinds.clearing.car_in_floats import CarInFloats
from checker.kinds.clearing.code import CodeLines
from checker.kinds.clearing.floats import TINY, in_float
from checker.kinds.clearing.formulas import FormulaWriter
from checker.kinds.clearing.told import Told, bare
from checker.kinds.contract.check import Check, Combining, walk
from checker.kinds.contract.writing import (
    BROKEN,
    MET,
    OPEN,
    VERDICTS,
    Assessing,
    NotInFloats,
    ToldMargin,
    Writing,
    WrittenNumber,
)
from checker.kinds.judging.assessment import Assessment, Verdict
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.problem import FormulaError
from checker.quantities.formula.scope import Scope

MOST_REMEMBERED = 2000
"""Outcomes of a check on words that are remembered."""

Judge = Callable[[CarInFloats, Scene, Told], int]
"""From a car, a scene and a list for margins to one of the outcomes of `checker.kinds.contract.writing`."""


class Writer(CodeLines, Writing):
    """Writes one function.

    Args:
        margins: It notes margins too.
        swept: A bound that is another number for each car asked of (`CarInFloats.swept`).
    """

    def __init__(self, scope: Scope, *, margins: bool = False, swept: Expression | None = None) -> None:
        super().__init__(scope)
        self._margins, self._swept = margins, swept

    def number(self, expression: Expression, *, bound: bool = False) -> WrittenNumber:
        if expression is self._swept:
            return WrittenNumber(self.put("(car.swept[0])"), self.put("(car.swept[1])"))
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

    def by_margin(self, margin: WrittenNumber, check: Assessing, *, inclusive: bool) -> str:
        outcome = self.name()
        with self.block(f"if {arithmetic.clear(margin)}:"):
            self.line(f"{outcome} = {MET} if {margin.value} > 0 else {BROKEN}")
        still = " and ".join(f"{part} == 0" for part in margin[:4] if part != "0.0")
        self.line(f"elif {still or 'True'}: {outcome} = {MET if inclusive else BROKEN}")
        self.line(f"else: {outcome} = {OPEN}")
        if self._margins:
            error = f"{margin.error} * {arithmetic.ROOM} + {TINY!r}"
            made = f"{outcome}, {margin.value}, {error}, {self.constant(check)}, {self.scene}"
            self.line(f"told.append({self.constant(ToldMargin)}({made}))")
        return outcome

    def without_limit(self, check: Assessing) -> str:
        if self._margins:
            made = f"{MET}, {self.constant(math.inf)}, 0.0, {self.constant(check)}, {self.scene}"
            self.line(f"told.append({self.constant(ToldMargin)}({made}))")
        return str(MET)

    def untold_where(self, test: str) -> None:
        if self._margins:
            self.line(f"if {test}: told.append(None)")

    def exactly(self, check: Assessing, uses: frozenset[str]) -> str:
        return self._exactly(check, lambda scene: check.measured(scene), uses)

    def remembered(
        self, check: Assessing, uses: frozenset[str], rests_on: Callable[[Scene], Hashable]
    ) -> str:
        known: dict[Hashable, Assessment] = {}

        def found(scene: Scene) -> Assessment | None:
            key = rests_on(scene)
            if not key:
                return None
            if key not in known:
                if len(known) > MOST_REMEMBERED:
                    known.clear()
                known[key] = bare(check.measured(scene))
            return known[key]

        return self._exactly(check, found, uses)

    def _exactly(
        self, check: Assessing, find: Callable[[Scene], Assessment | None], uses: frozenset[str]
    ) -> str:
        """Write the outcome that the exact engine finds, or nothing where it is not asked."""
        parts = () if self._swept is None else walk(cast(Check, check))
        if any(one is self._swept for part in parts for _, one in part.expressions()):
            raise NotInFloats
        outcome, names = self.name(), self.constant(uses)
        self.give_up_if(f"car.moves_any({names})")

        def tell(scene: Scene, told: Told) -> int:
            found = find(scene)
            outcome = OPEN if found is None else _BY_VERDICT.get(found.outcome, OPEN)
            if found is not None and found.margin is not None:
                near = in_float(Fraction(found.margin.value)) or (0.0, math.inf)
                told.append(ToldMargin(outcome, *near, check, scene, found))
            return outcome

        self.line(f"{outcome} = {self.constant(tell)}({self.scene}, told)")
        return outcome

    def all_hold(self, outcomes: Sequence[str]) -> str:
        return self.put(f"max({', '.join(outcomes)})") if len(outcomes) > 1 else outcomes[0]


_BY_VERDICT: Mapping[Verdict, int] = {verdict: told for told, verdict in VERDICTS.items()}


def judge_of(
    check: Check, scope: Scope, *, margins: bool = False, swept: Expression | None = None
) -> Judge | None:
    """The function that tells the outcome of a check from floats; None where it declines.

    Args:
        check: Compiled.
        scope: What it was read in.
        margins, swept: As for `Writer`.
    """
    writer = Writer(scope, margins=margins, swept=swept)
    if margins and any(part.combines not in (None, Combining.ALL) for part in walk(check)):
        writer.untold_where("True")
    try:
        judge: Judge = writer.compiled(check.write_outcome(writer))  # type: ignore[assignment]
        return judge
    except (NotInFloats, FormulaError, RecursionError):  # names that rest on names that rest on names
        return None
