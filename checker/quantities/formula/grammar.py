"""The grammar of formulas: an allow-list over Python's own expression grammar.

Python's parser gives us a well-tried grammar with columns; the allow-list keeps of it what looks like sums
on paper. Nothing is ever executed from the tree: the next step builds plain functions for the allowed nodes.
"""

from __future__ import annotations

import ast
from dataclasses import dataclass
from typing import NoReturn

from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.tokens import Prepared, prepare

MAX_DEPTH = 20
MAX_DEGREE = 16

_ALLOWED = (
    ast.Expression,
    ast.BoolOp,
    ast.And,
    ast.Or,
    ast.UnaryOp,
    ast.Not,
    ast.USub,
    ast.BinOp,
    ast.Add,
    ast.Sub,
    ast.Mult,
    ast.Div,
    ast.Pow,
    ast.Compare,
    ast.Lt,
    ast.LtE,
    ast.Gt,
    ast.GtE,
    ast.Eq,
    ast.NotEq,
    ast.In,
    ast.NotIn,
    ast.IfExp,
    ast.Call,
    ast.Attribute,
    ast.Name,
    ast.Constant,
    ast.List,
    ast.GeneratorExp,
    ast.comprehension,
    ast.Load,
    ast.Store,
)

_WORDS = {
    ast.Is: "'is'",
    ast.IsNot: "'is not'",
    ast.FloorDiv: "'//'",
    ast.Mod: "'%'",
    ast.Subscript: "[ ] behind a name",
    ast.Tuple: "a comma outside a call or list",
    ast.Lambda: "'lambda'",
    ast.NamedExpr: "':='",
    ast.ListComp: "a for inside [ ]",
    ast.Starred: "'*' before a name",
    ast.keyword: "a named argument",
    ast.UAdd: "a plus sign before a value",
    ast.LShift: "'<<'",
    ast.RShift: "'>>'",
    ast.MatMult: "'@'",
}


@dataclass(frozen=True, slots=True)
class Tree:
    """A parsed formula."""

    text: str
    body: ast.expr
    prepared: Prepared

    def span(self, node: ast.AST) -> tuple[int, int]:
        """Start and end of a node in the formula's text, in characters."""
        start = self._characters(getattr(node, "col_offset", 0))
        end = self._characters(getattr(node, "end_col_offset", len(self.text)))
        return start, end

    def source(self, node: ast.AST) -> str:
        start, end = self.span(node)
        return self.text[start:end]

    def _characters(self, offset: int) -> int:
        code = self.prepared.code.strip()
        lead = len(self.prepared.code) - len(self.prepared.code.lstrip())
        return lead + (offset if code.isascii() else len(code.encode()[:offset].decode(errors="ignore")))

    def key(self, node: ast.AST) -> int:
        """The offset under which a node's literal or word is kept."""
        lead = len(self.prepared.code) - len(self.prepared.code.lstrip())
        return lead + int(getattr(node, "col_offset", 0))

    def refuse(self, node: ast.AST, message: str, hint: str = "", number: int = 105) -> NoReturn:
        start, end = self.span(node)
        raise FormulaError(FormulaProblem(number, message, start, end, hint))


def parse(text: str, currency: str | None) -> Tree:
    """Parse a formula and refuse what the language does not have.

    Raises:
        FormulaError: With the first mistake: 103 cannot be read, 105 construct not allowed, and those of `prepare`.
    """
    prepared = prepare(text, currency)
    code = prepared.code.strip()
    lead = len(prepared.code) - len(prepared.code.lstrip())
    try:
        body = ast.parse(code, mode="eval").body
    except SyntaxError as error:
        at = lead + max(0, (error.offset or 1) - 1)
        raise FormulaError(_syntax(text, at, error.msg)) from None
    except (RecursionError, MemoryError, ValueError, OverflowError):
        raise FormulaError(FormulaProblem(103, "the formula is nested too deeply", 0, len(text))) from None
    tree = Tree(text, body, prepared)
    _check(tree, body, 1)
    return tree


def _syntax(text: str, at: int, said: str) -> FormulaProblem:
    read = text[at : at + 20].strip()
    hint = ""
    if "=" in text and "==" not in text and ("assign" in said or "==" in said or "expression" in said):
        hint = "to compare write =="
    elif "parenthes" in said or "closed" in said or "unmatched" in said:
        hint = "check the brackets"
    elif "unexpected EOF" in said or at >= len(text.rstrip()):
        return FormulaProblem(
            103, "the formula ends too early", max(0, len(text.rstrip()) - 1), len(text), hint
        )
    return FormulaProblem(
        103, f"the formula cannot be read at '{read or text[-1:]}'", at, at + max(1, len(read)), hint
    )


