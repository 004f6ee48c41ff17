"""The functions of the language."""

from __future__ import annotations

import ast
from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from checker.quantities.days import end_of_month, end_of_year, parse_day
from checker.quantities.dimension import ANGLE
from checker.quantities.formula import form as forms
from checker.quantities.formula.aggregates import AGGREGATES, aggregate
from checker.quantities.formula.agreement import common_kind, described, grade_order, singles
from checker.quantities.formula.compiler import Compiler, Function, Stop
from checker.quantities.formula.lookup import called_table
from checker.quantities.formula.names import binding_at, owner_and_field
from checker.quantities.formula.steps import with_edges
from checker.quantities.formula.typed import Run, Typed, merged
from checker.quantities.kind import DATE, NUMBER, PERCENT, TRUTH, Kind, Unknown, quantity, unite
from checker.quantities.rounding import round_to
from checker.reading.nearest import did_you_mean

ROUNDINGS = {
    "round_half_up": "half_up",
    "round_half_even": "half_even",
    "round_up": "up",
    "round_down": "down",
}
_TRIGONOMETRY = ("sin", "cos", "tan", "atan")
_MEANT = {
    other: name
    for name, others in {
        "lg": "log10 log",
        "power": "pow exp",
        "sqrt": "root squareroot",
        "count": "len length number size",
        "mean": "avg average",
        "round_up": "ceil ceiling roundup",
        "round_down": "floor int trunc rounddown",
        "round_half_up": "round",
        "atan": "arctan atan2",
        "sum": "total add",
        "hypot": "pythagoras distance",
        "day": "date",
        "percent": "percentage share ratio",
        "stated": "known given isset defined",
        "end_of_month": "eomonth month_end",
    }.items()
    for other in others.split()
}
"""What other notations call a function, and its name here."""


def call(compiler: Compiler, node: ast.Call) -> Typed:
    """A call of a function or a table."""
    name = compiler.tree.name(node.func)
    function = FUNCTIONS.get(name)
    table = None if function else compiler.table(node.func, name)
    if (function or table) and name in compiler.scope.names:
        raise compiler.refused(
            node.func, 202, f"'{name}' means two things here", "give one of them another name"
        )
    if any(isinstance(argument, ast.GeneratorExp) for argument in node.args) and name not in AGGREGATES:
        raise compiler.refused(node.args[0], 105, f"{name}(..) does not go through a list")
    if function is not None:
        return function(compiler, node, name)
    if table is not None:
        return called_table(compiler, node, table)
    if name in compiler.scope.names:
        raise compiler.refused(node.func, 201, f"'{name}' is a value and takes no brackets")
    known = (*FUNCTIONS, *compiler.scope.tables)
    meant = _MEANT.get(name.casefold(), "")
    nearest = f"Did you mean '{meant}'?" if meant in known else did_you_mean(name, known)
    hint = f"{nearest} Known: {', '.join(sorted(known))}".strip()
    raise compiler.refused(node.func, 201, f"'{name}' is no function or table of this pack", hint)


def _arguments(compiler: Compiler, node: ast.Call, name: str, count: int) -> list[Typed]:
    """Exactly `count` single values."""
    if len(node.args) != count:
        wanted = {1: "one value", 2: "two values", 3: "three values"}[count]
        raise compiler.refused(node, 305, f"{name}(..) takes {wanted}; {len(node.args)} given")
    return singles(compiler, node.args)


def _applied(kind: Kind, parts: Sequence[Typed], operation: Callable[..., Any], **changes: Any) -> Typed:
    """A plain function of known values; unknown when any is, and where the function has no value."""
    runs = tuple(p.run for p in parts)

    def run(scene: Any) -> Any:
        values = [r(scene) for r in runs]
        absent = [v for v in values if isinstance(v, Unknown)]
        if absent:
            return unite(absent)
        try:
            return operation(*values)
        except ValueError as error:
            return Unknown(reasons=(str(error),))

    form = changes.pop("form", None) or forms.function_of(*(p.form for p in parts))
    return merged(kind, run, tuple(parts), form, **changes)


