"""`checker plan` and `checker reach`: from pieces in samples/ to cars that comply."""

from __future__ import annotations

import json
import sys
from itertools import product
from pathlib import Path
from typing import Any

import pytest

from tests.cli.running import run
from tests.examples import quick_first

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

LIGHT = ("samples/cars/light-at-the-flag.yaml", "--shelf", "samples/shelf.yaml")
CREEPING = ("samples/cars/creeping-inside.yaml",)


def planned(capsys: Capsys, *arguments: str) -> dict[str, Any]:
    ran = run(capsys, "plan", *arguments, "--format", "json")
    assert ran.err == ""
    document: dict[str, Any] = json.loads(ran.out)
    return document


@pytest.mark.parametrize(
    ("arguments", "aim"), quick_first(product([CREEPING, LIGHT], ["least", "fewest-moves"]), 1)
)
def test_the_written_car_complies_and_plan_and_inspection_agree_in_every_number(
    capsys: Capsys, tmp_path: Path, arguments: tuple[str, ...], aim: str
) -> None:
    file = tmp_path / "planned.yaml"
    plan = planned(capsys, *arguments, "--aim", aim, "--write", str(file))
    assert (plan["status"], plan["proven"], plan["complies"]) == ("optimal", True, True)
    ran = run(capsys, "inspect", str(file), "--format", "json", "--pack", "rulepacks/dunlin")
    assert ran.code == 0
    inspection = json.loads(ran.out)
    outcomes = {one["clause"]: one for one in inspection["outcomes"]}
    for clause in plan["clauses"]:
        judged, told = outcomes[clause["clause"]], clause["after"]
        assert (told["outcome"], told["margin"]) == (judged["outcome"], judged["margin"])
        assert told["outcome"] in ("pass", "not_applicable") or clause["severity"] == "advisory"
    before = Path(arguments[0]).read_text("utf-8").splitlines()
    after = file.read_text("utf-8").splitlines()
    assert [line for line in before if "#" in line and line not in after] == []
    again = planned(capsys, str(file), *arguments[1:], "--aim", "fewest-moves")
    assert again["acts"] == []


@pytest.mark.deep
def test_inspection_and_explanation_tell_what_the_plan_tells(capsys: Capsys) -> None:
    (act,) = planned(capsys, *CREEPING)["acts"]
    told = f"move {act['what']}, 7.5 kg, to {act['place']}"
    assert f"do     {told}" in run(capsys, "inspect", *CREEPING).out
    assert told in run(capsys, "explain", *CREEPING, "3.3").out
    assert told not in run(capsys, "inspect", *CREEPING, "--for", "official").out


def test_a_race_is_held_from_start_to_flag(capsys: Capsys, tmp_path: Path) -> None:
    car, planning = tmp_path / "car.yaml", "planning:\n  race: {fuel_per_lap: 0.1 L, laps: 20}\n"
    text = Path(CREEPING[0]).read_text("utf-8")
    car.write_text(text[: text.index("planning:")] + planning)
    arguments = (str(car), "--pack", "rulepacks/dunlin")
    document = planned(capsys, *arguments, "--race")
    assert (document["acts"], document["complies"]) == ([], True)
    least = 14.67 + 20 * 0.1  # by `checker conditions` at the flag, guarded; and what is burnt
    assert 0 <= float(document["race"]["start"]["value"]) - least < 0.1
    assert run(capsys, "plan", *arguments).code == 3  # without the race there is nothing to do
    assert "PL306" in run(capsys, "plan", *CREEPING, "--race").err


@pytest.mark.deep
def test_more_certainty_asks_for_no_less(capsys: Capsys) -> None:
    usual, surer = (planned(capsys, *LIGHT, *more) for more in ((), ("--keep-clear", "99.9 %")))
    assert float(surer["mass"]["value"]) > float(usual["mass"]["value"])
    assert (usual["confidence"], surer["confidence"]) == (0.95, 0.999)


