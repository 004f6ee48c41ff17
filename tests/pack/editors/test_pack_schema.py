"""The JSON Schemas: valid themselves, accept every pack and sample, refuse what the loader refuses by form."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import jsonschema_rs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from checker.kinds import all_kinds
from checker.pack.editions.loading import load_edition
from checker.pack.editors.pack_schema import declaration_schema, pack_schema
from checker.pack.editors.schema_parts import DAY
from checker.quantities.days import parse_day
from checker.reading.strict_yaml import parse_document, read_document
from tests.examples import each_row, quick_first

ROOT = Path(__file__).parents[3]
DUNLIN = ROOT / "rulepacks" / "dunlin"
PACK = pack_schema()
DECLARATION = declaration_schema(load_edition(str(DUNLIN / "2026.1.yaml")))
PACK_FILES = sorted(
    path
    for folder in (DUNLIN, *(ROOT / "tests").rglob("packs"))
    for path in folder.rglob("*.yaml")
    if path.read_text(encoding="utf-8").lstrip("# \n").startswith(("pack:", "bulletin:", "approvals:"))
    or any(
        line.startswith(("pack:", "bulletin:", "approvals:"))
        for line in path.read_text(encoding="utf-8").splitlines()
    )
)
SAMPLES = sorted(
    path
    for path in (ROOT / "samples").rglob("*.yaml")
    if "formula: dunlin" in path.read_text(encoding="utf-8")
)


def as_json(data: Any) -> Any:
    """Plain data with the numbers that other programs know."""
    if isinstance(data, Fraction):
        return int(data) if data.denominator == 1 else float(data)
    if isinstance(data, dict):
        return {key: as_json(value) for key, value in data.items()}
    return [as_json(value) for value in data] if isinstance(data, list) else data


def read(path: Path) -> Any:
    return as_json(read_document(str(path), "PK").data)


def parsed(text: str) -> Any:
    return as_json(parse_document(text.encode(), "text", "PK").data)


_VALIDATORS: dict[int, tuple[Any, Any, Any]] = {}
"""By the schema's identity: the schema, which so stays alive, and both validators of it, which take long to make."""


def validators(schema: dict[str, Any]) -> tuple[Any, Any]:
    if id(schema) not in _VALIDATORS:
        _VALIDATORS[id(schema)] = schema, Draft202012Validator(schema), jsonschema_rs.validator_for(schema)
    return _VALIDATORS[id(schema)][1:]


def errors_of(schema: dict[str, Any], data: Any) -> list[str]:
    """What the one validator finds; the other must find something where it does."""
    ours, theirs = validators(schema)
    found = [f"{list(e.absolute_path)}: {e.message}" for e in ours.iter_errors(data)]
    assert theirs.is_valid(data) == (not found)
    return found


def accepts(schema: dict[str, Any], data: Any) -> bool:
    """What both validators say, which must be the same."""
    ours, theirs = validators(schema)
    said = bool(ours.is_valid(data))
    assert theirs.is_valid(data) == said
    return said


@pytest.mark.parametrize("path", quick_first(PACK_FILES, 3))
def test_every_pack_is_accepted(path: Path) -> None:
    assert errors_of(PACK, read(path)) == []


@pytest.mark.parametrize("path", quick_first(SAMPLES, 3))
def test_every_sample_is_accepted(path: Path) -> None:
    assert errors_of(DECLARATION, read(path)) == []


def test_every_kind_is_in_the_schema_and_its_examples_are_accepted() -> None:
    check = {"$defs": PACK["$defs"], "$ref": "#/$defs/check"}
    for key, kind in all_kinds().items():
        assert f"check_{key}" in PACK["$defs"]
        for example in kind.EXAMPLES:
            assert accepts(check, parsed(example.check))


HEAD = 'pack: x\nedition: "1"\ntitle: T\nin_force: {from: 2026-01-01}\n'


