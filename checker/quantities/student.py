"""Quantiles of Student's distribution: the coverage factor of an uncertainty estimated from few repeats.

For whole degrees of freedom the distribution has a finite series in the angle whose tangent is t over the root of the
degrees of freedom. With many of them the first terms of its expansion about the normal distribution are as good.

Sources: JCGM 100:2008, Annex G, Table G.2 (which these quantiles reproduce, but for its known misprint at 35 degrees of
freedom and 90 %); Abramowitz and Stegun, 26.7.3, 26.7.4 and 26.7.5 (recalled, and held to the table).
"""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist

MANY = 500
"""Degrees of freedom from which on the expansion serves."""

_HALVINGS = 60


@lru_cache(maxsize=256)
def quantile(probability: float, degrees_of_freedom: int) -> float:
    """The value that is not exceeded with that probability, one-sided, to about 10 digits.

    Args:
        probability: Above 0.5 and below 1.
        degrees_of_freedom: 1 or more.

    Raises:
        ValueError: An argument is out of range.
    """
    if not 0.5 < probability < 1 or degrees_of_freedom < 1:
        raise ValueError("probability must lie above 0.5 and below 1, degrees of freedom at 1 or above")
    if degrees_of_freedom >= MANY:
        return _expanded(NormalDist().inv_cdf(probability), degrees_of_freedom)
    wanted = 2 * probability - 1
    low, high = 0.0, math.pi / 2
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if _within(middle, degrees_of_freedom) < wanted:
            low = middle
        else:
            high = middle
    return math.sqrt(degrees_of_freedom) * math.tan((low + high) / 2)


def _within(angle: float, degrees_of_freedom: int) -> float:
    """The probability that |t| is below the root of the degrees of freedom times the tangent of the angle."""
    sine, cosine = math.sin(angle), math.cos(angle)
    odd = degrees_of_freedom % 2
    term = cosine if odd else 1.0
    series = 0.0
    for n in range(1 + odd, degrees_of_freedom, 2):
        series += term
        term *= cosine * cosine * n / (n + 1)
    return (angle + sine * series) * 2 / math.pi if odd else sine * series


def _expanded(z: float, degrees_of_freedom: int) -> float:
    v = float(degrees_of_freedom)
    first = (z**3 + z) / 4
    second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    third = (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384
    return z + first / v + second / v**2 + third / v**3
