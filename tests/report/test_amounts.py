"""Values, bounds and margins as data: shown, exact, and with the unit of both."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from checker.kinds.judging.assessment import Amount, Bound, Contribution, Spread
from checker.quantities.dimension import LENGTH, MASS, MONEY
from checker.quantities.kind import DATE, DAYS, MONTHS, NUMBER, PERCENT, TEXT, TRUTH, Kind, quantity
from checker.quantities.sense import Sense
from checker.quantities.units import Unit, parse_unit
from checker.report.amounts import (
    amount_data,
    bound_data,
    estimate_text,
    margin_data,
    shown,
    uncertainty_data,
)
from tests.examples import each_row

KG = Kind("quantity", MASS)


def amount(value: Any, kind: Kind, unit: str | None = None) -> Amount:
    return Amount(value, kind, None if unit is None else parse_unit(unit, "GBP"))


@each_row(
    ("given", "value", "exact", "unit"),
    [
        (amount(Fraction("581.57"), KG, "kg"), "581.57", "58157/100", "kg"),
        (amount(Fraction("596.47396655"), KG, "kg"), "596.474", "11929479331/20000000", "kg"),
        (amount(Fraction("-0.12345678"), KG, "kg"), "-0.12345678", "-6172839/50000000", "kg"),
        (amount(Fraction("254"), quantity(LENGTH), "in"), "10", "10/1", "in"),
        (amount(Fraction(31203, 58510), PERCENT, "%"), "53.3293", "312030/5851", "%"),
        (amount(Fraction(310), quantity(MONEY), "GBP"), "310.00", "310/1", "GBP"),
        (amount(Fraction(1), DAYS, "days"), "1", "1/1", "days"),
        (amount(Fraction(7), DAYS, "day"), "7", "7/1", "days"),
        (amount(Fraction(24), MONTHS, "years"), "2", "2/1", "years"),
        (amount(Fraction(30), MONTHS, "years"), "30", "30/1", "months"),
        (amount(Fraction(1, 3), NUMBER), "0.3333", "1/3", None),
        (amount(date(2026, 5, 31), DATE), "2026-05-31", None, None),
        (amount("titanium", TEXT), "titanium", None, None),
        (amount(True, TRUTH), "true", None, None),
        (amount((), TEXT.listed()), "none", None, None),
    ],
)
def test_a_value_is_shown_and_exact_in_one_unit(
    given: Amount, value: str, exact: str | None, unit: str | None
) -> None:
    assert amount_data(given) == {"value": value, "exact": exact, "unit": unit}


def test_a_margin_is_rounded_against_the_car_and_has_no_plus() -> None:
    short = margin_data(amount(Fraction(-1, 1000), KG, "kg"))
    assert short == {"value": "-0.01", "exact": "-1/1000", "unit": "kg"}
    spare = margin_data(amount(Fraction("4.659"), KG, "kg"))
    assert spare == {"value": "4.65", "exact": "4659/1000", "unit": "kg"}


def test_a_percentage_margin_is_in_points() -> None:
    data = margin_data(amount(Fraction(-33, 10_000), PERCENT, "%"))
    assert data == {"value": "-0.33", "exact": "-33/100", "unit": "%"}


def test_nothing_is_null_and_no_limit_is_said() -> None:
    assert amount_data(None) is None
    assert margin_data(None) is None
    assert bound_data(None) is None
    assert bound_data(Bound(Sense.AT_MOST, None)) == {
        "kind": "at_most",
        "value": "no limit",
        "exact": None,
        "unit": None,
    }


def test_a_bound_says_how_it_holds() -> None:
    data = bound_data(Bound(Sense.VALID_UNTIL, amount(date(2026, 5, 31), DATE)))
    assert data == {"kind": "valid_until", "value": "2026-05-31", "exact": None, "unit": None}


def test_shown_puts_sign_and_unit_back() -> None:
    assert shown(margin_data(amount(Fraction("4.65"), KG, "kg")), signed=True) == "+4.65 kg"
    assert shown(margin_data(amount(Fraction("-3.43"), KG, "kg")), signed=True) == "-3.43 kg"
    assert shown(margin_data(amount(Fraction(0), KG, "kg")), signed=True) == "0 kg"
    assert shown(margin_data(amount(Fraction(-1), DAYS, "days"))) == "-1 day"
    assert shown(margin_data(amount(Fraction(7), DAYS, "days")), signed=True) == "+7 days"
    assert shown(amount_data(amount("wet", TEXT))) == "wet"
    assert shown(None) == ""


def test_uncertainty_is_in_the_margins_unit() -> None:
    pound: Unit = parse_unit("lb", None)
    spread = Spread(
        pound.factor**2 * 4,
        Fraction("1.644854"),
        (Contribution("pads", pound.factor**2 * 4),),
        Fraction(9, 10),
    )
    data = uncertainty_data(spread, Amount(Fraction(1), KG, pound), ())
    assert data == {
        "standard": 2.0,
        "expanded": 3.28971,
        "k": 1.64485,
        "covers": 0.9,
        "complete": True,
        "unit": "lb",
        "contributions": [{"name": "pads", "standard": 2.0}],
    }
    assert uncertainty_data(None, Amount(Fraction(1), KG, pound), ()) is None


@pytest.mark.parametrize(
    ("number", "text"), [(279.6, "280"), (0.0000771, "0.000077"), (0.648, "0.65"), (1.0, "1"), (0.0, "0")]
)
def test_an_uncertainty_is_written_out(number: float, text: str) -> None:
    assert estimate_text(number) == text
