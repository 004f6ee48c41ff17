"""Values, bounds and margins as plain data: what is shown, what is exact, and the unit of both.

`value` is the text that a report shows, without its unit; `exact` is "n/d", the exact number in that same unit
(percentages in points), and null where there is no number: a day and a word are exact as they stand. So nobody who
reads the document has to trust a binary fraction. Uncertainties and probabilities are estimates: plain numbers, to
six significant digits.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

from checker import __version__
from checker.kinds.judging.assessment import Amount, Bound, Spread
from checker.quantities.days import parse_day
from checker.quantities.display import decimal_text
from checker.quantities.kind import Unknown
from checker.quantities.rounding import round_to
from checker.quantities.sense import Sense
from checker.quantities.units import MOMENT, Unit, is_currency, parse_unit
from checker.report.words.amounts import least_words, margin_words, near_words, value_words
from checker.report.words.units import shown_in

Data = dict[str, Any]
"""Plain data: text, whole numbers, true and false, null, lists and mappings of these."""


def begun(document: str) -> Data:
    """What every document begins with: its kind, the version of its shape, and the program that made it."""
    return {"document": document, "version": 1, "checker": __version__}


KG, MM, PERCENT = (parse_unit(name, None) for name in ("kg", "mm", "%"))


def told_of(one: object, *names: str) -> Data:
    """What something says under these names, as it stands there."""
    return {name: getattr(one, name) for name in names}


_CALENDAR = ("days", "months", "years")


def amount_data(amount: Amount | None) -> Data | None:
    """A value as {value, exact, unit}; None for none."""
    return None if amount is None else _data(value_words(amount), amount)


def known_data(value: Fraction | Unknown, unit: Unit) -> Data | None:
    """A value in a unit; None where it is not known."""
    return None if isinstance(value, Unknown) else amount_data(Amount(value, unit.kind, unit))


def near_data(value: Fraction | Unknown, unit: Unit) -> Data | None:
    """The same of what something weighs or where it sits: in another unit `value` is rounded to the nearest."""
    if isinstance(value, Unknown):
        return None
    amount = Amount(value, unit.kind, unit)
    return _data(near_words(amount), amount)


def least_data(amount: Amount | None, most: Amount | None) -> Data | None:
    """An amount to act by as {value, exact, unit}; `value` is rounded up."""
    return None if amount is None else _data(least_words(amount, most), amount)


def margin_data(margin: Amount | None) -> Data | None:
    """A margin as {value, exact, unit}: positive is legal; `value` is rounded against the car."""
    return None if margin is None else _data(margin_words(margin).removeprefix("+"), margin)


def bound_data(bound: Bound | None) -> Data | None:
    """A bound as {kind, value, exact, unit}; its value is "no limit" where the rule sets none."""
    if bound is None:
        return None
    return {"kind": bound.sense.value, **_data(value_words(bound.amount), bound.amount)}


def _data(text: str, amount: Amount | None) -> Data:
    if amount is None or isinstance(amount.value, bool) or not isinstance(amount.value, int | Fraction):
        return {"value": text, "exact": None, "unit": None}
    exact, unit = Fraction(amount.value), shown_in(amount.unit)
    if unit is not None and unit.kind == MOMENT:
        return {"value": text, "exact": None, "unit": None}
    if unit is not None and unit.kind.name in ("days", "months"):
        text, _, name = text.partition(" ")  # shown as "1 day", and as months where years are not whole
        unit = parse_unit(name if name.endswith("s") else f"{name}s", None)
    elif unit is not None:
        text = text.removesuffix(unit.name).rstrip()
    if unit is not None:
        exact = (exact - unit.zero) / unit.factor
    return {"value": text, "exact": exact_text(exact), "unit": None if unit is None else unit.name}


def uncertainty_data(
    spread: Spread | None, margin: Amount | None, taken_as_exact: Collection[str]
) -> Data | None:
    """How well a margin is known by what is stated, in its unit; None where every value that went in is exact."""
    if spread is None or margin is None:
        return None
    unit = shown_in(margin.unit)
    factor = Fraction(1) if unit is None else unit.factor
    standard = math.sqrt(spread.variance) / float(factor)
    return {
        "standard": estimate(standard),
        "expanded": estimate(standard * float(spread.factor)),
        "k": estimate(float(spread.factor)),
        "covers": estimate(float(spread.covers)),
        "complete": not taken_as_exact,
        "unit": None if unit is None else unit.name,
        "contributions": [
            {"name": part.name, "standard": estimate(math.sqrt(part.variance) / float(factor))}
            for part in spread.contributions
        ],
    }


def estimate(number: float) -> float:
    """A number that is no better known than to six digits."""
    return float(f"{number:.6g}")


def estimate_text(number: float) -> str:
    """An uncertainty with two significant digits, written out: "280", "0.000077"."""
    return f"{Decimal(f'{number:.2g}'):f}"


def as_float(data: Data) -> float:
    """The number of a value that has one, to draw it."""
    return float(Fraction(data["exact"]))


def position_of(data: Data) -> Fraction:
    """The number of a value; of a day its place in the calendar."""
    return Fraction(data["exact"] if data["exact"] is not None else parse_day(data["value"]).toordinal())


def fixed_text(number: Fraction, digits: int, mode: str = "half_even") -> str:
    """A number with so many decimals, all of them, rounded to the nearest or as `round_to` says."""
    steps = int(round_to(number * 10**digits, Fraction(1), mode))
    whole, part = divmod(abs(steps), 10**digits)
    return f"{'-' if steps < 0 else ''}{whole}.{part:0{digits}}"


def beside_limits(reading: Fraction, digits: int, limits: Iterable[Data]) -> str:
    """A reading with so many decimals, that is never shown within a limit that it is beyond.

    It is rounded away from what the nearest limit allows, as readings of an inspection are; without a limit to the
    nearest.

    Args:
        reading: In the unit of the limits.
        limits: What the same quantity is held to, as `bound_data` gives it.
    """
    found = []
    for limit in limits:
        if limit["exact"] is None:
            continue
        off = reading - Fraction(limit["exact"])
        sense = Sense(limit["kind"])
        if sense.is_lower:
            found.append((off, "down"))
        elif sense.is_upper:
            found.append((-off, "up"))
        else:
            found.append((-abs(off), "down" if off < 0 else "up"))
    return fixed_text(reading, digits, min(found)[1] if found else "half_even")


def share_text(of: str, percent: Fraction, limits: Iterable[Data]) -> str:
    """A percentage of the weight beside the limits of it, as `limit_data` gives those of all: "52.75 %"."""
    return f"{beside_limits(percent, 2, [one for one in limits if one['of'] == of])} %"


def exact_text(number: Fraction) -> str:
    """An exact number as "n/d"."""
    return f"{number.numerator}/{number.denominator}"


def in_system(data: Data, *, signed: bool) -> Data:
    """A value of a document that was made in the units of the rules, in the system of units that is asked for.

    Args:
        signed: It is a margin.
    """
    if data["unit"] is None or data["exact"] is None:
        return data
    unit = parse_unit(data["unit"], data["unit"] if is_currency(data["unit"]) else None)
    if shown_in(unit) == unit:
        return data
    amount = Amount(Fraction(data["exact"]) * unit.factor + unit.zero, unit.kind, unit)
    return _data(margin_words(amount).removeprefix("+") if signed else value_words(amount), amount)


def shown_difference(by: Data) -> str:
    """How much more is in hand, {exact, unit}, as text: "+0.3 %"; "" for none."""
    exact = Fraction(by["exact"])
    if not exact:
        return ""
    told = {"value": decimal_text(exact, 2), "exact": by["exact"], "unit": by["unit"]}
    return shown(in_system(told, signed=True), signed=True)


def shown(data: Data | None, *, signed: bool = False) -> str:
    """A value, bound or margin of a document as text: "585 kg", signed "+4.65 kg"; "" for none."""
    if data is None:
        return ""
    sign = "+" if signed and data["exact"] and Fraction(data["exact"]) > 0 else ""
    unit = data["unit"] or ""
    if unit in _CALENDAR and data["value"].lstrip("-") == "1":
        unit = unit.removesuffix("s")
    return f"{sign}{data['value']} {unit}".rstrip()


def shown_mass() -> Unit:
    """The unit of masses that is asked for, else kg."""
    return shown_in(KG) or KG


def one_more(effects: Sequence[Data]) -> tuple[str, list[Data]]:
    """What one more of the unit of masses that is asked for changes: "kg" or "lb", and {place, inside, rear}."""
    unit = shown_mass().name
    names = ("inside_lb", "rear_lb") if unit == "lb" else ("inside", "rear")
    of_unit = ({"place": one["place"], "inside": one[names[0]], "rear": one[names[1]]} for one in effects)
    return unit, [one for one in of_unit if one["inside"] is not None or one["rear"] is not None]
