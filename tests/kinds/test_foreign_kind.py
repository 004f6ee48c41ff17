"""A kind from outside, a file beside the others and nothing else, goes through everything that any kind goes through."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

import checker.kinds
from checker.kinds import all_kinds
from checker.pack.editors.pack_schema import pack_schema
from checker.pack.lint.everything import lint
from checker.studies.cases.sound import lint_with_cases
from tests.cli.running import run
from tests.kinds.workbench import judge, shown
from tests.pack.editors.test_pack_schema import accepts, as_json

FOREIGN = ("sequence_of_readings", "both_of")

PACK = """\
pack: trial
edition: "EDITION"
title: Trial rules
in_force: {from: DAY}
currency: GBP
course: anticlockwise
facts:
  body.heights: {unit: mm, several: true}
lists:
  springs: {known_by: name, fields: {name: {type: text}, lengths: {unit: mm, several: true}}}
clauses:
  "1":
    title: Heights
    text: Each ride height is at least RISE mm above the one before.
    check: {sequence_of_readings: body.heights, rising_by: RISE mm}
  "2":
    title: Springs
    text: The lengths of each spring rise.
    check: {each: springs, if_none: pass, sequence_of_readings: lengths}
  "3":
    title: Weights
    text: At least LEAST kg, and at most 60 % inside.
    check:
      condition: any
      both_of:
        - {limit: weight.total, at_least: LEAST kg}
        - {limit: percentage.inside, at_most: 60 %}
  "4":
    title: Either way
    text: Rising heights, or a heavy car.
    check: {any_of: [{sequence_of_readings: body.heights}, {limit: weight.total, at_least: 900 kg, condition: as_weighed}]}
"""
CASES = """\
cases:
  - {name: on the limit, set: {body.heights: [40 mm, 42 mm, 44 mm]}, expect: {"1": {outcome: pass, margin: 0 mm}, "4": pass}}
  - {name: a hair below, set: {body.heights: [40 mm, 42 mm, 43.9 mm]}, expect: {"1": {outcome: fail, margin: -0.1 mm}}}
"""
CAR = """\
formula: trial
car: {number: "5"}
event: {date: 2026-05-03}
body: {heights: [40 mm, 42 mm, 45 mm]}
springs: [{name: front, lengths: [100 mm, 110 mm]}, {name: rear, lengths: [120 mm, 110 mm]}]
weighing: {fuel: 6 L, driver: out, tyres: dry, readings: [{front_left: 150 kg, front_right: 148 kg, rear_left: 172 kg, rear_right: 170 kg}]}
dimensions: {wheelbase_left: 2200 mm, wheelbase_right: 2200 mm, front_width_over_tyres: 1715 mm, rear_width_over_tyres: 1725 mm}
tyres: {dry: {front: {mass: 14 kg, section: 215 mm}, rear: {mass: 15 kg, section: 225 mm}}}
fuel: {capacity: 20 L, density: 0.75 kg/L, at: {behind_front_axle: 1100 mm, right_of_centre: 300 mm}}
driver: {mass: 80 kg, at: {behind_front_axle: 1100 mm, left_of_centre: 0 mm}}
wear: {front_left: 0.5 kg, front_right: 0.5 kg, rear_left: 0.5 kg, rear_right: 0.5 kg}
"""


@pytest.fixture(autouse=True)
def foreign(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Two files of kinds lie in one more folder that the package is made of."""
    monkeypatch.setattr(
        checker.kinds, "__path__", [*checker.kinds.__path__, str(Path(__file__).parent / "foreign")]
    )
    all_kinds.cache_clear()
    yield
    all_kinds.cache_clear()
    for name in FOREIGN:
        sys.modules.pop(f"checker.kinds.{name}", None)


@pytest.fixture
def files(tmp_path: Path) -> Path:
    """A pack by the foreign kinds, its next edition, and a car."""
    folder = tmp_path / "trial"
    folder.mkdir()
    for edition, day, rise, least in (("2026", "2026-01-01", "2", "600"), ("2027", "2027-01-01", "3", "620")):
        told = (
            PACK.replace("EDITION", edition).replace("DAY", day).replace("RISE", rise).replace("LEAST", least)
        )
        (folder / f"{edition}.yaml").write_text(told + (CASES if edition == "2026" else ""), encoding="utf-8")
    (tmp_path / "car.yaml").write_text(CAR, encoding="utf-8")
    return tmp_path


Told = Callable[..., str]


@pytest.fixture
def told(files: Path, capsys: pytest.CaptureFixture[str]) -> Told:
    """What a command prints, told with OLD, NEW and CAR in its line; nothing may be complained of."""

    def command(line: str, code: int = 0) -> str:
        places = {
            "OLD": files / "trial" / "2026.yaml",
            "NEW": files / "trial" / "2027.yaml",
            "CAR": files / "car.yaml",
        }
        ran = run(capsys, *(str(places.get(word, word)) for word in line.split()))
        assert (ran.code, ran.err) == (code, ""), ran
        return ran.out

    return command


