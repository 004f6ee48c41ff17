"""`checker inspect --since`: what changed for a car since a report that was kept."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from checker.cli import exits
from tests.cli.running import run
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
    assert "The car complied then and does not comply now." in ran.out


@pytest.mark.deep
def test_nothing_changed_is_said(capsys: Capsys, report: str) -> None:
    ran = run(capsys, "inspect", CAR, "--on", "2026-06-07", "--since", report)
    assert ran.code == exits.COMPLIES
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
    assert [c["clause"] for c in found[0]["changes"] if c["outcome"]] == ["3.3"]


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


def test_a_report_of_other_cars_is_refused(capsys: Capsys, report: str) -> None:
    ran = run(capsys, "inspect", "samples/cars/price-rise.yaml", "--since", report)
    assert ran.code == exits.UNREADABLE
    assert "RP203" in ran.err


def test_the_report_is_not_overwritten(capsys: Capsys, report: str) -> None:
    assert run(capsys, "inspect", CAR, "--since", report, "--output", report).code == exits.USAGE
