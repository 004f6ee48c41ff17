"""Forms of texts, held to Python's own regular expressions."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.folding import fold
from checker.quantities.formula.patterns import matches
from tests.examples import each_row
from tests.quantities.formula.workshop import absent, value, wrong

SIGNS = st.text(alphabet="aB1-* #@?.", max_size=12)


@each_row(
    ("text", "pattern", "expected"),
    [
        ("AB-1234", "@@-####", True),
        ("ab-1234", "@@-####", True),
        ("AB-123", "@@-####", False),
        ("AB-12345", "@@-####", False),
        ("A1-1234", "@@-####", False),
        ("D 2026 017", "D  #### ###", True),
        ("D/17/b", "D/*", True),
        ("D/", "D/*", True),
        ("E/17", "D/*", False),
        ("\N{ARABIC-INDIC DIGIT ONE}", "#", False),
        ("", "*", True),
        ("a" * 1001, "*", False),
    ],
)
def test_forms(text: str, pattern: str, expected: bool) -> None:
    assert matches(text, pattern) == expected


@given(SIGNS, SIGNS)
def test_a_pattern_is_a_regular_expression_of_four_signs(text: str, pattern: str) -> None:
    classes = {"#": "[0-9]", "@": "[A-Za-z]", "?": ".", "*": ".*"}
    expression = "".join(classes.get(sign, re.escape(sign)) for sign in fold(pattern))
    assert matches(text, pattern) == bool(re.fullmatch(expression, fold(text)))


def test_many_stars_take_no_time() -> None:
    assert not matches("a" * 1000, "*a" * 50 + "b")


def test_a_text_has_one_of_several_forms() -> None:
    assert value("matches(car.number, '##', '###')", car__number="123") is True
    assert value("matches(car.number, '##', '###')", car__number="1234") is False
    assert absent(value("matches(car.number, '##')")) == ("car.number",)


@each_row(
    ("text", "number", "place"),
    [
        ("matches(car.number)", 305, "matches(car.number)"),
        ("matches(engine.capacity, '#')", 302, "engine.capacity"),
        ("matches(harness.labels, '#')", 304, "harness.labels"),
        ("matches(car.number, car.class)", 302, "car.class"),
        ("matches(car.number, '')", 302, "''"),
        (f"matches(car.number, '{'#' * 101}')", 302, f"'{'#' * 101}'"),
    ],
)
def test_mistakes(text: str, number: int, place: str) -> None:
    assert wrong(text) == [(number, place)]
