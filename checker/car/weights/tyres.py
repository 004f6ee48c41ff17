"""What a tyre set says of the tyre at one wheel: its own measure, or that of both tyres of its axle."""

from __future__ import annotations

from typing import Any

from checker.car.described.asking import Stating
from checker.quantities.kind import Unknown


def of_tyre(car: Stating, tyre_set: str, wheel: str, what: str) -> Any:
    """The mass, section or radius of the tyre at a wheel ("front_left"), or `Unknown` that names it."""
    stated = car.stated(name := tyre_named(car, tyre_set, wheel, what))
    return Unknown(absent=(name,)) if stated is None else stated.value


def tyre_named(car: Stating, tyre_set: str, wheel: str, what: str) -> str:
    """The name under which that is stated, or under which it is to be."""
    axle, side = wheel.split("_")
    both = f"tyres.{tyre_set}.{axle}"
    own, other = (f"{both}.{one}.{what}" for one in (side, "right" if side == "left" else "left"))
    of_axle = f"{both}.{what}"
    return own if car.stated(own) or (car.stated(other) and not car.stated(of_axle)) else of_axle
