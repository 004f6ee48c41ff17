"""Every cure that says what to write is accepted when it is written: told where it was wrong, and put in its place."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.functions import FUNCTIONS
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.scope import Scope
from checker.quantities.literal import parse_literal
from checker.quantities.misread import LiteralError
from checker.quantities.unit_hints import SYNONYMS
from checker.quantities.unit_table import QUANTITIES
from checker.quantities.units import UnknownUnit, parse_unit
from checker.reading.problems import InputError
from tests.building import pack_of
from tests.examples import each_row

SCOPE = Scope(currency="GBP")
_WRITE = re.compile(r"(?:^|\b)write ([^\s,;:]+(?: [^\s,;:]+)*?)(?= without|,? or |[,;:]|$)")


def problem_of(formula: str) -> FormulaProblem | None:
    try:
        compile_formula(formula, SCOPE)
    except FormulaError as error:
        return error.problems[0]
    return None


def cured(formula: str) -> tuple[str, FormulaProblem]:
    """The formula with what the first problem's cure says written where the problem is."""
    problem = problem_of(formula)
    assert problem is not None, f"{formula} is read"
    told = _WRITE.search(problem.hint)
    assert told is not None, f"{formula}: {problem.message}; {problem.hint}"
    return f"{formula[: problem.start]} {told[1]} {formula[problem.end :]}", problem


@each_row(
    ("formula", "means"),
    [
        ("3 =< 4", "3 <= 4"),
        ("3 => 4", "3 >= 4"),
        ("3 =! 4", "3 != 4"),
        ("3 <> 4", "3 != 4"),
        ("3 = 4", "3 == 4"),
        ("3 === 4", "3 == 4"),
        ("3 < = 4", "3 <= 4"),
        ("3 > = 4", "3 >= 4"),
        ("true && false", "true and false"),
        ("true & false", "true and false"),
        ("true || false", "true or false"),
        ("true | false", "true or false"),
        ("! true", "not true"),
        ("3 > 2 AND 4 > 2", "3 > 2 and 4 > 2"),
        ("3 > 2 OR 4 > 2", "3 > 2 or 4 > 2"),
        ("3 ≤ 4", "3 <= 4"),
        ("3 ≥ 4", "3 >= 4"),
        ("3 ≠ 4", "3 != 4"),
        ("3 × 4", "3 * 4"),
        ("3 · 4", "3 * 4"),
        ("3 ÷ 4", "3 / 4"),
        ("3 − 4", "3 - 4"),
        ("98 dB(A) > 1 dBA", "98 dBA > 1 dBA"),
        ("3,2 kWh > 1 kWh", "3.2 kWh > 1 kWh"),
        ("2,600 GBP > 1 GBP", "2600 GBP > 1 GBP"),
        ("1,234,567 mm > 1 mm", "1234567 mm > 1 mm"),
        ("12,345.6 kg > 1 kg", "12345.6 kg > 1 kg"),
        ("12.345,6 kg > 1 kg", "12345.6 kg > 1 kg"),
        ("1'600 mm > 1 mm", "1600 mm > 1 mm"),
        ("1 600 mm > 1 mm", "1600 mm > 1 mm"),
        ("1_600 mm > 1 mm", "1600 mm > 1 mm"),
        ("2 ** 3 = 8", "2 ** 3 == 8"),
    ],
)
def test_a_cure_is_accepted_and_means_what_was_meant(formula: str, means: str) -> None:
    written, problem = cured(formula)
    assert problem_of(written) is None, f"{formula}: {problem.hint} makes {written}"
    assert compile_formula(written, SCOPE).value == compile_formula(means, SCOPE).value


numbers = st.integers(1, 999).flatmap(
    lambda whole: st.integers(0, 99999).map(lambda part: (str(whole), str(part)))
)
units = st.sampled_from(["mm", "kg", "kWh", "GBP", "%", "days", ""])


@given(numbers, units, st.sampled_from(["{} == {}", "2 * {} == {}", "({}) == {}"]))
def test_a_number_with_a_comma_is_cured_in_any_formula_and_as_a_literal(
    number: tuple[str, str], unit: str, around: str
) -> None:
    whole, part = number
    other = f"{whole}{part}" if len(part) == 3 else f"{whole}.{part}"
    factor = 2 if around.startswith("2") else 1
    formula = around.format(f"{whole},{part} {unit}", f"{factor} * {other} {unit}")
    written, problem = cured(formula)
    assert problem_of(written) is None, f"{problem.hint} makes {written}"
    assert compile_formula(written, SCOPE).value is True
    with pytest.raises(LiteralError) as refused:
        parse_literal(f"{whole},{part} {unit}", "GBP")
    told = _WRITE.search(refused.value.hint)
    assert told is not None
    assert parse_literal(f"{told[1]} {unit}", "GBP").value == parse_literal(f"{other} {unit}", "GBP").value


