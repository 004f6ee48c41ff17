"""`checker explain` from the outside."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.running import run
from tests.report.documents import valid

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

LIGHT = "samples/cars/light-at-the-flag.yaml"


@pytest.mark.deep
def test_it_explains_and_ends_in_the_cars_code(capsys: Capsys) -> None:
    ran = run(capsys, "explain", LIGHT, "3.1")
    assert (ran.code, ran.err) == (1, "")
    assert "weighing.fuel 14 L" in ran.out
    assert f"{LIGHT}:8" in ran.out
    assert run(capsys, "explain", "samples/cars/legal.yaml", "3.1").code == 0


@pytest.mark.deep
def test_json_is_one_document(capsys: Capsys) -> None:
    ran = run(capsys, "explain", LIGHT, "3.1", "--format", "json")
    assert valid(json.loads(ran.out))["outcome"]["margin"]["exact"] == "-343/100"


def test_the_options_of_inspect_hold(capsys: Capsys, tmp_path: Path) -> None:
    file = tmp_path / "why.txt"
    ran = run(
        capsys,
        "explain",
        LIGHT,
        "3.1",
        "--set",
        "engine.capacity=1290 cc",
        "--width",
        "60",
        "--output",
        str(file),
    )
    assert (ran.code, ran.out) == (0, "")
    assert "+21.57 kg" in file.read_text()
    assert run(capsys, "explain", LIGHT, "3.1", "--on", "2020-01-01").code == 3


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((LIGHT, "3.10"), "has no clause '3.10'. Did you mean '3.1'?"),
        ((LIGHT, "x"), "Its clauses are 1.1, 1.2"),
        ((LIGHT,), "Missing argument 'CLAUSE'"),
        ((LIGHT, "3.1", "--output", LIGHT), "which is not what a name that ends in .yaml says"),
    ],
)
def test_a_wrong_command_line_ends_in_2(arguments: tuple[str, ...], told: str, capsys: Capsys) -> None:
    ran = run(capsys, "explain", *arguments)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err


def test_a_file_that_cannot_be_used_ends_in_3(capsys: Capsys) -> None:
    assert run(capsys, "explain", "absent.yaml", "3.1").code == 3
