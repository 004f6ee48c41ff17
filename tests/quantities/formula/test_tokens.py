"""What stands in a formula before Python's parser sees it: numbers, units, days, names, texts, and what is refused."""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.quantities.formula.scope import Binding
from checker.quantities.formula.tokens import prepare
from checker.quantities.kind import DATE, DAYS, MONTHS, NUMBER, PERCENT
from tests.examples import each_row
from tests.quantities.formula.workshop import SCOPE, Scene, compiled, day, entry, fact, problems, value, wrong


def refused(text: str) -> tuple[int, str]:
    """The one mistake in a formula: its number, and the text that stands at its place."""
    (only,) = wrong(text)
    return only


# --- places ----------------------------------------------------------------------------------------------------


@each_row(
    ("text", "code"),
    [
        ("1 lb 4 oz", "_________"),
        ("12 + 3", "12 + 3"),
        ("0.5", "___"),
        ("5/8 + 1", "5/8 + 1"),
        ("5/8 in + 1 kg", "______ + ____"),
        ("1 1/2", "_____"),
        ("2026-03-01", "__________"),
        ("car.class + from", "car._____ + ____"),
        ("a in 'é ß'", "a in '___'"),
        ('"mid"', "'___'"),
        ("a\n\t+ b", "a  + b"),
    ],
)
def test_columns_stay_as_they_are_written(text: str, code: str) -> None:
    prepared = prepare(text, "GBP")
    assert prepared.code == code
    assert len(prepared.code) == len(text)
    assert prepared.code.isascii()


def test_places_after_letters_of_other_scripts_and_after_line_breaks() -> None:
    assert wrong("car.number == 'Größe ☃' and weigt.total > 3 kg") == [(201, "weigt.total")]
    assert wrong("\n  car.number == 'ж'\r\n and body.width > 3 kg ") == [(301, "body.width > 3 kg")]
    (found,) = problems("  '💥' == car.number or engine.boosted + 1 == 2")
    assert (found.start, found.end) == (23, 41)
    assert "  '💥' == car.number or engine.boosted + 1 == 2"[23:41] == "engine.boosted + 1"


def test_line_breaks_are_blanks_also_inside_quotes() -> None:
    assert value("1\n+\r\n2\t*3") == 7
    assert value("'a\nb' == 'a b'") is True


# --- numbers, units, days --------------------------------------------------------------------------------------


@each_row(
    ("text", "expected"),
    [
        ("12", 12),
        ("0.5", Fraction(1, 2)),
        ("1 1/2", Fraction(3, 2)),
        ("5/8", Fraction(5, 8)),
        ("100/5/4", 5),
        ("2*5/8", Fraction(5, 4)),
        ("612 kg", 612),
        ("612kg", 612),
        ("1 lb 4 oz", Fraction("0.45359237") * Fraction(5, 4)),
        ("5/8 in", Fraction("15.875")),
        ("5/8in", Fraction("15.875")),
        ("1 1/2 in", Fraction("38.1")),
        ("1 1/2 inch", Fraction("38.1")),
        ("5 ft 10 1/4 in", Fraction("1784.35")),
        ("53.0 %", Fraction(53, 100)),
        ("53%", Fraction(53, 100)),
        ("3 %", Fraction(3, 100)),
        ("0.745 kg/L", Fraction("0.745") / 10**6),
        ("340 GBP", 340),
        ("340.50 GBP / 2", Fraction("170.25")),
        ("18 months", 18),
        ("2 years", 24),
        ("30 days", 30),
        ("1 day", 1),
        ("6 L/2", 3 * 10**6),
        ("-3 kg", -3),
        ("90 min / 1 min", 90),
    ],
)
def test_a_literal_is_exact(text: str, expected: Fraction) -> None:
    found = compiled(text)
    assert found.constant
    assert found.value == expected
    assert isinstance(found.value, Fraction)


def test_the_kinds_of_literals() -> None:
    kinds = {"3": NUMBER, "3 %": PERCENT, "3 days": DAYS, "3 years": MONTHS, "2026-03-01": DATE}
    assert {text: compiled(text).kind for text in kinds} == kinds


