"""The grammar of formulas: an allow-list over Python's own expression grammar.

Python's parser gives us a well-tried grammar with columns; the allow-list keeps of it what looks like sums on paper.
Nothing is ever executed from the tree: the next step builds plain functions for the allowed nodes.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.tokens import Prepared, prepare
from checker.quantities.literal import Literal
from checker.quantities.misread import with_comma
from checker.reading.quick_dataclasses import dataclass

PLACE = "at"
"""Behind an entry, and before its place: `b.at.behind_front_axle`. No field is called so."""
MAX_DEPTH = 20
RANKED = ("nth_largest", "nth_smallest")
"""Functions that take a number before the list that they go through."""
MAX_NEIGHBOURS = 6
MAX_LOOPS = 2
"""How many `for` may stand inside each other, so that judging a car never takes long."""

_ALLOWED = (
    *(ast.BoolOp, ast.And, ast.Or, ast.UnaryOp, ast.Not, ast.USub),
    *(ast.BinOp, ast.Add, ast.Sub, ast.Mult, ast.Div, ast.Pow),
    *(ast.Compare, ast.Lt, ast.LtE, ast.Gt, ast.GtE, ast.Eq, ast.NotEq, ast.In, ast.NotIn),
    *(ast.IfExp, ast.Call, ast.Attribute, ast.Name, ast.Constant, ast.List),
    *(ast.GeneratorExp, ast.comprehension, ast.Load, ast.Store),
)
_AS_IN = "as in sum(b.mass for b in ballast)"
_CALLED: dict[type[ast.AST], tuple[str, str]] = {
    ast.Subscript: ("[ ] behind a name", "first(..) and last(..) pick an entry"),
    ast.Tuple: (
        "a comma outside the brackets of a call or list",
        "write a function before the bracket, or [a, b] for a list",
    ),
    ast.ListComp: ("a `for` inside [ ]", "write it inside sum(..), any(..) and the like"),
    ast.Starred: ("'*' before a value", ""),
    ast.keyword: ("'**' before a value", ""),
    ast.UAdd: ("a plus sign before a value", ""),
    ast.FloorDiv: ("'//'", ""),
    ast.LShift: ("'<<'", "write <"),
    ast.RShift: ("'>>'", "write >"),
}
"""What else can be written with the signs that a formula may have: its name, and the cure."""


@dataclass(frozen=True, slots=True)
class FormulaTree:
    """A parsed formula. Offsets are in characters of its text."""

    text: str
    body: ast.expr
    prepared: Prepared
    lead: int
    """How many blanks stand before it."""
    currency: str | None

    def __getstate__(self) -> tuple[str, str | None]:
        return self.text, self.currency

    def __setstate__(self, state: tuple[str, str | None]) -> None:
        for name, value in zip(("text", "currency"), state, strict=True):
            object.__setattr__(self, name, value)

    def __getattr__(self, name: str) -> object:
        """Of a tree that was kept only its text is; few ask for more, so it is parsed when one does."""
        if name not in ("body", "prepared", "lead"):
            raise AttributeError(name)
        again = parse(self.text, self.currency)
        for part in ("body", "prepared", "lead"):
            object.__setattr__(self, part, getattr(again, part))
        return getattr(self, name)

    def span(self, node: ast.AST) -> tuple[int, int]:
        start, end = getattr(node, "col_offset", 0), getattr(node, "end_col_offset", None)
        return self.lead + start, len(self.text) if end is None else self.lead + end

    def source(self, node: ast.AST) -> str:
        """A node as it is written, on one line."""
        start, end = self.span(node)
        return " ".join(self.text[start:end].split())

    def literal(self, node: ast.AST) -> Literal | None:
        """The quantity, number or day that stands at a node."""
        return self.prepared.literals.get(self.span(node)[0]) if isinstance(node, ast.Name) else None

    def name(self, node: ast.AST) -> str:
        """A plain name, or the name behind a dot, also where Python reserves it."""
        if isinstance(node, ast.Attribute):
            return self.prepared.words.get(self.span(node)[1] - len(node.attr), node.attr)
        assert isinstance(node, ast.Name), "nothing else has a name"
        return self.prepared.words.get(self.span(node)[0], node.id)

    def quoted(self, node: ast.AST) -> str:
        """What stands between quotation marks; line breaks count as blanks."""
        start, end = self.span(node)
        return "".join(" " if c in "\t\r\n" else c for c in self.text[start + 1 : end - 1])


def parse(text: str, currency: str | None) -> FormulaTree:
    """Parse a formula and refuse what the language does not have.

    Raises:
        FormulaError: With the first mistake: 103 cannot be read, 105 construct not allowed, and those of `prepare`.
    """
    try:
        return _parsed(text, currency)
    except FormulaError as error:
        from checker.quantities.formula.other_ways import cured  # only needed when something is wrong

        raise FormulaError(cured(text, error.problems[0], currency)) from None


def _parsed(text: str, currency: str | None) -> FormulaTree:
    prepared = prepare(text, currency)
    code = prepared.code.strip()
    lead = len(prepared.code) - len(prepared.code.lstrip())
    try:
        body = ast.parse(code, mode="eval").body
    except SyntaxError as error:
        start = lead + ((error.offset or len(code) + 1) - 1)  # without an offset, it expected more
        end = lead + ((error.end_offset or 1) - 1)
        raise FormulaError(_syntax(text, prepared, start, end)) from None
    except (RecursionError, MemoryError):
        raise FormulaError(FormulaProblem(105, "the formula is nested too deeply", 0, len(text))) from None
    tree = FormulaTree(text, body, prepared, lead, currency)
    for problem in _problems(tree):
        raise FormulaError(problem)
    return tree


def _syntax(text: str, prepared: Prepared, start: int, end: int) -> FormulaProblem:
    """What to say where Python's parser has given up."""
    last = len(prepared.code.rstrip())
    if start >= last:
        hint = "write a value behind the last sign, or take that away"
        return FormulaProblem(103, "the formula ends too early", last - 1, last, hint)
    end = min(end, last) if end > start else start + len(prepared.code[start:].split()[0])
    read = " ".join(text[start:end].split())
    if read == "<>":
        return FormulaProblem(103, "'<>' cannot be read", start, end, "write !=")
    if start in prepared.words:
        return FormulaProblem(103, f"'{read}' means nothing here", start, end, "to compare write ==")
    hint = _missing(text, start, read)
    return FormulaProblem(103, f"the formula cannot be read at '{read}'", start, end, hint)


