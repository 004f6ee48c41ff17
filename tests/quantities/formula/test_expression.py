"""A formula that has been read: its text and names, the unit it is shown in, what it must be, and constants."""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.quantities.dimension import LENGTH, MASS
from checker.quantities.formula.compiling import (
    constant_number,
    constant_truth,
    constant_word,
    expect,
)
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.kind import DATE, NUMBER, PERCENT, TEXT, TRUTH, Kind, quantity
from tests.examples import each_row
from tests.quantities.formula.workshop import Scene, compiled, each, entry, let, pairs, runs


def unit(expression: Expression, scene: Scene | None = None, ranks: tuple[int, ...] = (0, 1, 2, 3)) -> str:
    found = expression.written_unit(scene or Scene(), ranks)
    return "" if found is None else found.name


# --- names with their places, to print a formula with numbers in place -------------------------------------------


def leaves(text: str, *scope: object) -> list[str]:
    found = compiled(text, *scope)  # type: ignore[arg-type]
    assert found.tree is not None
    for leaf in found.leaves:
        assert found.tree.text[leaf.start : leaf.end] == leaf.text
    return [leaf.text for leaf in found.leaves]


def test_the_names_in_a_formula() -> None:
    text = "  min(50 kg, 0.08 kg/cc *\n engine.capacity) + (driver.mass if engine.boosted else 3 kg)"
    assert leaves(text) == ["engine.capacity", "engine.boosted", "driver.mass"]
    assert leaves("car.class == 'ü' and car.number in harness.labels") == [
        "car.class",
        "car.number",
        "harness.labels",
    ]
    assert leaves("minimum(engine.capacity) + driver.mass") == ["engine.capacity", "driver.mass"]
    assert leaves("1 + 2 * pi") == []
    assert leaves("driver.mass - driver.mass") == ["driver.mass", "driver.mass"]
    assert leaves("1 kg < driver.mass < 3 kg") == ["driver.mass"]


def test_names_inside_a_for_have_no_one_value() -> None:
    assert leaves("sum(b.mass for b in ballast if b.mass > driver.mass) + driver.mass") == ["driver.mass"]
    assert leaves("count(ballast)") == []
    assert leaves("mean(brakes.pad)") == ["brakes.pad"]


def test_names_that_a_check_makes() -> None:
    assert leaves("mass * 2", each("ballast")) == ["mass"]
    assert leaves("a.mass - b.mass", pairs("ballast")) == ["a.mass", "b.mass"]
    assert leaves("last(run).mass", runs("ballast")) == []
    scope = let("row", "tyre(engine.position, true)", let("double", "driver.mass * 2"))
    assert leaves("double + driver.mass", scope) == ["double", "driver.mass"]
    assert leaves("row.width", scope) == ["row.width"]
    assert leaves("stated(a.label) or stated(b.class)", pairs("ballast")) == ["a.label", "b.class"]


def test_a_leaf_can_be_shown() -> None:
    (leaf,) = compiled("driver.mass * 2").leaves
    assert leaf.kind == quantity(MASS)
    assert leaf.run(Scene({"driver.mass": Fraction(80)})) == 80
    assert leaf.unit is not None
    assert leaf.unit.name == "kg"
    assert leaf.uses == {"driver.mass"}
    assert not leaf.local
    assert compiled("mass", each("ballast")).leaves[0].local
    (derived,) = compiled("double", let("double", "driver.mass * 2", unit="lb")).leaves
    assert derived.unit is not None
    assert derived.unit.name == "lb"
    (density,) = compiled("density", let("density", "driver.mass / engine.capacity")).leaves
    assert density.unit is None
    (pad,) = compiled("mean(brakes.pad)").leaves
    assert pad.unit is not None
    assert pad.unit.name == "mm"


# --- the unit a value is shown in --------------------------------------------------------------------------------


@each_row(
    ("text", "expected"),
    [
        ("12 lb", "lb"),
        ("0.08 kg/cc * engine.capacity + 12 lb", "lb"),
        ("driver.mass + 3 oz", "oz"),
        ("driver.mass", "kg"),
        ("driver.mass * 2", "kg"),
        ("10 % * engine.capacity", "cc"),
        ("50.0 %", "%"),
        ("percent(driver.mass / 3 kg)", ""),
        ("driver.mass / 3 lb", ""),
        ("1 lb 4 oz", "lb"),
        ("mean(brakes.pad)", "mm"),
        ("sum(b.mass for b in ballast)", "kg"),
        ("sum(b.mass - 3 oz for b in ballast)", "oz"),
        ("minimum(1300 cc)", "kg"),
        ("minimum(1600 cc)", "lb"),
        ("minimum(1600 cc) + 3 g", "g"),
        ("driver.mass + minimum(1600 cc)", "lb"),
        ("2 years", "years"),
        ("3 kg if engine.capacity > 3 cc else 4 lb", "kg"),
        ("body.width ** 2", ""),
        ("sqrt(body.width * body.height)", "mm"),
        ("hypot(3 in, 4 mm)", "in"),
        ("2026-03-01", ""),
    ],
)
def test_the_unit_written(text: str, expected: str) -> None:
    assert unit(compiled(text)) == expected


