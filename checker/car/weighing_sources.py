"""Sources of error of a weighing: what each pad resolves and is allowed to be out by.

A pad's error is the same whenever the same pad stands under a wheel, so it is one source for all repeat
readings, and goes where the pad goes when pads are swapped. The rounding of the display is new in every
reading.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from checker.car.sources import WEIGHTS, Lever, Source, permissible_variance, resolution_variance
from checker.car.stated import Stated
from checker.car.weighing import PADS, Reading

if TYPE_CHECKING:
    from checker.car.car import Car

_SIDE = {"left": "right", "right": "left"}
_END = {"front": "rear", "rear": "front"}


def weighing_sources(car: Car) -> Iterator[Source]:
    """Sources of every pad, or of the weighbridge, that the weighing was made with."""
    gear = car.instrument(car.weighing.instrument) if car.weighing.instrument else None
    if gear is None or not car.weighing.readings:
        return
    for number, reading in enumerate(car.weighing.readings):
        for load in reading.loads:
            if gear.resolution:
                yield Source(
                    f"{gear.name}, resolution",
                    resolution_variance(gear.resolution),
                    WEIGHTS,
                    Lever(f"reading {number}, {load}", _load_shift(number, load)),
                )
    for pad in car.weighing.shape:
        error = gear.permissible_at(car.weighing.loads()[pad])
        if error:
            yield Source(
                f"{gear.name}, permissible error",
                permissible_variance(error),
                WEIGHTS,
                Lever(f"pad {pad}", _pad_shift(pad)),
                advice="use better pads, or weigh again with the pads swapped",
            )


def pad_under(wheel: str, pads: str) -> str:
    """Which pad, by the wheel that it is marked for, stood under a wheel."""
    end, _, side = wheel.partition("_")
    if pads == PADS[0] or not side:
        return wheel
    return f"{end}_{_SIDE[side]}" if pads == PADS[1] else f"{_END[end]}_{_SIDE[side]}"


def _load_shift(number: int, load: str) -> Callable[[Car, Fraction], Car]:
    def shift(car: Car, step: Fraction) -> Car:
        readings = list(car.weighing.readings)
        readings[number] = _moved(readings[number], {load: step})
        return car.with_weighing(replace(car.weighing, readings=tuple(readings)))

    return shift


def _pad_shift(pad: str) -> Callable[[Car, Fraction], Car]:
    def shift(car: Car, step: Fraction) -> Car:
        readings = tuple(
            _moved(reading, {load: step for load in reading.loads if pad_under(load, reading.pads) == pad})
            for reading in car.weighing.readings
        )
        return car.with_weighing(replace(car.weighing, readings=readings))

    return shift


def _moved(reading: Reading, steps: dict[str, Fraction]) -> Reading:
    loads: dict[str, Stated] = {
        name: replace(stated, value=stated.value + steps[name]) if name in steps else stated
        for name, stated in reading.loads.items()
    }
    return replace(reading, loads=loads)
