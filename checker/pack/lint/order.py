"""Checks that take entries in the order in which an entrant happens to declare them."""

from __future__ import annotations

import ast
from collections.abc import Iterator

from checker.kinds.contract.check import uses, walk
from checker.kinds.frame.entries import Many
from checker.kinds.frame.framed import Framed
from checker.pack.check_parts import parts_of, unframed
from checker.pack.model import Pack
from checker.quantities.formula.grammar import FormulaTree
from checker.quantities.formula.reductions import NEIGHBOURS
from checker.reading.patterns import pattern
from checker.reading.problems import Path, Problem

_SORTING = ("number", "quantity", "percent", "date", "days")
_AT_AN_END = pattern(r"\b(?:first|last)\(\s*run\s*\)\s*\.\s*(\w+)")


def unsorted(pack: Pack) -> Iterator[Problem]:
    """Runs of neighbours that no field sorts, though their entries have one that says where each stands (510)."""
    told: set[int] = set()
    for clause in pack.clauses.values():
        for part in parts_of(clause):
            check = part.check
            if not isinstance(check, Framed) or check.many is None or id(check) in told:
                continue
            told.add(id(check))
            many = check.many
            field = _sorting_field(check, many) if many.mode == "runs" and not many.by else ""
            if field:
                message = f"{many.list_name} are taken in the order declared, which an entrant may choose"
                span = pack.document.span((*part.path, "runs"))
                yield Problem("PK510", message, span, f"say `by: {field}`", clause.number, warning=True)


def picked_by_place(pack: Pack) -> Iterator[Problem]:
    """The first, last or so-manieth of amounts, and neighbours, where nothing but the entrant puts them in order (510).

    Words may stand in an order that means something, as a firing order does; amounts and days have one of their own.
    """
    for clause in pack.clauses.values():
        for part in parts_of(clause):
            inner = unframed(part.check)
            checks = [inner] if inner is part.check else [part.check, inner]
            expressions = [one for check in checks for one in check.expressions()]
            told = {
                said: key
                for key, one in expressions
                if one.tree is not None
                for said in _picks(one.tree, pack)
            }
            for (message, hint), key in told.items():
                span = pack.document.span((*part.path, *_written(key, part.path, pack)))
                yield Problem("PK510", message, span, hint, clause.number, warning=True)


def _written(key: str, path: Path, pack: Pack) -> Path:
    """Where a formula stands: under its key, or under `let`."""
    return (key,) if pack.document.get((*path, key)) is not None else ("let", key)


def _picks(tree: FormulaTree, pack: Pack) -> Iterator[tuple[str, str]]:
    """What a formula takes by its place, each with the cure."""
    for node in ast.walk(tree.body):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.args):
            continue
        name, of = tree.name(node.func), tree.source(node.args[-1])
        place = tree.source(node.args[0]) if name == "nth" else "1"
        if name in _CURES and _has_an_order(of, pack):
            message = f"{of} are taken in the order declared, which an entrant may choose"
            yield message, f"say {_CURES[name].format(of=of, place=place)}"
        elif (name in _CURES or (name == NEIGHBOURS and len(node.args) == 1)) and of in pack.scope.entries:
            fields = pack.scope.entries[of].fields
            used = [one.attr for one in ast.walk(tree.body) if isinstance(one, ast.Attribute)]
            field = next((f for f in used if f in fields and fields[f].kind.name in _SORTING), "")
            if field:
                message = f"{of} are taken in the order declared, which an entrant may choose"
                smallest = (
                    f"say nth_smallest({place}, (x.{field} for x in {of})), or nth_largest, if that is meant"
                )
                yield message, f"say {NEIGHBOURS}({of}, {field})" if name == NEIGHBOURS else smallest


_CURES = {
    "first": "min({of}) or max({of}), if that is meant",
    "last": "min({of}) or max({of}), if that is meant",
    "nth": "nth_smallest({place}, {of}) or nth_largest({place}, {of}), if that is meant",
}


def _has_an_order(of: str, pack: Pack) -> bool:
    """Whether it is a fact, or the field of some list, with several amounts or days."""
    fact = pack.vocabulary.facts.get(of)
    fields = [its.fields[of] for its in pack.vocabulary.lists.values() if of in its.fields]
    kinds = [one.kind.name for one in (fact, *fields) if one is not None and one.several]
    return any(kind in _SORTING for kind in kinds)


def _sorting_field(check: Framed, many: Many) -> str:
    """The field that says where an entry stands: one that the check looks at, at an end of a run if at any."""
    fields = {} if many.entries is None else many.entries.fields
    texts = [expression.text for part in walk(check) for _, expression in part.expressions()]
    texts += [expression.text for _, expression in check.names]
    ends = [name for text in texts for name in _AT_AN_END.findall(text)]
    used = [name.rpartition(".")[2] for name in sorted(uses(check)) if name.startswith(f"{many.list_name}.")]
    sorting = (name for name in (*ends, *used) if name in fields and fields[name].kind.name in _SORTING)
    return next(sorting, "")
