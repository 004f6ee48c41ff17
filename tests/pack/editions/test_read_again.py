"""What an edit of tables, derived values and conditions bears on is read again, as if all had been read."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from checker.car.declaration.loading import load_car
from checker.pack.editions.loading import build_pack, load_edition, read_again
from checker.pack.model import Clause, Pack
from checker.quantities.formula.scope import Scope
from checker.reading.document import REMOVE, Document, Edit
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import replace
from checker.reading.strict_yaml import parse_document
from checker.studies.cases.mutations import mutations_of
from checker.verdict.inspection import inspect_car
from tests.conftest import ROOT
from tests.examples import each_row

TEXT = b"""\
pack: kart
edition: "1"
title: Kart rules
in_force: {from: 2026-01-01}
course: clockwise
defaults: {condition: light, tolerance: slack(engine.capacity)}
facts: {frame.width: {unit: mm}, engine.capacity: {unit: cc}}
lists: {cells: {fields: {mass: {unit: kg}, twice: {formula: mass * factor}}}}
conditions: {light: {fuel: 0 L}, heavy: {fuel: full}}
tables:
  longest: {by: [capacity], rows: [{capacity: up to 100 cc, value: 1800 mm}, {capacity: above 100 cc, value: 1900 mm}]}
  slack: {by: [capacity], rows: [{capacity: any, value: 1 mm}]}
derived:
  factor: {formula: "2"}
  wide: {formula: frame.width + 10 mm}
  allowed: {formula: longest(engine.capacity) - 1 mm}
  left: {formula: allowed - wide, unit: mm}
clauses:
  "1": {title: Width, check: {limit: wide, at_most: allowed}}
  "2": {title: Left, check: {holds: left > 0 mm}}
  "3": {title: Weight, check: {limit: weight.total, at_least: 100 kg}}
  "4": {title: Cells, check: {each: cells, limit: twice, at_most: 3 kg}}
"""

EDITS: dict[str, tuple[Edit, ...]] = {
    "a cell": (Edit(("tables", "longest", "rows", 1, "value"), "1801 mm"),),
    "an edge and its neighbour's": (
        Edit(("tables", "longest", "rows", 0, "capacity"), "up to 101 cc"),
        Edit(("tables", "longest", "rows", 1, "capacity"), "above 101 cc"),
    ),
    "a gap": (Edit(("tables", "longest", "rows", 0, "capacity"), "up to 99 cc"),),
    "a cell of another kind": (Edit(("tables", "slack", "rows", 0, "value"), "1 kg"),),
    "cells of another kind": tuple(Edit(("tables", "longest", "rows", at, "value"), "9 kg") for at in (0, 1)),
    "a table gone": (Edit(("tables", "slack"), REMOVE),),
    "one more table": (
        Edit(("derived", "factor", "formula"), "3"),
        Edit(("tables", "more"), {"by": ["a"], "rows": [{"a": "any", "value": "1 mm"}]}),
    ),
    "a formula": (Edit(("derived", "wide", "formula"), "frame.width + 11 mm"),),
    "a formula of another kind": (Edit(("derived", "wide", "formula"), "frame.width > 11 mm"),),
    "an unknown name": (Edit(("derived", "wide", "formula"), "frame.widht"),),
    "a circle": (Edit(("derived", "wide", "formula"), "left"),),
    "a unit that does not fit": (Edit(("derived", "allowed", "unit"), "kg"),),
    "what a field of a list rests on": (Edit(("derived", "factor", "formula"), "3"),),
    "a condition": (Edit(("conditions", "light", "fuel"), "1 L"),),
    "the default condition gone": (Edit(("conditions", "light"), REMOVE),),
    "a condition that cannot be": (Edit(("conditions", "heavy", "fuel"), "1 kg"),),
    "a clause too": (Edit(("clauses", "1", "title"), "W"), Edit(("derived", "factor", "formula"), "3")),
}


CAR = b"""\
formula: kart
car: {number: "5"}
frame: {width: 1700 mm}
engine: {capacity: 101 cc}
fuel: {capacity: 9 L, unusable: 0 L, density: 0.75 kg/L}
weighing: {fuel: 0 L, readings: [{total: 100.5 kg}]}
cells: [{mass: 1.4 kg}]
"""


def _read(pack: Pack, make: Callable[[], tuple[dict[str, Clause], Scope]]) -> object:
    """Clauses as far as they can be told apart, what formulas may name, and what becomes of a car; or what is wrong."""
    try:
        clauses, scope = make()
    except InputError as error:
        return [(p.code, p.message, p.span, p.hint) for p in error.problems]
    car = load_car(parse_document(CAR, "car.yaml", "CD"), pack.vocabulary)
    judged = inspect_car(replace(pack, clauses=clauses, scope=scope), car, date(2026, 5, 3), "entrant")
    outcomes = [(one.outcome, one.assessment.margin, one.assessment.value) for one in judged.outcomes]
    return {number: _told(clause) for number, clause in clauses.items()}, _values(scope), outcomes


def _told(clause: Clause) -> object:
    told = [(name, e.kind, e.text, e.uses) for check in clause.checks for name, e in check.expressions()]
    return clause.title, clause.check.sentence(), clause.check.conditions, told


def _values(scope: Scope) -> object:
    derived = {name: b for name, b in scope.names.items() if b.expression is not None}
    asked = (("longest", "slack"), (99, 100, 101))
    return {name: (b.kind, b.expression and b.expression.text, b.uses) for name, b in derived.items()}, {
        (name, value): scope.tables[name].lookup((value,))
        for name in asked[0]
        for value in asked[1]
        if name in scope.tables
    }


def _whole(pack: Pack, document: Document) -> tuple[dict[str, Clause], Scope]:
    built = build_pack(document, only=pack.clauses)
    return dict(built.clauses), built.scope


@each_row("edits", list(EDITS.values()), ids=list(EDITS))
def test_an_edit_is_read_as_if_all_had_been_read(edits: tuple[Edit, ...]) -> None:
    pack = build_pack(parse_document(TEXT, "pack.yaml", "PK"))
    document = pack.document.edited(edits, "PK799")
    again = _read(pack, lambda: read_again(pack, document, pack.clauses))
    assert again == _read(pack, lambda: _whole(pack, document))
    assert again != _read(pack, lambda: (dict(pack.clauses), pack.scope)), "the edit changes something"


@pytest.mark.deep
def test_so_is_every_slip_of_the_sample_pack() -> None:
    pack = load_edition(str(ROOT / "rulepacks/dunlin/2026.1.yaml"))
    tried = 0
    for mutation in mutations_of(pack):
        if mutation.changes[0].path[0] == "clauses":
            continue
        document = pack.document.edited(mutation.changes, "PK799")
        again, _ = read_again(pack, document, mutation.clauses)
        whole = build_pack(document, only=mutation.clauses).clauses
        assert {n: _told(c) for n, c in again.items()} == {n: _told(c) for n, c in whole.items()}
        tried += 1
    assert tried > 40
