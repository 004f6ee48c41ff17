"""Sums on paper: kinds, dimensions, days, percentages, and what is unknown or can never be worked out."""

from __future__ import annotations

from fractions import Fraction

from checker.quantities.dimension import LENGTH, MASS
from checker.quantities.kind import DATE, DAYS, MONTHS, NUMBER, PERCENT, Kind, quantity
from tests.examples import each_row
from tests.quantities.formula.workshop import (
    absent,
    compiled,
    day,
    each,
    let,
    problems,
    reasons,
    value,
    wrong,
)

KG = quantity(MASS)


@each_row(
    ("text", "kind", "expected"),
    [
        ("3 kg + 2 lb", KG, 3 + 2 * Fraction("0.45359237")),
        ("3 kg - 4 kg", KG, -1),
        ("3 kg * 2", KG, 6),
        ("2 * 3 kg", KG, 6),
        ("3 kg / 2", KG, Fraction(3, 2)),
        ("3 kg / 2 kg", NUMBER, Fraction(3, 2)),
        ("2 mm * 3 mm", quantity(LENGTH**2), 6),
        ("2 mm * 3 mm / 1 mm2", NUMBER, 6),
        ("6 / 2 mm", quantity(LENGTH**2 / LENGTH**3), 3),
        ("(2 mm) ** 3", quantity(LENGTH**3), 8),
        ("2 ** 4", NUMBER, 16),
        ("(6 mm / 3 mm) ** 2", NUMBER, 4),
        ("0.08 kg/cc * 1000 cc + 12 kg", KG, 92),
        ("50 % * 50 %", PERCENT, Fraction(1, 4)),
        ("50 % * 3", PERCENT, Fraction(3, 2)),
        ("3 * 50 %", PERCENT, Fraction(3, 2)),
        ("50 % * 3 kg", KG, Fraction(3, 2)),
        ("3 kg * 50 %", KG, Fraction(3, 2)),
        ("50 % / 25 %", NUMBER, 2),
        ("50 % / 2", PERCENT, Fraction(1, 4)),
        ("3 kg / 50 %", KG, 6),
        ("50 % + 3 %", PERCENT, Fraction(53, 100)),
        ("50 % - 53 %", PERCENT, Fraction(-3, 100)),
        ("3 days * 2", DAYS, 6),
        ("2 * 3 months", MONTHS, 6),
        ("2 years / 8", MONTHS, 3),
        ("3 days + 4 days", DAYS, 7),
        ("2 years - 1 month", MONTHS, 23),
        ("28 days / 7 days", NUMBER, 4),
        ("2026-03-01 + 30 days", DATE, day(2026, 3, 31)),
        ("30 days + 2026-03-01", DATE, day(2026, 3, 31)),
        ("2026-03-01 - 1 day", DATE, day(2026, 2, 28)),
        ("2024-02-29 + 1 year", DATE, day(2025, 2, 28)),
        ("2025-01-31 + 1 month", DATE, day(2025, 2, 28)),
        ("2025-03-31 - 1 month", DATE, day(2025, 2, 28)),
        ("2025-01-31 + 0.5 * 2 months", DATE, day(2025, 2, 28)),
        ("2026-03-01 - 2025-03-01", DAYS, 365),
        ("-3 kg", KG, -3),
        ("-(2 %)", PERCENT, Fraction(-1, 50)),
        ("- -3", NUMBER, 3),
        ("340 GBP - 20 GBP", quantity(compiled("1 GBP").kind.dimension), 320),
    ],
)
def test_an_operation(text: str, kind: Kind, expected: object) -> None:
    found = compiled(text)
    assert found.kind == kind
    assert found.value == expected
    assert not isinstance(found.value, float)


