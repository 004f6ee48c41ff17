"""Bounds of a limit: the distance of a value to each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil, floor
from typing import Any

from checker.quantities.folding import fold
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import Kind, Unknown
from checker.quantities.rounding import edges_of
from checker.quantities.sense import WRITTEN, Sense
from checker.reading.quick_dataclasses import KW_ONLY, dataclass

LOWER, UPPER = "lower", "upper"
_ONE_SIDED = (*(sense for sense in WRITTEN if sense is not Sense.NOMINAL), Sense.OTHER_THAN)

_OF_ONE_SIZE = ("date", "days")
"""Margins in days are all ranked by a year."""


@dataclass(frozen=True, slots=True)
class BoundExpression:
    """One bound as written: its key and its formula."""

    sense: Sense
    expression: Expression


def phrase(sense: Sense, text: str) -> str:
    """A bound in words: "at most 53.0 %"."""
    return f"{sense.words} {text}"


@dataclass(frozen=True, slots=True)
class Side:
    """A value held against one bound."""

    sense: Sense
    direction: str
    """`LOWER`: the value may not be less; `UPPER`: not more."""
    bound: Any
    """As shown, before tolerance; None for no limit."""
    margin: Fraction | None
    _: KW_ONLY
    size: Fraction = Fraction(1)
    inclusive: bool = True
    tells: bool = True
    """A margin of 0 tells how near the value is; not so where only one value passes."""
    unknown: Unknown | None = None


def sides(
    bounds: Sequence[BoundExpression], value: object, kind: Kind, tolerance: Fraction, scene: object
) -> list[Side]:
    """The value held against each bound, with the margin to the bound widened by `tolerance`.

    Args:
        value: In base units of `kind`; a day; or a grade's word.
        tolerance: 0 or more, in base units (days for days).
    """
    values = {b.sense: b.expression.evaluate(scene) for b in bounds}
    if Sense.NOMINAL in values:
        return _band(values, value, kind, tolerance)
    found: list[Side] = []
    for sense in _ONE_SIDED:
        if sense not in values:
            continue
        bound = values[sense]
        direction = LOWER if sense.is_lower else UPPER
        if isinstance(bound, Unknown):
            found.append(_without_bound(sense, direction, bound))
        elif sense is Sense.EXACTLY:
            found.append(_exact(bound, value, kind, tolerance))
        elif sense is Sense.OTHER_THAN:
            found.append(_apart(bound, value, kind, tolerance))
        else:
            distance = measure(value, bound, kind) if direction == LOWER else measure(bound, value, kind)
            size = size_of(bound, kind, tolerance if direction == UPPER else -tolerance)
            inclusive = sense.is_inclusive
            margin = distance + tolerance if tolerance else distance
            found.append(Side(sense, direction, bound, margin, size=size, inclusive=inclusive))
    return found


def _without_bound(sense: Sense, direction: str, found: Unknown) -> Side:
    """Of a bound that is not known, or that a table gives as `no limit`."""
    return Side(sense, direction, None, None, unknown=None if isinstance(found, NoLimit) else found)


def _band(values: dict[Sense, Any], value: Any, kind: Kind, tolerance: Fraction) -> list[Side]:
    nominal = values[Sense.NOMINAL]
    if isinstance(nominal, Unknown):
        return [_without_bound(Sense.NOMINAL, LOWER, nominal)]
    off = measure(value, nominal, kind)
    found: list[Side] = []
    for key, direction, distance in ((Sense.MINUS, LOWER, off), (Sense.PLUS, UPPER, -off)):
        spread = values.get(key, Fraction(0))
        if isinstance(spread, Unknown):
            found.append(_without_bound(Sense.NOMINAL, direction, spread))
        else:
            widened = spread + tolerance
            size = size_of(nominal, kind, widened if direction == UPPER else -widened)
            found.append(Side(Sense.NOMINAL, direction, nominal, distance + widened, size=size))
    return found


def _exact(bound: object, value: object, kind: Kind, tolerance: Fraction) -> Side:
    off = measure(value, bound, kind)
    direction = LOWER if off < 0 else UPPER
    size = size_of(bound, kind, tolerance if direction == UPPER else -tolerance)
    return Side(Sense.EXACTLY, direction, bound, tolerance - abs(off), size=size, tells=tolerance > 0)


def distances_before_rounding(
    side: Side, value: Fraction, rounded: Fraction, step: Fraction, mode: str
) -> Iterator[Fraction]:
    """How far a value is, before it is rounded, from where its rounding begins or ceases to keep a bound."""
    if side.margin is None:
        return
    if side.sense is Sense.EXACTLY:
        off = abs(rounded - side.bound)
        lower, upper = side.bound - side.margin - off, side.bound + side.margin + off
    else:
        lower, upper = rounded - side.margin, rounded + side.margin
    if side.sense is Sense.EXACTLY or side.direction == LOWER:
        steps = lower / step
        least = ceil(steps) if side.inclusive else floor(steps) + 1
        yield value - edges_of(least * step, step, mode)[0]
    if side.sense is Sense.EXACTLY or side.direction == UPPER:
        steps = upper / step
        most = floor(steps) if side.inclusive else ceil(steps) - 1
        yield edges_of(most * step, step, mode)[1] - value


def _apart(bound: object, value: object, kind: Kind, tolerance: Fraction) -> Side:
    off = measure(value, bound, kind)
    direction, size = LOWER if off >= 0 else UPPER, size_of(bound, kind, Fraction(0))
    return Side(Sense.OTHER_THAN, direction, bound, abs(off) - tolerance, size=size, inclusive=False)


def no_limit(bounds: Sequence[BoundExpression], scene: object) -> bool:
    """Whether a table says `no limit` for every bound: then anything passes, also what nobody declared."""
    values = {b.sense: b.expression.evaluate(scene) for b in bounds}
    if isinstance(values.get(Sense.NOMINAL), NoLimit):
        return True
    spreads = [value for sense, value in values.items() if sense.is_spread]
    if spreads:
        return len(spreads) == 2 and all(isinstance(value, NoLimit) for value in spreads)
    return all(isinstance(value, NoLimit) for value in values.values())


def measure(high: Any, low: Any, kind: Kind) -> Fraction:
    """high minus low: days for days, steps for grades, else in base units."""
    if kind.name == "date":
        return Fraction((high - low).days)
    if kind.name == "grade":
        order = [fold(word) for word in kind.words or ()]
        return Fraction(order.index(fold(high)) - order.index(fold(low)))
    apart = high - low
    return apart if isinstance(apart, Fraction) else Fraction(apart)


def size_of(bound: Any, kind: Kind, widened: Fraction) -> Fraction:
    """The size of a bound after it is widened, to rank margins: 365 for days, 1 for grades."""
    if kind.name in _OF_ONE_SIZE:
        return Fraction(365)
    if kind.name == "grade":
        return Fraction(1)
    size: Fraction = Fraction(bound) + widened if widened else bound
    return abs(size)
