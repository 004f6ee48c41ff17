"""The functions of the language, and tables, which are called like functions of their keys."""

from __future__ import annotations

import ast
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import Any

from checker.quantities.calendar import end_of_month, end_of_year
from checker.quantities.dimension import ANGLE
from checker.quantities.formula import form as forms
from checker.quantities.formula.aggregates import AGGREGATES, aggregate
from checker.quantities.formula.compiler import Compiler, common_kind, described
from checker.quantities.formula.grammar import name_of
from checker.quantities.formula.scope import Table
from checker.quantities.formula.typed import Mark, Run, Typed, merged
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


def call(compiler: Compiler, node: ast.Call) -> Typed:
    """A call of a function or a table."""
    name = name_of(compiler.tree, node.func) if isinstance(node.func, ast.Name) else ""
    if name in compiler.scope.tables:
        return _table(compiler, node, compiler.scope.tables[name])
    if name not in FUNCTIONS:
        names = (*FUNCTIONS, *compiler.scope.tables)
        if name in compiler.scope.names:
            compiler.refuse(node.func, 201, f"'{name}' is a value and takes no brackets")
        compiler.refuse(
            node.func, 201, f"'{name}' is no function or table of this pack", did_you_mean(name, names)
        )
    return FUNCTIONS[name](compiler, node, name)


def _arguments(compiler: Compiler, node: ast.Call, name: str, count: int) -> list[Typed]:
    """Exactly `count` single values."""
    if len(node.args) != count:
        wanted = {1: "one value", 2: "two values", 3: "three values"}[count]
        compiler.refuse(node, 305, f"{name}(..) takes {wanted}; {len(node.args)} given")
    if any(isinstance(argument, ast.GeneratorExp) for argument in node.args):
        compiler.refuse(node, 305, f"{name}(..) does not go through a list")
    arguments = compiler.nodes(node.args)
    for argument, typed in zip(node.args, arguments, strict=True):
        compiler.single(argument, typed)
    return arguments


def _applied(kind: Kind, parts: list[Typed], operation: Callable[..., Any], **changes: Any) -> Typed:
    """A plain function of known values; unknown when any is."""
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


