"""Pads that are all out by one same factor: no swap shows it, their checks do."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from checker.car.gear.pad_checks import common_factor
from checker.report.words.remarks import car_warnings
from tests.car.cars import WHEELS, loaded, varied
from tests.examples import each_row

GEAR = {"resolution": "0.1 kg", "permissible_error": "0.5 %"}


def check(
    weight: str, shown: dict[str, str], zero: dict[str, str] | None = None, when: str = "2026-05-03 08:00"
) -> Any:
    told = {"instrument": "pads", "when": when, "test_weight": weight, "shown": shown}
    return told if zero is None else {**told, "zero": zero}


def car_with(checks: list[Any], **gear: str) -> Any:
    return loaded(
        varied({"weighing.instrument": "pads", "instruments": {"pads": {**GEAR, **gear}}, "checks": checks})
    )


def factor(checks: list[Any], **gear: str) -> Any:
    car = car_with(checks, **gear)
    assert car.gear is not None
    return common_factor(car.checks, car.gear, car.weighing.pads)


ZERO = dict.fromkeys(WHEELS, "0 kg")


def all_show(kg: str) -> dict[str, str]:
    return dict.fromkeys(WHEELS, kg)


@each_row(
    ("checks", "expected"),
    [
        ([check("20 kg", all_show("19.4 kg"), ZERO)], Fraction(-3, 100)),
        ([check("20 kg", all_show("20 kg"), ZERO)], None),
        ([check("20 kg", all_show("19.9 kg"), ZERO)], None),  # a step of the display
        ([check("20 kg", {**all_show("19.4 kg"), "rear_left": "20 kg"}, ZERO)], None),
        ([check("20 kg", {"front_left": "19.4 kg", "rear_left": "19.4 kg"}, ZERO)], None),
        ([check("20 kg", all_show("19.4 kg"))], None),  # it may be the zero as well
        ([check("20 kg", all_show("19.4 kg")), check("120 kg", all_show("116.4 kg"), when="2026-05-03 09:00")],
         Fraction(-3, 100)),
        ([check("20 kg", all_show("20.6 kg")), check("120 kg", all_show("120.6 kg"), when="2026-05-03 09:00")], None),
    ],
)  # fmt: skip
def test_pads_that_all_show_the_same_part_too_much_or_too_little(
    checks: list[Any], expected: Fraction | None
) -> None:
    found = factor(checks)
    assert (None if found is None else found[0]) == expected


def test_what_is_stated_of_the_set_explains_it() -> None:
    assert factor([check("20 kg", all_show("19.4 kg"), ZERO)], common_error="3 %") is None


@given(st.lists(st.integers(-4, 4), min_size=4, max_size=4))
def test_pads_in_order_never_show_it(steps: list[int]) -> None:
    """Each is out by half of what it may and its display rounds: no four of them are all out by more than a step."""
    shown = {pad: f"{20 + step / 100:.1f} kg" for pad, step in zip(WHEELS, steps, strict=True)}
    assert factor([check("20 kg", shown, ZERO)]) is None


def test_it_is_told_with_the_pads_and_the_cure() -> None:
    warnings = car_warnings(car_with([check("20 kg", all_show("19.4 kg"), ZERO)]))
    (told,) = [w for w in warnings if "too little" in w.message and "all show" in w.message]
    assert told.message == (
        "pads: by their checks front_left, front_right, rear_left, rear_right all show 3 % too little"
    )
    assert "no swap shows that" in told.hint


ONE = {"front": "298 kg", "rear": "342 kg", "pads": {"front": "plate", "rear": "plate"}}
TWO = dict(zip(WHEELS, ("150 kg", "148 kg", "172 kg", "170 kg"), strict=True))
IN_TURN = {**TWO, "pads": {wheel: wheel.partition("_")[2] for wheel in WHEELS}}


def on_few(reading: dict[str, Any], shown: dict[str, str], **gear: str) -> Any:
    told = [check("20 kg", shown, dict.fromkeys(shown, "0 kg"))]
    pads = {"pads": {**GEAR, **gear}}
    return loaded(
        varied(
            {
                "weighing.instrument": "pads",
                "instruments": pads,
                "checks": told,
                "weighing.readings": [reading],
            }
        )
    )


@each_row(
    ("reading", "shown", "said"),
    [
        (ONE, {"plate": "19.4 kg"}, "pads: by its checks plate shows 3 % too little under every load"),
        (ONE, {"plate": "20 kg"}, ""),
        (ONE, {"plate": "20 kg", "other": "19.4 kg"}, ""),  # it was not under the car
        (ONE, {"plate": "19.4 kg", "other": "20 kg"}, "pads: by its checks plate shows 3 % too little under every load"),
        (IN_TURN, {"left": "19.4 kg", "right": "19.4 kg"}, "pads: by their checks left, right all show 3 % too little"),
        (IN_TURN, {"left": "19.4 kg", "right": "20 kg"}, ""),
        (IN_TURN, {"left": "19.4 kg"}, ""),
    ],
)  # fmt: skip
def test_one_plate_or_two_pads_that_bore_the_whole_car_in_turn(
    reading: dict[str, Any], shown: dict[str, str], said: str
) -> None:
    told = [
        w.message for w in car_warnings(on_few(reading, shown)) if " too " in w.message and "by " in w.message
    ]
    factors = [message for message in told if "by its checks" in message or "by their checks" in message]
    assert factors == ([said] if said else [])


def test_a_plates_factor_is_told_though_each_of_its_checks_is_within_what_it_may() -> None:
    (told,) = car_warnings(on_few(ONE, {"plate": "19.4 kg"}, permissible_error="5 %"))
    assert "under every load" in told.message
    assert not car_warnings(on_few(ONE, {"plate": "19.4 kg"}, permissible_error="5 %", common_error="3 %"))
