"""The functions of the language."""

from __future__ import annotations

import ast
from collections.abc import Callable
from fractions import Fraction

from checker.quantities.elementary import same
from checker.quantities.formula import form as forms
from checker.quantities.formula import patterns
from checker.quantities.formula.aggregates import AGGREGATES, aggregate
from checker.quantities.formula.agreement import (
    ROUND_HINT,
    common_kind,
    described,
    grade_order,
    scaled,
    singles,
)
from checker.quantities.formula.calendar import CALENDAR
from checker.quantities.formula.calls import applied, arguments, wrong_kind
from checker.quantities.formula.compiler import Compiler, Function, Stop
from checker.quantities.formula.edges import above, is_noting, note
from checker.quantities.formula.geometry import GEOMETRY
from checker.quantities.formula.grammar import RANKED
from checker.quantities.formula.lookup import called_table
from checker.quantities.formula.names import binding_at, owner_and_field
from checker.quantities.formula.picking import PICKING
from checker.quantities.formula.typed import Run, Typed
from checker.quantities.kind import PERCENT, TRUTH, Unknown
from checker.quantities.rounding import MODES, round_to
from checker.quantities.units import DIFFERENCES, TEMPERATURE_POINT
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import replace

ROUNDINGS = {f"round_{mode}": mode for mode in MODES}
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
        "full_years": "age years datedif",
    }.items()
    for other in others.split()
}
"""What other notations call a function, and its name here."""


def call(compiler: Compiler, node: ast.Call) -> Typed:
    name = compiler.tree.name(node.func)
    function = FUNCTIONS.get(name)
    table = None if function else compiler.named(node.func, compiler.scope.tables, name)
    if table is not None and name in compiler.scope.names:
        hint = "give one of them another name"
        raise compiler.refused(node.func, 202, f"'{name}' means two things here", hint)
    looping = any(isinstance(argument, ast.GeneratorExp) for argument in node.args)
    if looping and name not in (*AGGREGATES, *RANKED):
        raise compiler.refused(node.args[0], 105, f"{name}(..) does not go through a list")
    if function is not None:
        return _shown_by_example(compiler, node, name, function)
    if table is not None:
        return called_table(compiler, node, table)
    if name in compiler.scope.names:
        raise compiler.refused(node.func, 201, f"'{name}' is a value and takes no brackets")
    known = (*FUNCTIONS, *compiler.scope.tables)
    meant = _MEANT.get(name.casefold(), "")
    nearest = f"Did you mean '{meant}'?" if meant in known else did_you_mean(name, known)
    hint = f"{nearest} Known: {', '.join(sorted(known))}".strip()
    raise compiler.refused(node.func, 201, f"'{name}' is no function or table of this pack", hint)


def _shown_by_example(compiler: Compiler, node: ast.Call, name: str, function: Function) -> Typed:
    """A call, where a mistake that is told without a cure is told with an example of the function."""
    before = len(compiler.problems)
    try:
        return function(compiler, node, name)
    except Stop:
        for at, problem in enumerate(compiler.problems[before:], before):
            if not problem.hint and f"{name}(" in problem.message and name in _EXAMPLES:
                compiler.problems[at] = replace(problem, hint=f"as in {_EXAMPLES[name]}")
        raise


_EXAMPLES = {
    **{name: f"{name}(fuel.capacity, 0.5 L)" for name in ROUNDINGS},
    "abs": "abs(frame.left - frame.right)",
    "min": "min(frame.left, frame.right)",
    "max": "max(frame.left, frame.right)",
    "percent": "percent(front / total)",
    "stated": "stated(cage.approved)",
    "matches": "matches(car.chassis_number, '@@-####')",
    "nth": "nth(2, brakes.pad)",
    "nth_largest": "nth_largest(2, brakes.pad)",
    "nth_smallest": "nth_smallest(2, brakes.pad)",
    "full_years": "full_years(driver.born, event.date)",
    "day": "day(2026, 12, 31)",
    "sqrt": "sqrt(frame.area)",
    "hypot": "hypot(a.x - b.x, a.y - b.y)",
    "power": "power(engine.capacity / (1 cc), 0.7)",
    "lg": "lg(engine.capacity / (1 cc))",
    "cbrt": "cbrt(engine.capacity / (1 cc))",
    "running_total": "running_total(results, change, round, 0 kg, 50 kg)",
}


# --- extremes and rounding -------------------------------------------------------------------------------------