@each_row(
    ("text", "number", "at", "hint"),
    [
        ("3 kg + 2 mm", 301, "3 kg + 2 mm", ""),
        ("3 kg - 2", 301, "3 kg - 2", "give the number a unit"),
        ("3 mm + 2 mm * 2 mm", 301, "3 mm + 2 mm * 2 mm", ""),
        ("80 dBA - 80 dBC", 301, "80 dBA - 80 dBC", ""),
        ("3 + 50 %", 302, "3 + 50 %", "write the number as a percentage, as 95 %"),
        ("50 % - 3", 302, "50 % - 3", "95 %"),
        ("3 kg + 50 %", 302, "3 kg + 50 %", ""),
        ("3 days + 2 months", 302, "3 days + 2 months", "never compared or added"),
        ("2026-03-01 + 5", 302, "2026-03-01 + 5", "days, months or years"),
        ("2026-03-01 + 2026-03-01", 302, "2026-03-01 + 2026-03-01", ""),
        ("5 days - 2026-03-01", 302, "5 days - 2026-03-01", ""),
        ("2026-03-01 * 2", 302, "2026-03-01 * 2", ""),
        ("2026-03-01 + 3 kg", 302, "2026-03-01 + 3 kg", ""),
        ("-2026-03-01", 302, "-2026-03-01", ""),
        ("3 days * 2 days", 302, "3 days * 2 days", ""),
        ("50 % * 3 days", 302, "50 % * 3 days", ""),
        ("3 / 50 %", 302, "3 / 50 %", ""),
        ("3 / 2 days", 302, "3 / 2 days", ""),
        ("'a' + 'b'", 302, "'a' + 'b'", ""),
        ("-'a'", 302, "-'a'", ""),
        ("true + 1", 302, "true + 1", ""),
        ("-true", 302, "-true", ""),
        ("(50 %) ** 2", 302, "(50 %) ** 2", ""),
        ("(3 days) ** 2", 302, "(3 days) ** 2", ""),
        ("brakes.pad + 3 mm", 304, "brakes.pad", "of_several"),
        ("3 mm + brakes.pad", 304, "brakes.pad", "of_several"),
        ("-brakes.pad", 304, "brakes.pad", ""),
        ("ballast * 2", 304, "ballast", ""),
        ("brakes.pad ** 2", 304, "brakes.pad", ""),
        ("tyre('front', true) + 3 mm", 302, "tyre('front', true)", "columns"),
        ("1 / 0", 306, "0", ""),
        ("3 kg / (2 kg - 2 kg)", 306, "2 kg - 2 kg", ""),
        ("1 + 3 / (1 - 1.0) * 2", 306, "1 - 1.0", ""),
        ("1 / sin(180 deg)", 306, "sin(180 deg)", ""),
        ("1 / (sqrt(2) * sqrt(2) - 2)", 306, "sqrt(2) * sqrt(2) - 2", ""),
        ("2026-03-01 + 1.5 days", 106, "2026-03-01 + 1.5 days", ""),
        ("2026-03-01 + 3000 months", 106, "2026-03-01 + 3000 months", ""),
    ],
)
def test_kinds_that_do_not_go_together(text: str, number: int, at: str, hint: str) -> None:
    assert wrong(text) == [(number, at)]
    assert hint in problems(text)[0].hint


def test_mistakes_in_independent_parts_are_all_told() -> None:
    text = "max(3 kg + 2 mm, weigt.total, 1 / 0) > 3 or nobody"
    assert wrong(text) == [(301, "3 kg + 2 mm"), (201, "weigt.total"), (306, "0"), (201, "nobody")]


def test_messages_name_both_kinds() -> None:
    (found,) = problems("engine.capacity + body.width")
    assert found.message == "'engine.capacity + body.width': a volume and a length do not go together"


def test_what_is_made_from_an_unknown_is_unknown_and_names_all_that_is_absent() -> None:
    text = "driver.mass * engine.cylinders - driver.mass"
    assert absent(value(text)) == ("driver.mass", "engine.cylinders")
    assert absent(value(text, engine__cylinders=4)) == ("driver.mass",)
    assert absent(value("0 * engine.cylinders")) == ("engine.cylinders",)
    assert absent(value("-engine.cylinders")) == ("engine.cylinders",)
    assert absent(value("engine.cylinders ** 2")) == ("engine.cylinders",)
    assert absent(value("driver.born + 18 years")) == ("driver.born",)


