"""A new pack to begin with: five clauses, cases on their limits, a car, and the schemas for editors.

It lints clean and its cases come out, so that an author begins with something that works and changes it piece by piece.
"""

from __future__ import annotations

import json
from collections.abc import Mapping

from checker.pack.editions.loading import build_pack
from checker.pack.editors.beginnings import BEGINNINGS, Beginning
from checker.pack.editors.pack_schema import declaration_schema, pack_schema
from checker.reading.patterns import pattern
from checker.reading.strict_yaml import parse_document

NAME = pattern(r"[a-z][a-z0-9-]{0,39}")
"""What a new pack may be called: small letters, digits and -, beginning with a letter."""

PACK_SCHEMA, DECLARATION_SCHEMA = "pack.schema.json", "declaration.schema.json"

_PACK = """\
# yaml-language-server: $schema={schemas}pack.schema.json
# The rules of the {name} formula. Change a clause, then run: checker pack lint {name}
pack: {name}
edition: "2026.1"
title: {title} technical regulations
in_force: {{from: 2026-01-01}}
course: anticlockwise                 # so inside is left; clockwise: inside is right
currency: GBP

# What entrants declare besides the standard facts. A range catches slips of the pen; it is no rule.
facts:
  engine.capacity: {{unit: cc, range: [100 cc, 8000 cc], about: Swept volume of all cylinders}}

categories: [brakes/disc, brakes/pad, suspension/damper, safety/belts]
materials: {{steel: [], aluminium: [], carbon composite: [carbon fibre, carbon-carbon]}}

tables:
  minimum_weight:
    by: [capacity]
    rows:
      - {{capacity: up to 1300 cc, value: 560 kg}}      # 1300 cc itself belongs here
      - {{capacity: above 1300 cc, value: 585 kg}}

clauses:
  "1":
    title: Minimum weight
    text: Without its driver the car weighs at least 560 kg, above 1300 cc at least 585 kg, at any time.
    check: {{limit: weight.total, at_least: minimum_weight(engine.capacity), condition: any_without_driver}}
  "2":
    title: Inside weight
    text: The two wheels nearer the centre of the course carry at most 53.0 % of the total weight.
    check: {{limit: percentage.inside, at_most: 53.0 %, condition: any}}
  "3":
    title: Price of a damper
    text: A damper costs at most 340 GBP.
    check: {{within: suspension/damper, limit: price, at_most: 340 GBP}}
  "4":
    title: Brake materials
    text: No part of the brakes is made of a carbon composite.
    check: {{within: brakes, banned: [carbon composite]}}
  "5":
    title: Belts in date
    text: Belts may be used until the last day on their label.
    check: {{within: safety/belts, valid: expires}}

cases: cases.yaml
"""

_CASES = """\
# yaml-language-server: $schema={schemas}pack.schema.json
# Each clause once on its limit, which passes, and once just beyond it, which fails.
- name: the car as it is
  from: car.yaml
  expect: {{"1": pass, "2": pass, "3": pass, "4": pass, "5": pass}}

- name: on the minimum weight with an empty tank
  from: car.yaml
  set: {{"weighing.readings[0].rear_right": 130.0 kg, weighing.fuel: 0 L, fuel.capacity: 0 L, wear.rear_right: 0 kg}}
  expect: {{"1": {{outcome: pass, margin: 0 kg}}}}
- name: half a kilogram less
  from: car.yaml
  set: {{"weighing.readings[0].rear_right": 129.5 kg, weighing.fuel: 0 L, fuel.capacity: 0 L, wear.rear_right: 0 kg}}
  expect: {{"1": {{outcome: fail, margin: -0.5 kg}}}}

- name: 53 % inside in every state
  from: car.yaml
  set:
    weighing.readings: [{{front_left: 159 kg, front_right: 141 kg, rear_left: 159 kg, rear_right: 141 kg}}]
    weighing.fuel: 0 L
    fuel.capacity: 0 L
    wear.rear_right: 0 kg
    driver.mass: 82 kg
    driver.at: {{behind_front_axle: 1150 mm, left_of_centre: 46.5 mm}}
    tyres: {{dry: {{front: {{mass: 14 kg, section: 210 mm}}, rear: {{mass: 15 kg, section: 210 mm}}}}}}
    dimensions.rear_width_over_tyres: 1760 mm
  expect: {{"2": {{outcome: pass, margin: 0 %}}}}
- name: 53.1 % inside
  from: car.yaml
  set:
    weighing.readings: [{{front_left: 159.3 kg, front_right: 140.7 kg, rear_left: 159.3 kg, rear_right: 140.7 kg}}]
  expect: {{"2": fail}}

- name: dampers at the limit
  from: car.yaml
  set: {{"components[0].price": 340 GBP}}
  expect: {{"3": {{outcome: pass, margin: 0 GBP}}}}
- name: dampers a pound too dear
  from: car.yaml
  set: {{"components[0].price": 341 GBP}}
  expect: {{"3": {{outcome: fail, margin: -1 GBP}}}}

- name: a disc of steel and aluminium
  from: car.yaml
  set: {{"components[1].materials": [steel, aluminium]}}
  expect: {{"4": {{outcome: pass, margin: 0}}}}
- name: a pad of carbon-carbon
  from: car.yaml
  set: {{"components[2].materials": [carbon-carbon]}}
  expect: {{"4": {{outcome: fail, margin: -4}}}}        # there are four of them
- name: a material that nobody knows
  from: car.yaml
  set: {{"components[2].materials": [carbonium]}}
  expect: {{"4": not_shown}}

- name: belts on their last day
  from: car.yaml
  on: 2026-05-03
  set: {{"components[3].expires": 2026-05-03}}
  expect: {{"5": {{outcome: pass, margin: 0 days}}}}
- name: belts a day late
  from: car.yaml
  on: 2026-05-03
  set: {{"components[3].expires": 2026-05-02}}
  expect: {{"5": {{outcome: fail, margin: -1 day}}}}
"""

