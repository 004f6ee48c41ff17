"""The contract of a check: all that the rest of the program may ask of one, whatever its kind.

A kind's check is a frozen dataclass that builds on `Check`, with `kind: ClassVar[str] = KEY`; one that combines others
builds on `checker.kinds.combining.combination`. What a check does not say itself is answered here on the safe side:
nothing is taken for exact or comparable that is not known to be. No module outside a kind's own file knows the kind.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from enum import Enum
from fractions import Fraction
from typing import TYPE_CHECKING, Protocol, Self

from checker.kinds.comparing.comparison import SAME, Comparison
from checker.kinds.comparing.monotonic import NOT_AT_ALL, Way
from checker.kinds.contract.slips import Slip, slips_in
from checker.kinds.contract.writing import Assessing, NotInFloats, Writing
from checker.kinds.judging.assessment import Assessment, DecisionRule
from checker.kinds.judging.exact_rule import EXACTLY
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Kind
from checker.reading.problems import Path
from checker.reading.values import Plain

if TYPE_CHECKING:
    from checker.car.described.vocabulary import Condition
    from checker.car.scene import Scene
    from checker.kinds.contract.values import Occurring, Passing


class Combining(Enum):
    """How the parts of a check make the whole."""

    ALL = "all"
    """Every part must be met."""
    ANY = "any"
    """One part that is met is enough."""
    COUNT = "count"
    """So many parts must be met, or not more than so many."""
    NONE = "none"
    """No part may be met."""


Depends = Callable[[Expression], "Way | None"]
"""How a formula moves as something beneath it rises; None where that cannot be told."""


class Check(Protocol):
    """A compiled check."""

    @property
    def kind(self) -> str:
        """The name of its kind."""

    # --- judging -------------------------------------------------------------------------------------------

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        """Judge one car in one scene. Never raises for anything a car's file may say."""

    def clear_margin(self, scene: Scene, rule: DecisionRule) -> Fraction | None:  # noqa: ARG002
        """Its margin in that scene, exactly, where it is not zero and its sign settles the outcome for every rule.

        A kind that knows no quick way says None: then it is assessed, which is slow and never wrong.
        """
        return None

    def measured(self, scene: Scene) -> Assessment:
        """Its outcome, value, bounds, margin and size with every value exact; what else is told does not count."""
        return self.assess(scene, EXACTLY)

    def write_outcome(self, write: Writing) -> str:  # noqa: ARG002
        """Write how floats tell its outcome in one scene, as code; the name of what holds it, as in `writing`.

        Its margin is the least of those that are noted meanwhile for that outcome, by whatever writes one; a kind that
        makes it otherwise says so (`Writing.untold_where`).

        Raises:
            NotInFloats: It knows no way; then it is assessed, which is slow and never wrong.
        """
        raise NotInFloats

    @property
    def summed(self) -> bool:
        """Its margins over the entries of a list are added up, as offenders are."""
        return False

    @property
    def met_by_one_value(self) -> bool:
        """Whether it is met by one value alone, so that the margin of what meets it is 0 and tells nothing."""
        return False

    def margin_kinds(self) -> frozenset[Kind] | None:
        """Of which kinds of amounts its margins are; those of its parts where it says nothing else; None: not told."""
        return kinds_of_margins(self.branches()) if self.branches() else None

    @property
    def conditions(self) -> tuple[Condition, ...]:
        """The conditions that it has settled for itself."""
        return ()

    def obstacle(self, turned: bool) -> str:
        """Why it need not be worst at a corner of a range of conditions; "" where it is.

        Args:
            turned: It stands in a check that turns margins round: its best is the whole's worst.
        """
        for _, expression in self.expressions():
            if expression.follows_condition:
                return f"'{expression.text}' has no margin to follow through the range"
        dependent = [b for b in self.branches() if not b.conditions and follows_condition(b)]
        if (self.combines is not Combining.ALL or turned) and len(dependent) > 1:
            return f"more than one branch of {self.kind} depends on the condition"
        turned = turned or self.turns_margin
        return next((reason for b in dependent if (reason := b.obstacle(turned))), "")

    # --- what it is made of --------------------------------------------------------------------------------

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        """Its own formulas by role (the key they stand under), without those of its parts."""

    def branches(self) -> tuple[Check, ...]:
        """The checks it combines."""
        return ()

    def places(self) -> tuple[Path, ...]:
        """Where each of its branches is written, below the check; as many as there are branches."""
        return ()

    def having(self, branches: tuple[Check, ...]) -> Check:  # noqa: ARG002 (there are none)
        """The same check with other branches, as many as it has."""
        return self

    @property
    def combines(self) -> Combining | None:
        """How its branches make the whole; None where it has none."""
        return None

    @property
    def turns_margin(self) -> bool:
        """A branch that is met may be what is wrong: alone it says nothing, and its best is the whole's worst."""
        return False

    # --- words ---------------------------------------------------------------------------------------------

    def sentence(self) -> str:
        """The check in words, without a car."""

    def heading(self) -> str:
        """What stands above its branches where they are listed: "at least 2 of these"."""
        return self.sentence()

    def words_named(self) -> tuple[str, ...]:
        """The words of lists that it names outright."""
        return ()

    # --- other editions ------------------------------------------------------------------------------------

    def subject(self) -> tuple[Expression, ...]:
        """What it speaks of: its first formula, where it says nothing else."""
        return tuple(expression for _, expression in self.expressions())[:1]

    def compared_with(self, older: Self) -> Comparison:
        """How it differs from an older check of the same kind."""
        return SAME if self.sentence() == older.sentence() else becomes(older, self)

    def moves_with(self, depends: Depends) -> Way | None:
        """How its margin moves as something beneath it rises; None where that cannot be told."""
        still = all(depends(expression) == Way(NOT_AT_ALL) for _, expression in self.expressions())
        return Way(NOT_AT_ALL) if still else None

    @property
    def longer_list_tightens(self) -> bool | None:
        """Whether more words in its list make it harder to meet; None where it has none."""
        return None

    @property
    def larger_family_tightens(self) -> bool | None:
        """Whether more words that belong to a word of its list make it harder to meet; None where it has none."""
        return None

    # --- as it is written ----------------------------------------------------------------------------------

    def slips(self, key: str, written: Plain) -> Iterator[Slip]:
        """What a pen may get wrong under one of the kind's keys: whatever the form of what is written invites."""
        return slips_in((key,), written)

    def one_sided(self, key: str) -> bool | None:  # noqa: ARG002 (nothing is known of any key)
        """Whether more of a number under one of the kind's keys only ever helps a car, or only ever hurts it.

        None: a number there is not one to be varied.
        """
        return False

    def always_or_never(self, occurring: Occurring) -> tuple[str, str] | None:  # noqa: ARG002
        """That every value meets it or none, with the key that makes it so; None where that cannot be told."""
        return None

    def passing(self) -> Passing | None:
        """What passes it, where that is fixed."""
        return None


def kinds_of_margins(checks: Iterable[Assessing]) -> frozenset[Kind] | None:
    """Of which kinds the margins of several checks are; None where one of them does not tell."""
    each = [check.margin_kinds() for check in checks]
    return None if None in each else frozenset[Kind]().union(*(kinds for kinds in each if kinds is not None))


def becomes(older: Check, newer: Check) -> Comparison:
    """One check in another's place, of which it cannot be told which way that goes."""
    return Comparison("changed", (f"{older.sentence()} becomes {newer.sentence()}",))


def walk(check: Check) -> Iterator[Check]:
    """A check and every check inside it."""
    yield check
    for branch in check.branches():
        yield from walk(branch)


def formulas(check: Check) -> Iterator[Expression]:
    """Every formula of a check and of every check inside it."""
    return (expression for part in walk(check) for _, expression in part.expressions())


def uses(check: Check) -> frozenset[str]:
    """Full names of every fact, list and table that a check looks at."""
    return frozenset[str]().union(*(formula.uses for formula in formulas(check)))


def follows_condition(check: Check) -> bool:
    """Whether anything in the check depends on the condition the car is in."""
    return any(formula.follows_condition for formula in formulas(check))
