"""The functions of the language, and tables."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from checker.quantities.dimension import ANGLE, LENGTH, MASS
from checker.quantities.formula.functions import FUNCTIONS
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.kind import DATE, DAYS, NUMBER, PERCENT, TRUTH, Kind, quantity
from tests.examples import each_row
from tests.quantities.formula.workshop import (
    Entry,
    Scene,
    absent,
    compiled,
    day,
    each,
    entry,
    let,
    pairs,
    problems,
    reasons,
    runs,
    value,
    wrong,
)


def test_the_functions_of_the_language() -> None:
    assert set(FUNCTIONS) == {
        *("min", "max", "abs", "round_half_up", "round_half_even", "round_up", "round_down"),
        *("sum", "mean", "count", "any", "all", "median", "count_different", "running_total", "neighbours"),
        *("first", "last", "nth", "nth_largest", "nth_smallest"),
        *("percent", "sqrt", "cbrt", "power", "lg", "hypot", "sin", "cos", "tan", "atan"),
        *(
            "end_of_month",
            "end_of_year",
            "year",
            "month",
            "day_of_month",
            "day",
            "time_of_day",
            "full_years",
            "stated",
            "matches",
        ),
    }


@each_row(
    ("text", "kind", "expected"),
    [
        ("min(3, 2, 4)", NUMBER, 2),
        ("max(3 kg, 7 lb)", quantity(MASS), 7 * Fraction("0.45359237")),
        ("max(50 %, 53 %)", PERCENT, Fraction(53, 100)),
        ("min(3 days, 2 days)", DAYS, 2),
        ("max(2026-03-01, 2026-04-01, 2025-01-01)", DATE, day(2026, 4, 1)),
        ("min(max(2026-03-01, 2026-04-01) + 1 month, 2026-12-31)", DATE, day(2026, 5, 1)),
        ("abs(-3 kg)", quantity(MASS), 3),
        ("abs(2026-03-01 - 2026-03-04)", DAYS, 3),
        ("round_half_up(2.5, 1)", NUMBER, 3),
        ("round_half_up(-2.5, 1)", NUMBER, -2),
        ("round_half_even(2.5, 1)", NUMBER, 2),
        ("round_half_even(3.5, 1)", NUMBER, 4),
        ("round_up(2.1, 1)", NUMBER, 3),
        ("round_up(-2.9, 1)", NUMBER, -2),
        ("round_down(2.9, 1)", NUMBER, 2),
        ("round_down(-2.1, 1)", NUMBER, -3),
        ("round_up(1300.2 cc, 1 cc)", quantity(LENGTH**3), 1301 * 1000),
        ("round_half_up(52.44 %, 0.1 %)", PERCENT, Fraction("0.524")),
        ("round_down(100 days, 7 days)", DAYS, 98),
        ("percent(3 kg / 4 kg)", PERCENT, Fraction(3, 4)),
        ("percent(2)", PERCENT, 2),
        ("sqrt(9)", NUMBER, 3),
        ("sqrt(9 mm2)", quantity(LENGTH), 3),
        ("hypot(3, 4)", NUMBER, 5),
        ("hypot(3 mm, 0.4 cm)", quantity(LENGTH), 5),
        ("sin(30 deg)", NUMBER, Fraction(1, 2)),
        ("cos(60 deg)", NUMBER, Fraction(1, 2)),
        ("tan(45 deg)", NUMBER, 1),
        ("atan(1)", quantity(ANGLE), 45),
        ("round_half_even(pi, 0.0001)", NUMBER, Fraction("3.1416")),
        ("end_of_month(2026-02-03)", DATE, day(2026, 2, 28)),
        ("end_of_year(2026-02-03)", DATE, day(2026, 12, 31)),
        ("end_of_month(2026-02-03 + 4 years)", DATE, day(2030, 2, 28)),
        ("year(2026-02-03)", NUMBER, 2026),
        ("day(2026, 12, 31)", DATE, day(2026, 12, 31)),
        ("day(year(2026-02-03), 1, 1)", DATE, day(2026, 1, 1)),
    ],
)
def test_a_function(text: str, kind: Kind, expected: Any) -> None:
    found = compiled(text)
    assert found.kind == kind
    assert found.value == expected
    assert not isinstance(found.value, float)


@each_row(
    ("text", "number", "at"),
    [
        # 305: how many
        ("abs()", 305, "abs()"),
        ("abs(1, 2)", 305, "abs(1, 2)"),
        ("min()", 305, "min()"),
        ("min(3 kg)", 305, "3 kg"),
        ("max(true)", 305, "true"),
        ("round_up(3)", 305, "round_up(3)"),
        ("round_up(3, 1, 2)", 305, "round_up(3, 1, 2)"),
        ("hypot(3)", 305, "hypot(3)"),
        ("sqrt(3, 4)", 305, "sqrt(3, 4)"),
        ("day(2026, 3)", 305, "day(2026, 3)"),
        ("year()", 305, "year()"),
        ("percent(1, 2)", 305, "percent(1, 2)"),
        ("stated()", 305, "stated()"),
        ("stated(engine.boosted, car.number)", 305, "stated(engine.boosted, car.number)"),
        ("first()", 305, "first()"),
        ("last(ballast, ballast)", 305, "last(ballast, ballast)"),
        ("sum()", 305, "sum()"),
        ("count(ballast, components)", 305, "count(ballast, components)"),
        ("minimum()", 305, "minimum()"),
        ("tyre('front')", 305, "tyre('front')"),
        # kinds
        ("min(3 kg, 2 mm)", 301, "min(3 kg, 2 mm)"),
        ("min(3, 2 %)", 302, "min(3, 2 %)"),
        ("min(3 days, 2 months)", 302, "min(3 days, 2 months)"),
        ("max('a', 'b')", 302, "max('a', 'b')"),
        ("max(true, false)", 302, "max(true, false)"),
        ("max(brakes.pad, 3 mm)", 304, "brakes.pad"),
        ("abs('a')", 302, "'a'"),
        ("abs(2026-03-01)", 302, "2026-03-01"),
        ("round_up('a', 1)", 302, "'a'"),
        ("round_up(3 kg, 1)", 301, "round_up(3 kg, 1)"),
        ("round_up(3 %, 1)", 302, "round_up(3 %, 1)"),
        ("round_up(3, 0)", 302, "0"),
        ("round_up(3 kg, -1 kg)", 302, "-1 kg"),
        ("percent(3 kg)", 302, "3 kg"),
        ("percent(3 %)", 302, "percent(3 %)"),
        ("sqrt(3 kg)", 301, "3 kg"),
        ("sqrt(3 %)", 302, "3 %"),
        ("sqrt(-4)", 302, "sqrt(-4)"),
        ("hypot(3, 4 mm)", 301, "hypot(3, 4 mm)"),
        ("hypot(3 %, 4 %)", 302, "3 %"),
        ("sin(30)", 301, "30"),
        ("sin('a')", 302, "'a'"),
        ("tan(90 deg)", 302, "tan(90 deg)"),
        ("atan(45 deg)", 301, "45 deg"),
        ("year(2026)", 302, "2026"),
        ("end_of_month(3 months)", 302, "3 months"),
        ("day(2026, 2 months, 1)", 302, "2 months"),
        ("day(2026, 2, 30)", 106, "day(2026, 2, 30)"),
        ("day(2026, 2.5, 1)", 106, "day(2026, 2.5, 1)"),
        ("day(-1, 2, 1)", 106, "day(-1, 2, 1)"),
        ("day(99999, 2, 1)", 106, "day(99999, 2, 1)"),
        ("first(3)", 302, "3"),
        ("first(car.number)", 302, "car.number"),
        ("abs(x)", 201, "x"),
        ("absolute(3)", 201, "absolute"),
        ("car(3)", 201, "car"),
    ],
)
def test_a_function_that_cannot_be_used(text: str, number: int, at: str) -> None:
    assert wrong(text) == [(number, at)]


def test_a_function_of_an_unknown_is_unknown() -> None:
    assert absent(value("max(3, engine.cylinders)")) == ("engine.cylinders",)
    assert absent(value("round_up(engine.cylinders, engine.cylinders)")) == ("engine.cylinders",)
    assert absent(value("year(car.built)")) == ("car.built",)
    assert absent(value("percent(engine.cylinders)")) == ("engine.cylinders",)


def test_what_a_function_cannot_do_for_one_car_is_unknown_with_the_reason() -> None:
    assert reasons(value("sqrt(engine.cylinders)", engine__cylinders=Fraction(-1)))
    assert reasons(value("round_up(3, engine.cylinders)", engine__cylinders=Fraction(0)))
    assert reasons(value("tan(engine.cylinders * 1 deg)", engine__cylinders=Fraction(90)))
    assert reasons(value("day(engine.cylinders, 2, 30)", engine__cylinders=Fraction(2026)))
    assert reasons(value("day(engine.cylinders, 2, 3)", engine__cylinders=Fraction(1, 2)))


def test_the_nearest_function_or_table_is_named() -> None:
    assert problems("roundup(3, 1)")[0].hint.startswith("Did you mean 'round_up'? Known: abs, ")
    assert problems("minimun(3 cc)")[0].hint.startswith("Did you mean 'minimum'?")
    assert wrong("sqrt + 1") == [(201, "sqrt")]
    assert wrong("minimum + 1") == [(201, "minimum")]
    assert "keys" in problems("minimum + 1")[0].message


def test_grades_have_a_best() -> None:
    text = "max(harness.class, 'B')"
    assert value(text, harness__class="C") == "B"
    assert value(text, harness__class="A") == "A"
    assert value("min('A', harness.class, 'B')", harness__class="c") == "c"
    assert wrong("max(harness.class, 'D')") == [(204, "'D'")]
    assert wrong("max(harness.class, harness.other)") == [(302, "max(harness.class, harness.other)")]


def test_roots_are_marked_as_carried_to_30_digits() -> None:
    for text in ("sqrt(2)", "hypot(1, 2)", "sin(1 deg)", "atan(3)", "pi", "2 * pi + 1", "max(pi, 3)"):
        assert compiled(text).irrational
    for text in ("2 + 3", "sqrt(2) > 1 and 2 > 1", "minimum(1300 cc)"):
        assert compiled(text).irrational is ("sqrt" in text)
    root = compiled("sqrt(2)").value
    assert isinstance(root, Fraction)
    assert abs(root * root - 2) < Fraction(1, 10**28)


# --- stated ----------------------------------------------------------------------------------------------------


def test_stated_looks_at_what_is_not_shown() -> None:
    assert compiled("stated(car.built)").kind == TRUTH
    assert not compiled("stated(car.built)").constant
    assert value("stated(car.built)") is False
    assert value("stated(car.built)", car__built=day(2020, 1, 1)) is True
    assert value("car.built if stated(car.built) else 2020-01-01") == day(2020, 1, 1)
    assert value("stated(car.class)", car__class="x") is True
    assert value("stated(brakes.pad)") is False


def test_stated_asks_for_fields_and_lists_too() -> None:
    scope = each("ballast")
    assert value("stated(mass)", Scene(names={"": entry(mass=1)}), scope) is True
    assert value("stated(mass)", Scene(names={"": entry(label="x")}), scope) is False
    assert value("stated(ballast)") is False
    assert value("stated(ballast)", Scene(lists={"ballast": ()})) is True
    two = Scene(lists={"ballast": (entry(mass=1), Entry({"class": "x"}))})
    assert value("any(stated(b.mass) for b in ballast)", two) is True
    assert value("all(stated(b.mass) for b in ballast)", two) is False
    assert value("count(b for b in ballast if stated(b.class))", two) == 1
    assert value("stated(last(ballast).mass)", two) is False
    named = Scene(names={"a": entry(mass=1), "b": entry()})
    assert value("stated(a.mass) and not stated(b.mass)", named, pairs("ballast")) is True


@each_row(
    ("text", "number", "at"),
    [
        ("stated(3)", 302, "3"),
        ("stated(car.built + 1 day)", 302, "car.built + 1 day"),
        ("stated(weight.total)", 302, "weight.total"),
        ("stated(doubled)", 302, "doubled"),
        ("stated(tyre('front', true).width)", 302, "tyre('front', true).width"),
        ("stated(nobody)", 201, "nobody"),
        ("stated(engine)", 201, "engine"),
    ],
)
def test_stated_asks_for_nothing_else(text: str, number: int, at: str) -> None:
    assert wrong(text, let("doubled", "engine.cylinders * 2")) == [(number, at)]


# --- first and last --------------------------------------------------------------------------------------------


def test_first_and_last_of_a_run() -> None:
    scope = runs("ballast")
    run = (entry(position=Fraction(100)), entry(position=Fraction(150)), entry(position=Fraction(300)))
    text = "last(run).position - first(run).position"
    assert value(text, Scene(names={"run": run}), scope) == 200
    found = compiled(text, scope)
    assert found.kind == quantity(LENGTH)
    assert found.locals == {"run"}
    assert "run" not in found.uses
    assert wrong("last(run).pos", scope) == [(205, "last(run).pos")]
    assert wrong("last(run)+ 3", scope) == [(302, "last(run)")]
    assert wrong("run.position", scope) == [(304, "run.position")]


def test_first_and_last_of_a_list() -> None:
    scene = Scene(lists={"ballast": (entry(label="x"), entry(label="y"))})
    assert value("first(ballast).label", scene) == "x"
    assert value("last(harness.labels)", harness__labels=("a", "b")) == "b"
    assert reasons(value("first(ballast).label", Scene(lists={"ballast": ()})))
    assert absent(value("first(ballast).label")) == ("ballast",)
    assert absent(value("first(ballast).mass", scene)) == ("ballast.mass",)


@each_row(
    ("text", "expected"),
    [
        ("cbrt(engine.cylinders)", 2),
        ("power(engine.cylinders, 2 / 3)", 4),
        ("power(engine.cylinders, 1/3) + lg(100)", 4),
        ("month(event.date)", 5),
        ("day_of_month(event.date)", 3),
        ("full_years(2010-05-03, event.date)", 16),
    ],
)
def test_powers_logarithms_and_parts_of_days(text: str, expected: int) -> None:
    assert value(text, engine__cylinders=Fraction(8), event__date=day(2026, 5, 3)) == expected


@each_row(
    ("text", "number", "place"),
    [
        ("cbrt(engine.capacity)", 301, "engine.capacity"),
        ("lg(event.date)", 302, "event.date"),
        ("power(2)", 305, "power(2)"),
        ("power(2, 3 %)", 302, "3 %"),
        ("lg(0)", 302, "lg(0)"),
        ("month(2)", 302, "2"),
        ("full_years(event.date)", 305, "full_years(event.date)"),
    ],
)
def test_what_they_do_not_take(text: str, number: int, place: str) -> None:
    assert wrong(text) == [(number, place)]


def test_what_has_no_value_for_a_car_is_unknown_with_its_reason() -> None:
    assert reasons(value("lg(engine.cylinders)", engine__cylinders=Fraction(0)))
    assert reasons(value("full_years(event.date, 2020-01-01)", event__date=day(2026, 5, 3)))


@each_row(
    ("text", "cure"),
    [
        ("lg(0)", "take the logarithm of what is above 0"),
        ("sqrt(-3)", "take the root of what is 0 or more"),
        ("min(3, sqrt(0 - 3))", "take the root of what is 0 or more"),
        ("power(0 - 2, 0.5)", "raise a number above 0, and not beyond what is said here"),
        ("power(2, 100)", "raise a number above 0, and not beyond what is said here"),
        ("tan(90 deg)", "write an angle below 90 deg"),
        ("day(2026, 2, 30)", "write a day that there is, as day(2026, 2, 28)"),
        ("day(2026,13,1)", "write a day that there is, as day(2026, 2, 28)"),
        ("2 ** 100", "power(..) goes to 64 at most"),
        ("median([])", "as in median(x.mass for x in ballast)"),
    ],
)
def test_what_can_never_have_a_value_is_told_a_cure(text: str, cure: str) -> None:
    (problem,) = problems(text)
    assert problem.hint == cure
    assert text[problem.start : problem.end] in text


def test_no_function_is_without_a_value_and_a_cure() -> None:
    told: list[FormulaProblem] = []
    for name in sorted(FUNCTIONS):
        for given in ("0", "-1", "-1, 0.5", "0, -1", "2026, 2, 30", "90 deg", "2, 65"):
            try:
                compiled(f"{name}({given})")
            except FormulaError as error:
                told += [one for one in error.problems if "has no value" in one.message]
    assert len(told) > 5
    assert all(one.hint for one in told)
