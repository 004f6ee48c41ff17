"""`checker inspect --since`: what changed for a car since a report that was kept."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from checker.cli import exits
from tests.cli.running import run
from tests.examples import quick_first
from tests.report.documents import valid

Capsys = pytest.CaptureFixture[str]
CAR = "samples/cars/built-2025.yaml"


@pytest.fixture
def report(capsys: Capsys, tmp_path: Path) -> str:
    file = tmp_path / "report.json"
    run(
        capsys,
        "inspect",
        CAR,
        "samples/cars/legal.yaml",
        "--on",
        "2026-06-07",
        "--format",
        "json",
        "--output",
        str(file),
    )
    return str(file)


def test_a_bulletin_since_then_is_told_clause_by_clause(capsys: Capsys, report: str) -> None:
    ran = run(capsys, "inspect", CAR, "--on", "2026-07-05", "--since", report)
    assert ran.code == exits.FAILS
    assert "bulletins   none, now 2026-B1" in ran.out
    assert "outcome    met then, FAILS now" in ran.out
    assert "bound      at most 53 % then, at most 52.4 % now" in ran.out
    assert "do         move 2.4 kg from inside to outside" in ran.out
    assert (
        "outcome    not declared then, met now" in ran.out
    )  # 11.1: its declaration is issued for the later day
    assert "The car was undecided then and does not comply\n  now." in ran.out


@pytest.mark.deep
def test_an_official_reads_what_is_not_yet_checked(capsys: Capsys, tmp_path: Path) -> None:
    kept, car = str(tmp_path / "kept.json"), "samples/cars/misspelt-alloy.yaml"
    json_to = ("--format", "json", "--output")
    run(capsys, "inspect", "samples/cars/hidden-alloy.yaml", "--set", "car.number='53'", *json_to, kept)
    told = {
        "since": run(capsys, "inspect", car, "--for", "official", "--since", kept),
        "set-ups": run(
            capsys, "inspect", car, "--for", "official", "--since", "samples/cars/hidden-alloy.yaml"
        ),
    }
    for name, ran in told.items():
        assert "not yet checked" in ran.out, name
        assert "not declared" not in ran.out, name


@pytest.mark.deep
def test_nothing_changed_is_said(capsys: Capsys, report: str) -> None:
    ran = run(capsys, "inspect", CAR, "--on", "2026-06-07", "--since", report)
    assert ran.code == exits.UNSETTLED  # its declaration is issued for a later day
    assert "Nothing has changed for this car" in ran.out


@pytest.mark.deep
def test_json_is_one_document_for_each_car(capsys: Capsys, report: str) -> None:
    ran = run(
        capsys,
        "inspect",
        CAR,
        "samples/cars/legal.yaml",
        "--on",
        "2026-07-05",
        "--since",
        report,
        "--format",
        "json",
    )
    found = [valid(json.loads(line)) for line in ran.out.splitlines()]
    assert [(one["document"], one["car"]["number"]) for one in found] == [("since", "75"), ("since", "27")]
    assert [c["clause"] for c in found[0]["changes"] if c["outcome"]] == ["3.3", "11.1"]


@pytest.mark.deep
def test_another_what_if_is_told(capsys: Capsys, report: str) -> None:
    arguments = ("--on", "2026-06-07", "--since", report, "--set", "cage.helmet_to_hoop='55 mm'")
    ran = run(capsys, "inspect", CAR, *arguments)
    assert "what if     none, now cage.helmet_to_hoop='55 mm'" in ran.out
    assert "8.4 Helmet to hoop" in ran.out


@pytest.mark.deep
@pytest.mark.parametrize("width", ["32", "40"])
def test_every_width_holds_it(capsys: Capsys, report: str, width: str) -> None:
    ran = run(capsys, "inspect", CAR, "--on", "2026-07-05", "--since", report, "--width", width)
    assert all(len(line) <= int(width) for line in ran.out.splitlines())


@pytest.mark.deep
def test_a_report_of_other_cars_is_refused(capsys: Capsys, report: str) -> None:
    ran = run(capsys, "inspect", LIGHT, "--since", report)
    assert ran.code == exits.UNREADABLE
    assert "RP203" in ran.err


def test_the_report_is_not_overwritten(capsys: Capsys, report: str) -> None:
    assert run(capsys, "inspect", CAR, "--since", report, "--output", report).code == exits.USAGE


# -- beside another set-up -----------------------------------------------------------------------------

LIGHT = "samples/cars/light-at-the-flag.yaml"


def test_two_set_ups_stand_side_by_side(capsys: Capsys, tmp_path: Path) -> None:
    heavier = tmp_path / "heavier.yaml"
    heavier.write_text(Path(LIGHT).read_text().replace("158.5", "165.5"))
    ran = run(capsys, "inspect", str(heavier), "--since", LIGHT)
    assert ran.code == exits.UNSETTLED
    lines = [" ".join(line.split()) for line in ran.out.splitlines()]
    assert "weighing.readings[0].front_left 158.5 kg 165.5 kg" in lines
    assert "3.1 Minimum weight -3.43 kg FAILS +3.57 kg +7 kg" in lines
    assert "3.4 Rear weight +0.47 % -0.10 % too close -0.57 %" in lines
    assert any(line == "3.4 do bolt 2.5 kg of ballast at boot floor" for line in lines)
    assert "The first does not comply, the second is undecided." in " ".join(lines)


@pytest.mark.deep
def test_a_what_if_stands_beside_the_car_as_it_is(capsys: Capsys) -> None:
    ran = run(capsys, "inspect", LIGHT, "--set", "fuel.unusable=7 L", "--since", LIGHT)
    told = " ".join(ran.out.split())
    assert f"second {LIGHT} with fuel.unusable=7 L" in told
    assert "fuel.unusable 0 L 7 L" in told
    assert "The first does not comply, the second complies." in told
    assert ran.code == exits.COMPLIES


def test_set_ups_as_a_document(capsys: Capsys, tmp_path: Path) -> None:
    other = tmp_path / "other.json"  # a declaration may be JSON too
    car = {"formula": "dunlin", "car": {"number": "3"}, "fuel": {"capacity": "20 L"}}
    other.write_text(json.dumps(car))
    ran = run(capsys, "inspect", LIGHT, "--since", str(other), "--format", "json", "--on", "2026-05-03")
    found = valid(json.loads(ran.out))
    assert found["set_ups"]["earlier"] == str(other)
    differs = {one["name"]: (one["earlier"], one["now"]) for one in found["set_ups"]["differs"]}
    assert differs["car.number"] == ("3", "14")
    assert differs["fuel.capacity"] == ("20 L", "22 L")
    assert differs["driver.mass"][0] is None


@pytest.mark.deep
def test_a_set_up_beside_itself_differs_in_nothing(capsys: Capsys) -> None:
    ran = run(capsys, "inspect", LIGHT, "--since", LIGHT)
    assert "STATED OTHERWISE\n  nothing" in ran.out
    assert "By both set-ups all 60 clauses come out alike." in " ".join(ran.out.split())


def test_a_narrow_page_tells_both_set_ups_too(capsys: Capsys) -> None:
    arguments = ("--set", "fuel.unusable=7 L", "--since", LIGHT, "--width", "40")
    ran = run(capsys, "inspect", LIGHT, *arguments)
    assert (
        max(len(line) for line in ran.out.splitlines() if LIGHT not in line) <= 40
    )  # a path is never broken
    assert "first     -3.43 kg FAILS" in ran.out


@pytest.mark.parametrize(
    ("name", "text", "told"),
    quick_first(
        [
            ("kart.yaml", "formula: kart\ncar: {number: '14'}", "CD211"),
            ("broken.yaml", "formula: dunlin\ncar: {numbr: '14'}", "CD201"),
            ("empty.yaml", "", "CD"),
            ("empty.json", "", "RP201"),
            ("broken.json", '{"document": "inspection", "version": ', "RP201"),
            ("other.json", '{"document": "affected"}', "RP202"),
        ],
        0,
    ),
)
def test_what_is_neither_a_report_nor_a_car_is_refused(
    capsys: Capsys, tmp_path: Path, name: str, text: str, told: str
) -> None:
    file = tmp_path / name
    file.write_text(text)
    pack = ("--pack", "rulepacks/dunlin") if name == "kart.yaml" else ()
    ran = run(capsys, "inspect", LIGHT, "--since", str(file), *pack)
    assert ran.code == exits.UNREADABLE
    assert told in ran.err
    assert not ran.out