def _missing(text: str, start: int, read: str) -> str:
    """The cure where two values, or two signs, stand side by side."""
    before = re.search(r"[\w.'\")\]]+\s*$|\S\s*$", text[:start])
    sign = re.match(r"[^\w'\"(\[.]|(?:and|or|if|else|in|for)\b", read)
    behind = before and re.search(r"[^\w'\")\].]\s*$|\b(?:and|or|not|if|else|in|for)\s*$", text[:start])
    if sign is not None:
        return "write a value before it, or take it away" if before is None or behind else "take it away"
    if before is None or behind:
        return "write a value, a name or a sum there"
    return f"write the sign, or the comma, that belongs between '{before[0].strip()}' and '{read}'"


def _weighted(call: str) -> str:
    """The cure where a level is written as 98 dB(A)."""
    found = re.fullmatch(r"(.*dB) ?\(([AC])\)", call)
    return f"write {found[1]}{found[2]}" if found else ""


def _problems(tree: FormulaTree) -> Iterator[FormulaProblem]:
    """Every node that the language does not have, in the order written; depth beyond the limits."""
    waiting: list[tuple[ast.AST, ast.AST | None, int, int]] = [(tree.body, None, 1, 0)]
    while waiting:
        node, parent, depth, loops = waiting.pop()
        start, end = tree.span(node if hasattr(node, "col_offset") or parent is None else parent)
        if depth > MAX_DEPTH:
            hint = "give a part of it a name under `derived`"
            yield FormulaProblem(105, f"the formula is nested more than {MAX_DEPTH} deep", start, end, hint)
        target = isinstance(parent, ast.comprehension) and node is parent.target
        if not isinstance(node, _ALLOWED) and not (target and isinstance(node, ast.Tuple)):
            called, hint = _CALLED.get(type(node), (f"'{tree.source(node)}'", ""))
            if isinstance(parent, ast.UnaryOp) and isinstance(node, ast.UAdd):
                hint = f"leave the plus out: write {tree.source(parent.operand)}"
            if isinstance(parent, ast.BinOp) and isinstance(node, ast.FloorDiv):
                hint = f"write round_down({tree.source(parent.left)} / {tree.source(parent.right)}, 1)"
            if isinstance(node, ast.Tuple) and (comma := with_comma(tree.text)):
                start, end, hint = comma
                called = f"the comma in {tree.text[start:end]}"
            yield FormulaProblem(105, f"{called} is not allowed in a formula", start, end, hint)
        if isinstance(node, ast.GeneratorExp):
            loops += 1
        wrong = _wrong(tree, node, parent, loops)
        if wrong is not None:
            place, message, hint = wrong
            yield FormulaProblem(105, message, *tree.span(place), hint)
        below: list[tuple[ast.AST, ast.AST | None, int, int]] = []
        for child in ast.iter_child_nodes(node):
            # a row of sums is as deep as one
            chained = isinstance(node, ast.BinOp) and child is node.left and isinstance(child, ast.BinOp)
            below.append((child, node, depth + (isinstance(child, ast.expr) and not chained), loops))
        waiting.extend(reversed(below))


