"""Units of a closed list, each an exact number of base units.

The list is closed and exact in case, so that a misspelt unit is an error with a hint and never a guess:
`Kg`, `l` and `lbs` are not units. Names joined by `/` divide (`kg/L`, `m/s/s`). Only quantities may be
joined, so `%/deg` and `kg/day` are not units.

Base units are kg, mm, s, deg, degC, A, dBA, dBC and the pack's currency. Factors follow from exact
definitions: inch 25.4 mm and pound 0.453 592 37 kg (International Yard and Pound Agreement, 1959), pound-force
by standard gravity 9.806 65 m/s2, horsepower 550 ft lbf/s.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from checker.quantities.dimension import (
    ANGLE,
    CURRENT,
    LENGTH,
    MASS,
    MONEY,
    NO_DIMENSION,
    SOUND_A,
    SOUND_C,
    TEMPERATURE,
    TIME,
    Dimension,
)
from checker.quantities.kind import DAYS, MONTHS, PERCENT, Kind, quantity


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as it was written."""

    name: str
    kind: Kind
    """A quantity of some dimension, percent, days or months; a number for `mm/m`."""
    factor: Fraction
    """Base units per one of this unit: 1/100 for %, 12 (months) for years."""


class UnknownUnit(ValueError):
    """A unit that is not in the list.

    `name` is what was read and `hint` the change that would cure it, as a sentence without a full stop.
    """

    def __init__(self, name: str, hint: str) -> None:
        super().__init__(f"{name} is not a unit; {hint}")
        self.name = name
        self.hint = hint


_FORCE = MASS * LENGTH / TIME**2
_PRESSURE = _FORCE / LENGTH**2
_ENERGY = _FORCE * LENGTH
_POWER = _ENERGY / TIME

_INCH = Fraction(254, 10)
_FOOT = 12 * _INCH
_POUND = Fraction(45359237, 10**8)
_NEWTON = Fraction(1000)
_POUND_FORCE = _POUND * Fraction(980665, 100)
_JOULE = 1000 * _NEWTON
_PASCAL = _NEWTON / 10**6

_QUANTITIES: dict[str, tuple[Dimension, Fraction]] = {
    name: (dimension, Fraction(factor))
    for dimension, names in (
        (MASS, {"kg": 1, "g": Fraction(1, 1000), "lb": _POUND, "oz": _POUND / 16, "t": 1000}),
        (LENGTH, {"mm": 1, "cm": 10, "m": 1000, "in": _INCH, "ft": _FOOT, "km": 10**6, "inch": _INCH}),
        (LENGTH**2, {"mm2": 1, "cm2": 100, "m2": 10**6, "in2": _INCH**2}),
        (
            LENGTH**3,
            {
                "L": 10**6,
                "ml": 1000,
                "cc": 1000,
                "cm3": 1000,
                "mm3": 1,
                "m3": 10**9,
                "in3": _INCH**3,
            },
        ),
        (LENGTH**4, {"mm4": 1}),
        (TIME, {"s": 1, "ms": Fraction(1, 1000), "min": 60, "h": 3600}),
        (LENGTH / TIME, {"mph": 5280 * _FOOT / 3600}),
        (ANGLE, {"deg": 1}),
        (NO_DIMENSION / TIME, {"rpm": Fraction(1, 60), "Hz": 1}),
        (_FORCE, {"N": _NEWTON, "kN": 1000 * _NEWTON, "lbf": _POUND_FORCE}),
        (
            _PRESSURE,
            {
                "kPa": 1000 * _PASCAL,
                "bar": 10**5 * _PASCAL,
                "psi": _POUND_FORCE / _INCH**2,
                "MPa": 10**6 * _PASCAL,
                "Pa": _PASCAL,
            },
        ),
        (
            _ENERGY,
            {
                "Nm": _JOULE,
                "J": _JOULE,
                "kJ": 10**3 * _JOULE,
                "MJ": 10**6 * _JOULE,
                "Wh": 3600 * _JOULE,
                "kWh": 3600 * 10**3 * _JOULE,
            },
        ),
        (_POWER, {"kW": 10**3 * _JOULE, "W": _JOULE, "hp": 550 * _FOOT * _POUND_FORCE}),
        (_POWER / CURRENT, {"V": _JOULE}),
        (CURRENT, {"A": 1}),
        (CURRENT * TIME, {"Ah": 3600}),
        (_POWER / CURRENT**2, {"ohm": _JOULE}),
        (TEMPERATURE, {"degC": 1}),
        (SOUND_A, {"dBA": 1}),
        (SOUND_C, {"dBC": 1}),
    )
    for name, factor in names.items()
}
"""Name: dimension and factor. Within a dimension the commonest comes first."""

_OTHERS: dict[str, tuple[Kind, int | Fraction]] = {
    "%": (PERCENT, Fraction(1, 100)),
    "days": (DAYS, 1),
    "day": (DAYS, 1),
    "months": (MONTHS, 1),
    "month": (MONTHS, 1),
    "years": (MONTHS, 12),
    "year": (MONTHS, 12),
}

