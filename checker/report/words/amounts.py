"""Values, bounds, margins and amounts to act by, as text: the one place that rounds them and chooses their unit."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from checker.kinds.judging.amount import Amount, Bound, Statement
from checker.quantities.display import show_act, show_margin, show_value

_LIMIT_NAMES = {
    "at_least": "minimum",
    "at_most": "maximum",
    "above": "limit",
    "below": "limit",
    "exactly": "value",
}


def value_words(amount: Amount | None) -> str:
    """A value as text; "no limit" for none."""
    return "no limit" if amount is None else show_value(amount.value, amount.kind, amount.unit)


def margin_words(margin: Amount) -> str:
    """A margin as text, signed and rounded against the car."""
    return show_margin(Fraction(margin.value), margin.unit)


def least_words(amount: Amount) -> str:
    """An amount to act by as text, rounded up, so that what is read off is enough."""
    return show_act(Fraction(amount.value), amount.unit)


def statement_words(statement: str | Statement) -> str:
    """A formula or sentence with its values in place."""
    if isinstance(statement, str):
        return statement
    return "".join(one if isinstance(one, str) else value_words(one) for one in statement).strip()


def distance_words(margin: Amount, bound: Bound, *, upper: bool) -> str:
    """How a value lies to its bound: "is 3.43 kg below the minimum of 585 kg"."""
    value = Fraction(margin.value)
    limit = f"{_LIMIT_NAMES.get(bound.sense, 'nominal')} of {value_words(bound.amount)}"
    if bound.sense == "nominal":
        limit = f"band round {value_words(bound.amount)}"
        side = "inside" if value >= 0 else "outside"
        return f"is {_size(margin)} {side} the {limit}" if value else f"stands on the edge of the {limit}"
    if bound.sense == "exactly" and value == 0:
        return f"is the {limit}"
    if value == 0:
        return f"stands on the {limit}"
    over = (value > 0) == (not upper)
    is_day = bound.amount is not None and isinstance(bound.amount.value, date)
    above, below = ("after", "before") if is_day else ("above", "below")
    return f"is {_size(margin)} {above if over else below} the {limit}"


def _size(margin: Amount) -> str:
    text = margin_words(margin).lstrip("+-")
    if margin.unit is None:
        return f"{text} step{'' if text == '1' else 's'}" if margin.kind.name == "grade" else text
    return text
