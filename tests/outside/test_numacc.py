"""Repeat readings against the NIST reference data sets NumAcc3 and NumAcc4 (univariate, read).

1001 values: the middle one, then 500 pairs 0.1 below and above it. The mean is the middle value and the standard
deviation 0.1, both exactly. On NumAcc4 the textbook form, sum of squares less squared sum over n, gives a negative
variance in floats.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.car.described.asking import MEAN, single
from checker.car.described.stated import Stated
from checker.car.errors.sources import Perturbation
from checker.car.errors.weighing import repeats
from checker.car.gear.weighing import ShownLoads, Weighing

BIGS = {"NumAcc3": 1_000_000, "NumAcc4": 10_000_000}


def data(name: str) -> list[Fraction]:
    big = BIGS[name]
    return [big + Fraction("0.2"), *[big + Fraction("0.1"), big + Fraction("0.3")] * 500]


@pytest.mark.parametrize("name", BIGS)
def test_mean_and_standard_deviation_are_exact(name: str) -> None:
    values = data(name)
    assert len(values) == 1001
    readings = [
        ShownLoads({"total": Stated(v, "", None, "declared", place=None)}, {"total": "plate"}) for v in values
    ]
    weighing = Weighing(tuple(readings))
    assert weighing.loads()["total"] == BIGS[name] + Fraction("0.2")
    found = list(repeats(weighing))
    assert {source.degrees_of_freedom for source in found} == {1000}
    levers = {source.lever.key: source.lever for source in found}
    steps = {key: _step(lever, weighing) for key, lever in levers.items()}

    def variance(moves: str) -> Fraction:
        return sum((steps[s.lever.key] ** 2 * s.variance for s in found if s.moves == moves), Fraction(0))

    assert variance(single(0)) == Fraction(1, 100)
    assert variance(MEAN) == Fraction(1, 100) / 1001


def _step(lever: Perturbation, weighing: Weighing) -> Fraction:
    """What the lever adds to the mean, by the unit."""
    from tests.car.cars import loaded, varied

    car = loaded(varied({"weighing.readings": [{"total": "600 kg"}]})).with_weighing(weighing)
    return lever.shift(car, Fraction(1)).weighing.loads()["total"] - weighing.loads()["total"]


def test_the_textbook_form_goes_wrong_in_floats_and_exact_decimals_do_not() -> None:
    values = data("NumAcc4")
    floats = [float(v) for v in values]
    n = len(floats)
    textbook = (sum(x * x for x in floats) - sum(floats) ** 2 / n) / (n - 1)
    assert abs(textbook - 0.01) > 0.001
    mean = sum(values, Fraction(0)) / n
    assert sum(((v - mean) ** 2 for v in values), Fraction(0)) / (n - 1) == Fraction(1, 100)
