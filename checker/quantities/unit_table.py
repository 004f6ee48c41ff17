"""The closed list of units and their exact factors.

Base units are kg, mm, s, deg, K, A, dBA, dBC, dB, cd and the pack's currency; degC for temperatures.

Sources: inch 25.4 mm and pound 0.453 592 37 kg, International Yard and Pound Agreement 1959; ounce 1/16 lb,
UK Weights and Measures Act 1985 Schedule 1 Part V; the prefixed and derived units of the SI; standard gravity
9.806 65 m/s2 (defined, recalled); horsepower 550 ft lbf/s. A litre is 1 dm3, a bar 100 000 Pa. The imperial gallon is
4.546 09 L (UK Weights and Measures Act 1985 Schedule 1), that of the US 231 in3, a knot 1852 m/h (both recalled). A lux
is 1 cd sr/m2. A radian is 180 deg over pi to 30 digits, the one factor that is not exact: no rational number of radians
but 0 is one of degrees, so none stands on a limit in degrees.
"""

from __future__ import annotations

from fractions import Fraction

from checker.quantities.dimension import (
    ANGLE,
    CURRENT,
    LENGTH,
    LEVEL,
    LUMINOUS_INTENSITY,
    MASS,
    NO_DIMENSION,
    SOUND_A,
    SOUND_C,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    Dimension,
)
from checker.quantities.elementary import PI
from checker.quantities.kind import DAYS, MONTHS, PERCENT, Kind

_FORCE = MASS * LENGTH / TIME**2
_PRESSURE = _FORCE / LENGTH**2
_ENERGY = _FORCE * LENGTH
_POWER = _ENERGY / TIME

_K = 1000
_M = 1000**2
_ONE = Fraction(1)
_INCH = Fraction("25.4")
_FOOT = 12 * _INCH
_POUND = Fraction("0.45359237")
_NEWTON = Fraction(1000)  # 1 kg m/s2 in kg mm/s2
_POUND_FORCE = _POUND * Fraction("9806.65")
_JOULE = 1000 * _NEWTON
_PASCAL = _NEWTON / _M

_BY_DIMENSION: tuple[tuple[Dimension, dict[str, Fraction]], ...] = (
    (MASS, {"kg": _ONE, "g": _ONE / _K, "lb": _POUND, "oz": _POUND / 16, "t": _K * _ONE}),
    (MASS, {"st": 14 * _POUND}),
    (LENGTH, {"mm": _ONE, "cm": 10 * _ONE, "m": _K * _ONE, "in": _INCH, "ft": _FOOT, "km": _M * _ONE}),
    (LENGTH, {"inch": _INCH, "yd": 3 * _FOOT, "mi": 5280 * _FOOT}),
    (LENGTH**2, {"mm2": _ONE, "cm2": 10**2 * _ONE, "m2": _K**2 * _ONE, "in2": _INCH**2}),
    (LENGTH**2, {"dm2": 100**2 * _ONE, "ft2": _FOOT**2}),
    (LENGTH**3, {"L": _M * _ONE, "ml": _K * _ONE, "cc": _K * _ONE, "cm3": 10**3 * _ONE}),
    (LENGTH**3, {"mm3": _ONE, "m3": _K**3 * _ONE, "in3": _INCH**3}),
    (LENGTH**3, {"gal_US": 231 * _INCH**3, "gal_imp": Fraction("4.54609") * _M}),
    (LENGTH**4, {"mm4": _ONE}),
    (TIME, {"s": _ONE, "ms": _ONE / _K, "min": 60 * _ONE, "h": 3600 * _ONE}),
    (LENGTH / TIME, {"mph": 5280 * _FOOT / 3600, "kn": 1852 * _K * _ONE / 3600}),
    (TIME**2, {"s2": _ONE}),
    (ANGLE, {"deg": _ONE, "rad": 180 / PI}),
    (NO_DIMENSION / TIME, {"rpm": _ONE / 60, "Hz": _ONE}),
    (_FORCE, {"N": _NEWTON, "kN": _K * _NEWTON, "lbf": _POUND_FORCE, "kgf": Fraction("9806.65")}),
    (_PRESSURE, {"kPa": _K * _PASCAL, "bar": 10**5 * _PASCAL, "psi": _POUND_FORCE / _INCH**2}),
    (_PRESSURE, {"MPa": _M * _PASCAL, "Pa": _PASCAL, "hPa": 100 * _PASCAL}),
    (_ENERGY, {"Nm": _JOULE, "J": _JOULE, "kJ": _K * _JOULE, "MJ": _M * _JOULE}),
    (_ENERGY, {"Wh": 3600 * _JOULE, "kWh": 3600 * _K * _JOULE}),
    (_POWER, {"kW": _K * _JOULE, "W": _JOULE, "hp": 550 * _FOOT * _POUND_FORCE}),
    (_POWER / CURRENT, {"V": _JOULE}),
    (CURRENT, {"A": _ONE}),
    (CURRENT * TIME, {"Ah": 3600 * _ONE, "mAh": 3600 * _ONE / _K}),
    (_POWER / CURRENT**2, {"ohm": _JOULE}),
    (TEMPERATURE_DIFFERENCE, {"K": _ONE, "degR": Fraction(5, 9)}),
    (TEMPERATURE, {"degC": _ONE, "degF": Fraction(5, 9)}),
    (SOUND_A, {"dBA": _ONE}),
    (SOUND_C, {"dBC": _ONE}),
    (LEVEL, {"dB": _ONE}),
    (LUMINOUS_INTENSITY, {"cd": _ONE}),
    (LUMINOUS_INTENSITY / LENGTH**2, {"lx": _ONE / _M}),
)

