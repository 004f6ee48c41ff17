"""Where something sits is pointed at on a drawing of the car, by mouse, finger and keys, in a real Chromium."""

from __future__ import annotations

import shutil
from typing import Any

import pytest

from tests.conftest import ROOT
from tests.pages.form.test_in_browser import browsed, pytestmark, served

__all__ = ["pytestmark"]


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What a browser saw."""
    folder = tmp_path_factory.mktemp("pointing")
    sample = shutil.copy(ROOT / "samples" / "cars" / "creeping-inside.yaml", folder / "car.yaml")
    with served(str(sample)) as car, served(str(folder / "new.yaml"), "--formula", "dunlin") as new:
        return browsed("point.mjs", folder, car, new)


def test_a_tap_and_keys_fill_in_the_fields(seen: dict[str, Any]) -> None:
    for width, (before, *steps) in seen["places"].items():
        assert before == "1930 mm behind_front_axle 530 mm left_of_centre"
        slack = 10 if width == "320" else 5  # a pixel of the drawing is so many mm
        for told, wanted in zip(steps[:2], ((1000, -400), (1005, -350)), strict=True):
            along, unit, way, across, other, side = told.split()
            assert (unit, way, other, side) == ("mm", "behind_front_axle", "mm", "right_of_centre")
            assert abs(float(along) - wanted[0]) <= slack
            assert abs(-float(across) - wanted[1]) <= slack
        assert steps[2] == "1780 mm behind_front_axle 310 mm right_of_centre"
    assert seen["pointed"] == "As fuel tank"


def test_the_drawing_goes_with_lists_that_grow_and_goes_away(seen: dict[str, Any]) -> None:
    assert (seen["again"], seen["away"], seen["back"]) == (1, 0, "ballast[0].at")


def test_either_axle_and_any_unit_are_pointed_at(seen: dict[str, Any]) -> None:
    assert "needs the wheelbase first" in seen["needs"]
    along, _, way, across, unit, side = seen["other"].split()
    assert (way, unit, side) == ("ahead_of_rear_axle", "in", "left_of_centre")
    assert abs(float(along) - 900) <= 5
    assert abs(float(across) - 10) <= 0.25


def test_nothing_is_wrong_on_it_and_without_script_the_fields_remain(seen: dict[str, Any]) -> None:
    assert (seen["console"], seen["axe"], seen["wide"], seen["plain"]) == ([], [], 320, 0)
