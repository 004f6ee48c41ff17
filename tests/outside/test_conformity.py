"""Conformity under uncertainty against JCGM 106, ILAC-G8 and ISO 14253-1.

Beside each case stands how it is known. "Read": in the place named. "Partly": the clause and its inputs were read, the
numbers recalled and recomputed. "Recalled": from memory, recomputed and consistent. "Computed": from a published rule,
no outside authority for the number itself.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

import pytest

from checker.kinds.judging.assessment import FAIL, PASS, TOO_CLOSE
from checker.kinds.judging.spread import probability_of
from checker.pack.model import AS_DISPLAYED, BENEFIT
from checker.verdict.decision import Rule, coverage_factor
from tests.building import outcome_of, pack_of_check
from tests.examples import each_row

HALF_LAST_DIGIT = 0.005


def probability(u: str, *margins: str) -> float:
    """Of conformity, from the distances to every limit."""
    return probability_of(tuple(map(Fraction, margins)), Fraction(u) ** 2)


# -- one measured item -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("u", "margins", "published", "exact"),
    [
        ("0.05", ["0.07"], 0.92, 0.919243),  # C1: 7.3.3 Example 1, upper limit -5.40 V, read -5.47 V; partly
        ("8.6", ["19.7"], 0.99, 0.989010),  # C2: 7.3.3 Example 2, lower limit 490 kPa, read 509.7; partly
        ("1.8", ["1.1", "2.7"], 0.66, 0.662630),  # C3: 7.4, viscosity 13.6 within 12.5 to 16.3 mm2/s; partly
    ],
)
def test_jcgm_106_clause_7(u: str, margins: list[str], published: float, exact: float) -> None:
    assert probability(u, *margins) == pytest.approx(published, abs=HALF_LAST_DIGIT)
    assert probability(u, *margins) == pytest.approx(exact, abs=1e-6)


@pytest.mark.parametrize(
    ("confidence", "z", "exact"),
    [
        ("0.80", 0.84, 0.8416),
        ("0.90", 1.28, 1.2816),
        ("0.95", 1.64, 1.6449),
        ("0.99", 2.33, 2.3263),
        ("0.999", 3.09, 3.0902),
    ],
)
def test_jcgm_106_table_1(confidence: str, z: float, exact: float) -> None:
    """C4: 7.3, z for a one-sided probability; recalled."""
    assert float(coverage_factor(Fraction(confidence))) == pytest.approx(z, abs=HALF_LAST_DIGIT)
    assert float(coverage_factor(Fraction(confidence))) == pytest.approx(exact, abs=1e-4)


def test_jcgm_106_speeding() -> None:
    """C5: 8.3.3.2 Example 1, guarded rejection: 100 km/h, u = 2 % of the reading, 99.9 %; partly.

    The action value is 100 / (1 - 0.02 * 3.0902) = 106.588 km/h, for u grows with the reading. A constant 2 km/h
    would give 106.180: that the reading of 106.3 is not failed shows that the point was not missed.
    """
    share = 2 * 3**0.5  # of the reading in %, as the half-width of a rectangular error whose u is 2 %
    pack = pack_of_check(
        "{limit: car.speed, at_most: 100 km/h}",
        "facts: {car.speed: {unit: km/h, measured_with: radar}}\n"
        f"instruments: {{radar: {{permissible_error: {share:.12f} %}}}}\n"
        "decision: {official: benefit_to_entrant, confidence: 99.9 %}",
    )

    def judged(speed: str) -> str:
        text = f"car: {{number: '7', speed: {speed} km/h}}"
        return outcome_of(pack, text, audience="official").outcome

    assert [judged(v) for v in ("106.18", "106.3", "106.58", "106.59", "107")] == [
        PASS,
        PASS,
        PASS,
        FAIL,
        FAIL,
    ]
    assert 1 - probability("2.14", "-7") == pytest.approx(0.999464, abs=1e-6)


# -- guard bands -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("r", "published", "exact"),
    [
        (1, 0.025, 0.022750),  # C6: w = U, 4.2 and Table 1; read
        (0, 0.50, 0.5),  # C7: simple acceptance; read
        (1.5, 0.0016, 0.001350),  # C8; recalled
        (0.83, 0.05, 0.048457),  # C8; recalled
    ],
)
def test_ilac_g8_false_accepts_at_the_acceptance_limit(r: float, published: float, exact: float) -> None:
    """With k = 2, u = 1: a result exactly at A stands w = 2r within the limit."""
    false_accept = 1 - probability("1", str(2 * r))
    assert false_accept <= published
    assert false_accept == pytest.approx(exact, abs=1e-6)


def test_ilac_g8_the_far_rows() -> None:
    """C8; recalled: w = 3U, below one in a million; and the uncritical rule r = -1, false rejects below 2.5 %."""
    assert 1 - probability("1", "6") == pytest.approx(9.87e-10, rel=1e-3)
    assert probability("1", "-2") == pytest.approx(0.022750, abs=1e-6)


def test_iso_14253_1_one_sided_95_per_cent() -> None:
    """C9; recalled: a guard of 1.65 u, in units of U = 2u published as 0.83."""
    assert float(coverage_factor(Fraction(95, 100))) == pytest.approx(1.644854, abs=1e-6)
    assert probability("1", "1.65") == pytest.approx(0.950529, abs=1e-6)
    assert probability("1", "1.66") == pytest.approx(0.951543, abs=1e-6)
    assert float(coverage_factor(Fraction(95, 100))) / 2 == pytest.approx(0.8224, abs=1e-4)


# -- the verdict, cell by cell -----------------------------------------------------------------------

GRID = [
    ("599.0", 0.022750, FAIL, FAIL),
    ("599.2", 0.054799, TOO_CLOSE, FAIL),
    ("599.9", 0.420740, TOO_CLOSE, FAIL),
    ("600.0", 0.5, TOO_CLOSE, PASS),
    ("600.4", 0.788145, TOO_CLOSE, PASS),
    ("600.8", 0.945201, TOO_CLOSE, PASS),
    ("600.9", 0.964070, PASS, PASS),
    ("601.0", 0.977250, PASS, PASS),
    ("601.5", 0.998650, PASS, PASS),
]


@each_row(("total", "p", "guarded", "simple"), GRID)
def test_a_minimum_of_600_kg_with_u_of_half_a_kilogram(
    total: str, p: float, guarded: str, simple: str
) -> None:
    """ISO 14253-1: conformity proven from 600.825 kg, non-conformity up to 599.175 kg; computed."""
    margin = Fraction(total) - 600
    guard = (coverage_factor(Fraction(95, 100)) / 2) ** 2
    assert Rule("entrant").decide(margin, guard, True) == guarded
    assert Rule("official", AS_DISPLAYED).decide(margin, guard, True) == simple
    assert probability("0.5", str(margin)) == pytest.approx(p, abs=1e-6)
    pack = pack_of_check(
        "{limit: weight.total, at_least: 600 kg, condition: as_weighed}",
        "decision: {official: benefit_to_entrant}",
    )
    car = f"weighing: {{instrument: bridge, readings: [{{total: {total} kg}}]}}\ninstruments: {{bridge: {{uncertainty: 0.5 kg}}}}"
    assert outcome_of(pack, car).outcome == guarded
    benefit = outcome_of(pack, car, audience="official").outcome
    assert benefit == (FAIL if guarded == FAIL else PASS)
    assert benefit == Rule("official", BENEFIT).decide(margin, guard, True)


@pytest.mark.parametrize(
    ("y", "u", "p"), [(1490, "4", 0.987581), (1497, "2", 0.933193), (1499, "2", 0.691462)]
)
def test_between_1480_and_1500_mm(y: int, u: str, p: float) -> None:
    """Computed. The first shows that a value in the middle can still miss 0.99."""
    assert probability(u, str(y - 1480), str(1500 - y)) == pytest.approx(p, abs=1e-6)


# -- risks over a population -------------------------------------------------------------------------
#
# The checker judges one car and knows no population, so it has no function for these. What they are made of it has:
# the probability that a reading of a true value is accepted is that of a value between the acceptance limits.


def risks(
    density: Callable[[float], float],
    accepts: Callable[[float], float],
    conforms: Callable[[float], bool],
    breaks: list[float],
) -> tuple[float, float, float]:
    """Consumer's risk, producer's risk, and what is accepted, by integration between the breaks."""
    from scipy import integrate  # loaded only by who runs this, for it takes long

    consumer = producer = accepted = 0.0
    for low, high in pairwise(breaks):
        joint, _ = integrate.quad(lambda x: density(x) * accepts(x), low, high, epsabs=1e-11, limit=200)
        rejected, _ = integrate.quad(
            lambda x: density(x) * (1 - accepts(x)), low, high, epsabs=1e-11, limit=200
        )
        accepted += joint
        if conforms((low + high) / 2):
            producer += rejected
        else:
            consumer += joint
    return consumer, producer, accepted


@pytest.mark.deep
@pytest.mark.parametrize(
    ("low", "high", "consumer", "producer", "accepted"),
    [
        # C10: 9.5, resistors; inputs read, 1 % and 7 % recalled
        (1499.82, 1500.18, 0.009878, 0.069027, 0.845271),
        (1499.8, 1500.2, 0.018942, 0.037208, 0.886154),  # C11: simple acceptance; computed from C10
    ],
)
def test_jcgm_106_resistors(
    low: float, high: float, consumer: float, producer: float, accepted: float
) -> None:
    from scipy import stats

    prior = stats.norm(1500, 0.12)

    def accepts(value: float) -> float:
        return probability_of((Fraction(value - low), Fraction(high - value)), Fraction(4, 100) ** 2)

    breaks = [1499.0, 1499.8, 1500.0, 1500.2, 1501.0]
    found = risks(prior.pdf, accepts, lambda x: 1499.8 <= x <= 1500.2, breaks)
    assert found == pytest.approx((consumer, producer, accepted), abs=1e-5)
    assert 2 * prior.sf(1500.2) == pytest.approx(0.095581, abs=1e-6)


@pytest.mark.deep
@pytest.mark.parametrize(
    ("limit", "consumer", "producer"),
    [
        (2.0, 0.0080191, 0.0174446),  # C12: 9.5.4, ball bearings, 0.8 %; read. Producer's risk C13; computed
        (1.671829, 0.001, 0.0754939),  # C12: A = 1.67 um for 0.1 %; read. C13; computed
    ],
)
def test_jcgm_106_ball_bearings(limit: float, consumer: float, producer: float) -> None:
    from scipy import stats

    prior = stats.gamma(4, scale=1 / 4)

    def accepts(value: float) -> float:
        return probability_of((Fraction(limit - value),), Fraction(1, 4) ** 2)

    found = risks(prior.pdf, accepts, lambda x: x <= 2, [0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 6.0])
    assert found[:2] == pytest.approx((consumer, producer), abs=1e-6)
    assert prior.sf(2) == pytest.approx(0.0423801, abs=1e-7)
    assert math.isclose(found[0], 0.008 if limit == 2.0 else 0.001, abs_tol=5e-4)
