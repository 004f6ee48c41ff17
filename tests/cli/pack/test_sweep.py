"""`checker pack sweep`, as a committee uses it to choose a number."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest

from checker.cli import exits
from checker.report.change.sweep import sweep_text
from checker.report.page import Page
from tests.cli.running import Ran, run
from tests.fleet import write_lines
from tests.report.documents import valid
from tests.studies.packs import PACK, car_line

Capsys = pytest.CaptureFixture[str]
EDITION = "rulepacks/dunlin/2026.1.yaml"
INSIDE = ("3.3", "--from", "51 %", "--to", "53.5 %", "--on", "2026-05-03")


@pytest.fixture
def small(tmp_path: Path) -> tuple[str, str]:
    """A small rulebook and five cars, 1360 to 1400 mm wide."""
    rules, cars = tmp_path / "pack.yaml", tmp_path / "cars.jsonl"
    rules.write_text(PACK)
    widths = range(1360, 1401, 10)
    cars.write_text(
        "".join(car_line({"car.number": str(w), "frame.width": f"{w} mm"}) + "\n" for w in widths)
    )
    return str(rules), str(cars)


def sweep(capsys: Capsys, *arguments: str) -> Ran:
    return run(capsys, "pack", "sweep", *arguments)


def test_the_steps_are_exact_and_name_their_cars(capsys: Capsys, small: tuple[str, str]) -> None:
    ran = sweep(capsys, small[0], "1", small[1], "--from", "1350 mm", "--to", "1395 mm")
    assert ran.code == exits.COMPLIES
    assert "1380 mm: 3 fail below, 2 from it on (car 1380 Knot)" in ran.out
    assert "varied check.at_most, now 1400 mm" in ran.out
    assert "every value taken as exact" in ran.out


def test_the_curve_is_drawn_with_the_number_of_today(capsys: Capsys, small: tuple[str, str]) -> None:
    ran = sweep(capsys, small[0], "1", small[1], "--from", "1350 mm", "--to", "1450 mm", "--width", "60")
    lines = [line for line in ran.out.splitlines() if line.lstrip(" 0123456789").startswith("|")]
    heights = [line.count("#") for line in lines]
    assert heights == sorted(heights)
    assert len(lines) == 10
    assert lines[0].startswith("  5 |#####")
    assert "^ now 1400 mm" in ran.out
    [axis] = [line for line in ran.out.splitlines() if line.strip().startswith("1350")]
    assert axis.endswith("1450 mm")


def test_each_column_is_as_high_as_the_most_cars_failing_in_it(
    capsys: Capsys, small: tuple[str, str]
) -> None:
    ran = sweep(capsys, small[0], "1", small[1], "--from", "1350 mm", "--to", "1400 mm", "--width", "60")
    lines = [line[5:] for line in ran.out.splitlines() if line.lstrip(" 0123456789").startswith("|")]
    bottom = lines[-1]
    columns = 60 - 4 - 1 - 2
    for column in range(columns):
        left = 1350 + Fraction(50 * column, columns)
        failing = sum(width > left for width in range(1360, 1401, 10))
        assert (bottom[column : column + 1] == "#") == (failing > 0)


def test_json_tells_every_step_exactly(capsys: Capsys, small: tuple[str, str]) -> None:
    ran = sweep(capsys, small[0], "1", small[1], "--from", "1350 mm", "--to", "1395 mm", "--format", "json")
    document = valid(json.loads(ran.out))
    assert (document["document"], document["version"], document["cars"]) == ("sweep", 1, 5)
    assert (document["first"]["fail"], sum(document["first"].values())) == (5, 5)
    assert [(s["exact"], s["failing"]) for s in document["steps"]] == [
        (f"{width}/1", {"below": 5 - at, "at": 4 - at, "above": 4 - at})
        for at, width in enumerate(range(1360, 1391, 10))
    ]
    assert document["resolution"] is None
    assert all(step["is_exact"] for step in document["steps"])


@pytest.mark.deep
def test_many_steps_are_told_at_round_values_unless_all_are_asked_for(
    capsys: Capsys, small: tuple[str, str]
) -> None:
    cars = Path(small[1])
    cars.write_text("".join(car_line({"frame.width": f"{1351 + n} mm"}) + "\n" for n in range(30)))
    arguments = (small[0], "1", small[1], "--from", "1350 mm", "--to", "1400 mm")
    short = sweep(capsys, *arguments)
    assert "At round values (30 steps" in short.out
    assert "1360 mm: 20 fail (-5)" in short.out
    every = sweep(capsys, *arguments, "--steps")
    assert every.out.count("from it on") == 30


def test_a_fleet_is_swept(capsys: Capsys, tmp_path: Path) -> None:
    ran = sweep(capsys, EDITION, *INSIDE, str(write_lines(tmp_path / "fleet.jsonl", 6)))
    assert "6 cars for 2026-05-03" in ran.out


def test_gear_can_be_counted_and_then_steps_are_said_to_be_near(capsys: Capsys) -> None:
    ran = sweep(capsys, EDITION, *INSIDE, "samples/cars/legal.yaml", "--for", "entrant")
    assert "~ " in ran.out
    assert "Values marked ~ are closed in on to 0.000001 %" in ran.out


def test_a_day_is_varied(capsys: Capsys) -> None:
    arguments = ("1.1", "--from", "2023-01-01", "--to", "2025-12-31", "samples/cars/legal.yaml")
    ran = sweep(capsys, EDITION, *arguments)
    assert "2024-11-02: 0 fail up to it, 1 above (car 27 Redshank)" in ran.out


@pytest.mark.deep
def test_every_width_holds_the_report(capsys: Capsys) -> None:
    ran = sweep(capsys, EDITION, *INSIDE, "samples/cars", "--format", "json")
    for width in (32, 40, 100):
        page = Page(width)
        sweep_text(json.loads(ran.out), page)
        assert max(map(len, page.text().splitlines())) <= width


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("3.4", "--from", "45 %", "--to", "50 %"), "--at. Possible are:\n  check.at_least  (47.5 %)"),
        (("3.3", "--from", "54 %", "--to", "50 %"), "is not below"),
        (("3.3", "--from", "51 kg", "--to", "54 %"), "51 kg"),
        (("3.9.9", "--from", "1 kg", "--to", "2 kg"), "there is no clause 3.9.9"),
        (("5.6", "--from", "1", "--to", "2"), "rests on no number"),
        (
            ("3.4", "--at", "check.at_least", "--from", "45 %", "--to", "52 %"),
            "with 52 % the pack cannot be used",
        ),
    ],
)
def test_what_cannot_be_swept_is_a_mistake_of_the_command_line(
    capsys: Capsys, arguments: tuple[str, ...], told: str
) -> None:
    ran = sweep(capsys, EDITION, *arguments, "samples/cars/legal.yaml")
    assert ran.code == exits.USAGE
    assert told in ran.err


def test_a_car_that_cannot_be_read_is_told_and_the_others_are_swept(
    capsys: Capsys, small: tuple[str, str]
) -> None:
    ran = sweep(capsys, small[0], "1", small[1], "absent.yaml", "--from", "1350 mm", "--to", "1395 mm")
    assert ran.code == exits.UNREADABLE
    assert "CD110" in ran.err
    assert "5 cars" in ran.out


def test_nothing_read_is_no_success(capsys: Capsys, small: tuple[str, str]) -> None:
    ran = sweep(capsys, small[0], "1", "absent.yaml", "--from", "1350 mm", "--to", "1395 mm")
    assert (ran.code, ran.out) == (exits.UNREADABLE, "")


def test_a_number_that_changes_nothing_is_said_to(capsys: Capsys, small: tuple[str, str]) -> None:
    ran = sweep(capsys, small[0], "1", small[1], "--from", "1401 mm", "--to", "1500 mm")
    assert "No car's outcome changes: 0 fail at every value." in ran.out


@pytest.mark.deep
def test_several_processes_tell_the_same(capsys: Capsys, small: tuple[str, str]) -> None:
    Path(small[1]).write_text("".join(car_line({"frame.width": f"{1351 + n} mm"}) + "\n" for n in range(44)))
    arguments = (small[0], "1", small[1], "--from", "1350 mm", "--to", "1400 mm")
    assert sweep(capsys, *arguments, "--jobs", "1") == sweep(capsys, *arguments, "--jobs", "2")


def test_a_folder_without_cars_is_said_to_be_one(capsys: Capsys, tmp_path: Path) -> None:
    ran = sweep(capsys, EDITION, *INSIDE, str(tmp_path))
    assert ran.code == exits.USAGE
    assert "no car's file" in ran.err
    assert str(tmp_path) in ran.err.replace("\n", "")