def _extreme(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """min and max of several values; of one list they are aggregates."""
    if len(node.args) == 1:
        if isinstance(node.args[0], ast.List):
            hint = f"write {name}({', '.join(compiler.source(value) for value in node.args[0].elts)})"
            raise compiler.refused(node, 105, f"{name}(..) takes its values without [ ]", hint)
        return aggregate(compiler, node, name)
    if not node.args:
        raise compiler.refused(node, 305, f"{name}(..) takes two values or more, or one list; none given")
    parts = singles(compiler, node.args)
    kind = common_kind(compiler, node, node.args, parts, f"the values of {name}(..)")
    if not (kind.is_measure or kind.name in ("date", "grade")):
        raise compiler.refused(node, 302, f"there is no {name} of {described(kind)}")
    pick: Callable[..., object] = max if name == "max" else min
    order = grade_order(kind) if kind.name == "grade" else None
    form = forms.greatest([p.form for p in parts], "peak" if name == "max" else "dip")
    return applied(kind, parts, lambda *values: pick(values, key=order), form=form)


def _absolute(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    (part,) = arguments(compiler, node, name, 1)
    if part.kind in DIFFERENCES:
        raise scaled(compiler, node, "amount of", part.kind)
    if not part.kind.is_measure:
        raise wrong_kind(compiler, node, 0, name, "a number or quantity", part.kind)
    return applied(part.kind, [part], abs, form=forms.absolute(part.form))


def _rounding(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    value, step = arguments(compiler, node, name, 2)
    if value.kind in DIFFERENCES:
        hint = ROUND_HINT if value.kind == TEMPERATURE_POINT else "round time_of_day(m), or a difference"
        raise compiler.refused(node, 301, f"{name}(..) of a {value.kind} depends on its scale", hint)
    if not value.kind.is_measure:
        raise wrong_kind(compiler, node, 0, name, "a number or quantity", value.kind)
    kind = common_kind(compiler, node, node.args, (value, step), f"the value and the step of {name}(..)")
    if step.constant and step.value <= 0:
        raise compiler.refused(node.args[1], 302, "the step of a rounding must be above 0")
    mode, exact = ROUNDINGS[name], not (value.irrational or step.irrational)

    def rounded(x: Fraction, by: Fraction) -> object:
        return round_to(x if exact else _settled(x, by), by, mode)

    made = applied(kind, [value, step], rounded)
    return _with_edges(made, value, step, mode, compiler.source(node.args[0]))


def _with_edges(rounded: Typed, value: Typed, step: Typed, mode: str, text: str) -> Typed:
    """The rounded value, which notes the steps below and above to whoever asks for edges.

    Args:
        mode: As for `round_to`: up and down jump at multiples of the step, the others half a step beside them.
        text: What is rounded, as written.
    """
    if not value.uses:
        return rounded
    run = rounded.evaluate

    def noted(scene: object) -> object:
        if is_noting(scene):
            x, by = value.evaluate(scene), step.evaluate(scene)
            if isinstance(x, Fraction) and isinstance(by, Fraction) and by > 0:
                shift = Fraction(0) if mode in ("up", "down") else by / 2
                below = round_to(x - shift, by, "down") + shift
                for edge in (below, below + by):
                    words = f"{text} against a step of its rounding"
                    note(scene, above(value, edge), [value], words, (run, edge))
        return run(scene)

    return replace(rounded, evaluate=noted)


def _settled(x: Fraction, step: Fraction) -> Fraction:
    """A value that rounding would treat as a tie or as a multiple of the step, had it all its digits."""
    settled = round_to(x, step / 2, "half_even")
    return settled if same(settled, x) else x


# --- percent, and what is stated -------------------------------------------------------------------------------


def _percent(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    (part,) = arguments(compiler, node, name, 1)
    if part.kind.name == "percent":
        source = compiler.source(node.args[0])
        raise compiler.refused(node, 302, f"'{source}' is a percentage already", f"write {source}")
    if part.kind.name != "number":
        raise wrong_kind(compiler, node, 0, name, "a ratio", part.kind)
    return applied(PERCENT, [part], lambda ratio: ratio, form=part.form)


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
        read = part.evaluate
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
    item = owner.evaluate

    def ask(scene: object) -> object:
        entry = item(scene)
        return entry if isinstance(entry, Unknown) else field.stated(entry)

    return ask


FUNCTIONS: dict[str, Function] = {
    **dict.fromkeys(AGGREGATES, aggregate),
    "min": _extreme,
    "max": _extreme,
    "abs": _absolute,
    **dict.fromkeys(ROUNDINGS, _rounding),
    "percent": _percent,
    **GEOMETRY,
    **CALENDAR,
    **PICKING,
    "matches": patterns.called,
    "stated": _stated,
}
