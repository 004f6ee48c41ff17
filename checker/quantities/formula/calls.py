"""What functions have in common: their arguments, their value where any is unknown, and what is told of wrong ones."""

from __future__ import annotations

import ast
from collections.abc import Callable, Sequence
from typing import Any

from checker.quantities.formula.agreement import described, singles
from checker.quantities.formula.compiler import Compiler, Stop
from checker.quantities.formula.typed import Typed, merged, of_known
from checker.quantities.kind import Kind, Unknown
from checker.quantities.reason import NoValue


def arguments(compiler: Compiler, node: ast.Call, name: str, count: int) -> list[Typed]:
    """Exactly `count` single values."""
    if len(node.args) != count:
        wanted = {1: "one value", 2: "two values", 3: "three values"}[count]
        raise compiler.refused(node, 305, f"{name}(..) takes {wanted}; {len(node.args)} given")
    return singles(compiler, node.args)


def applied(kind: Kind, parts: Sequence[Typed], operation: Callable[..., Any], **changes: Any) -> Typed:
    """A plain function of known values; unknown when any is, and where the function has no value."""

    def tried(*values: object) -> object:
        try:
            return operation(*values)
        except ValueError as error:
            return Unknown.because(NoValue.NO_RESULT, str(error))

    return merged(kind, of_known(tried, *(p.evaluate for p in parts)), parts, **changes)


def wrong_kind(
    compiler: Compiler, node: ast.Call, place: int, name: str, wanted: str, given: Kind, number: int = 302
) -> Stop:
    message = f"{name}(..) takes {wanted}; this is {described(given)}"
    hint = _EXAMPLES.get(wanted, "")
    if wanted == "an angle" and given.name == "number":
        hint = f"write {compiler.source(node.args[place])} * (1 deg)"
    return compiler.refused(node.args[place], number, message, hint)


_EXAMPLES = {
    "a day": "as event.date or 2026-03-01",
    "a moment": "as 2026-03-01 14:30",
    "an angle": "as 30 deg",
    "a ratio": "as front / total",
    "a list": "a fact with several values, or x.mass for x in ballast",
    "a number or quantity": "as 12.5 kg, or the name of a measured fact",
    "numbers or quantities": "as 12.5 kg, or the names of measured facts",
    "year, month and day as numbers": "as day(2026, 12, 31)",
    "two days, the earlier first": "as in full_years(driver.born, event.date)",
    "what has even dimensions, as an area": "a length times a length, or the number of units: x / (1 mm)",
}
"""What is wanted, and what that looks like."""
