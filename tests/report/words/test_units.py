"""Masses and lengths in the system that a reader asks for: every rounding errs on the side that does no harm."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.amount import Amount
from checker.quantities.dimension import LENGTH, MASS
from checker.quantities.kind import quantity
from checker.quantities.units import Unit, parse_unit
from checker.report.amounts import amount_data, margin_data, shown
from checker.report.words.amounts import least_words, margin_words, near_words, value_words
from checker.report.words.units import SYSTEMS, showing, shown_in
from tests.cli.running import run
from tests.examples import each_row

KG, MM, CC = (parse_unit(name, None) for name in ("kg", "mm", "cc"))
VALUES = st.fractions(-3000, 3000, max_denominator=10**7)
UNITS = st.sampled_from(
    [parse_unit(name, None) for name in ("kg", "lb", "mm", "in", "m", "cc", "deg", "rpm")]
)


def mm(text: str) -> Amount:
    return Amount(Fraction(text), quantity(LENGTH), MM)


def kg(text: str) -> Amount:
    return Amount(Fraction(text), quantity(MASS), KG)


def number(text: str) -> Fraction:
    """The number of a text such as "-1 3/16 in"."""
    *parts, _ = text.split()
    sign = -1 if parts[0].startswith("-") else 1
    return sign * sum((Fraction(part.lstrip("+-")) for part in parts), Fraction(0))


@each_row(
    ("amount", "value", "margin", "least"),
    [
        (mm("25.4"), "1 in", "+1 in", "1 in"),
        (mm("30.1625"), "1 3/16 in", "+1 3/16 in", "1 3/16 in"),
        (mm("30"), "1.18110 in", "+1 1/8 in", "1 3/16 in"),
        (mm("3"), "0.118110 in", "+1/16 in", "1/8 in"),
        (mm("0.3"), "0.0118110 in", "+0.011 in", "0.012 in"),
        (mm("0.001"), "0.0000393701 in", "+0.00003 in", "0.00004 in"),
        (kg("0.45359237"), "1 lb", "+1 lb", "1 lb"),
        (kg("3.42"), "7.53981 lb", "+7.53 lb", "7.6 lb"),
    ],
)
def test_pounds_and_inches(amount: Amount, value: str, margin: str, least: str) -> None:
    with showing("us"):
        assert (value_words(amount), margin_words(amount), least_words(amount)) == (value, margin, least)


def test_a_breach_is_rounded_away_from_the_limit() -> None:
    with showing("us"):
        assert margin_words(mm("-30")) == "-1 3/16 in"
        assert margin_words(mm("-0.3")) == "-0.012 in"
        assert margin_words(mm("0")) == "0 in"
        assert margin_words(kg("0")) == "0 lb"


def test_kilograms_and_millimetres_for_rules_written_in_pounds_and_inches() -> None:
    amount = Amount(Fraction("25.4"), quantity(LENGTH), parse_unit("in", None))
    assert value_words(amount) == "1 in"
    with showing("metric"):
        assert value_words(amount) == "25.4 mm"
    assert value_words(amount) == "1 in"


def test_other_quantities_stay_as_the_rules_write_them() -> None:
    with showing("us"):
        assert value_words(Amount(Fraction(1_450_000), CC.kind, CC)) == "1450 cc"


@given(VALUES, UNITS, st.sampled_from(SYSTEMS))
def test_what_is_read_off_never_harms(value: Fraction, unit: Unit, system: str) -> None:
    """A margin never turns its sign, is 0 for 0 alone and is never better than it is; an act is always enough."""
    amount = Amount(value, unit.kind, unit)
    with showing(system):
        data = margin_data(amount)
        assert data is not None
        exact, told = Fraction(data["exact"]), number(margin_words(amount))
        assert told <= exact
        assert (told > 0) == (value > 0)
        assert (told < 0) == (value < 0)
        assert number(shown(data, signed=True)) == told
        if value > 0:
            factor = value / exact
            assert number(least_words(amount)) * factor >= value


@given(VALUES, st.sampled_from(SYSTEMS))
def test_a_document_names_the_unit_that_its_exact_number_is_in(value: Fraction, system: str) -> None:
    with showing(system):
        data = amount_data(Amount(value, quantity(MASS), KG))
    assert data is not None
    assert Fraction(data["exact"]) * parse_unit(data["unit"], None).factor == value


@each_row(
    ("amount", "shown"),
    [
        (mm("1930"), "76 in"),
        (mm("530"), "20 7/8 in"),
        (mm("-1930"), "-76 in"),
        (mm("1"), "0.04 in"),
        (mm("0"), "0 in"),
        (kg("7.5"), "16.53 lb"),
    ],
)
def test_what_is_to_be_found_is_told_to_the_nearest(amount: Amount, shown: str) -> None:
    assert near_words(amount) == value_words(amount)
    with showing("us"):
        assert near_words(amount) == shown


@given(
    VALUES,
    st.sampled_from([KG, MM, *(parse_unit(name, None) for name in ("lb", "in"))]),
    st.sampled_from(SYSTEMS),
)
def test_what_is_told_to_the_nearest_is_out_by_half_a_step_at_most(
    value: Fraction, unit: Unit, system: str
) -> None:
    amount = Amount(value, unit.kind, unit)
    with showing(system):
        told, to = near_words(amount), shown_in(unit)
    assert to is not None
    assert abs(number(told) - value / to.factor) <= Fraction(1, 32)


@pytest.mark.deep
@pytest.mark.usefixtures("at_root")
def test_a_command_shows_what_is_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    car = "samples/cars/light-at-the-flag.yaml"
    told = run(capsys, "inspect", car, "--units", "us").out
    assert "-7.57 lb" in told
    assert "bolt 10.0 lb of ballast at boot floor" in told
    assert "+15/16 in" in told
    assert " kg" not in told.partition("ASSUMED")[0]
    assert "-3.43 kg" in run(capsys, "inspect", car).out
