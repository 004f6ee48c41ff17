"""What a check is handed to write how floats tell its outcome: see `checker.kinds.clearing`.

The code that is written computes an outcome as one of four numbers, so that the whole of checks which must all be met
is the greatest of theirs. Whatever it cannot tell for certain it gives up, and the car is left to the exact engine.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from contextlib import AbstractContextManager
from typing import NamedTuple, Protocol, TypeVar

from checker.car.scene import Scene
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, PASS, Assessment, Verdict
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import Binding, Scope
from checker.quantities.kind import Kind

Made = TypeVar("Made")

BINDS_NOT, MET, OPEN, BROKEN = range(4)
"""What the written code tells of a check: not applicable, pass, not told, fail."""
VERDICTS: Mapping[int, Verdict] = {BINDS_NOT: NOT_APPLICABLE, MET: PASS, BROKEN: FAIL}


class Assessing(Protocol):
    """What is asked of the check whose outcome is written."""

    def measured(self, scene: Scene) -> Assessment: ...
    def margin_kinds(self) -> frozenset[Kind] | None: ...
    @property
    def met_by_one_value(self) -> bool: ...


class ToldMargin(NamedTuple):
    """The margin of one limit in one scene, in base units of what it is a margin of."""

    outcome: int
    value: float
    error: float
    """Not less than what the float is out by."""
    check: Assessing
    """The limit."""
    scene: Scene
    found: Assessment | None = None
    """What the exact engine found of it already."""


class NotInFloats(Exception):
    """What is to be written cannot be told by floats."""


class WrittenNumber(NamedTuple):
    """Where the written code has a number: names, or numbers themselves. All of it in base units."""

    value: str
    error: str = "0.0"
    """Not less than what the float is out by."""
    deviation: str = "0.0"
    """Not less than its standard uncertainty."""
    steepest: str = "0.0"
    """Not less than what it changes by with one base unit of any one lever."""
    unlimited: str = ""
    """Name of a truth: it is no number but `no limit`; "" where that cannot be."""


class Writing(Protocol):
    """Writes one function, line by line."""

    @property
    def scope(self) -> Scope:
        """What the names of formulas stand for here."""

    @property
    def scene(self) -> str:
        """Name of the scene here."""

    def name(self) -> str:
        """A new name."""

    def constant(self, value: object) -> str:
        """Name of a value that the function is made with."""

    def line(self, text: str) -> None:
        """Write one line."""

    def block(self, head: str) -> AbstractContextManager[None]:
        """Lines written meanwhile stand indented under a line."""

    def give_up_if(self, test: str) -> None:
        """Nothing is told of the clause where that is true."""

    def within(
        self, scene: str, names: Mapping[str, Binding], items: Mapping[str, tuple[str, str]]
    ) -> AbstractContextManager[None]:
        """What is written meanwhile stands in another scene.

        Args:
            scene: Its name; with a dot before it, the call that makes it of the one here; "": it is the one here.
            names: More names that formulas may use.
            items: By the name that an entry is bound to, the name that holds it and its list.
        """

    def first_of(self, first: Callable[[], Made], otherwise: Callable[[], Made]) -> Made:
        """Write the first, or where that is declined the other."""

    # --- formulas and checks ---------------------------------------------------------------------------------

    def number(self, expression: Expression, *, bound: bool = False) -> WrittenNumber:
        """Write what a formula comes to; with `bound` it may be `no limit`."""

    def numbers(self, expression: Expression) -> AbstractContextManager[WrittenNumber]:
        """Lines written meanwhile are for each of a formula's several values."""

    def mean(self, expression: Expression) -> WrittenNumber:
        """Write the mean of a formula's several values."""

    def added(self, one: WrittenNumber, other: WrittenNumber) -> WrittenNumber: ...
    def lessened(self, one: WrittenNumber, other: WrittenNumber) -> WrittenNumber: ...
    def magnitude(self, one: WrittenNumber) -> WrittenNumber: ...

    def truth(self, expression: Expression) -> str:
        """Write whether a formula is true, and clearly so on this side of every edge; the name of that."""

    def by_margin(self, margin: WrittenNumber, check: Assessing, *, inclusive: bool) -> str:
        """Write the outcome that a margin tells, and note the margin.

        Args:
            margin: Of the check, or of a part of it that must be met as all others.
            inclusive: A margin of 0 is met.
        """

    def without_limit(self, check: Assessing) -> str:
        """Write the outcome of a bound that is `no limit`, which anything meets by as much as you like."""

    def exactly(self, check: Assessing, uses: frozenset[str]) -> str:
        """Write the outcome as the exact engine finds it, where no error can move anything that is looked at; its
        margin is noted.

        Args:
            uses: All that the check looks at.
        """

    def remembered(
        self, check: Assessing, uses: frozenset[str], rests_on: Callable[[Scene], Hashable]
    ) -> str:
        """Write the same, found once for all that it may rest on.

        Args:
            check, uses: As for `exactly`.
            rests_on: From a scene to what the outcome rests on, never a word and a truth or number in one place; or to
                nothing where it is not to be told.
        """

    def untold_where(self, test: str) -> None:
        """Where that is true, the margins that were noted do not make that of the whole by being the least."""

    def all_hold(self, outcomes: Sequence[str]) -> str:
        """Write the outcome of checks that must all be met."""