def test_where_nothing_is_enough_it_says_what_cannot_hold_and_writes_nothing(
    capsys: Capsys, tmp_path: Path
) -> None:
    shelf, file = tmp_path / "shelf.yaml", tmp_path / "planned.yaml"
    shelf.write_text(
        "shelf: [{label: S, mass: 1 kg, material: lead, painted: true, sealed: true}]\n", "utf-8"
    )
    ran = run(capsys, "plan", LIGHT[0], "--shelf", str(shelf), "--write", str(file))
    assert ran.code == 1
    assert "Clause 3.1 cannot be met by anything that may be done." in ran.out
    assert "It would be enough to carry" in ran.out
    assert not file.exists()


@pytest.mark.parametrize(
    ("arguments", "without", "clauses"),
    quick_first(
        [
            (LIGHT, "capacity: 22 L, ", ["3.1", "3.2", "3.3", "3.4"]),
            (LIGHT, "capacity: 1450 cc, ", ["3.1"]),
            (CREEPING, "capacity: 22 L, ", ["3.1", "3.2", "3.3", "3.4"]),
            (CREEPING, "mass: 80 kg, ", ["3.2", "3.3", "3.4"]),
        ],
        1,
    ),
)
def test_a_car_that_does_not_state_enough_is_told_so_and_nothing_else(
    capsys: Capsys, tmp_path: Path, arguments: tuple[str, ...], without: str, clauses: list[str]
) -> None:
    car, written = tmp_path / "car.yaml", tmp_path / "planned.yaml"
    text = Path(arguments[0]).read_text("utf-8")
    assert text.count(without) == 1
    car.write_text(text.replace(without, ""), "utf-8")
    asked = (str(car), *arguments[1:], "--pack", "rulepacks/dunlin")
    ran = run(capsys, "plan", *asked, "--format", "json", "--write", str(written))
    plan = json.loads(ran.out)
    assert (ran.code, plan["status"], plan["complies"], plan["written"]) == (4, "not_shown", None, None)
    assert (plan["acts"], plan["still_failing"], written.exists()) == ([], [], False)
    assert [one["clause"] for one in plan["declined"] if one["not_shown"]] == clauses
    reached = run(capsys, "reach", *asked, "--format", "json")
    document = json.loads(reached.out)
    assert (reached.code, document["legal"], document["planned"]) == (4, [], None)
    assert document["declined"] == plan["declined"]


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        ((*LIGHT, "--keep-clear", "much"), 2, "is no percentage"),
        ((*LIGHT, "--keep-clear", "100 %"), 2, "is no certainty between"),
        ((*LIGHT, "--set", "fuel.unusable=7 L"), 2, "begins at the car's own file"),
        ((*LIGHT, "--for", "official"), 2, "is for the entrant"),
        ((*LIGHT, "--write", LIGHT[0]), 2, f"--write {LIGHT[0]} would overwrite what is read"),
        (("samples/cars/legal.yaml",), 3, "PL305 nothing is said to be done"),
        (
            ("samples/cars/legal.yaml", "--shelf", "samples/shelf.yaml"),
            3,
            "PL305 the shelf has pieces, but the car's file",
        ),
        ((LIGHT[0], "--shelf", "samples/season/meetings.yaml"), 3, "SH2"),
    ],
)
def test_what_cannot_be_asked_is_said(
    capsys: Capsys, arguments: tuple[str, ...], code: int, words: str
) -> None:
    ran = run(capsys, "plan", *arguments)
    assert ran.code == code
    assert words in " ".join(ran.err.split())


@pytest.mark.deep
def test_the_picture_of_what_can_be_reached(capsys: Capsys, tmp_path: Path) -> None:
    file = tmp_path / "reach.svg"
    ran = run(capsys, "reach", *CREEPING, "--svg", str(file))
    assert ran.code == 0
    picture = file.read_text("utf-8")
    assert picture.startswith('<svg xmlns="http://www.w3.org/2000/svg"')
    assert "planned" in picture


def test_without_the_solver_it_says_what_to_install(capsys: Capsys, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "highspy", None)
    ran = run(capsys, "plan", *CREEPING)
    assert ran.code == 3
    assert "pip install '.[plan]'" in " ".join(ran.err.split())
