"""A second reading of formulas, as plain as can be, to hold the first one to.

It rewrites literals by a pattern, lets Python parse the rest, and walks the tree for one car. It knows no kinds, checks
nothing, and shares no code with the checker: `None` is unknown, quantities are Fractions in kg, mm, days and months.
It reads what `tests.quantities.formula.drawn.formulas` writes, no more.
"""

from __future__ import annotations

import ast
import calendar
import re
from datetime import date, timedelta
from fractions import Fraction
from math import ceil, floor
from typing import Any

_FACTORS = {
    "kg": Fraction(1),
    "g": Fraction(1, 1000),
    "lb": Fraction(45359237, 10**8),
    "oz": Fraction(45359237, 16 * 10**8),
    "mm": Fraction(1),
    "cm": Fraction(10),
    "in": Fraction(254, 10),
    "inch": Fraction(254, 10),
    "%": Fraction(1, 100),
    "day": Fraction(1),
    "days": Fraction(1),
    "month": Fraction(1),
    "years": Fraction(12),
}
_DAY = r"(?P<day>\d{4}-\d\d-\d\d)"
_NUMBER = r"(?:\d+ \d+/\d+|\d+/\d+|\d+\.\d+|\d+)"
_BARE = r"(?:\d+ \d+/\d+|\d+\.\d+|\d+)"  # 1/3 alone is a division
_UNIT = r"(?:inch|in|kg|g|lb|oz|mm|cm|%|days|day|month|years)"
_LITERAL = re.compile(
    rf"(?<![\w.]){_DAY}|(?<![\w.])(?P<parts>(?:{_NUMBER} ?{_UNIT}(?!\w) ?)+)|(?<![\w.])(?P<bare>{_BARE})"
)
_PART = re.compile(rf"({_NUMBER}) ?({_UNIT})(?!\w)")


def _number(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))