_CAR = """\
# yaml-language-server: $schema={schemas}declaration.schema.json
# A car to judge by the {name} formula. Run: checker inspect {name}/car.yaml --pack {name}
formula: {name}
car: {{number: "27", name: Redshank}}
event: {{date: 2026-05-03}}

weighing:
  fuel: 6 L                       # on board when weighed
  driver: out                     # or aboard
  tyres: dry
  readings:
    - {{front_left: 155.0 kg, front_right: 146.0 kg, rear_left: 154.0 kg, rear_right: 147.0 kg}}

dimensions:
  front_width_over_tyres: 1760 mm
  rear_width_over_tyres: 1768 mm
  wheelbase_left: 2210 mm
  wheelbase_right: 2208 mm

tyres:                            # what a wheel and its tyre weigh, and how wide the section is
  dry: {{front: {{mass: 14.2 kg, section: 210 mm}}, rear: {{mass: 14.8 kg, section: 215 mm}}}}

fuel: {{capacity: 22 L, density: 0.745 kg/L, at: {{behind_front_axle: 2050 mm, left_of_centre: 0 mm}}}}
driver: {{mass: 82 kg, at: {{behind_front_axle: 1150 mm, right_of_centre: 40 mm}}}}
wear: {{front_left: 0 kg, front_right: 0 kg, rear_left: 0 kg, rear_right: 0.4 kg}}      # lost from new to worn
engine: {{capacity: 1428 cc}}

components:
  - {{name: front dampers, category: suspension/damper, count: 2, price: 296.00 GBP, materials: [steel, aluminium]}}
  - {{name: front discs, category: brakes/disc, count: 2, materials: [steel]}}
  - {{name: front pads, category: brakes/pad, count: 4, materials: [steel]}}
  - {{name: belts, category: safety/belts, expires: 2027-12-31}}
"""


def new_pack(name: str, beginning: str = "") -> Mapping[str, str]:
    """The files of a new pack by their names: the pack, its cases, a car, and the schemas that these point to.

    Args:
        name: Of the formula, as `NAME` allows.
        beginning: One of `BEGINNINGS`; "" for the five clauses that every beginning has.
    """
    title = name.replace("-", " ").title()
    texts = {"pack.yaml": _PACK, "cases.yaml": _CASES, "car.yaml": _CAR}
    files = {file: text.format(name=name, title=title, schemas="") for file, text in texts.items()}
    if beginning:
        files = _begun_with(BEGINNINGS[beginning], files)
    pack = build_pack(parse_document(files["pack.yaml"].encode(), "pack.yaml", "PK"))
    return {
        **files,
        PACK_SCHEMA: as_text(pack_schema()),
        DECLARATION_SCHEMA: as_text(declaration_schema(pack)),
    }


def _begun_with(beginning: Beginning, files: Mapping[str, str]) -> dict[str, str]:
    """The common texts with what one sort of formula adds."""
    made = dict(files)
    for common, own in beginning.put_for:
        made = {file: text.replace(common, own) for file, text in made.items()}
    made["pack.yaml"] = made["pack.yaml"].replace("\n\ncategories:", f"\n{beginning.facts}\ncategories:", 1)
    made["pack.yaml"] = made["pack.yaml"].replace(
        "\ncases: cases.yaml", f"{beginning.clauses}\ncases: cases.yaml", 1
    )
    everything = '{"1": pass, "2": pass, "3": pass, "4": pass, "5": pass'
    made["cases.yaml"] = (
        made["cases.yaml"].replace(everything, f'{everything}, "6": pass, "7": pass') + beginning.cases
    )
    made["car.yaml"] += beginning.car
    return made


def as_text(schema: Mapping[str, object]) -> str:
    """A schema as it stands in a file."""
    return json.dumps(schema, indent=1, ensure_ascii=False) + "\n"
