"""Sources of error of a weighing: how large they are, what they move, and what cancels."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.car import Car
from checker.car.described.asking import MEAN, WEIGHTS, single
from checker.car.described.standard import WHEELS
from checker.car.errors.cures import levelled
from checker.car.errors.every import sources_of
from checker.car.errors.sources import ErrorSource, moved
from checker.car.errors.weighing import REPEATS
from checker.car.gear.floor import Floor
from tests.car.cars import known, loaded, made_up_cars, varied
from tests.car.errors.one_by_one import every_source
from tests.examples import each_row

STEP = Fraction(1, 10**9)
LEVEL = {"across": "0.001 mm", "along": "0.001 mm"}


def weighed(loads: list[dict[str, Any]], gear: dict[str, Any], changes: dict[str, Any] | None = None) -> Car:
    return loaded(
        varied(
            {
                "instruments": {"pads": gear},
                "weighing.instrument": "pads",
                "weighing.readings": loads,
                **(changes or {}),
            }
        )
    )


def wheels(*kg: float | str, **more: Any) -> dict[str, Any]:
    return {**{wheel: f"{load} kg" for wheel, load in zip(WHEELS, kg, strict=True)}, **more}


ONE = wheels(150, 148, 172, 170)


def slope(car: Car, source: ErrorSource, name: str, which: int | None = None) -> Fraction:
    """What a weight (or "percentage.NAME") gains by the unit of the source."""

    def value(of: Car) -> Fraction:
        weights = of.weights(weighing=which)
        what, _, rest = name.rpartition(".")
        return known(weights.percentage(rest) if what else weights.weight(rest))

    return (value(moved(car, source.lever, STEP)) - value(car)) / STEP


def variance(car: Car, name: str, which: int | None = None) -> Fraction:
    tokens = (WEIGHTS, MEAN if which is None else single(which))
    return sum((slope(car, s, name, which) ** 2 * s.variance for s in sources_of(car, tokens)), Fraction(0))


def one(car: Car, name: str) -> ErrorSource:
    (found,) = [source for source in every_source(car) if name in source.name]
    return found


# -- pads --------------------------------------------------------------------------------------------


def test_pads_and_their_displays_are_independent() -> None:
    car = weighed([ONE], {"resolution": "0.5 kg", "permissible_error": "0.3 kg"})
    assert variance(car, "total") == 4 * (Fraction("0.25") / 12 + Fraction("0.09") / 3)


def test_the_display_is_rounded_anew_in_every_reading_and_a_pads_error_stays() -> None:
    gear = {"resolution": "0.5 kg", "permissible_error": "0.3 kg"}
    car = weighed([ONE, {**ONE, "pads": "swapped side to side"}], gear)
    assert variance(car, "total") == 4 * (Fraction("0.25") / 24 + Fraction("0.09") / 3)
    assert variance(car, "total", 0) == 4 * (Fraction("0.25") / 12 + Fraction("0.09") / 3)


def test_swapping_side_to_side_cancels_the_pads_in_the_sides_and_diagonally_in_both() -> None:
    """What is left in a percentage is only that the errors are in the total too."""
    loads = wheels(150, 150, 150, 150)
    gear = {"permissible_error": "0.5 kg"}
    plain = weighed([loads], gear, {"weighing.floor": LEVEL})
    side = weighed([loads, {**loads, "pads": "swapped side to side"}], gear, {"weighing.floor": LEVEL})
    both = weighed([loads, {**loads, "pads": "swapped diagonally"}], gear, {"weighing.floor": LEVEL})
    nothing = Fraction(1, 10**9)
    assert variance(plain, "percentage.left") > Fraction(1, 10**7)
    assert variance(side, "percentage.left") < nothing < variance(side, "percentage.front")
    assert max(variance(both, "percentage.left"), variance(both, "percentage.front")) < nothing
    assert variance(plain, "total") == variance(side, "total") == variance(both, "total")


def test_one_plate_under_both_axles_is_out_by_the_same_twice() -> None:
    loads = {"front": "298 kg", "rear": "342 kg"}
    plates = weighed([loads], {"permissible_error": "0.5 kg"}, {"weighing.floor": LEVEL})
    plate = weighed(
        [{**loads, "pads": {"front": "plate", "rear": "plate"}}],
        {"permissible_error": "0.5 kg"},
        {"weighing.floor": LEVEL},
    )
    assert variance(plate, "total") == 2 * variance(plates, "total")
    assert variance(plate, "percentage.front") < variance(plates, "percentage.front") / 100


@given(declaration=made_up_cars(), percent=st.integers(1, 20))
def test_a_common_scale_error_never_changes_a_percentage(declaration: dict[str, Any], percent: int) -> None:
    gear = {"instruments": {"pads": {"common_error": f"0.{percent:02} %"}}, "weighing.instrument": "pads"}
    car = loaded(varied(gear, declaration))
    common = one(car, "common error")
    for name in ("left", "right", "front", "rear", "front_left", "cross"):
        assert slope(car, common, f"percentage.{name}") == 0
    assert slope(car, common, "total") == known(car.weights().weight("total"))
    assert common.variance == Fraction(percent, 10_000) ** 2 / 3


# -- repeats -----------------------------------------------------------------------------------------

TENTHS = st.integers(1000, 2000).map(lambda tenths: tenths / 10)
REPEATED = st.lists(st.lists(TENTHS, min_size=4, max_size=4), min_size=2, max_size=5)


def moments(values: list[Fraction]) -> tuple[Fraction, Fraction]:
    """Mean and experimental variance (JCGM 100, 4.2.2)."""
    mean = sum(values, Fraction(0)) / len(values)
    return mean, sum(((v - mean) ** 2 for v in values), Fraction(0)) / (len(values) - 1)


@given(readings=REPEATED)
def test_repeats_give_the_experimental_variance_of_the_mean_of_any_sum(readings: list[list[float]]) -> None:
    """And of single readings; wheels that gain what others lose leave the total alone."""
    car = weighed([wheels(*kg) for kg in readings], {"permissible_error": "0 kg"}, {"weighing.floor": LEVEL})
    exact = [[Fraction(str(kg)) for kg in reading] for reading in readings]
    repeats = [s for s in every_source(car) if s.name == REPEATS]
    assert {s.degrees_of_freedom for s in repeats} <= {Fraction(len(readings) - 1)}
    for name, parts in (("total", (0, 1, 2, 3)), ("left", (0, 2)), ("front_left", (0,))):
        _, scatter = moments([sum((kg[part] for part in parts), Fraction(0)) for kg in exact])
        mean = sum(slope(car, s, name) ** 2 * s.variance for s in repeats if s.moves == MEAN)
        first = sum(slope(car, s, name, 0) ** 2 * s.variance for s in repeats if s.moves == single(0))
        assert mean == scatter / len(readings)
        assert first == scatter


def test_what_swapping_the_pads_moves_is_not_scatter() -> None:
    swapped = "swapped side to side"
    loads = [ONE, wheels(151, 148, 172, 170), wheels(155, 140, 172, 170, pads=swapped)]
    car = weighed(loads, {"permissible_error": "5 kg"})
    one_by_one = [s for s in every_source(car) if s.group == f"{REPEATS}, distribution"]
    assert {s.degrees_of_freedom for s in one_by_one} == {1}
    assert all(slope(car, s, "total") == 0 for s in one_by_one)
    left = sum(slope(car, s, "left") ** 2 * s.variance for s in one_by_one if s.moves == MEAN)
    share = known(car.weights().percentage("left"))
    assert left == 2 * ((1 - share) / 2) ** 2 / 3, "half a kilogram to either side, less what is of the total"


@given(readings=REPEATED, swapped=st.lists(st.booleans(), min_size=5, max_size=5))
def test_a_swap_that_is_stated_never_loses_the_scatter_of_the_totals(
    readings: list[list[float]], swapped: list[bool]
) -> None:
    """The same pads stand under the car: its total is repeated, wherever they stand."""
    loads = [
        wheels(*kg, pads="swapped side to side" if swap else "as marked")
        for kg, swap in zip(readings, swapped, strict=False)
    ]
    car = weighed(loads, {"permissible_error": "0 kg"}, {"weighing.floor": LEVEL})
    _, scatter = moments([sum((Fraction(str(kg)) for kg in reading), Fraction(0)) for reading in readings])
    repeats = [s for s in every_source(car) if s.name == REPEATS]
    assert sum(slope(car, s, "total") ** 2 * s.variance for s in repeats if s.moves == MEAN) == scatter / len(
        readings
    )
    assert (
        sum(slope(car, s, "total", 0) ** 2 * s.variance for s in repeats if s.moves == single(0)) == scatter
    )


def test_other_pads_repeat_nothing() -> None:
    other = dict.fromkeys(WHEELS, "")
    pads = {wheel: f"other {wheel}" if wheel != "front_left" else wheel for wheel in other}
    loads = [ONE, {**wheels(152, 148, 172, 170), "pads": pads}]
    assert not any(s.name == REPEATS for s in every_source(weighed(loads, {"permissible_error": "1 kg"})))


def test_without_gear_or_without_repeats_nothing_scatters() -> None:
    assert not any(s.name == REPEATS for s in every_source(loaded(varied({"weighing.readings": [ONE, ONE]}))))
    assert not any(s.name == REPEATS for s in every_source(weighed([ONE], {"resolution": "0.5 kg"})))
    assert not any(s.name == REPEATS for s in every_source(weighed([ONE, ONE], {"resolution": "0.5 kg"})))


# -- the floor ---------------------------------------------------------------------------------------


def test_a_floor_out_of_level_moves_the_sides_by_height_and_track() -> None:
    """h tan(phi) / t: 420 mm high, 1553 mm track, 2 mm between the pads of an axle."""
    car = weighed(
        [ONE],
        {"resolution": "0.5 kg"},
        {
            "dimensions.rear_width_over_tyres": "1778 mm",
            "centre_of_gravity": {"height": "420 mm"},
            "weighing.floor": {"across": "2 mm", "along": "0.1 deg"},
        },
    )
    across, along = one(car, "level across"), one(car, "level along")
    assert slope(car, across, "percentage.left") == Fraction(420, 1553)
    assert across.variance == Fraction(2, 1553) ** 2 / 3
    assert slope(car, across, "total") == slope(car, across, "percentage.front") == 0
    assert slope(car, along, "percentage.front") == Fraction(420, 2209)
    assert float(along.variance) == pytest.approx(math.tan(math.radians(0.1)) ** 2 / 3)
    assert slope(car, along, "total") == slope(car, along, "percentage.left") == 0


def test_where_nothing_is_stated_the_assumptions_stand_and_are_never_nothing() -> None:
    gear = {"resolution": "0.5 kg"}
    car = weighed([ONE], gear, {"dimensions": {}, "tyres": {}})
    across = one(car, "level across")
    assert slope(car, across, "percentage.left") == Fraction(350, 1200)
    assert float(across.variance) == pytest.approx(math.tan(math.radians(0.1)) ** 2 / 3)
    assert slope(car, one(car, "level along"), "percentage.rear") == -Fraction(350, 1800)


@pytest.mark.parametrize(
    ("loads", "directions"),
    [
        ({"total": "640 kg"}, []),
        ({"left": "322 kg", "right": "318 kg"}, ["across"]),
        ({"front": "298 kg", "rear": "342 kg"}, ["along"]),
        (ONE, ["across", "along"]),
    ],
)
def test_a_weighbridge_feels_only_the_slope_that_it_can(loads: dict[str, Any], directions: list[str]) -> None:
    car = weighed([loads], {"resolution": "0.5 kg"})
    assert [s.name.rpartition(" ")[2] for s in every_source(car) if "level" in s.name] == directions
    assert variance(car, "total") == len(loads) * Fraction("0.25") / 12


def test_the_advice_is_a_level_that_can_be_had() -> None:
    car = weighed([ONE], {"resolution": "0.5 kg"}, {"weighing.floor": {"across": "6 mm", "along": "1 mm"}})
    across, along = one(car, "level across"), one(car, "level along")
    assert across.advice == levelled("across", Fraction(2))
    assert along.advice == levelled("along", Fraction(1, 2))
    assert across.cure is not None
    assert across.cure(Fraction(1, 2)) == levelled("across", Fraction(3))
    assert across.cure(Fraction(1, 20)) is None


# -- pads out of one plane ---------------------------------------------------------------------------

TWISTED = {"weighing.floor": {**LEVEL, "pad_height": "1 mm", "stiffness": "25 N/mm"}}


def test_a_millimetre_under_one_pad_moves_the_cross_weight() -> None:
    """25 N/mm under a stiff frame: 25 / 9.80665 / 2 = 1.27 kg of two wheels on one diagonal."""
    car = weighed([ONE], {"resolution": "0.5 kg"}, TWISTED)
    heights = one(car, "heights of the pads")
    assert float(slope(car, heights, "cross")) == pytest.approx(-25 / 9.80665 / 2)
    for name in ("total", "left", "right", "front", "rear"):
        assert slope(car, heights, name) == 0, "what a stiff frame on four springs only twists"
    assert heights.variance == Fraction(4, 3), "four pads, each of its own height"
    still = variance(weighed([ONE], {"resolution": "0.5 kg"}, {"weighing.floor": LEVEL}), "cross")
    assert variance(car, "cross") == still + slope(car, heights, "cross") ** 2 * Fraction(4, 3)


@given(stiffness=st.integers(1, 40), lifted=st.integers(0, 3))
def test_four_springs_under_a_stiff_frame_share_what_one_is_lifted_by(stiffness: int, lifted: int) -> None:
    """The frame follows by the plane of least squares through the four lifts; the springs take what is left."""
    spots = [(-1, -1), (-1, 1), (1, -1), (1, 1)]
    lifts = [Fraction(int(at == lifted)) for at in range(4)]
    heave, pitch, roll = (
        sum(lift * part for lift, part in zip(lifts, parts, strict=True)) / 4
        for parts in ([1] * 4, [x for x, _ in spots], [y for _, y in spots])
    )
    gained = [
        stiffness * (lift - heave - pitch * x - roll * y) for lift, (x, y) in zip(lifts, spots, strict=True)
    ]
    sign = 1 if lifted in (0, 3) else -1
    per_mm = Floor(stiffness_kg_per_mm=Fraction(stiffness)).kg_per_mm
    assert gained == [sign * per_mm, -sign * per_mm, -sign * per_mm, sign * per_mm]


WRONG_FLOORS = [
    ({"pad_height": "1 kg"}, 204),
    ({"stiffness": "25 N"}, 204),
    ({"stiffness": "0.1 N/mm"}, 208),
    ({"pad_height": "-1 mm"}, 207),
    ({"across": "0 mm"}, 207),
    ({"across": "-1 mm"}, 207),
    ({"across": "1 kg"}, 204),
    ({"across": "2026-05-03"}, 204),
    ({"across": 2}, 203),
    ({"across": "2 mmm"}, 203),
    ({"along": "12 deg"}, 208),
    ({"along": "1 m"}, 208),
    ({"sideways": "1 mm"}, 201),
]


@each_row(("floor", "number"), WRONG_FLOORS)
def test_a_floor_that_cannot_be_is_refused(floor: dict[str, Any], number: int) -> None:
    from tests.car.cars import problems

    assert [p.code for p in problems(varied({"weighing.floor": floor}))] == [f"CD{number}"]


def test_what_a_certificate_states_is_a_standard_uncertainty() -> None:
    car = weighed([ONE], {"uncertainty": "0.2 kg"})
    assert variance(car, "total") == Fraction("0.4") ** 2
    both = weighed([ONE], {"uncertainty": "0.2 kg", "permissible_error": "0.3 kg"})
    assert variance(both, "total") == 4 * (Fraction("0.04") + Fraction("0.09") / 3)


@pytest.mark.parametrize("deg", ["0.01", "0.1", "1", "5"])
def test_the_tangent_of_a_slope(deg: str) -> None:
    from checker.car.gear.floor import Slope

    found = float(Slope(deg=Fraction(deg)).tangent(Fraction(1500)))
    assert found == pytest.approx(math.tan(math.radians(float(deg))), rel=1e-9)
