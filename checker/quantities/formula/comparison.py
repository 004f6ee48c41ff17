"""Comparisons: magnitudes and days by size, words by spelling or by what they belong to."""

from __future__ import annotations

import ast
import operator
from collections.abc import Callable
from typing import Any

from checker.quantities.formula.compiler import Compiler, Stop, described, mismatch, three_valued
from checker.quantities.formula.form import function_of
from checker.quantities.formula.typed import Typed, merged
from checker.quantities.kind import TRUTH, Kind, Unknown, unite
from checker.quantities.words import fold
from checker.reading.nearest import did_you_mean

_ORDER: dict[type[ast.cmpop], Callable[[Any, Any], bool]] = {
    ast.Lt: operator.lt,
    ast.LtE: operator.le,
    ast.Gt: operator.gt,
    ast.GtE: operator.ge,
    ast.Eq: operator.eq,
    ast.NotEq: operator.ne,
}


def comparison(compiler: Compiler, node: ast.Compare) -> Typed:
    """A comparison or a chain of them."""
    operands = [node.left, *node.comparators]
    sides = compiler.nodes(operands)
    links: list[Typed] = []
    for i, symbol in enumerate(node.ops):
        pair = (operands[i], operands[i + 1])
        links.append(_link(compiler, node, symbol, pair, sides[i], sides[i + 1]))
    if len(links) == 1:
        return links[0]
    runs = tuple(link.run for link in links)
    return merged(TRUTH, three_valued(runs, False), tuple(links), function_of(*(link.form for link in links)))


def _link(
    compiler: Compiler,
    node: ast.Compare,
    symbol: ast.cmpop,
    operands: tuple[ast.expr, ast.expr],
    left: Typed,
    right: Typed,
) -> Typed:
    form = function_of(left.form, right.form)
    if isinstance(symbol, (ast.In, ast.NotIn)):
        run = _membership(compiler, node, operands, left, right)
        if isinstance(symbol, ast.NotIn):
            positive = run

            def run(scene: Any) -> Any:
                value = positive(scene)
                return value if isinstance(value, Unknown) else not value

        return merged(TRUTH, run, (left, right), form, marks=())
    compiler.single(operands[0], left)
    compiler.single(operands[1], right)
    compare = _ORDER[type(symbol)]
    sort = _check_comparable(compiler, node, symbol, operands, left, right)
    a, b = left.run, right.run
    exact = not (left.irrational or right.irrational)

    def run(scene: Any) -> Any:
        x, y = a(scene), b(scene)
        if isinstance(x, Unknown) or isinstance(y, Unknown):
            return unite(v for v in (x, y) if isinstance(v, Unknown))
        if sort is not None:
            x, y = sort(x), sort(y)
        elif not exact:
            from checker.quantities.elementary import same

            if same(x, y):
                y = x
        return compare(x, y)

    return merged(TRUTH, run, (left, right), form, marks=())


def _check_comparable(
    compiler: Compiler,
    node: ast.Compare,
    symbol: ast.cmpop,
    operands: tuple[ast.expr, ast.expr],
    left: Typed,
    right: Typed,
) -> Callable[[Any], Any] | None:
    """Check the kinds of both sides; how words are brought to one form, where they are words."""
    a, b = left.kind, right.kind
    if a.is_measure and b.is_measure and a.same_measure(b):
        return None
    if a.name == b.name == "date":
        return None
    ordered = isinstance(symbol, (ast.Lt, ast.LtE, ast.Gt, ast.GtE))
    if a.name == b.name == "truth" and not ordered:
        return None
    if a.is_word and b.is_word:
        _check_words(compiler, operands, left, right)
        if not ordered:
            return fold
        grades = a if a.name == "grade" else b
        if grades.name == "grade":
            order = {fold(word): place for place, word in enumerate(grades.words or ())}
            return lambda word: order[fold(word)]
        compiler.refuse(
            node, 302, "texts have no order", "declare the fact with `grades` to put its words in order"
        )
    mismatch(compiler, node, a, b, f"'{compiler.source(node)}'")


