"""Gear: how it is described, what of it is found wanting, and what it makes of a weighing."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from checker.car.declaration.loading import load_car
from checker.car.described.accuracy_classes import NIST, AccuracyClass
from checker.car.described.instrument import Instrument, Permissible
from checker.reading.problems import InputError, Problem
from checker.reading.strict_yaml import parse_document
from checker.report.words.remarks import car_warnings
from tests.car.cars import COMPLETE, assumed, loaded, problems, varied, vocabulary
from tests.examples import each_row

HALF = Fraction(1, 2)
PADS = {"resolution": "0.5 kg", "permissible_error": "0.5 kg"}
WHEELS = ("front_left", "front_right", "rear_left", "rear_right")


def weighed_with(gear: dict[str, Any], changes: dict[str, Any] | None = None) -> dict[str, Any]:
    return varied({"instruments": {"pads": gear}, "weighing.instrument": "pads", **(changes or {})})


def described(gear: dict[str, Any]) -> Instrument:
    found = loaded(weighed_with(gear)).gear
    assert found is not None
    return found


# -- how it is described -----------------------------------------------------------------------------


def test_an_error_is_an_amount_a_share_or_a_class() -> None:
    assert described(PADS).permissible_error.at(Fraction(150)) == HALF
    assert described({"permissible_error": "0.2 %"}).permissible_error.at(Fraction(150)) == Fraction("0.3")
    pad = described({"permissible_error": {"class": "iii", "interval": "100 g"}})
    assert pad.permissible_error == Permissible(accuracy=AccuracyClass("III", Fraction(1, 10)))
    assert pad.resolution == Fraction(1, 10), "a verified pad shows its interval"
    assert pad.permissible_error.at(Fraction(160)) == Fraction(2, 10)
    stated = {"class": "III", "interval": "0.1 kg", "in_service": False, "standard": NIST}
    fine = described({"resolution": "0.02 kg", "permissible_error": stated})
    assert fine.resolution == Fraction(2, 100)
    assert fine.permissible_error.at(Fraction(160)) == Fraction(1, 10)


def test_the_rest_of_it_is_read() -> None:
    gear = described(
        {
            **PADS,
            "common_error": "0.2 %",
            "calibrated": "2026-01-10",
            "calibrated_until": "2027-01-09",
            "offset": {"front_left": "-0.4 kg"},
        }
    )
    assert gear.common_error == Fraction(2, 1000)
    assert (gear.calibrated, gear.calibrated_until) == (date(2026, 1, 10), date(2027, 1, 9))
    assert gear.offsets == {"front_left": Fraction("-0.4")}


WRONG = [
    ({"resolution": "0.5 kg", "accuracy": "III"}, 201, "not a key of an instrument"),
    ({"permissible_error": {"class": "III", "interval": "0.1 kg", "e": "0.1 kg"}}, 201, "accuracy class"),
    ({"permissible_error": {"class": "III"}}, 203, "needs the interval"),
    ({"permissible_error": {"class": "III", "interval": "0 kg"}}, 203, "needs the interval"),
    ({"permissible_error": {"class": "III", "interval": "1 mm"}}, 204, "mass was wanted"),
    ({"permissible_error": {"class": "V", "interval": "1 kg"}}, 205, "not among the words"),
    ({"permissible_error": {"class": "II", "interval": "1 kg", "standard": NIST}}, 205, "no tolerances"),
    ({"permissible_error": {"class": "III", "interval": "1 kg", "in_service": "yes"}}, 210, "true or false"),
    (
        {"resolution": "1 mm", "permissible_error": {"class": "III", "interval": "1 kg"}},
        204,
        "a class weighs",
    ),
    ({"resolution": "1 mm"}, 204, "a weighing is mass"),
    ({"common_error": "0.2 kg"}, 204, "percentage"),
    ({"calibrated_until": "2026-02-30"}, 206, "2026-02-30"),
    ({"calibrated_until": 2026}, 206, "a day was wanted; here stands the number 2026"),
    ({"permissible_error": "-0.5 kg"}, 207, "below zero"),
    ({"offset": {"front_left": "0.4 mm"}, "resolution": "0.5 kg"}, 204, "length"),
]


@each_row(("gear", "number", "message"), WRONG)
def test_what_is_wrong_with_it_is_named(gear: dict[str, Any], number: int, message: str) -> None:
    found = problems(weighed_with(gear))
    assert [problem.code for problem in found] == [f"CD{number}"]
    assert message in found[0].message


def test_a_length_is_not_weighed() -> None:
    scales = {"instruments": {"scales": PADS}}
    tape = {"dimensions.wheelbase_left": {"value": "2210 mm", "with": "scales"}}
    (found,) = problems(varied({**scales, **tape}))
    assert (found.code, found.message) == (
        "CD204",
        "dimensions.wheelbase_left: scales measures mass, and this is length",
    )


# -- a club's file -----------------------------------------------------------------------------------

CLUB = """
instruments:
  pads: {permissible_error: {class: III, interval: 0.1 kg}, calibrated_until: 2027-02-28}