def test_the_unit_of_a_cell_is_that_of_the_row_found() -> None:
    found = compiled("minimum(engine.capacity)")
    assert unit(found, Scene({"engine.capacity": Fraction(10)})) == "kg"
    assert unit(found, Scene({"engine.capacity": Fraction(1500 * 1000)})) == "lb"
    assert unit(found, Scene()) == ""
    assert unit(found, Scene({"engine.capacity": Fraction(2000 * 1000)})) == ""
    row = let("row", "tyre(engine.position, true)")
    assert unit(compiled("row.width", row), Scene({"engine.position": "rear"})) == "in"


def test_the_unit_of_a_cell_inside_a_for_is_that_of_the_first_entry() -> None:
    found = compiled("sum(minimum(b.fixings * 1 cc) for b in ballast)")
    assert (
        unit(found, Scene(lists={"ballast": (entry(fixings=Fraction(1500)), entry(fixings=Fraction(1)))}))
        == "lb"
    )
    assert unit(found, Scene(lists={"ballast": ()})) == ""
    assert unit(found) == ""


def test_a_derived_value_has_its_own_unit_and_a_let_counts_as_written_in_its_place() -> None:
    assert unit(compiled("heavy", let("heavy", "driver.mass + 3 oz", unit="lb"))) == "lb"
    assert unit(compiled("heavy", let("heavy", "driver.mass + 3 oz", unit="lb")), ranks=(0, 1, 2)) == ""
    assert unit(compiled("heavy", let("heavy", "driver.mass + 3 oz"))) == "oz"
    assert unit(compiled("heavy + 2 g", let("heavy", "driver.mass", unit="lb"))) == "g"


def test_which_marks_count() -> None:
    found = compiled("driver.mass + 3 oz")
    assert unit(found, ranks=(2,)) == "kg"
    assert unit(found, ranks=(0,)) == "oz"
    assert unit(found, ranks=(1, 3)) == ""


# --- what a formula must be ---------------------------------------------------------------------------------------


@each_row(
    ("text", "wanted", "number"),
    [
        ("3 kg", quantity(LENGTH), 301),
        ("3", quantity(LENGTH), 301),
        ("3 kg", NUMBER, 301),
        ("3 %", NUMBER, 302),
        ("3", PERCENT, 302),
        ("'a'", NUMBER, 302),
        ("3", TRUTH, 303),
        ("brakes.pad", TRUTH, 303),
        ("brakes.pad", quantity(LENGTH), 304),
        ("ballast", NUMBER, 304),
        ("3", DATE, 302),
    ],
)
def test_an_expression_that_is_not_what_was_expected(text: str, wanted: Kind, number: int) -> None:
    with pytest.raises(FormulaError) as caught:
        expect(compiled(f"  {text} "), wanted, "`at_least`")
    (found,) = caught.value.problems
    assert found.number == number
    assert (found.start, found.end) == (2, 2 + len(text))
    assert found.message.startswith("`at_least` is ")


def test_an_expression_that_is_what_was_expected() -> None:
    expect(compiled("3 kg"), quantity(MASS), "")
    expect(compiled("true"), TRUTH, "")
    expect(compiled("'a'"), TEXT, "")
    expect(compiled("3 %"), PERCENT, "")
    expect(compiled("2026-03-01"), DATE, "")


def test_an_error_of_several_mistakes_reads_as_one_text() -> None:
    error = FormulaError(FormulaProblem(301, "one"), FormulaProblem(302, "two", 3, 4, "cure"))
    assert str(error) == "one; two"
    assert FormulaError().problems == ()


# --- constants ----------------------------------------------------------------------------------------------------


def test_constants_made_without_a_formula() -> None:
    assert constant_number(3).value == 3
    assert constant_number(Fraction(1, 2)).kind == NUMBER
    assert constant_truth(True).value is True
    assert constant_truth(False).text == "false"
    word = constant_word("B", Kind("grade", words=("C", "B")))
    assert (word.value, word.word, word.kind.name) == ("B", "B", "grade")
    for constant in (word, constant_number(3), constant_truth(True)):
        assert constant.constant
        assert constant.tree is None
        assert constant.leaves == ()
        assert not constant.follows_condition


def test_what_is_constant() -> None:
    assert compiled("3 kg * 2 + max(1 kg, 4 lb)").constant
    assert compiled("'a' in ['a', 'b'] and 2026-03-01 < 2026-03-02").constant
    assert compiled("'a'").word == "a"
    assert compiled("('a')").word == "a"
    assert compiled("car.number").word is None
    for text in (
        "driver.mass",
        "count(ballast)",
        "minimum(3 cc)",
        "stated(car.built)",
        "true or engine.boosted",
    ):
        assert not compiled(text).constant
    assert compiled("  3 kg ").text == "3 kg"


def test_a_formula_is_read_once_and_evaluated_often() -> None:
    found = compiled("driver.mass * 2 + sum(b.mass for b in ballast)")
    for mass in range(3):
        scene = Scene({"driver.mass": Fraction(mass)}, {"ballast": (entry(mass=Fraction(1)),)})
        assert found.evaluate(scene) == 2 * mass + 1
