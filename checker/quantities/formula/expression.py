"""A formula that has been read: its kind, its function, and what is known of it without a car."""

from __future__ import annotations

from checker.quantities.formula.grammar import FormulaTree
from checker.quantities.formula.typed import Run, Typed
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
class Expression(Typed):
    """A compiled formula."""

    _: KW_ONLY
    text: str
    leaves: tuple[Leaf, ...] = ()
    """The names in its text that stand for values which can be printed in their place."""
    tree: FormulaTree | None = None
    """The parsed text; None for what was written as a literal."""

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
