"""Bounds of a limit: reading them, and the distance of a value to each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import DAYS, Kind, Unknown, unite
from checker.quantities.words import fold

if TYPE_CHECKING:
    from checker.kinds.shared.reader import CheckReader

SENSES = ("at_least", "above", "at_most", "below", "exactly", "nominal")
LOWER, UPPER, BOTH = "lower", "upper", "both"

_LOWER = ("at_least", "above")
_UPPER = ("at_most", "below")


@dataclass(frozen=True, slots=True)
class BoundExpression:
    """One bound as written: its key and its formula."""

    sense: str
    """A word of `SENSES`, or "plus" or "minus" beside nominal."""
    expression: Expression


@dataclass(frozen=True, slots=True)
class Side:
    """A value held against one bound."""

    sense: str
    direction: str
    """`LOWER`: the value may not be less; `UPPER`: not more."""
    bound: Any
    """As shown, before tolerance; None for no limit."""
    margin: Fraction | None
    size: Fraction = Fraction(1)
    inclusive: bool = True
    unknown: Unknown | None = None


def read_bounds(reader: CheckReader, kind: Kind) -> tuple[BoundExpression, ...] | None:
    """The bounds beside a limit of `kind`; None when they cannot be used (problems 302, 502, 503 noted)."""
    present = [sense for sense in SENSES if reader.has(sense)]
    if not present:
        reader.problem(
            502,
            "the limit has no bound",
            "limit",
            hint="give at_least, at_most, above, below, exactly, or nominal with plus_minus",
        )
        return None
    if not _go_together(reader, present, kind):
        return None
    bounds: list[BoundExpression] = []
    failed = False
    for sense in present:
        expression = reader.formula(sense, expected=kind)
        if expression is None:
            failed = True
            continue
        bounds.append(BoundExpression(sense, expression))
    spread = _read_spread(reader, kind, "nominal" in present)
    if failed or spread is None:
        return None
    bounds.extend(spread)
    return None if _crossed(reader, bounds) else tuple(bounds)


def _go_together(reader: CheckReader, present: list[str], kind: Kind) -> bool:
    alone = [sense for sense in present if sense in ("exactly", "nominal")]
    lower = [sense for sense in present if sense in _LOWER]
    upper = [sense for sense in present if sense in _UPPER]
    if (alone and len(present) > 1) or len(lower) > 1 or len(upper) > 1:
        reader.key_problem(
            502,
            f"{' and '.join(present)} do not go together",
            present[-1],
            hint="one lower and one upper bound may be given together; exactly and nominal stand alone",
        )
        return False
    if not (kind.is_measure or kind.name in ("date", "grade")) and present != ["exactly"]:
        reader.key_problem(302, f"{kind} has no more or less; it can only be held `exactly`", present[0])
        return False
    if kind.name == "grade" and "nominal" in present:
        reader.key_problem(302, "a grade has no band", "nominal")
        return False
    return True


def _read_spread(reader: CheckReader, kind: Kind, nominal: bool) -> list[BoundExpression] | None:
    """plus_minus, or plus and minus, as a plus and a minus."""
    given = [key for key in ("plus_minus", "plus", "minus") if reader.has(key)]
    if not nominal:
        if given:
            reader.key_problem(502, f"`{given[0]}` goes with `nominal`", given[0])
            return None
        return []
    if given not in (["plus_minus"], ["plus", "minus"], ["plus"], ["minus"]):
        reader.key_problem(502, "`nominal` needs plus_minus, or plus and minus", "nominal")
        return None
    spread: list[BoundExpression] = []
    for key in given:
        expression = reader.formula(key, expected=DAYS if kind.name == "date" else kind)
        if expression is None:
            return None
        if expression.constant and not isinstance(expression.value, Unknown) and expression.value < 0:
            reader.problem(503, f"`{key}` is below zero", key)
            return None
        senses = ("plus", "minus") if key == "plus_minus" else (key,)
        spread.extend(BoundExpression(sense, expression) for sense in senses)
    return spread


def _crossed(reader: CheckReader, bounds: list[BoundExpression]) -> bool:
    """A lower bound above the upper one lets nothing pass."""
    lower = next((b for b in bounds if b.sense in _LOWER), None)
    upper = next((b for b in bounds if b.sense in _UPPER), None)
    if lower is None or upper is None or not (lower.expression.constant and upper.expression.constant):
        return False
    low, high = lower.expression.value, upper.expression.value
    if isinstance(low, (Unknown, str)) or isinstance(high, (Unknown, str)):
        return False
    if low > high or (low == high and {lower.sense, upper.sense} != {"at_least", "at_most"}):
        reader.problem(
            503,
            f"the lower bound {lower.expression.text} is not below the upper bound {upper.expression.text}",
            lower.sense,
            hint="no value can pass; check both numbers",
        )
        return True
    return False


def sides(
    bounds: Sequence[BoundExpression], value: Any, kind: Kind, tolerance: Fraction, scene: Any
) -> list[Side]:
    """The value held against each bound, with the margin to the bound widened by `tolerance`.

    Args:
        bounds: As read.
        value: In base units of `kind`; a day; or a grade's word.
        tolerance: 0 or more, in base units (days for days).
        scene: What the bounds are evaluated in.
    """
    found: list[Side] = []
    values = {b.sense: b.expression.evaluate(scene) for b in bounds}
    if "nominal" in values:
        found = _band(values, value, kind, tolerance)
    for sense in SENSES[:-1]:
        if sense not in values:
            continue
        bound = values[sense]
        direction = LOWER if sense in _LOWER else UPPER
        if isinstance(bound, NoLimit):
            found.append(Side(sense, direction, None, None))
        elif isinstance(bound, Unknown):
            found.append(Side(sense, direction, None, None, unknown=bound))
        elif sense == "exactly":
            found.append(_exact(bound, value, kind, tolerance))
        else:
            distance = measure(value, bound, kind) if direction == LOWER else measure(bound, value, kind)
            size = size_of(bound, kind, tolerance if direction == UPPER else -tolerance)
            inclusive = sense in ("at_least", "at_most")
            found.append(Side(sense, direction, bound, distance + tolerance, size, inclusive))
    return _sized_as_band(found, kind)


def _sized_as_band(found: list[Side], kind: Kind) -> list[Side]:
    """For two bounds the size is that of the band between them."""
    if len(found) != 2 or kind.name in ("date", "grade") or any(s.margin is None for s in found):
        return found
    from dataclasses import replace

    band = sum((s.margin for s in found if s.margin is not None), Fraction(0))
    return [replace(s, size=abs(band)) for s in found]


def _band(values: dict[str, Any], value: Any, kind: Kind, tolerance: Fraction) -> list[Side]:
    absent = [v for v in values.values() if isinstance(v, Unknown)]
    if absent:
        return [Side("nominal", LOWER, None, None, unknown=unite(absent))]
    nominal = values["nominal"]
    zero = Fraction(0)
    plus, minus = values.get("plus", zero), values.get("minus", zero)
    off = measure(value, nominal, kind)
    band = plus + minus + 2 * tolerance
    return [
        Side("nominal", LOWER, nominal, off + minus + tolerance, band),
        Side("nominal", UPPER, nominal, plus + tolerance - off, band),
    ]


def _exact(bound: Any, value: Any, kind: Kind, tolerance: Fraction) -> Side:
    off = measure(value, bound, kind)
    direction = LOWER if off < 0 else UPPER
    return Side("exactly", direction, bound, tolerance - abs(off), 2 * tolerance)


def measure(high: Any, low: Any, kind: Kind) -> Fraction:
    """high minus low: days for days, steps for grades, else in base units."""
    if kind.name == "date":
        return Fraction((high - low).days)
    if kind.name == "grade":
        order = [fold(word) for word in kind.words or ()]
        return Fraction(order.index(fold(high)) - order.index(fold(low)))
    return Fraction(high - low)


def size_of(bound: Any, kind: Kind, widened: Fraction) -> Fraction:
    """The size of a bound, to rank margins: 365 for days, 1 for grades."""
    if kind.name == "date":
        return Fraction(365)
    if kind.name == "grade":
        return Fraction(1)
    return abs(Fraction(bound) + widened)
