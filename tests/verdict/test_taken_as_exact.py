"""What nobody states the error of is never told as if it were known: no probability, and a line that names it."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.report.one_car.document import inspection_document
from checker.report.one_car.text import inspection_text
from checker.report.page import Page
from tests.building import inspection_of, pack_of, pack_of_check
from tests.examples import each_row

WEIGHT = "{limit: weight.total, at_least: 640 kg, condition: dry}"
DRY = "conditions: {dry: {fuel: 0 L}}"
PADS = "{resolution: 0.5 kg, permissible_error: 0.5 kg}"
CAR = """
weighing:
  {pads}
  fuel: {fuel}
  readings: [{{front_left: 160 kg, front_right: 160 kg, rear_left: 162 kg, rear_right: 160 kg}}]
instruments: {{pads: {gear}, can: {{permissible_error: 0.1 L}}, hydrometer: {{permissible_error: 0.001 kg/L}}}}
fuel: {{density: {density}}}
"""
WHOLE = {
    "pads": "instrument: pads",
    "gear": PADS,
    "fuel": "{value: 4 L, with: can}",
    "density": "{value: 0.745 kg/L, with: hydrometer}",
}


def outcome(check: str = WEIGHT, more: str = "", **changes: str) -> dict[str, Any]:
    inspection = inspection_of(pack_of_check(check, f"{DRY}\n{more}"), CAR.format(**{**WHOLE, **changes}))
    (found,) = inspection_document(inspection)["outcomes"]
    assert isinstance(found, dict)
    return found


def text_of(check: str = WEIGHT, more: str = "", **changes: str) -> str:
    inspection = inspection_of(pack_of_check(check, f"{DRY}\n{more}"), CAR.format(**{**WHOLE, **changes}))
    page = Page(width=300)
    inspection_text(inspection_document(inspection), page, all_assumed=True)
    return " ".join(page.text().split())


def test_a_margin_of_which_everything_is_stated_is_known_as_a_whole() -> None:
    found = outcome()
    assert found["taken_as_exact"] == []
    assert found["probability"] is not None
    assert found["uncertainty"]["complete"]


@each_row(
    ("changes", "names"),
    [
        ({"pads": "driver: out"}, ["weighing.readings"]),
        ({"gear": "{resolution: 0.5 kg}"}, ["weighing.readings"]),
        ({"fuel": "4 L"}, ["weighing.fuel"]),
        ({"density": "0.745 kg/L"}, ["fuel.density"]),
        ({"fuel": "4 L", "density": "0.745 kg/L"}, ["fuel.density", "weighing.fuel"]),
        ({"fuel": "{value: 4 L, uncertainty: 0 L}"}, []),
        ({"gear": "{resolution: 0.5 kg, permissible_error: 0 kg}"}, []),
        ({"gear": "{uncertainty: 0.2 kg}"}, []),
    ],
)
def test_what_has_no_stated_error_is_named_and_there_is_no_probability(
    changes: dict[str, str], names: list[str]
) -> None:
    found = outcome(**changes)
    assert found["taken_as_exact"] == names
    assert (found["probability"] is None) == bool(names)
    assert found["uncertainty"]["complete"] == (not names)


def test_what_is_stated_still_guards() -> None:
    """Four pads of 0.5 kg under 642 kg less 2.98 kg: 639.02 kg is 0.98 kg short, and 1.06 kg are open."""
    assert outcome(fuel="4 L")["uncertainty"]["expanded"] == pytest.approx(1.0619, abs=1e-3)
    told = text_of(fuel="4 L")
    assert "±" not in told
    assert "chance" not in told
    assert "taken as exact, as no error of it is stated: fuel on board" in told
    assert "±1.1 kg" in text_of()


def test_a_car_of_which_no_error_is_stated_says_so() -> None:
    told = text_of(pads="driver: out", fuel="4 L", density="0.745 kg/L")
    assert "resolves" not in told
    assert "as no error of them is stated: what the scales show, fuel on board, fuel density" in told


def test_the_packs_own_pads_serve_where_none_are_named() -> None:
    more = f"instruments: {{pads: {PADS}}}\ngear: {{weighed_with: pads}}"
    mine, told = outcome(more=more, pads="driver: out", gear=PADS), text_of(more=more, pads="driver: out")
    assert mine["uncertainty"] == outcome()["uncertainty"]
    assert mine["taken_as_exact"] == []
    assert "weighed on pads, the rules' own, as no instrument is stated" in told


def test_a_place_does_not_matter_to_the_total_and_does_to_a_side() -> None:
    side = "{limit: percentage.left, at_most: 60 %, condition: dry}"
    car = (
        CAR.format(**WHOLE)
        .replace("}\n}", "}")
        .replace("fuel: {density:", "fuel: {at: {behind_front_axle: 1 m, left_of_centre: 9 mm}, density:")
    )
    car += "dimensions: {front_width_over_tyres: 1700 mm, rear_width_over_tyres: 1700 mm}\n"
    car += "tyres: {dry: {front: {section: 200 mm}, rear: {section: 200 mm}}}\n"
    pack = pack_of(f'"1": {{title: T, check: {WEIGHT}}}\n"2": {{title: S, check: {side}}}', DRY)
    total, left = inspection_document(inspection_of(pack, car))["outcomes"]
    assert total["taken_as_exact"] == []
    assert "fuel.at.left_of_centre" in left["taken_as_exact"]
    assert "dimensions.front_width_over_tyres" in left["taken_as_exact"]


READINGS = ("fuel", "density", "gear")
UNSTATED = {"fuel": "4 L", "density": "0.745 kg/L", "gear": "{resolution: 0.5 kg}"}


@given(st.sets(st.sampled_from(READINGS)))
def test_a_probability_is_given_exactly_where_every_reading_has_an_error(lacking: set[str]) -> None:
    found = outcome(**{name: UNSTATED[name] for name in lacking})
    assert len(found["taken_as_exact"]) == len(lacking)
    assert (found["probability"] is None) == bool(lacking)


@given(st.sets(st.sampled_from(READINGS)))
def test_stating_an_error_never_narrows_the_guard(lacking: set[str]) -> None:
    part = outcome(**{name: UNSTATED[name] for name in lacking})["uncertainty"]
    assert Fraction(part["expanded"]) <= Fraction(outcome()["uncertainty"]["expanded"])


CROSS = "{limit: percentage.cross, at_least: 48 %, at_most: 52 %, condition: as_weighed}"


def test_no_probability_is_given_for_cross_weight_without_stiffness_and_heights() -> None:
    found = outcome(CROSS)
    assert found["taken_as_exact"] == ["weighing.floor.pad_height"]
    assert found["probability"] is None


@pytest.mark.parametrize("floor", ["{pad_height: 1 mm}", "{stiffness: 25 N/mm}"])
def test_one_of_both_is_not_enough(floor: str) -> None:
    assert outcome(CROSS, pads=f"instrument: pads\n  floor: {floor}")["probability"] is None


@pytest.mark.parametrize("name", ["weight.cross", "weight.front_left", "percentage.rear_inside"])
def test_with_them_every_single_wheel_follows_the_heights(name: str) -> None:
    check = f"{{limit: {name}, at_least: {'1 %' if name.startswith('p') else '1 kg'}, condition: as_weighed}}"
    found = outcome(check, pads="instrument: pads\n  floor: {pad_height: 1 mm, stiffness: 25 N/mm}")
    assert found["taken_as_exact"] == []
    assert found["probability"] is not None
    assert "heights of the pads" in [part["name"] for part in found["uncertainty"]["contributions"]]