def test_a_division_by_zero_is_unknown_and_says_so() -> None:
    text = "3 kg / (engine.cylinders - 4)"
    assert value(text, engine__cylinders=Fraction(5)) == 3
    assert reasons(value(text, engine__cylinders=Fraction(4))) == (
        "engine.cylinders - 4 is zero, and nothing can be divided by it",
    )


def test_a_day_that_cannot_be_reached_is_unknown() -> None:
    text = "driver.born + engine.cylinders * 1 month"
    assert value(text, driver__born=day(2000, 1, 31), engine__cylinders=Fraction(1)) == day(2000, 2, 29)
    told = value(text, driver__born=day(2000, 1, 31), engine__cylinders=Fraction(1, 2))
    assert reasons(told) == ("1/2 is not a whole number of months",)
    far = value(text, driver__born=day(2199, 1, 31), engine__cylinders=Fraction(12))
    assert "outside the years" in reasons(far)[0]


def test_powers_and_products_come_to_degree_16_at_most() -> None:
    assert value("((engine.cylinders ** 4) ** 2) ** 2", engine__cylinders=Fraction(2)) == 2**16
    assert wrong("(((engine.cylinders ** 4) ** 2) ** 2) ** 2")[0][0] == 105
    assert value("((10 ** 4) ** 2) ** 2") == 10**16
    assert wrong("((10 ** 4) ** 4) ** 4")[0][0] == 105
    assert wrong("(10 ** 4 * 3) ** 4 * engine.cylinders ** 4 * engine.cylinders ** 4")[0][0] == 105
    product = "*".join(["engine.cylinders"] * 17)
    assert wrong(product) == [(105, product)]
    assert value("*".join(["engine.cylinders"] * 16), engine__cylinders=Fraction(2)) == 2**16
    assert value("2 * 0.5 * " * 20 + "engine.cylinders", engine__cylinders=Fraction(3)) == 3


def test_powers_are_counted_through_the_names_used() -> None:
    scope = let("fourth", "engine.cylinders ** 4")
    assert value("fourth ** 4", scope=scope, engine__cylinders=Fraction(2)) == 2**16
    scope = let("sixteenth", "fourth ** 4", scope)
    assert wrong("sixteenth ** 2", scope) == [(105, "sixteenth ** 2")]
    assert wrong("sixteenth * fourth", scope) == [(105, "sixteenth * fourth")]
    assert value("sixteenth + fourth", scope=scope, engine__cylinders=Fraction(1)) == 2


def test_a_long_row_of_names_ends_in_a_problem_not_in_a_crash() -> None:
    scope = let("n0", "engine.cylinders + 1")
    for place in range(1, 25):
        scope = let(f"n{place}", f"-(-(-(-(n{place - 1} + 1))))", scope)
    assert value("n24 + 1", scope=scope, engine__cylinders=Fraction(1)) == 27
    (found,) = problems("abs(abs(-(-(-(-(-(-(n24))))))))", scope)
    assert found.number == 105
    assert "names" in found.message


def test_a_long_row_of_sums_and_products_is_taken_from_left_to_right() -> None:
    text = "1" + " - engine.cylinders + 2 * engine.cylinders" * 10
    assert compiled(text).height == compiled("1 - 2 * engine.cylinders").height
    assert value(text, engine__cylinders=Fraction(3)) == 31
    assert value("2 * engine.cylinders / 3 * 2 / 4", engine__cylinders=Fraction(3)) == 1


def test_a_field_of_the_entry_is_a_value_like_any_other() -> None:
    found = compiled("mass * fixings", each("ballast"))
    assert found.kind == KG
    assert found.locals == {""}
