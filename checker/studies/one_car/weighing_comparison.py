"""Two weighings of one car, at home and at the club: how far they differ, and whether that means anything.

The club's weighing is corrected to the condition of the one at home by the levers, as any other state of the car. The
difference is then held against what both sets of gear leave open: beyond its expanded uncertainty, one of them is out.
What falls on one single wheel is never predicted, so pads are compared only where both weighings were made in the same
condition.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.standard import WHEELS
from checker.car.scene import Scene
from checker.car.weights.differences import WeightChange
from checker.car.weights.states import state_of
from checker.car.weights.weights import PAIRS, State
from checker.kinds.judging.spread import effective_degrees, total, value_followed, weight_named
from checker.quantities.elementary import sqrt
from checker.quantities.kind import Unknown, unite
from checker.reading.quick_dataclasses import KW_ONLY, dataclass
from checker.verdict.decision import coverage_factor

PERCENTAGES = ("left", "front")
"""Parts of the weight that are compared beside the weights themselves."""


@dataclass(frozen=True, slots=True)
class WeightDifference:
    """One weight, or one part of the weight, by both weighings."""

    name: str
    """ "weight.total", "percentage.left", "weight.front_left"."""
    home: Fraction
    """kg, or a ratio."""
    club: Fraction
    """Corrected to the condition at home."""
    variance: Fraction
    """Of the difference."""
    factor: Fraction
    """Two-sided coverage factor."""

    @property
    def offset(self) -> Fraction:
        """What home shows too much."""
        return self.home - self.club

    @property
    def expanded(self) -> Fraction:
        """Half-width of the interval in which the difference means nothing."""
        return self.factor * sqrt(self.variance)

    @property
    def is_real(self) -> bool:
        """Whether it is more than the gear of both leaves open."""
        return self.offset * self.offset > self.factor * self.factor * self.variance


@dataclass(frozen=True, slots=True)
class WeighingComparison:
    """Two weighings of one car, held against each other."""

    home: Car
    club: Car
    changes: tuple[WeightChange, ...]
    """What the club's weighing was corrected by."""
    differences: tuple[WeightDifference, ...]
    _: KW_ONLY
    not_shown: Unknown
    """What would be needed to compare what is not in `differences`."""
    unstated_gear: tuple[str, ...]
    """Which of "home" and "club" do not say how far what they weighed with may be out: then no difference can be
    judged."""
    offsets: dict[str, Fraction]
    """What is to be added to each pad's reading at home ("" for every pad's, or a plate's), all offsets included."""
    confidence: Fraction
    """Of the intervals in which a difference means nothing."""

    @property
    def set_down_differently(self) -> bool:
        """Whether single wheels differ, and neither the total nor any axle or side: the car stood otherwise on its
        springs."""
        return not self.unstated_gear and _is_twist(self.differences)

    @property
    def agrees(self) -> bool | None:
        """Whether both agree within what their gear leaves open; None where that cannot be told."""
        if self.differences and not any(difference.offset for difference in self.differences):
            return True
        if self.unstated_gear or not self.differences:
            return None
        return not self.offsets and not any(difference.is_real for difference in self.differences)


