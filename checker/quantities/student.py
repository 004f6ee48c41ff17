"""Quantiles of Student's distribution: the coverage factor of an uncertainty estimated from few repeats.

Source: JCGM 100:2008, Annex G, Table G.2 (which these quantiles reproduce, but for its known misprint at 35 degrees of
freedom and 90 %).
"""

from __future__ import annotations

from functools import lru_cache


@lru_cache(maxsize=256)
def quantile(probability: float, degrees_of_freedom: int) -> float:
    """The value that is not exceeded with that probability, one-sided.

    Args:
        probability: Above 0.5 and below 1.
        degrees_of_freedom: 1 or more.

    Raises:
        ValueError: An argument is out of range.
    """
    if not 0.5 < probability < 1 or degrees_of_freedom < 1:
        raise ValueError("probability must lie above 0.5 and below 1, degrees of freedom at 1 or above")
    from mpmath import betainc, findroot, mp, mpf

    tail = 2 * (1 - mpf(probability))
    half = mpf(degrees_of_freedom) / 2

    def excess(x: object) -> object:
        return betainc(half, mpf(1) / 2, 0, x, regularized=True) - tail

    with mp.workdps(25):
        x = findroot(excess, (mpf(10) ** -20, 1 - mpf(10) ** -20), solver="anderson", tol=1e-22, maxsteps=200)
        return float(mp.sqrt(degrees_of_freedom * (1 / x - 1)))
