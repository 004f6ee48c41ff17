"""A formula with numbers in place: how a result came about, for people."""

from __future__ import annotations

from typing import Any

from checker.kinds.judging.wording import show_value
from checker.quantities.formula.expression import Expression, Leaf
from checker.quantities.kind import Unknown


def with_numbers(expression: Expression, scene: Any) -> str:
    """The formula's text with every name replaced by its value; what is not shown stands as `?`."""
    text = expression.text if expression.tree is None else expression.tree.text
    for leaf in sorted(expression.leaves, key=lambda leaf: leaf.start, reverse=True):
        text = f"{text[: leaf.start]}{_shown(leaf, scene)}{text[leaf.end :]}"
    return text.strip()


def as_statement(expression: Expression, scene: Any) -> str:
    """A truth with numbers in place; a name alone stays a name, for "true is false" tells nobody anything."""
    alone = len(expression.leaves) == 1 and expression.leaves[0].text == expression.text.strip()
    return expression.text.strip() if alone else with_numbers(expression, scene)


def _shown(leaf: Leaf, scene: Any) -> str:
    value = leaf.run(scene)
    return "?" if isinstance(value, Unknown) else show_value(value, leaf.kind, leaf.unit)
