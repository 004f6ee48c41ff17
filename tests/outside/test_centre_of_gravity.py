"""Height of the centre of gravity from a raised axle, by three published forms.

ISO 10392:2011, clause 6, gives the method (read in a description of it). The forms: rear raised, h = r + WB (F' - F) /
(T tan theta) (read in a discussion that derives it); front raised, with the front load, h = r + (b - WB F'/T) cot theta
(read in an open text); a body-builder's guideline that goes by way of two right triangles (read). The cases M14 to M17
are computed; all three forms agree on them.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from checker.car.weights.centre_of_gravity import RaisedAxle, height_of_centre

T, FRONT, BASE, RADIUS, LIFT = (Fraction(x) for x in ("640", "300", "2400", "280", "600"))


def from_rear(front_kg: str) -> Fraction:
    return height_of_centre(RaisedAxle("rear", LIFT, Fraction(front_kg), RADIUS), T, FRONT, BASE)


def test_rear_raised() -> None:
    """M14: 0.4200 m."""
    assert float(from_rear("309.639425")) == pytest.approx(420.0, abs=1e-3)
    assert math.degrees(math.asin(LIFT / BASE)) == pytest.approx(14.477512, abs=1e-6)


def test_front_raised_by_its_rear_load() -> None:
    """M15: the same car, front raised; the rear then carries 349.639425 kg."""
    raised = RaisedAxle("front", LIFT, Fraction("349.639425"), RADIUS)
    assert float(height_of_centre(raised, T, T - FRONT, BASE)) == pytest.approx(420.0, abs=1e-3)


def test_front_raised_by_the_form_with_its_front_load() -> None:
    """M15, by the second published form, in floats: it agrees."""
    base, lift, total = (float(x) for x in (BASE, LIFT, T))
    tangent = lift / math.sqrt(base**2 - lift**2)
    to_rear = base * float(FRONT) / total
    height = float(RADIUS) + (to_rear - base * 290.360575 / total) / tangent
    assert height == pytest.approx(420.0, abs=1e-3)
    raised = RaisedAxle("front", LIFT, T - Fraction("290.360575"), RADIUS)
    assert float(height_of_centre(raised, T, T - FRONT, BASE)) == pytest.approx(height, abs=1e-9)


def test_the_guideline_by_right_triangles() -> None:
    """M15, by the third: WB2 = 2.323790008, y = 0.036147845 m, h - r = 0.140 m."""
    base, lift, total = 2.4, 0.6, 640.0
    shorter = math.sqrt(base**2 - lift**2)
    assert shorter == pytest.approx(2.323790008, abs=1e-9)
    x1, x2 = 300 * base / total, 290.360575 * shorter / total
    u = lift * x2 / shorter
    y = x1 - math.sqrt(u**2 + x2**2)
    assert (x2, u, y) == pytest.approx((1.054276566, 0.272213039, 0.036147845), abs=1e-8)
    above_hubs = y * math.tan(math.acos(lift / base))
    assert above_hubs == pytest.approx(0.140, abs=1e-6)
    assert float(from_rear("309.639425") - RADIUS) / 1000 == pytest.approx(above_hubs, abs=1e-6)


def test_a_scale_of_half_a_kilogram() -> None:
    """M16: read as 309.5 kg it comes out 417.975 mm; 14.523688 mm for each kilogram."""
    assert float(from_rear("309.5")) == pytest.approx(417.975, abs=1e-3)
    per_kg = float(from_rear("310.5") - from_rear("309.5"))
    assert per_kg == pytest.approx(14.523688, abs=1e-5)
    one_reading = 0.5 / math.sqrt(12)
    assert per_kg * one_reading == pytest.approx(2.096, abs=1e-3)
    assert per_kg * one_reading * math.sqrt(2) == pytest.approx(2.965, abs=1e-3)


def test_the_wrong_angle_is_not_taken() -> None:
    """M17: with tan theta = H / WB it would be 424.591 mm."""
    wrong = float(RADIUS + BASE * Fraction("9.639425") / (T * LIFT / BASE))
    assert wrong == pytest.approx(424.591, abs=1e-3)
    assert abs(float(from_rear("309.639425")) - wrong) > 4.5
