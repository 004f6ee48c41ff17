"""What a formula's tree tells of how errors move it is never less than the exact figures."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.scene import Scene
from checker.kinds.clearing.clear import STILL
from checker.kinds.clearing.formula_scatter import scatter_of
from checker.kinds.contract.check import walk
from checker.kinds.judging.spread import relevant, sensitivities, total
from checker.kinds.limit import Limit
from checker.quantities.kind import Unknown
from checker.reading.problems import InputError
from tests.building import car_of, pack_of_check
from tests.examples import each_row, examples

FACTS = """
facts:
  f.a: {type: number, uncertainty: 0.5}
  f.b: {type: number, uncertainty: 0.25}
  f.sure: {type: number}
  f.kind: {type: text}
  f.many: {type: number, several: true, uncertainty: 0.125}
derived: {d: {formula: f.a + 2 * f.b}, e: {formula: f.a - f.a}}
tables:
  stepped: {by: [x], rows: [{x: up to 3, value: 2}, {x: above 3, value: 5}]}
lists:
  rods: {known_by: name, fields: {name: {type: text}, x: {type: number, uncertainty: 0.5}, n: {type: number}}}
"""
NUMBERS = st.sampled_from(["0", "1", "3", "-2", "0.5", "0.001", "1000000"])
LEAVES = st.sampled_from(
    (
        *("f.a", "f.b", "f.sure", "d", "e", "n", "x", "half", "1", "0", "2.5", "mean(f.many)"),
        *("mean(m for m in f.many)", "sum(r.x for r in rods)", "count(m for m in f.many)"),
        *("stepped(f.sure)", "stepped(f.a)"),
    )
)


def made_of(parts: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    two = st.tuples(parts, parts)
    return st.one_of(
        st.builds(lambda sides, sign: f"({sides[0]} {sign} {sides[1]})", two, st.sampled_from("+-*")),
        st.builds(lambda part, leaf: f"({part} / {leaf})", parts, LEAVES.filter(lambda leaf: leaf != "0")),
        st.builds("max({0[0]}, {0[1]})".format, two),
        st.builds("min({0[0]}, {0[1]})".format, two),
        parts.map("abs({})".format),
        parts.map("(-{})".format),
        st.builds(lambda part, n: f"({part})**{n}", parts, st.integers(2, 3)),
        st.builds("({0[0]} if f.kind == 'low' else {0[1]})".format, two),
        st.builds("({0[0]} if f.sure > 1 else {0[1]})".format, two),
        st.builds("({0[0]} if f.b > 1 else {0[1]})".format, two),
    )


FORMULAS = st.recursive(LEAVES, made_of, max_leaves=6)
CAR = """
f: {{a: {0}, b: {1}, sure: {2}, kind: high, many: [{0}, {3}, {3}]}}
rods: [{{name: one, x: {1}, n: {2}, count: 2}}, {{name: two, x: {3}, n: 1}}]
"""


def is_bounded(formula: str, numbers: tuple[str, ...]) -> bool:
    """Whether the tree told of the formula how errors move it; then it told enough."""
    check = f'{{each: rods, let: {{half: f.a / 2 + x}}, limit: "{formula}", at_most: 3}}'
    try:
        pack = pack_of_check(check, FACTS)
    except InputError:  # a division by nothing, say
        return False
    car = car_of(pack, CAR.format(*numbers))
    (limited,) = (part for part in walk(pack.clauses["1"].check) if isinstance(part, Limit))
    entry, expression = car.every_entry("rods")[1], limited.limit
    scene = Scene(car).bind("", entry)
    here = expression.evaluate(scene)
    if isinstance(here, Unknown):
        return False
    told = scatter_of(expression, scene)
    if told is None:
        return False

    def value(where: Scene) -> tuple[Fraction] | Unknown:
        found: Any = expression.evaluate(where)
        return found if isinstance(found, Unknown) else (found,)

    uses = expression.uses
    found = sensitivities(value, scene, relevant(scene, uses), uses, (here,))
    assert not isinstance(found, Unknown), "what may become unknown is not told"
    variance = float(total(one.variance for one in found[0]))
    assert told.deviation * (1 + 1e-6) >= math.sqrt(variance)
    assert told.steepest * (1 + 1e-6) >= max((abs(float(one.slope)) for one in found[0]), default=0)
    assert told.size * (1 + 1e-6) >= abs(float(here))
    assert told is not STILL or not variance
    return True


@examples(300)
@given(formula=FORMULAS, numbers=st.tuples(NUMBERS, NUMBERS, NUMBERS, NUMBERS))
def test_of_any_formula(formula: str, numbers: tuple[str, ...]) -> None:
    is_bounded(formula, numbers)


@each_row(
    "formula",
    [
        *("f.a", "f.a - f.b", "d / 2", "half * f.sure", "x + n", "f.a**2", "max(f.a, f.b)", "abs(d - 3)"),
        *("mean(f.many)", "sum(r.x for r in rods)", "f.a / f.sure", "f.sure / f.a", "stepped(f.sure) * f.a"),
        *("f.a if f.sure > 1 else f.b", "stepped(f.a) + f.b"),
    ],
)
def test_of_what_rules_are_made_of(formula: str) -> None:
    assert is_bounded(formula, ("3", "-2", "3", "0.5"))


@pytest.mark.parametrize("formula", ["f.a if f.b > 1 else 2 * x", "x / (f.a - f.b)", "stepped(x)"])
def test_what_turns_on_an_error_is_left_to_exact_figures(formula: str) -> None:
    assert not is_bounded(formula, ("3", "-2", "3", "0.5"))