def _wrong_kind(
    compiler: Compiler, node: ast.Call, place: int, name: str, wanted: str, given: Kind, number: int = 302
) -> Stop:
    return compiler.refused(
        node.args[place], number, f"{name}(..) takes {wanted}; this is {described(given)}"
    )


# --- extremes and rounding -------------------------------------------------------------------------------------


def _extreme(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """min and max of several values; of one list they are aggregates."""
    if len(node.args) == 1:
        return aggregate(compiler, node, name)
    if not node.args:
        raise compiler.refused(node, 305, f"{name}(..) takes two values or more, or one list; none given")
    parts = singles(compiler, node.args)
    kind = common_kind(compiler, node, node.args, parts, f"the values of {name}(..)")
    if not (kind.is_measure or kind.name in ("date", "grade")):
        raise compiler.refused(node, 302, f"there is no {name} of {described(kind)}")
    pick: Callable[..., Any] = max if name == "max" else min
    order = grade_order(kind) if kind.name == "grade" else None
    form = forms.greatest([p.form for p in parts], "peak" if name == "max" else "dip")
    return _applied(kind, parts, lambda *values: pick(values, key=order), form=form)


def _absolute(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    (part,) = _arguments(compiler, node, name, 1)
    if not part.kind.is_measure:
        raise _wrong_kind(compiler, node, 0, name, "a number or quantity", part.kind)
    return _applied(part.kind, [part], abs, form=forms.absolute(part.form))


def _rounding(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    value, step = _arguments(compiler, node, name, 2)
    if not value.kind.is_measure:
        raise _wrong_kind(compiler, node, 0, name, "a number or quantity", value.kind)
    kind = common_kind(compiler, node, node.args, (value, step), f"the value and the step of {name}(..)")
    if step.constant and step.value <= 0:
        raise compiler.refused(node.args[1], 302, "the step of a rounding must be above 0")
    mode, exact = ROUNDINGS[name], not (value.irrational or step.irrational)

    def rounded(x: Fraction, by: Fraction) -> Any:
        return round_to(x if exact else _settled(x, by), by, mode)

    applied = _applied(kind, [value, step], rounded)
    return with_edges(applied, value, step, mode, compiler.source(node.args[0]))


def _settled(x: Fraction, step: Fraction) -> Fraction:
    """A value that rounding would treat as a tie or as a multiple of the step, had it all its digits."""
    from checker.quantities.elementary import same

    settled = round_to(x, step / 2, "half_even")
    return settled if same(settled, x) else x


# --- percent and geometry --------------------------------------------------------------------------------------


def _percent(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    (part,) = _arguments(compiler, node, name, 1)
    if part.kind.name != "number":
        raise _wrong_kind(compiler, node, 0, name, "a ratio", part.kind)
    return _applied(PERCENT, [part], lambda ratio: ratio, form=part.form)


def _root(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    from checker.quantities import elementary

    (part,) = _arguments(compiler, node, name, 1)
    if part.kind.name not in ("number", "quantity"):
        raise _wrong_kind(compiler, node, 0, name, "a number or quantity", part.kind)
    half = part.kind.dimension.halved()
    if half is None:
        raise _wrong_kind(compiler, node, 0, name, "what has even dimensions, as an area", part.kind, 301)
    return _applied(quantity(half), [part], elementary.sqrt, irrational=True)


def _hypotenuse(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    from checker.quantities import elementary

    parts = _arguments(compiler, node, name, 2)
    kind = common_kind(compiler, node, node.args, parts, f"the values of {name}(..)")
    if kind.name not in ("number", "quantity"):
        raise _wrong_kind(compiler, node, 0, name, "numbers or quantities", kind)
    return _applied(kind, parts, elementary.hypot, irrational=True)


def _trigonometric(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    from checker.quantities import elementary

    (part,) = _arguments(compiler, node, name, 1)
    angle = quantity(ANGLE)
    wanted, result = (NUMBER, angle) if name == "atan" else (angle, NUMBER)
    if not part.kind.same_measure(wanted):
        number = 301 if part.kind.name in ("number", "quantity") else 302
        raise _wrong_kind(compiler, node, 0, name, described(wanted), part.kind, number)
    return _applied(result, [part], getattr(elementary, name), irrational=True)


# --- days ------------------------------------------------------------------------------------------------------


def _of_day(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """end_of_month, end_of_year, year"""
    (part,) = _arguments(compiler, node, name, 1)
    if part.kind.name != "date":
        raise _wrong_kind(compiler, node, 0, name, "a day", part.kind)
    if name == "year":
        return _applied(NUMBER, [part], lambda day: Fraction(day.year))
    return _applied(DATE, [part], end_of_month if name == "end_of_month" else end_of_year)


def _day(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    parts = _arguments(compiler, node, name, 3)
    for place, part in enumerate(parts):
        if part.kind.name != "number":
            raise _wrong_kind(compiler, node, place, name, "year, month and day as numbers", part.kind)

    def day(year: Fraction, month: Fraction, of_month: Fraction) -> Any:
        if any(v.denominator != 1 or v < 0 for v in (year, month, of_month)):
            raise ValueError("a day has a whole number for its year, month and day")
        return parse_day(f"{int(year):04}-{int(month):02}-{int(of_month):02}")

    return _applied(DATE, parts, day)


# --- what is stated, and runs ----------------------------------------------------------------------------------


def _stated(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """`stated(x)`: the only function that may look at what is not shown."""
    if len(node.args) != 1:
        raise compiler.refused(node, 305, f"{name}(..) takes one name; {len(node.args)} given")
    argument = node.args[0]
    part = compiler.node(argument)
    ask = _asks_whether_stated(compiler, argument, part)
    if ask is None:
        raise compiler.refused(argument, 302, f"{name}(..) asks for a fact, a field or a list by its name")
    return Typed(TRUTH, ask, locals=part.locals, uses=part.uses)


def _asks_whether_stated(compiler: Compiler, argument: ast.expr, part: Typed) -> Run | None:
    if part.kind.name == "items":
        read = part.run
        return lambda scene: not isinstance(read(scene), Unknown)
    binding = binding_at(compiler, argument)
    if binding is not None:
        return binding.stated
    if not isinstance(argument, ast.Attribute):
        return None
    behind, name = owner_and_field(compiler, argument)
    owner = replace(compiler, leaves=[]).node(behind)
    if owner.kind.name != "item":
        return None
    field = compiler.scope.entries[owner.kind.items or ""].fields[name]
    item = owner.run

    def ask(scene: Any) -> Any:
        entry = item(scene)
        return entry if isinstance(entry, Unknown) else field.stated(entry)

    return ask


def _end(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """first(run) and last(run)"""
    if len(node.args) != 1:
        raise compiler.refused(node, 305, f"{name}(..) takes one list; {len(node.args)} given")
    part = compiler.node(node.args[0])
    if part.kind.name == "items":
        kind = Kind("item", items=part.kind.items)
    elif part.kind.name == "list" and part.kind.element is not None:
        kind = part.kind.element
    else:
        raise _wrong_kind(compiler, node, 0, name, "a list", part.kind)
    place, run = (0 if name == "first" else -1), part.run

    def pick(scene: Any) -> Any:
        values = run(scene)
        if isinstance(values, Unknown):
            return unite([values])
        return values[place] if values else Unknown(reasons=(f"there is no {name} of an empty list",))

    return merged(kind, pick, (part,), part.form)


FUNCTIONS: dict[str, Function] = {
    **dict.fromkeys(AGGREGATES, aggregate),
    "min": _extreme,
    "max": _extreme,
    "abs": _absolute,
    **dict.fromkeys(ROUNDINGS, _rounding),
    "percent": _percent,
    "sqrt": _root,
    "hypot": _hypotenuse,
    **dict.fromkeys(_TRIGONOMETRY, _trigonometric),
    "end_of_month": _of_day,
    "end_of_year": _of_day,
    "year": _of_day,
    "day": _day,
    "stated": _stated,
    "first": _end,
    "last": _end,
}
