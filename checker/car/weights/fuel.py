"""What fuel weighs and where it acts.

A tank whose shape moves the centre of the fuel with its level is described by a table of levels, each with the centre
of all the fuel up to it. What lies between two levels then acts at one place, the one that makes the moments of both
levels right. So weights run straight with the fuel from level to level, and the levels are corners of every condition
that reaches over them.

A density is stated for 15 degC unless said otherwise. Fuel that is warmer is lighter by the litre.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from checker.car.described.asking import Stating
from checker.car.weights.geometry import MaybeFraction, Spot
from checker.car.weights.places import spot_at
from checker.quantities.kind import Unknown, where_known
from checker.reading.quick_dataclasses import dataclass

STANDARD_DEGC = Fraction(15)
"""The temperature that a fuel's density is stated for (EN 228)."""

EXPANSION = Fraction(95, 100_000)
"""What petrol gains in volume for each degree, as a share (common practice, no source)."""


def density(car: Stating) -> MaybeFraction:
    """kg/mm3 of the fuel on board, at its temperature."""
    stated: MaybeFraction = car.value("fuel.density")
    now = car.stated("fuel.temperature")
    if now is None or isinstance(stated, Unknown):
        return stated
    then, expansion = car.stated("fuel.density_temperature"), car.stated("fuel.expansion")
    warmer: Fraction = now.value - (STANDARD_DEGC if then is None else then.value)
    return stated * (1 - Fraction(EXPANSION if expansion is None else expansion.value) * warmer)


@dataclass(frozen=True, slots=True)
class Layer:
    """Fuel between two levels, which acts at one spot."""

    low_mm3: Fraction
    high_mm3: Fraction | None
    """None: up to the top."""
    spot: Spot

    def part_of(self, amount_mm3: MaybeFraction) -> MaybeFraction:
        """What of an amount in the tank lies in this layer."""
        if isinstance(amount_mm3, Unknown) or (self.low_mm3 == 0 and self.high_mm3 is None):
            return amount_mm3
        top = amount_mm3 if self.high_mm3 is None else min(amount_mm3, self.high_mm3)
        return max(Fraction(0), top - self.low_mm3)


def layers(car: Stating) -> tuple[Layer, ...]:
    """The tank from bottom to top; one layer where its place is the same at every level."""
    if not car.tank_levels:
        return (Layer(Fraction(0), None, spot_at(car, "fuel.at")),)
    names = [f"fuel.at[{place}]" for place in range(car.tank_levels)]
    table: list[tuple[Fraction, Spot]] = [(car.value(f"{name}.level"), spot_at(car, name)) for name in names]
    found = [Layer(Fraction(0), table[0][0], table[0][1])]
    for (low, below), (high, whole) in pairwise(table):
        found.append(Layer(low, high, _spot_between(low, below, high, whole)))
    last = found.pop()
    return (*found, Layer(last.low_mm3, None, last.spot))


def _spot_between(low: Fraction, below: Spot, high: Fraction, whole: Spot) -> Spot:
    """Where the fuel between two levels acts, by the moments of all the fuel up to each."""

    def between(under: Fraction, up: Fraction) -> Fraction:
        return (high * up - low * under) / (high - low)

    return Spot(
        where_known(between, below.along, whole.along),
        where_known(between, below.across, whole.across),
        between(below.wheelbases, whole.wheelbases),
    )