def _wrong(
    tree: FormulaTree, node: ast.AST, parent: ast.AST | None, loops: int
) -> tuple[ast.AST, str, str] | None:
    """What is wrong with a node whose kind is allowed: where, what and the cure."""
    match node:
        case ast.Constant(value=value):
            if isinstance(value, bool) or not isinstance(value, (int, str)):
                return node, f"'{tree.source(node)}' is not allowed in a formula", ""
        case ast.Call(func=func):
            if not isinstance(func, ast.Name) or tree.literal(func) is not None:
                told = f"'{tree.source(func)}' cannot be called; only functions and tables can"
                if weighted := _weighted(tree.source(node)):
                    return node, told, weighted
                return func, told, "write the name of a function or table, or a sign between the two"
        case ast.Attribute(value=owner):
            if isinstance(owner, ast.Attribute) and tree.name(owner) == PLACE:
                owner = owner.value
            named = isinstance(owner, ast.Name) and tree.literal(owner) is None
            if not (named or isinstance(owner, ast.Call)):
                told = "a dot follows a section, an entry, a row, first(..), last(..) or a table"
                return node, told, "write one dot in a name, as in engine.capacity"
            if set(tree.name(node)) == {"_"}:
                return node, "behind a dot stands a name", "write the name, or take the dot away"
        case ast.BinOp(left=left, op=ast.Pow(), right=power):
            if (literal := tree.literal(left)) is not None and literal.unit is not None:
                start, end = tree.span(left)
                before, behind = tree.text[:start].rstrip(), tree.text[end:].lstrip()
                if not (before.endswith("(") and behind.startswith(")")):
                    told = f"'{tree.source(node)}' could be a power of the amount or of its unit"
                    return node, told, f"write ({tree.source(left)}) ** {tree.source(power)}"
            if not (isinstance(power, ast.Constant) and power.value in (2, 3, 4)):
                hint = f"write power({tree.source(left)}, {tree.source(power)})"
                if isinstance(power, ast.Constant) and isinstance(power.value, str):
                    hint = "write a number without quotation marks"
                elif isinstance(power, ast.Constant) and isinstance(power.value, int):
                    from checker.quantities.powers import MOST_EXPONENT  # only needed when something is wrong

                    if power.value > MOST_EXPONENT:
                        hint = f"power(..) goes to {MOST_EXPONENT} at most"
                return node, "an exponent is a whole number from 2 to 4", hint
        case ast.GeneratorExp(generators=generators):
            return _wrong_generator(tree, node, generators, parent, loops)
    return None


def _wrong_generator(
    tree: FormulaTree,
    node: ast.GeneratorExp,
    generators: list[ast.comprehension],
    parent: ast.AST | None,
    loops: int,
) -> tuple[ast.AST, str, str] | None:
    called = parent.func if isinstance(parent, ast.Call) else None
    ranked = isinstance(called, ast.Name) and tree.name(called) in RANKED
    if not isinstance(parent, ast.Call) or parent.args[int(ranked) :] != [node]:
        return node, "`for` stands alone inside sum, mean, min, max, count, any or all", _AS_IN
    if loops > MAX_LOOPS:
        return node, f"more than {MAX_LOOPS} `for` stand inside each other", "give one a name under `derived`"
    if len(generators) > 1:
        return generators[1].target, "one `for` only", "put the second into an aggregate of its own"
    target, through = generators[0].target, generators[0].iter
    names = target.elts if isinstance(target, ast.Tuple) else [target]
    if not all(isinstance(name, ast.Name) and tree.literal(name) is None for name in names):
        return target, "after `for` stands one name, or several for neighbours", _AS_IN
    if len(names) > MAX_NEIGHBOURS:
        return target, f"at most {MAX_NEIGHBOURS} neighbours are looked at together", "take fewer"
    if not isinstance(through, (ast.Name, ast.Attribute, ast.Call)) or tree.literal(through) is not None:
        return through, "`for` goes through a list, `run`, or a fact with several values, by its name", _AS_IN
    return None
