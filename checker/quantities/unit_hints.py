"""What people write instead of a unit of the list, and the unit they most likely mean. For hints only."""

from __future__ import annotations

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
    "ml": "millilitre millilitres milliliter milliliters",
    "cc": "ccm ccs",
    "s": "sec secs second seconds",
    "min": "mins minute minutes",
    "h": "hr hrs hour hours",
    "km/h": "kph kmh kmph",
    "deg": "degs degree degrees",
    "degC": "c celsius",
    "hp": "bhp horsepower",
    "V": "volt volts",
    "A": "amp amps ampere amperes",
    "ohm": "ohms",
    "W": "watt watts",
    "N": "newton newtons",
    "bar": "bars",
    "dBA": "db decibel decibels",
    "%": "percent pc pct",
    "months": "mth mths",
    "years": "yr yrs",
}
_SYNONYMS = {synonym: unit for unit, synonyms in _MEANT.items() for synonym in synonyms.split()}

_NOT_MONEY = ("KGS", "LBS", "RPM", "MPH", "PSI", "BAR", "KPH", "KPA", "MPA", "LBF", "DEG", "DBA", "DBC")
"""Capitals that look like a currency and are not meant as one."""


def hint(name: str, text: str, currency: str | None) -> str:
    """The cure, without a full stop, for the unknown `name` in the unit `text`."""
    if len(name) == 3 and name.isascii() and name.isalpha() and name.isupper() and name not in _NOT_MONEY:
        if currency is None:
            return "the pack names no currency, so nothing can be stated in money"
        return f"this pack's currency is {currency}"
    likely = _nearest(name, currency)
    if likely is None:
        return "units are kg, mm, L, deg, % and the like; names are exact in case"
    return f"perhaps {'/'.join(likely if part == name else part for part in text.split('/'))}"


def _nearest(name: str, currency: str | None) -> str | None:
    small = name.casefold()
    known = [*QUANTITIES, *OTHERS]
    if currency:
        known.append(currency)
    for unit in known:
        if unit.casefold() == small:
            return unit
    if small in _SYNONYMS:
        return _SYNONYMS[small]
    import difflib  # slow to import, and only needed when something is wrong

    close = difflib.get_close_matches(small[:40], known + list(_SYNONYMS), n=1, cutoff=0.7)
    return _SYNONYMS.get(close[0], close[0]) if close else None
