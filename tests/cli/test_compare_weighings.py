"""`checker compare-weighings` from the outside."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.running import run

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

HOME, CLUB, GEAR = (f"samples/{name}.yaml" for name in ("weighings/home", "weighings/weigh-in", "gear/club"))


def test_the_samples_differ_and_the_offset_is_told(capsys: Capsys) -> None:
    ran = run(capsys, "compare-weighings", HOME, CLUB)
    assert ran.code == 1
    assert "fuel from 10 L to 6 L" in ran.out.replace("\n             ", " ")
    assert 'offset: "-1.2 kg"' in ran.out


def test_with_the_offset_entered_they_agree(capsys: Capsys, tmp_path: Path) -> None:
    text = Path(HOME).read_text(encoding="utf-8")
    entered = tmp_path / "home.yaml"
    entered.write_text(
        text.replace("permissible_error: 0.5 kg}", "permissible_error: 0.5 kg, offset: -1.2 kg}")
    )
    told = json.loads(run(capsys, "compare-weighings", str(entered), CLUB, "--format", "json").out)
    whole = told["differences"][0]
    assert whole["name"] == "weight.total"
    assert not whole["is_real"]


def test_a_clubs_gear_file_counts(capsys: Capsys) -> None:
    assert run(capsys, "compare-weighings", HOME, CLUB, "--gear", GEAR).code == 1


def test_a_slip_of_another_car_is_refused(capsys: Capsys, tmp_path: Path) -> None:
    slip = tmp_path / "slip.yaml"
    slip.write_text(Path(CLUB).read_text(encoding="utf-8").replace('number: "27"', 'number: "28"'))
    ran = run(capsys, "compare-weighings", HOME, str(slip))
    assert (ran.code, ran.out) == (3, "")
    assert "RD212" in ran.err


def test_files_that_are_none_and_overwriting(capsys: Capsys) -> None:
    assert run(capsys, "compare-weighings", HOME, "none.yaml").code == 3
    assert run(capsys, "compare-weighings", HOME, CLUB, "--output", CLUB).code == 2
