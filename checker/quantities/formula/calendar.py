"""Days in formulas: ends of months and years, parts of a day, whole years between two."""

from __future__ import annotations

import ast
from collections.abc import Callable
from datetime import date
from fractions import Fraction

from checker.quantities.days import end_of_month, end_of_year, full_years, parse_day
from checker.quantities.dimension import TIME
from checker.quantities.formula.calls import applied, arguments, wrong_kind
from checker.quantities.formula.compiler import Compiler, Function
from checker.quantities.formula.typed import Typed
from checker.quantities.kind import DATE, NUMBER, quantity
from checker.quantities.moments import day_of, time_of_day
from checker.quantities.units import MOMENT
from checker.reading.quick_dataclasses import replace

_DAYS: dict[str, Callable[[date], date]] = {"end_of_month": end_of_month, "end_of_year": end_of_year}
_NUMBERS: dict[str, Callable[[date], int]] = {
    "year": lambda day: day.year,
    "month": lambda day: day.month,
    "day_of_month": lambda day: day.day,
}


def _of_day(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """What belongs to one day: another day, or a number."""
    (part,) = arguments(compiler, node, name, 1)
    if part.kind.name != "date":
        raise wrong_kind(compiler, node, 0, name, "a day", part.kind)
    if name in _DAYS:
        return applied(DATE, [part], _DAYS[name])
    number = _NUMBERS[name]
    return applied(NUMBER, [part], lambda day: Fraction(number(day)))


def _day(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    if len(node.args) == 1:
        return _of_moment(compiler, node, name)
    parts = arguments(compiler, node, name, 3)
    for place, part in enumerate(parts):
        if part.kind.name != "number":
            raise wrong_kind(compiler, node, place, name, "year, month and day as numbers", part.kind)

    def day(year: Fraction, month: Fraction, of_month: Fraction) -> object:
        if any(v.denominator != 1 or v < 0 for v in (year, month, of_month)):
            raise ValueError("a day has a whole number for its year, month and day")
        return parse_day(f"{int(year):04}-{int(month):02}-{int(of_month):02}")

    return applied(DATE, parts, day)


def _of_moment(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """`day(m)`, and `time_of_day(m)` since midnight."""
    (part,) = arguments(compiler, node, name, 1)
    if part.kind != MOMENT:
        raise wrong_kind(compiler, node, 0, name, "a moment", part.kind)
    if name == "day":
        return applied(DATE, [part], day_of)
    return replace(applied(quantity(TIME), [part], time_of_day), marks=())


def _full_years(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    parts = arguments(compiler, node, name, 2)
    for place, part in enumerate(parts):
        if part.kind.name != "date":
            raise wrong_kind(compiler, node, place, name, "two days, the earlier first", part.kind)
    return applied(NUMBER, parts, lambda born, day: Fraction(full_years(born, day)))


CALENDAR: dict[str, Function] = {
    **dict.fromkeys((*_DAYS, *_NUMBERS), _of_day),
    "day": _day,
    "time_of_day": _of_moment,
    "full_years": _full_years,
}
