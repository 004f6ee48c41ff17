"""Comparisons: magnitudes and days by size, words by spelling or by what they belong to."""

from __future__ import annotations

import ast
import operator
from collections.abc import Callable
from itertools import pairwise
from typing import Any, NamedTuple

from checker.quantities.formula.agreement import (
    check_words,
    described,
    fits_grade,
    grade_order,
    meant,
    mismatch,
    single,
    spelt,
)
from checker.quantities.formula.compiler import Compiler
from checker.quantities.formula.edges import is_noting, note
from checker.quantities.formula.families import is_declared, is_one_of, same_word
from checker.quantities.formula.logic import sameness, three_valued
from checker.quantities.formula.scope import WordTree
from checker.quantities.formula.typed import Run, Typed, merged, of_known
from checker.quantities.kind import TRUTH, Kind, lacking

Test = Callable[[Any, Any], Any]
"""From two known values to true, false or Unknown."""

_ORDER: dict[type[ast.cmpop], Test] = {
    ast.Lt: operator.lt,
    ast.LtE: operator.le,
    ast.Gt: operator.gt,
    ast.GtE: operator.ge,
}


def comparison(compiler: Compiler, node: ast.Compare) -> Typed:
    """A comparison, or a chain of them: each link must hold."""
    operands = [node.left, *node.comparators]
    sides = compiler.nodes(operands)
    if len(sides) == 2 and not isinstance(node.ops[0], (ast.In, ast.NotIn)):
        kinds = sides[0].kind, sides[1].kind
        sides = [meant(compiler, operands[i], sides[i], kinds[1 - i]) for i in (0, 1)]
    pairs = zip(pairwise(operands), pairwise(sides), node.ops, strict=True)
    links = [_compared(_Link(compiler, node, pair, both), symbol) for pair, both, symbol in pairs]
    if len(links) == 1:
        return links[0]
    return merged(TRUTH, three_valued(tuple(link.evaluate for link in links), decisive=False), links)


class _Link(NamedTuple):
    """Two values that are compared."""

    compiler: Compiler
    node: ast.Compare
    operands: tuple[ast.expr, ast.expr]
    sides: tuple[Typed, Typed]


def _compared(link: _Link, symbol: ast.cmpop) -> Typed:
    compiler, _, operands, sides = link
    single(compiler, operands[0], sides[0])
    if isinstance(symbol, (ast.In, ast.NotIn)):
        run = _membership(link)
    else:
        single(compiler, operands[1], sides[1])
        run = of_known(_test(link, symbol), sides[0].evaluate, sides[1].evaluate)
        if type(symbol) in _ORDER and sides[0].kind.is_measure:
            text = f"{compiler.source(operands[0])} against {compiler.source(operands[1])}"
            run = _with_edge(run, sides, text)
    if isinstance(symbol, (ast.NotEq, ast.NotIn)):
        run = of_known(operator.not_, run)
    return merged(TRUTH, run, sides, marks=())


def _with_edge(run: Run, sides: tuple[Typed, Typed], text: str) -> Run:
    """The comparison, which is an edge to whoever asks for edges."""
    if not (sides[0].uses or sides[1].uses):
        return run
    distance = of_known(operator.sub, sides[0].evaluate, sides[1].evaluate)

    def noted(scene: object) -> object:
        if is_noting(scene):
            note(scene, distance, sides, text, distance)
        return run(scene)

    return noted


def _test(link: _Link, symbol: ast.cmpop) -> Test:
    """How two single values are compared (`!=` as `==`), after their kinds are checked."""
    compiler, node, _, sides = link
    a, b = sides[0].kind, sides[1].kind
    compare = _ORDER.get(type(symbol))
    if a.is_word and b.is_word:
        if compare is None:
            _check_possible(link)
            return _word_equality(compiler, sides)
        grade = a if a.name == "grade" else b
        if grade.name != "grade":
            hint = "declare the fact with `grades` to put its words in order"
            raise compiler.refused(node, 302, "texts have no order", hint)
        _check_possible(link)
        place, compared = grade_order(grade), compare
        return lambda x, y: compared(place(x), place(y))
    exact = not (sides[0].irrational or sides[1].irrational)
    if a.name == b.name == "truth" and compare is not None:
        raise compiler.refused(node, 302, "true and false have no order", "write == or !=")
    if not _alike(a, b):
        raise mismatch(compiler, node, a, b, f"'{compiler.source(node)}'")
    if compare is None:
        return sameness(a, exact)
    if exact or not a.is_measure:
        return compare
    same, ordered, with_equal = sameness(a, exact), compare, compare in (operator.le, operator.ge)
    return lambda x, y: with_equal if same(x, y) else ordered(x, y)


