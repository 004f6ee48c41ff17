"""The sample meeting: its files are those that its script makes, and its day is the one that its README tells."""

from __future__ import annotations

import importlib.util
import shutil
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Protested,
    Weighed,
)
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import COMPLIES, EXCLUDED, FAILS, WITHDRAWN, standings
from checker.meeting.standing.verifying import verify
from tests.conftest import ROOT
from tests.meeting.tampering import name_random_changes

SAMPLE = ROOT / "samples" / "meeting"


def script(name: str) -> ModuleType:
    """A script of the sample as a module."""
    spec = importlib.util.spec_from_file_location(f"sample_meeting_{name}", SAMPLE / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def test_the_files_are_those_that_the_script_makes(tmp_path: Path) -> None:
    script("make").main(tmp_path)
    made = {file.relative_to(tmp_path): file.read_bytes() for file in tmp_path.rglob("*") if file.is_file()}
    assert len(made) == 34
    kept = {
        file.relative_to(SAMPLE): file.read_bytes()
        for file in SAMPLE.rglob("*")
        if file.is_file() and file.suffix not in (".py", ".pyc") and file.name != "day.schema.json"
    }
    assert made == kept


@pytest.mark.deep
def test_the_day_is_played_as_its_readme_tells(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    with script("replay").replay(path) as meeting:
        day = meeting.day
        last = day.hash
        found = {one.car: one for one in standings(meeting)}
        entries = meeting.store.entries()
    assert len(found) == 30
    assert {one.status for one in found.values()} == {COMPLIES, EXCLUDED, FAILS, WITHDRAWN}
    assert {number for number, one in found.items() if one.status == FAILS} == {"91"}
    assert found["35"].status == EXCLUDED
    assert found["18"].status == WITHDRAWN
    assert found["77"].late

    readings = [e for e in entries if e.kind == "weighed"]
    assert len(readings) == 68
    again = {number: day.cars[number].sets(SCRUTINEERING) for number in day.cars}
    assert {number for number, sets in again.items() if len(sets) == 2} == {"45", "20", "28"}
    for number in ("45", "20", "28"):
        first, second = (r.content for r in day.cars[number].judged)
        assert first.outcomes["3.1"] == "not_shown", "weighings that do not go together decide nothing"
        assert second.outcomes["3.1"] == "pass"
    bad = [record for record in day.gear_checks if not record.content.good]
    assert [(r.content.pad, r.content.shown, r.at[11:16]) for r in bad] == [("rear_left", "11.0 kg", "12:41")]

    assert found["91"].margins == {"3.1": "-41/10 kg"}
    assert found["35"].margins == {"3.6": "-3/2 kg"}
    (protest,) = day.cars["35"].of(Protested)
    assert day.cars["35"].rulings()["3.6"].content.protest == protest.number
    assert found["3"].computed == "no"
    assert found["3"].rulings[0].decision == "allow"

    puffin = day.cars["15"].of(Weighed)
    assert [bool(record.content.corrects) for record in puffin] == [True, False]
    assert day.imports[0].content.rows == 12
    assert {a.content.car: a.content.value for a in day.announced}["27"] == "winner"
    assert [car.number for car in day.cars.values() if "after the final" in car.occasions()] == [
        "27",
        "78",
        "11",
    ]

    with Meeting.open(path, writing=False) as meeting:
        for car in meeting.day.cars.values():
            whole = meeting.judgement(car, afresh=True).as_content("")
            assert meeting.judgement(car, measured=True).as_content("") == whole

    verification = verify(path, [last])
    assert verification.sound
    assert verification.recomputed == 38
    name_random_changes(path.read_bytes(), tmp_path, count=100, seed=20260524)


@pytest.mark.deep
def test_the_same_steps_give_the_same_record_to_its_last_hash(tmp_path: Path) -> None:
    """Shown on the morning's first steps."""
    folder = tmp_path / "morning"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("*.py", "__pycache__"))
    lines = (folder / "day.yaml").read_text().splitlines(keepends=True)
    (folder / "day.yaml").write_text("".join(lines[:20]))
    hashes = set()
    for turn in range(2):
        with script("replay").replay(tmp_path / f"{turn}.meeting", folder) as meeting:
            hashes.add(meeting.day.hash)
            assert meeting.day.number > 40
    assert len(hashes) == 1


def test_every_step_of_the_script_is_one_that_the_player_knows() -> None:
    from checker.reading.strict_yaml import read_document

    data: Any = read_document(SAMPLE / "day.yaml", "MT").data
    known = script("replay").Player(None, SAMPLE).doing
    assert {step["do"] for step in data["steps"]} == set(known)
    times = [step["at"] for step in data["steps"]]
    assert times == sorted(times)
