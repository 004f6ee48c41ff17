"""Units as they are written: names of a closed list, alone or joined by `/`.

The list is closed and exact in case, so that a misspelt unit is an error with a hint and never a guess:
`Kg`, `l` and `lbs` are not units. Joined names divide, each in turn (`kg/L`, `m/s/s`). Only quantities may be
joined, so `%/deg` and `kg/day` are not units.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from checker.quantities import dimension as dimensions
from checker.quantities.dimension import (
    LENGTH,
    MONEY,
    NO_DIMENSION,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    Dimension,
)
from checker.quantities.kind import DAYS, Kind, quantity
from checker.quantities.unit_table import JOINED, MINOR_DIGITS, MONEY_PER, OTHERS, QUANTITIES, ZERO_AT
from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import dataclass

MOST_NAMES = 6
"""The most names that one unit may join."""

_CURRENCY = pattern("[A-Z]{3}")


@dataclass(frozen=True, slots=True)
class Unit:
    name: str
    kind: Kind
    """A quantity of some dimension, percent, days or months; a number for `mm/m`."""
    factor: Fraction
    """Base units per one of this unit: 1/100 for %, 12 (months) for years."""
    zero: Fraction = Fraction(0)
    """The base unit's value at its own zero: other than 0 for scales of temperature alone."""

    @property
    def is_scale(self) -> bool:
        """Whether it tells points of a scale, not amounts: its values have differences and no sums."""
        return self.kind in DIFFERENCES

    @property
    def step(self) -> Unit:
        """The unit of differences between its values."""
        if self.kind == MOMENT:
            return Unit("min", DIFFERENCES[MOMENT], self.factor)
        return Unit(self.name, TEMPERATURE_STEP, self.factor) if self.is_scale else self

    @property
    def absolute(self) -> Unit:
        """The scale of temperature that a unit of differences is a step of: from absolute zero for K and degR."""
        return Unit(self.name, TEMPERATURE_POINT, self.factor, ZERO_AT[self.name])


TEMPERATURE_POINT, TEMPERATURE_STEP = quantity(TEMPERATURE), quantity(TEMPERATURE_DIFFERENCE)
MOMENT = quantity(dimensions.MOMENT)
DIFFERENCES: dict[Kind, Kind] = {TEMPERATURE_POINT: TEMPERATURE_STEP, MOMENT: quantity(TIME)}
"""Kinds whose values lie on a scale with a zero of its own, and what two such values differ by."""
MOMENTS = Unit("day and time", MOMENT, Fraction(60))
"""What moments are told in; their differences are told in minutes."""


def difference_kind(kind: Kind) -> Kind:
    """What two values of a kind differ by: days, time between moments, steps between temperatures, else alike."""
    return DAYS if kind.name == "date" else DIFFERENCES.get(kind, kind)


class UnknownUnit(ValueError):
    """A unit that is not in the list.

    `name` is what was read and `hint` the change that would cure it, without a full stop.
    """

    def __init__(self, name: str, hint: str) -> None:
        super().__init__(f"{name} is not a unit; {hint}")
        self.name = name
        self.hint = hint


def is_currency(code: str) -> bool:
    """True for what a pack may name as its `currency`: three capital letters, as in ISO 4217."""
    return _CURRENCY.fullmatch(code) is not None


def minor_digits(currency: str) -> int:
    """Decimals that amounts of this currency are shown with: 2 where not known otherwise (ISO 4217)."""
    return MINOR_DIGITS.get(currency, 2)


@lru_cache(maxsize=1024)
def parse_unit(text: str, currency: str | None) -> Unit:
    """The unit of that name.

    Args:
        text: `%`, `days`, or names of quantities joined by `/` without blanks.
        currency: The pack's currency, e.g. "GBP"; None where there is none, then no unit is money.

    Raises:
        UnknownUnit: It is not in the list, or joins what cannot be joined.
    """
    if text in OTHERS:
        kind, factor = OTHERS[text]
        return Unit(text, kind, factor)
    if text in ZERO_AT and QUANTITIES[text][0] == TEMPERATURE:
        return Unit(text, TEMPERATURE_POINT, QUANTITIES[text][1], ZERO_AT[text])
    names = text.split("/", MOST_NAMES)
    if len(names) > MOST_NAMES:
        raise UnknownUnit(text, f"join at most {MOST_NAMES} names by /")
    dimension, product = _one(names[0], text, currency)
    for name in names[1:]:
        its_dimension, factor = _one(name, text, currency)
        dimension, product = dimension / its_dimension, product / factor
    return Unit(text, quantity(dimension), product)


def _one(name: str, text: str, currency: str | None) -> tuple[Dimension, Fraction]:
    if name in QUANTITIES:
        if QUANTITIES[name][0] == TEMPERATURE:
            step = "K" if name == "degC" else "degR"
            raise UnknownUnit(text, f"{name} tells temperatures; its steps are {step}, as in W/{step}")
        return QUANTITIES[name]
    if name == currency:
        return MONEY, Fraction(1)
    if name in OTHERS:
        raise UnknownUnit(text, f"{name} cannot be joined to another unit by /")
    from checker.quantities.unit_hints import hint  # only needed when something is wrong

    raise UnknownUnit(text, hint(name, text, currency))


