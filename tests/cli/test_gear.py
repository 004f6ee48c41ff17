"""`--gear`: a club's file of its instruments, laid over what a car's file says of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import run

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

AVOCET, CLUB = "samples/cars/pads-that-disagree.yaml", "samples/gear/club.yaml"


@pytest.mark.deep
def test_a_clubs_gear_counts(capsys: Capsys, tmp_path: Path) -> None:
    """With good pads of the same name the car's own weighing would be known better."""
    better = tmp_path / "gear.yaml"
    better.write_text("instruments: {home pads: {resolution: 0.5 kg, permissible_error: 2 kg}}\n")
    ran = run(capsys, "inspect", AVOCET, "--gear", str(better))
    assert "CD221" not in ran.err, "two kilograms each explain what the pads differ by"
    ran = run(capsys, "inspect", AVOCET, "--gear", CLUB)
    assert ran.err.count("CD221") == 1
    assert ", gear " in ran.out, "the digest of the gear's file stands beside the others"
    assert run(capsys, "explain", AVOCET, "3.1", "--gear", str(better)).code == 4


def test_a_mistake_in_it_ends_as_any_mistake_in_a_file(capsys: Capsys, tmp_path: Path) -> None:
    wrong = tmp_path / "gear.yaml"
    wrong.write_text("instruments: {club pads: {resolution: 1}}\n")
    ran = run(capsys, "inspect", AVOCET, "--gear", str(wrong))
    assert (ran.code, ran.out) == (3, "")
    assert "gear.yaml:1:39: GR203" in ran.err
    assert run(capsys, "inspect", AVOCET, "--gear", str(tmp_path / "none.yaml")).code == 3


def test_it_is_not_overwritten(capsys: Capsys) -> None:
    before = Path(CLUB).read_bytes()
    assert run(capsys, "inspect", AVOCET, "--gear", CLUB, "--output", CLUB).code == 2
    assert Path(CLUB).read_bytes() == before
