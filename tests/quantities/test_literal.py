"""Literals: what is read, how exactly, and what is said of everything else."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import TypeVar

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.dimension import LENGTH, MASS, MONEY, NO_DIMENSION
from checker.quantities.kind import DATE, DAYS, MONTHS, NUMBER, PERCENT, Kind, kind_in_words, quantity
from checker.quantities.literal import (
    Literal,
    match_literal,
    parse_literal,
    parse_quantity,
)
from checker.quantities.misread import LiteralError
from checker.quantities.unit_table import OTHERS, QUANTITIES
from checker.quantities.units import parse_unit
from tests.examples import each_row

Result = TypeVar("Result")

INCH = Fraction("25.4")
LB = Fraction("0.45359237")
KG, MM, GBP = quantity(MASS), quantity(LENGTH), quantity(MONEY)

WHOLE = st.integers(0, 10**6)
PIECES = st.sampled_from(
    [
        *(
            *QUANTITIES,
            *OTHERS,
            "GBP",
            "EUR",
            "if",
            "else",
            "and",
            "x",
            "e3",
            "nan",
            "inf",
            "2026-03-01",
            "1/2",
        ),
        *(
            "0",
            "1",
            "12",
            "000",
            "0.5",
            "/",
            "%",
            " ",
            "  ",
            "-",
            ".",
            ",",
            "_",
            "(",
            ")",
            "'",
            "+",
            "\n",
            "\t",
        ),
        *("½", "٣", "−", "²"),
    ]
)
SCRAPS = st.lists(PIECES, max_size=10).map("".join)


def read(text: str, currency: str | None = "GBP") -> tuple[Kind, Fraction | date]:
    literal = parse_literal(text, currency)
    return literal.kind, literal.value


def refused(text: str, kind: Kind | None = None) -> LiteralError:
    with pytest.raises(LiteralError) as caught:
        parse_literal(text, "GBP") if kind is None else parse_quantity(text, kind, "GBP")
    assert 0 <= caught.value.start <= caught.value.end <= len(text)
    return caught.value


@each_row(
    ("text", "kind", "value"),
    [
        ("12", NUMBER, 12),
        ("0.5", NUMBER, Fraction(1, 2)),
        ("1 1/2", NUMBER, Fraction(3, 2)),
        ("-3", NUMBER, -3),
        ("612 kg", KG, 612),
        ("612kg", KG, 612),
        ("  612   kg  ", KG, 612),
        ("-1.5 kg", KG, Fraction(-3, 2)),
        ("1 lb 4 oz", KG, LB * Fraction(5, 4)),
        ("-1 lb 4 oz", KG, -LB * Fraction(5, 4)),
        ("69 5/8 in", MM, INCH * Fraction(557, 8)),
        ("5/8 in", MM, INCH * Fraction(5, 8)),
        ("5/8 inch", MM, INCH * Fraction(5, 8)),
        ("1 1/2 in", MM, INCH * Fraction(3, 2)),
        ("5 ft 10 1/4 in", MM, INCH * Fraction(281, 4)),
        ("5ft 10.25in", MM, INCH * Fraction(281, 4)),
        ("1 m 20 cm 5 mm", MM, 1205),
        ("310.00 GBP", GBP, 310),
        ("52.5 %", PERCENT, Fraction(21, 40)),
        ("52.5%", PERCENT, Fraction(21, 40)),
        ("30 days", DAYS, 30),
        ("1 day", DAYS, 1),
        ("18 months", MONTHS, 18),
        ("1.5 years", MONTHS, 18),
        ("2 years 6 months", MONTHS, 30),
        ("2026-03-01", DATE, date(2026, 3, 1)),
        ("2024-02-29", DATE, date(2024, 2, 29)),
        ("0 mm", MM, 0),
        ("3 mm/m", NUMBER, Fraction(3, 1000)),
        ("1/1000 m", MM, 1),
    ],
)
def test_what_people_write_is_read_exactly(text: str, kind: Kind, value: Fraction | date) -> None:
    assert read(text) == (kind, value)


def test_a_literal_keeps_its_first_unit_and_its_text() -> None:
    assert parse_literal(" 1 lb 4 oz ", None) == Literal(KG, LB * 5 / 4, parse_unit("lb", None), "1 lb 4 oz")
    assert parse_literal("12", None).unit is None
    assert parse_literal("-12 mm", None).text == "-12 mm"


@each_row(
    ("text", "code", "says"),
    [
        ("", 103, "nothing is written here"),
        ("   ", 103, "nothing is written here"),
        ("1,000 kg", 103, "write 1000, or 1.000"),
        ("12,5 mm", 103, "write 12.5: the decimal mark is a point"),
        ("1_000 kg", 103, "write 1000: digits have no marks between them"),
        ("1'000 kg", 103, "write 1000 kg: thousands have no mark"),
        ("1 000 kg", 107, "write 1000 without a blank"),
        ("1e3 kg", 103, "1e3 has an exponent"),
        ("1E-3", 103, "1E-3 has an exponent"),
        (".5 kg", 103, "write 0.5 kg"),
        ("-.5 kg", 103, "write 0.5 kg"),
        ("5. kg", 103, "write 5 kg"),
        ("1.2.3", 103, "one point, with digits after it"),
        ("+5 kg", 103, "write 5 kg without the plus"),
        ("nan", 103, "'nan' is not a number, quantity or day"),
        ("inf", 103, "'inf' is not a number, quantity or day"),
        ("GBP 310", 103, "write 310 GBP"),
        ("$310", 103, "write 310 GBP"),
        ("5 kg/min (a)", 103, "'/min (a)' after 5 kg cannot be read"),
        ("1 lb 4", 107, "1 lb and 4 stand side by side"),
        ("1 lb 2026-03-01", 107, "stand side by side"),
        ("£310", 103, "the sign 'pound sign' cannot be read"),
        ("1½ in", 103, "write 1 1/2 in"),
        ("−5 mm", 103, "write -5 mm"),
        ("٣ kg", 103, "the digits 0 to 9"),
        ("５ kg", 103, "the digits 0 to 9"),
        ("5\u00a0kg", 103, "write a plain blank"),
        ("90°", 103, "write 90 deg"),
        ("007", 103, "007 begins with a zero too many; write 7"),
        ("5/8", 103, "a fraction needs a unit"),
        ("5/0 in", 103, "5/0 divides by zero"),
        ("1 3/2 in", 103, "the fraction after a whole number is less than one"),
        ("9" * 41, 103, "more than 40 digits"),
        ("0." + "3" * 40, 103, "more than 40 digits"),
        ("1." + "3" * 5000 + " mm", 103, "more than 40 digits"),
        ("1.5 months", 103, "1.5 months is not a whole number of months"),
        ("5 kg or so", 103, "'or so' after 5 kg cannot be read"),
        ("5 %x", 103, "5 %x is glued together"),
        ("900 mm - 1000 mm", 103, "a range has two bounds"),
        ("-2026-03-01", 103, "a day has no minus"),
        ("2026-3-1", 103, "write 2026-03-01"),
        ("2026/03/01", 103, "write 2026-03-01"),
        ("5 kgs", 104, "kgs is not a unit; perhaps kg"),
        ("5 Kg", 104, "Kg is not a unit; perhaps kg"),
        ("0.745 kg/l", 104, "kg/l is not a unit; perhaps kg/L"),
        ("5 %/deg", 104, "%/deg is not a unit; % cannot be joined"),
        ("310 EUR", 104, "EUR is not a unit; this pack's currency is GBP"),
        ("0x10", 104, "x10 is not a unit"),
        ("2026-02-30", 106, "February 2026 has 28 days"),
        ("2026-13-01", 106, "there is no month 13"),
        ("1066-10-14", 106, "outside the years 1900 to 2199"),
        ("12 13", 107, "12 and 13 stand side by side"),
        ("5 kg 3", 107, "5 kg and 3 stand side by side"),
        ("5 kg 3 mm", 107, "between a mass and a length"),
        ("4 oz 1 lb", 107, "write the larger unit first"),
        ("1 lb 2 lb", 107, "lb is no smaller unit"),
        ("30 days 1 month", 107, "between a number of days and a number of months"),
        ("98 dB(A)", 103, "'(A)' after 98 dB cannot be read"),
        ("2026-03-01 10:00:30", 107, "2026-03-01 and 10 stand side by side"),
    ],
)
def test_what_cannot_be_read_is_refused_with_the_cure(text: str, code: int, says: str) -> None:
    error = refused(text)
    assert error.code_number == code
    assert says in str(error)


def test_the_place_of_an_error_is_that_of_the_wrong_part() -> None:
    error = refused("  5 ft 3 ins")
    assert (error.start, error.end) == (9, 12)


@each_row(
    ("text", "kind", "message"),
    [
        ("620", KG, "620 has no unit; write 620 kg, or g, lb, oz, t"),
        ("-3", MM, "-3 has no unit; write -3 mm, or cm, m, in, ft"),
        ("0", GBP, "0 has no unit; write 0 GBP"),
        ("25 mm", KG, "25 mm is a length; a mass was wanted; write it in kg, or g, lb, oz, t"),
        ("25 kg", NUMBER, "25 kg is a mass; a plain number was wanted; write it without a unit"),
        ("52.5", PERCENT, "52.5 has no unit; write 52.5 %, or ppm"),
        ("52.5 %", NUMBER, "52.5 % is a percentage; a plain number was wanted; write it without a unit"),
        ("3 months", DAYS, "3 months is a number of months; a number of days was wanted; write it in days"),
        ("3", MONTHS, "3 has no unit; write 3 months, or years"),
        (
            "2026",
            DATE,
            "2026 is a plain number; a day was wanted; write year, month and day as in 2026-03-01",
        ),
        ("2026-03-01", KG, "2026-03-01 is a day; a mass was wanted; write it in kg, or g, lb, oz, t"),
    ],
)
def test_a_value_of_the_wrong_kind_is_refused_with_units_that_would_do(
    text: str, kind: Kind, message: str
) -> None:
    error = refused(text, kind)
    assert str(error) == message
    assert text[error.start : error.end] == text


def test_any_unit_of_the_dimension_is_taken() -> None:
    assert parse_quantity("1 lb 4 oz", KG, None).value == LB * 5 / 4
    assert parse_quantity("2026-03-01", DATE, None).value == date(2026, 3, 1)


@each_row(
    ("text", "matched"),
    [
        ("5/8", "5"),
        ("5/8 in + 3", "5/8 in"),
        ("5/8 if a else b", "5"),
        ("5/2026-03-01", "5"),
        ("1 1/2 if a else b", "1 1/2"),
        ("5 if a else b", "5"),
        ("5 in x", "5 in"),
        ("5 kg/min(a, b)", "5 kg"),
        ("5 kg/min (a, b)", "5 kg"),
        ("5 kg/m.total", "5 kg"),
        ("5 kg/engine.capacity", "5 kg"),
        ("5 kg/L*3", "5 kg/L"),
        ("5 kg/L/x", "5 kg/L"),
        ("53 %/deg", "53 %"),
        ("2026-03-01+1 day", "2026-03-01"),
        ("2026-3", "2026"),
        ("1 lb 4 oz) * 2", "1 lb 4 oz"),
        ("1 lb\n4 oz", "1 lb\n4 oz"),
        ("5 mph", "5 mph"),
        ("1 min", "1 min"),
    ],
)
def test_in_a_formula_the_longest_literal_counts(text: str, matched: str) -> None:
    found = match_literal(text, 0, None)
    assert found is not None
    assert (found[0].text, found[1]) == (matched, len(matched))


@each_row(
    ("text", "code"),
    [("5if a", 103), ("5 %x", 103), ("5 x", 104), ("5/8 x", 104), ("1 lb 4", 107), ("03 kg", 103)],
)
def test_in_a_formula_too_a_number_needs_a_unit_or_an_end(text: str, code: int) -> None:
    with pytest.raises(LiteralError) as caught:
        match_literal(text, 0, None)
    assert caught.value.code_number == code


def test_where_no_digit_stands_there_is_no_literal() -> None:
    assert match_literal("a + 5 kg", 0, None) is None
    assert match_literal("", 0, None) is None
    assert match_literal("٣", 0, None) is None
    found = match_literal("a + 5 kg", 4, None)
    assert found is not None
    assert found[1] == 8


@given(WHOLE, st.sampled_from(sorted(QUANTITIES)), st.integers(0, 10**4))
def test_a_decimal_with_a_unit_is_that_many_units(whole: int, name: str, decimals: int) -> None:
    text = f"{whole}.{decimals:04d}"
    kind, value = read(f"{text} {name}")
    unit = parse_unit(name, None)
    assert (kind, value) == (unit.kind, Fraction(text) * unit.factor + unit.zero)


@given(WHOLE, st.integers(0, 11), st.integers(0, 15))
def test_a_compound_is_the_sum_of_its_parts(feet: int, inches: int, sixteenths: int) -> None:
    text = f"{feet} ft {inches} {sixteenths}/16 in"
    assert read(text) == (MM, INCH * (12 * feet + inches + Fraction(sixteenths, 16)))
    assert read(f"-{text}")[1] == -INCH * (12 * feet + inches + Fraction(sixteenths, 16))


@given(st.decimals("-1e6", "1e6", places=3), st.sampled_from(["kg", "lb", "oz", "g", "t"]))
def test_masses_go_through_any_unit_and_back_exactly(amount: object, name: str) -> None:
    literal = parse_quantity(f"{amount:f} {name}", KG, None)
    assert isinstance(literal.value, Fraction)
    assert literal.unit is not None
    assert literal.value / literal.unit.factor == Fraction(str(amount))


def attempt(read: Callable[[], Result]) -> Result | LiteralError:
    try:
        return read()
    except LiteralError as error:
        return error


@given(st.one_of(st.text(), SCRAPS), st.sampled_from([None, "GBP"]))
def test_any_text_is_a_literal_or_an_error_with_a_place(text: str, currency: str | None) -> None:
    result = attempt(lambda: parse_literal(text, currency))
    if isinstance(result, LiteralError):
        assert result.code_number in (103, 104, 106, 107)
        assert result.message
        assert 0 <= result.start <= result.end <= len(text)
    else:
        assert result.text == text.strip(" \t\r\n")
        assert isinstance(result.value, date) == (result.kind == DATE)


@given(SCRAPS, st.integers(0, 20))
def test_anywhere_in_any_text_a_literal_stands_by_itself(text: str, start: int) -> None:
    result = attempt(lambda: match_literal(text, start, "GBP"))
    if isinstance(result, LiteralError):
        assert start <= result.start < result.end <= len(text)
    elif result is None:
        assert text[start : start + 1] not in tuple("0123456789")
    else:
        literal, end = result
        assert text[start:end] == literal.text
        assert parse_literal(literal.text, "GBP") == literal


def test_kinds_have_names_for_sentences() -> None:
    kinds = (
        KG,
        quantity(LENGTH**2),
        GBP,
        NUMBER,
        PERCENT,
        DAYS,
        MONTHS,
        DATE,
        quantity(NO_DIMENSION / LENGTH),
    )
    assert [kind_in_words(kind) for kind in kinds] == [
        *("a mass", "an area", "a sum of money", "a plain number", "a percentage"),
        *("a number of days", "a number of months", "a day", "a 1 per length"),
    ]
