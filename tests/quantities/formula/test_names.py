"""Names: what each stands for, what is said of one that stands for nothing, and that none means two things."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any, TypeVar

import pytest

from checker.quantities.dimension import LENGTH, MASS
from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.scope import Binding, Entries, Field
from checker.quantities.kind import NUMBER, Kind, quantity
from tests.examples import each_row
from tests.quantities.formula.workshop import (
    SCOPE,
    Scene,
    absent,
    compiled,
    day,
    each,
    entry,
    let,
    pairs,
    problems,
    value,
    wrong,
)

T = TypeVar("T")


def test_a_fact() -> None:
    found = compiled("body.width")
    assert found.kind == quantity(LENGTH)
    assert found.uses == {"body.width"}
    assert found.locals == frozenset()
    assert not found.constant
    assert value("body.width", body__width=Fraction(1800)) == 1800
    assert absent(value("body.width")) == ("body.width",)


def test_a_field_of_the_entry_of_an_item_and_of_a_row() -> None:
    scene = Scene(
        names={"": entry(mass=Fraction(2)), "a": entry(mass=Fraction(3)), "b": entry(mass=Fraction(5))}
    )
    assert value("mass", scene, each("ballast")) == 2
    assert value("b.mass - a.mass", scene, pairs("ballast")) == 2
    found = compiled("b.mass - a.mass", pairs("ballast"))
    assert found.locals == {"a", "b"}
    assert found.uses == {"ballast.mass"}


def test_derived_values_and_lets() -> None:
    scope = let("double", "body.width * 2")
    assert value("double + 1 mm", scope=scope, body__width=Fraction(2)) == 5
    assert compiled("double", scope).uses == {"double", "body.width"}
    assert compiled("double", scope).kind == quantity(LENGTH)
    inside = let("twice", "mass * 2", each("ballast"))
    assert compiled("twice", inside).locals == {""}
    assert compiled("twice", inside).uses == {"ballast.mass"}


def test_pi() -> None:
    found = compiled("pi")
    assert found.kind == NUMBER
    assert found.constant
    assert found.irrational
    assert abs(found.value - Fraction(314159265358979323846, 10**20)) < Fraction(1, 10**19)


@each_row(
    ("text", "number", "at", "hint"),
    [
        ("engine.capcity", 201, "engine.capcity", "Did you mean 'engine.capacity'?"),
        ("capacity", 201, "capacity", "Did you mean 'engine.capacity'?"),
        ("weight.totl", 201, "weight.totl", "Did you mean 'weight.total'?"),
        ("engine", 201, "engine", "for instance engine.boosted"),
        ("weight > 3 kg", 201, "weight", "for instance weight.front"),
        ("minimum", 201, "minimum", "write minimum(..)"),
        ("tyre.width", 201, "tyre.width", "write tyre(..).width"),
        ("sum", 201, "sum", "write sum(..)"),
        ("FALSE", 201, "FALSE", "write false"),
        ("mid", 201, "mid", "if it is a word, put it in quotes: 'mid'"),
        ("mass", 205, "mass", "check `each: ballast`"),
        ("fixings", 205, "fixings", "(x.fixings for x in ballast)"),
        ("body.width.x", 105, "body.width.x", ""),
        ("balast", 201, "balast", "Did you mean 'ballast'?"),
        ("nosuch.thing", 201, "nosuch.thing", ""),
        ("true.x", 201, "true.x", ""),
    ],
)
def test_a_name_that_stands_for_nothing(text: str, number: int, at: str, hint: str) -> None:
    assert wrong(text) == [(number, at)]
    assert hint in problems(text)[0].hint


def test_a_field_of_another_list() -> None:
    scope = each("components")
    assert wrong("fixings", scope) == [(205, "fixings")]
    assert "field of ballast" in problems("fixings", scope)[0].message
    assert wrong("a.fixings", pairs("components")) == [(205, "a.fixings")]
    assert "its fields are" in problems("a.q", pairs("components"))[0].hint
    assert problems("a.nam", pairs("components"))[0].hint == "Did you mean 'name'?"


def test_a_value_has_no_parts() -> None:
    scope = let("double", "body.width * 2")
    assert wrong("double.width", scope) == [(201, "double.width")]
    assert "a length and has no 'width'" in problems("double.width", scope)[0].message
    assert wrong("double(3)", scope) == [(201, "double")]


# --- one name, one meaning -------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["ballast", "minimum", "pi"])
def test_a_name_of_a_value_that_means_something_else_too_is_refused_where_it_is_used(name: str) -> None:
    scope = SCOPE.having({name: Binding(NUMBER, lambda _: Fraction(1))})
    assert wrong(f"1 + {name}", scope) == [(202, name)]
    assert value("1 + 1", scope=scope) == 2


@pytest.mark.parametrize("name", ["engine", "count", "year", "first"])
def test_a_value_may_be_called_like_a_function_or_a_section(name: str) -> None:
    scope = SCOPE.having({name: Binding(NUMBER, lambda _: Fraction(7))})
    text = f"{name} + engine.cylinders + count(brakes.pad) + year(event.date)"
    given: dict[str, Any] = {
        "engine__cylinders": Fraction(4),
        "brakes__pad": (1, 2),
        "event__date": day(2026, 5, 3),
    }
    assert value(text, scope=scope, **given) == 7 + 4 + 2 + 2026


def test_a_section_that_is_a_local_name_too() -> None:
    scope = SCOPE.having(
        {"engine": Binding(Kind("item", items="ballast"), lambda _: None, locals=frozenset({"engine"}))}
    )
    assert wrong("engine.capacity > 3 cc", scope) == [(202, "engine")]
    assert wrong("engine.mass > 3 kg", scope) == [(202, "engine")]
    assert value("body.width", scope=scope, body__width=1) == 1


def test_a_function_or_table_that_is_a_local_name_too() -> None:
    one = Binding(NUMBER, lambda _: Fraction(1))
    assert value("max(1, 2) + max", scope=SCOPE.having({"max": one})) == 3
    assert wrong("minimum(3 cc)", SCOPE.having({"minimum": one})) == [(202, "minimum")]


def test_an_ambiguous_name_is_refused_when_it_is_used() -> None:
    scope = SCOPE.having({"mass": Binding(Kind("ambiguous", items="mass"), lambda _: None)})
    for text in ("mass + 1 kg", "sum(b.mass for b in ballast if b.mass > mass)", "stated(mass)", "mass.x"):
        (found,) = problems(text, scope)
        assert found.number == 202
        assert found.message == "'mass' means two things here"
        assert text[found.start : found.end] == "mass"
    assert compiled("sum(b.mass for b in ballast)", scope).kind == quantity(MASS)


# --- names that are made when they are asked for ----------------------------------------------------------------


_TROUBLE = ("circle", "broken", "placed")


class Lazy(Mapping[str, T]):
    """A mapping whose values are made on demand: `circle` goes in one, `broken` was reported already."""

    def __init__(self, ready: Mapping[str, T]) -> None:
        self.ready = ready
        self.asked: list[str] = []

    def __getitem__(self, name: str) -> T:
        self.asked.append(name)
        if name == "circle":
            raise FormulaError(FormulaProblem(203, "'circle' goes in a circle: circle needs circle"))
        if name == "broken":
            raise FormulaError()
        if name == "placed":
            raise FormulaError(FormulaProblem(301, "elsewhere", 1, 2))
        return self.ready[name]

    def __contains__(self, name: object) -> bool:
        return name in self.ready or name in _TROUBLE

    def __iter__(self) -> Iterator[str]:
        yield from (*self.ready, *_TROUBLE)

    def __len__(self) -> int:
        return len(self.ready) + len(_TROUBLE)


def lazy_names() -> Lazy[Binding]:
    return Lazy({"sound": Binding(NUMBER, lambda _: Fraction(5))})


def test_only_the_names_used_are_made() -> None:
    lazy = lazy_names()
    scope = SCOPE.having(lazy).having({"x": Binding(NUMBER, lambda _: Fraction(2))}).with_entries({})
    assert lazy.asked == []
    assert value("sound * x + count(ballast)", Scene(lists={"ballast": ()}), scope) == 10
    assert set(lazy.asked) == {"sound"}
    assert "sound" in scope.all_names()
    assert "engine" in scope.sections()
    assert problems("soundd", scope)[0].hint == "Did you mean 'sound'?"
    assert set(lazy.asked) == {"sound"}


def test_a_circle_is_told_at_the_name_that_was_asked_for() -> None:
    scope = SCOPE.having(lazy_names())
    assert wrong("1 + circle * 2", scope) == [(203, "circle")]
    assert wrong("max(circle, nobody)", scope) == [(203, "circle"), (201, "nobody")]
    assert wrong("sum(b.mass * circle for b in ballast)", scope) == [(203, "circle")]


def test_what_was_reported_already_is_not_told_again() -> None:
    scope = SCOPE.having(lazy_names())
    assert problems("broken + 1", scope) == ()
    assert wrong("broken + nobody", scope) == [(201, "nobody")]


def test_a_mistake_behind_a_name_keeps_its_own_place() -> None:
    (found,) = problems("1 + placed", SCOPE.having(lazy_names()))
    assert (found.number, found.start, found.end) == (301, 1, 2)


class Endless(Mapping[str, Binding]):
    """`n7` rests on `n6`, that on `n5`, and so on: each is compiled when it is asked for."""

    def __getitem__(self, name: str) -> Binding:
        number = int(name.removeprefix("n")) if name.startswith("n") and name[1:].isdecimal() else None
        if number is None:
            raise KeyError(name)
        if number == 0:
            return Binding(NUMBER, lambda _: Fraction(0))
        made = compile_formula(f"n{number - 1} + 1", SCOPE.having(self))
        return Binding(made.kind, made.evaluate, expression=made)

    def __iter__(self) -> Iterator[str]:
        return iter(())

    def __len__(self) -> int:
        return 0


def test_a_row_of_names_without_end_is_a_problem_and_no_crash() -> None:
    scope = SCOPE.having(Endless())
    assert value("n9 + 1", scope=scope) == 10
    assert {number for number, _ in wrong("n5000 + 1", scope)} == {105}


def test_fields_may_be_made_on_demand_too() -> None:
    fields = Lazy(SCOPE.entries["ballast"].fields)
    old = SCOPE.entries["ballast"]
    scope = SCOPE.with_entries({"ballast": Entries("ballast", fields, old.read, old.standing)})
    assert wrong("sum(b.mass * b.circle for b in ballast)", scope) == [(203, "b.circle")]
    assert problems("sum(b.broken for b in ballast)", scope) == ()


def test_a_field_that_is_worked_out_hands_on_what_its_formula_is_made_with() -> None:
    old = SCOPE.entries["ballast"]
    behind = compiled("sqrt(2) * mass ** 4 / weight.total ** 4", each("ballast"))
    made = Field(
        behind.kind,
        lambda scene, found: behind.evaluate(scene.bind("", found)),
        lambda _: False,
        expression=behind,
    )
    scope = SCOPE.with_entries({"ballast": replace(old, fields={**old.fields, "made": made})})
    found = compiled("sum(b.made for b in ballast)", scope)
    assert found.irrational
    assert found.form.name == "general"
    assert wrong("sum(b.made ** 4 for b in ballast)", scope) == [(105, "b.made ** 4")]
    scene = Scene(lists={"ballast": (entry(mass=Fraction(1)),)}, values={"weight.total": Fraction(1)})
    assert value("round_up(sum(b.made * sqrt(2) for b in ballast), 1)", scene, scope) == 2


def test_names_that_are_asked_for_in_every_scope_are_those_of_the_pack() -> None:
    scope = each("ballast")
    assert (
        value("driver.mass + mass", Scene({"driver.mass": Fraction(80)}, names={"": entry(mass=1)}), scope)
        == 81
    )
