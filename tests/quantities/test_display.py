"""Numbers as text: exact where they are short, else rounded to the safe side."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.display import decimal_text, show, show_act, show_margin
from checker.quantities.kind import NUMBER
from checker.quantities.literal import parse_literal
from checker.quantities.unit_table import JOINED, QUANTITIES
from checker.quantities.units import Unit, base_unit, parse_unit
from tests.examples import each_row

VALUES = st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=10**5)
DECIMALS = st.decimals("-1e6", "1e6", places=6).map(lambda decimal: Fraction(str(decimal)))
UNITS = st.sampled_from([*QUANTITIES, *JOINED, "%", "GBP", "JPY"]).map(
    lambda name: parse_unit(name, name if name in ("GBP", "JPY") else None)
)


def unit(name: str) -> Unit:
    return parse_unit(name, "BHD" if name == "BHD" else "JPY" if name == "JPY" else "GBP")


def number(text: str) -> Fraction:
    return Fraction(text.split(" ")[0].removeprefix("+"))


@each_row(
    ("x", "digits", "text"),
    [
        ("618.5", None, "618.5"),
        ("-0.25", None, "-0.25"),
        ("1000000", None, "1000000"),
        ("0", None, "0"),
        ("1/3", None, "0.333333"),
        ("2/3", 2, "0.67"),
        ("1/3000000", None, "0.000000333333"),
        ("20000001/3", None, "6666667"),
        ("0.123456789012", 2, "0.123456789012"),
        ("0.1234567890123", 2, "0.12"),
        ("-1/3000", 2, "0.00"),
        ("-1/3", 0, "0"),
        ("5/3", 0, "2"),
    ],
)
def test_short_decimals_are_exact_and_others_rounded(x: str, digits: int | None, text: str) -> None:
    assert decimal_text(Fraction(x), digits) == text


@each_row(
    ("value", "name", "text"),
    [
        ("618.5", "kg", "618.5 kg"),
        ("0.5275", "%", "52.75 %"),
        ("310", "GBP", "310.00 GBP"),
        ("310.5", "GBP", "310.50 GBP"),
        ("310.005", "GBP", "310.005 GBP"),
        ("1000/3", "GBP", "333.33 GBP"),
        ("310", "JPY", "310 JPY"),
        ("310", "BHD", "310.000 BHD"),
        ("3", "days", "3 days"),
        ("1", "days", "1 day"),
        ("-1", "day", "-1 day"),
        ("0", "day", "0 days"),
        ("24", "years", "2 years"),
        ("12", "years", "1 year"),
        ("18", "years", "18 months"),
        ("1768.475", "in", "69.625 in"),
    ],
)
def test_values_are_shown_in_their_unit(value: str, name: str, text: str) -> None:
    assert show(Fraction(value), unit(name)) == text


def test_a_number_has_no_unit_behind_it() -> None:
    plain = base_unit(NUMBER, None)
    assert show(Fraction(3, 2), plain) == "1.5"
    assert show_margin(Fraction(2), plain) == "+2"
    assert show_act(Fraction(2), plain) == "2"


def test_digits_count_where_a_value_must_be_rounded() -> None:
    assert show(Fraction(1, 3), unit("kg"), 2) == "0.33 kg"
    assert show(Fraction(1, 3), unit("GBP"), 4) == "0.3333 GBP"
    assert show(Fraction(1, 2), unit("kg"), 2) == "0.5 kg"


@each_row(
    ("margin", "name", "text"),
    [
        ("1.5", "kg", "+1.5 kg"),
        ("-1.5", "kg", "-1.5 kg"),
        ("0", "kg", "0 kg"),
        ("0", "GBP", "0.00 GBP"),
        ("-0.001", "kg", "-0.01 kg"),
        ("0.009", "kg", "+0.009 kg"),
        ("0.00019", "kg", "+0.0001 kg"),
        ("-0.00019", "kg", "-0.01 kg"),
        ("1.509", "kg", "+1.50 kg"),
        ("-1.501", "kg", "-1.51 kg"),
        ("1/3", "kg", "+0.33 kg"),
        ("-1/3", "kg", "-0.34 kg"),
        ("-0.0025", "%", "-0.25 %"),
        ("-0.00251", "%", "-0.26 %"),
        ("-30", "GBP", "-30.00 GBP"),
        ("-30.001", "GBP", "-30.01 GBP"),
        ("-0.5", "JPY", "-1 JPY"),
        ("3", "days", "+3 days"),
        ("-1", "days", "-1 day"),
        ("-6", "years", "-6 months"),
        ("5.25", "t", "+0.00525 t"),
        ("-0.3", "m", "-0.0003 m"),
        ("-1/3000000", "kg/L", "-0.334 kg/L"),
    ],
)
def test_margins_are_rounded_against_the_car(margin: str, name: str, text: str) -> None:
    assert show_margin(Fraction(margin), unit(name)) == text


@each_row(
    ("amount", "name", "text"),
    [
        ("1.5", "kg", "1.5 kg"),
        ("1.51", "kg", "1.6 kg"),
        ("0.01", "kg", "0.01 kg"),
        ("0.0123", "kg", "0.02 kg"),
        ("0.05", "mm", "0.05 mm"),
        ("0.21", "mm", "0.21 mm"),
        ("0.213", "mm", "0.3 mm"),
        ("12.001", "GBP", "12.01 GBP"),
        ("12", "GBP", "12.00 GBP"),
        ("0.00251", "%", "0.26 %"),
        ("1/3", "days", "1 day"),
        ("2.0001", "L", "0.00000201 L"),
        ("0.51", "t", "0.00051 t"),
        ("2.6", "in", "0.103 in"),
    ],
)
def test_acts_are_rounded_beyond_what_is_needed(amount: str, name: str, text: str) -> None:
    assert show_act(Fraction(amount), unit(name)) == text


@given(DECIMALS, UNITS)
def test_what_is_shown_reads_back_as_the_same_value(amount: Fraction, its_unit: Unit) -> None:
    value = amount * its_unit.factor
    literal = parse_literal(show(value, its_unit), its_unit.name)
    assert (literal.kind, literal.value, literal.unit) == (its_unit.kind, value, its_unit)


@given(VALUES, UNITS)
def test_a_margin_is_never_shown_better_than_it_is(amount: Fraction, its_unit: Unit) -> None:
    text = show_margin(amount * its_unit.factor, its_unit)
    assert number(text) <= amount < number(text) + 1
    assert text.startswith("+") == (number(text) > 0) == (amount > 0)
    assert text.startswith("-") == (number(text) < 0) == (amount < 0)


@given(VALUES)
def test_a_margin_in_a_plain_number_keeps_its_sign(amount: Fraction) -> None:
    text = show_margin(amount, None)
    assert Fraction(text) <= amount
    assert text.startswith("+") == (Fraction(text) > 0) == (amount > 0)
    assert text.startswith("-") == (Fraction(text) < 0) == (amount < 0)


@given(VALUES.filter(lambda amount: amount > 0))
def test_an_act_in_a_plain_number_is_enough_and_no_whole_one_too_much(amount: Fraction) -> None:
    assert amount <= Fraction(show_act(amount, None)) < amount + Fraction(1, 100)


@given(VALUES.filter(lambda amount: amount > 0), UNITS)
def test_an_act_is_always_enough(amount: Fraction, its_unit: Unit) -> None:
    text = show_act(amount * its_unit.factor, its_unit)
    assert amount <= number(text) < amount + 1


@given(VALUES, st.integers(0, 9))
def test_a_rounded_text_is_within_half_its_last_digit(x: Fraction, digits: int) -> None:
    text = decimal_text(x, digits)
    assert abs(Fraction(text) - x) <= Fraction(1, 2 * 10**digits)
    assert not (text.startswith("-") and Fraction(text) == 0)
