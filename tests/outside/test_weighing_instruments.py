"""Permissible errors of weighing instruments against OIML R 76-1 and NIST Handbook 44, decided on exact decimals.

OIML R 76-1:2006, 3.5.1 Table 6, was read in a class-room reprint of its tables; that twice as much is allowed in service
(3.5.2) in UK SI 1995/1907, Schedule 2, paragraph 4.2. Handbook 44, section 2.20 Table 6: class III read in a weighing
handbook of 1999 and a discussion that quotes it, class IIII recalled. The cases are computed from these.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from checker.car.described.accuracy_classes import NIST, OIML, AccuracyClass
from checker.car.errors.sources import permissible_variance, resolution_variance
from tests.building import outcome_of, pack_of_check
from tests.examples import each_row


def allowed(name: str, e: str, load: str, standard: str = OIML) -> tuple[Fraction, Fraction]:
    """Half-widths at first verification and in service, in kg."""
    new, used = (
        AccuracyClass(name, Fraction(e), service, standard).permissible_kg(Fraction(load))
        for service in (False, True)
    )
    return new, used


def kg(*texts: str) -> tuple[Fraction, ...]:
    return tuple(map(Fraction, texts))


@each_row(
    ("e", "load", "expected"),
    [
        ("0.1", "50", kg("0.05", "0.1")),  # W1: 500 e
        ("0.1", "50.1", kg("0.1", "0.2")),  # W2: 501 e, the step just crossed
        ("0.1", "160", kg("0.1", "0.2")),  # W3
        ("0.1", "200", kg("0.1", "0.2")),  # W4: 2000 e
        ("0.1", "200.1", kg("0.15", "0.3")),
        ("0.1", "500", kg("0.15", "0.3")),  # W5: 5000 e
        ("0.2", "160", kg("0.2", "0.4")),  # W6: 800 e
        ("0.5", "160", kg("0.25", "0.5")),  # W7: 320 e
    ],
)
def test_oiml_class_iii(e: str, load: str, expected: tuple[Fraction, ...]) -> None:
    assert allowed("III", e, load) == expected


@pytest.mark.parametrize(("load", "expected"), [("25", "0.25"), ("50", "0.5"), ("150", "0.75")])
def test_oiml_class_iiii(load: str, expected: str) -> None:
    """W8: an interval of 0.5 kg, 50, 100 and 300 e."""
    assert allowed("IIII", "0.5", load) == (Fraction(expected), 2 * Fraction(expected))


@pytest.mark.parametrize(
    ("name", "first", "second"), [("II", 5000, 20000), ("III", 500, 2000), ("IIII", 50, 200)]
)
def test_oiml_steps(name: str, first: int, second: int) -> None:
    """Table 6, at its bounds. The web text of SI 1995/1907 has two of them wrong; they are not copied."""
    for intervals, expected in (
        (0, "0.5"),
        (first, "0.5"),
        (first + 1, "1"),
        (second, "1"),
        (second + 1, "1.5"),
    ):
        assert allowed(name, "1", str(intervals))[0] == Fraction(expected)


@each_row(
    ("name", "load", "acceptance", "maintenance"),
    [
        ("III", "160", "0.1", "0.2"),  # W3
        ("III", "500", "0.25", "0.5"),  # W5: they part above 4000 divisions
        ("III", "50", "0.05", "0.1"),
        ("III", "400", "0.15", "0.3"),
        ("IIII", "5", "0.05", "0.1"),
        ("IIII", "20", "0.1", "0.2"),
        ("IIII", "40", "0.15", "0.3"),
        ("IIII", "40.1", "0.25", "0.5"),
    ],
)
def test_nist_handbook_44(name: str, load: str, acceptance: str, maintenance: str) -> None:
    assert allowed(name, "0.1", load, NIST) == kg(acceptance, maintenance)


def test_a_table_keyed_on_binary_floats_would_land_one_step_off() -> None:
    """In floats 0.3 / 0.1 is below 3 and 100.1 / 0.1 is below 1001: neither is so here."""
    assert 0.3 / 0.1 < 3
    assert 100.1 / 0.1 < 1001
    for load, e in (("0.3", "0.1"), ("100.1", "0.1")):
        assert (Fraction(load) / Fraction(e)).denominator == 1
    assert allowed("III", "0.1", "50.00000000000001")[0] == Fraction("0.1")


def test_an_error_in_service_as_a_rectangle() -> None:
    """W9: 0.2 / sqrt(3) = 0.115470 kg."""
    half_width = allowed("III", "0.1", "160")[1]
    assert math.sqrt(permissible_variance(half_width)) == pytest.approx(0.115470, abs=1e-6)


@pytest.mark.parametrize(
    ("d", "u"), [("1", 0.288675), ("0.5", 0.144338), ("0.2", 0.057735), ("0.1", 0.028868)]
)
def test_a_step_of_the_display(d: str, u: float) -> None:
    """W10: GUM F.2.2.1."""
    assert math.sqrt(resolution_variance(Fraction(d))) == pytest.approx(u, abs=1e-6)


def test_a_difference_of_two_readings() -> None:
    """W11: net = gross - tare, steps of 0.5 kg: u = d / sqrt(6) = 0.204124 kg."""
    facts = "facts: {tank.gross: {unit: kg, measured_with: s}, tank.tare: {unit: kg, measured_with: s}}"
    pack = pack_of_check(
        "{limit: tank.gross - tank.tare, at_most: 30 kg}",
        f"{facts}\ninstruments: {{s: {{resolution: 0.5 kg}}}}",
    )
    spread = outcome_of(pack, "tank: {gross: 40 kg, tare: 12 kg}").assessment.spread
    assert spread is not None
    assert math.sqrt(spread.variance) == pytest.approx(0.204124, abs=1e-6)


def test_the_sum_of_four_pads() -> None:
    """W12: steps of 0.5 kg, independent: u = 0.288675 kg."""
    pack = pack_of_check("{limit: weight.total, at_least: 600 kg, condition: as_weighed}")
    loads = "{front_left: 150 kg, front_right: 148 kg, rear_left: 172 kg, rear_right: 170 kg}"
    car = (
        f"weighing: {{instrument: pads, readings: [{loads}]}}\ninstruments: {{pads: {{resolution: 0.5 kg}}}}"
    )
    spread = outcome_of(pack, car).assessment.spread
    assert spread is not None
    assert math.sqrt(spread.variance) == pytest.approx(0.288675, abs=1e-6)
