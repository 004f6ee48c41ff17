"""`checker inspect` from the outside: what it prints where, and how it ends."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.running import run
from tests.examples import quick_first
from tests.report.documents import STORIES, valid

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

LEGAL, LIGHT, KNOT = (
    f"samples/cars/{name}.yaml" for name in ("legal", "light-at-the-flag", "misspelt-alloy")
)


@pytest.mark.parametrize(
    ("name", "code"),
    quick_first(
        [
            ("legal", 0),
            ("hidden-alloy", 1),
            ("misspelt-alloy", 4),
            ("light-at-the-flag", 1),
            ("creeping-inside", 1),
        ],
        3,
    ),
)
def test_a_sample_ends_in_its_code(name: str, code: int, capsys: Capsys) -> None:
    ran = run(capsys, "inspect", f"samples/cars/{name}.yaml")
    assert ran.code == code
    assert ran.err == ""
    assert ran.out.startswith("CAR ")


def test_readings_of_an_official_count(capsys: Capsys) -> None:
    readings = "samples/readings/ballast-by-another-name.yaml"
    car = "samples/cars/ballast-by-another-name.yaml"
    assert run(capsys, "inspect", car).code == 0
    ran = run(capsys, "inspect", car, "--for", "official", "--readings", readings)
    assert ran.code == 1
    assert "27.5 kg max 26 kg -1.5 kg" in " ".join(ran.out.split())


def test_what_does_not_count_for_an_official_is_told_on_stderr(capsys: Capsys) -> None:
    ran = run(capsys, "inspect", LEGAL, "--for", "official")
    assert ran.code == 4
    assert "CD213 warning" in ran.err
    assert "CD213" not in ran.out


def test_another_day_and_a_what_if(capsys: Capsys) -> None:
    assert run(capsys, "inspect", "samples/cars/price-rise.yaml", "--on", "2026-06-22").code == 1
    ran = run(capsys, "inspect", LIGHT, "--set", "engine.capacity=1290 cc")
    assert ran.code == 0
    assert "what if  engine.capacity=1290 cc" in ran.out
    assert "With what was put in its place, car 14 Turnstone complies" in " ".join(ran.out.split())


@pytest.mark.deep
def test_taking_ballast_off_takes_its_weight_off(capsys: Capsys) -> None:
    assert run(capsys, "inspect", LEGAL).code == 0
    ran = run(capsys, "inspect", LEGAL, "--set", "ballast[0].mass=0 kg")
    assert ran.code == 4, "by less than four pads may be out"
    assert "584.15 kg min 585 kg -0.85 kg" in " ".join(ran.out.split())
    assert "what if: ballast B1 from 5.5 kg to 0 kg" in " ".join(ran.out.split())


def test_a_piece_is_added_by_giving_it_whole(capsys: Capsys) -> None:
    piece = "{label: B9, mass: 2 kg, at: {behind_front_axle: 900 mm, left_of_centre: 0 mm}, fixings: 3"
    more = ", place: chassis rail, painted: true, sealed: true, material: lead}"
    ran = run(capsys, "inspect", LEGAL, "--set", f"ballast[3]={piece}{more}")
    assert "what if: ballast B9 added" in " ".join(ran.out.split())
    assert ran.code == 0


def test_all_lists_every_clause(capsys: Capsys) -> None:
    assert "EVERY CLAUSE" in run(capsys, "inspect", LEGAL, "--all").out


def test_json_is_one_document_and_nothing_else(capsys: Capsys) -> None:
    ran = run(capsys, "inspect", LEGAL, "--format", "json")
    assert ran.code == 0
    assert ran.out.count("\n") == 1
    assert valid(json.loads(ran.out))["complies"] is True


@pytest.mark.deep
def test_json_of_several_cars_is_a_line_each_and_problems_go_elsewhere(capsys: Capsys) -> None:
    ran = run(
        capsys,
        "inspect",
        *(f"samples/cars/{name}.yaml" for name in STORIES),
        "absent.yaml",
        "--format",
        "json",
    )
    assert ran.code == 3
    documents = [valid(json.loads(line)) for line in ran.out.splitlines()]
    assert len(documents) == len(STORIES)
    assert "CD110 cannot read 'absent.yaml'" in ran.err


@pytest.mark.parametrize(
    ("cars", "code"),
    quick_first(
        [((LIGHT, "absent.yaml", LEGAL), 3), ((LEGAL, LEGAL), 0), ((LEGAL, KNOT), 4), ((KNOT, LIGHT), 1)], 1
    ),
)
def test_several_cars_are_all_judged_and_the_worst_counts(
    cars: tuple[str, ...], code: int, capsys: Capsys
) -> None:
    ran = run(capsys, "inspect", *cars)
    assert ran.code == code
    assert f"{len(cars)} CARS" in ran.out


@pytest.mark.deep
def test_several_cars_with_all_have_their_reports_before_the_table(capsys: Capsys) -> None:
    out = run(capsys, "inspect", LEGAL, LIGHT, "--all").out
    assert out.index("CAR 27 REDSHANK") < out.index("CAR 14 TURNSTONE") < out.index("2 CARS")


def test_output_goes_to_a_file_in_utf8_and_not_to_the_screen(capsys: Capsys, tmp_path: Path) -> None:
    file = tmp_path / "report.txt"
    ran = run(capsys, "inspect", "samples/cars/pads-that-disagree.yaml", "--output", str(file))
    assert (ran.code, ran.out) == (4, "")
    assert "±" in file.read_text("utf-8")
    assert [path.name for path in tmp_path.iterdir()] == ["report.txt"]


def test_a_report_that_was_there_stays_when_nothing_can_be_judged(capsys: Capsys, tmp_path: Path) -> None:
    file = tmp_path / "report.txt"
    file.write_text("before")
    assert run(capsys, "inspect", "absent.yaml", "--output", str(file)).code == 3
    assert file.read_text() == "before"


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((), "Missing argument 'CAR...'"),
        ((LEGAL, "--on", "2026-02-30"), "2026-02-30"),
        ((LEGAL, "--on", "tomorrow"), "write year, month and day as in 2026-03-01"),
        ((LEGAL, "--for", "nobody"), "nobody"),
        ((LEGAL, "--format", "xml"), "xml"),
        ((LEGAL, "--width", "5"), "32<=x<=200"),
        ((LEGAL, "--set", "engine.capacity"), "PATH=VALUE"),
        ((LEGAL, "--set", "=3"), "PATH=VALUE"),
        ((LEGAL, "--set", "a[=3"), "position"),
        ((LEGAL, "--set", "engine.capacity=1290"), "--set:1:1: CD203"),
        ((LEGAL, "--set", "engine.capacity=12 kg"), "CD204"),
        ((LEGAL, "--set", "weighing.readings[7].front_left=150 kg"), "CD199"),
        (
            (LEGAL, "--set", "ballast[3]={label: B4, mass: 2 kg}"),
            "ballast[3].at.left_of_centre (B4) is not stated",
        ),
        ((LEGAL, "--set", "ballast[3].mass=5 kg"), "to add one, give it whole: ballast[3]={...}"),
        ((LEGAL, "--set", "fuel.density=0.745"), "fuel.density: 0.745 has no unit"),
        ((LEGAL, "--set", "car.name=0.50"), "car.name holds the number 0.50"),
        ((LEGAL, "--output", "samples"), "is a folder"),
        ((LEGAL, "--output", LEGAL), "which is not what a name that ends in .yaml says"),
        ((LEGAL, LIGHT, "--readings", "r.yaml"), "those of one car"),
        ((LEGAL, "--al"), "--al"),
    ],
)
def test_a_wrong_command_line_ends_in_2(arguments: tuple[str, ...], told: str, capsys: Capsys) -> None:
    ran = run(capsys, "inspect", *arguments)
    assert ran.code == 2
    assert ran.out == ""
    assert told in ran.err
    assert "Traceback" not in ran.err


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (None, "there is no such file"),
        (b"", "the file is empty"),
        (b"\x00\x01\x02", "NUL"),
        (b"formula: dunlin\nname: caf\xe9\n", "not UTF-8"),
        (b"\xff\xfef\x00", "UTF-16"),
        (b"formula: [dunlin\n", "CD1"),
        (b"- a list\n", "holds no sections"),
        (b"car: {number: '7'}\n", "by which formula"),
        (b"formula: dunlin\n", "car.number is not stated"),
        (b"formula: dunlim\ncar: {number: '7'}\n", "Did you mean 'dunlin'?"),
        (b"formula: dunlin\ncar: {number: '7'}\nengine: {capacty: 1290 cc}\n", "Did you mean 'capacity'?"),
        (b"formula: dunlin\ncar: {number: '7'}\ncar: {number: '8'}\n", "CD1"),
        (b"formula: dunlin\ncar: {number: '7'}\nengine: {capacity: 1290 kg}\n", "CD204"),
        (b"formula: dunlin\ncar: {number: '7'}\ndriver: {mass: -80 kg}\n", "CD207"),
        (b"formula: dunlin\ncar: {number: '7'}\ndriver: {mass: .nan}\n", "CD"),
        (b"formula: dunlin\ncar: {number: '7'}\nevent: {date: 2026-02-30}\n", "CD206"),
        (b"formula: dunlin\ncar: {number: '7'}\nbattery: {secured: perhaps}\n", "CD210"),
    ],
)
def test_a_file_that_cannot_be_used_ends_in_3(
    content: bytes | None, told: str, capsys: Capsys, tmp_path: Path
) -> None:
    file = tmp_path / "car.yaml"
    if content is not None:
        file.write_bytes(content)
    ran = run(capsys, "inspect", str(file), "--on", "2026-05-03")
    assert ran.code == 3
    assert ran.out == ""
    assert told in ran.err
    assert "Traceback" not in ran.err


def test_a_folder_and_a_pack_that_is_none_end_in_3(capsys: Capsys, tmp_path: Path) -> None:
    assert "it is a folder" in run(capsys, "inspect", str(tmp_path)).err
    for pack, told in ((str(tmp_path), "holds no edition"), ("absent", "there is no pack"), (LEGAL, "PK")):
        ran = run(capsys, "inspect", LEGAL, "--pack", pack)
        assert ran.code == 3
        assert told in ran.err


def test_a_day_without_an_edition_ends_in_3(capsys: Capsys) -> None:
    ran = run(capsys, "inspect", LEGAL, "--on", "2020-01-01")
    assert ran.code == 3
    assert "no edition is in force on 2020-01-01" in ran.err


@pytest.mark.parametrize("day", ["3.5.2026", "2026-05", "2026-02-30"])
def test_a_day_that_is_none_has_one_cure(capsys: Capsys, day: str) -> None:
    ran = run(capsys, "inspect", "samples/cars/legal.yaml", "--on", day)
    assert (ran.code, ran.err.count("; write")) == (2, 1)
