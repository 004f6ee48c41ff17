"""Values, bounds, margins and amounts to act by, as text: the one place that rounds them and chooses their unit."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

from checker.quantities.amount import Amount, Bound, Statement
from checker.quantities.display import show_act, show_between, show_margin, show_value
from checker.quantities.rounding import one_digit_below, round_to
from checker.quantities.sense import Sense
from checker.reading.patterns import pattern
from checker.report.words.units import in_sixteenths, shown_in

_LIMIT_NAMES = {
    Sense.AT_LEAST: "minimum",
    Sense.AT_MOST: "maximum",
    Sense.ABOVE: "limit",
    Sense.BELOW: "limit",
    Sense.EXACTLY: "value",
    Sense.OTHER_THAN: "banned value",
}


def value_words(amount: Amount | None) -> str:
    """A value as text; "no limit" for none."""
    if amount is None:
        return "no limit"
    unit = shown_in(amount.unit)
    told = in_sixteenths(amount.value, unit, "exact") if isinstance(amount.value, Fraction) else None
    return told or _short(show_value(amount.value, amount.kind, unit))


def near_words(amount: Amount) -> str:
    """Where something sits, or what it weighs, so that it is found: as a value, in another unit to the nearest
    sixteenth of an inch or hundredth."""
    value, unit = Fraction(amount.value), shown_in(amount.unit)
    if unit is None or unit == amount.unit:
        return value_words(amount)
    hundredths = round_to(value / unit.factor, Fraction(1, 100), "half_even")
    return in_sixteenths(value, unit, "nearest") or show_value(hundredths * unit.factor, amount.kind, unit)


def _short(text: str) -> str:
    """What came of converting a unit, with six significant digits: "596.474 kg" for 596.47396655 kg."""
    number, blank, unit = text.partition(" ")
    if not _LONG.fullmatch(number):
        return text
    return f"{Decimal(number):.6g}{blank}{unit}"


_LONG = pattern(r"-?[1-9][0-9]{0,5}\.[0-9]{6,}")
"""A number with more decimals than anybody writes."""


def margin_words(margin: Amount) -> str:
    """A margin as text, signed and rounded against the car."""
    value, unit = Fraction(margin.value), shown_in(margin.unit)
    told = in_sixteenths(value, unit, "down")
    if told is None:
        return show_margin(value, unit)
    return f"+{told}" if value > 0 else told


def least_words(amount: Amount, most: Amount | None = None) -> str:
    """An amount to act by as text, rounded up, so that what is read off is enough and not more than the most."""
    value, unit = Fraction(amount.value), shown_in(amount.unit)
    if most is not None:
        return show_between(value, Fraction(most.value), unit)
    return in_sixteenths(value, unit, "up") or show_act(value, unit)


def within_words(amount: Amount) -> str:
    """The most that something may be out by, as text: one digit, rounded down, so that what is read off is enough."""
    value, unit = Fraction(amount.value), shown_in(amount.unit)
    if told := in_sixteenths(value, unit, "down"):
        return told
    factor = unit.factor if unit else Fraction(1)
    rounded = one_digit_below(value / factor) * factor
    return show_value(rounded, amount.kind, unit) if unit else str(rounded)


def statement_words(statement: str | Statement) -> str:
    """A formula or sentence with its values in place."""
    if isinstance(statement, str):
        return statement
    return "".join(one if isinstance(one, str) else value_words(one) for one in statement).strip()


def distance_words(margin: Amount, bound: Bound, *, upper: bool) -> str:
    """How a value lies to its bound: "is 3.43 kg below the minimum of 585 kg"."""
    value = Fraction(margin.value)
    limit = f"{_LIMIT_NAMES.get(bound.sense, 'nominal')} of {value_words(bound.amount)}"
    if bound.sense is Sense.NOMINAL:
        limit = f"band round {value_words(bound.amount)}"
        side = "inside" if value >= 0 else "outside"
        return f"is {_size(margin)} {side} the {limit}" if value else f"stands on the edge of the {limit}"
    if bound.sense in (Sense.EXACTLY, Sense.OTHER_THAN) and value == 0:
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
