"""The system of units that masses and lengths are shown in: that of the rules, unless a reader asks for another.

What is asked for holds for one run of a command, like the width of the page: it is set once, where the command line is
read (`showing`), and asked where an amount becomes text (`shown_in`). Nothing is computed in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from fractions import Fraction

from checker.quantities.dimension import LENGTH, MASS
from checker.quantities.rounding import round_to
from checker.quantities.units import Unit, parse_unit

SYSTEMS = ("metric", "us")
"""kg and mm; lb and inches."""

_UNITS = {
    "metric": {MASS: parse_unit("kg", None), LENGTH: parse_unit("mm", None)},
    "us": {MASS: parse_unit("lb", None), LENGTH: parse_unit("in", None)},
}
_ASKED: ContextVar[str | None] = ContextVar("units asked for", default=None)
_PARTS = 16
"""Of an inch: the finest division of an ordinary rule."""


@contextmanager
def showing(system: str | None) -> Iterator[None]:
    """Show masses and lengths in a system of units; None: as the rules and the car's file write them."""
    before = _ASKED.set(system)
    try:
        yield
    finally:
        _ASKED.reset(before)


def asked_system() -> str | None:
    return _ASKED.get()


def shown_in(unit: Unit | None) -> Unit | None:
    """The unit that an amount is shown in which the rules write in another."""
    asked = _ASKED.get()
    if unit is None or asked is None or unit.kind.name != "quantity":
        return unit
    return _UNITS[asked].get(unit.kind.dimension, unit)


def in_sixteenths(value: Fraction, unit: Unit | None, mode: str) -> str | None:
    """A length in inches and sixteenths, "63 7/16 in"; None where it is not to be told so.

    What is less than a sixteenth, or between two of them where it is not to be rounded, is told in decimals.

    Args:
        mode: `up`, `down` or `nearest`, or `exact`: not at all.
    """
    if _ASKED.get() != "us" or unit is None or unit.kind.dimension != LENGTH:
        return None
    parts = value / unit.factor * _PARTS
    rounded = int(round_to(parts, Fraction(1), {"exact": "down", "nearest": "half_even"}.get(mode, mode)))
    if abs(parts) < 1 or (mode == "exact" and rounded != parts):
        return None
    whole, rest = divmod(abs(rounded), _PARTS)
    part = Fraction(rest, _PARTS)
    told = " ".join(str(one) for one in (whole, part) if one)
    return f"{'-' if rounded < 0 else ''}{told} {unit.name}"
