from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.reading.values import NOT_ONLY_TEXT, NumberError, understand
from tests.examples import each_row
from tests.reading.strategies import same

# YAML 1.2.2, section 10.3.2 "Tag Resolution" (core schema), and its examples 10.8 and 10.9 (recalled).
CORE_SCHEMA = [
    *((word, None) for word in ("", "~", "null", "Null", "NULL")),
    *((word, True) for word in ("true", "True", "TRUE")),
    *((word, False) for word in ("false", "False", "FALSE")),
    ("0", 0),
    ("-19", -19),
    ("+12", 12),
    ("0777", 777),
    ("0o7", 7),
    ("0o14", 12),
    ("0x3A", 58),
    ("0xff", 255),
    ("0.", Fraction(0)),
    ("-0.0", Fraction(0)),
    (".5", Fraction(1, 2)),
    ("+12e03", Fraction(12000)),
    ("-2E+05", Fraction(-200000)),
    ("12.5", Fraction(25, 2)),
    ("1e3", Fraction(1000)),
    ("2.0", Fraction(2)),
    ("52.5", Fraction(105, 2)),
    ("310.00", Fraction(310)),
    ("1e-3", Fraction(1, 1000)),
]

# What YAML 1.1 readers make a truth, a number or a day of, and things that merely look like numbers.
TEXT = (
    *("no", "No", "yes", "on", "off", "y", "n", "nULL", "tRUE"),
    *(
        "1:30",
        "1_000",
        "2026-03-01",
        "0b1010",
        "0o8",
        "0xG",
        "-0x1F",
        "+0o7",
        "1e",
        "e3",
        ".",
        "-",
        "+",
        "-.",
        "+.",
    ),
    *(
        ".e3",
        "1.2.3",
        "1,5",
        "69 5/8",
        "1/2",
        "5 kg",
        "٣",
        "1٣",
        "1\n",
        "12 ",
        " 12",
        "inf",
        "nan",
        "-.nan",
        ".iNF",
    ),
)


@each_row(("word", "value"), CORE_SCHEMA)
def test_a_word_of_the_core_schema(word: str, value: object) -> None:
    assert same(understand(word), value)


@each_row("word", TEXT)
def test_everything_else_is_text(word: str) -> None:
    assert understand(word) == word


@each_row("word", [".inf", ".Inf", ".INF", "+.inf", "-.INF", ".nan", ".NaN", ".NAN"])
def test_what_is_not_finite_is_refused(word: str) -> None:
    with pytest.raises(NumberError, match="not a number that anything can measure"):
        understand(word)


def test_forty_digits_are_read_and_forty_one_refused() -> None:
    assert understand("1" * 40) == int("1" * 40)
    assert understand("0." + "1" * 39) == Fraction(int("1" * 39), 10**39)
    assert understand("0x" + "f" * 40) == 16**40 - 1
    for word in ("1" * 41, "0." + "1" * 40, "0x" + "f" * 41, "0o" + "7" * 41):
        with pytest.raises(NumberError, match="41 digits; at most 40"):
            understand(word)


def test_an_exponent_beyond_thirty_is_refused() -> None:
    assert understand("1e30") == Fraction(10**30)
    assert understand("1e-30") == Fraction(1, 10**30)
    for word in ("1e31", "1e-31", "1e999999999999999999999", "1E+0000000000001"):
        with pytest.raises(NumberError, match="exponent"):
            understand(word)


@given(st.text(max_size=8))
def test_a_word_that_begins_with_no_sign_of_a_scalar_is_text(word: str) -> None:
    if word and word[0] not in NOT_ONLY_TEXT:
        assert understand(word) == word


@given(st.decimals(allow_nan=False, allow_infinity=False, places=6, min_value=-(10**9), max_value=10**9))
def test_a_decimal_is_read_exactly(number: object) -> None:
    assert understand(f"{number:f}") == Fraction(f"{number:f}")