class Naive:
    """Evaluates one formula for one car."""

    def __init__(self, text: str, facts: dict[str, Any], items: list[dict[str, Any]]) -> None:
        self.values: list[Any] = []
        self.calendar: set[int] = set()
        self.facts = facts
        self.items = items
        self.tree = ast.parse(_LITERAL.sub(self._literal, text), mode="eval").body

    def _literal(self, found: re.Match[str]) -> str:
        tail = ""
        if found["day"]:
            self.values.append(date.fromisoformat(found["day"]))
        elif found["parts"]:
            parts = _PART.findall(found["parts"])
            self.values.append(sum((_number(n) * _FACTORS[u] for n, u in parts), Fraction(0)))
            if parts[0][1] in ("month", "years"):
                self.calendar.add(len(self.values) - 1)
            tail = " " if found["parts"].endswith(" ") else ""
        else:
            self.values.append(_number(found["bare"]))
        return f"V{len(self.values) - 1}{tail}"

    def run(self) -> Any:
        return self.visit(self.tree, {})

    def visit(self, node: Any, names: dict[str, Any]) -> Any:
        return getattr(self, type(node).__name__)(node, names)

    # --- names and numbers ---

    def Name(self, node: Any, names: dict[str, Any]) -> Any:
        if re.fullmatch(r"V\d+", node.id):
            return self.values[int(node.id[1:])]
        if node.id in names:
            return names[node.id]
        return {"true": True, "false": False, "items": self.items}[node.id]

    def Constant(self, node: Any, names: dict[str, Any]) -> Any:
        del names
        return node.value if isinstance(node.value, str) else Fraction(node.value)

    def Attribute(self, node: Any, names: dict[str, Any]) -> Any:
        if node.value.id in names:
            return names[node.value.id].get(node.attr)
        return self.facts.get(f"{node.value.id}.{node.attr}")

    def List(self, node: Any, names: dict[str, Any]) -> Any:
        found = [self.visit(part, names) for part in node.elts]
        return None if None in found else found

    # --- operations ---

    def UnaryOp(self, node: Any, names: dict[str, Any]) -> Any:
        value = self.visit(node.operand, names)
        if value is None:
            return None
        return (not value) if isinstance(node.op, ast.Not) else -value

    def BinOp(self, node: Any, names: dict[str, Any]) -> Any:
        if isinstance(node.op, ast.Pow):
            base = self.visit(node.left, names)
            return None if base is None else base ** int(self.visit(node.right, names))
        a, b = self.visit(node.left, names), self.visit(node.right, names)
        if a is None or b is None:
            return None
        sign = -1 if isinstance(node.op, ast.Sub) else 1
        if isinstance(a, date) and isinstance(b, date):
            return Fraction((a - b).days)
        if isinstance(a, date):
            return self._moved(a, sign * int(b), node.right)
        if isinstance(node.op, ast.Add):
            return a + b
        if isinstance(node.op, ast.Sub):
            return a - b
        if isinstance(node.op, ast.Mult):
            return a * b
        return None if b == 0 else a / b

    def _moved(self, day: date, by: int, span: Any) -> date:
        if int(span.id[1:]) not in self.calendar:
            return day + timedelta(days=by)
        months = day.year * 12 + day.month - 1 + by
        year, month = months // 12, months % 12 + 1
        return date(year, month, min(day.day, calendar.monthrange(year, month)[1]))

    def BoolOp(self, node: Any, names: dict[str, Any]) -> Any:
        found = [self.visit(part, names) for part in node.values]
        return _either(found) if isinstance(node.op, ast.Or) else _all(found)

    def IfExp(self, node: Any, names: dict[str, Any]) -> Any:
        condition = self.visit(node.test, names)
        yes, no = self.visit(node.body, names), self.visit(node.orelse, names)
        if condition is None:
            return yes if yes is not None and no is not None and _folded(yes) == _folded(no) else None
        return yes if condition else no

    def Compare(self, node: Any, names: dict[str, Any]) -> Any:
        sides = [self.visit(part, names) for part in (node.left, *node.comparators)]
        return _all([_compared(op, sides[i], sides[i + 1]) for i, op in enumerate(node.ops)])

    # --- calls ---

    def Call(self, node: Any, names: dict[str, Any]) -> Any:
        name = node.func.id
        if name == "stated":
            return self.visit(node.args[0], names) is not None
        if len(node.args) == 1 and name in ("sum", "mean", "min", "max", "count", "any", "all"):
            return self._aggregate(name, node.args[0], names)
        values = [self.visit(part, names) for part in node.args]
        if None in values:
            return None
        if name.startswith("round_"):
            return _rounded(name, *values)
        if name == "end_of_month":
            return values[0].replace(day=calendar.monthrange(values[0].year, values[0].month)[1])
        if name == "end_of_year":
            return values[0].replace(month=12, day=31)
        if name in ("abs", "percent"):
            return abs(values[0]) if name == "abs" else values[0]
        return min(values) if name == "min" else max(values)

    def _aggregate(self, name: str, over: Any, names: dict[str, Any]) -> Any:
        if not isinstance(over, ast.GeneratorExp):
            found = self.visit(over, names)
            return None if found is None else _reduced(name, list(found))
        loop = over.generators[0]
        source = self.visit(loop.iter, names)
        if source is None:
            return None
        kept: list[tuple[Any, Any]] = []
        for element in source:
            inside = {**names, ast.unparse(loop.target): element}
            keep = _all([self.visit(test, inside) for test in loop.ifs])
            if keep is not False:
                kept.append((self.visit(over.elt, inside), keep))
        if name == "any":
            return _either([_all([value, keep]) for value, keep in kept])
        if name == "all":
            return _all([_either([value, None if keep is None else not keep]) for value, keep in kept])
        if any(value is None or keep is None for value, keep in kept):
            return None
        return _reduced(name, [value for value, _ in kept])


def _either(found: list[Any]) -> Any:
    return True if True in found else None if None in found else False


def _all(found: list[Any]) -> Any:
    return False if False in found else None if None in found else True


def _folded(value: Any) -> Any:
    return value.lower() if isinstance(value, str) else value


def _compared(op: Any, a: Any, b: Any) -> Any:
    if a is None or b is None:
        return None
    a = _folded(a)
    if isinstance(op, (ast.In, ast.NotIn)):
        inside = a in [_folded(one) for one in b]
        return inside if isinstance(op, ast.In) else not inside
    b = _folded(b)
    return {
        "Lt": lambda: a < b,
        "LtE": lambda: a <= b,
        "Gt": lambda: a > b,
        "GtE": lambda: a >= b,
        "Eq": lambda: a == b,
        "NotEq": lambda: a != b,
    }[type(op).__name__]()


def _rounded(name: str, x: Fraction, step: Fraction) -> Any:
    if step <= 0:
        return None
    whole = floor(x / step)
    rest = x / step - whole
    if name == "round_up":
        return ceil(x / step) * step
    if name == "round_half_up":
        whole += rest >= Fraction(1, 2)
    elif name == "round_half_even" and (rest > Fraction(1, 2) or (rest == Fraction(1, 2) and whole % 2)):
        whole += 1
    return whole * step


def _reduced(name: str, values: list[Any]) -> Any:
    if name == "count":
        return Fraction(len(values))
    if name == "sum":
        return sum(values, Fraction(0))
    if not values:
        return None
    if name == "mean":
        return sum(values, Fraction(0)) / len(values)
    return min(values) if name == "min" else max(values)
