"""Values, bounds and margins in words, the same in every report."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

from checker.kinds.judging.assessment import Amount, Bound
from checker.quantities.display import decimal_text, show, show_margin
from checker.quantities.kind import Kind
from checker.quantities.units import Unit

_PHRASES = {
    "at_least": "at least",
    "at_most": "at most",
    "above": "above",
    "below": "below",
    "exactly": "exactly",
    "nominal": "nominal",
}
_LIMIT_NAMES = {
    "at_least": "minimum",
    "at_most": "maximum",
    "above": "limit",
    "below": "limit",
    "exactly": "value",
}


def phrase(sense: str, text: str) -> str:
    """A bound in words: "at most 53.0 %"."""
    return f"{_PHRASES.get(sense, sense)} {text}"


def show_value(value: Any, kind: Kind, unit: Unit | None) -> str:
    """A value of any kind as text."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        element = kind.element or kind
        return ", ".join(show_value(v, element, unit) for v in value) or "none"
    if isinstance(value, Fraction):
        return decimal_text(value, 4) if unit is None else show(value, unit)
    return str(value)


def show_amount(amount: Amount | None) -> str:
    """An amount as text; "no limit" for none."""
    return "no limit" if amount is None else show_value(amount.value, amount.kind, amount.unit)


def show_margin_amount(margin: Amount) -> str:
    """A margin as text, signed and rounded against the car."""
    value = Fraction(margin.value)
    if margin.unit is None:
        text = decimal_text(value, 4)
        return f"+{text}" if value > 0 else text
    return show_margin(value, margin.unit)


def distance(margin: Amount, bound: Bound, direction: str) -> str:
    """How a value lies to its bound: "is 3.43 kg below the minimum of 585 kg"."""
    value = Fraction(margin.value)
    limit = f"{_LIMIT_NAMES.get(bound.sense, 'nominal')} of {show_amount(bound.amount)}"
    if bound.sense == "nominal":
        limit = f"band round {show_amount(bound.amount)}"
        side = "inside" if value >= 0 else "outside"
        return f"is {_size(margin)} {side} the {limit}" if value else f"stands on the edge of the {limit}"
    if bound.sense == "exactly" and value == 0:
        return f"is the {limit}"
    if value == 0:
        return f"stands on the {limit}"
    over = (value > 0) == (direction == "lower")
    word = (
        ("after" if over else "before") if isinstance(_raw(bound), date) else ("above" if over else "below")
    )
    return f"is {_size(margin)} {word} the {limit}"


def _raw(bound: Bound) -> Any:
    return None if bound.amount is None else bound.amount.value


def _size(margin: Amount) -> str:
    text = show_margin_amount(margin).lstrip("+-")
    if margin.unit is None:
        return f"{text} step{'' if text == '1' else 's'}" if margin.kind.name == "grade" else text
    return text
