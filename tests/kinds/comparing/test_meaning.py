"""When two formulas mean the same, and which way one moves when an amount in it does."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from checker.kinds.comparing.comparison import SAME
from checker.kinds.comparing.meaning import same_meaning
from checker.kinds.comparing.monotonic import choices, shift
from checker.kinds.contract.check import formulas
from checker.kinds.frame.framed import compare_checks
from checker.pack.editions.loading import load_edition
from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import Binding, Scope
from checker.quantities.kind import NUMBER, TRUTH, Kind
from tests.building import pack_of
from tests.conftest import ROOT
from tests.examples import each_row

Values = dict[str, Any]


def _read(name: str) -> Binding:
    kind: Kind = TRUTH if name == "t.yes" else NUMBER
    return Binding(kind, lambda values: values[name])


SCOPE = Scope(names={name: _read(name) for name in ("a.x", "a.y", "a.z", "t.yes")})


def formula(text: str) -> Expression:
    return compile_formula(text, SCOPE)


@each_row(
    ("a", "b", "same"),
    [
        ("a.x + a.y", "a.y + a.x", True),
        ("a.x - a.y", "a.y - a.x", False),
        ("(a.x + a.y) + a.z", "a.x + (a.z + a.y)", True),
        ("a.x * 2", "2.0 * a.x", True),
        ("a.x / a.y", "a.y / a.x", False),
        ("min(a.x, a.y)", "min(a.y, a.x)", True),
        ("abs(a.x)", "abs(a.y)", False),
        ("a.x if t.yes else a.y", "a.y if t.yes else a.x", False),
        ("a.x <= a.y", "a.y >= a.x", True),
        ("a.x < a.y", "a.x <= a.y", False),
        ("a.x == a.y", "a.y == a.x", True),
        ("t.yes and a.x > 1", "1 < a.x and t.yes", True),
        ("t.yes and a.x > 1", "t.yes or a.x > 1", False),
        ("1 + 1", "2", True),
        ("a.x ** 2", "a.x ** 3", False),
    ],
)
def test_the_way_it_is_written_does_not_matter(a: str, b: str, same: bool) -> None:
    assert same_meaning(formula(a), formula(b)) is same
    assert same_meaning(formula(b), formula(a)) is same


LEAVES = st.sampled_from(["a.x", "a.y", "a.z", "1", "2.5", "3"])


def _joined(parts: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    return st.one_of(
        st.builds("({} + {})".format, parts, parts),
        st.builds("({} - {})".format, parts, parts),
        st.builds("({} * {})".format, parts, parts),
        st.builds("min({}, {})".format, parts, parts),
        st.builds("max({}, {})".format, parts, parts),
        st.builds("({} if t.yes else {})".format, parts, parts),
        st.builds("-{}".format, parts),
    )


FORMULAS = st.recursive(LEAVES, _joined, max_leaves=7)
NUMBERS = st.fractions(-5, 5, max_denominator=8)
CARS = st.fixed_dictionaries({"a.x": NUMBERS, "a.y": NUMBERS, "a.z": NUMBERS, "t.yes": st.booleans()})


@given(a=FORMULAS, b=FORMULAS, car=CARS)
def test_formulas_of_one_meaning_give_one_value(a: str, b: str, car: Values) -> None:
    one, other = formula(a), formula(b)
    assert same_meaning(one, one)
    if same_meaning(one, other):
        assert one.evaluate(car) == other.evaluate(car)


@given(a=FORMULAS, b=FORMULAS, c=FORMULAS, car=CARS)
def test_turning_sums_and_products_round_changes_nothing(a: str, b: str, c: str, car: Values) -> None:
    for left, right in (
        (f"{a} + {b} + {c}", f"{c} + ({b} + {a})"),
        (f"{a} * ({b} + {c})", f"({c} + {b}) * {a}"),
    ):
        one, other = formula(left), formula(right)
        assert one.evaluate(car) == other.evaluate(car)
        assert same_meaning(one, other)


@given(around=FORMULAS.filter(lambda text: "3" in text), more=st.sampled_from(["2", "4", "7.5"]), car=CARS)
def test_a_formula_said_to_rise_is_never_lower(around: str, more: str, car: Values) -> None:
    before, after = formula(around), formula(around.replace("3", more))
    moved = shift(before, after)
    if moved is None:
        return
    change = after.evaluate(car) - before.evaluate(car)
    assert change * moved.sign >= 0
    if moved.by is not None:
        assert abs(change) == moved.by or "if" in around
        assert abs(change) <= moved.by


@each_row(
    ("before", "after", "sign", "by"),
    [
        ("a.x + 3", "a.x + 4", 1, Fraction(1)),
        ("a.x - 3", "a.x - 4", -1, Fraction(1)),
        ("2 * (a.x + 3)", "2 * (a.x + 4)", 1, None),
        ("a.x - 2 * (a.y - 3)", "a.x - 2 * (a.y - 4)", 1, None),
        ("max(a.x, 3)", "max(a.x, 2)", -1, None),
        ("3 if t.yes else a.x", "4 if t.yes else a.x", 1, Fraction(1)),
        ("3 * a.x", "4 * a.x", None, None),
        ("a.x + 3 - 1 * a.y", "a.x + 4 - 2 * a.y", None, None),
        ("3 if a.x > 3 else 3", "3 if a.x > 4 else 3", None, None),
        ("a.x + 3", "a.y + 4", None, None),
        ("abs(a.x + 3)", "abs(a.x + 4)", None, None),
    ],
)
def test_which_way_a_changed_amount_moves_a_formula(
    before: str, after: str, sign: int | None, by: Fraction | None
) -> None:
    moved = shift(formula(before), formula(after))
    assert (None if moved is None else (moved.sign, moved.by)) == (None if sign is None else (sign, by))


def test_the_fixed_values_that_a_formula_chooses_among() -> None:
    assert choices(formula("1 if t.yes else 2 if a.x > 1 else 3")) == (1, 2, 3)
    assert choices(formula("2 + 2")) == (4,)
    assert choices(formula("1 if t.yes else a.x")) == ()


def test_every_shape_of_rule_can_be_compared() -> None:
    """Each formula means what it means itself, and moves in a way that can be told or not."""
    pack = load_edition(str(ROOT / "tests" / "pack" / "packs" / "language" / "rules.yaml"))
    found = [one for clause in pack.clauses.values() for check in clause.checks for one in formulas(check)]
    assert any("neighbours" in one.text for one in found)
    assert all(same_meaning(one, one) for one in found)
    for clause in pack.clauses.values():
        assert compare_checks(clause.check, clause.check) == SAME


def test_names_of_neighbours_do_not_matter_but_which_is_which_does() -> None:
    pack = pack_of(
        """
        "1": {check: {holds: "any(a.x > b.x for a, b in neighbours(rods, x))"}}
        "2": {check: {holds: "any(one.x > other.x for one, other in neighbours(rods, x))"}}
        "3": {check: {holds: "any(b.x > a.x for a, b in neighbours(rods, x))"}}
        """,
        "lists: {rods: {known_by: name, fields: {name: {type: text}, x: {unit: mm}}}}",
    )
    one, two, three = (next(formulas(clause.check)) for clause in pack.clauses.values())
    assert same_meaning(one, two)
    assert not same_meaning(one, three)
