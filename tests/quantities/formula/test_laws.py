"""Laws of formulas, over random ones: exactness, units, unknowns, names, and that any text at all is answered."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, example, given, reject
from hypothesis import strategies as st

from checker.quantities.dimension import LENGTH, MASS
from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.problem import FormulaError
from checker.quantities.formula.scope import Binding, Scope
from checker.quantities.kind import DATE, NUMBER, PERCENT, TRUTH, Kind, Unknown, quantity
from tests.examples import examples
from tests.quantities.formula import drawn
from tests.quantities.formula.naive import Naive
from tests.quantities.formula.workshop import SCOPE, Entry, Scene, entries, fact

KINDS: dict[str, tuple[Kind, str]] = {
    "number": (NUMBER, ""),
    "mass": (quantity(MASS), "kg"),
    "length": (quantity(LENGTH), "mm"),
    "percent": (PERCENT, "%"),
    "truth": (TRUTH, ""),
    "word": (Kind("text", words=drawn.WORDS), ""),
    "day": (DATE, ""),
    "masses": (quantity(MASS).listed(), "kg"),
}
NAMES: dict[str, Binding] = {name: fact(name, *KINDS[kind]) for name, (kind, _) in drawn.FACTS.items()}
ITEMS = entries("items", {name: KINDS[kind] for name, (kind, _) in drawn.FIELDS.items()})
CAR = Scope(currency="GBP", names=NAMES, entries={"items": ITEMS}, tables=SCOPE.tables, trees=SCOPE.trees)


def scene(facts: dict[str, Any], items: list[dict[str, Any]]) -> Scene:
    return Scene(values=facts, lists={"items": tuple(Entry(item) for item in items)})


def sound(text: str, scope: Scope = CAR) -> Expression:
    """The formula compiled; what is too deep, or constant and without a value, is drawn again."""
    try:
        return compile_formula(text, scope)
    except FormulaError as error:
        problems = error.problems
    assert {problem.number for problem in problems} <= {105, 106, 302, 306}, (text, problems)
    assert all("no value" in p.message for p in problems if p.number in (106, 302)), (text, problems)
    return reject()


def known(value: Any) -> Any:
    return None if isinstance(value, Unknown) else value


OTHER_WAYS = (
    "sqrt[0]",
    "max [1, (2)]",
    "min 1, 2",
    "IF(n > 1; 2; 3)",
    "AND(n > 1, n < 3)",
    "if n > 1 then 2 else 3",
    "n > 1 ? 2 : 3",
    "|n - 1| < 2",
    "1,5 kg + 2'000 mm",
    "n in {1, 2}",
    "`text` == \u201cother\u201d",
    "5' 10\" + 1\u00bd in",
)

# --- any text at all ---------------------------------------------------------------------------------------------


def answered(text: str) -> None:
    """Any text gives an expression, which then gives a value or an unknown, or it gives problems with places."""
    try:
        expression = compile_formula(text, CAR)
    except FormulaError as error:
        problems = error.problems
    else:
        value = expression.evaluate(Scene())
        assert isinstance(value, (Fraction, bool, str, tuple, date, Unknown))
        assert expression.written_unit(Scene()) is None or expression.kind.is_measure
        return
    assert problems
    for problem in problems:
        assert 100 < problem.number < 700
        assert 0 <= problem.start <= problem.end <= len(text)
        assert problem.message


@given(st.text(max_size=40))
@example("\x00")
@example("'\ud800'")
@example("'\U00020000' 'b'")
@example("'\U000f0041' 'b'")
@example("'\U0010ffff' 'b'")
@example("(" * 100 + "1" + ")" * 100)
@example("9" * 400)
@example("9**9**9**9")
@example("-" * 499 + "1")
@example("not " * 120 + "true")
@example("max(" * 100)
@example("n.a." * 100)
@example("'" * 499)
@example("[" * 19 + "1" + "]" * 19)
@example("1 if " * 80)
@example("true==" * 80 + "true")
@examples(300)
def test_any_text_is_answered(text: str) -> None:
    answered(text)


@pytest.mark.parametrize("text", OTHER_WAYS)
def test_another_notation_broken_off_anywhere_is_answered(text: str) -> None:
    for kept in range(1, len(text) + 1):
        answered(text[:kept])
        answered(f"{text[:kept]} > 0")
        answered(f"1 + {text[:kept]} ")


@given(drawn.token_soups)
@examples(600)
def test_any_words_of_the_language_are_answered(text: str) -> None:
    answered(text)


@given(drawn.formulas, st.integers(0, 499), st.sampled_from(drawn.TOKENS))
@examples(300)
def test_a_sound_formula_with_one_thing_too_many_is_answered(text: str, place: int, token: str) -> None:
    answered(f"{text[:place]}{token}{text[place:]}")
    answered(text[:place])
    answered(text[:place] + text[place + 1 :])


@pytest.mark.deep
@given(st.one_of(st.text(max_size=500), drawn.token_soups, drawn.formulas), st.data())
@examples(5_000)
def test_any_text_is_answered_at_length(text: str, data: st.DataObject) -> None:
    answered(text)
    if text:
        place = data.draw(st.integers(0, len(text)))
        token = data.draw(st.sampled_from(drawn.TOKENS))
        answered(f"{text[:place]}{token}{text[place + data.draw(st.integers(0, 3)) :]}")


# --- the same as a naive reading ---------------------------------------------------------------------------------


def agrees(text: str, facts: dict[str, Any], items: list[dict[str, Any]]) -> None:
    expression = sound(text)
    found = known(expression.evaluate(scene(facts, items)))
    expected = Naive(text, facts, items).run()
    assert type(found) is type(expected), (text, found, expected)
    if isinstance(found, str):
        found, expected = found.casefold(), expected.casefold()
    assert found == expected, (text, found, expected)


@given(drawn.formulas, drawn.facts(), drawn.items())
@example("(1 lb <= m.a)", {"m.a": Fraction("0.45359237")}, [])
@example("(l.a < 1 in)", {"l.a": Fraction("25.4")}, [])
@examples(500)
def test_a_formula_comes_to_what_a_naive_reading_comes_to(text: str, facts: Any, items: Any) -> None:
    agrees(text, facts, items)


@given(drawn.formulas, drawn.facts(known=0.5), drawn.items(known=0.5))
@examples(500)
def test_so_it_does_where_facts_are_not_shown(text: str, facts: Any, items: Any) -> None:
    agrees(text, facts, items)


@given(drawn.truths, drawn.facts(known=0.5), drawn.items(known=0.5))
@examples(300)
def test_so_do_truths(text: str, facts: Any, items: Any) -> None:
    assume(len(text) <= 500)
    agrees(text, facts, items)


@pytest.mark.deep
@given(drawn.formulas, drawn.facts(known=0.5), drawn.items(known=0.5))
@examples(5_000)
def test_so_it_does_at_length(text: str, facts: Any, items: Any) -> None:
    agrees(text, facts, items)


# --- what is not shown -------------------------------------------------------------------------------------------


def never_changed(
    text: str, facts: dict[str, Any], items: list[dict[str, Any]], rest: Any, others: Any
) -> None:
    """What is known of a car with gaps stays so, however they are filled."""
    assume("stated" not in text)
    expression = sound(text)
    before = known(expression.evaluate(scene(facts, items)))
    if before is None:
        return
    filled = [{**other, **item} for item, other in zip(items, others, strict=False)]
    assume(len(filled) == len(items))
    after = known(expression.evaluate(scene({**rest, **facts}, filled)))
    if isinstance(before, str):
        before, after = before.casefold(), str(after).casefold()
    assert after == before, (text, before, after)


ENTRY = st.fixed_dictionaries({name: values for name, (_, values) in drawn.FIELDS.items()})


@given(
    drawn.formulas,
    drawn.facts(known=0.5),
    drawn.items(known=0.5),
    drawn.facts(),
    st.lists(ENTRY, min_size=3, max_size=3),
)
@examples(200)
def test_what_is_absent_and_cannot_change_the_result_does_not_matter(
    text: str, facts: Any, items: Any, rest: Any, others: Any
) -> None:
    never_changed(text, facts, items, rest, others)


@given(drawn.formulas, drawn.facts(known=0.5), drawn.items(known=0.5))
@examples(300)
def test_an_unknown_says_why(text: str, facts: Any, items: Any) -> None:
    found = sound(text).evaluate(scene(facts, items))
    if isinstance(found, Unknown):
        assert found.absent or found.reasons
        assert set(found.absent) <= {*drawn.FACTS, "items", *(f"items.{name}" for name in drawn.FIELDS)}
        assert not set(found.absent) & set(facts)


# --- units, names, blanks ----------------------------------------------------------------------------------------

_KG = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?|\d+/\d+) kg")
_MM = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?|\d+/\d+) mm")
_IN = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?|\d+/\d+) in(?:ch)?\b")


def rewritten(pattern: re.Pattern[str], factor: Fraction, unit: str) -> Callable[[str], str]:
    """Writes each quantity in one unit as the equal one in another."""
    return lambda text: pattern.sub(lambda found: _fraction(Fraction(found[1]) * factor, unit), text)


def _fraction(amount: Fraction, unit: str) -> str:
    return f"{amount.numerator}/{amount.denominator} {unit}"


IN_POUNDS = rewritten(_KG, 1 / Fraction("0.45359237"), "lb")
IN_INCHES = rewritten(_MM, 1 / Fraction("25.4"), "in")
IN_CENTIMETRES = rewritten(_IN, Fraction("2.54"), "cm")


@given(drawn.formulas, drawn.facts(known=0.5), drawn.items())
@example("(1 kg <= m.a)", {"m.a": Fraction(1)}, [])
@examples(300)
def test_the_unit_written_changes_nothing(text: str, facts: Any, items: Any) -> None:
    value = sound(text).evaluate(scene(facts, items))
    for change in (IN_POUNDS, IN_INCHES, IN_CENTIMETRES):
        other = change(text)
        assume(len(other) <= 500)
        assert known(sound(other).evaluate(scene(facts, items))) == known(value), (text, other)


def renamed(name: str) -> str:
    return f"z{name.partition('.')[0]}.class_{name.partition('.')[2]}"


@given(drawn.formulas, drawn.facts(known=0.5), drawn.items())
@examples(300)
def test_renaming_the_facts_changes_nothing(text: str, facts: Any, items: Any) -> None:
    other = re.sub(r"\b([a-z]\.(?:a|b|many))\b", lambda found: renamed(found[1]), text)
    assume(len(other) <= 500)
    names = {renamed(name): fact(renamed(name), *KINDS[kind]) for name, (kind, _) in drawn.FACTS.items()}
    scope = replace(CAR, names=names)
    before, after = sound(text), sound(other, scope)
    assert (after.kind, after.form.name, after.constant) == (before.kind, before.form.name, before.constant)
    values = {renamed(name): value for name, value in facts.items()}
    value = before.evaluate(scene(facts, items))
    found = after.evaluate(scene(values, items))
    assert known(found) == known(value)
    if isinstance(value, Unknown):
        assert found.absent == tuple(renamed(n) if n in drawn.FACTS else n for n in value.absent)


@given(drawn.formulas, st.sampled_from([" ", "\n", "\t", "  \r\n "]), drawn.facts())
@examples(150)
def test_blanks_and_line_breaks_change_nothing(text: str, blank: str, facts: Any) -> None:
    other = f"{blank}{text.replace(' ', blank)}{blank}"
    assume(len(other.strip()) <= 500 and "'" not in text)
    before, after = sound(text), sound(other)
    assert after.kind == before.kind
    assert known(after.evaluate(scene(facts, []))) == known(before.evaluate(scene(facts, [])))


@given(drawn.formulas, drawn.facts(known=0.5), drawn.items())
@examples(150)
def test_the_names_in_a_formula_stand_where_it_says(text: str, facts: Any, items: Any) -> None:
    expression = sound(text)
    places = [(leaf.start, leaf.end) for leaf in expression.leaves]
    assert len(set(places)) == len(places)
    for leaf in expression.leaves:
        assert text[leaf.start : leaf.end] == leaf.text
        assert known(leaf.run(scene(facts, items))) == facts.get(leaf.text)
    assert {leaf.text for leaf in expression.leaves} <= set(drawn.FACTS)
    assert expression.uses >= {leaf.text for leaf in expression.leaves}


@given(drawn.formulas)
@examples(150)
def test_a_constant_needs_no_car(text: str) -> None:
    expression = sound(text)
    if expression.constant:
        assert not isinstance(expression.value, Unknown)
        assert expression.uses == frozenset()