def compare_weighings(home: Car, club: Car, confidence: Fraction) -> WeighingComparison:
    """Hold a weighing at home against one at the club.

    Args:
        home: The car as weighed at home.
        club: The same car with the club's weighing in place of its own.
        confidence: Of the interval in which a difference means nothing, e.g. 95 %.
    """
    both = (("home", home), ("club", club))
    unstated = tuple(which for which, car in both if car.gear is None or not car.gear.tells_error)
    state = _condition_of(home)
    if isinstance(state, Unknown):
        return WeighingComparison(
            home, club, (), (), not_shown=state, unstated_gear=unstated, offsets={}, confidence=confidence
        )
    corrected = club.weights(state)
    names = [f"weight.{name}" for name in PAIRS]
    names += [f"percentage.{name}" for name in PERCENTAGES]
    # a wheel is compared as weighed: it is never predicted, not by an error of the fuel either
    if not corrected.changes:
        names += [f"weight.{wheel}" for wheel in WHEELS]
    found: list[WeightDifference] = []
    unknown: list[Unknown] = []
    for name in names:
        there = Scene(club) if name.partition(".")[2] in WHEELS else Scene(club, state)
        difference = _difference(name, Scene(home), there, confidence)
        if isinstance(difference, WeightDifference):
            found.append(difference)
        elif name.partition(".")[2] in PAIRS:
            unknown.append(difference)
    return WeighingComparison(
        home,
        club,
        corrected.changes,
        tuple(found),
        not_shown=unite(unknown),
        unstated_gear=unstated,
        offsets={} if unstated or _is_twist(found) else _offsets(home, found),
        confidence=confidence,
    )


def _is_twist(found: Sequence[WeightDifference]) -> bool:
    wheels = [one.is_real for one in found if one.name.partition(".")[2] in WHEELS]
    others = [one.is_real for one in found if one.name.partition(".")[2] not in WHEELS]
    return any(wheels) and not any(others)


def _condition_of(car: Car) -> State | Unknown:
    """The state that the car was weighed in; unknown where not all of it is stated."""
    facts = {name: car.value(f"weighing.{name}") for name in ("fuel", "driver", "tyres", "wear")}
    unknown = [value for value in facts.values() if isinstance(value, Unknown)]
    if unknown:
        return unite(unknown)
    wear = Fraction(int(facts["wear"] == "worn"))
    return state_of(facts["fuel"], facts["driver"], facts["tyres"], wear)


def _difference(name: str, home: Scene, club: Scene, confidence: Fraction) -> WeightDifference | Unknown:
    sides = []
    for scene in (home, club):
        found = value_followed(lambda there: weight_named(there, name), scene, frozenset((name,)))
        if isinstance(found, Unknown):
            return found
        sides.append(found)
    both = [one for _, found in sides for one in found]
    variance = total(one.variance for one in both)
    two_sided = (1 + confidence) / 2
    factor = coverage_factor(two_sided, effective_degrees(both, variance) if variance else None)
    return WeightDifference(name, sides[0][0], sides[1][0], variance, factor)


# -- what to enter at home ---------------------------------------------------------------------------


def _offsets(home: Car, found: Iterable[WeightDifference]) -> dict[str, Fraction]:
    """What the home gear's offsets are to be, to show what the club's shows; {} where nothing real is to be set right.

    Each pad by itself where single wheels could be compared, else every load by the same, so that the total comes out.
    """
    by_name = {difference.name: difference for difference in found}
    gear = home.gear
    assert gear is not None
    wheels = {wheel: by_name.get(f"weight.{wheel}") for wheel in WHEELS}
    known = {wheel: d for wheel, d in wheels.items() if d is not None}
    if len(known) == len(WHEELS) and (
        any(doubt.half_widths_kg for doubt in home.pad_doubts) or any(d.is_real for d in known.values())
    ):
        by_pad: dict[str, list[Fraction]] = {}
        for wheel, difference in known.items():
            for reading in home.weighing.readings:
                lacking = difference.club - reading.loads[wheel].value
                by_pad.setdefault(reading.pad_under(wheel), []).append(lacking)
        return {
            pad: gear.offsets.get(pad, gear.offsets.get("", Fraction(0))) + sum(kg, Fraction(0)) / len(kg)
            for pad, kg in by_pad.items()
        }
    whole = by_name.get("weight.total")
    if whole is None or not whole.is_real:
        return {}
    each = -whole.offset / len(home.weighing.shape)
    if gear.offsets and "" not in gear.offsets:
        return {pad: gear.offsets.get(pad, Fraction(0)) + each for pad in home.weighing.pads}
    return {"": gear.offsets.get("", Fraction(0)) + each}
