"""What to do: a breach of a limit as an act, in the unit of the rule.

Kilograms to add, remove or move, millimetres, money, pieces. Amounts are rounded away from the limit, so
that doing what is said is enough. Where ballast goes is the ballast planner's business.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from checker.car.scene import Scene
from checker.quantities.dimension import MASS, MONEY
from checker.quantities.display import show_act
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Kind, Unknown
from checker.quantities.units import Unit, parse_unit

_OPPOSITE = {
    "inside": "outside",
    "outside": "inside",
    "left": "right",
    "right": "left",
    "front": "rear",
    "rear": "front",
}
_WEIGHT = re.compile(r"(weight|percentage)\.([a-z_]+)\Z")


def act_on(
    limit: Expression, short: Fraction, raise_it: bool, scene: Scene, unit: Unit | None, each: bool
) -> str:
    """The act that brings a value back inside its bound.

    Args:
        limit: What is held to the bound.
        short: By how much it is over or under, above 0, in base units of its kind.
        raise_it: The value must go up.
        scene: Where it was judged, to turn a percentage into kilograms.
        unit: The unit of the margin.
        each: The item stands more than once.
    """
    named = _WEIGHT.match(limit.text)
    kg = parse_unit("kg", None)
    if named is not None and named[1] == "percentage" and named[2] in _OPPOSITE:
        total = scene.weight("total")
        if not isinstance(total, Unknown):
            return _move(short * total, named[2], raise_it, kg)
    amount = show_act(short, unit) if unit is not None else _plain(short)
    suffix = " each" if each else ""
    if named is not None and named[1] == "weight":
        where = "" if named[2] == "total" else f" at the {named[2].replace('_', ' ')}"
        return f"{'add' if raise_it else 'remove'} {amount}{where}"
    kind = limit.kind
    if kind.name == "quantity" and kind.dimension == MONEY:
        return f"spend {amount} {'more' if raise_it else 'less'}{suffix}"
    if kind.name == "number" and _counts(limit):
        return f"{'fit' if raise_it else 'take off'} {amount} more" if raise_it else f"take off {amount}"
    if kind.name == "quantity" and kind.dimension == MASS:
        return f"{'add' if raise_it else 'take off'} {amount}{suffix}"
    return f"{'raise' if raise_it else 'lower'} {called(limit)} by {amount}{suffix}"


def _move(mass_kg: Fraction, end: str, raise_it: bool, kg: Unit) -> str:
    away, towards = (_OPPOSITE[end], end) if raise_it else (end, _OPPOSITE[end])
    return f"move {show_act(mass_kg, kg)} from {away} to {towards}"


def _plain(amount: Fraction) -> str:
    whole = -(-amount.numerator // amount.denominator)
    return str(whole)


def _counts(limit: Expression) -> bool:
    return limit.text.startswith("count(")


def called(limit: Expression) -> str:
    """A short name for what is limited: its last part, or the formula as written."""
    if re.fullmatch(r"[A-Za-z_.0-9]+", limit.text):
        return limit.text.rpartition(".")[2].replace("_", " ")
    return limit.text


def act_words(kind: Kind, wanted: Any) -> str:
    """The act for a word, truth or list that must be another."""
    if kind.name == "truth":
        return "make it so" if wanted else "undo it"
    return f"make it {wanted}"


def further(kind: Kind, raise_it: bool) -> str:
    """Which way a grade or a day has to go."""
    if kind.name == "grade":
        return "better" if raise_it else "lower"
    return "later" if raise_it else "earlier"
