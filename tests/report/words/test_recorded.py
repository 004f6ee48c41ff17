"""Amounts that a record holds, in the system that is asked for."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from checker.report.amounts import in_system, shown
from checker.report.words.recorded import recorded_margin, written
from checker.report.words.units import SYSTEMS, showing
from tests.examples import each_row
from tests.report.words.test_units import number


@each_row(
    ("exact", "told"),
    [
        ("93/20 kg", "+4.65 kg"),
        ("-93/20 kg", "-4.65 kg"),
        ("-1/3000 %", "-0.01 %"),
        ("1/3 %", "+0.33 %"),
        ("0 kg", "0 kg"),
        ("-1/10000 kg", "-0.01 kg"),
        ("-2", "-2"),
        ("851 days", "+851 days"),
        ("-5/2 GBP", "-2.50 GBP"),
        ("", ""),
    ],
)
def test_an_exact_margin_is_shown_against_the_car(exact: str, told: str) -> None:
    assert recorded_margin(exact) == told


@given(st.fractions(-100, 100), st.sampled_from(["kg", "mm", "%", "lb"]), st.sampled_from([*SYSTEMS, None]))
def test_a_margin_that_is_read_off_is_never_better_than_the_recorded_one(
    value: Fraction, unit: str, system: str | None
) -> None:
    """And a margin of a document that was made without a system asked for is told as one that was made with it."""
    with showing(system):
        told = recorded_margin(f"{value} {unit}")
        name = told.rpartition(" ")[2]
        data = in_system(
            {"value": "", "exact": f"{value.numerator}/{value.denominator}", "unit": unit}, signed=True
        )
        if name != unit:
            assert shown(data, signed=True) == told
    factor = {"kg": Fraction(1), "lb": Fraction("0.45359237"), "in": Fraction("25.4")}.get(name, Fraction(1))
    exact = value * ({"lb": Fraction("0.45359237")}.get(unit, Fraction(1)))
    assert number(told) * factor <= exact
    assert (number(told) == 0) == (value == 0)


def test_what_was_written_is_told_as_it_stands_or_in_the_system_asked_for() -> None:
    texts = ("158.5 kg", "25.4 mm", "35.9 mm, 36 mm", "true", "above 10 mm (gauge went)", "6 L", "")
    assert tuple(map(written, texts)) == texts
    with showing("us"):
        assert [written(text) for text in texts] == [
            "349.433 lb",
            "1 in",
            "1.41339 in, 1.41732 in",
            "true",
            "above 10 mm (gauge went)",
            "6 L",
            "",
        ]
