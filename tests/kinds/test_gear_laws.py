"""Laws of gear and verdicts: more error never makes a verdict firmer, and which side is called left does not matter."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import assume, given
from hypothesis import strategies as st

from checker.car.car import Car
from checker.car.scene import Scene
from checker.car.weights.states import state_of
from checker.kinds.judging.assessment import FAIL, PASS, TOO_CLOSE
from checker.kinds.judging.spread import relevant, sensitivities, total
from checker.quantities.kind import Unknown
from tests.building import outcome_of, pack_of_check
from tests.car.cars import known, loaded, made_up_cars, varied
from tests.car.test_weight_laws import mirrored
from tests.examples import examples

TENTHS = st.integers(0, 20).map(lambda n: Fraction(n, 10))
KINDS = st.sampled_from(["resolution", "permissible_error", "uncertainty"])
LIMITS = {
    "weight.total": "at_least: 600 kg",
    "percentage.left": "at_most: 51 %",
    "percentage.front": "at_least: 47 %, at_most: 48 %",
}


def verdict(limit: str, total_kg: Fraction, gear: dict[str, Fraction], common: Fraction = Fraction(0)) -> str:
    pack = pack_of_check(f"{{limit: {limit}, {LIMITS[limit]}, condition: as_weighed}}")
    quarter = (total_kg - 6) / 4
    loads = dict(zip(("front_left", "front_right", "rear_left", "rear_right"), (-4, -7, 11, 6), strict=True))
    shown = ", ".join(f"{wheel}: {float(quarter + kg):.4f} kg" for wheel, kg in loads.items())
    stated = ", ".join(
        [*(f"{key}: {float(kg)} kg" for key, kg in gear.items()), f"common_error: {float(common)} %"]
    )
    car = f"weighing: {{instrument: pads, readings: [{{{shown}}}]}}\ninstruments: {{pads: {{{stated}}}}}"
    return outcome_of(pack, car).outcome


@examples(60)
@given(
    limit=st.sampled_from(sorted(LIMITS)),
    total_kg=st.integers(5970, 6030).map(lambda n: Fraction(n, 10)),
    what=KINDS,
    less=TENTHS,
    more=TENTHS,
)
def test_worse_gear_never_makes_a_verdict_firmer(
    limit: str, total_kg: Fraction, what: str, less: Fraction, more: Fraction
) -> None:
    assume(less > 0 or what != "resolution")  # a display without a step is refused
    before = verdict(limit, total_kg, {what: less})
    after = verdict(limit, total_kg, {what: less + more})
    assert after in (before, TOO_CLOSE)


@examples(30)
@given(total_kg=st.integers(5970, 6030).map(lambda n: Fraction(n, 10)), less=TENTHS, more=TENTHS)
def test_a_common_error_bears_on_the_total_alone(total_kg: Fraction, less: Fraction, more: Fraction) -> None:
    gear = {"permissible_error": Fraction(1, 2)}
    for limit in ("percentage.left", "percentage.front"):
        assert verdict(limit, total_kg, gear, less) == verdict(limit, total_kg, gear, more)
    before, after = (verdict("weight.total", total_kg, gear, common) for common in (less, less + more))
    assert after in (before, TOO_CLOSE)
    assert {before, after} <= {PASS, FAIL, TOO_CLOSE}


def variances(car: Car, names: tuple[str, ...]) -> list[Fraction]:
    scene = Scene(car, state_of(Fraction(5_000_000), "aboard", "wet", Fraction(1)))

    def compute(there: Scene) -> tuple[Fraction, ...] | Unknown:
        return tuple(known(there.percentage(name)) for name in names)

    here = compute(scene)
    assert not isinstance(here, Unknown)
    uses = frozenset(f"percentage.{name}" for name in names)
    found = sensitivities(compute, scene, relevant(scene, uses), uses, here)
    assert not isinstance(found, Unknown)
    return [total(one.variance for one in part) for part in found]


GEAR: dict[str, Any] = {
    "instruments": {"pads": {"resolution": "0.5 kg", "permissible_error": "2 kg", "common_error": "0.1 %"}},
    "weighing.instrument": "pads",
}


@examples(40)
@given(declaration=made_up_cars())
def test_left_and_right_swapped_with_the_course_leave_the_uncertainty(declaration: dict[str, Any]) -> None:
    one = varied(GEAR, declaration)
    other = varied(GEAR, mirrored(declaration))
    left = variances(loaded(one, course="anticlockwise"), ("inside", "rear"))
    right = variances(loaded(other, course="clockwise"), ("inside", "rear"))
    for a, b in zip(left, right, strict=True):
        assert abs(a - b) <= max(a, b) / 10**9


@examples(40)
@given(declaration=made_up_cars())
def test_inside_and_outside_are_known_equally_well(declaration: dict[str, Any]) -> None:
    inside, outside = variances(loaded(varied(GEAR, declaration)), ("inside", "outside"))
    assert abs(inside - outside) <= inside / 10**9
