"""A small rulebook and cars for it, for tests of studies: quick to read and to judge."""

from __future__ import annotations

import json
from datetime import date
from functools import lru_cache

from checker.pack.editions.loading import build_pack
from checker.pack.model import Pack
from checker.reading.document import REMOVE, Document, Edit, Plain
from checker.reading.paths import parse_path
from checker.reading.strict_yaml import parse_document

DAY = date(2026, 5, 3)

PACK = """\
pack: test
edition: "1"
title: Test formula
in_force: {from: 2026-01-01}
course: anticlockwise
currency: GBP
facts:
  frame.width: {unit: mm, range: [0 mm, 9000 mm]}
  frame.length: {unit: mm}
  engine.capacity: {unit: cc, default: 100 cc}
  body.sound: {type: truth}
  spare.size: {unit: mm, optional: true}
lists:
  joints:
    known_by: name
    fields:
      name: {type: text}
      washer: {unit: mm}
      bore: {unit: mm}
      overlap: {formula: washer - bore, unit: mm}
categories: [brakes/disc, safety/belts]
materials: {light metal: [aluminium, titanium], steel: []}
instruments: {tape: {resolution: 1 mm}}
derived:
  area: {formula: frame.width * frame.length, unit: m2}
tables:
  longest:
    by: [capacity]
    rows:
      - {capacity: up to 100 cc, value: 1800 mm}
      - {capacity: above 100 cc, value: 1900 mm}
clauses:
  "1": {title: Width, text: At most 1400 mm wide., check: {limit: frame.width, at_most: 1400 mm}}
  "2": {title: Length, check: {limit: frame.length, at_most: longest(engine.capacity)}}
  "3": {title: Area, check: {limit: area, at_most: 3 m2}}
  "4": {title: Joints, check: {each: joints, limit: overlap, at_least: 2 mm}}
  "5": {title: Metals, check: {within: brakes, banned: [titanium]}}
  "6": {title: Belts, check: {within: safety/belts, valid: end_of_month(made) + 5 years}}
  "7": {title: Body, check: {holds: body.sound}}
  "8": {title: Weight, check: {limit: weight.total, at_least: 500 kg, condition: any_without_driver}}
  "9": {title: Worn weight, severity: advisory, check: {limit: percentage.inside, at_most: 53 %, condition: as_weighed}}
"""

CAR = """\
formula: test
event: {date: 2026-05-03}
car: {number: "7", name: Knot, chassis_built: 2023-04-01}
frame: {width: 1390 mm, length: 1790 mm}
engine: {capacity: 95 cc}
body: {sound: true}
joints: [{name: upper, washer: 18 mm, bore: 15.5 mm}, {name: lower, washer: 19 mm, bore: 15.5 mm}]
components:
  - {name: discs, category: brakes/disc, materials: [steel]}
  - {name: belts, category: safety/belts, made: 2021-05}
weighing:
  fuel: 6 L
  driver: out
  tyres: dry
  readings: [{front_left: 130 kg, front_right: 125 kg, rear_left: 135 kg, rear_right: 130 kg}]
dimensions:
  {wheelbase_left: 2200 mm, wheelbase_right: 2200 mm, front_width_over_tyres: 1700 mm, rear_width_over_tyres: 1700 mm}
tyres: {dry: {front: {mass: 14 kg, section: 200 mm}, rear: {mass: 14 kg, section: 200 mm}}}
fuel: {capacity: 20 L, unusable: 0 L, density: 0.75 kg/L, at: {behind_front_axle: 1800 mm, right_of_centre: 0 mm}}
wear: {front_left: 0.4 kg, front_right: 0.6 kg, rear_left: 0.4 kg, rear_right: 0.6 kg}
"""


@lru_cache
def _pack_text() -> Document:
    return parse_document(PACK.encode(), "pack.yaml", "PK")


def edited(changes: dict[str, Plain]) -> Document:
    """The text of the small rulebook with values put at paths; None takes the path away."""
    wanted = [Edit(parse_path(path), REMOVE if value is None else value) for path, value in changes.items()]
    return _pack_text().edited(wanted, "PK199")


def pack(changes: dict[str, Plain] | None = None) -> Pack:
    """The small rulebook, changed at these paths."""
    return build_pack(edited(changes or {}))


def car_document(changes: dict[str, Plain] | None = None) -> Document:
    """The small rulebook's legal car, changed at these paths."""
    document = parse_document(CAR.encode(), "car.yaml", "CD")
    wanted = [
        Edit(parse_path(path), REMOVE if value is None else value) for path, value in (changes or {}).items()
    ]
    return document.edited(wanted, "CD199")


def car_line(changes: dict[str, Plain] | None = None) -> str:
    """The same as one line of JSON."""
    return json.dumps(car_document(changes).data, default=str)
