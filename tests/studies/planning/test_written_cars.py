"""Cars of the Dunlin Formula with shelves, as a user has them: planned, written, and inspected as any other car."""

from __future__ import annotations

import json
import random
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from checker.cli import exits
from tests.cli.running import environment, run
from tests.conftest import ROOT
from tests.examples import quick_first
from tests.report.documents import valid

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

LIGHT, CREEPING = (f"samples/cars/{name}.yaml" for name in ("light-at-the-flag", "creeping-inside"))
SHELF = "samples/shelf.yaml"
WEIGHT = re.compile(r"(front|rear)_(left|right): ([0-9]{3}[0-9.]*) kg")


def planned_and_inspected(capsys: Capsys, folder: Path, car: str, *options: str) -> dict[str, Any]:
    """The plan; with one, every number of the written car's inspection is that of the plan, and it complies."""
    file, dunlin = folder / "planned.yaml", ("--pack", "rulepacks/dunlin")
    ran = run(capsys, "plan", car, *dunlin, *options, "--write", str(file), "--format", "json")
    assert ran.out, ran.err
    plan: dict[str, Any] = valid(json.loads(ran.out))
    before = {
        o["clause"]: o
        for o in json.loads(run(capsys, "inspect", car, *dunlin, "--format", "json").out)["outcomes"]
    }
    _agree(plan, before, "before")
    if plan["complies"] is None:
        assert ran.code == exits.FAILS
        assert plan["status"] == "infeasible"
        assert plan["conflict"]
        return plan
    assert ran.code == exits.COMPLIES
    inspected = run(capsys, "inspect", str(file), *dunlin, "--format", "json")
    document = valid(json.loads(inspected.out))
    assert (inspected.code, document["complies"]) == (exits.COMPLIES, True)
    _agree(plan, {o["clause"]: o for o in document["outcomes"]}, "after")
    weights = {o["clause"] for o in document["outcomes"] if o["clause"].startswith("3.")}
    assert {one["clause"] for one in plan["clauses"]} == weights
    return plan


def _agree(plan: dict[str, Any], outcomes: dict[str, Any], when: str) -> None:
    for clause in plan["clauses"]:
        told, judged = clause[when], outcomes[clause["clause"]]
        state = judged["condition"]["state"] if judged["condition"] else None
        assert (told["outcome"], told["margin"]) == (judged["outcome"], judged["margin"])
        assert told["state"] == state


@pytest.mark.deep
@pytest.mark.parametrize(("car", "options"), quick_first([(LIGHT, ("--shelf", SHELF)), (LIGHT, ())], 1))
def test_the_samples_get_plans_and_the_written_cars_comply(
    capsys: Capsys, tmp_path: Path, car: str, options: tuple[str, ...]
) -> None:
    plan = planned_and_inspected(capsys, tmp_path, car, *options)
    assert plan["complies"] is True
    assert plan["proven"] is True


def varied(dice: random.Random, file: str) -> str:
    """The car with each wheel some kilograms heavier or lighter."""
    return WEIGHT.sub(
        lambda wheel: (
            f"{wheel[1]}_{wheel[2]}: {float(wheel[3]) + dice.choice((-3, -1.5, -0.5, 0, 1, 2.5)):g} kg"
        ),
        Path(file).read_text(),
    )


def a_shelf(dice: random.Random) -> str:
    marks = "material: lead, painted: true, sealed: true"
    pieces = [
        f"  - {{label: L{n}, mass: {dice.choice((0.5, 1, 1.6, 2.5, 4))} kg, count: {dice.randint(1, 3)}, {marks}}}"
        for n in range(dice.randint(1, 4))
    ]
    return "shelf:\n" + "\n".join(pieces) + "\n"


@pytest.mark.deep
@pytest.mark.parametrize("seed", range(16))
def test_random_cars_and_shelves(capsys: Capsys, tmp_path: Path, seed: int) -> None:
    dice = random.Random(seed)
    car, shelf = tmp_path / "car.yaml", tmp_path / "shelf.yaml"
    car.write_text(varied(dice, dice.choice((LIGHT, CREEPING))))
    shelf.write_text(a_shelf(dice))
    aim = dice.choice(("least", "inside", "rear", "fewest-moves"))
    planned_and_inspected(capsys, tmp_path, str(car), "--shelf", str(shelf), "--aim", aim)


@pytest.mark.deep
def test_the_plan_does_not_hang_on_the_order_of_sets() -> None:
    command = [sys.executable, "-m", "checker", "plan", LIGHT, "--shelf", SHELF, "--format", "json"]
    told = {
        subprocess.run(
            command, cwd=ROOT, env={**environment(), "PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in ("1", "2", "3")
    }
    assert len(told) == 1
