"""A formula with numbers in place: how a result came about, for people."""

from __future__ import annotations

from checker.quantities.amount import Amount, Statement
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Unknown


def with_numbers(expression: Expression, scene: object) -> Statement:
    """The formula's text with every name replaced by its value; what is not shown stands as `?`."""
    text = expression.text if expression.tree is None else expression.tree.text
    pieces: list[str | Amount] = []
    end = 0
    for leaf in sorted(expression.leaves, key=lambda leaf: leaf.start):
        value = leaf.run(scene)
        shown = "?" if isinstance(value, Unknown) else Amount(value, leaf.kind, leaf.unit)
        pieces += (text[end : leaf.start], shown)
        end = leaf.end
    return (*pieces, text[end:])


def as_statement(expression: Expression, scene: object) -> Statement:
    """A truth with numbers in place; a name alone stays a name, for "true is false" tells nobody anything."""
    alone = len(expression.leaves) == 1 and expression.leaves[0].text == expression.text.strip()
    return (expression.text.strip(),) if alone else with_numbers(expression, scene)
