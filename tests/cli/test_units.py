"""`--units` from the outside: texts follow it, JSON and the record never do."""

from __future__ import annotations

import json
from fractions import Fraction
from importlib import import_module
from itertools import product
from pathlib import Path

import pytest

from checker.cli.program import COMMANDS
from checker.meeting.record.car_contents import (
    Judged,
    Weighed,
)
from checker.meeting.session.session import Meeting
from tests.cli.meetings import Day
from tests.cli.running import run
from tests.cli.test_documents import BOTH, PRINTED, weighed
from tests.examples import quick_first

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

COMMANDS_WITH_UNITS = {
    name
    for name, module in COMMANDS.items()
    if any(p.name == "units" for p in import_module(f"checker.cli.{module}").command.params)
}
WITHOUT_AMOUNTS = {"reach", "pack lint", "pack compare", "meeting verify", "meeting export"}
"""Commands that print JSON and no amount, or amounts only as the rules write them."""
WITHOUT_JSON = {
    "card",
    "open",
    "meeting sheet",
    "meeting weigh",
    "meeting measure",
    "meeting gear",
    "meeting pages",
}


def test_every_command_that_shows_amounts_has_the_option() -> None:
    assert (set(PRINTED) - WITHOUT_AMOUNTS) | WITHOUT_JSON == COMMANDS_WITH_UNITS


ORDERS = (("--units", "us", "--format", "json"), ("--format", "json", "--units", "us"))
ONE_CAR_FIRST = sorted(COMMANDS_WITH_UNITS - WITHOUT_JSON, key=lambda name: (name.startswith("pack"), name))


@pytest.mark.parametrize(
    ("name", "order"),
    [
        *quick_first(product(ONE_CAR_FIRST, ORDERS[:1]), 3),
        *quick_first(product(ONE_CAR_FIRST, ORDERS[1:]), 1),
    ],
)
def test_json_is_the_same_in_every_system(
    capsys: Capsys, tmp_path: Path, name: str, order: tuple[str, ...]
) -> None:
    arguments = [*name.split(), *PRINTED[name]]
    if name.startswith("meeting"):
        arguments.insert(2, weighed(capsys, tmp_path))
    plain = run(capsys, *arguments, "--format", "json")
    assert run(capsys, *arguments, *order).out == plain.out


def test_two_weighings_are_compared_in_pounds_and_the_offset_to_enter_is_too(capsys: Capsys) -> None:
    told = run(capsys, "compare-weighings", *PRINTED["compare-weighings"], "--units", "us").out
    assert 'offset: "-2.6 lb"' in told
    assert " kg" not in told


@pytest.mark.deep
def test_a_report_that_was_kept_is_compared_and_then_told_in_pounds(capsys: Capsys, tmp_path: Path) -> None:
    light, kept = "samples/cars/light-at-the-flag.yaml", tmp_path / "kept.json"
    run(capsys, "inspect", light, "--format", "json", "--output", str(kept))
    told = run(capsys, "inspect", light, "--since", str(kept), "--units", "us").out
    assert "Nothing has changed for this car" in told
    heavier = run(
        capsys, "inspect", light, "--set", "driver.mass=80 kg", "--since", str(kept), "--units", "us"
    ).out
    assert "lb" in heavier
    assert " kg" not in heavier.partition("ASSUMED")[0].replace("mass=80 kg", "")


@pytest.mark.deep
def test_a_limit_is_swept_in_the_units_asked_for(capsys: Capsys) -> None:
    at = ("--at", "tables.minimum_weight.rows[1].value")
    sweep = ("pack", "sweep", BOTH[1], "3.1", *at, "--from", "560 kg", "--to", "600 kg", *CARS)
    kg, lb = run(capsys, *sweep).out, run(capsys, *sweep, "--units", "us").out
    assert "now 585 kg" in kg
    assert "now 1289.70 lb" in lb
    assert " kg" not in lb


CARS = ("samples/cars/legal.yaml", "samples/cars/light-at-the-flag.yaml")


@pytest.mark.deep
def test_a_plan_tells_places_and_weights_in_the_units_asked_for(capsys: Capsys) -> None:
    """By hand: 2080 mm are 81.89 in; 4.5 kg are 9.92 lb, which are weighed out rounded up."""
    told = " ".join(run(capsys, "plan", "samples/cars/light-at-the-flag.yaml", "--units", "us").out.split())
    assert (
        "bolt 10.0 lb of ballast at boot floor (81 7/8 in behind the front axle, on the centre line)" in told
    )
    assert "weight changes by +10.0 lb." in told
    assert " mm" not in told


def test_a_meetings_screens_are_in_pounds_and_its_record_in_kilograms(day: Day) -> None:
    us = ("--units", "us")
    told = day("weigh", "7", "150", "139", "150", "139", "--fuel", "6 L", *us).out
    assert "add " in told
    assert " lb" in told
    assert " kg" not in told
    bad = day("gear", "pads", "--pad", "rear_left", "--weight", "20", "--shows", "30.0", *us)
    assert "66.1387 lb for 44.0925 lb is beyond the" in bad.out
    assert "66.1387 lb for 44.0925 lb, BAD" in day("gear", *us).out
    slip = day("slip", "7", *us).out
    assert "1274.27 lb" in slip
    assert " kg" not in slip
    board, results = day("board", *us).out, day("results", *us).out
    assert " lb" in board
    assert " lb" in results
    assert " kg" not in board + results
    assert "declared 3.54331 in, found" in day("sheet", "7", *us).out
    with Meeting.open(day.file, writing=False) as meeting:
        (car,) = (one for one in meeting.day.cars.values() if one.number == "7")
        contents = [*(r.content for r in car.of(Weighed)), *(r.content for r in car.judged)]
    for content in contents:
        assert "lb" not in str(content)
    assert any(isinstance(one, Judged) and "kg" in str(one.margins) for one in contents)


@pytest.mark.deep
def test_in_pounds_one_pound_more_is_told_rounded_towards_nothing(capsys: Capsys) -> None:
    """By hand: 600 kg, 316.5 kg of it inside; the tank lies 310 mm outside, between tracks of 1550 mm, so 0.3 of it."""
    creeping = "samples/cars/creeping-inside.yaml"
    us, metric = (run(capsys, "conditions", creeping, "--units", units).out for units in ("us", "metric"))
    assert "ONE POUND MORE" in us
    assert "ONE KILOGRAM MORE" in metric
    fuel = json.loads(run(capsys, "conditions", creeping, "--format", "json").out)["one_kg"][0]
    for key, more, text in (("inside", Fraction(1), metric), ("inside_lb", Fraction("0.45359237"), us)):
        exactly = 100 * (
            (Fraction("316.5") + Fraction("0.3") * more) / (600 + more) - Fraction("316.5") / 600
        )
        assert Fraction(fuel[key]["exact"]) == exactly
        assert 0 <= abs(exactly) - abs(Fraction(fuel[key]["value"])) < Fraction(1, 1000)
        assert f"{fuel[key]['value']} %" in text
