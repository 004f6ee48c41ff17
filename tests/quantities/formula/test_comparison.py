"""Comparisons of magnitudes, days, words, grades and trees of words."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from checker.quantities.kind import TRUTH, Kind
from tests.examples import each_row
from tests.quantities.formula.workshop import (
    MATERIALS,
    SCOPE,
    Scene,
    absent,
    compiled,
    day,
    each,
    entry,
    let,
    problems,
    reasons,
    value,
    wrong,
)


@each_row(
    ("text", "expected"),
    [
        ("1 < 2", True),
        ("2 < 2", False),
        ("2 <= 2", True),
        ("3 > 2", True),
        ("2 >= 3", False),
        ("2 == 2.0", True),
        ("2 != 2.0", False),
        ("1 kg == 1000 g", True),
        ("1 in == 25.4 mm", True),
        ("1 lb > 453.59237 g", False),
        ("1 lb >= 453.59237 g", True),
        ("50 % == 0.5 * 100 %", True),
        ("12 months == 1 year", True),
        ("2026-03-01 < 2026-03-02", True),
        ("2026-03-01 == 2026-03-01", True),
        ("1 < 2 <= 2 < 3", True),
        ("1 < 2 < 2", False),
        ("1 kg < 2 kg != 3 kg", True),
        ("true == true", True),
        ("true != false", True),
        ("'a' == 'A'", True),
        ("'kill  switch' == 'Kill switch'", True),
        ("'a' != 'b'", True),
        ("(3) in [1, 3]", True),
        ("(3) not in [1, 3]", False),
        ("1 kg in [1 mm * 1 kg / 1 mm, 2 kg]", True),
        ("2026-03-01 in [2026-03-01, 2026-03-02]", True),
        ("true in [false]", False),
        ("'a' in ['b', 'A']", True),
        ("'a' in 'A'", True),
        ("'a' in 'ab'", False),
        ("50 % in [50 %]", True),
    ],
)
def test_a_comparison(text: str, expected: bool) -> None:
    found = compiled(text)
    assert found.kind == TRUTH
    assert found.value is expected


@each_row(
    ("text", "number", "at"),
    [
        ("1 kg < 2", 301, "1 kg < 2"),
        ("1 kg == 2 mm", 301, "1 kg == 2 mm"),
        ("80 dBA <= 80 dBC", 301, "80 dBA <= 80 dBC"),
        ("1 < 50 %", 302, "1 < 50 %"),
        ("30 days > 1 month", 302, "30 days > 1 month"),
        ("2026-03-01 > 3 days", 302, "2026-03-01 > 3 days"),
        ("car.built == '2026-03-01'", 302, "car.built == '2026-03-01'"),
        ("'a' == 1", 302, "'a' == 1"),
        ("true == 1", 302, "true == 1"),
        ("true < false", 302, "true < false"),
        ("'a' < 'b'", 302, "'a' < 'b'"),
        ("car.number >= '27'", 302, "car.number >= '27'"),
        ("brakes.pad == 3 mm", 304, "brakes.pad"),
        ("3 mm < brakes.pad", 304, "brakes.pad"),
        ("brakes.pad in [3 mm]", 304, "brakes.pad"),
        ("ballast == 3", 304, "ballast"),
        ("tyre('front', true) == 3", 302, "tyre('front', true)"),
        ("(3) in 3", 302, "3"),
        ("3 kg in 4 kg", 302, "4 kg"),
        ("(3) in [1 kg]", 301, "(3) in [1 kg]"),
        ("(3) in ['a']", 302, "(3) in ['a']"),
        ("'a' in [1]", 302, "'a' in [1]"),
        ("'a' in 3", 302, "'a' in 3"),
        ("(3) in brakes.pad", 301, "(3) in brakes.pad"),
        ("car.number in ballast", 304, "ballast"),
        ("1 < 2 < 3 kg", 301, "1 < 2 < 3 kg"),
    ],
)
def test_what_cannot_be_compared(text: str, number: int, at: str) -> None:
    assert wrong(text) == [(number, at)]


def test_hints_for_what_cannot_be_compared() -> None:
    assert "grades" in problems("car.number >= '27'")[0].hint
    assert "95 %" in problems("1 < 50 %")[0].hint
    assert "without quotes" in problems("car.built == '2026-03-01'")[0].hint
    assert "==" in problems("3 kg in 4 kg")[0].hint


def test_an_unknown_side_makes_a_comparison_unknown() -> None:
    assert absent(value("engine.cylinders > 4")) == ("engine.cylinders",)
    assert absent(value("driver.mass == driver.mass")) == ("driver.mass",)
    assert absent(value("engine.position != 'mid'")) == ("engine.position",)
    assert absent(value("4 not in [engine.cylinders]")) == ("engine.cylinders",)
    assert absent(value("'a' in harness.labels")) == ("harness.labels",)


def test_a_chain_is_false_as_soon_as_one_link_is() -> None:
    assert value("5 < 4 < engine.cylinders") is False
    assert value("engine.cylinders < 4 < 3") is False
    assert absent(value("3 < 4 < engine.cylinders")) == ("engine.cylinders",)
    assert value("3 kg < driver.mass <= 90 kg", driver__mass=Fraction(90)) is True


# --- words -----------------------------------------------------------------------------------------------------


def test_a_word_written_must_be_possible() -> None:
    assert wrong("engine.position == 'middle'") == [(204, "'middle'")]
    assert problems("engine.position == 'Mdi'")[0].hint == "Did you mean 'mid'?"
    assert wrong("'middle' == engine.position") == [(204, "'middle'")]
    assert wrong("engine.position in ['mid', 'back', 'top']") == [(204, "'back'"), (204, "'top'")]
    assert wrong("engine.position in 'back'") == [(204, "'back'")]
    assert wrong("engine.position != 'x' and engine.position == 'y'") == [(204, "'x'"), (204, "'y'")]
    assert value("engine.position == ' MID '", engine__position="mid") is True
    assert value("engine.position in ['mid', 'rear']", engine__position="front") is False


def test_words_of_two_facts_that_share_none_can_never_be_equal() -> None:
    scope = let("group", "'large' if engine.boosted else 'small'")
    assert wrong("group == engine.position", scope) == [(204, "engine.position")]
    assert (
        problems("group == engine.position", scope)[0].message
        == "'front', 'mid', 'rear' can never be meant here"
    )
    assert wrong("group == 'medium'", scope) == [(204, "'medium'")]
    shared = let("place", "'mid' if engine.boosted else 'nowhere'")
    assert (
        value("place == engine.position", scope=shared, engine__boosted=True, engine__position="mid") is True
    )


def test_free_text_is_compared_with_anything() -> None:
    assert value("car.number == '27'", car__number="27") is True
    assert value("car.number == engine.position", car__number="Mid", engine__position="mid") is True
    assert value("'B7' in harness.labels", harness__labels=("B6", "b7")) is True
    assert value("'B7' in harness.labels", harness__labels=()) is False
    assert value("car.number in harness.labels", harness__labels=("1",), car__number="2") is False


def test_grades_have_an_order() -> None:
    for grade, better in (("C", False), ("B", True), ("A", True)):
        assert value("harness.class >= 'B'", harness__class=grade) is better
        assert value("'b' <= harness.class", harness__class=grade) is better
        assert value("harness.class < 'B'", harness__class=grade) is not better
    assert value("harness.class in ['A', 'B']", harness__class="b") is True
    assert value("harness.class == 'a'", harness__class="A") is True
    assert wrong("harness.class > 'D'") == [(204, "'D'")]
    assert wrong("harness.class == 'D'") == [(204, "'D'")]
    assert wrong("harness.class in ['A', 'D']") == [(204, "'D'")]
    assert wrong("harness.class > harness.other") == [(302, "harness.class > harness.other")]
    assert wrong("harness.class == harness.other") == [(302, "harness.class == harness.other")]
    assert wrong("harness.class > car.number") == [(302, "harness.class > car.number")]
    assert wrong("harness.class == 3") == [(302, "harness.class == 3")]


# --- trees -----------------------------------------------------------------------------------------------------


@each_row(
    ("material", "family", "expected"),
    [
        ("steel", "steel", True),
        ("Steel", "STEEL", True),
        ("aluminium", "light metal", True),
        ("beryllium", "light metal", True),
        ("beryllium", "exotic", True),
        ("steel", "light metal", False),
        ("stele", "light metal", None),
    ],
)
def test_in_asks_for_what_a_word_belongs_to(material: str, family: str, expected: bool | None) -> None:
    found = value(f"seat.material in '{family}'", seat__material=material)
    denied = value(f"seat.material not in '{family}'", seat__material=material)
    if expected is None:
        told = f"'{material}' is no material that this pack knows; did you mean 'steel'?"
        assert reasons(found) == reasons(denied) == (told,)
    else:
        assert (found, denied) == (expected, not expected)


def test_a_list_of_families() -> None:
    text = "seat.material in ['steel', 'exotic']"
    assert value(text, seat__material="Beryllium") is True
    assert value(text, seat__material="aluminium") is False
    assert reasons(value(text, seat__material="stele"))
    assert wrong("seat.material in ['steel', 'wood']") == [(204, "'wood'")]
    assert wrong("seat.material == 'wood'") == [(204, "'wood'")]
    assert wrong("'wood' in seat.material") == [(204, "'wood'")]


def test_a_word_that_its_tree_does_not_know_is_equal_to_itself_only_and_else_unknown() -> None:
    assert value("seat.material == 'steel'", seat__material="STEEL") is True
    assert value("seat.material == 'steel'", seat__material="aluminium") is False
    assert reasons(value("seat.material == 'steel'", seat__material="stele"))
    assert reasons(value("seat.material != 'steel'", seat__material="stele"))
    assert value("seat.material == car.number", seat__material="stele", car__number="Stele") is True
    assert value("car.number in seat.material", seat__material="stele", car__number="Stele") is True
    assert reasons(value("'steel' in seat.material", seat__material="stele"))


def test_categories_are_paths() -> None:
    scope = each("components")
    for category, expected in (("brakes/disc", True), ("brakes", True), ("seat", False)):
        scene = Scene(names={"": entry(category=category)})
        assert value("category in 'brakes'", scene, scope) is expected
    assert wrong("category in 'brake'", scope) == [(204, "'brake'")]
    assert problems("category in 'brake'", scope)[0].hint == "Did you mean 'brakes'?"
    assert wrong("category == seat.material", scope) == [(302, "category == seat.material")]
    assert wrong("category in seat.material", scope) == [(302, "category in seat.material")]


def test_words_of_a_column() -> None:
    text = "car.number in tyre('front', engine.boosted).makers"
    assert value(text, car__number="brock", engine__boosted=True) is True
    assert value(text, car__number="brock", engine__boosted=False) is False
    assert wrong("'Cedar' in tyre('front', true).makers") == [(204, "'Cedar'")]
    assert wrong("engine.position in tyre('front', true).makers") == [(204, "tyre('front', true).makers")]
    assert wrong("seat.material in tyre('front', true).makers") == [(204, "tyre('front', true).makers")]


# --- roots and angles ------------------------------------------------------------------------------------------


@each_row(
    ("text", "expected"),
    [
        ("sqrt(2) * sqrt(2) == 2", True),
        ("sqrt(2) * sqrt(2) <= 2", True),
        ("sqrt(2) * sqrt(2) >= 2", True),
        ("sqrt(2) * sqrt(2) < 2", False),
        ("sqrt(2) * sqrt(2) > 2", False),
        ("sqrt(2) * sqrt(2) != 2", False),
        ("sqrt(2) * sqrt(2) in [1, 2]", True),
        ("2 in [sqrt(2) * sqrt(2)]", None),
        ("sqrt(2) < 1.4142135623730950488016888", False),
        ("sqrt(2) > 1.414213562373095048801", True),
        ("sqrt(4) == 2", True),
        ("sqrt(2) * sqrt(2) - 2 == 0", True),
        ("sqrt(2) * sqrt(2) - 2 < 0", False),
        ("-2 + sqrt(2) * sqrt(2) > 0", False),
        ("abs(sqrt(3) * sqrt(3) - 3) <= 0", True),
        ("sqrt(2) - 1.4142135623 > 0", True),
        ("hypot(3 mm, 4 mm) == 5 mm", True),
        ("tan(atan(3)) == 3", True),
        ("round_up(sqrt(2) * sqrt(2), 1) == 2", True),
        ("round_down(sqrt(2) * sqrt(2), 1) == 2", True),
        ("round_half_up(sqrt(2) * sqrt(2) / 4, 1) == 1", True),
        ("round_up(sqrt(2), 1) == 2", True),
    ],
)
def test_a_difference_below_10_to_the_minus_25_counts_as_none(text: str, expected: Any) -> None:
    if expected is None:
        assert wrong(text)[0][0] == 105  # 2 in: inches
        assert value(text.replace("2 in", "(2) in", 1)) is True
    else:
        assert value(text) is expected


def test_exact_numbers_are_compared_exactly() -> None:
    tiny = "0.0000000000000000000000000000000001"
    assert value(f"1 + {tiny} > 1") is True
    assert value(f"1 + {tiny} == 1") is False


def test_a_day_is_compared_with_a_day() -> None:
    assert value("car.built < 2021-01-01", car__built=day(2020, 12, 31)) is True
    assert (
        value("event.date - car.built <= 5 days", event__date=day(2026, 1, 6), car__built=day(2026, 1, 1))
        is True
    )


def test_trees_of_the_scope_are_used() -> None:
    assert SCOPE.trees["material"] is MATERIALS
    assert compiled("seat.material in 'exotic'").kind == TRUTH
    assert compiled("seat.material").kind == Kind("text", tree="material")