@each_row(
    ("text", "sound"),
    [
        (HEAD + 'clauses: {"1": {check: {limit: a.b, at_most: 5 mm}}}', True),
        (HEAD + 'clauses: {"1": {check: {limit: a.b, at_moast: 5 mm}}}', False),
        (HEAD + 'clauses: {"1": {check: {limit: a.b, at_most: 5 mm, holds: true}}}', False),
        (HEAD + 'clauses: {"1": {check: {at_most: 5 mm}}}', False),
        (HEAD + 'clauses: {"1": {check: {all_of: [{limit: a.b, at_most: 5 mm}, {hold: true}]}}}', False),
        (HEAD + 'clauses: {"1": {check: {at_least_of: {count: 1, of: [{holds: true}]}}}}', True),
        (HEAD + 'clauses: {"1": {check: {at_least_of: {count: 1}}}}', False),
        (HEAD + 'clauses: {"1": {check: {each: x, where: y, if_none: maybe, holds: true}}}', False),
        (HEAD + 'clauses: {"1": {check: {holds: true}, severity: mild}}', False),
        (HEAD + 'clauses: {"1": {check: {holds: true}, since: yesterday}}', False),
        (HEAD + 'clauses: {"1": {check: {holds: true}, earlier: [{before: 2021-01-01, check: none}]}}', True),
        (
            HEAD + 'clauses: {"1": {check: {holds: true}, earlier: [{before: 2021-01-01, check: nothing}]}}',
            False,
        ),
        (HEAD + 'clauses: {"1": {title: T}}', False),
        (HEAD + 'facts: {a.b: {unit: mm}}\nclauses: {"1": {check: {holds: true}}}', True),
        (HEAD + 'facts: {a: {unit: mm}}\nclauses: {"1": {check: {holds: true}}}', False),
        (HEAD + 'facts: {a.b: {units: mm}}\nclauses: {"1": {check: {holds: true}}}', False),
        (HEAD + 'colour: red\nclauses: {"1": {check: {holds: true}}}', False),
        (HEAD, False),
        (HEAD + 'clauses: {"1": {check: {limits: a.b, at_most: 5 mm}}}', False),
        (HEAD + 'clauses: {"1": {check: {limits: }}}', False),
        (HEAD + 'clauses: {"1": {check: {}}}', False),
        (HEAD + 'clauses: {"1": {check: {holds: true}, since: 2026-02-30}}', False),
        (HEAD + 'clauses: {"1": {check: {holds: true}, formerly: 3.1}}', False),
        (HEAD + 'clauses: {"1": {check: {holds: true}, instead_of: [3.1]}}', False),
        (HEAD + 'facts:\nlists:\ntables:\ncategories:\nclauses: {"1": {check: {holds: true}}}', True),
        (HEAD + 'course:\nclauses: {"1": {check: {holds: true}}}', False),
        (
            "bulletin: B1\namends: {pack: x, edition: '1'}\nin_force: {from: 2026-01-01}\nchanges: [{withdraw: '1'}]",
            True,
        ),
        (
            "bulletin: B1\namends: {pack: x, edition: '1'}\nin_force: {from: 2026-01-01}\nchanges: [{drop: '1'}]",
            False,
        ),
        ("approvals: [{reference: A, clauses: ['1']}]", True),
        ("approvals: [{clauses: ['1']}]", False),
        ("[{name: a, expect: {'1': pass, '2': {outcome: fail, margin: -1 kg}}}]", True),
        ("[{name: a, expect: {'1': passed}}]", False),
    ],
)
def test_what_a_pack_may_look_like(text: str, sound: bool) -> None:
    assert accepts(PACK, parsed(text)) is sound


