"""The laws of weighing, on made-up cars in made-up states."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from checker.car.declaration.loading import Car
from checker.car.described.stated import Stated
from checker.car.gear.weighing import ShownLoads, Weighing
from checker.car.weights.states import BUILT_IN, state_of
from checker.car.weights.weights import PAIRS, State
from checker.quantities.kind import Unknown
from checker.report.words.amounts import statement_words
from tests.car.cars import ABSENT, WHEELS, decimals, known, loaded, made_up_cars, varied
from tests.examples import examples

ANY = BUILT_IN["any"]
LITRE = 10**6
KG_PER_LB = Decimal("0.45359237")
SHARES = st.integers(0, 12).map(lambda twelfths: Fraction(twelfths, 12))


@st.composite
def states_inside(draw: st.DrawFn) -> State:
    """States anywhere in the range of every made-up car: tanks hold 20 L or more, at most 2 L unusable."""
    return state_of(
        Fraction(str(draw(decimals("2", "20")))) * LITRE,
        draw(st.sampled_from(["out", "aboard"])),
        draw(st.sampled_from(["dry", "wet"])),
        draw(SHARES),
    )


@given(declaration=made_up_cars(), state=states_inside())
def test_sides_and_axles_each_make_up_the_total(declaration: dict[str, Any], state: State) -> None:
    weights = loaded(declaration).weights(state)
    total = known(weights.weight("total"))
    assert known(weights.weight("left")) + known(weights.weight("right")) == total
    assert known(weights.weight("front")) + known(weights.weight("rear")) == total
    assert known(weights.percentage("inside")) + known(weights.percentage("outside")) == 1


@given(declaration=made_up_cars())
def test_a_state_equal_to_the_weighing_gives_the_weighing(declaration: dict[str, Any]) -> None:
    car = loaded(declaration)
    wear = Fraction(car.value("weighing.wear") == "worn")
    state = state_of(car.value("weighing.fuel"), car.value("weighing.driver"), "dry", wear)
    for name in (*PAIRS, *WHEELS, "cross"):
        assert car.weights(state).weight(name) == car.weights().weight(name)


@given(declaration=made_up_cars(), state=states_inside())
def test_left_and_right_swapped_with_the_course_change_nothing(
    declaration: dict[str, Any], state: State
) -> None:
    one = loaded(declaration, course="anticlockwise").weights(state)
    other = loaded(mirrored(declaration), course="clockwise").weights(state)
    for name in ("total", "inside", "outside", "front", "rear"):
        assert one.weight(name) == other.weight(name)
    assert one.weight("left") == other.weight("right")


def mirrored(declaration: dict[str, Any]) -> dict[str, Any]:
    """The same car with left and right exchanged."""

    def swapped(loads: dict[str, str]) -> dict[str, str]:
        exchange = {"left": "right", "right": "left"}
        return {
            "_".join(exchange.get(part, part) for part in name.split("_")): load
            for name, load in loads.items()
        }

    data = varied({}, declaration)
    data["weighing"]["readings"] = [swapped(reading) for reading in data["weighing"]["readings"]]
    data["wear"] = swapped(data["wear"])
    data["dimensions"] = {
        **data["dimensions"],
        "wheelbase_left": data["dimensions"]["wheelbase_right"],
        "wheelbase_right": data["dimensions"]["wheelbase_left"],
    }
    for section in ("fuel", "driver"):
        place = data[section]["at"]
        place["right_of_centre"] = place.pop("left_of_centre")
    return data


@given(declaration=made_up_cars(), state=states_inside(), datum=st.integers(-5000, 5000))
def test_moments_balance_about_any_datum(declaration: dict[str, Any], state: State, datum: int) -> None:
    """What fuel and driver add to the axles has their moment, wherever the datum lies."""
    car = loaded(declaration)
    wheelbase = known(car.geometry.wheelbase)
    for change, section in zip(car.weights(state).changes, ("fuel", "driver"), strict=False):
        if not statement_words(change.words).startswith(section):
            continue
        x = car.value(f"{section}.at.behind_front_axle")
        front, rear, mass = (known(change.kg[name]) for name in ("front", "rear", "total"))
        assert front * (0 - datum) + rear * (wheelbase - datum) == mass * (x - datum)


@examples(60)
@given(declaration=made_up_cars(), inside=st.lists(states_inside(), min_size=1, max_size=8))
def test_no_state_inside_is_worse_than_the_worst_corner(
    declaration: dict[str, Any], inside: list[State]
) -> None:
    car = loaded(declaration)
    corners = [car.weights(state) for state in car.states(ANY)]
    for name in ("inside", "outside", "front", "rear"):
        shares = [known(corner.percentage(name)) for corner in corners]
        totals = [known(corner.weight("total")) for corner in corners]
        for state in inside:
            assert min(shares) <= known(car.weights(state).percentage(name)) <= max(shares)
            assert min(totals) <= known(car.weights(state).weight("total")) <= max(totals)


@given(
    declaration=made_up_cars(),
    litres=decimals("0", "20"),
    driver=st.sampled_from(["out", "aboard"]),
    wear=st.sampled_from(["new", "worn"]),
)
def test_a_car_rebuilt_from_another_state_reproduces_its_weighing(
    declaration: dict[str, Any], litres: Any, driver: str, wear: str
) -> None:
    car = loaded(declaration)
    there = car.weights(state_of(Fraction(str(litres)) * LITRE, driver, "dry", Fraction(wear == "worn")))
    changes = {"weighing.fuel": f"{litres} L", "weighing.driver": driver, "weighing.wear": wear}
    was = Fraction(car.value("weighing.wear") == "worn")
    back = state_of(car.value("weighing.fuel"), car.value("weighing.driver"), "dry", was)
    for pair in (("left", "right"), ("front", "rear")):
        loads = {name: known(there.weight(name)) for name in pair}
        rebuilt = showing(loaded(varied(changes, declaration)), loads)
        for name in ("total", *pair):
            assert rebuilt.weights(back).weight(name) == car.weights().weight(name)


def showing(car: Car, loads_kg: dict[str, Fraction]) -> Car:
    """The car, had its one reading been these loads (which no decimal needs to write)."""
    reading = ShownLoads(
        {name: Stated(load, "", None, "declared", place=None) for name, load in loads_kg.items()}
    )
    return replace(car, weighing=Weighing((reading,)), instruments={}, all_entries={}, warnings=())


@given(
    pounds=st.fixed_dictionaries({wheel: decimals("100", "600", 2) for wheel in WHEELS}),
    state=states_inside(),
)
def test_pounds_and_kilograms_give_the_same(pounds: dict[str, Any], state: State) -> None:
    in_lb = {wheel: f"{load} lb" for wheel, load in pounds.items()}
    in_kg = {wheel: f"{load * KG_PER_LB} kg" for wheel, load in pounds.items()}
    one, other = (loaded(varied({"weighing.readings": [loads]})).weights(state) for loads in (in_lb, in_kg))
    for name in PAIRS:
        assert one.weight(name) == other.weight(name)


@given(
    declaration=made_up_cars(),
    state=states_inside(),
    removed=st.sampled_from(
        [
            "weighing.fuel",
            "weighing.driver",
            "weighing.tyres",
            "dimensions.wheelbase_left",
            "dimensions.front_width_over_tyres",
            "tyres.dry",
            "tyres.wet.rear.mass",
            "tyres.dry.rear.section",
            "fuel.density",
            "fuel.at.left_of_centre",
            "driver",
            "driver.at.behind_front_axle",
            "wear",
            "wear.rear_left",
        ]
    ),
)
def test_leaving_something_out_never_changes_a_number(
    declaration: dict[str, Any], state: State, removed: str
) -> None:
    if removed == "tyres.dry":
        declaration = varied({"weighing.tyres": ABSENT}, declaration)
    complete, without = loaded(declaration), loaded(varied({removed: ABSENT}, declaration))
    for name in PAIRS:
        found = without.weights(state).weight(name)
        assert isinstance(found, Unknown) or found == complete.weights(state).weight(name)