def _check(tree: Tree, node: ast.AST, depth: int) -> None:
    """Refuse every node that the language does not have, and depth beyond the limit."""
    if depth > MAX_DEPTH:
        tree.refuse(
            node,
            f"the formula is nested more than {MAX_DEPTH} deep",
            "give a part of it a name under `derived`",
        )
    if not isinstance(node, _ALLOWED):
        tree.refuse(node, f"{_WORDS.get(type(node), type(node).__name__)} is not allowed in a formula")
    match node:
        case ast.Constant(value=value):
            if isinstance(value, bool) or not isinstance(value, (int, str)):
                tree.refuse(node, f"{tree.source(node)} is not allowed in a formula")
        case ast.Call():
            _check_call(tree, node)
        case ast.Attribute():
            _check_attribute(tree, node)
        case ast.BinOp(op=ast.Pow()):
            power = node.right
            if not (
                isinstance(power, ast.Constant) and isinstance(power.value, int) and 2 <= power.value <= 4
            ):
                tree.refuse(power, "an exponent is a whole number from 2 to 4")
            if degree(node) > MAX_DEGREE:
                tree.refuse(node, f"powers are nested to more than degree {MAX_DEGREE}")
        case ast.comprehension():
            if node.is_async or not isinstance(node.target, ast.Name):
                tree.refuse(node.iter, "after `for` stands one name")
            if any(isinstance(part, ast.GeneratorExp) for test in node.ifs for part in ast.walk(test)):
                tree.refuse(node.iter, "a `for` inside a `for` is not allowed")
    for child in ast.iter_child_nodes(node):
        chained = isinstance(node, ast.BinOp) and child is node.left and isinstance(child, ast.BinOp)
        deeper = depth + 1 if isinstance(child, ast.expr) and not chained else depth
        if isinstance(child, ast.GeneratorExp) and not _stands_in_call(node, child):
            tree.refuse(child, "`for` stands alone inside sum, mean, min, max, count, any or all")
        _check(tree, child, deeper)


def _stands_in_call(parent: ast.AST, child: ast.GeneratorExp) -> bool:
    return isinstance(parent, ast.Call) and parent.args == [child]


def _check_call(tree: Tree, node: ast.Call) -> None:
    if not isinstance(node.func, ast.Name) or tree.key(node.func) in tree.prepared.literals:
        tree.refuse(node.func, f"'{tree.source(node.func)}' cannot be called; only functions and tables can")
    if node.keywords:
        tree.refuse(node, "a named argument is not allowed", "arguments go by their place")
    for argument in node.args:
        if isinstance(argument, ast.GeneratorExp) and len(argument.generators) != 1:
            tree.refuse(argument, "one `for` only")


def _check_attribute(tree: Tree, node: ast.Attribute) -> None:
    if "__" in node.attr and set(node.attr) != {"_"}:
        tree.refuse(node, f"'{node.attr}' is not a name")
    if isinstance(node.value, ast.Name) and tree.key(node.value) not in tree.prepared.literals:
        return
    if isinstance(node.value, ast.Call):
        return
    tree.refuse(node, "a dot follows a section, an entry, first(..), last(..) or a table")


def _attribute_offset(tree: Tree, node: ast.Attribute) -> int:
    return int(node.end_col_offset or 0) - len(node.attr.encode())


def degree(node: ast.AST) -> int:
    """The total power that nested exponents amount to."""
    inner = max((degree(child) for child in ast.iter_child_nodes(node)), default=1)
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Pow) and isinstance(node.right, ast.Constant):
        return inner * int(node.right.value) if isinstance(node.right.value, int) else inner
    return inner


def attribute_name(tree: Tree, node: ast.Attribute) -> str:
    """The name behind the dot, also where Python reserves it."""
    lead = len(tree.prepared.code) - len(tree.prepared.code.lstrip())
    return tree.prepared.words.get(lead + _attribute_offset(tree, node), node.attr)


def name_of(tree: Tree, node: ast.Name) -> str:
    """A plain name, also where Python reserves it."""
    return tree.prepared.words.get(tree.key(node), node.id)
