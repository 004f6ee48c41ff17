"""A car in every condition, against the stories of the samples and against its own weights."""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.quantities.kind import Unknown
from checker.studies.one_car.condition_table import (
    ConditionTable,
    any_condition,
    condition_table,
    effects_of,
)
from checker.studies.one_car.finish import Finish
from tests.building import inspection_of, pack_of
from tests.car.cars import COMPLETE, known, loaded
from tests.report.documents import sample

LITRE = 10**6
pytestmark = pytest.mark.usefixtures("at_root")

CAR = """
weighing: {fuel: 6 L, driver: out, tyres: dry, readings: [READING]}
dimensions: {wheelbase_left: 2200 mm, wheelbase_right: 2200 mm,
  front_width_over_tyres: 1715 mm, rear_width_over_tyres: 1725 mm}
tyres: {dry: {front: {mass: 14 kg, section: 215 mm}, rear: {mass: 15 kg, section: 225 mm}}}
fuel: {capacity: 20 L, density: 0.75 kg/L, at: {behind_front_axle: 1100 mm, right_of_centre: 300 mm}}
driver: {mass: 80 kg, at: {behind_front_axle: 1100 mm, left_of_centre: 0 mm}}
wear: {front_left: 0.5 kg, front_right: 0.5 kg, rear_left: 0.5 kg, rear_right: 0.5 kg}
"""
FOUR = "{front_left: 150 kg, front_right: 148 kg, rear_left: 172 kg, rear_right: 170 kg}"
CLAUSES = """
"1": {title: Least, text: W, check: {limit: weight.total, at_least: MINIMUM kg, condition: any_without_driver}}
"2": {title: Inside, text: W, check: {limit: percentage.inside, at_most: 53 %, condition: any}}
"3": {title: As presented, text: W, check: {limit: weight.total, at_least: 500 kg, condition: as_weighed}}
"4": {title: Both, text: W, check: {all_of: [{limit: weight.total, at_most: 900 kg, condition: any},
  {limit: percentage.rear, at_least: 40 %, condition: any}]}}
"""


def table_of(minimum: str = "600", car: str = CAR, reading: str = FOUR) -> ConditionTable:
    pack = pack_of(CLAUSES.replace("MINIMUM", minimum))
    return condition_table(inspection_of(pack, car.replace("READING", reading)))


def least(finish: Finish) -> Fraction:
    """The least fuel to finish with."""
    assert finish.legal
    return finish.legal[0].low


# -- the stories of the samples ----------------------------------------------------------------------


def turns(name: str) -> list[tuple[str, str, str]]:
    return [
        (clause.number, f"{float(failing.high) / LITRE:.2f}", line.state.words)
        for clause, line in condition_table(sample(name)).fuel
        for failing in line.fails
    ]


def test_turnstone_turns_light_with_less_than_4_60_litres() -> None:
    assert ("3.1", "4.60", "driver out, dry tyres, worn") in turns("light-at-the-flag")


def test_godwit_creeps_inside_with_less_than_11_25_litres() -> None:
    assert ("3.3", "11.25", "driver out, dry tyres, worn") in turns("creeping-inside")


