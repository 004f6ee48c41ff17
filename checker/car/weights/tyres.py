"""What a tyre set says of the tyre at one wheel: its own measure, or that of both tyres of its axle."""

from __future__ import annotations

from typing import Any

from checker.car.described.asking import Stating
from checker.quantities.kind import Unknown


def of_tyre(car: Stating, tyre_set: str, wheel: str, what: str) -> Any:
    """The mass, section or radius of the tyre at a wheel ("front_left"), or `Unknown` that names it."""
    axle, side = wheel.split("_")
    both = f"tyres.{tyre_set}.{axle}"
    own, other = (f"{both}.{one}.{what}" for one in (side, "right" if side == "left" else "left"))
    stated = car.stated(own) or car.stated(f"{both}.{what}")
    if stated is not None:
        return stated.value
    return Unknown(absent=(own if car.stated(other) else f"{both}.{what}",))
