"""A small formula and small days for tests: quick to judge, with one of everything that a meeting meets."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from checker.meeting.record.car_contents import SCRUTINEERING
from checker.meeting.session.session import Meeting
from checker.meeting.tables.scale_reading import ScaleReading
from checker.meeting.taking.entering import enter, handed_in
from checker.meeting.taking.opening import Opening, open_meeting
from checker.meeting.taking.weighing import Settled, weigh
from checker.reading.problems import InputError
from tests.meeting.records import ToldClock

DAY = "2026-05-03"

PACK = """\
pack: plover
edition: "1"
title: Plover rules
in_force: {from: 2026-01-01}
course: anticlockwise
currency: GBP
decision: {official: benefit_to_entrant, confidence: 95 %}
facts:
  seals.sump: {type: text, stated_by: official}
  logbook.sump_seal: {type: text}
  dimensions.ride_height: {unit: mm, measured_with: step gauge, range: [20 mm, 300 mm]}
  engine.inlet_bore: {unit: mm, measured_with: plug gauge, range: [10 mm, 80 mm]}
  body.sound: {type: truth}
  event.wet: {type: truth, stated_by: organiser, default: false}
  results.place: {one_of: [winner, lower], stated_by: organiser, default: lower}
  results.carried: {unit: kg, stated_by: organiser, default: 0 kg}
lists:
  components: {fields: {thickness: {unit: mm, optional: true, measured_with: caliper}}}
instruments:
  pads: {resolution: 0.5 kg, permissible_error: 0.5 kg}
  bridge: {resolution: 1 kg, permissible_error: 1 kg}
  step gauge: {resolution: 1 mm, permissible_error: 0.2 mm}
  plug gauge: {resolution: 0.1 mm, permissible_error: 0.01 mm}
  caliper: {resolution: 0.05 mm, permissible_error: 0.05 mm}
derived:
  ballast_due: {formula: "min(10 kg, results.carried + (4 kg if results.place == 'winner' else 0 kg))", unit: kg}
categories: [brakes/disc, body/panel]
materials: {steel: []}
clauses:
  "1": {title: Weight, text: At least 580 kg., check: {limit: weight.total, at_least: 580 kg, condition: as_weighed}}
  "2": {title: Inside, text: At most 53 %., check: {limit: percentage.inside, at_most: 53 %, condition: as_weighed}}
  "3": {title: Ride height, text: At least 85 mm., check: {limit: dimensions.ride_height, at_least: 85 mm}}
  "4": {title: Inlet, text: At most 36 mm., check: {limit: engine.inlet_bore, at_most: 36.0 mm}}
  "5": {title: Seal, text: As in the log book., check: {limit: seals.sump, exactly: logbook.sump_seal}}
  "6": {title: Discs, text: At least 8 mm., check: {within: brakes/disc, limit: thickness, at_least: 8 mm}}
  "7": {title: Body, text: Sound., severity: advisory, check: {holds: body.sound}}
  "8": {title: Ballast due, text: Carried., check: {limit: sum(b.mass for b in ballast), at_least: ballast_due}}
"""

PROCEDURE = """\
procedure: plover
weighings: 2
pads: swapped side to side
presented: {driver: out, wear: new}
reweigh: {when: after a fail, at_most: 1}
steps:
  - {name: papers, clauses: ["5"]}
  - {name: scales, weighing: true}
  - {name: gauges, clauses: ["3", "4"]}
after_race: {weighings: 1, clauses: ["1"]}
success: {place: results.place, places: {winner: 1}, others: lower, carried_over: results.carried, due: ballast_due}
"""

LOADS = {"front_left": "155.0", "front_right": "141.0", "rear_left": "153.0", "rear_right": "141.0"}
"""590 kg, 308 of them inside: 52.2 %."""


def car_text(number: str = "7", name: str = "Ruff", **more: str) -> str:
    """A declaration that complies once its seal is read; `more` replaces whole sections."""
    sections = {
        "weighing": "{fuel: 6 L, driver: out, tyres: dry, wear: new, readings: [{front_left: 155.0 kg,"
        " front_right: 141.0 kg, rear_left: 153.0 kg, rear_right: 141.0 kg}]}",
        "fuel": "{capacity: 20 L, density: 0.75 kg/L}",
        "tyres": "{dry: {front: {mass: 14 kg}, rear: {mass: 14 kg}}}",
        "dimensions": "{ride_height: 90 mm}",
        "engine": "{inlet_bore: 35 mm}",
        "logbook": f"{{sump_seal: SO {number}}}",
        "body": "{sound: true}",
        "ballast": "[{label: B1, mass: 9.0 kg}]",
        "components": "[{name: front discs, category: brakes/disc, thickness: 9 mm},"
        " {name: wing, category: body/panel, parts: [{name: stay, materials: [steel]}]}]",
        **more,
    }
    lines = [f"{name}: {text}" for name, text in sections.items()]
    return f'formula: plover\ncar: {{number: "{number}", name: {name}}}\n' + "\n".join(lines) + "\n"


def pack_folder(tmp_path: Path, pack: str = PACK, procedure: str | None = PROCEDURE) -> Path:
    folder = tmp_path / "plover"
    folder.mkdir(exist_ok=True)
    (folder / "1.yaml").write_text(pack)
    if procedure is not None:
        (folder / "procedure.yaml").write_text(procedure)
    return folder


def a_meeting(
    tmp_path: Path,
    cars: Mapping[str, str] | None = None,
    *,
    name: str = "day.meeting",
    on: str = DAY,
    pack: str = PACK,
    procedure: str | None = PROCEDURE,
) -> Meeting:
    """A meeting with these cars entered (text by number); by default car 7, called Ruff."""
    folder = pack_folder(tmp_path, pack, procedure)
    meeting = open_meeting(tmp_path / name, Opening(str(folder), on, ("KV", "TB"), name="m"), ToldClock())
    home = tmp_path / f"cars of {name}"
    home.mkdir()
    for number, text in (cars if cars is not None else {"7": car_text()}).items():
        (home / f"{number}.yaml").write_text(text)
    if any(home.iterdir()):
        for answer in enter(meeting, handed_in(meeting, [home]), "KV"):
            assert not answer.problems, answer.problems
    return meeting


def weighed(meeting: Meeting, car: str = "7", loads: Mapping[str, str] = LOADS, **more: str) -> Settled:
    """One reading on the pads, with 6 L on board unless said otherwise."""
    first = not meeting.car(car).weighings(more.get("occasion", SCRUTINEERING)) or "again" in more
    fuel = {"fuel": "6 L"} if first and "fuel" not in more else {}
    return weigh(meeting, ScaleReading(car, loads, **{**fuel, **more}), "TB")  # type: ignore[arg-type]


def shifted(**kilograms: float) -> dict[str, str]:
    """`LOADS` with some wheels heavier or lighter."""
    return {wheel: str(float(load) + kilograms.get(wheel, 0)) for wheel, load in LOADS.items()}


def refused(error: pytest.ExceptionInfo[InputError]) -> str:
    """The code of the first problem."""
    return error.value.problems[0].code