def test_its_examples_hold() -> None:
    for name in FOREIGN:
        for example in all_kinds()[name].EXAMPLES:
            judged = judge(example.check, example.car, example.facts, example.more)
            assert shown(judged) == (example.outcome, example.margin)


def test_it_is_a_key_of_the_packs_schema(files: Path) -> None:
    from checker.reading.strict_yaml import parse_document

    text = (files / "trial" / "2026.yaml").read_bytes()
    assert accepts(pack_schema(), as_json(parse_document(text, "2026.yaml", "PK").data))
    assert not accepts(
        pack_schema(), as_json(parse_document(text.replace(b"rising_by", b"rising"), "2026.yaml", "PK").data)
    )


def test_lint_finds_nothing_wrong_and_says_what_is(files: Path) -> None:
    """Nor with a case, whose margin may be of any kind where the check does not tell of which its margins are."""
    assert [p for p in lint_with_cases(str(files / "trial" / "2026.yaml")) if not p.warning] == []
    wrong = files / "trial" / "2026.yaml"
    wrong.write_text(wrong.read_text("utf-8").replace("rising_by", "rising_bye"), encoding="utf-8")
    found = [problem.message for problem in lint(str(files / "trial" / "2026.yaml"))]
    assert "'rising_bye' is not a key of a `sequence_of_readings` check" in found


def test_it_is_judged_in_text_and_json(told: Told) -> None:
    assert "Springs" in told("inspect CAR --pack OLD", 1)
    outcomes = {
        o["clause"]: o for o in json.loads(told("inspect CAR --pack OLD --format json", 1))["outcomes"]
    }
    assert {number: o["outcome"] for number, o in outcomes.items()} == {
        "1": "pass",
        "2": "fail",
        "3": "pass",
        "4": "pass",
    }
    assert outcomes["1"]["margin"]["exact"] == "0/1"
    assert [(item["item"], item["outcome"]) for item in outcomes["2"]["items"]] == [("rear", "fail")]


def test_a_reason_of_its_own_is_told_in_the_units_asked_for(told: Told) -> None:
    alone = "inspect CAR --pack OLD --set body.heights=[50.8mm]"
    assert "0.0508 m alone is in no order" in told(alone, 1)
    assert "2 in alone is in no order" in told(f"{alone} --units us", 1)
    (outcome,) = (
        o for o in json.loads(told(f"{alone} --units us --format json", 1))["outcomes"] if o["clause"] == "1"
    )
    assert outcome["not_shown"] == ["0.0508 m alone is in no order"]


def test_it_is_explained(told: Told) -> None:
    one = json.loads(told("explain CAR 1 --pack OLD --format json", 1))
    assert one["rule"]["check"] == "body.heights in rising order, each 2 mm above the one before"
    assert [read["name"] for part in one["parts"] for read in part["read"]] == ["body.heights"]
    assert "body.heights 40 mm, 42 mm, 45 mm" in told("explain CAR 4 --pack OLD", 1)


def test_it_is_shown_and_printed_as_a_book(told: Told) -> None:
    assert "and also" in told("pack show OLD")
    book = told("pack book OLD")
    assert "both of these\n" in book
    assert "in rising order" in book.replace("`", "")


def test_a_foreign_conjunction_follows_the_weights_over_a_range(told: Told) -> None:
    found = json.loads(told("conditions CAR --pack OLD --format json"))
    assert [outcome["clause"] for outcome in found["outcomes"]] == ["3"]
    assert found["complies"] is True


def test_two_editions_are_compared(told: Told) -> None:
    changes = {c["clause"]: c for c in json.loads(told("pack compare OLD NEW --format json"))["changes"]}
    assert changes["1"]["change"] == "changed"
    assert "3 mm" in changes["1"]["words"]
    assert set(changes) == {"1", "3"}


def test_affected_cars_are_told(told: Told) -> None:
    found = told("pack affected OLD NEW CAR --on 2027-05-03", 1)
    assert re.search(r"^ *1 ", found, re.MULTILINE), found


def test_its_number_is_swept(told: Told) -> None:
    found = json.loads(told("pack sweep OLD 1 --from 1mm --to 4mm CAR --format json"))
    assert [(step["value"], step["is_exact"]) for step in found["steps"]] == [("2", True)]


def test_cases_cover_its_branches_and_try_its_slips(told: Told) -> None:
    found = json.loads(told("pack cases OLD --format json", 0))
    assert found["counts"]["otherwise"] == 0
    slips = found["strength"]
    assert slips["total"] > 6
    unnoticed = {slip["words"] for slip in slips["unnoticed"]}
    assert not any("rising_by" in words for words in unnoticed), unnoticed
    assert any("at_least" in words for words in unnoticed), "no case weighs the car"
    assert found["coverage"]["branches"]["total"] == 4