@each_row(
    ("literal", "value"),
    [
        (".5 kg", Fraction(1, 2)),
        ("+5 kg", Fraction(5)),
        ("GBP 340", Fraction(340)),
        ("3,2 kg", Fraction(16, 5)),
        ("2,600 GBP", Fraction(2600)),
        ("1 600 GBP", Fraction(1600)),
    ],
)
def test_a_cure_for_a_literal_is_accepted(literal: str, value: Fraction) -> None:
    with pytest.raises(LiteralError) as refused:
        parse_literal(literal, "GBP")
    told = re.search(r"write (?:[a-z ]+: )?([0-9][^,:]*?)(?: without.*|, or.*|:.*)?$", refused.value.hint)
    assert told is not None, refused.value.hint
    unit = "" if told[1].strip()[-1].isalpha() else f" {literal.split()[-1]}"
    assert parse_literal(f"{told[1]}{unit}", "GBP").value == value


@each_row("name", [*SYNONYMS, "Kg", "KG", "MM", "kmh", "litters", "kilogramm", "Nm2", "kw", "volts"])
def test_a_unit_that_is_perhaps_meant_is_a_unit(name: str) -> None:
    if name in ("GBP", *QUANTITIES):
        return
    with pytest.raises(UnknownUnit) as unknown:
        parse_unit(name, "GBP")
    hint = unknown.value.hint
    told = re.match(r"perhaps (\S+)$|write (?:it in )?(\S+?)(?: or \S+)?(?:,.*)?$", hint)
    assert told is not None or not hint.startswith(("perhaps", "write"))
    if told is not None:
        parse_unit(told[1] or told[2], "GBP")


@each_row("name", ["log10", "pow", "len", "avg", "ceil", "floor", "round", "arctan", "sqr", "maxx", "zzz"])
def test_an_unknown_function_lists_those_that_there_are_and_the_nearest(name: str) -> None:
    problem = problem_of(f"{name}(3) > 2")
    assert problem is not None
    nearest, _, known = problem.hint.rpartition("Known: ")
    assert known.split(", ") == sorted(FUNCTIONS)
    if nearest:
        told = re.fullmatch(r"Did you mean '(\w+)'\? ", nearest)
        assert told is not None
        assert told[1] in FUNCTIONS


def hints(clauses: str, more: str = "facts: {a.b: {unit: mm}}") -> list[str]:
    with pytest.raises(InputError) as refused:
        pack_of(clauses, more)
    return [problem.hint for problem in refused.value.problems]


def test_no_clause_is_told_to_take_its_own_place() -> None:
    check = "check: {limit: a.b, at_most: 5 mm}"
    assert hints(f'"3.1": {{instead_of: ["3.11"], {check}}}\n"7": {{{check}}}') == [""]
    assert hints(f'"3.1": {{instead_of: ["3.22"], {check}}}\n"3.2": {{{check}}}') == ["Did you mean '3.2'?"]


def test_no_name_is_told_to_rest_on_itself() -> None:
    more = "facts: {a.b: {unit: mm}}\nderived: {most_length: {formula: most_lenght + 2 mm}}"
    (hint,) = hints('"1": {check: {limit: a.b, at_most: most_length}}', more)
    assert "most_length" not in hint
    more = "lists: {js: {fields: {x: {unit: mm}, overlap: {formula: overlapp + x, unit: mm}}}}\nfacts: {a.b: {unit: mm}}"
    (hint,) = hints('"1": {check: {each: js, limit: overlap, at_most: 2 mm}}', more)
    assert "'overlap'" not in hint


def test_a_share_of_a_plain_number_has_its_cure() -> None:
    more = "facts: {a.n: {type: count}, a.m: {type: count}}"
    for check in ("{limit: a.n, at_most: 30 % * a.m}", "{holds: a.n <= 30 % * a.m}"):
        (hint,) = hints(f'"1": {{check: {check}}}', more)
        assert "a share of a plain number is 0.3 * x" in hint
    pack_of('"1": {check: {limit: a.n, at_most: 0.3 * a.m}}', more)


@pytest.mark.parametrize("power", ["0.9", "(1/3)", "5", "1.5"])
def test_a_power_that_is_not_whole_is_told_its_function(power: str) -> None:
    problem = problem_of(f"2 ** {power} > 1")
    assert problem is not None
    told = re.fullmatch(r"write (power\(.*\))", problem.hint)
    assert told is not None
    assert problem_of(f"{told[1]} > 1") is None
