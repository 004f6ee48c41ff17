"""True, false and unknown: and, or, not, if, and lists written out."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from checker.quantities.dimension import LENGTH, MASS
from checker.quantities.kind import NUMBER, TEXT, TRUTH, Kind, Unknown, quantity
from tests.examples import each_row
from tests.quantities.formula.workshop import absent, compiled, day, each, problems, value, wrong

THREE = (True, False, None)


def of(found: Any) -> Any:
    return None if isinstance(found, Unknown) else found


def scene_values(a: bool | None, b: bool | None) -> dict[str, Any]:
    """engine.boosted is a, and the work of the lamps, taken by `all`, is b."""
    given: dict[str, Any] = {} if a is None else {"engine__boosted": a}
    return given if b is None else {**given, "lamps__work": (b,)}


@pytest.mark.parametrize("a", THREE)
@pytest.mark.parametrize("b", THREE)
def test_three_valued_logic(a: bool | None, b: bool | None) -> None:
    given = scene_values(a, b)
    both = False if a is False or b is False else None if a is None or b is None else True
    either = True if a is True or b is True else None if a is None or b is None else False
    assert of(value("engine.boosted and all(lamps.work)", **given)) is both
    assert of(value("all(lamps.work) and engine.boosted", **given)) is both
    assert of(value("engine.boosted or all(lamps.work)", **given)) is either
    assert of(value("not engine.boosted", **given)) is (None if a is None else not a)


def test_what_is_absent_and_would_settle_it_is_named() -> None:
    assert absent(value("engine.boosted or engine.cylinders > 4")) == ("engine.boosted", "engine.cylinders")
    assert absent(value("engine.boosted or engine.cylinders > 4", engine__cylinders=3)) == ("engine.boosted",)
    assert absent(value("not (engine.boosted and true)")) == ("engine.boosted",)


def test_true_and_false_are_names_of_values() -> None:
    assert compiled("true").value is True
    assert compiled("false").value is False
    assert value("engine.boosted == true", engine__boosted=True) is True
    assert value("engine.boosted != true", engine__boosted=True) is False
    assert wrong("True") == [(201, "True")]
    assert problems("True and engine.boosted")[0].hint == "write true"
    assert wrong("None") == [(201, "None")]


@each_row(
    ("text", "at"),
    [
        ("3 and true", "3"),
        ("true or 'a'", "'a'"),
        ("not 3 kg", "3 kg"),
        ("1 if 3 else 2", "3"),
        ("1 if engine.capacity else 2", "engine.capacity"),
        ("true and 2026-03-01", "2026-03-01"),
        ("true and (1 if true else 2)", "1 if true else 2"),
    ],
)
def test_a_truth_is_expected(text: str, at: str) -> None:
    assert wrong(text) == [(303, at)]


def test_a_list_is_no_truth() -> None:
    assert wrong("lamps.work and true") == [(304, "lamps.work")]
    assert wrong("3 and 4 or ballast") == [(303, "3"), (303, "4"), (304, "ballast")]


def test_a_choice() -> None:
    text = "12 kg if engine.boosted else 5 lb"
    assert compiled(text).kind == quantity(MASS)
    assert value(text, engine__boosted=True) == 12
    assert value(text, engine__boosted=False) == 5 * Fraction("0.45359237")
    assert absent(value(text)) == ("engine.boosted",)


def test_a_choice_is_plain_when_an_unknown_condition_cannot_change_it() -> None:
    assert value("1000 g if engine.boosted else 1 kg") == 1
    assert value("engine.cylinders if engine.boosted else 4", engine__cylinders=Fraction(4)) == 4
    assert absent(value("engine.cylinders if engine.boosted else 4")) == (
        "engine.boosted",
        "engine.cylinders",
    )
    assert value("'A  b' if engine.boosted else 'a B'") == "A  b"
    assert value("sqrt(2) * sqrt(2) if engine.boosted else 2") == pytest.approx(2)
    assert value("true if engine.boosted else true") is True
    assert absent(value("driver.born if engine.boosted else driver.born")) == (
        "engine.boosted",
        "driver.born",
    )


def test_only_the_side_chosen_must_be_known() -> None:
    assert value("engine.cylinders if engine.boosted else 4", engine__boosted=False) == 4
    assert absent(value("engine.cylinders if engine.boosted else 4", engine__boosted=True)) == (
        "engine.cylinders",
    )


@each_row(
    ("text", "number"),
    [
        ("1 if true else 1 kg", 301),
        ("1 mm if true else 1 kg", 301),
        ("1 if true else 1 %", 302),
        ("1 if true else 'a'", 302),
        ("2026-03-01 if true else 3 days", 302),
        ("3 days if true else 3 months", 302),
        ("true if true else 1", 302),
        ("brakes.pad if true else 3 mm", 304),
        ("brakes.pad if true else harness.labels", 304),
        ("ballast if true else components", 302),
        ("harness.class if true else harness.other", 302),
        ("tyre('front', true) if true else 3 mm", 302),
        ("[harness.class] if true else [harness.other]", 304),
        ("[1] if true else ['a']", 304),
    ],
)
def test_both_sides_of_a_choice_are_of_one_kind(text: str, number: int) -> None:
    assert wrong(text) == [(number, text)]


def test_words_chosen_from_are_the_possible_words() -> None:
    found = compiled("'large' if engine.capacity > 1450 cc else 'small'")
    assert found.kind == Kind("text", words=("large", "small"))
    assert compiled("engine.position if engine.boosted else 'none'").kind.words == (
        "front",
        "mid",
        "rear",
        "none",
    )
    assert compiled("car.number if engine.boosted else 'none'").kind == TEXT
    assert compiled("'steel' if engine.boosted else seat.material").kind == Kind("text", tree="material")
    assert wrong("'steal' if engine.boosted else seat.material") == [(204, "'steal'")]
    assert wrong("seat.material if engine.boosted else 'steal'") == [(204, "'steal'")]


def test_words_of_two_trees_are_not_chosen_from() -> None:
    text = "category if engine.boosted else seat.material"
    assert wrong(text, each("components")) == [(302, text)]


def test_a_text_beside_a_grade_is_that_grade() -> None:
    assert compiled("'a' if engine.boosted else harness.class").kind.name == "grade"
    assert wrong("harness.class if engine.boosted else 'D'") == [(204, "'D'")]
    assert wrong("harness.class if engine.boosted else car.number")[0][0] == 302


def test_rows_and_entries_of_one_table_can_be_chosen_from() -> None:
    found = compiled("tyre('front', true) if engine.boosted else tyre('rear', true)")
    assert found.kind == Kind("row", items="tyre")


def test_a_list_written_out() -> None:
    assert compiled("[1 kg, 2 lb]").kind == quantity(MASS).listed()
    assert value("[1, engine.cylinders]", engine__cylinders=Fraction(4)) == (1, 4)
    assert absent(value("[1, engine.cylinders]")) == ("engine.cylinders",)
    assert compiled("[1, 2 / 4]").kind == NUMBER.listed()
    assert compiled("['a', 'b']").kind == Kind("text", words=("a", "b")).listed()
    assert compiled("[true, 1 > 2]").kind == TRUTH.listed()
    assert value("[2026-03-01]") == (day(2026, 3, 1),)


@each_row(
    ("text", "number", "at"),
    [
        ("[]", 302, "[]"),
        ("1 not in []", 302, "[]"),
        ("[1, 'a']", 302, "[1, 'a']"),
        ("[1 kg, 1 mm]", 301, "[1 kg, 1 mm]"),
        ("[1, [2]]", 304, "[2]"),
        ("[brakes.pad]", 304, "brakes.pad"),
        ("[ballast]", 304, "ballast"),
        ("[nobody, 1 kg + 1 mm]", 201, "nobody"),
    ],
)
def test_a_list_has_values_of_one_kind(text: str, number: int, at: str) -> None:
    assert wrong(text)[0] == (number, at)


def test_lists_can_be_chosen_from() -> None:
    text = "engine.cylinders in ([2, 3] if engine.boosted else [3])"
    assert value(text, engine__cylinders=Fraction(3), engine__boosted=True) is True
    assert absent(value(text, engine__cylinders=Fraction(3))) == ("engine.boosted",)
    same = "'a' in (['a', 'B'] if engine.boosted else ['A', 'b'])"
    assert value(same) is True
    assert compiled("brakes.pad if engine.boosted else [3 mm]").kind == quantity(LENGTH).listed()
