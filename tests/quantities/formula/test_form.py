"""How an expression depends on the condition: which are worst at a corner of a range, and which are not."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.formula.expression import Expression
from checker.quantities.formula.form import Form, added, negative
from checker.quantities.formula.problem import FormulaError
from checker.quantities.kind import Unknown
from tests.examples import each_row, examples
from tests.quantities.formula.workshop import SCOPE, WEIGHTS, Scene, compiled, each, let


def form(text: str) -> str:
    return compiled(text).form.name


@each_row(
    ("text", "expected"),
    [
        # nothing of the weights
        ("3 kg", "constant"),
        ("driver.mass * 2 + sum(b.mass for b in ballast)", "constant"),
        ("stated(car.built)", "constant"),
        ("max(driver.mass, 3 kg)", "constant"),
        # linear
        ("weight.total", "linear"),
        ("weight.total - driver.mass + 3 kg", "linear"),
        ("weight.front - weight.rear", "linear"),
        ("-weight.front", "linear"),
        ("2 * weight.front - weight.rear / 3", "linear"),
        ("engine.cylinders * weight.front", "linear"),
        ("3 % * weight.total", "linear"),
        ("weight.total * 53 % - weight.inside", "linear"),
        ("weight.total / 1 kg", "linear"),
        ("12 kg + (weight.front if engine.boosted else weight.rear)", "linear"),
        ("weight.total - (weight.front if engine.boosted else 0 kg)", "linear"),
        ("percentage.inside * weight.total", "linear"),
        # linear over linear
        ("percentage.inside", "ratio"),
        ("percentage.inside - 53 %", "ratio"),
        ("percentage.inside - percentage.rear", "ratio"),
        ("2 * percentage.inside - percentage.rear + 3 %", "ratio"),
        ("weight.front / weight.rear", "ratio"),
        ("percent(weight.front / weight.rear)", "ratio"),
        ("percent(weight.front / weight.rear) - 3 %", "ratio"),
        ("percent(weight.front / weight.total) + percentage.inside", "ratio"),
        ("driver.mass / weight.total", "ratio"),
        ("percent(sum(b.mass for b in ballast) / weight.total)", "ratio"),
        ("(weight.front + 3 kg) / (weight.rear - driver.mass)", "ratio"),
        ("weight.front / (weight.rear - 3 kg) + weight.rear / (weight.rear -  3 kg)", "ratio"),
        ("percentage.front / percentage.rear", "ratio"),
        ("1 / (weight.front / weight.rear)", "ratio"),
        ("percentage.inside if engine.boosted else percentage.rear", "ratio"),
        ("percentage.inside if engine.boosted else 50 %", "ratio"),
        ("weight.front / weight.rear if engine.boosted else weight.left / weight.right", "ratio"),
        # a greatest or a least of these
        ("max(weight.front, weight.rear)", "peak"),
        ("min(weight.front, weight.rear)", "dip"),
        ("-max(weight.front, weight.rear)", "dip"),
        ("abs(weight.left - weight.right)", "peak"),
        ("3 kg - abs(weight.left - weight.right)", "dip"),
        ("abs(percentage.left - percentage.right)", "peak"),
        ("max(percentage.inside, 50 %) - 3 %", "peak"),
        ("max(weight.front, 300 kg, weight.rear)", "peak"),
        ("max(abs(weight.left - weight.right), weight.front)", "peak"),
        ("max(percentage.inside, weight.front / weight.rear * 100 %)", "peak"),
        ("2 * abs(weight.left - weight.right)", "peak"),
        ("abs(weight.left - weight.right) * -2", "dip"),
        ("abs(weight.left - weight.right) / 2", "peak"),
        ("abs(weight.left - weight.right) / weight.total", "peak"),
        ("percent(abs(weight.left - weight.right) / weight.total) - percentage.inside", "peak"),
        ("abs(weight.left - weight.right) - 5 % * weight.total", "peak"),
        ("max(weight.left, weight.right) - min(weight.left, weight.right)", "peak"),
        ("min(weight.left, weight.right) / weight.total", "dip"),
        ("abs(weight.left - weight.right) if engine.boosted else weight.left", "peak"),
        ("max(weight.left, weight.right) if engine.boosted else 3 kg", "peak"),
        (
            "max(percentage.inside, weight.front / weight.rear * 100 %) if engine.boosted else percentage.rear",
            "peak",
        ),
        # no promise
        ("weight.front * weight.rear", "general"),
        ("weight.front ** 2", "general"),
        ("percentage.inside * percentage.rear", "general"),
        ("percentage.inside * weight.front", "general"),
        ("percentage.inside + weight.front / weight.rear * 100 %", "general"),
        ("weight.front / weight.rear - weight.left / weight.right", "general"),
        ("weight.front / (weight.rear - 3 kg) + weight.rear / (weight.rear - 4 kg)", "general"),
        ("weight.front / 1 kg + weight.front / weight.rear", "general"),
        ("weight.front / percentage.rear", "general"),
        ("percentage.inside / (weight.front / 1 kg)", "general"),
        ("round_half_up(percentage.inside, 0.1 %)", "general"),
        ("hypot(weight.front, weight.rear)", "general"),
        ("sqrt(weight.front / 1 kg)", "general"),
        ("max(weight.front, weight.rear) + min(weight.left, weight.right)", "general"),
        ("max(weight.front, min(weight.left, weight.right))", "general"),
        ("abs(max(weight.front, weight.rear))", "general"),
        ("abs(abs(weight.front))", "general"),
        ("engine.cylinders * abs(weight.left - weight.right)", "general"),
        ("abs(weight.left - weight.right) / engine.cylinders", "general"),
        ("abs(weight.left - weight.right) / (weight.total - 3 kg)", "general"),
        ("max(percentage.inside, weight.front / weight.rear * 100 %) - percentage.inside", "general"),
        ("3 kg if weight.front > 3 kg else 4 kg", "general"),
        ("max(weight.front, 3 kg) if engine.boosted else min(weight.front, 3 kg)", "general"),
        ("minimum(weight.front / 1 kg * 1 cc)", "general"),
        ("minimum(weight.front / 1 kg * 1 cc) + 3 kg", "general"),
        ("weight.front > 3 kg", "general"),
        ("weight.front > 3 kg and engine.boosted", "general"),
        ("not weight.front > 3 kg", "general"),
        ("sum(b.mass for b in ballast if b.mass > 3 % * weight.total)", "general"),
        ("count(b for b in ballast if b.mass > 3 % * weight.total)", "general"),
        ("any(b.mass > 3 % * weight.total for b in ballast)", "general"),
        ("weight.front in [3 kg]", "general"),
    ],
)
def test_the_form_of_an_expression(text: str, expected: str) -> None:
    assert form(text) == expected


def test_the_form_goes_through_names() -> None:
    scope = let("rear_share", "percent(weight.rear / weight.total)")
    assert compiled("rear_share - 3 %", scope).form.name == "ratio"
    assert compiled("rear_share - percentage.inside", scope).form.name == "ratio"
    assert compiled("rear_share * weight.front", scope).form.name == "general"
    assert compiled("rear_share", scope).follows_condition
    assert not compiled("driver.mass", scope).follows_condition


def test_limit_minus_bound() -> None:
    def between(limit: str, bound: str) -> str:
        return added(compiled(limit).form, negative(compiled(bound).form)).name

    assert between("weight.inside", "53 % * weight.total") == "linear"
    assert between("percentage.inside", "53 %") == "ratio"
    assert between("percentage.inside", "percentage.rear + 2 %") == "ratio"
    assert between("max(weight.left, weight.right)", "55 % * weight.total") == "peak"
    assert between("min(weight.left, weight.right)", "45 % * weight.total") == "dip"
    assert between("weight.total", "max(weight.front, 600 kg)") == "dip"
    assert between("weight.front / weight.rear", "weight.left / weight.right") == "general"


def test_divisors_that_follow_the_condition_are_kept() -> None:
    scene = Scene(
        values={"weight.front": Fraction(300), "weight.rear": Fraction(200), "engine.cylinders": Fraction(4)}
    )
    found = compiled(
        "weight.front / (weight.rear - 50 kg) + weight.rear / (weight.rear - 50 kg) / engine.cylinders"
    )
    assert [divisor(scene) for divisor in found.denominators] == [150, 150]
    assert compiled("driver.mass / 3").denominators == ()
    assert compiled("driver.mass / driver.mass").denominators == ()
    assert len(compiled("q", let("q", "1 / (weight.front / 1 kg)")).denominators) == 1


def test_a_divisor_matters_only_where_its_side_is_chosen() -> None:
    found = compiled("1 / (weight.front / 1 kg) if engine.boosted else 1 / (weight.rear / 1 kg)")
    loads = {"weight.front": Fraction(300), "weight.rear": Fraction(200)}
    for boosted, expected in ((True, [300, None]), (False, [None, 200])):
        scene = Scene(values={**loads, "engine.boosted": boosted})
        divisors = [divisor(scene) for divisor in found.denominators]
        assert [None if isinstance(d, Unknown) else d for d in divisors] == expected
    assert [divisor(Scene(values=loads)) for divisor in found.denominators] == [300, 200]


def test_forms_of_constants() -> None:
    assert Form("constant").is_constant
    assert Form("constant").is_monotone
    assert compiled("weight.total").form == Form("linear", top="weight.total")
    assert not Form("peak").is_monotone


# --- the law: what is promised holds ----------------------------------------------------------------------------

_NAMES = st.sampled_from([f"weight.{name}" for name in WEIGHTS])
_SHARES = st.sampled_from([f"percentage.{name}" for name in WEIGHTS if name != "total"])
_MASSES = st.sampled_from(["3 kg", "driver.mass", "-40 kg", "120 kg"])
_FACTORS = st.sampled_from(["2", "-3", "engine.cylinders", "0.5", "0"])


def _masses() -> st.SearchStrategy[str]:
    """Formulas of a mass, most of which follow the condition."""
    return st.recursive(
        _NAMES | _NAMES | _MASSES,
        lambda inner: st.one_of(
            st.tuples(inner, st.sampled_from("+-"), inner).map(lambda t: f"({t[0]} {t[1]} {t[2]})"),
            st.tuples(_FACTORS, inner).map(lambda t: f"{t[0]} * {t[1]}"),
            st.tuples(inner, _FACTORS.filter(lambda f: f != "0")).map(lambda t: f"{t[0]} / {t[1]}"),
            st.tuples(st.sampled_from(["max", "min"]), inner, inner).map(lambda t: f"{t[0]}({t[1]}, {t[2]})"),
            inner.map(lambda t: f"abs({t})"),
            st.tuples(inner, inner).map(lambda t: f"({t[0]} if engine.boosted else {t[1]})"),
            st.tuples(inner, inner, inner).map(lambda t: f"({t[0]}) / ({t[1]}) * ({t[2]})"),
            st.tuples(_SHARES, inner).map(lambda t: f"{t[0]} * {t[1]}"),
        ),
        max_leaves=6,
    )


MASSES = _masses()


def _ratios() -> st.SearchStrategy[str]:
    """Formulas of a plain number, most of which follow the condition."""
    whole = st.tuples(MASSES, MASSES).map(lambda t: f"({t[0]}) / ({t[1]})")
    share = _SHARES.map(lambda s: f"{s} / 1 %")
    return st.recursive(
        whole | share,
        lambda inner: st.one_of(
            st.tuples(inner, st.sampled_from("+-"), inner).map(lambda t: f"({t[0]} {t[1]} {t[2]})"),
            st.tuples(st.sampled_from(["max", "min"]), inner, inner).map(lambda t: f"{t[0]}({t[1]}, {t[2]})"),
            inner.map(lambda t: f"abs({t})"),
            st.tuples(inner, inner).map(lambda t: f"({t[0]} if engine.boosted else {t[1]})"),
        ),
        max_leaves=3,
    )


FORMULAS = (MASSES | _ratios()).filter(lambda text: len(text) <= 500)


def amounts(seed: int) -> Fraction:
    return Fraction(seed % 23 * 20 + 1)


def read(text: str) -> Expression | None:
    """The formula compiled; None where it divides by a constant zero, or is too deep."""
    try:
        return compiled(text)
    except FormulaError as error:
        numbers = {problem.number for problem in error.problems}
    assert numbers <= {105, 306}
    return None


def held(text: str, corners: list[int], boosted: bool) -> None:
    """In steps along a straight line between two states: what the form promises of the values holds."""
    expression = read(text)
    if expression is None:
        return
    if expression.form.name == "general":
        return
    found = []
    signs: list[set[int]] = [set() for _ in expression.denominators]
    for step in range(9):
        part = Fraction(step, 8)
        values = {
            f"weight.{name}": amounts(corners[i]) * (1 - part) + amounts(corners[i + len(WEIGHTS)]) * part
            for i, name in enumerate(WEIGHTS)
        }
        total = values["weight.total"]
        shares = {f"percentage.{name}": values[f"weight.{name}"] / total for name in WEIGHTS}
        facts = {"engine.cylinders": Fraction(4), "driver.mass": Fraction(80), "engine.boosted": boosted}
        scene = Scene(values={**values, **shares, **facts})
        for divisor, seen in zip(expression.denominators, signs, strict=True):
            amount = divisor(scene)
            seen.add(0 if isinstance(amount, Unknown) else (amount > 0) - (amount < 0))
        found.append(expression.evaluate(scene))
    if any(seen not in ({1}, {-1}) for seen in signs) or any(isinstance(v, Unknown) for v in found):
        return  # a divisor changes its sign: the promise does not cover this
    ends = (found[0], found[-1])
    if expression.form.name in ("constant", "linear", "ratio", "peak"):
        assert max(found) == max(ends), (text, found)
    if expression.form.name in ("constant", "linear", "ratio", "dip"):
        assert min(found) == min(ends), (text, found)
    if expression.form.name == "constant":
        assert min(found) == max(found)


@given(FORMULAS, st.lists(st.integers(0, 10**4), min_size=14, max_size=14), st.booleans())
@examples(400)
def test_what_is_worst_at_a_corner_is_so(text: str, corners: list[int], boosted: bool) -> None:
    held(text, corners, boosted)


@pytest.mark.deep
@given(FORMULAS, st.lists(st.integers(0, 10**6), min_size=14, max_size=14), st.booleans())
@examples(5_000)
def test_what_is_worst_at_a_corner_is_so_at_length(text: str, corners: list[int], boosted: bool) -> None:
    held(text, corners, boosted)


def test_fields_and_facts_do_not_follow_the_condition() -> None:
    assert compiled("mass * 2", each("ballast")).form.is_constant
    assert SCOPE.names["driver.mass"].form.is_constant
