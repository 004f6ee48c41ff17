"""Physical dimensions as exponents of a closed set of base quantities.

Money is a dimension like any other. A temperature is no difference of temperatures: its scale has a zero of its own,
so two of them have a difference and no sum. Levels in dB(A), dB(C) and dB without a weighting are three dimensions,
because they must never be compared.
"""

from __future__ import annotations

from checker.reading.quick_dataclasses import dataclass

BASES = (
    *("mass", "length", "time", "angle", "temperature difference", "current"),
    *("sound level A", "sound level C", "level", "luminous intensity", "money", "temperature", "moment"),
)
"""Base quantities, in the order of the exponents.

Base units: kg, mm, s, deg, K, A, dBA, dBC, dB, cd, the currency, degC, seconds since 1900.
"""

_NAMES = {
    (1, 0, 0, 0, 0, 0): "mass",
    (0, 1, 0, 0, 0, 0): "length",
    (0, 2, 0, 0, 0, 0): "area",
    (0, 3, 0, 0, 0, 0): "volume",
    (0, 0, 1, 0, 0, 0): "time",
    (0, 0, -1, 0, 0, 0): "frequency",
    (0, 1, -1, 0, 0, 0): "speed",
    (0, 1, -2, 0, 0, 0): "acceleration",
    (1, 1, -2, 0, 0, 0): "force",
    (1, -1, -2, 0, 0, 0): "pressure",
    (1, 2, -2, 0, 0, 0): "energy or torque",
    (1, 2, -3, 0, 0, 0): "power",
    (1, -3, 0, 0, 0, 0): "density",
    (1, 0, -2, 0, 0, 0): "stiffness",
    (1, 2, -3, 0, 0, -1): "voltage",
    (1, 2, -3, 0, 0, -2): "resistance",
    (0, 0, 1, 0, 0, 1): "electric charge",
}


@dataclass(frozen=True, slots=True)
class Dimension:
    """Exponents of the base quantities; multiplied, divided and raised like the quantities themselves."""

    exponents: tuple[int, ...] = (0,) * len(BASES)

    def __mul__(self, other: Dimension) -> Dimension:
        return Dimension(tuple(a + b for a, b in zip(self.exponents, other.exponents, strict=True)))

    def __truediv__(self, other: Dimension) -> Dimension:
        return Dimension(tuple(a - b for a, b in zip(self.exponents, other.exponents, strict=True)))

    def __pow__(self, power: int) -> Dimension:
        return Dimension(tuple(a * power for a in self.exponents))

    def halved(self) -> Dimension | None:
        """The dimension whose square this is, or None."""
        if any(a % 2 for a in self.exponents):
            return None
        return Dimension(tuple(a // 2 for a in self.exponents))

    @property
    def degree(self) -> int:
        """The largest exponent, without sign: bounds how far powers may be nested."""
        return max(abs(a) for a in self.exponents)

    @property
    def name(self) -> str:
        """In words: "mass", "density", or a product of bases where there is no word."""
        mechanical, others = self.exponents[:6], self.exponents[6:]
        if mechanical in _NAMES and not any(others):
            return _NAMES[mechanical]
        if self == LUMINOUS_INTENSITY / LENGTH**2:
            return "illuminance"
        for power, word in ((2, "squared"), (3, "cubed"), (4, "to the fourth")):
            for base in range(len(BASES)):
                if self == base_dimension(BASES[base]) ** power:
                    return f"{BASES[base]} {word}"
        over = [_power(n, a) for n, a in zip(BASES, self.exponents, strict=True) if a > 0]
        under = [_power(n, -a) for n, a in zip(BASES, self.exponents, strict=True) if a < 0]
        if not over and not under:
            return "number"
        return (" times ".join(over) or "1") + (f" per {' per '.join(under)}" if under else "")


def _power(name: str, exponent: int) -> str:
    return name if exponent == 1 else f"{name}^{exponent}"


def base_dimension(name: str) -> Dimension:
    """The dimension of one base quantity, by its name in `BASES`."""
    return Dimension(tuple(int(base == name) for base in BASES))


NO_DIMENSION = Dimension()
MASS = base_dimension("mass")
LENGTH = base_dimension("length")
TIME = base_dimension("time")
ANGLE = base_dimension("angle")
TEMPERATURE_DIFFERENCE = base_dimension("temperature difference")
TEMPERATURE = base_dimension("temperature")
MOMENT = base_dimension("moment")
CURRENT = base_dimension("current")
SOUND_A = base_dimension("sound level A")
SOUND_C = base_dimension("sound level C")
LEVEL = base_dimension("level")
LUMINOUS_INTENSITY = base_dimension("luminous intensity")
MONEY = base_dimension("money")
