"""Height of the centre of gravity: declared, from a raised axle, assumed. Published forms are in tests/outside."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.weights.centre_of_gravity import RaisedAxle, height_of_centre
from checker.quantities.elementary import sqrt
from checker.report.words.remarks import car_warnings
from tests.car.cars import loaded, problems, varied
from tests.examples import each_row

RAISED = {"axle": "rear", "by": "600 mm", "other_axle": "309.6 kg", "wheel_radius": "280 mm"}
LOADS = {"front_left": "150 kg", "front_right": "150 kg", "rear_left": "170 kg", "rear_right": "170 kg"}
CAR = {
    "weighing.readings": [LOADS],
    "dimensions.wheelbase_left": "2400 mm",
    "dimensions.wheelbase_right": "2400 mm",
}


def height(section: dict[str, Any] | None, **changes: Any) -> Fraction:
    added = {} if section is None else {"centre_of_gravity": section}
    return loaded(varied({**CAR, **added, **changes})).centre_of_gravity_height


def test_a_declared_height_counts_else_a_measured_one_else_the_packs() -> None:
    assert height({"height": "42 cm"}) == 420
    assert float(height({"raised": [RAISED]})) == pytest.approx(419.427, abs=1e-3)
    assert height(None) == 350


def test_several_raisings_are_averaged() -> None:
    other = {"axle": "front", "by": "600 mm", "other_axle": "350.0 kg", "wheel_radius": "280 mm"}
    both = height({"raised": [RAISED, other]})
    assert both == (height({"raised": [RAISED]}) + height({"raised": [other]})) / 2


def test_an_axle_that_was_never_weighed_tells_nothing() -> None:
    assert height({"raised": [RAISED]}, **{"weighing.readings": [{"total": "640 kg"}]}) == 350


@given(
    centre=st.integers(200, 900),
    behind=st.integers(800, 1600),
    by=st.integers(100, 900),
    axle=st.sampled_from(["front", "rear"]),
)
def test_the_height_that_a_tilted_car_was_made_with_is_found(
    centre: int, behind: int, by: int, axle: str
) -> None:
    """A body of 640 kg on hubs 280 mm up and 2400 mm apart is turned about the hub that stays down."""
    base, total, radius = Fraction(2400), Fraction(640), Fraction(280)
    from_down_hub = Fraction(behind) if axle == "rear" else base - behind
    level = total * (base - from_down_hub) / base
    along = sqrt(base**2 - by**2) / base  # cosine of the tilt
    up = Fraction(by) / base
    reach = from_down_hub * along - (centre - radius) * up  # of the centre, level from the hub that is down
    tilted = total * (1 - reach / (base * along))
    raised = RaisedAxle(axle, Fraction(by), tilted, radius)
    assert float(height_of_centre(raised, total, level, base)) == pytest.approx(centre, abs=1e-9)


def test_an_axle_cannot_be_raised_by_the_wheelbase() -> None:
    with pytest.raises(ValueError, match="wheelbase"):
        height_of_centre(
            RaisedAxle("rear", Fraction(2400), Fraction(300), Fraction(280)),
            Fraction(640),
            Fraction(300),
            Fraction(2400),
        )


def test_a_height_that_cannot_be_is_told() -> None:
    raised = {"raised": [{**RAISED, "other_axle": "500 kg"}]}
    (warning,) = car_warnings(loaded(varied({**CAR, "centre_of_gravity": raised})))
    assert warning.code == "CD219"
    assert "comes out" in warning.message


WRONG = [
    ({"height": "420 mm", "raised": [RAISED]}, 214),
    ({"hight": "420 mm"}, 201),
    ({"height": "4 m"}, 208),
    ({"raised": [{**RAISED, "axle": "left"}]}, 205),
    ({"raised": [{"axle": "rear"}]}, 214),
    ({"raised": [{**RAISED, "jack": "high"}]}, 201),
    ({"raised": [{**RAISED, "by": "0 mm"}]}, 208),
]


@each_row(("section", "number"), WRONG)
def test_what_cannot_be_read_is_refused(section: dict[str, Any], number: int) -> None:
    assert [p.code for p in problems(varied({"centre_of_gravity": section}))] == [f"CD{number}"]
