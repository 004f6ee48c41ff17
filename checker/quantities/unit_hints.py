"""What people write instead of a unit of the list, and the unit they most likely mean. For hints only."""

from __future__ import annotations

import re

from checker.quantities.unit_table import OTHERS, QUANTITIES

_MEANT = {
    "kg": "kgs kilo kilos kilogram kilograms kilogramme kilogrammes",
    "g": "gram grams gramme grammes gm gms",
    "lb": "lbs pound pounds",
    "oz": "ozs ounce ounces",
    "t": "tonne tonnes ton tons",
    "mm": "mms millimetre millimetres millimeter millimeters",
    "cm": "cms centimetre centimetres centimeter centimeters",
    "m": "metre metres meter meters",
    "in": "ins inches",
    "ft": "foot feet",
    "L": "litre litres liter liters ltr ltrs",
    "gal_US": "galus usgal usgals us_gal",
    "gal_imp": "galimp impgal galuk ukgal imp_gal",
    "ml": "millilitre millilitres milliliter milliliters",
    "cc": "ccm ccs",
    "yd": "yard yards",
    "mi": "mile miles",
    "kn": "knot knots",
    "s": "sec secs second seconds",
    "min": "mins minute minutes",
    "h": "hr hrs hour hours",
    "km/h": "kph kmh kmph",
    "deg": "degs degree degrees",
    "degC": "c celsius",
    "degF": "f fahrenheit",
    "K": "kelvin kelvins",
    "degR": "rankine",
    "hp": "bhp horsepower",
    "V": "volt volts",
    "A": "amp amps ampere amperes",
    "ohm": "ohms",
    "W": "watt watts",
    "N": "newton newtons",
    "bar": "bars",
    "%": "percent pc pct",
    "months": "mth mths",
    "years": "yr yrs",
}
_ELSEWHERE = {
    **dict.fromkeys(("gal", "gallon", "gallons"), "write gal_US or gal_imp"),
    **dict.fromkeys(("mrad", "grad"), "write it in deg"),
    **dict.fromkeys(
        ("db", "decibel", "decibels"),
        "write dBA or dBC, as it is measured, or dB where there is no weighting",
    ),
    "lm": "no unit of the list says that",
}
"""Units that rulebooks use and the list does not have: the nearest name would be another quantity, or another size."""
_CAPITALS = ("T", "S", "H", "G", "M", "St")
"""Symbols of other quantities that differ from one of the list by their capital only."""
SYNONYMS = {synonym: unit for unit, synonyms in _MEANT.items() for synonym in synonyms.split()}
"""Units written in full, in the plural or otherwise, each with the unit of the list."""

_SHORTEST = 5
"""Letters of a name that may be misspelt; of fewer, one letter makes it a unit of something else."""

_WORDS = ("and", "or", "not", "if", "else")
"""Of formulas, which may stand behind a number."""

_NOT_MONEY = ("KGS", "LBS", "RPM", "MPH", "PSI", "BAR", "KPH", "KPA", "MPA", "LBF", "DEG", "DBA", "DBC")
"""Capitals that look like a currency and are not meant as one."""


def hint(name: str, text: str, currency: str | None) -> str:
    """The cure, without a full stop, for the unknown `name` in the unit `text`."""
    if name.isupper() and name.casefold() in _WORDS:
        return f"write {name.casefold()}"
    if len(name) == 3 and name.isascii() and name.isalpha() and name.isupper() and name not in _NOT_MONEY:
        if currency is None:
            return "the pack names no currency, so nothing can be stated in money"
        return f"this pack's currency is {currency}"
    if name.casefold() in _ELSEWHERE:
        return _ELSEWHERE[name.casefold()]
    likely = None if name in _CAPITALS else _nearest(name, currency)
    if likely is None:
        return "units are kg, mm, L, deg, % and the like; names are exact in case"
    return f"perhaps {'/'.join(likely if part == name else part for part in text.split('/'))}"


def _nearest(name: str, currency: str | None) -> str | None:
    small = name.casefold()
    known = [*QUANTITIES, *OTHERS, *([currency] if currency else [])]
    same = next((unit for unit in known if unit.casefold() == small), None) or SYNONYMS.get(small)
    if same is not None:
        return same
    single = re.sub(r"(.)\1", r"\1", small)
    if single in known:
        return single
    if len(small) < _SHORTEST:
        return None
    import difflib  # slow to import, and only needed when something is wrong

    close = difflib.get_close_matches(small[:40], known + list(SYNONYMS), n=1, cutoff=0.7)
    return SYNONYMS.get(close[0], close[0]) if close else None
