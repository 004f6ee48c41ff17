"""A small made-up car for formulas: facts, lists, tables and two trees of words, without the checker's own car."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction
from typing import Any

from checker.car.described.word_trees import Tree
from checker.quantities.dimension import LENGTH, MASS
from checker.quantities.formula import form as forms
from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.scope import (
    Binding,
    Cell,
    Entries,
    Field,
    NoLimit,
    Scope,
    TableFunction,
)
from checker.quantities.kind import DATE, NUMBER, PERCENT, TEXT, TRUTH, Kind, Unknown, quantity
from checker.quantities.reason import NoValue
from checker.quantities.units import Unit, parse_unit

ITEM = ""

FACTS: dict[str, tuple[Kind, str]] = {
    "engine.capacity": (quantity(LENGTH**3), "cc"),
    "engine.boosted": (TRUTH, ""),
    "engine.position": (Kind("text", words=("front", "mid", "rear")), ""),
    "engine.cylinders": (NUMBER, ""),
    "body.width": (quantity(LENGTH), "mm"),
    "body.height": (quantity(LENGTH), "mm"),
    "driver.mass": (quantity(MASS), "kg"),
    "driver.born": (DATE, ""),
    "event.date": (DATE, ""),
    "car.number": (TEXT, ""),
    "car.class": (TEXT, ""),
    "car.built": (DATE, ""),
    "seat.material": (Kind("text", tree="material"), ""),
    "harness.class": (Kind("grade", words=("C", "B", "A")), ""),
    "harness.other": (Kind("grade", words=("low", "high")), ""),
    "harness.labels": (TEXT.listed(), ""),
    "brakes.pad": (quantity(LENGTH).listed(), "mm"),
    "lamps.work": (TRUTH.listed(), ""),
    "share.inside": (PERCENT, "%"),
}
FIELDS: dict[str, dict[str, tuple[Kind, str]]] = {
    "ballast": {
        "label": (TEXT, ""),
        "mass": (quantity(MASS), "kg"),
        "fixings": (NUMBER, ""),
        "locked": (TRUTH, ""),
        "position": (quantity(LENGTH), "mm"),
        "hardness": (NUMBER.listed(), ""),
        "grade": (Kind("grade", words=("C", "B", "A")), ""),
        "class": (TEXT, ""),
    },
    "components": {
        "name": (TEXT, ""),
        "category": (Kind("text", tree="category"), ""),
        "mass": (quantity(MASS), "kg"),
        "made": (DATE, ""),
    },
}
WEIGHTS = ("total", "front", "rear", "left", "right", "inside", "outside")


@dataclass(frozen=True)
class Entry:
    """An entry of a list: what is stated, how often it stands, and whether it is a part of another."""

    values: Mapping[str, Any]
    standing: int = 1
    part: bool = False


@dataclass(frozen=True)
class Scene:
    """What formulas are evaluated in: values by full name, entries by list, and bound names."""

    values: Mapping[str, Any] = field(default_factory=dict)
    lists: Mapping[str, tuple[Entry, ...]] = field(default_factory=dict)
    names: Mapping[str, Any] = field(default_factory=dict)

    def bind(self, name: str, value: Any) -> Scene:
        return replace(self, names={**self.names, name: value})


def entry(standing: int = 1, part: bool = False, **values: Any) -> Entry:
    return Entry(values, standing, part)


def unit_of(name: str) -> Unit | None:
    return parse_unit(name, None) if name else None


def fact(name: str, kind: Kind, unit: str = "") -> Binding:
    return Binding(
        kind,
        lambda scene: scene.values.get(name, Unknown(absent=(name,))),
        unit=unit_of(unit),
        stated=lambda scene: name in scene.values,
    )


def item_field(list_name: str, name: str, kind: Kind, unit: str = "") -> Field:
    absent = Unknown(absent=(f"{list_name}.{name}",))
    return Field(
        kind,
        lambda _, found: found.values.get(name, absent),
        lambda found: name in found.values,
        unit_of(unit),
        frozenset({f"{list_name}.{name}"}),
    )


def entries(list_name: str, fields: Mapping[str, tuple[Kind, str]]) -> Entries:
    def read(scene: Scene, parts: bool) -> Any:
        found = scene.lists.get(list_name)
        if found is None:
            return Unknown(absent=(list_name,))
        return tuple(e for e in found if parts or not e.part)

    made = {name: item_field(list_name, name, kind, unit) for name, (kind, unit) in fields.items()}
    return Entries(list_name, made, read, lambda found: int(found.standing))


def by_capacity() -> TableFunction:
    """`minimum(capacity)`: up to 1300 cc 560 kg, up to 1600 cc 1290 lb, above that no limit; nothing from 3000 cc."""
    cc, lb, kg = parse_unit("cc", None), parse_unit("lb", None), parse_unit("kg", None)

    def lookup(keys: tuple[Any, ...]) -> Any:
        capacity = keys[0] / cc.factor
        if capacity >= 3000:
            return Unknown.because(NoValue.NO_ROW, "minimum", "that")
        if capacity <= 1300:
            return {"value": Cell(Fraction(560), kg)}
        if capacity <= 1600:
            return {"value": Cell(1290 * lb.factor, lb)}
        return {"value": Cell(NoLimit.because(NoValue.NO_LIMIT))}

    columns = {"value": quantity(MASS)}
    return TableFunction("minimum", (("capacity", quantity(LENGTH**3)),), columns, lookup)


def by_position() -> TableFunction:
    """`tyre(position, boosted)`: columns width and makers; other positions than front and rear have no row."""
    inch = parse_unit("in", None)
    columns = {
        "width": quantity(LENGTH),
        "makers": Kind("text", words=("Alder", "Brock")).listed(),
    }

    def lookup(keys: tuple[Any, ...]) -> Any:
        if keys[0] not in ("front", "rear"):
            return Unknown.because(NoValue.NO_ROW, "tyre", keys[0])
        width = 7 if keys[0] == "front" else 8
        return {"width": Cell(width * inch.factor, inch), "makers": Cell(("Alder", "Brock")[: 1 + keys[1]])}

    def check_words(kinds: tuple[Kind, ...]) -> tuple[int, int, str, str] | None:
        if "mid" in (kinds[0].words or ()) and len(kinds[0].words or ()) == 1:
            return 0, 404, "table tyre has no row for 'mid'", "add a row"
        return None

    keys = (("position", Kind("text", words=("front", "rear"))), ("boosted", TRUTH))
    return TableFunction("tyre", keys, columns, lookup, check_words=check_words)


def weights() -> dict[str, Binding]:
    kg, percent = parse_unit("kg", None), parse_unit("%", None)
    made: dict[str, Binding] = {}
    for name in WEIGHTS:
        found = fact(f"weight.{name}", quantity(MASS))
        made[f"weight.{name}"] = replace(found, unit=kg, form=forms.weight(name), stated=None)
        if name != "total":
            found = fact(f"percentage.{name}", PERCENT)
            made[f"percentage.{name}"] = replace(
                found, unit=percent, form=forms.percentage(name), stated=None
            )
    return made


MATERIALS = Tree("material", {"steel": [], "light metal": ["aluminium", "exotic"], "exotic": ["Beryllium"]})
CATEGORIES = Tree.of_paths("category", ["brakes", "brakes/disc", "brakes/pad", "seat", "body"])
SCOPE = Scope(
    currency="GBP",
    names={**{name: fact(name, kind, unit) for name, (kind, unit) in FACTS.items()}, **weights()},
    entries={name: entries(name, fields) for name, fields in FIELDS.items()},
    tables={"minimum": by_capacity(), "tyre": by_position()},
    trees={"material": MATERIALS, "category": CATEGORIES},
)


def let(name: str, text: str, scope: Scope = SCOPE, unit: str = "") -> Scope:
    """The scope with a name for a formula: a `let`, or with a unit a derived value."""
    made = compile_formula(text, scope)
    binding = Binding(
        made.kind,
        made.evaluate,
        unit=unit_of(unit),
        form=made.form,
        expression=made,
        locals=made.locals,
        uses=made.uses,
    )
    return scope.having({name: binding})


def each(list_name: str, scope: Scope = SCOPE) -> Scope:
    """The scope inside a check for each entry of a list: its fields are bare names."""
    names = {
        name: Binding(
            found.kind,
            lambda scene, found=found: found.read(scene, scene.names[ITEM]),  # type: ignore[misc]
            unit=found.unit,
            stated=lambda scene, found=found: found.stated(scene.names[ITEM]),  # type: ignore[misc]
            locals=frozenset({ITEM}),
            uses=found.uses,
        )
        for name, found in scope.entries[list_name].fields.items()
    }
    return scope.having(names)


def pairs(list_name: str, scope: Scope = SCOPE) -> Scope:
    """The scope inside a check for every two entries: they are `a` and `b`."""
    item = Kind("item", items=list_name)
    return scope.having(
        {
            "a": Binding(item, lambda scene: scene.names["a"], locals=frozenset({"a"})),
            "b": Binding(item, lambda scene: scene.names["b"], locals=frozenset({"b"})),
        }
    )


def runs(list_name: str, scope: Scope = SCOPE) -> Scope:
    """The scope inside a check for runs of neighbours: `run`."""
    fields = scope.entries[list_name].fields
    return scope.with_entries(
        {"run": Entries("run", fields, lambda scene, _: scene.names["run"], lambda _: 1)}
    )


def compiled(text: str, scope: Scope = SCOPE) -> Expression:
    return compile_formula(text, scope)


def value(text: str, scene: Scene | None = None, scope: Scope = SCOPE, **facts: Any) -> Any:
    """What a formula comes to; facts are given by their names with __ for the dot: engine__cylinders=4."""
    given = {name.replace("__", "."): found for name, found in facts.items()}
    scene = scene or Scene()
    return compile_formula(text, scope).evaluate(replace(scene, values={**scene.values, **given}))


def absent(found: Any) -> tuple[str, ...]:
    """What an unknown lacks; it must be one."""
    assert isinstance(found, Unknown), found
    return found.absent


def reasons(found: Any) -> tuple[str, ...]:
    """Why an unknown cannot be told; it must be one."""
    assert isinstance(found, Unknown), found
    return tuple(reason.told() for reason in found.reasons)


def problems(text: str, scope: Scope = SCOPE) -> tuple[FormulaProblem, ...]:
    """Every mistake in a formula; it must have one."""
    try:
        found = compile_formula(text, scope)
    except FormulaError as error:
        for problem in error.problems:
            assert 0 <= problem.start <= problem.end <= len(text), problem
            assert problem.message
        return error.problems
    raise AssertionError(f"{text!r} was read, as {found.kind}")


def wrong(text: str, scope: Scope = SCOPE) -> list[tuple[int, str]]:
    """Every mistake in a formula: its number, and the text that stands at its place."""
    return [(p.number, text[p.start : p.end]) for p in problems(text, scope)]


def day(year: int, month: int, of_month: int) -> date:
    return date(year, month, of_month)