def _alike(a: Kind, b: Kind) -> bool:
    """Whether two kinds other than words can be compared."""
    if a.is_measure:
        return a.same_measure(b)
    return a.name == b.name and a.name in ("date", "truth")


def _check_possible(link: _Link) -> None:
    """Refuse words that can never be equal: one of them must be possible for the other side."""
    compiler, node, operands, (left, right) = link
    a, b = left.kind, right.kind.element or right.kind
    if "grade" in (a.name, b.name):
        place, kind, grade = (operands[1], b, a) if a.name == "grade" else (operands[0], a, b)
        if not fits_grade(compiler, place, kind, grade):
            raise mismatch(compiler, node, a, b, f"'{compiler.source(node)}'")
    elif a.tree is not None and b.tree is not None and a.tree != b.tree:
        raise compiler.refused(node, 302, f"a {a.tree} is never a {b.tree}")
    elif not (left.constant and right.constant):
        written = [] if left.word is not None else spelt(compiler, operands[1], b)
        compiler.each(lambda part: check_words(compiler, *part, a), written)
        if not written and a.words is not None:
            check_words(compiler, operands[0], a.words, b)


def _membership(link: _Link) -> Run:
    """`in`: a word is or belongs to a word or one of a list; a magnitude, day or truth equals one of a list."""
    compiler, node, operands, (left, right) = link
    a, whole = left.kind, right.kind.name == "list"
    b = right.kind.element if whole and right.kind.element is not None else right.kind
    source = compiler.source(operands[1])
    if b.name in ("items", "item", "row"):
        hint = "any(x.name == .. for x in ..) looks into entries"
        raise compiler.refused(operands[1], 304, f"'{source}' is {described(b)}, not a list of values", hint)
    if a.is_word and b.is_word:
        _check_possible(link)
        return _words_in_words(left, right, whole, compiler.scope.trees.get(a.tree or b.tree or ""))
    if whole and _alike(a, b):
        same = sameness(a, exact=not (left.irrational or right.irrational))
        return of_known(
            lambda value, values: any(same(value, one) for one in values), left.evaluate, right.evaluate
        )
    if whole or a.is_word:
        raise mismatch(compiler, node, a, b, f"'{compiler.source(node)}'")
    message = f"'in' needs a list behind it; '{source}' is {described(b)}"
    raise compiler.refused(operands[1], 302, message, "write == for equal")


def _words_in_words(left: Typed, right: Typed, whole: bool, tree: WordTree | None) -> Run:
    """Whether what is declared is or belongs to what the rule names, on whichever side of `in` it stands."""
    if left.constant and not right.constant:

        def named(word: str, declared: Any) -> object:
            answers = [is_one_of(tree, one, (word,)) for one in (declared if whole else (declared,))]
            return True in answers or lacking(answers) or False

        return of_known(named, left.evaluate, right.evaluate)
    kind = right.kind.element or right.kind
    vague = is_declared(left.kind, left.constant) and is_declared(kind, right.constant)
    return of_known(
        lambda word, words: is_one_of(tree, word, words if whole else (words,), vague=vague),
        left.evaluate,
        right.evaluate,
    )


def _word_equality(compiler: Compiler, sides: tuple[Typed, Typed]) -> Test:
    """Whether two words are one; unknown where a word that is declared may be meant otherwise."""
    first, second = sides
    found = compiler.scope.trees.get
    trees = (found(first.kind.tree or ""), found(second.kind.tree or ""))
    declared = (is_declared(first.kind, first.constant), is_declared(second.kind, second.constant))
    return lambda x, y: same_word((x, y), trees, declared)
