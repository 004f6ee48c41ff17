from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.studies.cases.misprints import misprints, moved, moved_number
from tests.examples import each_row


@each_row(
    ("amount", "others"),
    [
        ("53.0 %", ["53.1 %", "52.9 %"]),
        ("655 kg", ["656 kg", "654 kg"]),
        ("0 kg", ["1 kg"]),
        ("0.34", ["0.35", "0.33"]),
        ("9.99 GBP", ["10.00 GBP", "9.98 GBP"]),
        ("1 lb 4 oz", ["1 lb 5 oz", "1 lb 3 oz"]),
        ("69 5/8 in", ["69 6/8 in", "69 4/8 in"]),
        ("24 months", ["25 months", "23 months"]),
        ("2026-03-01", ["2026-03-02", "2026-02-28"]),
        ("no limit", []),
    ],
)
def test_an_amount_is_moved_one_step_up_and_down(amount: str, others: list[str]) -> None:
    assert list(moved(amount)) == others


@each_row(
    ("formula", "others"),
    [
        ("3 if mass > 6 kg else 2", ["4", "2 if", ">=", "7 kg", "5 kg", "else 3", "else 1"]),
        ("a.x == b.x and a.y in 'z'", ["!=", "or", "not in"]),
        ("count(c for c in p if c.k in ['a', 'b'])", ["c.k not in ", "in ['b']", "in ['a']"]),
        ("x ** 2 + 3", ["4", "+ 2"]),
        ("made + 5 years", ["6 years", "4 years"]),
        ("not ((1) in list)", ["(2)", "(0)", "not in list"]),
        ("a or b or c", ["a and b and c"]),
        ("1 <= x < 2", ["< x", "<= 2", "2 <=", "0 <=", "< 3", "< 1"]),
        ("car.first_raced", []),
        ("(((", []),
    ],
)
def test_a_formula_is_misprinted_in_one_place_at_a_time(formula: str, others: list[str]) -> None:
    found = list(misprints(formula, "GBP"))
    assert len(found) == len(others)
    for part in others:
        assert any(part in one.text for one in found)
    for one in found:
        assert one.text != formula
        kept = len(formula) - one.end
        assert one.text.startswith(formula[: one.start])
        assert kept == 0 or one.text.endswith(formula[-kept:])


@pytest.mark.parametrize(
    ("number", "written", "others"),
    [
        (4, "4", [5, 3]),
        (Fraction("11.2"), "11.2", [Fraction("11.3"), Fraction("11.1")]),
        (Fraction(3), "3.00", [Fraction("3.01"), Fraction("2.99")]),
    ],
)
def test_a_number_is_moved_in_its_last_decimal(
    number: int | Fraction, written: str, others: list[int | Fraction]
) -> None:
    assert list(moved_number(number, written)) == others


@given(st.decimals(0, 1000, places=2))
def test_a_step_up_and_a_step_down_cancel(value: object) -> None:
    amount = f"{value} kg"
    up = next(iter(moved(amount)))
    assert amount in list(moved(up))
