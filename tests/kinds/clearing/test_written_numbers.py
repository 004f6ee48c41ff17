"""A number that is written in floats is never further from the exact one than it says."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.kinds.clearing import arithmetic, floats
from checker.kinds.clearing.car_in_floats import CarInFloats
from checker.kinds.clearing.writer import Writer
from checker.kinds.contract.writing import NotInFloats
from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.problem import FormulaError
from checker.quantities.kind import Unknown
from checker.verdict.decision import Rule
from tests.building import car_of, pack_of_check
from tests.examples import examples

PACK = pack_of_check(
    "{holds: true == true}",
    "facts: {f.p: {type: number}, f.q: {type: number}, f.r: {type: number, several: true}}\n"
    "derived: {d: {formula: f.p * f.q - f.p}}",
)
NUMBERS = st.decimals("-1000", "1000", places=3, allow_nan=False).map(str) | st.sampled_from(
    ["0.1", "0.2", "0.3", "3"]
)
LEAVES = st.sampled_from(["f.p", "f.q", "d", "mean(f.r)", "sum(x * f.p for x in f.r)", "0.1", "0.3", "3"])


def made_of(parts: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    two = st.tuples(parts, st.sampled_from("+-*/"), parts).map(lambda one: f"({one[0]} {one[1]} {one[2]})")
    return two | st.one_of(
        st.tuples(parts, parts).map(lambda one: f"min({one[0]}, {one[1]})"),
        st.tuples(parts, parts, parts).map(
            lambda one: f"({one[0]} if {one[1]} < {one[2]} else {one[0]} + 1)"
        ),
        parts.map(lambda one: f"abs({one})"),
        parts.map(lambda one: f"({one})**3"),
    )


FORMULAS = st.recursive(LEAVES, made_of, max_leaves=6)


def out_by(formula: str, p: str, q: str) -> tuple[Fraction, Fraction] | None:
    """By how much the float is out, and by how much it says it may be; None where it says nothing."""
    expression = compile_formula(formula, PACK.scope)
    writer = Writer(PACK.scope)
    number = writer.number(expression)
    told = writer.compiled(f"({number.value}, {number.error})")
    car = CarInFloats(car_of(PACK, f"f: {{p: {p}, q: {q}, r: [{q}, 0.1, {p}]}}"), Rule("entrant"))
    found = told(car, car.scene, [])  # type: ignore[operator]
    exact = expression.evaluate(car.scene)
    if isinstance(exact, Unknown) or not isinstance(found, tuple):
        return None
    return abs(Fraction(found[0]) - exact), Fraction(found[1])


@examples(400)
@given(FORMULAS, NUMBERS, NUMBERS)
def test_no_float_is_further_out_than_it_says(formula: str, p: str, q: str) -> None:
    try:
        found = out_by(formula, p, q)
    except (NotInFloats, FormulaError):  # too high a power, a division by nothing
        return
    if found is not None:
        out, bound = found
        assert out <= bound * (1 + Fraction(1, 10**9)), formula


@pytest.mark.parametrize("forgotten", [arithmetic, floats])
def test_a_rounding_that_is_forgotten_is_noticed(forgotten: object, monkeypatch: pytest.MonkeyPatch) -> None:
    sums = [("f.p + f.q", "0.1", "0.2"), ("f.p / f.q", "0.1", "0.3"), ("f.p", "0.1", "0.2")]
    assert all(found and found[0] <= found[1] for found in (out_by(*one) for one in sums))
    monkeypatch.setattr(forgotten, "ROUNDING", 0.0)
    monkeypatch.setattr(forgotten, "TINY", 0.0)
    assert any(found and found[0] > found[1] for found in (out_by(*one) for one in sums))
