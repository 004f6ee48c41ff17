"""What functions have in common: their arguments, their value where any is unknown, and what is told of wrong ones."""

from __future__ import annotations

import ast
from collections.abc import Callable, Sequence
from typing import Any

from checker.quantities.formula import form as forms
from checker.quantities.formula.agreement import described, singles
from checker.quantities.formula.compiler import Compiler, Stop
from checker.quantities.formula.typed import Typed, merged
from checker.quantities.kind import Kind, Unknown, unite


def arguments(compiler: Compiler, node: ast.Call, name: str, count: int) -> list[Typed]:
    """Exactly `count` single values."""
    if len(node.args) != count:
        wanted = {1: "one value", 2: "two values", 3: "three values"}[count]
        raise compiler.refused(node, 305, f"{name}(..) takes {wanted}; {len(node.args)} given")
    return singles(compiler, node.args)


def applied(kind: Kind, parts: Sequence[Typed], operation: Callable[..., Any], **changes: Any) -> Typed:
    """A plain function of known values; unknown when any is, and where the function has no value."""
    runs = tuple(p.run for p in parts)

    def run(scene: object) -> object:
        values = [r(scene) for r in runs]
        absent = [v for v in values if isinstance(v, Unknown)]
        if absent:
            return unite(absent)
        try:
            return operation(*values)
        except ValueError as error:
            return Unknown(reasons=(str(error),))

    form = changes.pop("form", None) or forms.function_of(*(p.form for p in parts))
    return merged(kind, run, tuple(parts), form, **changes)


def wrong_kind(
    compiler: Compiler, node: ast.Call, place: int, name: str, wanted: str, given: Kind, number: int = 302
) -> Stop:
    return compiler.refused(
        node.args[place], number, f"{name}(..) takes {wanted}; this is {described(given)}"
    )
