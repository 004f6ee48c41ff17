"""Every reason why something cannot be told: each is found here as a car brings it up, and has its words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from fractions import Fraction
from importlib import import_module
from pathlib import Path
from typing import Any

from checker.car.reasons import NotOfCar
from checker.car.weights.states import state_of
from checker.kinds.judging.reasons import NotJudged
from checker.meeting.session.disagreeing import _of_pads
from checker.meeting.session.reasons import NotSettled
from checker.quantities.amount import kilograms
from checker.quantities.kind import Unknown, unite
from checker.quantities.reason import NoValue, Reason, Why
from checker.report.words.findings import unknown_words
from checker.report.words.units import showing
from checker.studies.planning.reasons import NotPlanned
from tests.car.cars import loaded, varied
from tests.car.declaration.test_tomorrow import checked, stating
from tests.car.declaration.test_tomorrow import every as all_pads
from tests.car.gear.test_pads import FIRST, reading
from tests.car.gear.test_pads import weighed as on_pads
from tests.car.weights.test_what_if import THINGS, what_if
from tests.conftest import ROOT
from tests.kinds.frame.test_condition_range import CAR, FACTS, MORE
from tests.kinds.workbench import inspect, judge, pack_of
from tests.meeting.days import LOADS, a_meeting, shifted, weighed
from tests.meeting.session.test_disagreeing import exchanged
from tests.meeting.session.test_judging import measured
from tests.quantities.formula.workshop import Scene, entry, value
from tests.studies.planning.cars import at, car, planned, rules
from tests.test_imports import MODULES


def told(unknowns: Iterable[object]) -> dict[Why, str]:
    """The reasons of unknown values, each in words."""
    every = unite(one for one in unknowns if isinstance(one, Unknown))
    return {reason.why: reason.told() for reason in every.reasons}


def test_every_list_of_reasons_is_tried_here() -> None:
    names = {file: re.findall(r"^class (\w+)\(Why\)", file.read_text("utf-8"), re.M) for file in MODULES}
    lists = {
        getattr(import_module(".".join(file.relative_to(ROOT).with_suffix("").parts)), name)
        for file, found in names.items()
        for name in found
    }
    assert lists == {NoValue, NotOfCar, NotJudged, NotPlanned, NotSettled}


def test_a_part_is_told_as_asked_wherever_it_stands() -> None:
    row = Reason(NoValue.NO_ROW, ("t", ("{} ", kilograms(Fraction(10)))))
    nested = Unknown.because(NotSettled.IN_ENTRY, 3, row)
    with showing("us"):
        assert unknown_words(nested) == ["in entry 3 table t has no row for {} 22.0462 lb"]
        assert nested.told() == ("in entry 3 table t has no row for {} 10 kg",), "in the units of the rules"


def test_of_formulas_and_tables() -> None:
    one = entry(label="b", mass=Fraction(1), position=Fraction(2))
    other = entry(label="c", mass=Fraction(3), position=Fraction(2))
    two, none = Scene(lists={"ballast": (one, other)}), Scene(lists={"ballast": ()})
    pads = (Fraction(4), Fraction(7))
    families = """{materials: {steel: [], metal: [alloy], alloy: []}, tables: {t: {by: [a, b], rows: [
      {a: metal, b: alloy, value: 1 kg}, {a: alloy, b: metal, value: 2 kg}]}}}"""
    facts = "{x.a: {type: material}, x.b: {type: material}, x.mass: {unit: kg}}"
    near = judge(
        "{limit: x.mass, at_least: 't(x.a, x.b)'}",
        {"x": {"a": "alloy", "b": "alloy", "mass": "1 kg"}},
        facts,
        families,
    )
    found = told(
        [
            value("sqrt(engine.cylinders)", engine__cylinders=Fraction(-4)),
            value("1 / engine.cylinders", engine__cylinders=Fraction(0)),
            value("driver.born + engine.cylinders * 1 month", driver__born=date(2000, 1, 1), engine__cylinders=Fraction(1, 2)),
            value("max(b.mass for b in ballast)", none),
            value("first(ballast).label", none),
            value("nth(3, brakes.pad)", brakes__pad=pads),
            value("nth_largest(3, brakes.pad)", brakes__pad=pads),
            value("running_total(ballast, mass, position, 0 kg, 9 kg)", two),
            value("seat.material == 'exotic'", seat__material="light metal"),
            value("seat.material == 'exotic'", seat__material="wood"),
            value("seat.material in 'steel'", seat__material="stele"),
            value("minimum(3000 cc)"),
            value("minimum(2000 cc) + 1 kg"),
            near.unknown,
        ]
    )  # fmt: skip
    assert found == {
        NoValue.NO_RESULT: "a number below zero has no square root",
        NoValue.BY_ZERO: "engine.cylinders is zero, and nothing can be divided by it",
        NoValue.NOT_WHOLE: "1/2 is not a whole number of months",
        NoValue.NONE_TO_TAKE_OF: "there is nothing to take the greatest of",
        NoValue.EMPTY: "there is no first of an empty list",
        NoValue.FEWER: "there are 2, and number 3 is asked for",
        NoValue.FEWER_VALUES: "there are 2 values, and number 3 is asked for",
        NoValue.ONE_PLACE: "two entries of ballast have one place in the order of their running total",
        NoValue.MAY_BE: "light metal may be exotic: say which",
        NoValue.NOT_KNOWN: "'wood' is no material that this pack knows",
        NoValue.MISSPELT: "'stele' is no material that this pack knows; did you mean 'steel'?",
        NoValue.NO_ROW: "table minimum has no row for that",
        NoValue.SEVERAL_ROWS: "table t has several rows, none of them the nearest, for a alloy, b alloy",
        NoValue.NO_LIMIT: "the table sets no limit",
    }
    assert set(found) == set(NoValue)


def test_of_cars() -> None:
    light = {"weighing.driver": "aboard", "driver.mass": "250 kg", "weighing.readings": [{"total": "249 kg"}]}
    axles = loaded(varied({"weighing.readings": [{"front": "280 kg", "rear": "300 kg"}]})).weights()
    part = what_if(varied(THINGS), {"components[1].parts[0].mass": "7 kg"}).weights()
    found = told(
        [
            stating("car.chassis_built", "2073-05-04").value("car.chassis_built"),
            loaded(varied(light)).weights(state_of(driver="out")).percentage("total"),
            axles.weight("left"),
            part.weight("total"),
            part.weight("front_left"),
        ]
    )
    assert found == {
        NotOfCar.AFTER: "car.chassis_built is 2073-05-04, after 2026-05-03, the day judged",
        NotOfCar.NO_TOTAL: "the total comes out at 0 kg or less",
        NotOfCar.GIVES_ONLY: "the weighing gives only front and rear",
        NotOfCar.PART_OF: "components shell is part of components seat, and no other mass is given for that",
        NotOfCar.AS_WEIGHED_ONLY: "weight.front_left can only be told as weighed,"
        " for how an axle's load splits is never predicted",
    }
    assert set(found) == set(NotOfCar)


def test_of_checks() -> None:
    lists = (
        "{lists: {joints: {fields: {wall: {unit: mm}}}}, categories: [brakes, body], materials: {steel: []}}"
    )
    facts = (
        "{x.walls: {unit: mm, several: true}, x.step: {unit: mm}, x.made: {type: material, several: true}}"
    )
    states = {
        "x": {"walls": [], "step": "0 mm", "made": []},
        "joints": [{"wall": "1 mm"}],
        "components": [{"name": "wing", "category": "body"}],
    }
    turning = "{limit: weight.front / (weight.total - 590 kg), at_most: 9, condition: burning}"
    found = told(
        judge(check, states, facts, lists).unknown
        for check in (
            "{pairs: joints, limit: abs(a.wall - b.wall), at_most: 1 mm}",
            "{each: joints, where: wall > 2 mm, limit: wall, at_most: 1 mm}",
            "{within: brakes, limit: mass, at_least: 1 kg}",
            "{limit: x.walls, of_several: worst, at_least: 1 mm}",
            "{banned: [steel], of: x.made}",
            "{limit: x.step, at_most: 1 mm, rounded: {to: x.step, mode: up}}",
        )
    )
    found |= told([judge(turning, CAR, FACTS, MORE).unknown])
    check = "{any_of: [{when: x.step > 1 mm, limit: x.step, at_least: 2 mm}]}"
    (breach,) = inspect(pack_of(check, facts, lists, "penalty: {amount: excess}"), states).outcomes
    found |= told([breach.penalty])
    assert found == {
        NotJudged.NO_ROWS_OF: "there are no pairs of joints to check",
        NotJudged.NO_ENTRY: "no entry of joints is declared that this clause is about",
        NotJudged.NOTHING_WITHIN: "no component within brakes is declared that this clause is about",
        NotJudged.EMPTY_LIST: "walls is stated as an empty list",
        NotJudged.NO_MATERIALS: "the materials are stated as an empty list",
        NotJudged.NO_STEP: "the step of a rounding is not above 0",
        NotJudged.DIVISOR_TURNS: "in burning a divisor passes through zero",
        NotJudged.NO_MARGIN: "this breach has no margin",
    }
    assert set(found) == set(NotJudged)


def test_of_plans() -> None:
    pack = rules(
        "{limit: percentage.cross, at_most: 60 %, condition: as_weighed}",
        "{limit: weight.front * weight.rear / 1 kg, at_least: 1 kg, condition: as_weighed}",
        "{holds: weight.total > 1 kg, condition: as_weighed}",
    )
    nose = {"name": "nose", "at": at(300)}
    things = {
        "movable": [{"what": "driver", "between": [at(1300), at(1400)]}, {"what": "fuel tank", "to": [nose]}],
        "places": [nose],
        "shelf": [{"label": "lead", "mass": "1 kg"}],
    }
    race = {"race": {"fuel_per_lap": "0.5 L", "laps": 20}}
    levels = {"capacity": "20 L", "density": "0.75 kg/L", "at": [at(2000, level="20 L")]}
    found = planned(pack, car(things, fuel=levels))
    raced = planned(pack, car({**things, **race}), race=True)
    every = [one.why for one in found.declined]
    every += [one.why for one in (*found.left_out, *raced.left_out)]
    assert told(every) == {
        NotPlanned.SINGLE_WHEELS: "what single wheels carry only a weighing tells",
        NotPlanned.NOT_LINEAR: "it is not linear in the loads of the car",
        NotPlanned.NO_DISTANCE: "it has no distance to a limit that could be followed",
        NotPlanned.NOT_BETWEEN: "it does not sit on the line between the two places that it slides between",
        NotPlanned.BY_LEVELS: "the tank is told by levels, and only one place is moved",
        NotPlanned.WITH_THE_START: "with it the fuel to start with is not settled, and only one of both is planned",
    }
    assert set(told(every)) == set(NotPlanned)


def _of_meeting(folder: Path, *weighings: Mapping[str, str]) -> Iterator[Reason]:
    """Why car 7 is open once it is weighed so, and a gauge was put to it."""
    folder.mkdir()
    with a_meeting(folder) as meeting:
        for loads in weighings:
            weighed(meeting, loads=loads)
        measured(meeting, "engine.inlet_bore", "35 mm", gauge="go")
        judgement = meeting.judgement(meeting.car("7"))
    yield from judgement.open_because
    yield from (reason for one in judgement.inspection.outcomes for reason in one.assessment.unknown.reasons)


def _with_parts(reasons: Iterable[Reason]) -> Iterator[Reason]:
    for reason in reasons:
        yield reason
        yield from (part for part in reason.parts if isinstance(part, Reason))


def test_of_a_day_at_the_scales(tmp_path: Path) -> None:
    swapped, even = {"pads": "swapped side to side"}, reading("158", "140.5", "150.5", "136")
    seconds: Sequence[tuple[dict[str, Any], dict[str, Any]]] = [
        (FIRST, reading("147", "158.5", "140.5", "148")),
        (FIRST, reading("185.5", "147", "148", "140.5")),
        (even, reading("159.5", "139", "151.5", "135.5", **swapped)),
        (even, reading("163", "135.5", "150.5", "136", **swapped)),
    ]
    failed = {"when": "2026-05-04 08:00", "shown": {**all_pads("150 kg"), "front_left": "155 kg"}}
    cars = [checked(failed), *(loaded(on_pads(*both)) for both in seconds)]
    every = [
        *_of_meeting(tmp_path / "light", LOADS, shifted(front_left=-50)),
        *_of_meeting(tmp_path / "heavy", shifted(front_left=50)),
        *_of_meeting(tmp_path / "exchanged", exchanged(), exchanged()),
        *(reason for car in cars for doubt in car.pad_doubts for reason in _of_pads(doubt.reason)),
    ]
    found = {reason.why: reason.told() for reason in _with_parts(every)}
    assert found == {
        NotSettled.GAUGE_TELLS: "the gauge tells only that engine.inlet_bore is above 35 mm (gauge went)",
        NotSettled.IN_ENTRY: "in entry 3 the numbers look as if left and right were exchanged:"
        " as typed they are up to 26 kg from the declaration, exchanged up to 0 kg",
        NotSettled.LOOKS_EXCHANGED: "the numbers look as if left and right were exchanged:"
        " as typed they are up to 26 kg from the declaration, exchanged up to 0 kg",
        NotSettled.FAR_ABOVE: "the total of 640 kg is 50 kg above the 590 kg that follow from the declaration",
        NotSettled.FAR_BELOW: "the total of 540 kg is 50 kg below the 590 kg that follow from the weighing before",
        NotSettled.OUT_OF_ORDER: "the front right pad shows 5 kg more than the front left pad under the same wheel:"
        " one of them is out of order",
        NotSettled.PERHAPS_OUT: "the front right pad shows 1.5 kg more than the front left pad under the same wheel:"
        " perhaps one of them is out of order",
        NotSettled.MISTYPED: "the front left load of reading 2 is 185.5 kg, and 158.5 kg in the first",
        NotSettled.DIFFER: "the weighings differ: total 590 kg and 540 kg, and measuring error explains 3 kg",
        NotSettled.REPEATS_EXCHANGED: "reading 2 repeats the first with left and right exchanged",
        NotSettled.FAILED_CHECK: "the front left pad failed its check of 2026-05-04 08:00",
    }
    assert set(found) == set(NotSettled)