@lru_cache(maxsize=256)
def units_of(kind: Kind, currency: str | None) -> tuple[str, ...]:
    """Names of units in which a value of that kind may be written, commonest first; none for a plain number.

    Single names are complete. Of joined ones only the common are named, or else one that always does.
    """
    if kind.name != "quantity":
        return tuple(name for name, (its_kind, _) in OTHERS.items() if its_kind == kind)
    if kind.dimension == MONEY:
        return (currency,) if currency else ()
    if kind == MOMENT:
        return ()
    if kind in (TEMPERATURE_POINT, TEMPERATURE_STEP):
        scales, steps = ("degC", "degF"), ("K", "degR")
        return scales + steps if kind == TEMPERATURE_POINT else steps + scales
    singles = tuple(name for name, (dimension, _) in QUANTITIES.items() if dimension == kind.dimension)
    joined = tuple(name for name in _joined(currency) if parse_unit(name, currency).kind == kind)
    if singles or joined:
        # speed is the one quantity whose joined names are commoner than its single one
        return joined + singles if kind.dimension == LENGTH / TIME else singles + joined
    plain = _coherent_name(kind.dimension, currency)
    return () if plain is None else (plain,)


@lru_cache(maxsize=256)
def base_unit(kind: Kind, currency: str | None) -> Unit:
    """The unit to show where nothing names one: kg, m, s and their products (N, Pa, kg/m3); %, days, months.

    Where no unit of the list says it, the name is a product such as "kg m", which is for show only. A number,
    or a kind without magnitude, has the unit with the empty name.
    """
    if kind.name != "quantity":
        name = next((name for name, (its_kind, _) in OTHERS.items() if its_kind == kind), "")
        return parse_unit(name, currency) if name else Unit("", kind, Fraction(1))
    if kind == MOMENT:
        return MOMENTS
    name = _coherent_name(kind.dimension, currency) or _product_name(kind.dimension, currency)
    return Unit(
        name, kind, _coherent_factor(kind.dimension)
    )  # of temperatures degC, whose zero is the base's


_COHERENT: tuple[str, ...] = (
    *("kg", "m", "m2", "m3", "s", "Hz", "deg", "A", "K", "degC", "dBA", "dBC", "dB", "cd", "lx"),
    *("N", "Pa", "Nm", "W", "V", "ohm"),
)
"""Single names with factor one in kg, m, s and the rest, the one to show first."""

_SYMBOLS = ("kg", "m", "s", "deg", "K", "A", "dBA", "dBC", "dB", "cd")
"""In the order of the exponents of a dimension; money and temperatures follow."""

_SHOWN_ORDER = (0, 1, 5, 3, 4, 6, 7, 8, 9, 10, 11, 12, 2)
"""Time last, as in "kg m/s2" and "A s"."""


def _joined(currency: str | None) -> tuple[str, ...]:
    return JOINED if currency is None else (*JOINED, *(f"{currency}/{name}" for name in MONEY_PER))


def _coherent_factor(dimension: Dimension) -> Fraction:
    """Base units (of mm) per product of kg, m, s and the rest."""
    return Fraction(1000) ** dimension.exponents[1]


def _coherent_name(dimension: Dimension, currency: str | None) -> str | None:
    """A unit that can be written, of factor one in kg, m, s and the rest; None if there is none."""
    names = _COHERENT + _joined(currency) + ((currency,) if currency else ())
    for name in names:
        unit = parse_unit(name, currency)
        if unit.kind.dimension == dimension and unit.factor == _coherent_factor(dimension):
            return name
    over = Dimension(tuple(max(exponent, 0) for exponent in dimension.exponents))
    top = _coherent_name(over, currency) if over not in (dimension, NO_DIMENSION) else None
    if top is None:
        return None
    below: list[str] = []
    for place in _SHOWN_ORDER:
        left = max(-dimension.exponents[place], 0)
        symbol = (*_SYMBOLS, currency or "", "degC", "")[place]
        if left and not symbol:
            return None
        while left:
            power = min(left, 3) if symbol == "m" else 1
            below.append(f"{symbol}{power}" if power > 1 else symbol)
            left -= power
    return "/".join((top, *below)) if len(below) < MOST_NAMES else None


def _product_name(dimension: Dimension, currency: str | None) -> str:
    """Powers of units, "kg m/s2"; for show only."""
    symbols = (*_SYMBOLS, currency or "money", "degC", "moment")
    over: list[str] = []
    under: list[str] = []
    for place in _SHOWN_ORDER:
        power = dimension.exponents[place]
        if power:
            size = str(abs(power)) if abs(power) > 1 else ""
            (over if power > 0 else under).append(symbols[place] + size)
    return (" ".join(over) or "1") + "".join(f"/{name}" for name in under)