def test_a_day() -> None:
    assert compiled("2026-03-01").value == day(2026, 3, 1)
    assert compiled("2024-02-29").value == day(2024, 2, 29)
    assert value("2026-03-01 - 2026-02-27") == 2
    assert value("2026 - 3 - 1") == 2022


@each_row(
    ("text", "number", "at"),
    [
        ("2026-02-29", 106, "2026-02-29"),
        ("2026-13-01", 106, "2026-13-01"),
        ("1 + 1026-12-01", 106, "1026-12-01"),
        ("2026-03-01x", 103, "03"),
        ("2026-10-10x", 104, "x"),
        ("2026-3-1 + x", 201, "x"),
        ("3 kgs", 104, "kgs"),
        ("3 Kg", 104, "Kg"),
        ("3 kg/l", 201, "l"),
        ("3 EUR", 104, "EUR"),
        ("3 x", 104, "x"),
        ("3 is", 104, "is"),
        ("1e3", 103, "1e3"),
        ("1e3 kg", 103, "1e3 kg"),
        ("1_000", 103, "1_000"),
        ("1,000 kg", 103, "000"),
        ("1,500 kg", 105, "1,500"),
        ("1 000 kg", 107, "1 000"),
        ("12 13", 107, "12 13"),
        ("3 kg 4", 107, "3 kg 4"),
        ("3 kg 4 mm", 107, "3 kg 4 mm"),
        ("4 oz 1 lb", 107, "4 oz 1 lb"),
        ("5 ft 2026-03-01", 107, "5 ft 2026"),
        ("2026-03-01 4", 107, "2026-03-01 4"),
        ("007", 103, "007"),
        ("0x10", 104, "x10"),
        ("1j", 104, "j"),
        ("1.", 103, "1."),
        ("1.kg", 103, "1.kg"),
        ("1.2.3", 103, "1.2."),
        (".5", 103, ".5"),
        ("1 + .5 kg", 103, ".5 kg"),
        ("engine.5", 103, ".5"),
        ("5if engine.boosted else 3", 103, "5if"),
        ("3 if engine.boosted else 4or 5", 103, "4or"),
        ("53.0%and true", 103, "53.0%and"),
        ("5/0 in", 103, "5/0"),
        ("% 5", 105, "%"),
        ("engine.cylinders % 5", 105, "%"),
        ("9" * 41, 103, "9" * 41),
    ],
)
def test_a_number_that_cannot_be_read(text: str, number: int, at: str) -> None:
    assert refused(text) == (number, at)


def test_in_right_after_a_number_is_always_inches() -> None:
    assert value("3 in") == Fraction("76.2")
    assert value("(3) in [3, 4]") is True
    assert value("3 in + 1 in in [4 in]") is True
    assert value("engine.cylinders in [3, 4]", engine__cylinders=Fraction(4)) is True
    assert value("3 not in [4, 5]") is True


def test_words_that_end_a_number() -> None:
    assert value("3 if true else 4") == 3
    assert value("1 > 2 or 3 > 2 and 4 > 3") is True
    assert value("3 if not 1 == 2 else 4") == 3


# --- names -----------------------------------------------------------------------------------------------------


def test_words_that_python_reserves_are_ordinary_names() -> None:
    assert value("car.class == 'B'", car__class="b") is True
    assert value("car . class == 'B'", car__class="b") is True
    scope = SCOPE.having(
        {"from": Binding(NUMBER, lambda _: Fraction(3)), "pass.time": fact("pass.time", NUMBER)}
    )
    assert value("from + pass.time", scope=scope, pass__time=Fraction(4)) == 7
    ballast = Scene(lists={"ballast": (entry(mass=Fraction(2)),)})
    assert value("sum(is.mass for is in ballast if is . mass > 1 kg)", ballast) == 2
    for name in ("from", "pass", "is", "lambda", "None", "async", "yield", "import"):
        assert refused(f"1 + {name}") == (201, name)
        assert refused(f"car.{name}x") == (201, f"car.{name}x")


