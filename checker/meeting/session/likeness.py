"""Whether loads look like the car they are said to be of.

Left and right, or front and rear, read from the wrong pads give numbers that fit the car far better when they are
exchanged. A total that is far from what the car should weigh is another car, or a slip of the finger.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from checker.car.car import Car
from checker.car.described.standard import WHEELS
from checker.car.weights.states import state_of
from checker.meeting.record.car_contents import Weighed
from checker.meeting.record.car_day import CarDay, Record
from checker.meeting.record.refusal import problem
from checker.meeting.session.basis import Basis
from checker.meeting.session.gear import kg
from checker.meeting.session.reasons import NotSettled
from checker.quantities.amount import Amount, kilograms
from checker.quantities.display import decimal_text
from checker.quantities.kind import Unknown
from checker.quantities.reason import Reason
from checker.reading.problems import InputError, Problem

FAR_OFF = Fraction(1, 20)
"""A total that differs by more than this part of what was expected is not this car. Common practice, no source."""

CLEARER = 3
"""Exchanged loads must fit so many times better before anything is said. Chosen by trying."""

EXCHANGES: Mapping[str, tuple[str, ...]] = {
    "left and right": ("front_right", "front_left", "rear_right", "rear_left"),
    "front and rear": ("rear_left", "rear_right", "front_left", "front_right"),
    "both diagonals": ("rear_right", "rear_left", "front_right", "front_left"),
}
"""Where each of `WHEELS` would have stood."""


def unlike(
    basis: Basis, car: CarDay, weighed: Weighed, read: Car, before: Sequence[Record[Weighed]]
) -> list[Reason]:
    """What looks wrong with a reading: pads exchanged, or not this car at all.

    Args:
        basis: What the meeting is judged by.
        car: The car as the record has it.
        weighed: The new reading.
        read: The car with the reading over its declaration, for the state it stood in.
        before: Other readings of the same set, which it should repeat.
    """
    shown = {name: kg(text) for name, text in weighed.loads.items()}
    if before:
        expected, source = _mean([record.content for record in before]), "the weighing before"
    else:
        expected, source = _predicted(basis, car, read), "the declaration"
    gear = basis.gear.get(weighed.gear)
    heaviest = max(shown.values())
    allowance = gear.allowance(heaviest, heaviest) if gear else Fraction(2)
    found: list[Reason] = []
    total, wanted = sum(shown.values(), Fraction(0)), expected.get("total")
    if wanted and abs(total - wanted) > FAR_OFF * wanted:
        why = NotSettled.FAR_ABOVE if total > wanted else NotSettled.FAR_BELOW
        return [Reason(why, (_kg(total), _kg(abs(total - wanted)), _kg(wanted), source))]
    if set(shown) == set(WHEELS):
        four = gear.allowance(*[heaviest] * 4) if gear else 2 * allowance
        found += _exchanged(shown, expected, allowance, source, four if before else None)
    return found


def _exchanged(
    shown: Mapping[str, Fraction],
    expected: Mapping[str, Fraction],
    allowance: Fraction,
    source: str,
    most: Fraction | None,
) -> list[Reason]:
    """Whether the numbers fit far better once exchanged.

    Args:
        most: What two sides or ends of one car can differ by in two weighings on pads in order, for a reading that
            repeats another; single wheels aside, which move as the car settles.
    """
    as_typed = _distance(pairs_of(shown), expected)
    best = min(EXCHANGES, key=lambda name: _distance(pairs_of(_moved(shown, EXCHANGES[name])), expected))
    exchanged = _distance(pairs_of(_moved(shown, EXCHANGES[best])), expected)
    moved = _moved(shown, EXCHANGES[best])
    fits = (
        most is not None and not _repeats(shown, expected, most) and _repeats(moved, expected, most)
    )  # no two weighings on pads in order are so far apart
    if not fits and as_typed <= CLEARER * max(exchanged, allowance):
        return []
    return [Reason(NotSettled.LOOKS_EXCHANGED, (best, _kg(as_typed), source, _kg(exchanged)))]


def as_warning(unlike: Reason) -> Problem:
    """What looks wrong with a reading, as it is told when it is entered."""
    code, cure = "MT313", "Right car? All digits typed?"
    if unlike.why is NotSettled.LOOKS_EXCHANGED:
        code, cure = "MT312", "look which pad the display showed, and correct the reading if so"
    return problem(code, unlike.told(), cure, warning=True)


def _predicted(basis: Basis, car: CarDay, read: Car) -> dict[str, Fraction]:
    try:
        declared = basis.judge.declared(basis.declaration(car))
    except InputError:
        return {}
    return expected_weights(declared, read)


def expected_weights(declared: Car, read: Car) -> dict[str, Fraction]:
    """What a declaration says the car should weigh in the state that it stood in when officials weighed it, in kg.

    Args:
        declared: The car as its entrant declares it.
        read: The car with the official weighing.

    Returns:
        The total, sides and axles, as far as the declaration tells them.
    """
    state = state_of(
        _known(read, "weighing.fuel"),
        _known(read, "weighing.driver"),
        _known(read, "weighing.tyres"),
        {"new": Fraction(0), "worn": Fraction(1)}.get(str(read.value("weighing.wear"))),
    )
    weights = declared.weights(state)
    found = {name: weights.weight(name) for name in ("total", "left", "right", "front", "rear")}
    return {name: amount for name, amount in found.items() if not isinstance(amount, Unknown)}


def _known(car: Car, name: str) -> Any:
    value = car.value(name)
    return None if isinstance(value, Unknown) else value


def _mean(weighings: Sequence[Weighed]) -> dict[str, Fraction]:
    """The pairs of several readings of one shape, each by its mean."""
    every = [pairs_of({name: kg(text) for name, text in weighed.loads.items()}) for weighed in weighings]
    return {name: sum((pairs[name] for pairs in every), Fraction(0)) / len(every) for name in every[0]}


def pairs_of(loads: Mapping[str, Fraction]) -> dict[str, Fraction]:
    """Total, axles and sides, as far as the loads tell them; and the loads themselves."""
    found = dict(loads)
    found["total"] = sum(loads.values(), Fraction(0))
    if set(loads) == set(WHEELS):
        for pair in ("front", "rear", "left", "right"):
            found[pair] = sum(
                (load for wheel, load in loads.items() if pair in wheel.split("_")), Fraction(0)
            )
    return found


def _moved(loads: Mapping[str, Fraction], exchange: Sequence[str]) -> dict[str, Fraction]:
    return {place: loads[wheel] for wheel, place in zip(WHEELS, exchange, strict=True)}


def _distance(loads: Mapping[str, Fraction], expected: Mapping[str, Fraction]) -> Fraction:
    """The greatest difference of what both tell, the total aside: exchanging changes it never."""
    return max(
        (abs(loads[n] - expected[n]) for n in expected if n in loads and n != "total"), default=Fraction(0)
    )


def _repeats(loads: Mapping[str, Fraction], expected: Mapping[str, Fraction], most: Fraction) -> bool:
    """Whether both sides and both ends are as they were, within what pads in order may show."""
    pairs = pairs_of(loads)
    return all(
        abs(pairs[n] - expected[n]) <= most for n in ("left", "right", "front", "rear") if n in expected
    )


def _kg(amount: Fraction) -> Amount:
    return kilograms(Fraction(decimal_text(amount, 1)))
