"""Conditions: the corners they give, how a pack writes them, and two races followed by hand."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given

from checker.car.described.vocabulary import AS_WEIGHED, Condition
from checker.car.weights.states import BUILT_IN, between, parse_condition, state_of, states
from checker.quantities.kind import Unknown
from checker.reading.problems import Problem, Problems
from checker.reading.strict_yaml import parse_document
from tests.car.cars import ABSENT, COMPLETE, known, loaded, made_up_cars, varied
from tests.car.weights.legs import fuel_legs
from tests.examples import each_row

ANY, ANY_WITHOUT_DRIVER = BUILT_IN["any"], BUILT_IN["any_without_driver"]
LITRE = 10**6


def words(condition: Condition, changes: dict[str, Any] | None = None) -> list[str]:
    return [state.words for state in states(loaded(varied(changes or {})), condition)]


# -- corners -----------------------------------------------------------------------------------------


def test_all_corners_come_in_a_fixed_order() -> None:
    assert words(ANY_WITHOUT_DRIVER) == [
        "0.5 L on board, driver out, dry tyres, new",
        "0.5 L on board, driver out, dry tyres, worn",
        "22 L on board, driver out, dry tyres, new",
        "22 L on board, driver out, dry tyres, worn",
        "0.5 L on board, driver out, wet tyres, new",
        "0.5 L on board, driver out, wet tyres, worn",
        "22 L on board, driver out, wet tyres, new",
        "22 L on board, driver out, wet tyres, worn",
    ]
    assert len(words(ANY)) == 16
    assert [state.words for state in loaded(COMPLETE).states(ANY)] == words(ANY)


def test_what_a_condition_leaves_out_is_as_weighed() -> None:
    presented = Condition("presented", fuel=(Fraction(4 * LITRE),) * 2, driver=("aboard",))
    (state,) = states(loaded(COMPLETE), presented)
    assert state == state_of(Fraction(4 * LITRE), "aboard")
    assert state.words == "4 L on board, driver aboard"
    assert states(loaded(COMPLETE), AS_WEIGHED) == (state_of(),)
    assert state_of().is_as_weighed


def test_an_unknown_tank_leaves_its_corners_unknown() -> None:
    car = loaded(varied({"fuel.capacity": ABSENT}))
    full = [state for state in states(car, ANY_WITHOUT_DRIVER) if "full tank" in state.words]
    assert len(full) == 4
    for state in full:
        found = car.weights(state).weight("total")
        assert isinstance(found, Unknown)
        assert "fuel.capacity is not stated" in found.told()


def test_a_car_without_tyre_sets_cannot_be_judged_on_every_set() -> None:
    car = loaded(varied({"tyres": ABSENT}))
    for state in states(car, ANY_WITHOUT_DRIVER):
        assert "every tyre set" in state.words
        assert car.weights(state).weight("total") == Unknown(absent=("tyres",))


def test_a_set_that_the_car_does_not_have_is_unknown() -> None:
    car = loaded(COMPLETE)
    (state,) = states(car, Condition("damp", tyres=("damp",)))
    found = car.weights(state).weight("total")
    assert found == Unknown(absent=("tyres.damp.front.mass", "tyres.damp.rear.mass"))


def test_a_tank_of_which_nothing_can_be_used_has_one_end() -> None:
    changes = {"fuel.unusable": "22 L"}
    assert len(words(ANY_WITHOUT_DRIVER, changes)) == 4


@given(declaration=made_up_cars())
def test_the_same_car_gives_the_same_states(declaration: dict[str, Any]) -> None:
    assert states(loaded(declaration), ANY) == states(loaded(declaration), ANY)


# -- on the way --------------------------------------------------------------------------------------------


def test_between_two_states_the_fuel_runs_straight() -> None:
    low, high = fuel_legs(loaded(COMPLETE), ANY)[0]
    quarter = between(low, high, Fraction(1, 4))
    assert quarter.fuel == Fraction(5875000)
    assert quarter.words == "5.875 L on board, driver out, dry tyres, new"
    assert [between(low, high, Fraction(part)).fuel for part in (0, 1)] == [low.fuel, high.fuel]


def test_the_fuel_of_a_full_tank_is_out_by_what_its_capacity_is() -> None:
    """And that of an empty one by what its unusable rest is; an amount that the rules name is exact."""
    measured = {"fuel.capacity": "22 L", "fuel.unusable": "0.5 L"}
    car = loaded(varied({name: {"value": v, "uncertainty": "0.1 L"} for name, v in measured.items()}))
    states = car.states(Condition("some", fuel=("unusable", "full"), driver=("out",)))
    assert [state.fuel_fact for state in states] == ["fuel.unusable", "fuel.capacity"]
    for state in states:
        moved = car.with_value(state.fuel_fact, None, Fraction(LITRE))
        gained = known(moved.weights(state).weight("total")) - known(car.weights(state).weight("total"))
        assert gained == Fraction("0.745")
        assert state.fuel_fact in car.weights_rest_on(state)
    (named,) = car.states(Condition("named", fuel=(Fraction(22 * LITRE), Fraction(22 * LITRE))))
    assert "fuel.capacity" not in car.weights_rest_on(named)


def test_between_asks_for_known_amounts() -> None:
    with pytest.raises(ValueError, match="known amount"):
        between(state_of(), state_of(), Fraction(1, 2))


# -- two races followed by hand ----------------------------------------------------------------------


def test_legal_on_the_grid_and_light_at_the_flag() -> None:
    """594.0 kg with 14 L on board: 581.57 kg empty and worn, below 585 kg with less than 4.60 L."""
    car = loaded(
        varied(
            {
                "weighing.readings": [{"total": "594.0 kg"}],
                "weighing.fuel": "14 L",
                "fuel.unusable": ABSENT,
                "wear": dict.fromkeys(COMPLETE["wear"], "0.5 kg"),
            }
        )
    )
    corners = states(car, ANY_WITHOUT_DRIVER)
    lightest = min(corners, key=lambda state: known(car.weights(state).weight("total")))
    assert lightest.words == "0 L on board, driver out, dry tyres, worn"
    assert car.weights(lightest).weight("total") == Fraction("581.57")
    low, high = next(leg for leg in fuel_legs(car, ANY_WITHOUT_DRIVER) if leg[0] == lightest)
    ends = [known(car.weights(end).weight("total")) for end in (low, high)]
    crossing = between(low, high, (585 - ends[0]) / (ends[1] - ends[0]))
    assert car.weights(crossing).weight("total") == 585
    assert round(known(crossing.fuel) / LITRE, 2) == Fraction("4.60")


def test_inside_percentage_creeps_up_as_fuel_is_used() -> None:
    """316.5 of 600 kg inside with 20 L; dry 53.33 %, over 53.0 % with less than 11.25 L."""
    car = loaded(
        varied(
            {
                "weighing.readings": [{"left": "316.5 kg", "right": "283.5 kg"}],
                "weighing.fuel": "20 L",
                "weighing.wear": "worn",
                "fuel.unusable": ABSENT,
                "fuel.at": {"right_of_centre": "310 mm"},
                "dimensions": {
                    "front_width_over_tyres": "1765 mm",
                    "rear_width_over_tyres": "1775 mm",
                },
            }
        )
    )
    assert car.weights().percentage("inside") == Fraction("0.5275")
    low, high = fuel_legs(car, ANY_WITHOUT_DRIVER)[1]
    assert low.words == "0 L on board, driver out, dry tyres, worn"
    dry, full = car.weights(low), car.weights(high)
    assert dry.weight("inside") == Fraction("312.03")
    assert dry.weight("total") == Fraction("585.10")
    assert round(known(dry.percentage("inside")), 4) == Fraction("0.5333")
    limit = Fraction("0.53")
    surplus = [known(w.weight("inside")) - limit * known(w.weight("total")) for w in (dry, full)]
    crossing = between(low, high, surplus[0] / (surplus[0] - surplus[1]))
    assert car.weights(crossing).percentage("inside") == Fraction("0.53")
    assert round(known(crossing.fuel) / LITRE, 2) == Fraction("11.25")


# -- as a pack writes them ---------------------------------------------------------------------------


def read(text: str, name: str = "presented") -> tuple[Condition | None, list[Problem]]:
    found = Problems()
    document = parse_document(f"conditions: {{{name}: {text}}}".encode(), "pack.yaml", "PK")
    return parse_condition(name, document, ("conditions", name), found, "PK504"), found.found


@each_row(
    ("text", "fuel"),
    [
        ("unusable to full", ("unusable", "full")),
        ("empty to full", ("unusable", "full")),
        ("full", ("full", "full")),
        ("empty", ("unusable", "unusable")),
        ("4 L", (4 * LITRE, 4 * LITRE)),
        ("2 L to full", (2 * LITRE, "full")),
        ("unusable to 500 ml", ("unusable", LITRE // 2)),
        ("1 L to 2 L", (LITRE, 2 * LITRE)),
    ],
)
def test_fuel_of_a_condition(text: str, fuel: Any) -> None:
    condition, found = read(f"{{fuel: {text}}}")
    assert not found
    assert condition is not None
    assert condition.fuel == fuel
    assert condition.words == f"fuel {text}"


@pytest.mark.parametrize("name", ["any", "any_without_driver"])
def test_the_built_in_conditions_are_as_a_pack_would_write_them(name: str) -> None:
    parts = (part.split(" ", 1) for part in BUILT_IN[name].words.split(", "))
    condition, found = read(f"{{{', '.join(f'{key}: {text}' for key, text in parts)}}}", name)
    assert not found
    assert condition == BUILT_IN[name]


def test_the_rest_of_a_condition() -> None:
    condition, found = read("{driver: aboard or out, tyres: dry or full wet, wear: new to worn}")
    assert not found
    assert condition == Condition(
        "presented",
        driver=("aboard", "out"),
        tyres=("dry", "full wet"),
        wear=("new", "worn"),
        words="driver aboard or out, tyres dry or full wet, wear new to worn",
    )


@each_row(
    ("text", "message"),
    [
        ("{fuel: 4}", "4 has no unit"),
        ("{fuel: 4 kg}", "4 kg is a mass"),
        ("{fuel: -1 L}", "-1 L is below zero"),
        ("{fuel: half}", "'half' is not a number"),
        ("{fuel: 1 L to 2 L to 3 L}", "is no range"),
        ("{fuel: full to unusable}", "runs from more to less"),
        ("{fuel: 3 L to 2 L}", "runs from more to less"),
        ("{driver: in}", "'in' cannot be read"),
        ("{driver: out or out}", "cannot be read"),
        ("{tyres: dry or}", "cannot be read"),
        ("{tyres: every set or wet}", "cannot be read"),
        ("{wear: worn to new}", "cannot be read"),
        ("{tires: dry}", "'tires' is no part of a condition"),
        ("{}", "says nothing of the car"),
        ("full", "says nothing of the car"),
    ],
)
def test_a_condition_that_cannot_be_read(text: str, message: str) -> None:
    condition, found = read(text)
    assert condition is None
    (problem,) = found
    assert problem.code == ("PK101" if "no part" in message else "PK504")
    assert message in problem.message
    assert problem.hint
    assert problem.span is not None
    assert problem.span.line == 1


def test_the_weighing_cannot_be_defined_otherwise() -> None:
    condition, found = read("{fuel: full}", "as_weighed")
    assert condition is None
    assert "cannot be defined" in found[0].message
