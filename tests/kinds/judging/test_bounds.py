"""Bounds: what a margin is ranked as a share of."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.kinds.judging.assessment import Assessment
from tests.examples import examples
from tests.kinds.workbench import judge

TENTHS = st.integers(-200, 200).map(lambda tenths: Fraction(tenths, 10))


def limit(value: Fraction, bounds: str) -> Assessment:
    return judge(
        f"{{limit: a.length, {bounds}}}", {"a": {"length": f"{float(value)} mm"}}, "{a.length: {unit: mm}}"
    )


@examples(40)
@given(TENTHS, st.integers(0, 100).map(lambda tenths: Fraction(tenths, 10)), TENTHS)
def test_a_clause_with_two_bounds_is_ranked_as_the_nearest_alone(
    middle: Fraction, half: Fraction, value: Fraction
) -> None:
    low, high = middle - half, middle + half
    alone = limit(value, f"at_most: {float(high)} mm" if value > middle else f"at_least: {float(low)} mm")
    for both in (
        f"at_least: {float(low)} mm, at_most: {float(high)} mm",
        f"nominal: {float(middle)} mm, plus_minus: {float(half)} mm",
        f"exactly: {float(middle)} mm, tolerance: {float(half)} mm",
    ):
        if value == middle or (found := limit(value, both)).met_by_nature:
            continue  # either bound may speak, or only one value passes
        assert (found.margin_value, found.size) == (alone.margin_value, alone.size), both


@pytest.mark.parametrize(
    "bounds", ["at_least: 47.5 mm, at_most: 50.5 mm", "nominal: 49 mm, plus_minus: 1.5 mm"]
)
def test_the_width_between_two_bounds_does_not_count(bounds: str) -> None:
    assert limit(Fraction(50), bounds).size == limit(Fraction(50), "at_most: 50.5 mm").size