@pytest.mark.parametrize("text", ["_", "___ + 1", "car.__", "sum(_ for _ in ballast)"])
def test_a_name_is_not_made_of_underscores_only(text: str) -> None:
    number, at = refused(text)
    assert number == 105
    assert set(at) == {"_"}


# --- what is refused before parsing ----------------------------------------------------------------------------


@each_row(
    ("text", "number", "at"),
    [
        ("", 103, ""),
        (" \n ", 103, " \n "),
        ("1 # one", 105, "#"),
        ("1 \\\n + 2", 105, "\\"),
        ("'a\\'b'", 105, "\\"),
        ("'a' 'b'", 103, "'b'"),
        ("'a''b'", 103, "'b'"),
        ("'''a'''", 103, "'a'"),
        ("'a' == 'b", 103, "'b"),
        ('"a', 103, '"a'),
        ("f'{x}'", 103, "f'"),
        ("b'x' == b", 103, "b'"),
        ("1; 2", 105, ";"),
        ("x := 3", 105, ":="),
        ("lambda: 3", 105, ":"),
        ("{1}", 105, "{1}"),
        ("a @ b", 105, "@"),
        ("a ^ 2", 105, "^"),
        ("~1", 105, "~"),
        ("`a`", 105, "`a`"),
        ("$1", 105, "$1"),
        ("1 = 2", 103, "="),
        ("max(x=1, y=2)", 103, "="),
        ("1 => 2", 103, "=>"),
        ("! true", 105, "!"),
        ("true && false", 105, "&&"),
        ("\0", 103, "\0"),
        ("1 + 1\0", 103, "\0"),
        ("'\0'", 105, "\0"),
        ("'\ud800'", 105, "\ud800"),
        ("\ud800", 103, "\ud800"),
        ("'a\x1bb'", 105, "\x1b"),
        ("1 \u00d7 2", 103, "\u00d7"),
        ("1 \u2264 2", 103, "\u2264"),
        ("1\u00a0+ 2", 103, "\u00a0"),
        ("\u2018a\u2019", 103, "\u2018a\u2019"),
        ("wei\u0433ht.total", 103, "\u0433"),
        ("\u0430 + 1", 103, "\u0430"),
        ("\uff11 + 1", 103, "\uff11"),
        ("1\u0661", 103, "\u0661"),
        ("\x0c1", 103, "\x0c"),
        ("(1", 103, "("),
        ("min((1, 2)", 103, "("),
        ("1)", 103, ")"),
        ("(1]", 103, "]"),
        ("[1, (2])", 103, "]"),
    ],
)
def test_refused_with_its_place(text: str, number: int, at: str) -> None:
    assert refused(text) == (number, at)


def test_what_is_refused_comes_with_its_cure() -> None:
    def hint(text: str) -> str:
        return problems(text)[0].hint

    assert hint("1 = 2") == "to compare write =="
    assert hint("1 \u2264 2") == "write <="
    assert hint("1 \u00d7 2") == "write *"
    assert hint("\u2018a\u2019") == "write 'a'"
    assert hint("1 ^ 2") == "write ** for a power"
    assert hint("true & true") == "write and"
    assert "YAML" in hint("1 # one")
    assert "blank" in hint("1\u00a0+ 2")
    assert "0.5" in hint(".5")


def test_a_formula_has_at_most_500_characters_without_the_blanks_around_it() -> None:
    longest = "1" + "+1" * 249
    assert len(longest) == 499
    assert value(f"   {longest}  ") == 250
    assert value("\n" * 600 + "1") == 1
    too_long = "1" + "+1" * 250
    assert refused(too_long) == (103, too_long)


def test_brackets_are_nested_at_most_20_deep() -> None:
    assert value("(" * 20 + "7" + ")" * 20) == 7
    (found,) = problems("(" * 21 + "7" + ")" * 21)
    assert (found.number, found.start, found.end) == (105, 20, 21)
