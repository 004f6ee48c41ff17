"""A formula that has been read: its kind, its function, and what is known of it without a car."""

from __future__ import annotations

from typing import Any

from checker.quantities.formula.form import CONSTANT, Form
from checker.quantities.formula.grammar import FormulaTree
from checker.quantities.formula.typed import Mark, Run
from checker.quantities.kind import Kind
from checker.quantities.units import Unit
from checker.reading.quick_dataclasses import KW_ONLY, dataclass


@dataclass(frozen=True, slots=True)
class Leaf:
    """A name in a formula's text, to print the formula with numbers in place."""

    start: int
    end: int
    text: str
    kind: Kind
    _: KW_ONLY
    run: Run
    unit: Unit | None
    uses: frozenset[str]
    local: bool
    behind: Expression | None = None
    """The formula that the name stands for: of a derived value or a `let`."""


@dataclass(frozen=True, slots=True)
class Expression:
    """A compiled formula."""

    text: str
    kind: Kind
    evaluate: Run
    """From a scene to the exact value, or Unknown."""
    form: Form = CONSTANT
    _: KW_ONLY
    constant: bool = False
    """Its value is known without a car."""
    locals: frozenset[str] = frozenset()
    """Names made by a check that it uses; the fields of the check's entry count as "", the entry."""
    uses: frozenset[str] = frozenset()
    """Full names of the facts, lists, tables and derived values behind it."""
    irrational: bool = False
    """Made with roots or angles: differences below 10^-25 of the value count as none."""
    marks: tuple[Mark, ...] = ()
    denominators: tuple[Run, ...] = ()
    """Divisors that change with the condition: `form` holds only while they keep their sign."""
    leaves: tuple[Leaf, ...] = ()
    """The names in its text that stand for values which can be printed in their place."""
    word: str | None = None
    """The text of a formula that is one text literal or one plain word."""
    tree: FormulaTree | None = None
    """The parsed text; None for what was written as a literal."""
    counts_all: bool = False
    degree: int = 1
    height: int = 1
    """As those of `Typed`."""

    @property
    def value(self) -> Any:
        """The value of a constant expression."""
        return self.evaluate(None)

    @property
    def follows_condition(self) -> bool:
        """Its value depends on the condition that the car is in."""
        return not self.form.is_constant

    def written_unit(
        self, scene: object, ranks: tuple[int, ...] = (0, 1, 2, 3), kind: Kind | None = None
    ) -> Unit | None:
        """The unit that a value of a kind (its own where none is given) is shown in, by what the formula is written in.

        Args:
            scene: What the formula is evaluated in (a table's unit is that of the row found).
            ranks: Which marks count: 0 literals, 1 table cells, 2 facts and fields, 3 derived values.
        """
        for rank in ranks:
            for mark in self.marks:
                if mark.rank == rank and mark.kind.same_measure(kind or self.kind):
                    unit = mark.unit(scene)
                    if unit is not None:
                        return unit
        return None
