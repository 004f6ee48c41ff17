"""Tables, which are called like functions of their keys.

A key that is unknown, or a word that its tree does not know, finds no row, not even one with `any`.
"""

from __future__ import annotations

import ast
from collections.abc import Sequence
from fractions import Fraction

from checker.quantities.formula.agreement import described, single
from checker.quantities.formula.compiler import Compiler
from checker.quantities.formula.edges import above, is_noting, note
from checker.quantities.formula.families import Kin, below, may_be, not_known
from checker.quantities.formula.names import of_cell
from checker.quantities.formula.scope import TableFunction, WordTree
from checker.quantities.formula.typed import Run, Typed, merged, of_known
from checker.quantities.kind import Kind, lacking
from checker.quantities.rounding import round_to
from checker.reading.quick_dataclasses import replace


def called_table(compiler: Compiler, node: ast.Call, table: TableFunction) -> Typed:
    """A table called with its keys: its value, or a row where it has several columns."""
    if len(node.args) != len(table.keys):
        keys = ", ".join(name for name, _ in table.keys)
        message = f"table {table.name} takes {len(table.keys)} keys ({keys}); {len(node.args)} given"
        raise compiler.refused(node, 305, message)
    given = list(zip(node.args, table.keys, strict=True))
    parts = compiler.each(lambda pair: _key(compiler, pair[0], table, *pair[1]), given)
    if table.check_words is not None and (wrong := table.check_words(tuple(p.kind for p in parts))):
        place, number, message, hint = wrong
        raise compiler.refused(node.args[place], number, message, hint)
    runs, lookup = tuple(p.evaluate for p in parts), table.lookup
    sources = [compiler.source(argument) for argument in node.args]

    def row(scene: object) -> object:
        values = tuple(run(scene) for run in runs)
        if absent := lacking(values):
            return absent
        if is_noting(scene):
            _note_edges(table, parts, sources, scene, values)
        return lookup(values)

    found = merged(
        Kind("row", items=table.name),
        row,
        parts,
        uses=table.uses.union({table.name}, *(p.uses for p in parts)),
        marks=(),
        denominators=(),
        constant=False,
        irrational=False,
        degree=1 if table.degree == 1 else table.degree * max(part.degree for part in parts),
    )
    return of_cell(table.columns["value"], found, "value") if tuple(table.columns) == ("value",) else found


def _note_edges(
    table: TableFunction,
    parts: Sequence[Typed],
    sources: Sequence[str],
    scene: object,
    values: tuple[object, ...],
) -> None:
    """Note the edges next to each key, below and above it, of a table that is called with these parts."""
    for edges, value, part, source in zip(table.edges, values, parts, sources, strict=False):
        if not part.uses or not isinstance(value, Fraction):
            continue
        below = max((edge for edge in edges if edge <= value), default=None)
        next_above = min((edge for edge in edges if edge > value), default=None)
        text = f"{source} against an edge of table {table.name}"
        for edge in (below, next_above):
            if edge is not None:
                note(scene, above(part, edge), [part], text, (table.name, source, edge))


def _key(compiler: Compiler, node: ast.expr, table: TableFunction, name: str, kind: Kind) -> Typed:
    """One key of a table, of the kind that its cells have."""
    part = single(compiler, node, compiler.node(node))
    given = part.kind
    if given.is_word and given.tree is not None and kind.name in ("any", "text"):
        named = dict(zip((key for key, _ in table.keys), table.words, strict=False)).get(name, ())
        return replace(part, evaluate=_known(part.evaluate, compiler.scope.trees[given.tree], named))
    if kind.name == "any" or (given.is_word and kind.is_word):
        return part
    if given.same_measure(kind):
        return replace(part, evaluate=_with_all_digits(part.evaluate)) if part.irrational else part
    number = 301 if {given.name, kind.name} <= {"quantity", "number"} else 302
    message = f"key {name} of table {table.name} is {described(kind)}; this is {described(given)}"
    raise compiler.refused(node, number, message)


def _known(run: Run, tree: WordTree, named: tuple[str, ...]) -> Run:
    """A key of words of a tree, which finds the row of a family too.

    A word that the tree does not know, or that may be one of those that rows are named for, finds no row, not even one
    with `any`.
    """

    def known(word: str) -> object:
        if tree.canonical(word) is None:
            return not_known(tree, word)
        meant = below(tree, word, named)
        return may_be(word, meant) if meant else Kin.of(word, tree)

    return of_known(known, run)


def _with_all_digits(run: Run) -> Run:
    """A key made with roots or angles, rounded so that it stands on an edge of a band where it should."""

    def rounded(x: Fraction) -> Fraction:
        magnitude = len(str(abs(x.numerator))) - len(str(x.denominator))
        return round_to(x, Fraction(10) ** (magnitude - 25), "half_even")

    return of_known(rounded, run)