@each_row(
    ("more", "sound"),
    [
        ("engine: {capacity: 1428 cc}", True),
        ("engine: {capacity: 1.428 L}", True),
        ("engine: {capacity: {value: 1428 cc, with: burette, uncertainty: 0.5 cc}}", True),
        ("engine: {capacity: 1428}", False),
        ("engine: {capacity: 1428 kg}", False),
        ("engine: {capacity: {with: burette}}", False),
        ("engine: {capasity: 1428 cc}", False),
        ("engine: {position: front}", True),
        ("engine: {position: fornt}", False),
        ("engine: {cylinders: 4}", True),
        ("engine: {cylinders: 4.5}", False),
        ("dimensions: {front_width_over_tyres: 69 5/8 in}", True),
        ("dimensions: {front_width_over_tyres: 5 ft 10 1/4 in}", True),
        ("dimensions: {ride_height: [94 mm, 93 mm]}", True),
        ("dimensions: {ride_height: 94 mm}", True),
        ("fuel: {density: 0.745 kg/L, at: {behind_front_axle: -100 mm, left_of_centre: 5 mm}}", True),
        ("fuel: {density: 6.2 lb/ft}", True),  # any joined unit: the loader knows better
        ("fuel: {at: {behind: 5 mm}}", False),
        ("cage: {certified: 2025-11-20}", True),
        ("cage: {certified: 20 November}", False),
        (
            "weighing: {readings: [{front_left: 158.5 kg, front_right: 1 kg, rear_left: 2 kg, rear_right: 3 kg, pads: as marked}]}",
            True,
        ),
        ("weighing: {readings: [{total: 600 kg}]}", True),
        ("weighing: {readings: [{front: 600 kg}]}", False),
        ("weighing: {readings: []}", False),
        ("tyres: {dry: {front: {mass: 14.2 kg, section: 215 mm}}}", True),
        ("tyres: {dry: {middle: {mass: 14.2 kg}}}", False),
        ("wear: {front_left: 0.4 kg}", True),
        (
            "components: [{name: a, category: brakes/disc, count: 2, materials: [unheard of], parts: [{name: b}]}]",
            True,
        ),
        ("components: [{name: a, category: brake/disc}]", False),
        ("components: [{name: a, count: 0}]", False),
        ("components: [{name: a, counted_price: 5 GBP}]", False),
        ("components: [{name: a, price: 296.00 GBP, made: 2023-08}]", True),
        ("components: [{name: a, price: 296.00 USD}]", False),
        ("ballast: []", True),
        ("approvals: [A-1]", True),
        ("engine:\nballast:\ncomponents:\ninstruments:\nweighing: {readings: }\nfuel: {at: }", True),
        ("components: [{name: a, parts: , at: }]\ntyres: {dry: {front: }}", True),
        ("tyres: {dry: }", False),
        ("engine: {capacity: }", False),
        ("weighing: {driver: Out}", True),
        ("weighing: {driver: outside}", False),
        ("components: [{name: a, category: Chassis/Frame}]", True),
        ("unfinished: [Components]", True),
        ("cage: {certified: 2026-02-30}", False),
        ("cage: {certified: 2024-02-29}", True),
        ("cage: {certified: 2023-02-29}", False),
        ("cage: {certified: 0000-01-01}", False),
        ("engine: {capacity: 1428 CC}", False),
        ("instruments: {pads: {resolution: 0.5 kg}}", True),
        ("colour: red", False),
    ],
)
def test_what_a_declaration_may_look_like(more: str, sound: bool) -> None:
    assert accepts(DECLARATION, parsed(f'formula: dunlin\ncar: {{number: "27"}}\n{more}\n')) is sound


def test_only_the_formula_and_the_number_are_needed() -> None:
    assert accepts(DECLARATION, parsed('formula: dunlin\ncar: {number: "27"}\n'))
    assert not accepts(DECLARATION, parsed('car: {number: "27"}\n'))
    assert not accepts(DECLARATION, parsed("formula: dunlin\ncar: {}\n"))
    assert not accepts(DECLARATION, parsed('formula: kart\ncar: {number: "27"}\n'))


def fitting(schema: Any, root: dict[str, Any]) -> int:
    """How many defaults stand in a schema, after each was held to its own schema."""
    found = 0
    if isinstance(schema, dict):
        if "default" in schema and not isinstance(schema["default"], dict):
            assert accepts({**schema, "$defs": root["$defs"]}, schema["default"]), schema
            found += 1
        return found + sum(fitting(one, root) for one in schema.values())
    return sum(fitting(one, root) for one in schema) if isinstance(schema, list) else 0


def test_every_default_fits_its_own_schema() -> None:
    assert fitting(DECLARATION, DECLARATION) > 3
    assert fitting(PACK, PACK) == 0
    record = DECLARATION["properties"]["record"]["properties"]["breaches"]
    assert (record["default"], record["type"]) == (0, "integer")


@given(st.dates() | st.tuples(st.integers(1890, 2210), st.integers(0, 13), st.integers(0, 32)))
def test_a_day_is_right_where_the_loader_says_so(day: date | tuple[int, int, int]) -> None:
    text = day.isoformat() if isinstance(day, date) else "{:04}-{:02}-{:02}".format(*day)
    try:
        parse_day(text)
        right = True
    except ValueError:
        right = False
    assert accepts(DAY, text) is right


def test_help_is_in_the_schema() -> None:
    capacity = DECLARATION["properties"]["engine"]["properties"]["capacity"]
    assert "Swept volume" in capacity["description"]
    assert "500 cc to 3000 cc" in capacity["description"]
    assert "Taken: engine cold" in capacity["description"]
    place = DECLARATION["properties"]["results"]["properties"]["last_place"]
    assert place["default"] == "lower"
    assert "organiser" in place["description"]
