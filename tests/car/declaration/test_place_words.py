"""What is told of a place in other words is told back in the words that mean the same, never another place."""

from __future__ import annotations

from itertools import product

import pytest

from checker.car.declaration.structure import PLACES
from tests.car.cars import problems, varied
from tests.examples import each_row

AXLES = {"front": "front", "rear": "rear", "back": "rear", "reer": "rear", "frnt": "front"}
WAYS = {
    "behind": "behind",
    "behnd": "behind",
    "after": "behind",
    "ahead_of": "ahead_of",
    "ahed_of": "ahead_of",
    "in_front_of": "ahead_of",
    "before": "ahead_of",
    "forward_of": "ahead_of",
}
SIDES = {
    "left_of_center": "left_of_centre",
    "lft_of_centre": "left_of_centre",
    "right-of-centre": "right_of_centre",
}


def hint_for(key: str) -> str:
    (found,) = problems(varied({"fuel.at": {key: "300 mm"}}))
    assert found.code == "CD201"
    return found.hint


@each_row(("axle", "way"), product(AXLES, WAYS))
def test_a_place_from_an_axle_is_told_back_as_what_it_means(way: str, axle: str) -> None:
    key = f"{way}_{axle}_axel"
    assert hint_for(key) == f"write {WAYS[way]}_{AXLES[axle]}_axle"


@pytest.mark.parametrize("side", SIDES)
def test_so_is_a_side(side: str) -> None:
    assert hint_for(side) == f"write {SIDES[side]}"


def test_where_only_the_axle_is_plain_both_ways_are_offered() -> None:
    assert hint_for("rear_axle") == "write behind_rear_axle or ahead_of_rear_axle"


@pytest.mark.parametrize("key", ["x", "left_of_front_axle", "station"])
def test_what_means_no_place_is_told_all_that_there_are(key: str) -> None:
    assert hint_for(key) == f"known here: {', '.join(PLACES)}"
