"""Which kinds go together, and how to say so when they do not.

Magnitudes agree when they have one kind and dimension. Words agree when a value could be both: a word written in a
formula must be possible for what it stands beside, and beside a grade it is that grade.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Sequence

from checker.quantities.folding import fold
from checker.quantities.formula.compiler import Compiler, Stop
from checker.quantities.formula.typed import Mark, Typed
from checker.quantities.kind import Kind, kind_in_words, quantity
from checker.quantities.literal import as_meant
from checker.quantities.units import DIFFERENCES, MOMENT, TEMPERATURE_POINT, TEMPERATURE_STEP
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import replace

SEVERAL_HINT = "use sum, mean, min, max, count, any or all, or say `of_several` in the check"

SHARE_HINT = (
    "write the number as a percentage, as 95 %, or make a ratio one with percent(a / b); a share of a plain number is"
    " 0.3 * x, for 30 % * x is a percentage"
)


def described(kind: Kind) -> str:
    """A kind in a sentence: "a mass", "a plain number", "text"."""
    match kind.name:
        case "text" | "truth":
            return str(kind)
        case "items":
            return f"the list {kind.items}"
        case "item":
            return f"an entry of {kind.items}"
        case _:
            return kind_in_words(kind)


def single(compiler: Compiler, node: ast.expr, typed: Typed) -> Typed:
    """Refuse a list, or a whole row or entry, where one value is needed."""
    name = typed.kind.name
    if name in ("list", "items"):
        message = f"'{compiler.source(node)}' has several values; one is needed here"
        raise compiler.refused(node, 304, message, SEVERAL_HINT)
    if name in ("row", "item"):
        hint = f"name one of its {'columns' if name == 'row' else 'fields'} behind a dot"
        message = f"'{compiler.source(node)}' is {described(typed.kind)}; one value is needed here"
        raise compiler.refused(node, 302, message, hint)
    return typed


def singles(compiler: Compiler, nodes: Sequence[ast.expr]) -> list[Typed]:
    """Compile several nodes that must each be one value."""
    return compiler.each(lambda node: single(compiler, node, compiler.node(node)), nodes)


def mismatch(compiler: Compiler, node: ast.AST, a: Kind, b: Kind, what: str) -> Stop:
    """Note that two kinds do not go together, with the hint that fits; raise what this returns."""
    names = {a.name, b.name}
    number = 301 if names <= {"quantity", "number"} else 302
    if (point := next((kind for kind in (a, b) if kind in DIFFERENCES), None)) is not None:
        hint = POINT_HINTS[point]
    elif names == {"number", "percent"}:
        hint = SHARE_HINT
    elif names <= {"days", "months"}:
        hint = "days and months are never compared or added to each other"
    elif names == {"date", "number"}:
        hint = "give the number a unit: days, months or years"
    elif names == {"date", "text"}:
        hint = "a day is written without quotes: 2026-03-01"
    elif names == {"quantity", "number"}:
        hint = "give the number a unit"
    elif "list" in names:
        number, hint = 304, SEVERAL_HINT
    elif names == {"quantity"}:
        hint = _bridge(a, b)
    elif "truth" in names:
        hint = "what is true or false stands alone, or beside and, or and not"
    else:
        hint = "look whether the right name stands on each side"
    message = f"{what}: {described(a)} and {described(b)} do not go together"
    return compiler.refused(node, number, message, hint)


def _bridge(a: Kind, b: Kind) -> str:
    """How two quantities of different dimensions could be made alike, where one step does it."""
    for one, other in ((a, b), (b, a)):
        if one.dimension == other.dimension**2:
            return f"write sqrt(..) of {described(one)}, or the other side ** 2"
    for one, other in ((a, b), (b, a)):
        factor = quantity(other.dimension / one.dimension)
        if 1 <= sum(factor.dimension.exponents) <= 3 and min(factor.dimension.exponents) == 0:
            return f"{described(one)} times {described(factor)} is {described(other)}"
    return "look whether the right name and the right unit stand on each side"


ROUND_HINT = "round its distance from a zero: (t - 0 degC) to 1 K, or (t - 0 degF) to 1 degR"
POINT_HINTS: dict[Kind, str] = {
    TEMPERATURE_POINT: "by how much a temperature differs is written in K, or in degR for steps of degF: t + 10 K,"
    " t - 18 degR, 0.2 * (t - 20 degC) / (1 K)",
    MOMENT: "moments have differences, which are times: m + 30 min, finish - start; the day of one is day(m)",
}


def scaled(compiler: Compiler, node: ast.AST, what: str, kind: Kind) -> Stop:
    """Note that a temperature or moment is used as if it were an amount; raise what this returns."""
    message = f"'{compiler.source(node)}': there is no {what.removeprefix('a ')} {kind}s"
    return compiler.refused(node, 301, message, POINT_HINTS[kind])


def meant(compiler: Compiler, node: ast.expr, part: Typed, beside: Kind) -> Typed:
    """A part as it is meant beside another: K and degR as temperatures, degC and degF as steps, where written out."""
    literal = compiler.tree.literal(node)
    if literal is None or {part.kind, beside} != {TEMPERATURE_POINT, TEMPERATURE_STEP}:
        return part
    found = as_meant(literal, beside)
    if found is None:
        return part
    value, unit = found.value, found.unit
    return replace(part, kind=beside, evaluate=lambda _: value, marks=(Mark(beside, 0, lambda _: unit),))


def common_kind(
    compiler: Compiler, node: ast.AST, nodes: Sequence[ast.expr], parts: Sequence[Typed], what: str
) -> Kind:
    """The one kind that all parts have; noted at `node` where there is none.

    Args:
        nodes: Its parts as written.
        parts: The same, compiled.
        what: The whole in words, for the message.
    """
    found = next((p.kind for p in parts if p.kind.name == "grade"), parts[0].kind)
    for place, part in zip(nodes, parts, strict=True):
        joined = _joined(compiler, place, part.kind, found)
        if joined is None:
            raise mismatch(compiler, node, found, part.kind, what)
        found = joined
    if found.tree is not None:
        for place, part in zip(nodes, parts, strict=True):
            if part.word is not None:
                check_words(compiler, place, (part.word,), found)
    return found


def _joined(compiler: Compiler, node: ast.expr, other: Kind, kind: Kind) -> Kind | None:
    """The kind of what is either of `kind` or the `other` that stands at `node`."""
    if kind.name == "grade" or other.name == "grade":
        return kind if fits_grade(compiler, node, other, kind) else None
    if kind.element is not None and other.element is not None:
        element = _either(kind.element, other.element)
        return None if element is None else element.listed()
    return _either(kind, other)


def _either(a: Kind, b: Kind) -> Kind | None:
    if a.name != b.name or not a.same_measure(b) or a.items != b.items:
        return None
    if a.name == "grade" and not _same_words(a, b):
        return None
    if a.name == "text":
        if a.tree is not None and b.tree is not None and a.tree != b.tree:
            return None
        words = None if a.words is None or b.words is None else tuple(dict.fromkeys((*a.words, *b.words)))
        return Kind("text", words=words, tree=a.tree or b.tree)
    return a


def fits_grade(compiler: Compiler, node: ast.expr, kind: Kind, grade: Kind) -> bool:
    """Whether words of `kind` are of that grade; text is, when all that it can be are grades of it (else 204)."""
    if grade.name != "grade" or not kind.is_word:
        return False
    if kind.name == "grade":
        return _same_words(kind, grade)
    for place, words in spelt(compiler, node, kind):
        for word in words:
            check_words(compiler, place, (word,), grade)
    return kind.words is not None


def spelt(compiler: Compiler, node: ast.expr, kind: Kind) -> list[tuple[ast.expr, tuple[str, ...]]]:
    """The words that a node can be, where they are known; those of a list written out each at its place."""
    if isinstance(node, ast.List):
        return [
            (element, (compiler.tree.quoted(element),))
            for element in node.elts
            if isinstance(element, ast.Constant) and isinstance(element.value, str)
        ]
    return [] if kind.words is None else [(node, kind.words)]


def grade_order(kind: Kind) -> Callable[[str], int]:
    """The place of a grade among its words, from the lowest."""
    places = {fold(word): place for place, word in enumerate(kind.words or ())}
    return lambda word: places[fold(word)]


def _same_words(a: Kind, b: Kind) -> bool:
    return [fold(w) for w in a.words or ()] == [fold(w) for w in b.words or ()]


def check_words(compiler: Compiler, node: ast.AST, given: tuple[str, ...], kind: Kind) -> None:
    """Refuse words of which a value of `kind` can never be any (204 noted)."""
    told = ", ".join(f"'{word}'" for word in given)
    if kind.tree is not None:
        tree = compiler.scope.trees[kind.tree]
        possible = any(tree.canonical(word) is not None for word in given)
        cure = f"add it under `{'categories' if kind.tree == 'category' else 'materials'}`"
        message, words = f"{told} is no {tree.what} of this pack", tree.words
    else:
        words = kind.words or given
        possible = not {fold(word) for word in words}.isdisjoint(fold(word) for word in given)
        message, cure = f"{told} can never be meant here", f"possible: {', '.join(words)}"
    if not possible:
        raise compiler.refused(node, 204, message, did_you_mean(given[0], words) or cure)