_JOINED = (
    *("kg/L", "g/cc", "kg/m3", "lb/in3", "km/h", "m/s", "ft/s", "mm/s", "m/s/s"),
    *("N/mm", "lbf/in", "N/m", "kg/m", "g/m", "lb/in", "lb/ft", "kg/m2", "g/m2", "Nm/deg", "deg/s"),
    *("kg/kW", "kg/hp", "lb/hp", "kW/kg", "hp/t", "kW/L", "hp/L", "kg/cc", "kg/h", "g/s", "L/min", "L/h"),
)
"""Joined names worth offering in hints, commonest first within a dimension."""

_SYNONYMS = {
    **dict.fromkeys(("kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"), "kg"),
    **dict.fromkeys(("gram", "grams", "gramme", "grammes", "gm", "gms"), "g"),
    **dict.fromkeys(("lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("ounce", "ounces", "ozs"), "oz"),
    **dict.fromkeys(("tonne", "tonnes", "ton", "tons"), "t"),
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters", "mms"), "mm"),
    **dict.fromkeys(("centimetre", "centimetres", "centimeter", "centimeters", "cms"), "cm"),
    **dict.fromkeys(("metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("inches", "ins"), "in"),
    **dict.fromkeys(("foot", "feet"), "ft"),
    **dict.fromkeys(("litre", "litres", "liter", "liters", "ltr", "ltrs"), "L"),
    **dict.fromkeys(("ccm", "ccs"), "cc"),
    **dict.fromkeys(("sec", "secs", "second", "seconds"), "s"),
    **dict.fromkeys(("mins", "minute", "minutes"), "min"),
    **dict.fromkeys(("hr", "hrs", "hour", "hours"), "h"),
    **dict.fromkeys(("kph", "kmh", "kmph"), "km/h"),
    **dict.fromkeys(("degree", "degrees", "degs"), "deg"),
    **dict.fromkeys(("bhp", "horsepower"), "hp"),
    **dict.fromkeys(("volt", "volts"), "V"),
    **dict.fromkeys(("amp", "amps", "ampere", "amperes"), "A"),
    **dict.fromkeys(("ohms",), "ohm"),
    **dict.fromkeys(("watt", "watts"), "W"),
    **dict.fromkeys(("newton", "newtons"), "N"),
    **dict.fromkeys(("celsius", "c"), "degC"),
    **dict.fromkeys(("db", "decibel", "decibels"), "dBA"),
    **dict.fromkeys(("percent", "pc", "pct"), "%"),
    **dict.fromkeys(("yr", "yrs"), "years"),
}
"""What people write, in small letters, and the unit they most likely mean: for hints only."""

MOST_NAMES = 6
"""The most names that one unit may join."""

_CURRENCY = re.compile("[A-Z]{3}")
_MINOR_DIGITS = {
    **dict.fromkeys(("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF"), 0),
    **dict.fromkeys(("UGX", "VND", "VUV", "XAF", "XOF", "XPF"), 0),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
}


def is_currency(code: str) -> bool:
    """True for what a pack may name as its `currency`: three capital letters, as in ISO 4217."""
    return _CURRENCY.fullmatch(code) is not None


def minor_digits(currency: str) -> int:
    """Decimals that amounts of this currency are shown with: 2 where not known otherwise.

    Source: ISO 4217, list of codes (the list is recalled from memory).
    """
    return _MINOR_DIGITS.get(currency, 2)


@lru_cache(maxsize=1024)
def parse_unit(text: str, currency: str | None) -> Unit:
    """The unit of that name.

    Args:
        text: `%`, `days`, or names of quantities joined by `/` without blanks.
        currency: The pack's currency, e.g. "GBP"; None where there is none, then no unit is money.

    Raises:
        UnknownUnit: It is not in the list, or joins what cannot be joined.
    """
    if text in _OTHERS:
        kind, factor = _OTHERS[text]
        return Unit(text, kind, Fraction(factor))
    names = text.split("/", MOST_NAMES)
    if len(names) > MOST_NAMES:
        raise UnknownUnit(text, f"join at most {MOST_NAMES} names by /")
    dimension, product = NO_DIMENSION, Fraction(1)
    for place, name in enumerate(names):
        if name in _OTHERS:
            raise UnknownUnit(text, f"{name} cannot be joined to another unit by /")
        if name == currency:
            one, factor = MONEY, Fraction(1)
        elif name in _QUANTITIES:
            one, factor = _QUANTITIES[name]
        else:
            raise UnknownUnit(text, _hint(text, name, currency))
        dimension = dimension / one if place else one
        product = product / factor if place else factor
    return Unit(text, quantity(dimension), product)


def _hint(text: str, name: str, currency: str | None) -> str:
    if is_currency(name):
        if currency is None:
            return "the pack names no currency, so it cannot be judged in money"
        if name not in ("KGS", "LBS", "RPM", "MPH", "PSI", "BAR"):
            return f"this pack's currency is {currency}"
    likely = _nearest(name, currency)
    if likely is None:
        return "units are kg, mm, L, deg, % and the like; names are exact in case"
    parts = [likely if part == name else part for part in text.split("/")]
    return f"perhaps {'/'.join(parts)}"


def _nearest(name: str, currency: str | None) -> str | None:
    small = name.casefold()
    known = (*_QUANTITIES, *_OTHERS, *((currency,) if currency else ()))
    for unit in known:
        if unit.casefold() == small:
            return unit
    if small in _SYNONYMS:
        return _SYNONYMS[small]
    import difflib  # slow to import, and only needed when something is wrong

    close = difflib.get_close_matches(name[:40], known, n=1, cutoff=0.6)
    return close[0] if close else None


@lru_cache(maxsize=256)
def units_of(kind: Kind, currency: str | None) -> tuple[str, ...]:
    """Names of units in which a value of that kind may be written, commonest first; none for a plain number.

    Single names are complete. Of joined ones only the common are named, or the one that is always there.
    """
    if kind.name != "quantity":
        return tuple(name for name, (its_kind, _) in _OTHERS.items() if its_kind == kind)
    if kind.dimension == MONEY:
        return (currency,) if currency else ()
    singles = [name for name, (dimension, _) in _QUANTITIES.items() if dimension == kind.dimension]
    joined = [name for name in _joined(currency) if parse_unit(name, currency).kind == kind]
    if not singles and not joined:
        plain = _coherent_name(kind.dimension, currency)
        return () if plain is None else (plain,)
    # "km/h" is commoner than "mph", every other single name commoner than its joined ones
    return (*joined, *singles) if kind.dimension == LENGTH / TIME else (*singles, *joined)


def _joined(currency: str | None) -> tuple[str, ...]:
    money = () if currency is None else (f"{currency}/kg", f"{currency}/L", f"{currency}/h", f"{currency}/kW")
    return (*_JOINED, *money)


@lru_cache(maxsize=256)
def base_unit(kind: Kind, currency: str | None) -> Unit:
    """The unit to show where nothing names one: kg, m, s and their products (N, Pa, kg/m3); %, days, months.

    Where no unit of the list says it, the name is a product such as "kg m", which is for show only. A number,
    or a kind without magnitude, has the unit with the empty name.
    """
    if kind.name != "quantity":
        for name, (its_kind, factor) in _OTHERS.items():
            if its_kind == kind and factor in (1, Fraction(1, 100)):
                return Unit(name, kind, Fraction(factor))
        return Unit("", kind, Fraction(1))
    factor = _coherent_factor(kind.dimension)
    name = _coherent_name(kind.dimension, currency) or _product_name(kind.dimension, currency)
    return Unit(name, kind, factor)


_PLAIN = (
    "kg",
    "m",
    "m2",
    "m3",
    "s",
    "Hz",
    "deg",
    "A",
    "degC",
    "dBA",
    "dBC",
    "N",
    "Pa",
    "Nm",
    "W",
    "V",
    "ohm",
)
_SYMBOLS = ("kg", "m", "s", "deg", "degC", "A", "dBA", "dBC")
_SHOWN_ORDER = (0, 1, 5, 3, 4, 6, 7, 8, 2)


def _coherent_factor(dimension: Dimension) -> Fraction:
    """Base units (mm) per product of kg, m, s and the rest."""
    return Fraction(1000) ** dimension.exponents[1]


def _coherent_name(dimension: Dimension, currency: str | None) -> str | None:
    """A unit that can be written, of factor one in kg, m, s; None if there is none."""
    if dimension == MONEY:
        return currency
    for name in (*_PLAIN, *_joined(currency)):
        unit = parse_unit(name, currency)
        if unit.kind.dimension == dimension and unit.factor == _coherent_factor(dimension):
            return name
    over = Dimension(tuple(max(exponent, 0) for exponent in dimension.exponents))
    tops = [name for name in _PLAIN if parse_unit(name, currency).kind.dimension == over]
    if over == MONEY and currency:
        tops = [currency]
    if not tops:
        return None
    below: list[str] = []
    for place in _SHOWN_ORDER:
        left = max(-dimension.exponents[place], 0)
        if left and place == len(_SYMBOLS) and not currency:
            return None
        symbol = (*_SYMBOLS, currency or "")[place]
        while left:
            power = min(left, 3) if place == 1 else 1
            below.append(symbol if power == 1 else f"{symbol}{power}")
            left -= power
    return "/".join((tops[0], *below)) if len(below) < MOST_NAMES else None


def _product_name(dimension: Dimension, currency: str | None) -> str:
    """A product of powers in words of units: "kg m/s2"; for show only."""
    symbols = (*_SYMBOLS, currency or "money")
    over, under = [], []
    for place in _SHOWN_ORDER:
        power = dimension.exponents[place]
        if power:
            (over if power > 0 else under).append(
                symbols[place] + (str(abs(power)) if abs(power) > 1 else "")
            )
    return (" ".join(over) or "1") + "".join(f"/{name}" for name in under)
