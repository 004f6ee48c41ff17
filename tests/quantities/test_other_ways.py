"""What people write elsewhere for an amount, a day or a formula: told is what to write, and that is accepted and means it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.scope import Scope
from checker.quantities.literal import parse_literal
from checker.quantities.misread import LiteralError
from tests.examples import each_row

SCOPE = Scope(currency="GBP")


def problem_of(formula: str) -> FormulaProblem | None:
    try:
        compile_formula(formula, SCOPE)
    except FormulaError as error:
        return error.problems[0]
    return None


def told(hint: str) -> Iterator[str]:
    """What a cure says to write: all behind "write", else the part before an explanation."""
    found = re.search(r"(?:^|\b)write (.*)", hint)
    assert found is not None, f"nothing to write is told: {hint!r}"
    if found[1].startswith("a comma"):
        yield ","
    yield found[1]
    for end in re.finditer(r", or | or |: |, |; | without | for ", found[1]):
        yield found[1][: end.start()]


def cured(formula: str, most: int = 3) -> str:
    """The formula with what its cures say, one after the other, until it is accepted."""
    problem = problem_of(formula)
    assert problem is not None, f"{formula} is read"
    made = [f"{formula[: problem.start]} {one} {formula[problem.end :]}" for one in told(problem.hint)]
    for written in made:
        if problem_of(written) is None:
            return written
    for written in made if most > 1 else ():
        try:
            return cured(written, most - 1)
        except AssertionError:
            continue
    raise AssertionError(
        f"{formula} [{formula[problem.start : problem.end]}] {problem.message}: {problem.hint}"
    )


@each_row(
    ("formula", "means"),
    [
        # days
        ("2026-2-3 < 2026-03-01", "2026-02-03 < 2026-03-01"),
        ("2026/02/03 < 2026-03-01", "2026-02-03 < 2026-03-01"),
        ("2026.02.03 < 2026-03-01", "2026-02-03 < 2026-03-01"),
        ("2026-03-01 > 1.2.2026", "2026-03-01 > 2026-02-01"),
        ("01/02/2026 < 2026-03-01", "2026-02-01 < 2026-03-01"),
        ("1-2-2026 < 2026-03-01", "2026-02-01 < 2026-03-01"),
        ("02/25/2026 < 2026-03-01", "2026-02-25 < 2026-03-01"),
        ("1 May 2026 < 2026-03-01", "2026-05-01 < 2026-03-01"),
        ("1st May 2026 < 2026-03-01", "2026-05-01 < 2026-03-01"),
        ("May 1, 2026 < 2026-03-01", "2026-05-01 < 2026-03-01"),
        ("Sept 2, 2026 < 2026-03-01", "2026-09-02 < 2026-03-01"),
        ("20260501 > 2026-01-01", "2026-05-01 > 2026-01-01"),
        ("2026-05-01T14:00 > 2026-01-01 10:00", "2026-05-01 14:00 > 2026-01-01 10:00"),
        ("2026-05-01 14:00:00 > 2026-01-01 10:00", "2026-05-01 14:00 > 2026-01-01 10:00"),
        ("2026-05-01 14.30 > 2026-01-01 10:00", "2026-05-01 14:30 > 2026-01-01 10:00"),
        ("2026-05-01 2pm > 2026-01-01 10:00", "2026-05-01 14:00 > 2026-01-01 10:00"),
        ("2026-05-01 12:15 a.m. > 2026-01-01 10:00", "2026-05-01 00:15 > 2026-01-01 10:00"),
        ("10:30 > 3 h", "10 h 30 min > 3 h"),
        ("2 h > 1h30", "2 h > 1 h 30 min"),
        # feet, inches and other compounds
        ("5' > 3 ft", "5 ft > 3 ft"),
        ('5" > 3 in', "5 in > 3 in"),
        ("5'10\" > 3 ft", "5 ft 10 in > 3 ft"),
        ("5' 10 1/2\" > 3 ft", "5 ft 10 1/2 in > 3 ft"),
        ('5 ft 10" > 3 ft', "5 ft 10 in > 3 ft"),
        ('1/2" > 1 mm', "1/2 in > 1 mm"),
        ('1 1/2" > 1 mm', "1 1/2 in > 1 mm"),
        ("(5') > 3'", "(5 ft) > 3 ft"),
        ("5′ 10″ > 3 ft", "5 ft 10 in > 3 ft"),
        ("1-1/2 in > 1 mm", "1 1/2 in > 1 mm"),
        ("1½ in > 30 mm", "1 1/2 in > 30 mm"),
        ("½ in > 12.7 mm", "1/2 in > 12.7 mm"),
        ("5ft3in > 2 ft", "5 ft 3 in > 2 ft"),
        ("3 kg. > 2 kg", "3 kg > 2 kg"),
        ("2 kg < 3 lb. + 1 kg", "2 kg < 3 lb + 1 kg"),
        ("5 in. > 3 in", "5 in > 3 in"),
        # units
        ("3 m² > 2 m2", "3 m2 > 2 m2"),
        ("3 cm³ > 2 cm3", "3 cm3 > 2 cm3"),
        ("3 m^2 > 2 m2", "3 m2 > 2 m2"),
        ("3 m**2 > 2 m2", "3 m2 > 2 m2"),
        ("3 m/s^2 > 2 m/s2", "3 m/s2 > 2 m/s2"),
        ("3 m/s² > 2 m/s2", "3 m/s2 > 2 m/s2"),
        ("3 sq m > 2 m2", "3 m2 > 2 m2"),
        ("3 square metres > 2 m2", "3 m2 > 2 m2"),
        ("3 cubic inches > 2 in3", "3 in3 > 2 in3"),
        ("3 cu in > 2 in3", "3 in3 > 2 in3"),
        ("3 kg per m > 2 kg/m", "3 kg/m > 2 kg/m"),
        ("3 kg per metre > 2 kg/m", "3 kg/m > 2 kg/m"),
        ("3 kg / litre > 2 kg/L", "3 kg/L > 2 kg/L"),
        ("20 °C > 3 degC", "20 degC > 3 degC"),
        ("68°F > 3 degC", "68 degF > 3 degC"),
        ("90° > 3 deg", "90 deg > 3 deg"),
        ("20 deg C > 3 degC", "20 degC > 3 degC"),
        ("10 µm > 1 mm", "0.01 mm > 1 mm"),
        ("10 um > 1 mm", "0.01 mm > 1 mm"),
        # money
        ("£5 > 3 GBP", "5 GBP > 3 GBP"),
        ("5£ > 3 GBP", "5 GBP > 3 GBP"),
        ("5.50 £ > 3 GBP", "5.50 GBP > 3 GBP"),
        ("$5 > 3 GBP", "5 GBP > 3 GBP"),
        ("GBP 5 > 3 GBP", "5 GBP > 3 GBP"),
        # numbers
        ("5. > 1", "5 > 1"),
        (".5 > 1", "0.5 > 1"),
        ("2 > .5", "2 > 0.5"),
        ("5.000.000 kg > 3 kg", "5000000 kg > 3 kg"),
        ("5 000 000 kg > 3 kg", "5000000 kg > 3 kg"),
        ("5'000'000 kg > 3 kg", "5000000 kg > 3 kg"),
        ("1e3 > 2", "1000 > 2"),
        ("2.5e-3 > 2", "0.0025 > 2"),
        ("007 > 3", "7 > 3"),
        # signs and words of other notations
        ("2 ^ 3 > 1", "2 ** 3 > 1"),
        ("2^3 > 1", "2 ** 3 > 1"),
        ("3² > 1", "3 ** 2 > 1"),
        ("2**-1 > 1", "power(2, -1) > 1"),
        ("2 ** (1/2) > 1", "power(2, 1/2) > 1"),
        ("3 kg ** 2 > 2 kg * 2 kg", "(3 kg) ** 2 > 2 kg * 2 kg"),
        ("3 x 4 > 2", "3 * 4 > 2"),
        ("3 mm x 4 mm > 2 mm2", "3 mm * 4 mm > 2 mm2"),
        ("3 >> 2", "3 > 2"),
        ("3 > > 2", "3 > 2"),
        ("7 // 2 > 1", "round_down(7 / 2, 1) > 1"),
        ("3 is 3", "3 == 3"),
        ("3 equals 3", "3 == 3"),
        ("3 := 3", "3 == 3"),
        ("NOT true", "not true"),
        ("Not true", "not true"),
        ("true Or false", "true or false"),
        ("true AND false", "true and false"),
        ("true xor false", "true != false"),
        ("3 > 2, 4 > 2", "3 > 2 and 4 > 2"),
        ("+ 3 > 2", "3 > 2"),
        ("yes", "true"),
        ("`mid` == 'mid'", "'mid' == 'mid'"),
        ("“mid” == 'mid'", "'mid' == 'mid'"),
        ("3 ≈ 2", "3 == 2"),
        # choices and functions
        ("if 3 > 2 then 4 else 5", "4 if 3 > 2 else 5"),
        ("3 > 2 ? 4 : 5", "4 if 3 > 2 else 5"),
        ("IF(3 > 2, 4, 5)", "4 if 3 > 2 else 5"),
        ("if(3 > 2; 4; 5)", "4 if 3 > 2 else 5"),
        ("AND(3 > 2, true)", "3 > 2 and true"),
        ("OR(3 > 2; true)", "3 > 2 or true"),
        ("3 if true", "3 if true else 0"),
        ("3 kg if true", "3 kg if true else 0 kg"),
        ("max 1, 2", "max(1, 2)"),
        ("max 1, 2 > 1", "max(1, 2) > 1"),
        ("sqrt 4 > 1", "sqrt(4) > 1"),
        ("sqrt[4] > 1", "sqrt(4) > 1"),
        ("max([1, 2]) > 1", "max(1, 2) > 1"),
        ("max(1; 2) > 1", "max(1, 2) > 1"),
        ("|-3| > 2", "abs(-3) > 2"),
        ("√4 > 1", "sqrt(4) > 1"),
        ("π > 3", "pi > 3"),
        ("3 in [1, 2]", "(3) in [1, 2]"),
        ("3 in (1, 2)", "(3) in [1, 2]"),
        ("3 in {1, 2}", "(3) in [1, 2]"),
        ("sin(30) > 1", "sin(30 deg) > 1"),
        ("percent(30 %) > 1 %", "30 % > 1 %"),
    ],
)
def test_a_cure_is_accepted_and_means_what_was_meant(formula: str, means: str) -> None:
    written = cured(formula)
    assert compile_formula(written, SCOPE).value == compile_formula(means, SCOPE).value, written


@each_row(
    ("formula", "cure"),
    [
        ("?", "a value"),
        ("3 > ?", "a value"),
        ("3 +", "behind the last sign"),
        ("3 > 2 and", "behind the last sign"),
        (">= 5 kg", "before it"),
        ("3 * > 2", "before it"),
        ("5 mm ± 1 mm > 3 mm", "plus_minus"),
        ("5 mm +/- 1 mm > 3 mm", "plus_minus"),
        ("5-7 kg > 3 kg", "at_least"),
        ("5 to 7 > 3", "at_least"),
        ("5..7 > 3", "at_least"),
        ("null", "leave"),
        ("3 kg ** 2 > 2 kg", "(3 kg) ** 2"),
        ("(3 kg) ** 2 > 2 kg", "sqrt"),
        ("3 kg/m > 2 kg", "times a length"),
        ("3 kg > 2 mm", "right name"),
        ("not 3 kg", "compar"),
        ("3 and true", "compar"),
        ("today > 2026-01-01", "event.date"),
        ("kg > 3", "behind its number"),
        ("3 > 2)", "open"),
        ("'mid", "close it with '"),
        ("(3 kg 2 mm", "sign"),
        ("1/0 > 1", "something else"),
    ],
)
def test_what_can_only_be_told_in_words_is_told(formula: str, cure: str) -> None:
    problem = problem_of(formula)
    assert problem is not None
    assert cure in problem.hint, f"{problem.message}: {problem.hint}"


@each_row(
    ("literal", "means"),
    [
        ("5'", "5 ft"),
        ('5"', "5 in"),
        ("5'10\"", "5 ft 10 in"),
        ("5′ 10″", "5 ft 10 in"),
        ("3 kg.", "3 kg"),
        ("5 in.", "5 in"),
        ("2026-2-3", "2026-02-03"),
        ("2026/2/3", "2026-02-03"),
        ("1.2.2026", "2026-02-01"),
        ("01/02/2026", "2026-02-01"),
        ("1 May 2026", "2026-05-01"),
        ("2026-05-01T14:00", "2026-05-01 14:00"),
        ("2026-05-01 2 pm", "2026-05-01 14:00"),
        ("1½ in", "1 1/2 in"),
        ("-1½ in", "-1 1/2 in"),
        ("1-1/2 in", "1 1/2 in"),
        ("3 m²", "3 m2"),
        ("3 m^2", "3 m2"),
        ("20 °C", "20 degC"),
        ("−5 °C", "-5 degC"),
        ("£5", "5 GBP"),
        ("5 £", "5 GBP"),
        ("$5", "5 GBP"),
        ("5.", "5"),
        ("3 kg per m", "3 kg/m"),
        ("10 µm", "0.01 mm"),
        ("3 sq ft", "3 ft2"),
        ("1e3 kg", "1000 kg"),
        ("5.000.000 kg", "5000000 kg"),
        ("10:30", "10 h 30 min"),
        ("<5 kg", "5 kg"),
        (">= 5 kg", "5 kg"),
        ("max. 5 kg", "5 kg"),
        ("5 kg max", "5 kg"),
        ("ca. 5 kg", "5 kg"),
        ("approx 5 kg", "5 kg"),
        ("5kg500g", "5 kg 500 g"),
    ],
)
def test_a_cure_of_a_literal_is_accepted_and_means_what_was_meant(literal: str, means: str) -> None:
    written = literal
    for _ in range(3):
        with pytest.raises(LiteralError) as refused:
            parse_literal(written, "GBP")
        for one in told(refused.value.hint):
            made = f"{written[: refused.value.start]}{one}{written[refused.value.end :]}"
            try:
                assert parse_literal(made, "GBP").value == parse_literal(means, "GBP").value, made
                return
            except LiteralError:
                continue
        written = made
    raise AssertionError(f"{literal}: {refused.value.message}: {refused.value.hint}")


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)), st.sampled_from("-/."), st.booleans())
def test_a_day_written_otherwise_is_told_in_four_two_and_two_digits(
    day: date, mark: str, year_first: bool
) -> None:
    parts = [day.year, day.month, day.day] if year_first else [day.day, day.month, day.year]
    written = mark.join(map(str, parts))
    if written == day.isoformat():
        return
    assert compile_formula(cured(f"{written} == {day}"), SCOPE).value is True


@given(st.integers(0, 20), st.integers(0, 11), st.sampled_from(["", " "]))
def test_feet_and_inches_by_their_marks_are_told_by_their_units(feet: int, inches: int, blank: str) -> None:
    written = f"{feet}'{blank}{inches}\""
    assert compile_formula(cured(f"{written} == {feet} ft {inches} in"), SCOPE).value is True


def test_the_sign_of_a_half_is_never_cured_into_eleven_halves() -> None:
    problem = problem_of("1½ in > 1 mm")
    assert problem is not None
    assert "1½"[: problem.end - problem.start] == "1½", "the number before it is part of what is replaced"
    assert "1 1/2" in problem.hint


@given(st.dates(date(2000, 1, 1), date(2099, 12, 31)))
def test_a_day_and_a_sum_that_looks_like_one_are_told_apart(day: date) -> None:
    following = day + timedelta(days=1)
    assert compile_formula(f"{following} - {day} == 1 days", SCOPE).value is True
    assert problem_of(f"{day.year} - {day.month} - {day.day} < 5000") is None
