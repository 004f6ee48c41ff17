"""The one place where a value near a limit is decided."""

from __future__ import annotations

from fractions import Fraction
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.kinds.judging.assessment import FAIL, PASS, TOO_CLOSE
from checker.pack.model import AS_DISPLAYED, BENEFIT, STRICT, Decision
from checker.verdict.decision import Rule, coverage_factor, rule_for
from tests.examples import each_row

HALF = Fraction(1, 2)

margins = st.fractions(min_value=-5, max_value=5, max_denominator=1000)
guards = st.fractions(min_value=0, max_value=3, max_denominator=1000)


@pytest.mark.parametrize(
    ("margin", "inclusive", "outcome"),
    [(0, True, PASS), (0, False, FAIL), (HALF, False, PASS), (-HALF, True, FAIL)],
)
@pytest.mark.parametrize("audience", ["entrant", "official"])
def test_an_exact_value_passes_or_fails_on_the_limit_as_the_bound_says(
    audience: str, margin: Fraction, inclusive: bool, outcome: str
) -> None:
    assert Rule(audience).decide(Fraction(margin), Fraction(0), inclusive) == outcome


@each_row(
    ("official", "margin", "outcome"),
    [
        (AS_DISPLAYED, Fraction(1, 10), PASS),
        (AS_DISPLAYED, Fraction(-1, 10), FAIL),
        (BENEFIT, Fraction(-1, 10), PASS),
        (BENEFIT, Fraction(-11, 10), FAIL),
        (STRICT, Fraction(1, 10), FAIL),
        (STRICT, Fraction(11, 10), PASS),
    ],
)
def test_an_official_decides_as_the_pack_says(official: str, margin: Fraction, outcome: str) -> None:
    assert Rule("official", official).decide(margin, Fraction(1), True) == outcome


@pytest.mark.parametrize(
    ("margin", "outcome"), [(1, PASS), (-1, FAIL), (Fraction(99, 100), TOO_CLOSE), (0, TOO_CLOSE)]
)
def test_an_entrant_wants_to_be_clear_of_the_guard_band(margin: Fraction, outcome: str) -> None:
    assert Rule("entrant").decide(Fraction(margin), Fraction(1), True) == outcome


@given(margin=margins, less=guards, more=guards, inclusive=st.booleans())
def test_more_uncertainty_never_makes_a_verdict_firmer(
    margin: Fraction, less: Fraction, more: Fraction, inclusive: bool
) -> None:
    rule = Rule("entrant")
    before = rule.decide(margin, less**2, inclusive)
    after = rule.decide(margin, (less + more) ** 2, inclusive)
    assert after in (before, TOO_CLOSE)


@given(margin=margins, guard=guards, step=guards)
@pytest.mark.parametrize(
    "rule", [Rule("entrant"), *(Rule("official", o) for o in (AS_DISPLAYED, BENEFIT, STRICT))]
)
def test_a_greater_margin_is_never_judged_worse(
    rule: Rule, margin: Fraction, guard: Fraction, step: Fraction
) -> None:
    rank = {FAIL: 0, TOO_CLOSE: 1, PASS: 2}
    assert rank[rule.decide(margin, guard**2, True)] <= rank[rule.decide(margin + step, guard**2, True)]


def test_the_factor_is_one_sided() -> None:
    """JCGM 106:2012, 7.3 Table 1 (recalled): 0.95 gives 1.64, 0.99 gives 2.33."""
    assert coverage_factor(Fraction(95, 100)) == Fraction(1644854, 10**6)
    assert round(NormalDist().inv_cdf(0.95) * 10**6) == 1644854, "it stands in the program as a number"
    assert coverage_factor(Fraction(99, 100)) == Fraction(2326348, 10**6)


def test_few_repeats_need_a_larger_factor() -> None:
    """One-sided 95 %, 4 degrees of freedom: 2.1318; 9: 1.8331 (Student's distribution, recomputed with SciPy)."""
    assert abs(coverage_factor(Fraction(95, 100), Fraction(4)) - Fraction(21318, 10**4)) < Fraction(1, 10**4)
    assert abs(coverage_factor(Fraction(95, 100), Fraction(99, 10)) - Fraction(18331, 10**4)) < Fraction(
        1, 10**4
    )


def test_the_rule_of_a_pack_carries_its_choices() -> None:
    rule = rule_for("official", Decision(BENEFIT, Fraction(99, 100)))
    assert (rule.official, rule.confidence, rule.exact) == (BENEFIT, Fraction(99, 100), False)