def _extreme(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """min and max of several values; of one list they are aggregates."""
    if len(node.args) == 1:
        return aggregate(compiler, node, name)
    if not node.args:
        compiler.refuse(node, 305, f"{name}(..) needs at least one value")
    parts = compiler.nodes(node.args)
    for argument, typed in zip(node.args, parts, strict=True):
        compiler.single(argument, typed)
    kind = common_kind(compiler, node, parts, f"the values of {name}(..)")
    if not (kind.is_measure or kind.name in ("date", "grade")):
        compiler.refuse(node, 302, f"{name}(..) of {described(kind)}")
    pick: Callable[..., Any] = max if name == "max" else min
    if kind.name == "grade":
        from checker.quantities.words import fold

        order = {fold(word): place for place, word in enumerate(kind.words or ())}
        form = forms.function_of(*(p.form for p in parts))
        return _applied(kind, parts, lambda *values: pick(values, key=lambda w: order[fold(w)]), form=form)
    form = forms.greatest([p.form for p in parts], "peak" if name == "max" else "dip")
    return _applied(kind, parts, lambda *values: pick(values), form=form)


def _absolute(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    (part,) = _arguments(compiler, node, name, 1)
    if not part.kind.is_measure:
        compiler.refuse(node, 302, f"abs(..) of {described(part.kind)}")
    return _applied(part.kind, [part], abs, form=forms.greatest([part.form], "peak"))


def _rounding(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    value, step = _arguments(compiler, node, name, 2)
    if not value.kind.is_measure:
        compiler.refuse(node.args[0], 302, f"{name}(..) of {described(value.kind)}")
    kind = common_kind(compiler, node, (value, step), f"the value and the step of {name}(..)")
    if step.constant and step.value <= 0:
        compiler.refuse(node.args[1], 302, "the step of a rounding must be above 0")
    mode = ROUNDINGS[name]

    def rounded(x: Fraction, by: Fraction) -> Any:
        if by <= 0:
            return Unknown(reasons=("the step of a rounding is not above 0",))
        return round_to(x, by, mode)

    return _applied(kind, [value, step], rounded)


def _percent(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    (part,) = _arguments(compiler, node, name, 1)
    if part.kind.name != "number":
        compiler.refuse(node.args[0], 302, f"percent(..) takes a ratio; this is {described(part.kind)}")
    run = part.run
    return merged(PERCENT, run, (part,), part.form)


def _root(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    from checker.quantities import elementary

    if name == "hypot":
        parts = _arguments(compiler, node, name, 2)
        kind = common_kind(compiler, node, parts, "the values of hypot(..)")
        if kind.name not in ("number", "quantity"):
            compiler.refuse(node, 302, f"hypot(..) of {described(kind)}")
        return _applied(kind, parts, elementary.hypot, irrational=True)
    (part,) = _arguments(compiler, node, name, 1)
    half = part.kind.dimension.halved()
    if part.kind.name not in ("number", "quantity"):
        compiler.refuse(node, 302, f"sqrt(..) of {described(part.kind)}")
    if half is None:
        compiler.refuse(node, 301, f"sqrt(..) of {described(part.kind)} has no dimension of its own")
    return _applied(quantity(half), [part], elementary.sqrt, irrational=True, marks=())


def _trigonometric(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    from checker.quantities import elementary

    (part,) = _arguments(compiler, node, name, 1)
    wanted = NUMBER if name == "atan" else quantity(ANGLE)
    if not part.kind.same_measure(wanted):
        compiler.refuse(
            node.args[0],
            301,
            f"{name}(..) takes {described(wanted)}; this is {described(part.kind)}",
            "angles are in deg",
        )
    result = quantity(ANGLE) if name == "atan" else NUMBER
    return _applied(result, [part], getattr(elementary, name), irrational=True, marks=())


def _month_or_year_end(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    (part,) = _arguments(compiler, node, name, 1)
    if part.kind.name != "date":
        compiler.refuse(node.args[0], 302, f"{name}(..) takes a day; this is {described(part.kind)}")
    if name == "year":
        return _applied(NUMBER, [part], lambda d: Fraction(d.year))
    return _applied(DATE, [part], end_of_month if name == "end_of_month" else end_of_year)


def _day(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    parts = _arguments(compiler, node, name, 3)
    for argument, part in zip(node.args, parts, strict=True):
        if part.kind.name != "number":
            compiler.refuse(
                argument, 302, f"day(..) takes year, month and day as numbers; this is {described(part.kind)}"
            )

    def day(*values: Fraction) -> Any:
        if any(v.denominator != 1 for v in values):
            return Unknown(reasons=("day(..) was given a number that is not whole",))
        try:
            return date(*(int(v) for v in values))
        except (ValueError, OverflowError):
            return Unknown(reasons=(f"there is no day {'-'.join(str(int(v)) for v in values)}",))

    made = _applied(DATE, parts, day)
    if made.constant and isinstance(made.value, Unknown):
        compiler.refuse(node, 106, made.value.reasons[0])
    return made


def _stated(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """`stated(x)`: the only function that may look at what is not shown."""
    if len(node.args) != 1:
        compiler.refuse(node, 305, f"stated(..) takes one value; {len(node.args)} given")
    argument = node.args[0]
    (part,) = compiler.nodes([argument])
    binding = compiler.binding(argument, compiler.source(argument).strip())
    ask: Run | None = None if binding is None else binding.stated
    if ask is None and isinstance(argument, ast.Attribute):
        ask = _stated_field(compiler, argument)
    if ask is None and part.kind.name == "items":
        read = part.run

        def ask(scene: Any) -> Any:
            return not isinstance(read(scene), Unknown)

    if ask is None:
        compiler.refuse(argument, 302, "stated(..) asks for a fact, a field or a list by its name")
    return Typed(TRUTH, ask, locals=part.locals, uses=part.uses)


def _stated_field(compiler: Compiler, argument: ast.Attribute) -> Run | None:
    owner = compiler.node(argument.value)
    if owner.kind.name != "item":
        return None
    field = compiler.scope.entries[owner.kind.items or ""].fields[argument.attr]
    item = owner.run

    def ask(scene: Any) -> Any:
        entry = item(scene)
        return entry if isinstance(entry, Unknown) else field.stated(entry)

    return ask


def _ends(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """first(run) and last(run)."""
    (part,) = compiler.nodes(node.args) if len(node.args) == 1 else (None,)
    if part is None:
        compiler.refuse(node, 305, f"{name}(..) takes one list; {len(node.args)} given")
    place = 0 if name == "first" else -1
    run = part.run

    def pick(scene: Any) -> Any:
        values = run(scene)
        if isinstance(values, Unknown):
            return values
        return values[place] if values else Unknown(reasons=(f"there is no {name} of an empty list",))

    if part.kind.name == "items":
        return merged(Kind("item", items=part.kind.items), pick, (part,))
    if part.kind.name == "list" and part.kind.element is not None:
        return merged(part.kind.element, pick, (part,))
    compiler.refuse(node.args[0], 302, f"{name}(..) takes a list; this is {described(part.kind)}")


def _table(compiler: Compiler, node: ast.Call, table: Table) -> Typed:
    """A table called with its keys: its value, or a row where it has several columns."""
    if len(node.args) != len(table.keys):
        keys = ", ".join(name for name, _ in table.keys)
        compiler.refuse(
            node, 305, f"table {table.name} takes {len(table.keys)} keys ({keys}); {len(node.args)} given"
        )
    parts = compiler.nodes(node.args)
    for argument, part, (name, kind) in zip(node.args, parts, table.keys, strict=True):
        compiler.single(argument, part)
        _check_key(compiler, argument, part, name, kind, table)
    if table.check_words is not None and (wrong := table.check_words(tuple(p.kind for p in parts))):
        place, number, message, hint = wrong
        compiler.refuse(node.args[place], number, message, hint)
    runs = tuple(p.run for p in parts)
    lookup = table.lookup

    def row(scene: Any) -> Any:
        values = tuple(run(scene) for run in runs)
        absent = [v for v in values if isinstance(v, Unknown)]
        return unite(absent) if absent else lookup(values)

    form = forms.function_of(*(p.form for p in parts))
    uses = frozenset({table.name}) | table.uses
    uses = uses.union(*(p.uses for p in parts))
    if tuple(table.columns) != ("value",):
        kind = Kind("row", items=table.name)
        return merged(kind, row, tuple(parts), form, uses=uses, marks=(), constant=False)

    def value(scene: Any) -> Any:
        found = row(scene)
        return found if isinstance(found, Unknown) else found["value"].value

    def unit(scene: Any) -> Any:
        found = row(scene)
        return None if isinstance(found, Unknown) else found["value"].unit

    kind = table.columns["value"].kind
    marks = (Mark(kind, 1, unit),)
    return merged(kind, value, tuple(parts), form, uses=uses, marks=marks, constant=False)


def _check_key(
    compiler: Compiler, argument: ast.expr, part: Typed, name: str, kind: Kind, table: Table
) -> None:
    given = part.kind
    if (
        kind.name == "any"
        or (given.is_measure and given.same_measure(kind))
        or (given.is_word and kind.is_word)
    ):
        return
    if given.name == kind.name and given.name in ("date", "truth"):
        return
    number = 301 if given.name == kind.name == "quantity" else 302
    compiler.refuse(
        argument, number, f"key {name} of table {table.name} is {described(kind)}; this is {described(given)}"
    )


def _aggregate(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    return aggregate(compiler, node, name)


FUNCTIONS: dict[str, Callable[[Compiler, ast.Call, str], Typed]] = {
    "min": _extreme,
    "max": _extreme,
    "abs": _absolute,
    **dict.fromkeys(ROUNDINGS, _rounding),
    **{name: _aggregate for name in AGGREGATES if name not in ("min", "max")},
    "percent": _percent,
    "sqrt": _root,
    "hypot": _root,
    **dict.fromkeys(_TRIGONOMETRY, _trigonometric),
    "end_of_month": _month_or_year_end,
    "end_of_year": _month_or_year_end,
    "year": _month_or_year_end,
    "day": _day,
    "stated": _stated,
    "first": _ends,
    "last": _ends,
}