def _check_words(compiler: Compiler, operands: tuple[ast.expr, ast.expr], left: Typed, right: Typed) -> None:
    """A text literal must be a word that the other side can be."""
    for literal, other, where in ((left, right, operands[0]), (right, left, operands[1])):
        if literal.text is not None and other.text is None:
            check_word(compiler, where, literal.text, other.kind)


def check_word(compiler: Compiler, node: ast.AST, word: str, kind: Kind) -> None:
    """Refuse a word that a value of `kind` can never be (number 204)."""
    if kind.tree is not None:
        tree = compiler.scope.trees[kind.tree]
        if tree.canonical(word) is None:
            compiler.refuse(
                node, 204, f"'{word}' is no {tree.what} of this pack", did_you_mean(word, tree.words)
            )
    elif kind.words is not None and fold(word) not in {fold(w) for w in kind.words}:
        compiler.refuse(
            node,
            204,
            f"'{word}' is not one of the possible words",
            did_you_mean(word, kind.words) or f"possible: {', '.join(kind.words)}",
        )


def _membership(
    compiler: Compiler, node: ast.Compare, operands: tuple[ast.expr, ast.expr], left: Typed, right: Typed
) -> Callable[[Any], Any]:
    """`in`: a word is or belongs to a word or one of a list; a magnitude or day equals one of a list."""
    compiler.single(operands[0], left)
    element = right.kind.element if right.kind.name == "list" else right.kind
    if element is None or right.kind.name == "items":
        compiler.refuse(
            operands[1], 304, f"'{compiler.source(operands[1])}' is a list of entries, not of values"
        )
    a, b, whole = left.run, right.run, right.kind.name == "list"
    if left.kind.is_word and element.is_word:
        _check_member_words(compiler, operands, left, right, element)
        tree = compiler.scope.trees.get(left.kind.tree or element.tree or "")
        belongs = word_test(tree)
    elif whole and left.kind.is_measure and left.kind.same_measure(element):
        belongs = operator.eq
    elif whole and left.kind.name == element.name and left.kind.name in ("date", "truth"):
        belongs = operator.eq
    elif not whole and left.kind.name not in ("text", "grade"):
        compiler.refuse(
            operands[1],
            302,
            f"'in' needs a list or a word behind it; this is {described(right.kind)}",
            "write == for equal",
        )
    else:
        mismatch(compiler, node, left.kind, element, f"'{compiler.source(node)}'")

    def run(scene: Any) -> Any:
        word, words = a(scene), b(scene)
        if isinstance(word, Unknown) or isinstance(words, Unknown):
            return unite(v for v in (word, words) if isinstance(v, Unknown))
        unknown: list[Unknown] = []
        for other in words if whole else (words,):
            answer = belongs(word, other)
            if isinstance(answer, Unknown):
                unknown.append(answer)
            elif answer:
                return True
        return unite(unknown) if unknown else False

    return run


def _check_member_words(
    compiler: Compiler, operands: tuple[ast.expr, ast.expr], left: Typed, right: Typed, element: Kind
) -> None:
    failed = False
    if isinstance(operands[1], ast.List):
        elements: list[tuple[ast.AST, str | None]] = [
            (e, e.value if isinstance(e, ast.Constant) and isinstance(e.value, str) else None)
            for e in operands[1].elts
        ]
    else:
        elements = [(operands[1], right.text)]
    for where, word in elements:
        if word is None:
            continue
        try:
            check_word(compiler, where, word, left.kind)
        except Stop:
            failed = True
    if left.text is not None and right.text is None and not isinstance(operands[1], ast.List):
        check_word(compiler, operands[0], left.text, element)
    if failed:
        raise Stop


def word_test(tree: Any) -> Callable[[str, str], Any]:
    """Whether a word is or belongs to another; Unknown for a word that its tree does not know."""
    if tree is None:
        return lambda word, other: fold(word) == fold(other)

    def belongs(word: str, family: str) -> Any:
        answer = tree.belongs(word, family)
        if answer is None:
            return Unknown(reasons=(f"'{word}' is no {tree.what} that this pack knows",))
        return answer

    return belongs
