"""Student's quantiles; the published table is held to in tests/outside."""

from __future__ import annotations

from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.student import MANY, quantile

PROBABILITIES = st.floats(0.501, 0.9995)


@pytest.mark.deep
@given(p=PROBABILITIES, degrees=st.integers(1, 3 * MANY))
def test_another_library_agrees(p: float, degrees: int) -> None:
    from scipy import stats  # loaded only by who runs this, for it takes long

    assert quantile(p, degrees) == pytest.approx(float(stats.t.ppf(p, degrees)), rel=1e-8, abs=1e-10)


@given(p=PROBABILITIES, degrees=st.integers(1, 2 * MANY))
def test_fewer_repeats_never_cover_more_closely(p: float, degrees: int) -> None:
    assert quantile(p, degrees) >= quantile(p, degrees + 1) - 1e-10
    assert quantile(p, degrees) >= NormalDist().inv_cdf(p)


@pytest.mark.parametrize(("p", "degrees"), [(0.5, 3), (1.0, 3), (0.3, 3), (0.95, 0)])
def test_what_has_no_quantile_is_refused(p: float, degrees: int) -> None:
    with pytest.raises(ValueError, match="must lie"):
        quantile(p, degrees)
