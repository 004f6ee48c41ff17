"""matches(text, pattern, ..): whether a text has one of these forms, for craft and chassis numbers.

In a pattern `#` stands for a digit, `@` for a letter, `?` for any one sign and `*` for any number of signs, none too;
all else stands for itself. As everywhere, capitals and doubled blanks make no difference. Lengths are bounded and the
time that a match takes is at most their product.
"""

from __future__ import annotations

import ast
from collections.abc import Callable
from typing import Any

from checker.quantities.folding import fold
from checker.quantities.formula.agreement import described, single
from checker.quantities.formula.calls import applied
from checker.quantities.formula.compiler import Compiler
from checker.quantities.formula.typed import Typed
from checker.quantities.kind import TRUTH

MOST_SIGNS = 100
"""In a pattern."""
_MOST_OF_TEXT = 1000

_CLASSES: dict[str, Callable[[str], bool]] = {
    "#": lambda sign: sign in "0123456789",
    "@": str.isalpha,
    "?": lambda _: True,
}


def matches(text: str, pattern: str) -> bool:
    """Whether the whole text has the form of the pattern; a text beyond 1000 signs has none."""
    text, pattern = fold(text), fold(pattern)
    if len(text) > _MOST_OF_TEXT:
        return False
    ends = {0}
    """How much of the text the pattern read so far may have used up."""
    for sign in pattern:
        if sign == "*":
            ends = set(range(min(ends), len(text) + 1)) if ends else ends
        else:
            fits = _CLASSES.get(sign, sign.__eq__)
            ends = {end + 1 for end in ends if end < len(text) and fits(text[end])}
    return len(text) in ends


def called(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """One call: a text, then one or more patterns written out."""
    if len(node.args) < 2:
        raise compiler.refused(node, 305, f"{name}(..) takes a text and at least one pattern")
    part = single(compiler, node.args[0], compiler.node(node.args[0]))
    if not part.kind.is_word:
        raise compiler.refused(node.args[0], 302, f"{name}(..) takes a text; this is {described(part.kind)}")
    patterns = compiler.each(lambda argument: _pattern(compiler, argument, name), node.args[1:])

    def run(text: Any) -> bool:
        return any(matches(text, pattern) for pattern in patterns)

    return applied(TRUTH, [part], run, marks=())


def _pattern(compiler: Compiler, node: ast.expr, name: str) -> str:
    if not (isinstance(node, ast.Constant) and isinstance(node.value, str)):
        hint = "in quotes: # a digit, @ a letter, ? any sign, * any signs"
        raise compiler.refused(node, 302, f"a pattern of {name}(..) is a text written out", hint)
    text = compiler.tree.quoted(node)
    if not text.strip() or len(text) > MOST_SIGNS:
        raise compiler.refused(node, 302, f"a pattern has 1 to {MOST_SIGNS} signs")
    return text