QUANTITIES: dict[str, tuple[Dimension, Fraction]] = {
    name: (dimension, factor) for dimension, factors in _BY_DIMENSION for name, factor in factors.items()
}
"""Name: dimension, and base units per one. Within a dimension the commonest comes first."""

ZERO_AT: dict[str, Fraction] = {
    "degC": Fraction(0),
    "degF": Fraction(-160, 9),
    "K": Fraction("-273.15"),
    "degR": Fraction("-273.15"),
}
"""Where scales of temperature begin, in degC: 0 degC is 273.15 K (SI) and 32 degF."""

OTHERS: dict[str, tuple[Kind, Fraction]] = {
    "%": (PERCENT, _ONE / 100),
    "ppm": (PERCENT, _ONE / _M),
    "days": (DAYS, _ONE),
    "day": (DAYS, _ONE),
    "months": (MONTHS, _ONE),
    "month": (MONTHS, _ONE),
    "years": (MONTHS, 12 * _ONE),
    "year": (MONTHS, 12 * _ONE),
}
"""What stands alone and joins no other unit."""

JOINED: tuple[str, ...] = (
    *("kg/L", "g/cc", "kg/m3", "lb/in3", "kg/cc"),
    *("km/h", "m/s", "ft/s", "mm/s", "m/s2", "m/s/s"),
    *("N/mm", "lbf/in", "N/m", "Nm/deg", "deg/s"),
    *("kg/m", "g/m", "lb/in", "lb/ft", "kg/m2", "g/m2", "g/dm2"),
    *("kg/kW", "kg/hp", "lb/hp", "kW/kg", "hp/t", "kW/L", "hp/L"),
    *("kg/h", "g/s", "L/min", "L/h"),
)
"""Joined names worth offering, commonest first within a dimension; every other join can be written too."""

MONEY_PER: tuple[str, ...] = ("kg", "L", "h", "kW")
"""What the currency is commonly joined to."""

MINOR_DIGITS: dict[str, int] = {
    **dict.fromkeys(("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF"), 0),
    **dict.fromkeys(("UGX", "VND", "VUV", "XAF", "XOF", "XPF"), 0),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
}
"""Decimals of currencies that do not have two.

Source: ISO 4217 (JPY, BHD and BIF checked against a public list of codes, the rest recalled).
"""
