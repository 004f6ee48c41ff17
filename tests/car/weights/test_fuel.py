"""What fuel weighs and where it acts: shaped tanks and warm fuel."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.car import Car
from checker.car.weights.fuel import density, layers
from checker.car.weights.states import BUILT_IN, between, state_of
from checker.car.weights.weights import PAIRS
from checker.quantities.kind import Unknown
from tests.car.cars import ABSENT, COMPLETE, known, loaded, made_up_cars, problems, varied
from tests.car.weights.legs import fuel_legs
from tests.examples import examples

ANY = BUILT_IN["any"]
LITRE = 10**6


def level(litres: Any, along: Any, across: Any = 0) -> dict[str, str]:
    return {"level": f"{litres} L", "behind_front_axle": f"{along} mm", "left_of_centre": f"{across} mm"}


def tank(*levels: dict[str, str], **changes: Any) -> dict[str, Any]:
    return varied({"fuel.at": list(levels), **changes})


WEDGE = tank(level(5, 2000, -100), level(12, 2100, -40), level(22, 2150, 0))


# -- shaped tanks ------------------------------------------------------------------------------------


def test_at_each_level_the_fuel_acts_where_the_table_says() -> None:
    car = loaded(varied({"weighing.fuel": "0 L"}, WEDGE))
    base = car.weights()
    for litres, along in ((5, 2000), (12, 2100), (22, 2150)):
        full = car.weights(state_of(fuel=Fraction(litres * LITRE)))
        mass = Fraction("0.745") * litres
        assert known(full.weight("total")) - known(base.weight("total")) == mass
        assert known(full.weight("rear")) - known(base.weight("rear")) == mass * Fraction(along, 2209)


def test_what_lies_between_two_levels_acts_at_one_place() -> None:
    low, middle, high = layers(loaded(WEDGE))
    assert [low.low_mm3, low.high_mm3, low.spot.along] == [0, 5 * LITRE, 2000]
    assert middle.spot.along == Fraction(12 * 2100 - 5 * 2000, 7)
    assert [high.low_mm3, high.high_mm3] == [12 * LITRE, None]
    assert high.spot.across == Fraction(12 * 40, 10)


def test_a_tank_of_one_level_is_a_tank_at_one_place() -> None:
    one, plain = loaded(tank(level(22, 2050, 60))), loaded(COMPLETE)
    for state in plain.states(ANY):
        for name in PAIRS:
            assert one.weights(state).weight(name) == plain.weights(state).weight(name)


def test_every_level_is_a_corner_and_begins_a_leg() -> None:
    car = loaded(WEDGE)
    fuels = [state.fuel for state in car.states(ANY)]
    assert list(dict.fromkeys(fuels)) == [LITRE // 2, 5 * LITRE, 12 * LITRE, 22 * LITRE]
    legs = fuel_legs(car, ANY)
    assert len(legs) == 24
    ends = [fuel for low, high in legs[:3] for fuel in (low.fuel, high.fuel)]
    assert ends == [n * LITRE for n in (Fraction(1, 2), 5, 5, 12, 12, 22)]


def shaped() -> st.SearchStrategy[list[dict[str, str]]]:
    """Tables of two to four levels up to 40 L, with the centre anywhere in the back of the car."""
    places = st.tuples(st.integers(1200, 2600), st.integers(-500, 500))
    return st.tuples(
        st.lists(st.integers(1, 39), min_size=1, max_size=3, unique=True).map(sorted),
        st.lists(places, min_size=4, max_size=4),
    ).map(lambda t: [level(litres, *place) for litres, place in zip([*t[0], 40], t[1], strict=False)])


@examples(60)
@given(
    declaration=made_up_cars(),
    table=shaped(),
    parts=st.lists(st.integers(0, 100).map(lambda n: Fraction(n, 100)), min_size=1, max_size=6),
)
def test_between_levels_weights_run_straight_and_no_state_is_worse_than_the_worst_corner(
    declaration: dict[str, Any], table: list[dict[str, str]], parts: list[Fraction]
) -> None:
    car = loaded(varied({"fuel.at": table}, declaration))
    corners = [car.weights(state) for state in car.states(ANY)]
    worst = {n: [known(c.percentage(n)) for c in corners] for n in ("inside", "rear")}
    for low, high in fuel_legs(car, ANY)[:6]:
        ends = [car.weights(low), car.weights(high)]
        for part in parts:
            here = car.weights(between(low, high, part))
            for name in PAIRS:
                a, b = (known(end.weight(name)) for end in ends)
                assert here.weight(name) == a + part * (b - a)
            for name, shares in worst.items():
                assert min(shares) <= known(here.percentage(name)) <= max(shares)


def test_an_unknown_place_leaves_the_total_known() -> None:
    car = loaded(tank(level(5, 2000), {"level": "22 L", "behind_front_axle": "2100 mm"}))
    state = state_of(fuel=Fraction(20 * LITRE))
    assert isinstance(car.weights(state).weight("total"), Fraction)
    assert car.weights(state).weight("left") == Unknown(absent=("fuel.at[1].left_of_centre",))


def test_an_amount_that_is_not_known_is_not_spread_over_the_levels() -> None:
    car = loaded(varied({"weighing.fuel": ABSENT}, WEDGE))
    found = car.weights(state_of(fuel=Fraction(LITRE))).weight("total")
    assert found == Unknown(absent=("weighing.fuel",))


WRONG = [
    (tank(), "empty list"),
    (tank(level(22, 2000), level(22, 2100)), "not above the level before"),
    (tank(level(0, 2000), level(22, 2100)), "not above 0 L"),
    (tank(level(5, 2000), level(20, 2100)), "fuel.at ends at 20 L, and the tank holds 22 L"),
]


@pytest.mark.parametrize(("declaration", "message"), WRONG)
def test_a_table_that_cannot_be_is_refused(declaration: dict[str, Any], message: str) -> None:
    (found,) = problems(declaration)
    assert found.code == "CD219"
    assert message in found.message


def test_an_official_replaces_a_tank_as_a_whole() -> None:
    readings = {"formula": "dunlin", "fuel": {"at": [level(22, 2111, 5)]}}
    car = loaded(COMPLETE, readings)
    assert layers(car)[0].spot.along == 2111
    car = loaded(WEDGE, {"formula": "dunlin", "fuel": {"at": {"behind_front_axle": "2000 mm"}}})
    assert layers(car)[0].spot.across == Unknown(absent=("fuel.at.left_of_centre",))
    car = loaded(COMPLETE, {"formula": "dunlin", "fuel": {"at": {"behind_front_axle": "2000 mm"}}})
    assert layers(car)[0].spot.across == 60


# -- warm fuel ---------------------------------------------------------------------------------------


def per_litre(**facts: Any) -> Fraction:
    car: Car = loaded(varied({f"fuel.{name}": value for name, value in facts.items()}))
    return known(density(car)) * LITRE


def test_warm_fuel_is_lighter_by_the_litre() -> None:
    assert per_litre() == Fraction("0.745")
    assert per_litre(temperature="15 degC") == Fraction("0.745")
    assert per_litre(temperature="35 degC") == Fraction("0.745") * (1 - 20 * Fraction("0.00095"))
    assert per_litre(temperature="5 degC") > Fraction("0.745")
    stated = {"temperature": "30 degC", "density_temperature": "20 degC", "expansion": "0.1 %"}
    assert per_litre(**stated) == Fraction("0.745") * Fraction("0.99")


def test_the_density_that_is_declared_stays_what_it_is() -> None:
    car = loaded(varied({"fuel.temperature": "35 degC"}))
    assert car.value("fuel.density") == Fraction("0.745") / LITRE
    state = state_of(fuel=Fraction(0))
    assert car.weights(state).weight("total") == 587 - 6 * Fraction("0.745") * Fraction("0.981")


def test_water_in_the_tank_is_taken_for_a_slip() -> None:
    (found,) = problems(varied({"fuel.density": "1.0 kg/L"}))
    assert found.code == "CD208"
    assert "0.6 kg/L to 0.95 kg/L was expected" in found.message
