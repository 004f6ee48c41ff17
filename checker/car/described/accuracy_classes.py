"""How far a verified weighing instrument may be out, by its accuracy class and the load on it.

The largest error allowed grows in steps with the load, counted in verification scale intervals. Loads and intervals
are exact, so a load on a step belongs to the lower one: in binary floats 100.1 kg by 0.1 kg would be 1000.999... of
them.

Sources: OIML R 76-1:2006, 3.5.1 Table 6 and Table 3, in service twice as much (3.5.2); NIST Handbook 44, section 2.20,
Table 6, maintenance tolerances (acceptance tolerances are half; class IIII recalled).
"""

from __future__ import annotations

from fractions import Fraction

from checker.reading.quick_dataclasses import dataclass

OIML, NIST = "OIML R 76", "NIST Handbook 44"
STANDARDS = (OIML, NIST)
CLASSES = ("II", "III", "IIII")

_HALF = Fraction(1, 2)
_Steps = tuple[tuple[int | None, Fraction], ...]
"""Largest number of intervals of each step (None: no end), and the error allowed in intervals."""

_OIML: dict[str, _Steps] = {
    name: ((first, _HALF), (second, Fraction(1)), (None, 3 * _HALF))
    for name, first, second in (("II", 5000, 20000), ("III", 500, 2000), ("IIII", 50, 200))
}
_NIST: dict[str, _Steps] = {
    name: tuple(zip((*ends, None), (Fraction(n, 2) for n in (1, 2, 3, 5)), strict=True))
    for name, ends in (("III", (500, 2000, 4000)), ("IIII", (50, 200, 400)))
}
TABLES = {OIML: _OIML, NIST: _NIST}
"""Of each standard, by class."""

_MOST_INTERVALS = {"II": 100_000, "III": 10_000, "IIII": 1_000}
"""Intervals that an instrument of the class has at most."""


@dataclass(frozen=True, slots=True)
class AccuracyClass:
    """The class and interval on an instrument's plate."""

    name: str
    """One of `CLASSES`."""
    interval_kg: Fraction
    """Verification scale interval."""
    in_service: bool = True
    """In use, where twice the error of initial verification is allowed."""
    standard: str = OIML

    def permissible_kg(self, load_kg: Fraction) -> Fraction:
        """Half-width of the error allowed at a load."""
        intervals = abs(load_kg) / self.interval_kg
        steps = TABLES[self.standard][self.name]
        allowed = next(error for end, error in steps if end is None or intervals <= end)
        return allowed * self.interval_kg * (2 if self.in_service else 1)

    @property
    def most_kg(self) -> Fraction:
        """The greatest load that an instrument of this class and interval can be made for."""
        return _MOST_INTERVALS[self.name] * self.interval_kg
