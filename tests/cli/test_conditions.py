"""`checker conditions` from the outside."""

from __future__ import annotations

import json

import pytest

from tests.cli.running import run
from tests.examples import quick_first

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

LEGAL, LIGHT, CREEPING, PADS = (
    f"samples/cars/{name}.yaml"
    for name in ("legal", "light-at-the-flag", "creeping-inside", "pads-that-disagree")
)


@pytest.mark.parametrize(("car", "code"), quick_first([(LEGAL, 0), (LIGHT, 1), (CREEPING, 1), (PADS, 4)], 1))
def test_it_ends_as_its_weight_clauses_do(car: str, code: int, capsys: Capsys) -> None:
    assert run(capsys, "conditions", car).code == code


@pytest.mark.deep
def test_a_race_is_followed(capsys: Capsys) -> None:
    ran = run(capsys, "conditions", LIGHT, "--fuel-per-lap", "0.35 L", "--laps", "40")
    assert "Start with at least 18.61 L on dry tyres" in ran.out
    ran = run(
        capsys,
        "conditions",
        LIGHT,
        "--fuel-per-lap",
        "350 ml",
        "--laps",
        "40",
        "--start",
        "14 L",
        "--format",
        "json",
    )
    told = json.loads(ran.out)
    assert told["race"]["start"]["value"] == "14.00"
    assert told["race"]["run"][-1]["failing"] == ["3.1"]
    assert len(told["race"]["run"]) == 41


@pytest.mark.deep
def test_what_if_and_all(capsys: Capsys) -> None:
    ran = run(capsys, "conditions", LIGHT, "--set", "weighing.readings[0].front_left=165 kg", "--all")
    assert "what if" in ran.out
    assert ran.out.count("tyres,") >= 16


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--laps", "40"), "--fuel-per-lap and --laps"),
        (("--fuel-per-lap", "0.3 L"), "--fuel-per-lap and --laps"),
        (("--start", "10 L"), "--fuel-per-lap and --laps"),
        (("--fuel-per-lap", "0.3", "--laps", "40"), "0.35 L"),
        (("--fuel-per-lap", "0 L", "--laps", "40"), "above 0 L"),
        (("--fuel-per-lap", "0.3 kg", "--laps", "40"), "0.35 L"),
        (("--fuel-per-lap", "0.3 L", "--laps", "0"), "--laps"),
    ],
)
def test_a_race_that_cannot_be_followed_is_refused(
    arguments: tuple[str, ...], words: str, capsys: Capsys
) -> None:
    ran = run(capsys, "conditions", LIGHT, *arguments)
    assert (ran.code, ran.out) == (2, "")
    assert words in " ".join(ran.err.split())


def test_a_file_that_is_none_ends_in_3(capsys: Capsys) -> None:
    assert run(capsys, "conditions", "samples/cars/none.yaml").code == 3


def test_an_end_of_a_range_is_rounded_as_the_reading_of_an_inspection_is(capsys: Capsys) -> None:
    for command in ("conditions", "inspect"):
        assert "51.68 %" in run(capsys, command, LEGAL).out
