"""Exact numbers as text for people.

A value with few decimals is shown as it is. Where digits must be dropped, a margin is rounded against the car
and an act beyond what is needed, so that nobody who trusts the paper is turned away at the scales.
Decimals after a rounding are all shown: `+1.50 kg` has been rounded, `+1.5 kg` has not.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from checker.quantities.dimension import LENGTH, MASS, MONEY, Dimension
from checker.quantities.kind import MONTHS, NUMBER, Kind
from checker.quantities.moments import moment_text
from checker.quantities.rounding import round_to
from checker.quantities.units import MOMENT, Unit, minor_digits

MOST_PLACES = 12
"""A value with more decimals than this is rounded to be shown."""

_SIGNIFICANT = 6
_PLACES_OF_NUMBERS = 4
_NUMBER = Unit("", NUMBER, Fraction(1))

_MARGIN_FINE = {MASS: Fraction(1, 100), LENGTH: Fraction(3, 100)}
_ACT_FINE = {MASS: Fraction(1, 10), LENGTH: Fraction(1, 10)}
"""The coarsest steps, in kg and mm, to which margins and acts are rounded, whatever the unit shown."""


def decimal_text(x: Fraction, digits: int | None = None) -> str:
    """`x` exactly if it has no more than 12 decimals, else rounded half to even.

    Args:
        digits: Decimals to round to where it must be rounded; None gives six significant digits.
    """
    places = _exact_places(x)
    if places is not None:
        return _fixed(x, places)
    places = _significant_places(x, _SIGNIFICANT) if digits is None else digits
    return _fixed(round_to(x, Fraction(1, 10**places), "half_even"), places)


def show(value: Fraction, unit: Unit, digits: int | None = None) -> str:
    """A value with its unit: "618.5 kg", "52.75 %", "310.00 GBP", "3 days"; a number alone.

    Args:
        value: In base units (a percentage as a ratio).
        unit: The unit to show it in; money has at least the decimals of its currency.
        digits: As for `decimal_text`.
    """
    if unit.kind == MOMENT:
        return moment_text(value)
    unit = _whole(value, unit)
    amount = (value - unit.zero) / unit.factor
    if _is_money(unit):
        least = max(minor_digits(unit.name), digits or 0)
        places = _exact_places(amount)
        if places is None or places < least:
            return _with_unit(_fixed(round_to(amount, Fraction(1, 10**least), "half_even"), least), unit)
    return _with_unit(decimal_text(amount, digits), unit)


def show_value(value: object, kind: Kind, unit: Unit | None) -> str:
    """A value of any kind as text; `unit` is for magnitudes, None where they have none."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        element = kind.element or kind
        return ", ".join(show_value(v, element, unit) for v in value) or "none"
    if isinstance(value, Fraction):
        return decimal_text(value, _PLACES_OF_NUMBERS) if unit is None else show(value, unit)
    return str(value)


def show_margin(margin: Fraction, unit: Unit | None) -> str:
    """A margin with its sign and unit, rounded towards minus infinity: "+1.5 kg", "-0.01 kg", "0 kg".

    Args:
        margin: In base units (percentage points as a ratio).
        unit: The unit to show it in, rounded to 0.01 of it or finer, whole days, or the currency's decimals; None for
            a number, shown as it is where it has few decimals.

    Returns:
        A zero for 0 alone: what is legal by less gets as many decimals as it needs.
    """
    if unit is None:
        unit, places = _NUMBER, _exact_places(margin) or _PLACES_OF_NUMBERS
    else:
        unit = _whole(margin, unit)
        places = _places(margin / unit.factor, unit, 2, _MARGIN_FINE)
    amount = margin / unit.factor
    if 0 < amount < Fraction(1, 10**places):
        places = _significant_places(amount, 1)
    text = _rounded(amount, places, "down", unit)
    return _with_unit(f"+{text}" if amount > 0 else text, unit)


def show_act(amount: Fraction, unit: Unit | None) -> str:
    """How much to add, take off or change by, rounded up: "1.6 kg", "0.3 mm", "0.05 mm", "12.01 GBP".

    Args:
        amount: In base units, above zero.
        unit: The unit to show it in; rounded to 0.1 of a mass or length, 0.01 of other units and of numbers, whole
            days, or the currency's decimals; finer where it would read as another amount.
    """
    unit = _NUMBER if unit is None else _whole(amount, unit)
    shown = amount / unit.factor
    least = 1 if unit.kind.dimension in _ACT_FINE else 2
    places = _places(shown, unit, least, _ACT_FINE)
    if not (_is_money(unit) or unit.kind.name in ("days", "months")):
        if shown < Fraction(1, 10**places):
            places = _significant_places(shown, 1)
        elif shown < Fraction(10, 10**places) and _exact_places(shown) == places + 1:
            places += 1
    return _with_unit(_rounded(shown, places, "up", unit), unit)


def show_between(least: Fraction, most: Fraction, unit: Unit | None) -> str:
    """An amount rounded up as `show_act` does, with as many decimals as it takes not to be above the most."""
    unit = _NUMBER if unit is None else unit
    low, high = least / unit.factor, most / unit.factor
    places = 1
    while places < MOST_PLACES and round_to(low, Fraction(1, 10**places), "up") > high:
        places += 1
    return _with_unit(_rounded(low, places, "up", unit), unit)


def _whole(value: Fraction, unit: Unit) -> Unit:
    """Months for years that are not whole, else the unit itself."""
    if unit.kind == MONTHS and value % unit.factor:
        return Unit("months", MONTHS, Fraction(1))
    return unit


def _is_money(unit: Unit) -> bool:
    return unit.kind.dimension == MONEY


def _places(amount: Fraction, unit: Unit, least: int, fine: dict[Dimension, Fraction]) -> int:
    """Decimals to round an amount of that unit to."""
    if unit.kind.name in ("days", "months"):
        return 0
    if _is_money(unit):
        return minor_digits(unit.name)
    if unit.kind.name == "percent":
        return least
    step = fine.get(unit.kind.dimension)
    if step is None:
        return min(MOST_PLACES, max(least, _significant_places(amount, 3)))
    places = least
    while unit.factor / 10**places > step:
        places += 1
    return places


def _rounded(amount: Fraction, places: int, mode: str, unit: Unit) -> str:
    exact = _exact_places(amount)
    if exact is not None and exact <= places and not _is_money(unit):
        return _fixed(amount, exact)
    return _fixed(round_to(amount, Fraction(1, 10**places), mode), places)


def _exact_places(x: Fraction) -> int | None:
    """The decimals of `x`, or None if it has more than `MOST_PLACES`."""
    return next((places for places in range(MOST_PLACES + 1) if 10**places % x.denominator == 0), None)


def _significant_places(x: Fraction, digits: int) -> int:
    """Decimals that show so many significant digits of `x`, at least none."""
    places = 0
    while x and abs(x) * 10**places < 10 ** (digits - 1):
        places += 1
    return places


def _fixed(x: Fraction, places: int) -> str:
    """A multiple of 10^-places with all its decimals."""
    whole = x * 10**places
    digits = str(abs(whole.numerator)).rjust(places + 1, "0")
    sign = "-" if x < 0 else ""
    return f"{sign}{digits[:-places]}.{digits[-places:]}" if places else sign + digits


def _with_unit(number: str, unit: Unit) -> str:
    name = unit.name
    if unit.kind.name in ("days", "months"):
        name = name.removesuffix("s") + ("" if number.lstrip("+-") == "1" else "s")
    return f"{number} {name}" if name else number