def test_a_legal_car_turns_nowhere_and_may_finish_on_its_last_drop() -> None:
    table = condition_table(sample("legal"))
    assert all(line.fails == () for _, line in table.fuel)
    assert table.complies is True
    assert [f.tyres for f in table.finishes] == ["dry", "wet"]
    assert all(least(f) == LITRE // 5 and f.clauses == () for f in table.finishes)


def test_the_least_fuel_to_finish_with_is_where_the_clause_turns() -> None:
    dry, wet = condition_table(sample("light-at-the-flag")).finishes
    assert least(dry) == Fraction(686_000_000, 149)  # 3.43 kg of fuel at 0.745 kg/L
    assert [clause.number for clause in dry.clauses] == ["3.1"]
    assert 0 < least(wet) < least(dry)


# -- small cars --------------------------------------------------------------------------------------


def test_clauses_that_look_at_one_state_do_not_count() -> None:
    table = table_of()
    assert table.bearing == ("1", "2", "4")
    assert table.complies is True


def test_a_car_that_is_light_with_any_fuel_can_finish_with_none() -> None:
    """Full and new it weighs 640 + 14 * 0.75 = 650.5 kg."""
    table = table_of("651")
    (finish,) = table.finishes
    assert finish.legal == ()
    assert [clause.number for clause in finish.clauses] == ["1"]
    assert all(line.fails in ((), (line.asked,)) for _, line in table.fuel)
    assert table.complies is False


def test_turns_are_told_for_each_rest_of_the_state() -> None:
    """Worn it weighs 633.5 kg empty, new 635.5 kg: 636 kg is crossed with 3 1/3 and with 2/3 of a litre."""
    table = table_of("636")
    assert [(f.high, line.state.words) for _, line in table.fuel for f in line.fails] == [
        (Fraction(2, 3) * LITRE, "driver out, dry tyres, new"),
        (Fraction(10, 3) * LITRE, "driver out, dry tyres, worn"),
    ]
    assert least(table.finishes[0]) == Fraction(10, 3) * LITRE


def test_what_is_not_known_is_not_shown() -> None:
    table = table_of(reading="{front: 298 kg, rear: 342 kg}")
    assert all(isinstance(corner.kg["inside"], Unknown) for corner in table.corners)
    assert all(isinstance(corner.kg["rear"], Fraction) for corner in table.corners)
    assert table.complies is None
    assert all(isinstance(effect.inside, Unknown) for effect in table.effects)


def test_without_a_clause_that_ranges_over_conditions_nothing_is_said_of_them() -> None:
    pack = pack_of(
        '"1": {title: T, text: W, check: {limit: weight.total, at_least: 1 kg, condition: as_weighed}}'
    )
    table = condition_table(inspection_of(pack, CAR.replace("READING", FOUR)))
    assert (table.bearing, table.complies, len(table.corners)) == ((), None, 8)


# -- a kilogram --------------------------------------------------------------------------------------


def test_a_kilogram_at_a_place_is_a_car_with_a_kilogram_there() -> None:
    """The tank halfway along and 300 mm right of the middle of a 1500 mm track: 0.3 of it goes inside."""
    effects = {effect.place: effect for effect in table_of().effects}
    assert set(effects) == {"fuel", "driver"}
    assert effects["fuel"].inside == Fraction(322 + Fraction(3, 10)) / 641 - Fraction(322, 640)
    assert effects["fuel"].rear == Fraction(342 + Fraction(1, 2)) / 641 - Fraction(342, 640)


def test_on_a_clockwise_course_the_inside_is_the_right() -> None:
    one, other = (
        {effect.place: effect for effect in effects_of(loaded(COMPLETE, course=course))}
        for course in ("anticlockwise", "clockwise")
    )
    for place in ("fuel", "driver"):
        assert one[place].inside == -known(other[place].inside)
        assert one[place].rear == other[place].rear


# -- laws --------------------------------------------------------------------------------------------


def test_a_car_rebuilt_from_its_own_table_reproduces_its_weighing() -> None:
    """Each corner, declared as a weighing of axles, gives the same car back in every other corner."""
    first = table_of()
    for there in first.corners:
        state = there.state
        reading = f"{{front: {there.kg['front']} kg, rear: {there.kg['rear']} kg}}"
        text = CAR.replace("READING", reading).replace("fuel: 6 L", f"fuel: {state.fuel / LITRE} L")  # type: ignore[operator]
        text = text.replace("driver: out", f"driver: {state.driver}, wear: {'worn' if state.wear else 'new'}")
        again = table_of(car=text)
        for one, other in zip(first.corners, again.corners, strict=True):
            assert one.state == other.state
            for name in ("total", "front", "rear"):
                assert one.kg[name] == other.kg[name]


def test_corners_are_those_of_the_widest_condition() -> None:
    table = table_of()
    assert [c.state for c in table.corners] == list(
        table.inspection.car.states(any_condition(table.inspection.car))
    )


def test_every_known_place_has_its_kilogram() -> None:
    more = """
fluids: {water: {lost: 1 kg, at: {behind_front_axle: -100 mm, left_of_centre: 0 mm}}, oil: {lost: 1 kg}}
ballast: [{label: B1, mass: 5 kg, at: {behind_front_axle: 1500 mm, left_of_centre: 500 mm}}, {label: B2, mass: 2 kg}]
components: [{name: battery, at: {behind_front_axle: 1900 mm, right_of_centre: 300 mm}}]
"""
    car = CAR.replace(
        "fuel: {capacity: 20 L, density: 0.75 kg/L, at: {behind_front_axle: 1100 mm, right_of_centre: 300 mm}}",
        "fuel: {capacity: 20 L, density: 0.75 kg/L, at: [{level: 8 L, behind_front_axle: 1100 mm, left_of_centre: 0 mm},"
        " {level: 20 L, behind_front_axle: 1200 mm, left_of_centre: 0 mm}]}",
    )
    places = [effect.place for effect in table_of(car=car + more).effects]
    assert places == ["fuel, layer 1", "fuel, layer 2", "water", "B1", "battery"], (
        "the driver sits where the tank is"
    )
    shifted = {effect.place: effect for effect in table_of(car=car + more).effects}
    assert known(shifted["battery"].inside) < 0 < known(shifted["B1"].inside)


def test_a_car_whose_unusable_fuel_is_not_known_has_no_least_fuel() -> None:
    table = condition_table(
        inspection_of(pack_of(CLAUSES.replace("MINIMUM", "600")), "weighing: {driver: out}")
    )
    assert table.complies is None
    assert all(line.holds == line.fails == () for _, line in table.fuel)
    (finish,) = table.finishes
    assert finish.legal is None
    assert "weighing.fuel" in finish.unknown.absent