checks:
  - {instrument: pads, when: 2026-05-03 08:40, zero: {front_left: 0 kg}}
"""


def with_gear_file(text: str, changes: dict[str, Any] | None = None) -> Any:
    import json

    document = parse_document(json.dumps(weighed_with(PADS, changes)).encode(), "car.yaml", "CD")
    return load_car(document, vocabulary(), gear=parse_document(text.encode(), "gear.yaml", "GR"))


def test_a_clubs_gear_counts_before_what_the_entrant_says_of_it() -> None:
    car = with_gear_file(CLUB)
    assert car.gear.resolution == Fraction(1, 10)
    assert car.gear.calibrated_until == date(2027, 2, 28)
    assert len(car.checks) == 1


def test_mistakes_in_a_clubs_file_have_codes_of_their_own() -> None:
    with pytest.raises(InputError) as caught:
        with_gear_file(
            "instruments: {pads: {resolution: 0.1}}\nweighing: {fuel: 3 L}\nchecks: [{when: monday}]\n"
        )
    assert [problem.code for problem in caught.value.problems] == ["GR203", "GR201", "GR214"]
    assert all(problem.span and problem.span.file == "gear.yaml" for problem in caught.value.problems)


# -- findings ----------------------------------------------------------------------------------------


def findings(declaration: dict[str, Any]) -> list[str]:
    car = loaded(declaration)
    assert all(isinstance(w, Problem) and w.warning for w in car_warnings(car))
    assert {w.code for w in car_warnings(car)} <= {"CD221"}
    return [w.message for w in car_warnings(car)]


def test_a_calibration_that_ran_out_is_told() -> None:
    event = {"event": {"date": "2026-05-03"}}
    assert findings(weighed_with({**PADS, "calibrated_until": "2026-05-02"}, event)) == [
        "pads: its calibration ran out on 2026-05-02, before 2026-05-03"
    ]
    assert findings(weighed_with({**PADS, "calibrated_until": "2026-05-03"}, event)) == []
    assert findings(weighed_with({**PADS, "calibrated": "2026-05-04"}, event)) == [
        "pads: it was not calibrated until 2026-05-04, after 2026-05-03"
    ]


def test_gear_that_only_a_dimension_was_measured_with_counts_too() -> None:
    steel = {"steel": {"permissible_error": "1 mm", "calibrated_until": "2025-12-31"}}
    wheelbase = {"dimensions.wheelbase_left": {"value": "2210 mm", "with": "steel"}}
    (found,) = findings(varied({"instruments": steel, "event": {"date": "2026-05-03"}, **wheelbase}))
    assert found == "steel: its calibration ran out on 2025-12-31, before 2026-05-03"


def test_a_load_beyond_the_class_is_told() -> None:
    gear = {"permissible_error": {"class": "IIII", "interval": "0.15 kg"}}
    (found,) = findings(weighed_with(gear))
    assert found == (
        "pads: a load of 158.5 kg is more than class IIII with an interval of 0.15 kg is made for, 150 kg"
    )


def test_an_offset_for_a_pad_that_carried_nothing_is_told() -> None:
    (found,) = findings(weighed_with({**PADS, "offset": {"front_lift": "0.4 kg"}}))
    assert found == "pads: an offset is stated for front_lift, which no reading names"


# -- offsets -----------------------------------------------------------------------------------------


def test_an_offset_goes_with_its_pad() -> None:
    """The pads were swapped side to side for the second reading."""
    car = loaded(weighed_with({**PADS, "offset": {"front_left": "-0.4 kg"}}))
    assert car.weighing.loads(0)["front_left"] == Fraction("158.1")
    assert car.weighing.loads(0)["front_right"] == 139
    assert car.weighing.loads(1)["front_left"] == 158
    assert car.weighing.loads(1)["front_right"] == Fraction("139.1")
    assert "pads: the readings are corrected by the offsets that are stated for it" in assumed(car)


def test_one_offset_serves_every_pad() -> None:
    car = loaded(weighed_with({**PADS, "offset": "0.5 kg"}))
    assert car.weights().weight("total") == 589


# -- what a weighing cannot show of itself -----------------------------------------------------------


def said(declaration: dict[str, Any]) -> str:
    return "\n".join(assumed(loaded(declaration)))


def test_one_plate_under_both_axles_is_told() -> None:
    loads = {"front": "298 kg", "rear": "342 kg"}
    plates = weighed_with(PADS, {"weighing.readings": [loads]})
    plate = weighed_with(
        PADS, {"weighing.readings": [{**loads, "pads": {"front": "plate", "rear": "plate"}}]}
    )
    assert "one plate stood" not in said(plates)
    assert "front and rear are taken as read on a plate each, as no pads are named" in said(plates)
    assert "taken as read" not in said(plate)
    assert (
        "one plate stood under front and rear in turn: what it is out by counts twice in the total"
        in said(plate)
    )


def test_a_scale_error_that_all_pads_share_is_told_unless_it_is_stated() -> None:
    words = "pads: common_error is taken as none, as it is not stated"
    assert words in said(weighed_with(PADS))
    assert words not in said(weighed_with({**PADS, "common_error": "0.1 %"}))


@pytest.mark.parametrize(
    ("weight", "told"), [("20 kg", True), ("79 kg", True), ("79.25 kg", False), ("150 kg", False)]
)
def test_a_test_weight_too_light_for_the_load_is_told(weight: str, told: bool) -> None:
    check = {
        "instrument": "pads",
        "when": "2026-05-03",
        "test_weight": weight,
        "shown": {"front_left": weight},
    }
    words = f"pads: a test weight of {weight} does not prove front_left at the 158.5 kg that it bore"
    assert (words in said(weighed_with(PADS, {"checks": [check]}))) is told


def test_a_light_test_of_one_pad_is_told_beside_a_heavy_one_of_another() -> None:
    heavy = {
        "instrument": "pads",
        "when": "2026-05-03",
        "test_weight": "150 kg",
        "shown": {"front_left": "150 kg"},
    }
    light = {**heavy, "test_weight": "20 kg", "shown": {"rear_left": "20 kg"}}
    told = said(weighed_with(PADS, {"checks": [heavy, light]}))
    assert "a test weight of 20 kg does not prove rear_left at the 152 kg that it bore" in told


def test_checks_of_a_pad_that_no_reading_names_are_told() -> None:
    check = {"instrument": "pads", "when": "2026-05-03", "zero": {"front_lift": "3 kg"}}
    (found,) = findings(weighed_with(PADS, {"checks": [check]}))
    assert found == "pads: checks are stated of front_lift, which no reading names"


def test_a_check_of_zero_alone_proves_nothing_and_claims_nothing() -> None:
    check = {"instrument": "pads", "when": "2026-05-03", "zero": {"front_left": "0 kg"}}
    assert "test weight" not in said(weighed_with(PADS, {"checks": [check]}))


@pytest.mark.parametrize(("times", "told"), [(1, False), (2, True), (3, False)])
def test_a_third_weighing_is_asked_for_where_there_are_two(times: int, told: bool) -> None:
    one = dict(zip(WHEELS, ("158 kg", "140 kg", "150 kg", "136 kg"), strict=True))
    readings = [one, {**one, "pads": "swapped side to side"}, one][:times]
    assert ("weigh a third time" in said(weighed_with(PADS, {"weighing.readings": readings}))) is told


# -- what is assumed ---------------------------------------------------------------------------------


def test_what_is_assumed_of_a_weighing_is_said_where_its_gear_is_stated() -> None:
    said = assumed(loaded(weighed_with(PADS)))
    assert "the floor under pads is taken as level to within 0.1 deg, as it is not stated" in said
    assert "centre_of_gravity.height is taken as 350 mm, as it is not stated" in said
    stated = {
        "weighing.floor": {"across": "2 mm", "along": "0.05 deg"},
        "centre_of_gravity": {"height": "420 mm"},
    }
    assert not any(
        "as it is not stated" in s for s in assumed(loaded(weighed_with(PADS, stated))) if "floor" in s
    )
    assert not any("centre_of_gravity" in s for s in assumed(loaded(weighed_with(PADS, stated))))
    assert not any("floor" in s for s in assumed(loaded(COMPLETE)))


def test_the_levers_that_the_floor_is_taken_with_are_told_where_they_are_not_known() -> None:
    told = said(weighed_with(PADS, {"dimensions": {}, "tyres": {}}))
    assert "the track on that floor is taken as 1200 mm, a narrow one, as it is not known" in told
    assert "the wheelbase on that floor is taken as 1800 mm, a short one, as it is not known" in told
    assert "on that floor" not in said(weighed_with(PADS))
    assert "on that floor" not in said(
        weighed_with(PADS, {"dimensions": {}, "weighing.readings": [{"total": "640 kg"}]})
    )
